//! What is wrong with an answer, and small readers that answers share.

use scenarios::quantity::{QuantityError, number_meant};
use scenarios::site_file::dates_meant;

/// What is wrong, and what would be right.
#[derive(Debug)]
pub struct Wrong {
    pub what: String,
    pub remedy: String,
}

impl Wrong {
    pub fn new(what: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { what: what.into(), remedy: remedy.into() }
    }
}

impl From<QuantityError> for Wrong {
    fn from(error: QuantityError) -> Self {
        Self { what: error.message, remedy: error.remedy }
    }
}

/// Whether the answer is that there is nothing.
pub fn is_none(text: &str) -> bool {
    ["none", "no", "nothing", "no more"].iter().any(|word| text.trim().eq_ignore_ascii_case(word))
}

/// The parts of an answer between commas, without empty ones.
pub fn parts(text: &str) -> Vec<&str> {
    text.split([',', ';']).map(str::trim).filter(|part| !part.is_empty()).collect()
}

/// The parts of an answer where "and" and the like stand between them too.
pub fn parts_joined(text: &str) -> Vec<&str> {
    let joined = [" and ", " plus ", " & ", " then ", " with "];
    let split = |part| {
        joined
            .iter()
            .fold(vec![part], |parts: Vec<&str>, word| parts.iter().flat_map(|part| part.split(word)).collect())
    };
    parts(text).into_iter().flat_map(split).map(str::trim).filter(|part| !part.is_empty()).collect()
}

const DAYS_A_MONTH: u32 = 30;

/// "a month", "a fortnight" and "four weeks" as a site file has them.
pub fn days_of(time: &str) -> String {
    let (number, unit) = time.trim().split_once(' ').unwrap_or(("a", time.trim()));
    match count(number) {
        Some(number) if unit.starts_with("month") => format!("{} days", number * DAYS_A_MONTH),
        Some(number) if unit.starts_with("fortnight") => format!("{} days", number * 14),
        Some(number) if unit.starts_with("week") => format!("{number} weeks"),
        _ => time.to_owned(),
    }
}

/// A text without "a", "an", "the" or "some" in front.
pub fn without_article(text: &str) -> &str {
    ["a ", "an ", "the ", "some "].iter().find_map(|article| text.strip_prefix(article)).unwrap_or(text)
}

/// Most words of a date: the 20th of August 2027.
const LONGEST_DATE: usize = 5;

/// The one date a text means.
pub fn date(text: &str) -> Result<String, Wrong> {
    // Of a longer text a date is some part, and the rest would be lost.
    let dates = if text.split_whitespace().count() > LONGEST_DATE { Vec::new() } else { dates_meant(text) };
    match dates.as_slice() {
        [one] => Ok(one.clone()),
        [one, other] => Err(Wrong::new(
            format!("{:?} can be two dates", text.trim()),
            format!("Write month and day, {one} or {other}; or name the month, for example 12 July."),
        )),
        _ => Err(Wrong::new(
            format!("{:?} is not a date", text.trim()),
            "Write month and day, 07-12, or name the month: 12 July.",
        )),
    }
}

/// A first and a last day: "10-01 to 02-10".
pub fn window(text: &str) -> Result<(String, String), Wrong> {
    if ["all year", "all the year", "the whole year", "year round", "all year round"].contains(&text.trim()) {
        return Ok(("01-01".to_owned(), "12-31".to_owned()));
    }
    let between = [" to ", " until ", " till ", " – ", " - "];
    let Some((from, to)) = between.iter().find_map(|word| text.split_once(word)) else {
        return Err(Wrong::new(
            format!("{:?} is not a first and a last day", text.trim()),
            "Write both with \"to\" between them, for example 10-01 to 02-10.",
        ));
    };
    if between.iter().any(|word| to.contains(word)) {
        return Err(Wrong::new(
            format!("{:?} has more than a first and a last day", text.trim()),
            "Write picked before the days of the harvest, for example 05-01 to 10-01, picked 09-01 to 10-01.",
        ));
    }
    Ok((date(from)?, date(to)?))
}

/// A whole number, in digits or words.
pub fn count(word: &str) -> Option<u32> {
    word.parse().ok().or_else(|| ["a", "an"].contains(&word).then_some(1)).or_else(|| {
        let number = number_meant(word)?;
        (number >= 0.0 && number.fract() == 0.0 && number <= f64::from(u32::MAX)).then_some(number as u32)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_as_people_say_them() {
        for (said, days) in [
            ("a fortnight", "14 days"),
            ("six weeks", "6 weeks"),
            ("a month", "30 days"),
            ("fortnight", "14 days"),
            ("21 days", "21 days"),
        ] {
            assert_eq!(days_of(said), days);
        }
    }

    #[test]
    fn dates_and_windows_as_people_write_them() {
        assert_eq!(window("1 Oct to 10 February").unwrap(), ("10-01".to_owned(), "02-10".to_owned()));
        assert!(date("05/07").unwrap_err().remedy.contains("05-07 or 07-05"));
        assert_eq!(window("October").unwrap_err().what, "\"October\" is not a first and a last day");
        assert_eq!((count("ten"), count("3"), count("2.5"), count("hens")), (Some(10), Some(3), None, None));
    }
}
