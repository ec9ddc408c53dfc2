//! `hensward weather draw`: generated days in the form of a station file.

use super::both::no_runs;
use crate::commands::outputs::{provenance, take, write};
use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use crate::sites::text_of;
use crate::whole::whole;
use analysis::json::{text as document_text, weather_draw_document};
use analysis::output::Files;
use analysis::results::SiteOrigin;
use clap::Args;
use jiff::civil::Date;
use scenarios::Library;
use scenarios::library::climate_text;
use scenarios::nearest::did_you_mean;
use scenarios::station::{self, Filling, MOST_FILLED_D};
use sim_engine::dates::days_of_years;
use sim_engine::weather::DayWeather;
use sim_engine::weather::climate::Climate;
use sim_engine::weather::fit::fit;
use std::path::PathBuf;
use std::time::Instant;

/// Days are drawn for at most so many years.
const MOST_YEARS: u64 = 1_000;
/// The first line of a station file.
const HEADER: &str = "date,tmin[C],tmax[C],rain[mm]";

/// What can be asked.
#[derive(Args, Debug)]
pub struct DrawArgs {
    /// A climate of the library, for example cool-maritime
    #[arg(required_unless_present = "from", conflicts_with = "from")]
    pub climate: Option<String>,
    /// A station file to fit first
    #[arg(long, value_name = "FILE.csv")]
    pub from: Option<PathBuf>,
    /// Fill gaps of up to so many days in the station file
    #[arg(long, default_value_t = 0, value_name = "DAYS", conflicts_with = "climate", value_parser = whole::<u32>(0, MOST_FILLED_D.into()))]
    pub fill_gaps: u32,
    /// Whole years to draw
    #[arg(long, value_name = "N", value_parser = whole::<i64>(1, MOST_YEARS), conflicts_with = "days")]
    pub years: Option<i64>,
    /// Days to draw
    #[arg(long, value_name = "N", value_parser = whole::<i64>(1, MOST_YEARS * 366))]
    pub days: Option<i64>,
    /// First day
    #[arg(long, default_value = "2027-01-01", value_name = "DATE", value_parser = start)]
    pub start: Date,
    /// Which draw of the seed
    #[arg(long, default_value_t = 0, value_name = "N", value_parser = whole::<u64>(0, u64::MAX))]
    pub draw: u64,
}

fn start(text: &str) -> Result<Date, String> {
    let date: Date = text.parse().map_err(|_| "write a date that exists as 2027-03-15".to_owned())?;
    if (1..=8_000).contains(&date.year()) { Ok(date) } else { Err("a year is 1 to 8000".to_owned()) }
}

/// Draws and prints the days; under `--out` or `--json` they go to a file.
///
/// # Errors
/// No such climate, or a station file that cannot be fitted.
pub fn run(args: &DrawArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    let source = source(args)?;
    let days = source.climate.draw(common.seed, args.draw, args.start, count(args));
    let text = csv(&days);
    if common.out.is_some() || common.json {
        let mut files = Files::default();
        files.add("weather.csv", text.clone());
        write(&files, &mut take(common, &source.label, "weather draw", &source.origin, &[])?, common)?;
    }
    if common.json {
        let from = provenance(common, &[("weather", source.input)]);
        let document = weather_draw_document(&source.label, &days, &from, Some(no_runs(begun)));
        return screen::print(&document_text(&document)?);
    }
    screen::print(&text)
}

struct ClimateSource {
    label: String,
    origin: SiteOrigin,
    /// The text the climate was made from.
    input: String,
    climate: Climate,
}

fn source(args: &DrawArgs) -> Result<ClimateSource, CommandError> {
    if let Some(path) = &args.from {
        let file = path.display().to_string();
        let text = text_of(path, "Give the path of a CSV file with the station's days.")?;
        let days = station::read_text(&file, &text, Filling::ByOption(args.fill_gaps))?.days;
        let fitted = fit(&days).map_err(|error| CommandError::argument(&file, error.to_string(), error.remedy()))?;
        let (label, origin) = (crate::sites::label(path), SiteOrigin::File(path.clone()));
        return Ok(ClimateSource { label, origin, input: text, climate: fitted.climate });
    }
    let name = args.climate.as_deref().unwrap_or_default();
    let library = Library::shipped().map_err(crate::sites::our_fault)?;
    let found = library.climate(name).ok_or_else(|| {
        let remedy = did_you_mean(name, library.climates().map(|(name, _)| name));
        CommandError::argument("CLIMATE", format!("there is no climate \"{name}\""), remedy)
    })?;
    let input = climate_text("climate", name, found);
    let origin = SiteOrigin::Named(format!("the climate {name}"));
    Ok(ClimateSource { label: name.to_owned(), origin, input, climate: found.climate.clone() })
}

/// Days asked for: `--days`, or those of whole years from the start.
fn count(args: &DrawArgs) -> usize {
    if let Some(days) = args.days {
        return days.unsigned_abs() as usize;
    }
    let years = args.years.and_then(|years| u32::try_from(years).ok());
    days_of_years(args.start, years.unwrap_or(1))
}

fn csv(days: &[DayWeather]) -> String {
    let mut text = format!("{HEADER}\n");
    for day in days {
        text.push_str(&format!("{},{:.1},{:.1},{:.1}\n", day.date, day.tmin_c, day.tmax_c, day.rain_mm));
    }
    text
}
