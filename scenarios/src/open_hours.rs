//! From when to when a gate stands open, as people write it: "last 3 hours", "15:00 to dusk", "dawn to 10:00".

use crate::quantity::{QuantityError, kinds, parse as quantity};
use sim_engine::gates::{OpenHours, TimeOfDay};

/// What to write.
const FORMS: &str = "Write for example \"last 3 hours\", \"first 90 minutes\", \"15:00 to dusk\" or \"dawn to 10:00\"";
/// Least and most hours of a stretch.
const LEAST_H: f64 = 0.25;
const MOST_H: f64 = 24.0;
/// A day on which every time of day has its place, h.
const LONG_DAY_H: f64 = 24.0;

/// The hours of a text.
///
/// ```
/// use scenarios::open_hours::parse;
/// assert_eq!(parse("last 180 minutes")?.to_string(), "last 3 hours");
/// assert!(parse("3 h").is_err());
/// # Ok::<(), scenarios::quantity::QuantityError>(())
/// ```
///
/// # Errors
/// Not one of the forms, a stretch shorter than a quarter of an hour, or one that ends before it begins.
pub fn parse(text: &str) -> Result<OpenHours, QuantityError> {
    let words = text.trim().to_lowercase();
    if let Some(rest) = words.strip_prefix("last ") {
        return Ok(OpenHours::last(hours(rest)?));
    }
    if let Some(rest) = words.strip_prefix("first ") {
        return Ok(OpenHours::first(hours(rest)?));
    }
    let Some((from, to)) = words.split_once(" to ") else { return Err(not_when(text, &words)) };
    let open = OpenHours { from: time(text, from)?, to: time(text, to)? };
    if open.within(LONG_DAY_H).is_none_or(|(from, to)| to - from < LEAST_H) {
        return Err(wrong(format!("{text:?} ends before it begins, or within a quarter of an hour")));
    }
    Ok(open)
}

/// How long is not yet when: a bare number of hours is asked for its place in the day.
fn not_when(text: &str, words: &str) -> QuantityError {
    let long = quantity(words, &kinds::HOURS).ok().or_else(|| words.parse().ok());
    match long {
        Some(hours) if (LEAST_H..=MOST_H).contains(&hours) => {
            let (last, first) = (OpenHours::last(hours), OpenHours::first(hours));
            QuantityError {
                message: format!("{text:?} says how long, not when"),
                remedy: format!(
                    "Write \"{last}\" (before dusk), \"{first}\" (from dawn) or for example \"15:00 to dusk\""
                ),
            }
        }
        _ => wrong(format!("{text:?} is not a part of a day")),
    }
}

fn wrong(message: String) -> QuantityError {
    QuantityError { message, remedy: FORMS.to_owned() }
}

fn hours(text: &str) -> Result<f64, QuantityError> {
    let hours = quantity(text, &kinds::HOURS)?;
    if (LEAST_H..=MOST_H).contains(&hours) {
        return Ok(hours);
    }
    Err(QuantityError {
        message: format!("{text:?} is out of range"),
        remedy: "A gate is open 0.25 to 24 h of a day".to_owned(),
    })
}

fn time(text: &str, word: &str) -> Result<TimeOfDay, QuantityError> {
    let word = word.trim();
    match word {
        "dawn" => return Ok(TimeOfDay::AfterDawn(0.0)),
        "dusk" => return Ok(TimeOfDay::BeforeDusk(0.0)),
        _ => {}
    }
    if let Some(span) = word.strip_suffix(" after dawn") {
        return Ok(TimeOfDay::AfterDawn(hours(span)?));
    }
    if let Some(span) = word.strip_suffix(" before dusk") {
        return Ok(TimeOfDay::BeforeDusk(hours(span)?));
    }
    clock(word).map(TimeOfDay::Clock).ok_or_else(|| wrong(format!("{word:?} in {text:?} is not a time of day")))
}

/// "15:00", "9:30".
fn clock(word: &str) -> Option<f64> {
    let (hour, minute) = word.split_once(':')?;
    if minute.len() != 2 || !(1..=2).contains(&hour.len()) {
        return None;
    }
    let (hour, minute): (u8, u8) = (hour.parse().ok()?, minute.parse().ok()?);
    (hour < 24 && minute < 60).then(|| f64::from(hour) + f64::from(minute) / 60.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is read is said again in the same words.
    #[test]
    fn every_form_is_read() {
        for text in [
            "last 3 hours",
            "last 90 minutes",
            "first 1 hour",
            "15:00 to dusk",
            "dawn to 10:30",
            "09:00 to 16:45",
            "2 hours after dawn to 1 hour before dusk",
            "dawn to dusk",
        ] {
            assert_eq!(parse(text).unwrap().to_string(), text);
        }
        assert_eq!(parse(" Last 2 h ").unwrap(), OpenHours::last(2.0));
        assert_eq!(parse("9:00 to dusk").unwrap().to_string(), "09:00 to dusk");
    }

    #[test]
    fn what_is_no_part_of_a_day_is_told_what_would_be() {
        for (text, message, remedy) in [
            ("3 h", "\"3 h\" says how long, not when", "Write \"last 3 hours\" (before dusk), \"first 3 hours\""),
            ("1.5 hours", "says how long", "\"last 90 minutes\""),
            ("5", "says how long", "\"last 5 hours\""),
            ("afternoon", "is not a part of a day", "15:00 to dusk"),
            ("25 h", "is not a part of a day", "last 3 hours"),
            ("last 30 hours", "out of range", "0.25 to 24 h"),
            ("last 3 kg", "does not measure", "h"),
            ("noon to dusk", "\"noon\" in \"noon to dusk\" is not a time of day", "dawn to 10:00"),
            ("25:00 to dusk", "not a time of day", ""),
            ("9:5 to dusk", "not a time of day", ""),
            ("dusk to dawn", "ends before it begins", ""),
            ("16:00 to 10:00", "ends before it begins", ""),
            ("10:00 to 10:10", "within a quarter of an hour", ""),
        ] {
            let error = parse(text).unwrap_err();
            assert!(error.message.contains(message) && error.remedy.contains(remedy), "{error}");
        }
    }
}
