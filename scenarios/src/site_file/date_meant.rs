//! Dates of other orders and marks, and what they mean here: "28/05", "07/04/2027", "2027-4-1", "1 April".

use jiff::civil::Date;
use sim_engine::weather::MONTH_NAMES;

/// The dates a text may mean, as a site file writes them: none, one, or two where nothing tells day from month.
///
/// ```
/// assert_eq!(scenarios::site_file::dates_meant("12 July 2027"), ["2027-07-12"]);
/// assert_eq!(scenarios::site_file::dates_meant("28/05"), ["05-28"]);
/// ```
#[must_use]
pub fn candidates(text: &str) -> Vec<String> {
    let text: String = text.trim().chars().map(|c| if "‐‑–—−".contains(c) { '-' } else { c }).collect();
    let text = text.trim_matches(['“', '”', '"', '\'']).trim();
    let mut found = in_digits(text).unwrap_or_else(|| in_words(text).into_iter().collect());
    found.retain(|date| exists(date));
    found.dedup();
    found
}

/// Whether there is such a date, or in a leap year such a day.
fn exists(date: &str) -> bool {
    date.parse::<Date>().is_ok() || format!("2028-{date}").parse::<Date>().is_ok()
}

/// The remedy's words for them: what is meant, or which of two is.
pub(super) fn proposal(candidates: &[String], quote: &str) -> String {
    match candidates {
        [one] => format!("Did you mean {quote}{one}{quote}? "),
        [one, other] => {
            format!("Is it {quote}{one}{quote} ({}) or {quote}{other}{quote} ({})? ", spoken(one), spoken(other))
        }
        _ => String::new(),
    }
}

/// "05-07" as "7 May".
fn spoken(date: &str) -> String {
    let mut parts = date.rsplit('-').map(|part| part.parse::<usize>().unwrap_or(1));
    let (day, month) = (parts.next().unwrap_or(1), parts.next().unwrap_or(1));
    format!("{day} {}", MONTH_NAMES.get(month - 1).copied().unwrap_or_default())
}

fn in_digits(text: &str) -> Option<Vec<String>> {
    let parts: Vec<&str> = text.split(['/', '.', '-']).map(str::trim).collect();
    let numbers: Vec<u16> = parts.iter().map(|part| part.parse().ok()).collect::<Option<_>>()?;
    let year_first = parts[0].len() == 4;
    match numbers.as_slice() {
        [year, month, day] if year_first => Some(orders(Some(*year), *month, *day, Some(true))),
        [one, other, year] if parts[2].len() == 4 || parts[2].len() == 2 => {
            let year = if parts[2].len() == 2 { 2000 + year } else { *year };
            Some(orders(Some(year), *one, *other, text.contains('.').then_some(false)))
        }
        // "4-1" is in the order of dates here.
        [one, other] if text.contains('-') => Some(orders(None, *one, *other, Some(true))),
        [one, other] => Some(orders(None, *one, *other, text.contains('.').then_some(false))),
        _ => None,
    }
}

/// Both orders of two numbers, or the one that is known or possible.
fn orders(year: Option<u16>, one: u16, other: u16, month_first: Option<bool>) -> Vec<String> {
    let before = year.map_or(String::new(), |year| format!("{year}-"));
    let (first, second) = (format!("{before}{one:02}-{other:02}"), format!("{before}{other:02}-{one:02}"));
    match month_first {
        _ if one > 12 => vec![second],
        _ if other > 12 => vec![first],
        Some(true) => vec![first],
        Some(false) => vec![second],
        None => vec![first, second],
    }
}

/// "May 20" or "20 May" as 05-20, with a year if there is one.
fn in_words(text: &str) -> Option<String> {
    const SHORTEST: usize = 3;
    let words: Vec<&str> = text.split([' ', '.', ',', '-', '\u{a0}']).filter(|word| !word.is_empty()).collect();
    let month = words.iter().find_map(|word| {
        let word = word.get(..SHORTEST)?.to_lowercase();
        MONTH_NAMES.iter().position(|name| name.to_lowercase().starts_with(&word))
    })?;
    let number = |word: &&str| word.trim_end_matches(|c: char| c.is_ascii_alphabetic()).parse::<u16>().ok();
    let day = words.iter().filter_map(number).find(|day| (1..=31).contains(day))?;
    let year = words.iter().filter_map(number).find(|year| (1900..2200).contains(year));
    let before = year.map_or(String::new(), |year| format!("{year}-"));
    Some(format!("{before}{:02}-{day:02}", month + 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_date_of_another_order_means() {
        for (text, meant) in [
            ("05/28", &["05-28"] as &[&str]),
            ("28/05", &["05-28"]),
            ("05/07", &["05-07", "07-05"]),
            ("5/5", &["05-05"]),
            ("4-1", &["04-01"]),
            ("07/04/2027", &["2027-07-04", "2027-04-07"]),
            ("28.5.2027", &["2027-05-28"]),
            ("1.4.2027", &["2027-04-01"]),
            ("2027-4-1", &["2027-04-01"]),
            ("2027/4/1", &["2027-04-01"]),
            ("5/28/27", &["2027-05-28"]),
            ("2027–04–01", &["2027-04-01"]),
            ("Sept 25", &["09-25"]),
            ("1st April 2027", &["2027-04-01"]),
            ("5. May", &["05-05"]),
            ("30/02", &[]),
            ("spring", &[]),
            ("13/13", &[]),
            ("100-05", &[]),
            ("2027-100-01", &[]),
        ] {
            assert_eq!(candidates(text), meant, "{text}");
        }
        assert_eq!(proposal(&candidates("05/07"), "\""), "Is it \"05-07\" (7 May) or \"07-05\" (5 July)? ");
    }
}
