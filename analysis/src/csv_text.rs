//! CSV, in memory or as it comes.

use std::io::Write;

/// A cell that no spreadsheet runs: what begins like a formula and is no number has a quote before it.
#[must_use]
pub(crate) fn safe_cell(cell: &[u8]) -> std::borrow::Cow<'_, [u8]> {
    let formula = matches!(cell.first(), Some(b'=' | b'+' | b'-' | b'@' | b'\t' | b'\r'));
    let number = || std::str::from_utf8(cell).is_ok_and(|text| text.parse::<f64>().is_ok());
    if formula && !number() { [b"'", cell].concat().into() } else { cell.into() }
}

/// Rows of cells, the first of them the heads, as CSV.
#[must_use]
pub fn csv_text<C: AsRef<[u8]>, R: IntoIterator<Item = C>>(rows: impl IntoIterator<Item = R>) -> Vec<u8> {
    let mut text = Vec::new();
    let mut writer = CsvRows::new(&mut text);
    // Writing to memory does not fail.
    let written = rows.into_iter().try_for_each(|row| writer.row(row)).and_then(|()| writer.end());
    if written.is_ok() { text } else { Vec::new() }
}

/// Rows that are written one by one.
pub struct CsvRows<W: Write>(csv::Writer<W>);

impl<W: Write> CsvRows<W> {
    /// None yet.
    pub fn new(to: W) -> Self {
        Self(csv::Writer::from_writer(to))
    }

    /// Writes the next.
    ///
    /// # Errors
    /// What the system says.
    pub fn row<C: AsRef<[u8]>>(&mut self, cells: impl IntoIterator<Item = C>) -> std::io::Result<()> {
        for cell in cells {
            self.0.write_field(safe_cell(cell.as_ref()))?;
        }
        Ok(self.0.write_record(None::<&[u8]>)?)
    }

    /// Writes what is left.
    ///
    /// # Errors
    /// What the system says.
    pub fn end(mut self) -> std::io::Result<()> {
        self.0.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_is_a_formula_and_numbers_stay_numbers() {
        let rows = [["name", "value"], ["=1+1", "-1.5"], ["@SUM(A1)", "+3e-7"], ["-rf", "\tx"]];
        let text = String::from_utf8(csv_text(rows)).unwrap();
        assert_eq!(text, "name,value\n'=1+1,-1.5\n'@SUM(A1),+3e-7\n'-rf,'\tx\n");
    }
}
