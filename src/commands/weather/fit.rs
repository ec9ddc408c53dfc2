//! `hensward weather fit FILE.csv`: a climate from a station's days, and how well it agrees.

use super::both::no_runs;
use crate::commands::outputs::{provenance, take, write};
use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use crate::sites::{label, text_of};
use crate::whole::whole;
use analysis::json::{WeatherDocument, fit_document, text as document_text};
use analysis::output::Files;
use analysis::results::SiteOrigin;
use analysis::table::wrapped;
use clap::Args;
use scenarios::library::{Evidence, NamedClimate, climate_text};
use scenarios::reader::as_name;
use scenarios::station::{self, Filling, MOST_FILLED_D, Station};
use sim_engine::weather::agreement::{Agreement, AgreementRow, agreement};
use sim_engine::weather::fit::{Fitted, fit};
use std::path::PathBuf;
use std::time::Instant;

/// Below this p a row is marked: one in a hundred by chance alone.
const DOUBTFUL: f64 = 0.01;
/// Below this the climate as a whole is doubted (convention).
const DOUBTFUL_WHOLE: f64 = 0.05;

/// What is said of a column of wind.
const WIND: &str = "Wind is taken as measured at 10 m and brought to 2 m (FAO-56 eq. 47); write wind_2m[m/s] over a column measured at 2 m. The climate fitted here uses temperature and rain alone; wind counts where the station's own years are run.";

/// What can be asked.
#[derive(Args, Debug)]
pub struct FitArgs {
    /// The station's file.
    #[arg(value_name = "FILE.csv", help = "The station's days, with the columns date,tmin[C],tmax[C],rain[mm]")]
    pub file: PathBuf,
    /// Print every month, not only the whole year and what looks doubtful
    #[arg(long)]
    pub months: bool,
    /// Fill gaps of up to so many days
    #[arg(long, default_value_t = 0, value_name = "DAYS", value_parser = whole::<u32>(0, MOST_FILLED_D.into()))]
    pub fill_gaps: u32,
    /// Latitude of the station, for the climate's latitude_hint
    #[arg(long, default_value_t = 45.0, value_name = "DEG", allow_hyphen_values = true, value_parser = latitude)]
    pub latitude: f64,
    /// Generated years the station is held against
    #[arg(long, default_value_t = 200, value_name = "N", value_parser = whole::<u32>(20, 10_000))]
    pub years: u32,
}

/// The fitted climate under a name and with its origin.
fn named(label: &str, station: &Station, fitted: &Fitted, latitude_deg: f64) -> NamedClimate {
    NamedClimate {
        about: format!("fitted to {} days of {label}", station.days.len()),
        source: format!("the station's days, {label}; fitted by hensward weather fit"),
        evidence: Evidence::Calibrated,
        ab_origin: None,
        latitude_deg,
        near: None,
        climate: fitted.climate.clone(),
    }
}

fn latitude(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(degrees) if (-65.0..=65.0).contains(&degrees) => Ok(degrees),
        _ => Err("a latitude is -65 to 65, south negative".to_owned()),
    }
}

/// Fits, compares, writes.
///
/// # Errors
/// The file's faults, or too few days to fit.
pub fn run(args: &FitArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    let file = args.file.display().to_string();
    let text = text_of(&args.file, "Give the path of a CSV file with the station's days.")?;
    let station = station::read_text(&file, &text, Filling::ByOption(args.fill_gaps))?;
    station.doubts.iter().for_each(|doubt| screen::complain(&doubt.to_string()));
    let label = label(&args.file);
    let names = ["climate.toml", "agreement.csv", "summary.json"];
    let mut folder = take(common, &label, "weather fit", &SiteOrigin::File(args.file.clone()), &names)?;
    let fitted =
        fit(&station.days).map_err(|error| CommandError::argument(&file, error.to_string(), error.remedy()))?;
    let agrees = agreement(&fitted.climate, &station.days, common.seed, args.years as usize);
    let agrees = agrees.map_err(|error| CommandError::argument(&file, error.to_string(), error.remedy()))?;
    let name = as_name(&label);
    let climate = climate_text("library.climate", &name, &named(&label, &station, &fitted, args.latitude));
    let from = provenance(common, &[("weather", text)]);
    let mut document: WeatherDocument =
        fit_document(&label, &station.days, station.filled, &fitted, Some(&agrees), &from, None);
    let mut files = Files::default();
    files.add("climate.toml", climate);
    files.add("agreement.csv", csv(&agrees));
    files.add("summary.json", document_text(&document)?);
    write(&files, &mut folder, common)?;
    if common.json {
        document.run = Some(no_runs(begun));
        return screen::print(&document_text(&document)?);
    }
    screen::print(&words(args, &station, &fitted, &agrees, &name))
}

/// The table and what to do with the climate.
fn words(args: &FitArgs, station: &Station, fitted: &Fitted, agrees: &Agreement, name: &str) -> String {
    let mut out = wrapped(
        &format!(
            "Fitted to {} days of {}{}: {} whole years, compared with {} generated years.",
            station.days.len(),
            args.file.display(),
            if station.filled > 0 { format!(" ({} filled in)", station.filled) } else { String::new() },
            agrees.station_years,
            agrees.generated_years
        ),
        "",
    );
    for note in &fitted.notes {
        out.push_str(&wrapped(note, ""));
    }
    if station.wind_at_10_m {
        out.push_str(&wrapped(WIND, ""));
    }
    out.push_str(&format!("\n{:<11}{:<30}{:>9}{:>11}{:>9}{:>8}\n", "when", "what", "station", "generated", "±", "p"));
    let shown = agrees.rows.iter().filter(|row| args.months || row.month.is_none() || row.p_value < DOUBTFUL);
    shown.for_each(|row| out.push_str(&line(row)));
    out.push_str(&format!("\nOver all {} rows together: p = {:.3}. ", agrees.rows.len(), agrees.combined_p));
    out.push_str(if agrees.combined_p < DOUBTFUL_WHOLE {
        "The generator does not make years like\nthis station's: look at the rows with a small p.\n"
    } else {
        "No sign that the generated\nyears differ from the station's.\n"
    });
    out.push('\n');
    out.push_str(&wrapped(
        &format!("To use it, paste climate.toml into a site file and write climate = \"{name}\" under [weather]. Generated years differ less from each other than real ones do."),
        "",
    ));
    out
}

fn line(row: &AgreementRow) -> String {
    let mark = if row.p_value < DOUBTFUL { " *" } else { "" };
    format!(
        "{:<11}{:<30}{:>9.1}{:>11.1}{:>9.2}{:>8.3}{mark}\n",
        row.when(),
        row.what,
        row.station,
        row.generated,
        row.standard_error,
        row.p_value
    )
}

/// By hand, as the `csv` crate quotes a whole table or only where it must: here words always were.
fn csv(agrees: &Agreement) -> String {
    let mut text = "when,what,station,generated,standard_error,p\n".to_owned();
    for row in &agrees.rows {
        text.push_str(&format!(
            "{},\"{}\",{},{},{},{}\n",
            row.when(),
            row.what,
            row.station,
            row.generated,
            row.standard_error,
            row.p_value
        ));
    }
    text
}
