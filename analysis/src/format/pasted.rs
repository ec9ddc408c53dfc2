//! Examples in the form in which they can be pasted: no line is longer than the page is wide.

use crate::table::WIDTH;
use scenarios::table_format::{KeyFormat, TableFormat};

/// Columns an example stands in by.
pub(super) const INDENT: usize = 4;

/// Whether every line has room.
pub(super) fn fits(text: &str) -> bool {
    text.lines().all(|line| line.chars().count() + INDENT <= WIDTH)
}

/// Whole examples of a table that stands in `parent`, each under the heading it needs.
#[must_use]
pub fn pasted(table: &TableFormat, parent: &TableFormat) -> Vec<String> {
    if table.is_inline() && !table.wholes().iter().all(|whole| fits(whole)) {
        return vec![under_a_heading(table, parent)];
    }
    let heading = if table.is_inline() { format!("{}\n", parent.written) } else { String::new() };
    table.wholes().iter().map(|whole| format!("{heading}{whole}")).collect()
}

/// A table that is too long for a line, under a heading of its own: TOML reads both alike.
fn under_a_heading(table: &TableFormat, parent: &TableFormat) -> String {
    let inner = parent.written.trim_matches(['[', ']']);
    let key = table.written.split(" = ").next().unwrap_or_default();
    let (open, close) = if table.written.contains("[{") { ("[[", "]]") } else { ("[", "]") };
    let lines: Vec<String> = table.keys.iter().map(KeyFormat::line).collect();
    format!("{open}{inner}.{key}{close}\n{}", lines.join("\n"))
}
