//! Finds the size in a line of words, wherever it stands.

use scenarios::quantity::{beds_area, kinds, parse};
use std::ops::Range;

/// The longest run of words that is an area, and the area as it is written.
pub fn size_in(words: &[&str]) -> Option<(Range<usize>, String)> {
    let runs = (0..words.len()).flat_map(|from| (from + 1..=words.len()).map(move |to| from..to));
    let areas = runs.filter_map(|run| {
        let text = words[run.clone()].join(" ");
        let area = beds_area(&text).unwrap_or_else(|| parse(&text, &kinds::AREA_M2));
        area.is_ok().then_some((run, text))
    });
    areas.max_by_key(|(run, _)| run.len())
}

/// Whether a size is in feet. Acres and yards are used beside metres in some countries.
pub fn is_of_feet(text: &str) -> bool {
    let units = ["ft", "feet", "foot", "ft2", "sqft"];
    let letters = |c: char| !c.is_alphanumeric();
    let words = text.split(letters).map(|word| word.trim_start_matches(|c: char| c.is_ascii_digit()));
    words.into_iter().any(|word| units.contains(&word.to_lowercase().as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_is_found_among_words() {
        for (line, size) in [
            ("veg-one 8 x 10 m", Some("8 x 10 m")),
            ("80 m2 veg one", Some("80 m2")),
            ("beds behind 6 beds of 4 x 8 ft", Some("6 beds of 4 x 8 ft")),
            ("the 1 4 m x 6 m", Some("4 m x 6 m")),
            ("lawn", None),
        ] {
            let words: Vec<&str> = line.split_whitespace().collect();
            assert_eq!(size_in(&words).map(|(_, text)| text).as_deref(), size, "{line}");
        }
        assert!(is_of_feet("750 ft") && is_of_feet("4 x 8ft") && !is_of_feet("0.1 acre") && !is_of_feet("30 m2"));
    }
}
