//! Dates as people write them: `2027-03-01` once, `"03-15"` every year.

use super::date_meant::{candidates, proposal};
use crate::reader::Item;
use jiff::civil::{Date, date};
use sim_engine::dates::yearly;
use sim_engine::site::When;
use sim_engine::weather::MONTH_NAMES;
use toml::de::DeValue;

/// Days of each month in a leap year.
const MONTH_DAYS: [i8; 12] = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// The text of a date, quoted or not.
fn written(item: &Item<'_>) -> Option<String> {
    match item.value() {
        DeValue::Datetime(date) => Some(date.to_string()),
        DeValue::String(text) => Some(text.to_string()),
        _ => {
            item.fault(format!("{} is not a date", item.key), "Write 2027-03-01, or \"03-01\" for every year.");
            None
        }
    }
}

/// A date with its year.
pub(super) fn full(item: &Item<'_>) -> Option<Date> {
    let text = written(item)?;
    let without = |date: &str| matches!(parse(date), Ok(When::Yearly { .. }));
    let meant = if without(&text) { vec![text.clone()] } else { candidates(&text) };
    match meant.as_slice() {
        [day, ..] if without(day) => {
            let days: Vec<String> = meant.iter().map(|day| format!("2027-{day}")).collect();
            let remedy = format!("Write it with its year, for example {}.", days.join(" or "));
            item.fault(format!("{} has no year", item.key), remedy);
            None
        }
        _ => match when(item)? {
            When::On(date) => Some(date),
            When::Yearly { .. } => None,
        },
    }
}

/// A date, or a day of every year.
pub(super) fn when(item: &Item<'_>) -> Option<When> {
    let text = written(item)?;
    match parse(&text) {
        Ok(when) => Some(when),
        Err((message, remedy)) => {
            item.fault(format!("{}: {message}", item.key), remedy);
            None
        }
    }
}

/// The date of a text; else fault and remedy.
pub(crate) fn parse(text: &str) -> Result<When, (String, String)> {
    shaped(text).unwrap_or_else(|| {
        let meant = proposal(&candidates(text), "\"");
        let remedy = format!("{meant}Write 2027-03-01 (year, month, day), or \"03-01\" for every year.");
        Err((format!("{text:?} is not a date"), remedy))
    })
}

/// The date of a text that has the shape of one; else fault and remedy.
fn shaped(text: &str) -> Option<Result<When, (String, String)>> {
    let parts: Vec<i16> = text.split('-').filter_map(|part| part.parse().ok()).collect();
    let shape: Vec<usize> = text.split('-').map(str::len).collect();
    match (parts.as_slice(), shape.as_slice()) {
        ([month, day], [2, 2]) => {
            Some(on_calendar(text, None, *month, *day).map(|(month, day)| When::Yearly { month, day }))
        }
        ([year, month, day], [4, 2, 2]) => {
            let on = on_calendar(text, Some(*year), *month, *day);
            Some(on.map(|(month, day)| When::On(date(*year, month, day))))
        }
        _ => None,
    }
}

fn on_calendar(text: &str, year: Option<i16>, month: i16, day: i16) -> Result<(i8, i8), (String, String)> {
    let Some(position) = usize::try_from(month - 1).ok().filter(|at| *at < 12) else {
        return Err((format!("{text} does not exist"), turned(year, month, day)));
    };
    let leap = year.is_none_or(|year| date(year.max(1), 1, 1).in_leap_year());
    let most = if position == 1 && !leap { 28 } else { MONTH_DAYS[position] };
    if day < 1 || day > i16::from(most) {
        return Err((format!("{text} does not exist"), format!("{} has {most} days.", MONTH_NAMES[position])));
    }
    Ok((position as i8 + 1, day as i8))
}

/// The remedy for a month that is none: day and month may have changed places.
fn turned(year: Option<i16>, month: i16, day: i16) -> String {
    let before = year.map_or(String::new(), |year| format!("{year}-"));
    let turned = format!("{before}{day:02}-{month:02}");
    // Only a day that can be a month: else this would ask itself in turn.
    match parse(if (1..=12).contains(&day) { &turned } else { "" }) {
        Ok(_) => format!("The month stands first: did you mean {turned}?"),
        _ => "Months are 01 to 12, the month first.".to_owned(),
    }
}

/// From and to: both with a year, or both of every year (which may run over the new year).
pub(super) fn window(item: &Item<'_>) -> Option<(When, When)> {
    let list = item.list()?;
    let [from, to] = list.as_slice() else {
        item.fault(
            format!("{} has {} dates", item.key, list.len()),
            "Write a first and a last day: [\"03-05\", \"07-12\"]",
        );
        return None;
    };
    let (from_day, to_day) = (when(from), when(to));
    let (from_day, to_day) = (from_day?, to_day?);
    in_order(item, from_day, to_day).then_some((from_day, to_day))
}

/// Notes a fault if the second is before the first, or only one has a year.
pub(super) fn in_order(item: &Item<'_>, from: When, to: When) -> bool {
    match (from, to) {
        (When::On(first), When::On(last)) if last < first => {
            let message = format!("{}: ends {last}, before it starts {first}", item.key);
            item.fault(message, "Put the earlier date first.");
            false
        }
        (When::On(_), When::Yearly { .. }) | (When::Yearly { .. }, When::On(_)) => {
            let message = format!("{}: one date has a year and the other has none", item.key);
            item.fault(message, "Give both a year, or neither.");
            false
        }
        _ => true,
    }
}

/// As it would be written.
pub(crate) fn shown(when: When) -> String {
    match when {
        When::On(date) => date.to_string(),
        When::Yearly { month, day } => format!("{month:02}-{day:02}"),
    }
}

/// A date as a day of every year is written.
pub(crate) fn shown_day(date: Date) -> String {
    shown(yearly(date))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_that_do_not_exist_are_refused() {
        let remedy = |text: &str| parse(text).unwrap_err();
        assert_eq!(remedy("02-30"), ("02-30 does not exist".into(), "February has 29 days.".into()));
        assert_eq!(remedy("2027-02-29"), ("2027-02-29 does not exist".into(), "February has 28 days.".into()));
        assert_eq!(
            remedy("13-01"),
            ("13-01 does not exist".into(), "The month stands first: did you mean 01-13?".into())
        );
        assert_eq!(remedy("20-33").1, "Months are 01 to 12, the month first.");
        assert!(remedy("spring").0.contains("is not a date"));
        assert!(remedy("Sept 25").1.starts_with("Did you mean \"09-25\"?"));
        assert!(remedy("5. May").1.starts_with("Did you mean \"05-05\"?"));
        assert_eq!(parse("02-29"), Ok(When::Yearly { month: 2, day: 29 }));
        assert_eq!(parse("2028-02-29"), Ok(When::On(date(2028, 2, 29))));
    }
}
