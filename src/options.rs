//! What can be asked: the commands, each with its own options and those of `common.rs`.

use crate::commands::{carry, check, compare, format, lesson, merge, new, score, season, sources, sweep, weather};
use crate::common::Common;
use clap::{Parser, Subcommand};

/// Which gate on which date: simulates a small flock of hens let through gates into
/// garden plots, day by day, and compares gate strategies before the season.
#[derive(Debug, Parser)]
#[command(name = "hensward", version, arg_required_else_help = true, max_term_width = 80)]
#[command(
    after_help = "SITE is a site file, a folder that holds site.toml, or the name of a demo: sallowmere, emberstair, puddlecote.\nTry: hensward compare sallowmere\nBegin with your own ground: hensward new my-garden --ask"
)]
pub struct CommandLine {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// What holds for every command.
    #[command(flatten)]
    pub common: Common,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a starter site for your ground, with questions in its comments
    New(new::NewArgs),
    /// Say back in plain words what a site file says, and what looks wrong
    Check(check::CheckArgs),
    /// One possible year (or run of years), day by day
    Season(season::SeasonArgs),
    /// Strategies on the same possible years: table, verdict, report
    Compare(compare::CompareArgs),
    /// Two printed pages for a group: guess first, then see
    Lesson(lesson::LessonArgs),
    /// Where numbers come from: value, range, unit, source, and how well it is known
    Sources(sources::SourcesArgs),
    /// What a site file may say: every table and key, with examples
    Format(format::FormatArgs),
    /// How many birds the site bears, and what fails first
    Carry(carry::CarryArgs),
    /// Many cells: numbers of a site varied, every strategy tried in each
    Sweep(sweep::SweepArgs),
    /// Join the parts of a sweep that was shared out
    Merge(merge::MergeArgs),
    /// A strategy on the open problem set: aims, limits, share of the best known
    Score(score::ScoreArgs),
    /// A station's weather: fit a generator to it, or draw new days
    Weather(weather::WeatherArgs),
}
