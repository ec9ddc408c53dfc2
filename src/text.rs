//! Pages of headings, points and lines that fit the terminal.

use analysis::table::wrapped;

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
