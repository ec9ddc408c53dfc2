//! The plots, a line each, and their soil.

use super::answers::{Answers, PlotAnswer};
use super::prompt::Prompt;
use super::size::{is_of_feet, size_in};
use super::wrong::{Wrong, is_none};
use scenarios::quantity::{BEDS_EXAMPLE, beds_area, kinds, parse};

/// What ends the list of plots.
const NO_MORE: &str = "no more";

pub fn plot_prompt(answers: &Answers, at: usize) -> Prompt {
    let known = answers.plots.get(at).map(|plot| plot.line.clone());
    let more = "A plot is a piece of ground with a gate of its own. One a line: its name, its size (8 x 10 m, 80 m2, \
                1500 sq ft) and how far its gate is from the yard. Small beds behind one gate are one plot: \
                6 beds of 4 x 8 ft. An empty line ends the list.";
    Prompt {
        number: 5,
        ask: match at {
            0 => "Which plots are there? One a line: name, size, how far from the yard.".to_owned(),
            _ => format!("Plot {}?", at + 1),
        },
        example: match (at, answers.us_units) {
            (0, false) => "veg-one 8 x 10 m, 12 m from the yard".to_owned(),
            (0, true) => format!("veg-one {BEDS_EXAMPLE}, 15 ft from the yard"),
            _ => String::new(),
        },
        taken: known.or_else(|| (at > 0).then(|| NO_MORE.to_owned())),
        more,
        list: Vec::new(),
    }
}

pub fn take_plot(answers: &mut Answers, at: usize, text: &str) -> Result<(), Wrong> {
    if at > 0 && (text == NO_MORE || is_none(text)) {
        if answers.plots.len() > at {
            answers.plots.truncate(at);
            answers.forget_after_plots();
        }
        return Ok(());
    }
    if answers.plots.get(at).is_some_and(|plot| plot.line == text) {
        return Ok(());
    }
    let plot = plot(text)?;
    if answers.plots.iter().enumerate().any(|(other, known)| other != at && known.name == plot.name) {
        return Err(Wrong::new(format!("there is a plot {} already", plot.name), "Give this one another name."));
    }
    answers.hear_feet(is_of_feet(&plot.area));
    answers.forget_after_plots();
    let away = plot.distance.as_ref().map_or(String::new(), |distance| format!(", gate {distance} from the yard"));
    answers.heard.push(format!("Plot {}: {}{away}.", plot.name, plot.area));
    match answers.plots.get_mut(at) {
        Some(known) => *known = plot,
        None => answers.plots.push(plot),
    }
    Ok(())
}

/// A plot from its line, the words in any order.
fn plot(line: &str) -> Result<PlotAnswer, Wrong> {
    if let Some(meant) = without_separators(line) {
        return Err(Wrong::new(
            format!("{line:?} has a comma within a number"),
            format!("Did you mean {meant:?}? Write numbers with a point and without separators."),
        ));
    }
    let mut rest: Vec<&str> = Vec::new();
    let mut distance = None;
    for part in line.split(',') {
        let words: Vec<&str> = part.split_whitespace().collect();
        match distance_in(&words) {
            Some((before, found)) => {
                distance = Some(found);
                rest.extend(&words[..before]);
            }
            None => rest.extend(words),
        }
    }
    let Some((at, area)) = size_in(&rest) else { return Err(no_size(line, &rest)) };
    let mut words: Vec<&str> = rest[..at.start].iter().chain(&rest[at.end..]).copied().collect();
    if distance.is_none()
        && let Some((before, found)) = length_at_the_end(&words)
    {
        distance = Some(found);
        words.truncate(before);
    }
    let name = name_of(words.iter());
    if name.is_empty() {
        return Err(Wrong::new(format!("{line:?} has no name"), "Begin with a name, for example: berries 6 x 8 m."));
    }
    let line = line.to_owned();
    Ok(PlotAnswer { line, name, area, distance, cover: None, crops: Vec::new(), canopies: Vec::new() })
}

/// "lawn 1,500 sq ft" as "lawn 1500 sq ft"; a comma before fewer than three figures is a point. `None` without one.
fn without_separators(line: &str) -> Option<String> {
    let figure = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
    let (before, after) = line.match_indices(',').find_map(|(at, _)| {
        let (before, after) = (&line[..at], &line[at + 1..]);
        (before.ends_with(|c: char| c.is_ascii_digit()) && figure(after)).then_some((before, after))
    })?;
    let figures = after.chars().take_while(char::is_ascii_digit).count();
    Some(format!("{before}{}{after}", if figures == 3 { "" } else { "." }))
}

/// "12 m from the yard" or "12 m away": how many words stand before it, and the distance.
fn distance_in(words: &[&str]) -> Option<(usize, String)> {
    let end = words.iter().position(|word| ["from", "away"].contains(word))?;
    let length = |from: usize| {
        let text = words.get(from..end)?.join(" ");
        parse(&text, &kinds::LENGTH_M).is_ok().then_some((from, text))
    };
    end.checked_sub(2).and_then(length).or_else(|| end.checked_sub(1).and_then(length))
}

/// "14 m" as the last words of what is no size: how many words stand before it, and the distance.
fn length_at_the_end(words: &[&str]) -> Option<(usize, String)> {
    let length = |from: usize| {
        let text = words.get(from..)?.join(" ");
        parse(&text, &kinds::LENGTH_M).is_ok().then_some((from, text))
    };
    words.len().checked_sub(2).and_then(length).or_else(|| words.len().checked_sub(1).and_then(length))
}

/// Why there is no size in a line.
fn no_size(line: &str, words: &[&str]) -> Wrong {
    let number = words.iter().position(|word| word.starts_with(|c: char| c.is_ascii_digit()));
    let size = number.map(|at| words[at..].join(" "));
    let fault = size.and_then(|size| beds_area(&size).unwrap_or_else(|| parse(&size, &kinds::AREA_M2)).err());
    let example = format!("For example: veg-one 8 x 10 m, 12 m from the yard; or: veg-two {BEDS_EXAMPLE}.");
    match fault {
        Some(fault) => Wrong::new(fault.message, format!("{} {example}", fault.remedy)),
        None => Wrong::new(format!("{line:?} has no size"), example),
    }
}

/// Words as the name of a plot.
fn name_of<'w>(words: impl Iterator<Item = &'w &'w str>) -> String {
    let idle = ["is", "of", "and", "about", "the", "a", "an", "its", "with", "-", ""];
    let words = words.map(|word| word.trim_matches([':', '.', '(', ')'])).filter(|word| !idle.contains(word));
    let name = words.collect::<Vec<_>>().join("-").to_lowercase();
    // "veg, 7 x 9 m, gate 10 m from the yard".
    name.strip_suffix("-gate").map_or(name.clone(), str::to_owned)
}

pub fn soil_prompt() -> Prompt {
    Prompt {
        number: 5,
        ask: "What soil do they have?".to_owned(),
        example: "sandy loam".to_owned(),
        taken: Some("loam".to_owned()),
        more: "Sand, sandy loam, loam, silt loam, clay loam, clay and others. Rub a moist pinch: sand grates, silt \
               feels like flour, clay can be rolled thin. Where plots differ, change the lines in the file.",
        list: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plot_is_read_from_words_in_any_order() {
        for (line, name, area, distance) in [
            ("veg-one 8 x 10 m, 12 m from the yard", "veg-one", "8 x 10 m", Some("12 m")),
            ("12 m away from the yard, 80 m2 Veg One", "veg-one", "80 m2", Some("12 m")),
            ("raised 6 beds of 4 x 8 ft 10ft from yard", "raised", "6 beds of 4 x 8 ft", Some("10ft")),
            ("berry cage: 40 m2", "berry-cage", "40 m2", None),
            ("berry cage 40 m2, 14 m", "berry-cage", "40 m2", Some("14 m")),
            ("lawn 1500 sq ft 10ft", "lawn", "1500 sq ft", Some("10ft")),
        ] {
            let plot = plot(line).unwrap();
            assert_eq!((plot.name.as_str(), plot.area.as_str(), plot.distance.as_deref()), (name, area, distance));
        }
        assert!(plot("lawn 1,500 sq ft").unwrap_err().remedy.contains("lawn 1500 sq ft"));
        assert!(plot("lawn 125,5 m2").unwrap_err().remedy.contains("lawn 125.5 m2"));
        assert!(plot("8 x 10 m").unwrap_err().what.contains("has no name"));
        assert!(plot("veg-one 8 x 10").unwrap_err().what.contains("has no unit"));
        assert!(plot("veg-one").unwrap_err().what.contains("has no size"));
    }
}
