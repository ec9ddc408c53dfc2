//! Columns as wide as their cells; words give way where the line is full.
//!
//! Drawn here rather than by a crate: of 46 tables of the demos, the library and the problems
//! `comfy-table` 7.2 draws 31 as they are and `tabled` 0.20 30. Where a line is full, neither
//! breaks a name after its hyphen ("cherry-fly-watc", "h"), and `tabled` wraps figures. Given
//! widths and cells that were wrapped here they would only pad, and no line would be saved.

use super::wrapping::{WIDTH, wrap};

/// Spaces between columns; one where the line is full.
const GAP: usize = 2;
/// A wrapped column is not made narrower than this.
const NARROWEST: usize = 10;

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextColumn {
    /// Words, left, wrapped where the line is full.
    Words,
    /// Numbers, right, never wrapped.
    Numbers,
}

/// A table under construction.
#[derive(Clone, Debug)]
pub struct TextTable {
    columns: Vec<TextColumn>,
    heads: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl TextTable {
    /// A table with these heads; a head may have lines of its own (`"cover\nloss"`).
    #[must_use]
    pub fn new(columns: &[(TextColumn, &str)]) -> Self {
        Self {
            columns: columns.iter().map(|(column, _)| *column).collect(),
            heads: columns.iter().map(|(_, head)| (*head).to_owned()).collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row; missing cells are empty, surplus ones dropped.
    pub fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        let mut cells: Vec<String> = cells.into_iter().take(self.columns.len()).collect();
        cells.resize(self.columns.len(), String::new());
        self.rows.push(cells);
    }

    /// The table as lines, each ended.
    #[must_use]
    pub fn text(&self) -> String {
        let (widths, gap) = self.widths();
        let mut out = self.lines(&self.heads, &widths, gap);
        let rule = widths.iter().sum::<usize>() + gap * (widths.len() - 1);
        out += &"-".repeat(rule.min(WIDTH));
        out.push('\n');
        for row in &self.rows {
            out += &self.lines(row, &widths, gap);
        }
        out
    }

    fn widths(&self) -> (Vec<usize>, usize) {
        let widest = |column: usize| {
            let cells = self.rows.iter().map(|row| &row[column]).chain(std::iter::once(&self.heads[column]));
            cells.flat_map(|cell| cell.lines()).map(|line| line.chars().count()).max().unwrap_or(0)
        };
        let wished: Vec<usize> = (0..self.columns.len()).map(widest).collect();
        let wide = self.narrowed(wished.clone(), GAP);
        if wide.iter().sum::<usize>() + GAP * (wide.len() - 1) <= WIDTH {
            (wide, GAP)
        } else {
            (self.narrowed(wished, 1), 1)
        }
    }

    fn narrowed(&self, mut widths: Vec<usize>, gap: usize) -> Vec<usize> {
        let gaps = gap * widths.len().saturating_sub(1);
        // The widest column of words gives way until the line fits.
        loop {
            let over = (widths.iter().sum::<usize>() + gaps).saturating_sub(WIDTH);
            let words = (0..widths.len()).filter(|&c| self.columns[c] == TextColumn::Words && widths[c] > NARROWEST);
            match words.max_by_key(|&c| widths[c]) {
                Some(column) if over > 0 => widths[column] = widths[column].saturating_sub(over).max(NARROWEST),
                _ => return widths,
            }
        }
    }

    fn lines(&self, cells: &[String], widths: &[usize], gap: usize) -> String {
        let cells: Vec<Vec<String>> = cells.iter().zip(widths).map(|(cell, &width)| wrap(cell, width)).collect();
        let height = cells.iter().map(Vec::len).max().unwrap_or(0);
        let mut out = String::new();
        for at in 0..height {
            let mut line = String::new();
            for (column, (cell, &width)) in cells.iter().zip(widths).enumerate() {
                let text = cell.get(at).map_or("", String::as_str);
                let room = " ".repeat(width.saturating_sub(text.chars().count()));
                line += &" ".repeat(if column == 0 { 0 } else { gap });
                line += &match self.columns[column] {
                    TextColumn::Words => format!("{text}{room}"),
                    TextColumn::Numbers => format!("{room}{text}"),
                };
            }
            out += line.trim_end();
            out.push('\n');
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_fit_and_names_wrap() {
        let mut table = TextTable::new(&[
            (TextColumn::Words, "name"),
            (TextColumn::Numbers, "a number that is long"),
            (TextColumn::Numbers, "x"),
        ]);
        table.row(["a-very-long-name-".repeat(8), "1.0".into(), "2".into()]);
        let text = table.text();
        assert!(text.lines().all(|l| l.chars().count() <= WIDTH), "{text}");
        assert!(text.lines().count() > 4);
        assert!(text.lines().nth(2).unwrap().ends_with("1.0  2"));
    }
}
