//! Lines that are no TOML, and what their writer most likely meant.

use super::date_meant::{candidates, proposal};
use crate::diagnose::SourceText;
use crate::quantity::{number_meant, text_meant};
use std::ops::Range;
use toml::de::DeTable;

/// What is said where nothing better is known.
const MEND: &str = "Correct this line first; then the rest is checked.";

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
    let line = line.split(" #").next().unwrap_or_default().trim();
    let straight = straightened(line);
    if straight != line && reads(&straight) {
        return format!("Did you mean {straight}? Quotes are straight and spaces ordinary here. {MEND}");
    }
    if let Some(meant) = heading(&straight).or_else(|| with_equals(&straight)).or_else(|| quoted_to_the_end(&straight))
    {
        return format!("Did you mean {meant}? {MEND}");
    }
    let Some((key, value)) = straight.split_once('=') else { return sentence(&straight) };
    let (key, value) = (key.trim(), value.split('#').next().unwrap_or_default().trim());
    if let Some(remedy) = no_date(value) {
        return format!("{remedy} {MEND}");
    }
    match with_dates(&straight) {
        Dates::Mended(line) if reads(&line) => return format!("Did you mean {line}? {MEND}"),
        Dates::Asked(which) => return format!("{which}{MEND}"),
        _ => {}
    }
    let meant = as_share(value).or_else(|| as_number(key, value)).or_else(|| as_text(value));
    meant.map_or(MEND.to_owned(), |meant| format!("Did you mean {key} = {meant}? {MEND}"))
}

/// "[plot.front lawn]" as "[plot.front-lawn]".
fn heading(line: &str) -> Option<String> {
    let meant = line.starts_with('[').then(|| line.split_whitespace().collect::<Vec<_>>().join("-"))?;
    // A heading that reads is not the fault, whatever stands above it.
    (!reads(line) && reads(&meant)).then_some(meant)
}

/// "number: 5" as "number = 5".
fn with_equals(line: &str) -> Option<String> {
    let (key, value) = line.split_once(':').filter(|(key, _)| !key.contains(['=', '"', '[']))?;
    let value = value.trim();
    let plain = format!("{} = {value}", key.trim());
    let meant = if reads(&plain) { plain } else { format!("{} = {}", key.trim(), as_text(value)?) };
    reads(&meant).then_some(meant)
}

/// A line whose last quote is missing, or the first of its value.
fn quoted_to_the_end(line: &str) -> Option<String> {
    let closed = format!("{line}\"");
    let opened = || line.split_once('=').map(|(key, value)| format!("{} = \"{}", key.trim(), value.trim()));
    let odd = line.matches('"').count() % 2 == 1;
    odd.then(|| Some(closed).filter(|line| reads(line)).or_else(|| opened().filter(|line| reads(line)))).flatten()
}

/// What is said of a line without a value: words for people begin with #.
fn sentence(line: &str) -> String {
    let words = line.starts_with(char::is_alphabetic) && line.contains(' ');
    if words { format!("If it is a note for people, write # before it: # {line}. {MEND}") } else { MEND.to_owned() }
}

/// A line with the quotes and spaces of typing, not of print.
fn straightened(line: &str) -> String {
    let straight = |c: char| match c {
        '“' | '”' | '„' | '«' | '»' => Some('"'),
        '\u{a0}' | '\u{2007}' | '\u{2009}' | '\u{202f}' | '\u{3000}' => Some(' '),
        '\u{200b}' | '\u{feff}' => None,
        other => Some(other),
    };
    line.chars().filter_map(straight).collect()
}

/// Whether a line alone is TOML.
fn reads(line: &str) -> bool {
    DeTable::parse(line).is_ok()
}

/// What became of the dates of a line.
enum Dates {
    /// There are none, or not all can be told.
    Untold,
    /// The line with all of them as they are written here.
    Mended(String),
    /// Which of two is meant.
    Asked(String),
}

/// Dates that stand bare and are no dates of TOML, as they are written here.
fn with_dates(line: &str) -> Dates {
    let (mut out, mut token, mut quote, mut changed) = (String::new(), String::new(), None, false);
    for c in line.chars().chain([' ']) {
        if quote.is_none() && (c.is_ascii_digit() || "/.-".contains(c) || !token.is_empty() && c.is_alphabetic()) {
            token.push(c);
            continue;
        }
        let dates = if is_datelike(&token) { candidates(&token) } else { Vec::new() };
        match dates.as_slice() {
            [] => out.push_str(&token),
            [one] => {
                let yearly = one.len() == "05-28".len();
                out.push_str(&if yearly { format!("\"{one}\"") } else { one.clone() });
                changed |= *one != token || yearly;
            }
            _ => return Dates::Asked(proposal(&dates, "\"")),
        }
        token.clear();
        match (quote, c) {
            (None, '"' | '\'') => quote = Some(c),
            (Some(open), _) if open == c => quote = None,
            _ => {}
        }
        out.push(c);
    }
    if changed { Dates::Mended(out.trim_end().to_owned()) } else { Dates::Untold }
}

/// Digits in two or three parts; no number.
fn is_datelike(token: &str) -> bool {
    let shape = token.chars().all(|c| c.is_ascii_digit() || "/.-".contains(c));
    shape && token.starts_with(|c: char| c.is_ascii_digit()) && token.parse::<f64>().is_err()
}

/// Keys whose numbers stand bare, without unit.
const BARE: [&str; 8] = ["number", "years", "draws", "rings", "beds", "share", "birds", "steps_per_day"];

/// "five" or "1,500" as a number, with its unit in quotes.
fn as_number(key: &str, value: &str) -> Option<String> {
    let bare = BARE.contains(&key);
    match number_meant(value) {
        Some(number) if bare => return Some(number.to_string()),
        // It lacks its unit: that would be refused next.
        Some(_) => return None,
        None => {}
    }
    let meant = text_meant(value).filter(|meant| meant.contains(' '));
    meant.filter(|_| !bare).map(|meant| format!("\"{meant}\""))
}

/// Of a date that the calendar does not have, what it has.
fn no_date(value: &str) -> Option<String> {
    let shape: Vec<usize> = value.split('-').map(str::len).collect();
    let digits = value.chars().all(|c| c.is_ascii_digit() || c == '-');
    (digits && shape == [4, 2, 2]).then(|| super::dates::parse(value).err())?.map(|(_, remedy)| remedy)
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
    if number_meant(value).is_some() || !candidates(value).is_empty() {
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
            ("start = 2027-4-1", "start = 2027-04-01"),
            ("start = 28.5.2027", "start = 2027-05-28"),
            ("in_ground = [05/28, 30/07]", "in_ground = [\"05-28\", \"07-30\"]"),
            (
                "guards = [{ share = 0.1, from = 3/15, to = 7/31 }]",
                "guards = [{ share = 0.1, from = \"03-15\", to = \"07-31\" }]",
            ),
            ("from = 05-28", "from = \"05-28\""),
            ("name = “Gran’s plot”", "name = \"Gran’s plot\""),
            ("crop\u{a0}= \"leek\"", "crop = \"leek\""),
            ("number = five", "number = 5"),
            ("number = 1,500", "number = 1500"),
            ("area = 1,500 sq ft", "area = \"1500 sq ft\""),
            ("area = 1,500\u{a0}sq ft", "area = \"1500 sq ft\""),
            ("beds = 80%", "beds = 0.8"),
            ("area = 64 m2", "area = \"64 m2\""),
            ("soil = sandy loam", "soil = \"sandy loam\""),
            ("number: 5", "number = 5"),
            ("soil: sandy loam", "soil = \"sandy loam\""),
            ("soil = \"loam", "soil = \"loam\""),
            ("soil = loam\"", "soil = \"loam\""),
            ("[plot.front lawn]", "[plot.front-lawn]"),
            ("[[plot.front lawn.crop]]", "[[plot.front-lawn.crop]]"),
        ] {
            assert!(of_line(line).starts_with(&format!("Did you mean {meant}?")), "{}", of_line(line));
        }
        assert!(of_line("[plot.a").starts_with("Correct this line first"));
        assert!(of_line("the beds are raised").contains("# the beds are raised."));
        assert!(of_line("name = [").starts_with("Correct this line first"));
        // What may be either is asked, not proposed; what would be refused for its unit neither.
        assert!(
            of_line("start = 07/04/2027").starts_with("Is it \"2027-07-04\" (4 July) or \"2027-04-07\" (7 April)?")
        );
        assert!(of_line("area = 1,500").starts_with("Correct this line first"));
        // A date that there is not is not proposed again.
        for (line, remedy) in [
            ("start = 2027-13-01", "The month stands first: did you mean 2027-01-13?"),
            ("start = 2027-02-29", "February has 28 days."),
        ] {
            assert!(of_line(line).starts_with(remedy), "{}", of_line(line));
        }
    }
}
