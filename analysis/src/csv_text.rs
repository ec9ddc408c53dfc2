//! CSV in memory.

/// Rows of cells, the first of them the heads, as CSV.
#[must_use]
pub fn csv_text<C: AsRef<[u8]>, R: IntoIterator<Item = C>>(rows: impl IntoIterator<Item = R>) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory does not fail.
    let written: Result<(), csv::Error> = rows.into_iter().try_for_each(|row| writer.write_record(row));
    written.ok().and_then(|()| writer.into_inner().ok()).unwrap_or_default()
}
