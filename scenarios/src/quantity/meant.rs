//! Numbers in words or with separators, and what they mean: "five", "1,500", "2,5".

/// Numbers that are written in words.
const WORDS: [&str; 13] =
    ["none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/// The number of a word, or of digits with separators. A comma before three digits parts thousands; another is a point.
#[must_use]
pub fn number_meant(text: &str) -> Option<f64> {
    let text = text.trim();
    let word = WORDS
        .iter()
        .position(|word| text.eq_ignore_ascii_case(word) || text.eq_ignore_ascii_case("zero") && *word == "none");
    word.map(|number| number as f64).or_else(|| digits(text)?.parse().ok())
}

/// A text that begins with such a number, with the number as it is written here.
#[must_use]
pub fn text_meant(text: &str) -> Option<String> {
    let text = text.trim();
    let (begun, text) = text.strip_prefix("every ").map_or(("", text), |rest| ("every ", rest));
    let end = text.find(|c: char| c.is_whitespace()).unwrap_or(text.len());
    let inside = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+');
    let end = if text.starts_with(inside) { text.find(|c| !inside(c)).unwrap_or(text.len()) } else { end };
    let number = number_meant(&text[..end])?;
    let rest = text[end..].split_whitespace().collect::<Vec<_>>().join(" ");
    Some(if rest.is_empty() { number.to_string() } else { format!("{begun}{number} {rest}") })
}

/// Digits without their separators.
fn digits(text: &str) -> Option<String> {
    let digit = |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    let (whole, behind) = text.split_once('.').map_or((text, None), |(whole, behind)| (whole, Some(behind)));
    let parts: Vec<&str> = whole.trim_start_matches(['-', '+']).split(',').collect();
    if !parts.iter().all(|part| digit(part)) || parts.len() < 2 || behind.is_some_and(|behind| !digit(behind)) {
        return None;
    }
    let thousands = parts[0].len() <= 3 && parts[0] != "0" && parts[1..].iter().all(|part| part.len() == 3);
    match behind {
        _ if thousands => Some(text.replace(',', "")),
        None if parts.len() == 2 => Some(text.replace(',', ".")),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_words_and_with_separators() {
        for (text, number) in
            [("five", 5.0), ("Twelve", 12.0), ("1,500", 1500.0), ("2,5", 2.5), ("1,500.5", 1500.5), ("0,125", 0.125)]
        {
            assert_eq!(number_meant(text), Some(number), "{text}");
        }
        for text in ["", "some", "1,2,3", "1,50.5", "12"] {
            assert_eq!(number_meant(text), None, "{text}");
        }
        let told = |text: &str| text_meant(text).unwrap();
        assert_eq!(told("1,500\u{a0}sq ft"), "1500 sq ft");
        assert_eq!(told("every two weeks"), "every 2 weeks");
        assert_eq!(told("five m2"), "5 m2");
    }
}
