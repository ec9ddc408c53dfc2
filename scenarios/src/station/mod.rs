//! A station's daily weather from a CSV file: `date,tmin[C],tmax[C],rain[mm]` and,
//! where there is more, `radiation[MJ/m2],humidity[%],wind[m/s]`. Wind is taken as measured at 10 m, as stations do, and
//! brought to 2 m by FAO-56 eq. 47; a column `wind_2m[m/s]` was measured there. Columns may stand in any order and in
//! other units. Every problem is named with its line; short gaps
//! are filled only where that is asked for, and counted.

mod columns;
mod doubts;
mod filling;
mod gaps;
mod rows;

pub use filling::{Filling, MOST_FILLED_D};

use crate::diagnose::{ENOUGH_FAULTS, Fault, FaultPage, Faults, SourceText};
use crate::read_file;
use sim_engine::weather::DayWeather;
use std::cell::RefCell;
use std::path::Path;

/// The days of a station, without gaps.
#[derive(Clone, Debug, PartialEq)]
pub struct Station {
    /// The file.
    pub file: String,
    /// Its days in order, one after the other.
    pub days: Vec<DayWeather>,
    /// Days of these that were filled.
    pub filled: usize,
    /// Wind was measured at 10 m; its days have it brought to 2 m.
    pub wind_at_10_m: bool,
    /// What is doubted of the whole, such as a unit.
    pub doubts: Vec<Fault>,
}

/// Reads a station file, its short gaps filled.
///
/// # Errors
/// All faults of the file, by line.
pub fn read(path: &Path, filling: Filling) -> Result<Station, Faults> {
    let shown = path.display().to_string();
    match read_file::text(path, read_file::STATION_BYTES) {
        Ok(text) => read_text(&shown, &text, filling),
        Err(unread) => {
            let remedy = unread.remedy.unwrap_or("Give the path of a CSV file with the station's days.");
            Err(Faults::one(Fault::of_file(&shown, format!("cannot be read: {}", unread.why), remedy)))
        }
    }
}

/// Reads the text of a station file called `file`.
///
/// # Errors
/// All faults of the text, by line.
pub fn read_text(file: &str, text: &str, filling: Filling) -> Result<Station, Faults> {
    let source = SourceText::new(file, text);
    let faults = RefCell::new(Vec::new());
    let station = read_page(FaultPage { source: &source, faults: &faults }, filling);
    let faults = Faults::sorted(faults.into_inner());
    match station {
        Some(station) if !faults.any_error() => Ok(Station { doubts: faults.into_vec(), ..station }),
        _ => Err(faults),
    }
}

/// Reads a page, its faults and doubts noted there.
pub(crate) fn read_page(page: FaultPage<'_>, filling: Filling) -> Option<Station> {
    let before = page.faults.borrow().len();
    let decimal_commas = crate::csv_lines::separator(page.source.text()) != b',';
    let mut lines = crate::csv_lines::lines(page.source.text()).into_iter();
    let Some((header_at, header)) = lines.next() else {
        let fault = Fault::of_file(page.source.file(), "the file is empty", columns::EXAMPLE);
        page.faults.borrow_mut().push(fault);
        return None;
    };
    let columns = columns::read(page, header_at, &header)?;
    let mut days: Vec<rows::StationRow> = Vec::new();
    for (at, line) in lines {
        if page.faults.borrow().len() >= before + ENOUGH_FAULTS {
            page.error_in_line(at, "the rest of the file was not read", "Correct the faults above first.");
            break;
        }
        if let Some(row) = rows::read(page, &columns, decimal_commas, at, &line)
            && rows::follows(page, days.last(), &row)
        {
            days.push(row);
        }
    }
    if page.faults.borrow().len() > before {
        return None;
    }
    if days.is_empty() {
        page.error_in_line(header_at, "there are no days below the header", columns::EXAMPLE);
        return None;
    }
    let (days, filled) = gaps::fill(page, days, filling)?;
    if !doubts::whole(page, header_at, &columns, &days) {
        return None;
    }
    let wind_at_10_m = columns.iter().any(|column| column.what == columns::StationQuantity::WindAt10M);
    Some(Station { file: page.source.file().to_owned(), days, filled, wind_at_10_m, doubts: Vec::new() })
}
