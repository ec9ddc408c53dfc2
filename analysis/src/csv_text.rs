//! CSV in memory.

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
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory does not fail.
    let written: Result<(), csv::Error> = rows.into_iter().try_for_each(|row| {
        let cells: Vec<C> = row.into_iter().collect();
        writer.write_record(cells.iter().map(|cell| safe_cell(cell.as_ref())))
    });
    written.ok().and_then(|()| writer.into_inner().ok()).unwrap_or_default()
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
