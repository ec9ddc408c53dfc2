//! Lists, capitals and counts.

/// "a, b and c".
#[must_use]
pub fn list<S: AsRef<str>>(items: &[S]) -> String {
    joined(items, "and")
}

/// "a, b or c".
#[must_use]
pub fn either<S: AsRef<str>>(items: &[S]) -> String {
    joined(items, "or")
}

fn joined<S: AsRef<str>>(items: &[S], word: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [some @ .., last] => {
            let some: Vec<&str> = some.iter().map(AsRef::as_ref).collect();
            format!("{} {word} {}", some.join(", "), last.as_ref())
        }
    }
}

/// The text with its first letter large.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// "1 possible year", "200 possible years".
#[must_use]
pub fn possible_years(count: usize) -> String {
    format!("{count} possible year{}", if count == 1 { "" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_sentences_do() {
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
        assert_eq!(list(&["a", "b"]), "a and b");
        assert_eq!(either(&["a", "b", "c"]), "a, b or c");
        assert_eq!(list(&["a"]), "a");
        assert_eq!([possible_years(1), possible_years(2)], ["1 possible year", "2 possible years"]);
        assert_eq!([capital("über all"), capital("")], ["Über all", ""]);
    }
}
