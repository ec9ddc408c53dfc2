//! Lines that are no TOML, and what their writer most likely meant.

use crate::diagnose::SourceText;
use std::ops::Range;

/// What is said where nothing better is known.
const MEND: &str = "Mend this first; the rest is checked once the file reads as TOML.";

/// The remedy for what could not be read: the parser's words for it, and the whole text with the place in it.
pub(super) fn remedy(message: &str, source: &SourceText, span: Range<usize>) -> String {
    let line_number = source.place(span.clone()).line;
    let line = source.text().lines().nth(line_number.saturating_sub(1)).unwrap_or_default();
    if message.contains("duplicate key") {
        let key = source.text().get(span).unwrap_or_default().trim();
        return match first_of(source.text(), key, line_number) {
            Some(first) => format!("{key} stands in line {first} already: keep one of the two. {MEND}"),
            None => format!("{key} stands there twice: keep one of the two. {MEND}"),
        };
    }
    of_line(line)
}

/// The line above `line` that has the same key in the same table, or the same heading.
fn first_of(text: &str, key: &str, line: usize) -> Option<usize> {
    let lines: Vec<&str> = text.lines().collect();
    let written = lines.get(line.checked_sub(1)?)?.trim();
    let heading = written.starts_with('[').then_some(written.split('#').next().unwrap_or_default().trim());
    let has = |line: &str| line.trim().strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with(['=', '.']));
    for (at, above) in lines[..line - 1].iter().enumerate().rev() {
        match heading {
            Some(heading) if above.trim().starts_with(heading) => return Some(at + 1),
            None if has(above) => return Some(at + 1),
            None if above.trim().starts_with('[') => return None,
            _ => {}
        }
    }
    None
}

/// The remedy for a line that could not be read.
fn of_line(line: &str) -> String {
    let Some((key, value)) = line.split_once('=') else { return MEND.to_owned() };
    let (key, value) = (key.trim(), value.split('#').next().unwrap_or_default().trim());
    if let Some(remedy) = no_date(value) {
        return format!("{remedy} {MEND}");
    }
    let meant = as_date(value).or_else(|| as_share(value)).or_else(|| as_text(value));
    meant.map_or(MEND.to_owned(), |meant| format!("Did you mean {key} = {meant}? {MEND}"))
}

/// Of a date that the calendar does not have, what it has.
fn no_date(value: &str) -> Option<String> {
    let shape: Vec<usize> = value.split('-').map(str::len).collect();
    let digits = value.chars().all(|c| c.is_ascii_digit() || c == '-');
    (digits && shape == [4, 2, 2]).then(|| super::dates::parse(value).err())?.map(|(_, remedy)| remedy)
}

/// "15.8.2027" or "15/8/2027" as 2027-08-15. With slashes the first may be the month.
fn as_date(value: &str) -> Option<String> {
    let parts: Vec<&str> = value.split(['.', '/']).collect();
    let [first, second, year] = parts.as_slice() else { return None };
    let (first, second): (u8, u8) = (first.parse().ok()?, second.parse().ok()?);
    let months_first = value.contains('/') && second > 12;
    let (day, month) = if months_first { (second, first) } else { (first, second) };
    (year.len() == 4 && month <= 12 && day <= 31).then(|| format!("{year}-{month:02}-{day:02}"))
}

/// "80%" as 0.8.
fn as_share(value: &str) -> Option<String> {
    let share: f64 = value.strip_suffix('%')?.trim().parse().ok()?;
    Some((share / 100.0).to_string())
}

/// Words or a number with its unit, without quotes.
fn as_text(value: &str) -> Option<String> {
    // A number or a date stands without quotes: the fault is another one.
    if value.parse::<f64>().is_ok() || matches!(value, "true" | "false") || value.parse::<jiff::civil::Date>().is_ok() {
        return None;
    }
    let bare = value.starts_with(|c: char| c.is_alphanumeric() || c == '-');
    let plain = value.chars().all(|c| c.is_alphanumeric() || " .-/'²°".contains(c));
    (bare && plain).then(|| format!("\"{value}\""))
}

#[cfg(test)]
mod tests {
    use super::of_line;

    #[test]
    fn common_slips_are_guessed() {
        for (line, meant) in [
            ("start = 15.8.2027", "start = 2027-08-15"),
            ("start = 8/15/2027 # late", "start = 2027-08-15"),
            ("beds = 80%", "beds = 0.8"),
            ("area = 64 m2", "area = \"64 m2\""),
            ("soil = sandy loam", "soil = \"sandy loam\""),
        ] {
            assert!(of_line(line).starts_with(&format!("Did you mean {meant}?")), "{}", of_line(line));
        }
        assert!(of_line("[plot.a").starts_with("Mend this first"));
        assert!(of_line("name = [").starts_with("Mend this first"));
        // A date that there is not is not proposed again.
        for (line, remedy) in [
            ("start = 2027-13-01", "The month stands first: did you mean 2027-01-13?"),
            ("start = 2027-02-29", "February has 28 days."),
        ] {
            assert!(of_line(line).starts_with(remedy), "{}", of_line(line));
        }
    }
}
