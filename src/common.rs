//! The options every command has.

use crate::whole::whole;
use analysis::units::Units;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args, ValueEnum};
use scenarios::SiteModel;
use std::path::PathBuf;

/// Options of every command.
#[derive(Args, Clone, Debug)]
#[command(next_help_heading = "Options of every command")]
pub struct Common {
    /// One JSON document on stdout instead of words
    #[arg(long, global = true)]
    pub json: bool,
    /// Folder for files; `None` is the default of the help.
    #[arg(long, global = true, value_name = "FOLDER", help = "Folder for files [default: results/<site>/<command>]")]
    pub out: Option<PathBuf>,
    /// Seed of all random numbers: the same seed gives the same files
    #[arg(long, global = true, default_value_t = 1, value_name = "N", value_parser = whole::<u64>(0, u64::MAX))]
    pub seed: u64,
    /// Threads; results do not depend on them [default: all cores]
    #[arg(long, global = true, value_name = "N", value_parser = whole::<u16>(1, 1024))]
    pub threads: Option<u16>,
    /// Print errors only
    #[arg(long, global = true)]
    pub quiet: bool,
    /// How progress is shown on stderr
    #[arg(long, global = true, value_enum, default_value_t = Progress::Auto)]
    pub progress: Progress,
    /// Units of words, pages and charts; CSV and JSON are always metric [default: the site's `units`, else metric]
    #[arg(long, global = true, value_parser = units())]
    pub units: Option<Units>,
}

impl Common {
    /// The units asked for, else those of the site.
    pub fn units_of(&self, model: &SiteModel) -> Units {
        self.units.unwrap_or_else(|| Units::of(model.us_units))
    }
}

/// How progress is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Progress {
    /// A bar with the time left on a terminal, nothing elsewhere
    Auto,
    /// A line now and then
    Plain,
    /// Nothing
    None,
}

fn units() -> impl TypedValueParser<Value = Units> {
    let words = [
        PossibleValue::new("metric").help("Square metres and kilograms"),
        PossibleValue::new("us").help("Square feet and pounds"),
    ];
    PossibleValuesParser::new(words).map(|word| if word == "us" { Units::Us } else { Units::Metric })
}
