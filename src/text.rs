//! Pages of headings, points and lines that fit the terminal.

use analysis::table::{WIDTH, wrap};

/// Words wrapped to the terminal: the first line after `first`, the others as far in.
pub fn wrapped(words: &str, first: &str) -> String {
    let indent = first.chars().count();
    let mut out = String::new();
    for (at, line) in wrap(words, WIDTH - indent).iter().enumerate() {
        let before = if at == 0 { first.to_owned() } else { " ".repeat(indent) };
        out.push_str(&format!("{before}{line}\n"));
    }
    out
}

/// A page of headings, lines and points.
#[derive(Debug, Default)]
pub struct TextPage {
    text: String,
}

impl TextPage {
    /// A heading after an empty line.
    pub fn heading(&mut self, words: &str) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.text.push_str(&wrapped(words, ""));
    }

    /// A point of a list.
    pub fn point(&mut self, words: &str) {
        self.text.push_str(&wrapped(words, "  - "));
    }

    /// Text as it is.
    pub fn raw(&mut self, text: &str) {
        self.text.push_str(text);
    }

    /// The text.
    pub fn finish(self) -> String {
        self.text
    }
}

/// "1 day", "3 days".
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_longer_than_the_terminal_and_points_hang() {
        let text = wrapped(&"word ".repeat(60), "  - ");
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
        assert!(text.lines().skip(1).all(|line| line.starts_with("    word")));
    }
}
