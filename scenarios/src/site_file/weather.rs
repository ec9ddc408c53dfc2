//! `[weather]`: a climate of the library, or a station's file.

use super::Companions;
use super::bounds;
use super::context::Context;
use super::surroundings::RunSettings;
use crate::diagnose::{FaultPage, SourceText};
use crate::nearest::did_you_mean;
use crate::quantity::Bound;
use crate::quantity::kinds::{DAYS, LENGTH_M};
use crate::reader::{Item, Reader};
use crate::station::{self, Filling, MOST_FILLED_D, Station};
use crate::table_format::{Kind, TableFormat, Taken, left_out, words};
use crate::weather_source::{WeatherSource, turned};
use sim_engine::weather::DayWeather;
use sim_engine::weather::fit::fit;
use sim_engine::weather::years::Years;

const FILLED_D: Bound =
    Bound { low: 0.0, high: MOST_FILLED_D as f64, wording: "Gaps of at most 10 days may be filled." };

/// What becomes of a station's days, and whether its own years are taken.
const USES: &[(&str, bool)] = &[("generator", false), ("years", true)];

pub(super) const WEATHER: TableFormat = TableFormat {
    heading: "[weather]",
    written: "[weather]",
    what: "Where the weather comes from: a climate or a station's file.",
    keys: &[
        left_out(
            "climate",
            Kind::Climate,
            Taken::Words("one of climate and station must be there"),
            "\"cool-maritime\"",
            "A climate. One of the other hemisphere is shifted by half a year, but not within 12 degrees of the equator, where seasons follow the rain.",
        ),
        left_out(
            "station",
            Kind::File("CSV file of a station"),
            Taken::Words("one of climate and station must be there"),
            "\"my-station.csv\"",
            "Days of a station, columns `date,tmin[C],tmax[C],rain[mm]` and more.",
        ),
        left_out(
            "use",
            Kind::Choice(|| words(USES)),
            Taken::Words("\"generator\""),
            "\"years\"",
            "Whether new years are made after the station's days, or its own whole years taken.",
        ),
        left_out(
            "fill_gaps",
            Kind::Quantity(&DAYS, &FILLED_D),
            Taken::Quantity(0.0, "days"),
            "\"3 days\"",
            "How long a gap in the station's file may be to be filled.",
        ),
        left_out(
            "elevation",
            Kind::Quantity(&LENGTH_M, &bounds::ELEVATION_M),
            Taken::Words("that of the site"),
            "\"95 m\"",
            "Height of the station, or the height a climate is meant for: temperatures fall by 6.5 C a km from there to the site, unknown from 5.5 to 6.5.",
        ),
    ],
    rest: None,
    examples: &[
        "[weather]\nclimate = \"cool-maritime\"\nelevation = \"95 m\"",
        "[weather]\nstation = \"my-station.csv\"\nuse = \"years\"\nfill_gaps = \"3 days\"",
    ],
};

/// What `[weather]` says.
pub(super) struct WeatherSettings {
    pub source: WeatherSource,
    /// How many days of a gap in a station's file are filled.
    pub fill_gaps_days: u32,
    /// Height above the sea that the temperatures are of, where it is stated.
    pub elevation_m: Option<f64>,
}

/// Where the weather comes from.
pub(super) fn read(
    context: &Context<'_>,
    root: &Reader<'_>,
    run: &RunSettings,
    latitude_deg: f64,
    companions: &Companions<'_>,
) -> Option<WeatherSettings> {
    let reader = root.needed("weather")?.table("[weather]")?;
    let climate = reader.get("climate");
    let station = reader.get("station");
    let use_years = reader.get("use").and_then(|item| item.choice(USES));
    let gaps = reader.get("fill_gaps").map_or(Some(0.0), |item| item.quantity(&DAYS, &FILLED_D));
    let elevation_m = reader.get("elevation").and_then(|item| item.quantity(&LENGTH_M, &bounds::ELEVATION_M));
    if climate.is_none() && station.is_none() {
        let remedy = "Add climate = \"cool-maritime\" or station = \"my-station.csv\".";
        reader.fault("weather has neither a climate nor a station", remedy);
    }
    reader.finish();
    // With a fault of its own the file's gaps are not judged.
    let gaps = gaps?.round() as u32;
    let found = match (climate, station) {
        (Some(climate), None) => named(context, &climate, latitude_deg),
        (None, Some(item)) => {
            let station = file(&item, gaps, companions)?;
            doubt_latitude(&item, &station, latitude_deg, elevation_m.unwrap_or(0.0));
            source(&item, station, use_years.unwrap_or(false), run)
        }
        (Some(_), Some(station)) => {
            station.fault("weather has both a climate and a station", "Keep one of the two.");
            None
        }
        (None, None) => None,
    };
    Some(WeatherSettings { source: found?, fill_gaps_days: gaps, elevation_m })
}

/// Nearer to the equator than this, degrees, seasons follow the rain and not the length of the day, and months stay as they
/// are: the long rains of Nairobi, 1 degree south, come March to May (WMO normals). The line itself is from memory.
pub(crate) const TROPICS_DEG: f64 = 12.0;

fn named(context: &Context<'_>, item: &Item<'_>, latitude_deg: f64) -> Option<WeatherSource> {
    let name = item.text()?;
    let Some(found) = context.own.climate(name).or_else(|| context.library.climate(name)) else {
        let names = context.own.climates().chain(context.library.climates()).map(|(name, _)| name);
        let remedy = did_you_mean(name, names);
        let own = "Or give your own weather: station = \"my-station.csv\".";
        item.fault(format!("there is no climate {name:?}"), format!("{remedy} {own}"));
        return None;
    };
    let across = found.latitude_deg * latitude_deg < 0.0 && latitude_deg.abs() >= TROPICS_DEG;
    let climate = if across { turned(&found.climate) } else { found.climate.clone() };
    Some(WeatherSource::Climate { name: name.to_owned(), climate: Box::new(climate) })
}

/// A station much warmer or colder than any place at the site's latitude (from memory: within 20 degrees of the equator hardly 30 C,
/// from there 0.4 C less a degree; the coldest towns have 12 C less 0.3 C a degree, and 0.65 C less for each 100 m).
fn doubt_latitude(item: &Item<'_>, station: &Station, latitude_deg: f64, elevation_m: f64) {
    let days = station.days.len();
    if days < 330 {
        return;
    }
    let mean_c = station.days.iter().map(DayWeather::tmean_c).sum::<f64>() / days as f64;
    let from_equator = latitude_deg.abs();
    let warmest = 30.0 - 0.4 * (from_equator - 20.0).max(0.0);
    let coldest = 12.0 - 0.3 * from_equator - 0.0065 * elevation_m.max(0.0);
    if mean_c > warmest || mean_c < coldest {
        item.unusual(
            format!(
                "the station has a mean of {mean_c:.1} C over the year, and the site lies at {from_equator:.1} degrees"
            ),
            "Is the latitude right, and are the units in the station's header?",
        );
    }
}

fn file(item: &Item<'_>, gap_days: u32, companions: &Companions<'_>) -> Option<Station> {
    let name = item.text()?;
    match companions(name) {
        Ok(text) => {
            let source = SourceText::new(name, &text);
            station::read_page(FaultPage { source: &source, faults: item.page.faults }, Filling::BySite(gap_days))
        }
        Err(error) => {
            item.fault(
                format!("cannot read {name:?}: {error}"),
                "Put the file beside the site file, or correct its name.",
            );
            None
        }
    }
}

fn source(item: &Item<'_>, station: Station, years: bool, run: &RunSettings) -> Option<WeatherSource> {
    let file = item.text()?.to_owned();
    if years {
        return match Years::cut(&station.days, run.start.month(), run.start.day()) {
            Ok(years) => Some(WeatherSource::Years { file, years, filled: station.filled }),
            Err(error) => {
                item.fault(format!("{file}: {error}"), error.remedy());
                None
            }
        };
    }
    match fit(&station.days) {
        Ok(fitted) => {
            Some(WeatherSource::Fitted { file, fitted: Box::new(fitted), days: station.days, filled: station.filled })
        }
        Err(error) => {
            item.fault(format!("{file}: {error}"), error.remedy());
            None
        }
    }
}
