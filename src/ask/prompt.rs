//! A question as it is shown.

use analysis::table::paragraph;

/// A question.
#[derive(Debug)]
pub struct Prompt {
    /// Which of the ten it belongs to.
    pub number: usize,
    /// The question.
    pub ask: String,
    /// An answer for example.
    pub example: String,
    /// What an empty line means.
    pub taken: Option<String>,
    /// What a question mark tells.
    pub more: &'static str,
    /// What there is to choose from, numbered.
    pub list: Vec<String>,
}

impl Prompt {
    /// All of it but the mark behind which the answer is typed.
    pub fn shown(&self) -> String {
        let mut lines = vec![paragraph(&format!("{}. {}", self.number, self.ask)).trim_end().to_owned()];
        lines.extend(self.list.iter().enumerate().map(|(at, item)| format!("     {} {item}", at + 1)));
        let example = if self.example.is_empty() { String::new() } else { format!("   e.g. {}", self.example) };
        let taken = self.taken.as_ref().map_or(String::new(), |taken| format!("   [{taken}]"));
        lines.push(format!("{example}{taken}").trim_end().to_owned());
        lines.retain(|line| !line.is_empty());
        lines.join("\n")
    }
}
