//! Keys of format 1 that are gone or mean something else, and what to write now.

/// The remedy for a key that a table of format 1 had.
pub(crate) fn remedy(table: &str, key: &str) -> Option<&'static str> {
    let care = table.ends_with(".care]]");
    match key {
        "kill" if care => Some(
            "Take it out: what a weeding kills is in the library by age (weeding_kill_young, _leafy, _mature, _shoots), \
             and [unsure] can change it.",
        ),
        "effort" if care => Some(
            "Take it out: weeding and clearing take as long as what they find asks for (weeding_time_clean, \
             weeding_time_weedy, clearing_time in the library).",
        ),
        _ => None,
    }
}

/// What to aim at now in place of a measure of format 1.
pub(crate) fn aim(measure: &str) -> Option<&'static str> {
    (measure == "weeding_saved").then_some(
        "Write work_saved = \"1 h per h\": weeding, mowing, clearing, shovelling and moves, counted as work really done.",
    )
}

/// What to write in place of the points of format 1, "0.25 per kg".
pub(crate) fn points(worth: &str) -> Option<&'static str> {
    let (number, _) = worth.split_once(" per ")?;
    number.trim().parse::<f64>().is_ok().then_some(
        "Write hours of your work that one is worth, for example \"0.3 h per kg\" or \"-0.4 h per point\": points had no measure.",
    )
}
