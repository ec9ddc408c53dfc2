//! What can be asked of a sweep.

use super::words::Extras;
use crate::commands::inputs::share;
use crate::whole::whole;
use analysis::sweep::Shard;
use analysis::sweep::design::MOST_POINTS;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// What can be asked.
#[derive(Args, Debug)]
pub struct SweepArgs {
    /// A site file, a folder that holds site.toml, or a demo's name
    pub site: String,
    /// A number to vary and its values: stay=3..28/1, birds=4,8,16 (whole flock),
    /// plot.NAME.area=…, limits.least_cover=…; may be given more than once
    #[arg(long = "vary", value_name = "KEY=VALUES", required = true)]
    pub vary: Vec<String>,
    /// A strategy to try; may be given more than once [default: all of the site]
    #[arg(long = "strategy", value_name = "NAME")]
    pub strategies: Vec<String>,
    /// Possible years of each cell [default: those of the site]
    #[arg(long, value_name = "N", value_parser = whole::<u32>(1, 100_000))]
    pub draws: Option<u32>,
    /// Share of possible years in which every limit must hold
    #[arg(long, value_name = "SHARE", value_parser = share)]
    pub sure: Option<f64>,
    /// Run on a station's days; possible years then differ in the unknowns only
    #[arg(long, value_name = "FILE.csv")]
    pub weather: Option<PathBuf>,
    /// So many cells spread evenly, instead of every combination
    #[arg(long, value_name = "N", value_parser = whole::<u64>(1, MOST_POINTS))]
    pub sample: Option<u64>,
    /// How the cells of --sample are spread
    #[arg(long, value_enum, requires = "sample", default_value_t = SampleDesign::Sobol)]
    pub design: SampleDesign,
    /// Go on with a sweep that was stopped
    #[arg(long)]
    pub resume: bool,
    /// Run one part of many, for example 2/4; `hensward merge` joins them
    #[arg(long, value_name = "I/N", allow_hyphen_values = true, value_parser = Shard::parse)]
    pub shard: Option<Shard>,
    /// Run even more than ten million cells
    #[arg(long)]
    pub yes: bool,
    /// What is written besides.
    #[command(flatten)]
    pub extras: Extras,
}

/// How sampled cells are spread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SampleDesign {
    /// Sobol points
    Sobol,
    /// A Latin hypercube
    Latin,
}
