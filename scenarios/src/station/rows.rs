//! One line of a station file: a day, each impossible value named.

use super::columns::{StationColumn, StationQuantity};
use crate::diagnose::FaultPage;
use crate::site_file::dates;
use jiff::civil::Date;
use sim_engine::site::When;
use sim_engine::weather::et0::wind_at_2_m;

/// Least and most a value can be: record air temperatures are -89.2 and 56.7 C, the most
/// rain in a day 1,825 mm (World Meteorological Organization, archive of extremes).
const TEMPERATURE_C: (f64, f64) = (-90.0, 60.0);
const RAIN_MM: (f64, f64) = (0.0, 2_000.0);
/// No day's sunlight at the ground exceeds this (FAO-56, annex 2: 48 above the air).
const RADIATION_MJ_M2: (f64, f64) = (0.0, 50.0);
const HUMIDITY_PCT: (f64, f64) = (0.0, 100.0);
/// Mean wind of a day; from memory.
const WIND_M_S: (f64, f64) = (0.0, 60.0);

/// A day as written; what is missing may be filled.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct StationRow {
    pub line: usize,
    pub date: Date,
    pub tmin_c: Option<f64>,
    pub tmax_c: Option<f64>,
    pub rain_mm: Option<f64>,
    pub radiation_mj_m2: Option<f64>,
    pub humidity_pct: Option<f64>,
    pub wind_m_s: Option<f64>,
}

impl StationRow {
    /// A day of which nothing is known.
    pub fn blank(line: usize, date: Date) -> Self {
        Self {
            line,
            date,
            tmin_c: None,
            tmax_c: None,
            rain_mm: None,
            radiation_mj_m2: None,
            humidity_pct: None,
            wind_m_s: None,
        }
    }

    /// Names of what is needed and missing.
    pub fn missing(&self) -> Vec<&'static str> {
        let needed = [("tmin", self.tmin_c), ("tmax", self.tmax_c), ("rain", self.rain_mm)];
        needed.iter().filter(|(_, value)| value.is_none()).map(|(name, _)| *name).collect()
    }
}

/// The day of a line; `None` with its faults noted.
pub(super) fn read(
    page: FaultPage<'_>,
    columns: &[StationColumn],
    decimal_commas: bool,
    line: usize,
    cells: &[String],
) -> Option<StationRow> {
    if cells.len() != columns.len() {
        let message = format!("the line has {} cells, the header {}", cells.len(), columns.len());
        let remedy = if cells.len() > columns.len() && !decimal_commas {
            "Write one cell a column. Are its decimals written with commas? Then part the columns by semicolons, the header's too."
        } else {
            "Write one cell a column; leave a cell empty where nothing was measured."
        };
        page.error_in_line(line, message, remedy);
        return None;
    }
    let at = columns.iter().position(|column| column.what == StationQuantity::Date)?;
    let mut row = StationRow::blank(line, date(page, line, cells.get(at)?)?);
    let mut good = true;
    for (column, text) in columns.iter().zip(cells).filter(|(column, _)| column.what != StationQuantity::Date) {
        let text = if decimal_commas { text.replace(',', ".") } else { text.clone() };
        match number(page, line, column, &text) {
            Some(value) => put(&mut row, column.what, value),
            None => good = false,
        }
    }
    if let (Some(tmin), Some(tmax)) = (row.tmin_c, row.tmax_c)
        && tmin > tmax
    {
        page.error_in_line(line, "tmin is above tmax", "Are the two columns swapped?");
        good = false;
    }
    good.then_some(row)
}

fn put(row: &mut StationRow, what: StationQuantity, value: Option<f64>) {
    match what {
        StationQuantity::Date => {}
        StationQuantity::Tmin => row.tmin_c = value,
        StationQuantity::Tmax => row.tmax_c = value,
        StationQuantity::Rain => row.rain_mm = value,
        StationQuantity::Radiation => row.radiation_mj_m2 = value,
        StationQuantity::Humidity => row.humidity_pct = value,
        StationQuantity::WindAt10M => row.wind_m_s = value.map(|wind| wind_at_2_m(wind, 10.0)),
        StationQuantity::WindAt2M => row.wind_m_s = value,
    }
}

fn date(page: FaultPage<'_>, line: usize, text: &str) -> Option<Date> {
    let (message, remedy) = match dates::parse(&dashed(text)) {
        Ok(When::On(date)) => return Some(date),
        Ok(When::Yearly { .. }) => (format!("{text:?} has no year"), "Write days as 2027-03-01.".to_owned()),
        Err((message, _)) if message.contains("not a date") && text.contains('/') => {
            (message, "Is the day first or the month? Write days as 2027-03-01.".to_owned())
        }
        Err((message, _)) if message.contains("not a date") => (message, "Write days as 2027-03-01.".to_owned()),
        Err(fault) => fault,
    };
    page.error_in_line(line, message, remedy);
    None
}

/// A date in the order of the calendar's standard, or with dots day first, as 2027-03-01; any other as it is: with slashes the day
/// may stand before the month or after it.
fn dashed(text: &str) -> String {
    let parts = |by: char| text.split(by).map(str::trim).collect::<Vec<_>>();
    let dashed = |year: &str, month: &str, day: &str| format!("{year}-{month:0>2}-{day:0>2}");
    match (parts('/').as_slice(), parts('.').as_slice()) {
        ([year, month, day], _) if year.len() == 4 => dashed(year, month, day),
        (_, [day, month, year]) if year.len() == 4 => dashed(year, month, day),
        _ => text.to_owned(),
    }
}

/// The value of a cell, `Some(None)` where it is empty.
fn number(page: FaultPage<'_>, line: usize, column: &StationColumn, text: &str) -> Option<Option<f64>> {
    if text.is_empty() {
        return Some(None);
    }
    let (name, (low, high)) = limits(column.what);
    let Ok(value) = text.parse::<f64>() else {
        page.error_in_line(
            line,
            format!("{name} is {text:?}, which is not a number"),
            "Leave the cell empty where nothing was measured.",
        );
        return None;
    };
    let value = value * column.factor + column.zero;
    if !value.is_finite() || value < low || value > high {
        let remedy = format!("It can be {low} to {high} {}; is the unit in the header right?", unit(column.what));
        page.error_in_line(line, format!("{name} is {text}, which is impossible"), remedy);
        return None;
    }
    Some(Some(value))
}

fn limits(what: StationQuantity) -> (&'static str, (f64, f64)) {
    match what {
        StationQuantity::Date => ("date", (0.0, 0.0)),
        StationQuantity::Tmin => ("tmin", TEMPERATURE_C),
        StationQuantity::Tmax => ("tmax", TEMPERATURE_C),
        StationQuantity::Rain => ("rain", RAIN_MM),
        StationQuantity::Radiation => ("radiation", RADIATION_MJ_M2),
        StationQuantity::Humidity => ("humidity", HUMIDITY_PCT),
        StationQuantity::WindAt10M | StationQuantity::WindAt2M => ("wind", WIND_M_S),
    }
}

fn unit(what: StationQuantity) -> &'static str {
    match what {
        StationQuantity::Date => "",
        StationQuantity::Tmin | StationQuantity::Tmax => "C",
        StationQuantity::Rain => "mm",
        StationQuantity::Radiation => "MJ/m2",
        StationQuantity::Humidity => "%",
        StationQuantity::WindAt10M | StationQuantity::WindAt2M => "m/s",
    }
}

/// Whether a day comes after the one before it; else its fault is noted.
pub(super) fn follows(page: FaultPage<'_>, before: Option<&StationRow>, row: &StationRow) -> bool {
    let Some(before) = before else { return true };
    if row.date == before.date {
        page.error_in_line(row.line, format!("{} is there twice", row.date), "Keep one line a day.");
    } else if row.date < before.date {
        let message = format!("{} comes after {}", row.date, before.date);
        page.error_in_line(row.line, message, "Put the days in order, the oldest first.");
    }
    row.date > before.date
}
