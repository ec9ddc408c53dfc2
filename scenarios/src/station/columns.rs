//! The header of a station file: which column is what, in which unit.

use crate::diagnose::FaultPage;
use crate::nearest::did_you_mean;

/// The remedy that shows what a file looks like.
pub(super) const EXAMPLE: &str = "Begin with the line date,tmin[C],tmax[C],rain[mm] and write one line a day below it.";

/// The remedy for whoever has a rain gauge and no thermometer.
const RAIN_GAUGE: &str = "Begin with the line date,tmin[C],tmax[C],rain[mm]. If you measure rain only, write into every line the lowest and highest temperature usual in its month; single days of frost or heat are then missing.";

/// What a column measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum StationQuantity {
    Date,
    Tmin,
    Tmax,
    Rain,
    Radiation,
    Humidity,
    /// As stations measure it, at 10 m.
    WindAt10M,
    /// Measured at 2 m.
    WindAt2M,
}

/// A column: what, and how its numbers become the engine's (value × factor + zero).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct StationColumn {
    pub what: StationQuantity,
    pub factor: f64,
    pub zero: f64,
}

/// Every header: C, mm, MJ/m2, %, m/s are the engine's own.
const HEADERS: &[(&str, StationQuantity, f64, f64)] = &[
    ("date", StationQuantity::Date, 1.0, 0.0),
    ("tmin[C]", StationQuantity::Tmin, 1.0, 0.0),
    ("tmax[C]", StationQuantity::Tmax, 1.0, 0.0),
    ("rain[mm]", StationQuantity::Rain, 1.0, 0.0),
    ("radiation[MJ/m2]", StationQuantity::Radiation, 1.0, 0.0),
    ("humidity[%]", StationQuantity::Humidity, 1.0, 0.0),
    ("wind[m/s]", StationQuantity::WindAt10M, 1.0, 0.0),
    ("wind_2m[m/s]", StationQuantity::WindAt2M, 1.0, 0.0),
    ("tmin[F]", StationQuantity::Tmin, 5.0 / 9.0, -160.0 / 9.0),
    ("tmax[F]", StationQuantity::Tmax, 5.0 / 9.0, -160.0 / 9.0),
    ("rain[in]", StationQuantity::Rain, 25.4, 0.0),
    ("wind[km/h]", StationQuantity::WindAt10M, 1.0 / 3.6, 0.0),
    ("wind[mph]", StationQuantity::WindAt10M, 0.447_04, 0.0),
];

/// Columns that must be there.
const NEEDED: [(&str, StationQuantity); 4] = [
    ("date", StationQuantity::Date),
    ("tmin[C]", StationQuantity::Tmin),
    ("tmax[C]", StationQuantity::Tmax),
    ("rain[mm]", StationQuantity::Rain),
];

/// The columns of a header; `None` with its faults noted.
pub(super) fn read(page: FaultPage<'_>, line: usize, names: &[String]) -> Option<Vec<StationColumn>> {
    let columns: Vec<Option<StationColumn>> = names.iter().map(|name| column(name)).collect();
    if columns.iter().all(Option::is_none) {
        page.error_in_line(line, "the header line is missing", EXAMPLE);
        return None;
    }
    let mut good = true;
    for (name, column) in names.iter().zip(&columns) {
        if column.is_none() {
            let remedy = did_you_mean(name, HEADERS.iter().map(|(header, ..)| *header));
            page.error_in_line(line, format!("there is no column {name:?}"), remedy);
            good = false;
        }
    }
    for (name, what) in NEEDED {
        let count = columns.iter().flatten().filter(|column| column.what == what).count();
        if good && count != 1 {
            let message =
                if count == 0 { format!("column {name} is missing") } else { format!("column {name} is there twice") };
            let remedy = if count == 0 && matches!(what, StationQuantity::Tmin | StationQuantity::Tmax) {
                RAIN_GAUGE
            } else {
                EXAMPLE
            };
            page.error_in_line(line, message, remedy);
            good = false;
        }
    }
    let has = |what| columns.iter().flatten().any(|column| column.what == what);
    if good && has(StationQuantity::WindAt10M) && has(StationQuantity::WindAt2M) {
        page.error_in_line(line, "wind is there twice, at 10 m and at 2 m", "Keep one of the two columns.");
        good = false;
    }
    let columns: Vec<StationColumn> = columns.into_iter().flatten().collect();
    let factor = |what| columns.iter().find(|column| column.what == what).map(|column| column.factor);
    if good && factor(StationQuantity::Tmin) != factor(StationQuantity::Tmax) {
        page.error_in_line(line, "tmin and tmax are in different units", "Write both in C or both in F.");
        good = false;
    }
    good.then_some(columns)
}

/// A header as HEADERS has it: without spaces and the sign of degrees.
fn plain(name: &str) -> String {
    name.chars().filter(|c| !c.is_whitespace() && *c != '°').collect()
}

fn column(name: &str) -> Option<StationColumn> {
    let name = plain(name);
    let (_, what, factor, zero) = HEADERS.iter().find(|(header, ..)| header.eq_ignore_ascii_case(&name))?;
    Some(StationColumn { what: *what, factor: *factor, zero: *zero })
}
