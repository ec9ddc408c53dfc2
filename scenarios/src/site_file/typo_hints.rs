//! Lines that are no TOML, and what their writer most likely meant.

/// What is said where nothing better is known.
const MEND: &str = "Mend this first; the rest is checked once the file reads as TOML.";

/// The remedy for a line that could not be read.
pub(super) fn remedy(line: &str) -> String {
    let Some((key, value)) = line.split_once('=') else { return MEND.to_owned() };
    let (key, value) = (key.trim(), value.split('#').next().unwrap_or_default().trim());
    let meant = as_date(value).or_else(|| as_share(value)).or_else(|| as_text(value));
    meant.map_or(MEND.to_owned(), |meant| format!("Did you mean {key} = {meant}? {MEND}"))
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
    let bare = value.starts_with(|c: char| c.is_alphanumeric() || c == '-');
    let plain = value.chars().all(|c| c.is_alphanumeric() || " .-/'²°".contains(c));
    (bare && plain).then(|| format!("\"{value}\""))
}

#[cfg(test)]
mod tests {
    use super::remedy;

    #[test]
    fn common_slips_are_guessed() {
        for (line, meant) in [
            ("start = 15.8.2027", "start = 2027-08-15"),
            ("start = 8/15/2027 # late", "start = 2027-08-15"),
            ("beds = 80%", "beds = 0.8"),
            ("area = 64 m2", "area = \"64 m2\""),
            ("soil = sandy loam", "soil = \"sandy loam\""),
        ] {
            assert!(remedy(line).starts_with(&format!("Did you mean {meant}?")), "{}", remedy(line));
        }
        assert!(remedy("[plot.a").starts_with("Mend this first"));
        assert!(remedy("name = [").starts_with("Mend this first"));
    }
}
