//! CSV texts as lines of cells, by the `csv` crate: quotes, byte-order mark and spaces
//! around cells are taken care of; every line keeps its number.

/// A line of a CSV text: its number, counted from 1, and its cells without spaces around.
pub(crate) type CsvLine = (usize, Vec<String>);

/// The lines of a CSV text that hold anything.
pub(crate) fn lines(text: &str) -> Vec<CsvLine> {
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator(text))
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut counted = (0, 1);
    let mut lines = Vec::new();
    // Reading from memory cannot fail, and a `str` is UTF-8.
    for record in reader.records().filter_map(Result::ok) {
        let begins = record.position().map_or(0, csv::Position::byte) as usize;
        let line = line_at(text, begins, &mut counted);
        let cells: Vec<String> = record.iter().map(str::to_owned).collect();
        if cells.iter().any(|cell| !cell.is_empty()) {
            lines.push((line, cells));
        }
    }
    lines
}

/// What stands between the cells: a comma, or a semicolon or tab where the first line has one and no comma.
pub(crate) fn separator(text: &str) -> u8 {
    let first = text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let has = |byte: u8| first.bytes().any(|of| of == byte);
    [b';', b'\t'].into_iter().find(|byte| has(*byte) && !has(b',')).unwrap_or(b',')
}

/// Number of the line on which the record that begins at `byte` stands: the crate's own count is
/// of the blank lines before it. `counted` holds a byte and its line, and moves on.
fn line_at(text: &str, byte: usize, counted: &mut (usize, usize)) -> usize {
    let rest = &text.as_bytes()[byte..];
    let blank = rest.iter().take_while(|b| matches!(b, b'\n' | b'\r')).count();
    let at = byte + blank;
    let passed = text.as_bytes()[counted.0..at].iter().filter(|b| **b == b'\n').count();
    *counted = (at, counted.1 + passed);
    counted.1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn semicolons_and_tabs_part_cells_where_the_first_line_has_them() {
        let cells = |text: &str| lines(text).into_iter().map(|(_, cells)| cells.join("|")).collect::<Vec<_>>();
        assert_eq!(cells("date;rain[mm]\n2027-01-01;1,5\n"), ["date|rain[mm]", "2027-01-01|1,5"]);
        assert_eq!(cells("date\train[mm]\n2027-01-01\t1.5\n"), ["date|rain[mm]", "2027-01-01|1.5"]);
        assert_eq!(cells("date,plots\n2027-01-01,a;b\n"), ["date|plots", "2027-01-01|a;b"]);
    }

    #[test]
    fn lines_keep_their_numbers_and_quotes_hold_commas() {
        let lines = lines("\u{feff}date, plot\n\n2027-04-01,\"far, beds\"\n , \n2027-04-02,\n");
        let want = [(1, vec!["date", "plot"]), (3, vec!["2027-04-01", "far, beds"]), (5, vec!["2027-04-02", ""])];
        assert_eq!(lines.len(), want.len());
        for ((line, cells), (want_line, want_cells)) in lines.iter().zip(want) {
            assert_eq!((*line, cells.iter().map(String::as_str).collect::<Vec<_>>()), (want_line, want_cells));
        }
    }
}
