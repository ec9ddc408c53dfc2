//! Documents scripts rely on: one JSON document a command, each with a schema in
//! `analysis/schemas` made from its type, and `draws.csv`.
//!
//! Keys never vanish within a format number; more may come. What is blank (a measure
//! without meaning, an interval of one draw) is `null`, never 0. `run` tells what this
//! machine did and stands only in the document on standard output; in files it is
//! `None` and the key is missing, so that the same inputs give the same bytes.

mod carry;
mod check;
mod compare;
mod draws;
mod figures;
mod format;
mod harvest;
mod lesson;
mod new;
mod rates;
mod score;
mod season;
mod sources;
mod sweep;
mod weather;
mod why;

pub use carry::{CarriedFigures, CarryDocument, CurveFigures, carry_document};
pub use check::{AimSaid, CheckDocument, DefaultSaid, FaultSaid, LimitSaid, check_document, check_faults_document};
pub use compare::{
    BaselineFigures, CompareDocument, FateSaid, LimitFigures, SettleSaid, Stayed, StrategyFigures, UntilSure,
    VerdictFigures, compare_document,
};
pub use draws::{DrawsError, compare_csv};
pub use figures::{Interval, MeasureFigures, PlainFigures};
pub use format::{FormatDocument, KeySaid, NamesSaid, TableSaid, format_document};
pub use harvest::HarvestFigures;
pub use lesson::{LessonDocument, QuestionSaid, lesson_document};
pub use new::{NewDocument, new_document};
pub use rates::{RateFigures, RatesFigures};
pub use score::{ScoreDocument, ScoredProblem, score_document};
pub use season::{AuditFigures, PlotDocument, SeasonDocument, SeasonMeasure, season_document};
pub use sources::{
    CountryRule, HarmfulPlant, KindFigures, MemoryFigures, SourceFigures, SourcesDocument, library_digest, sources_csv,
    sources_document,
};
pub use sweep::{CellFigures, DesignSaid, SweepDocument, SweptFigures, VariedFigures, sweep_document};
pub use weather::{AgreementFigures, WeatherAction, WeatherDocument, fit_document, weather_draw_document};
pub use why::{CoverLater, Inverted, WhyFigures, why_figures};

use scenarios::SiteModel;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What this machine did; only in the document on standard output.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RunFacts {
    /// Wall time, s.
    #[schemars(range(min = 0))]
    pub seconds: f64,
    /// Threads that computed.
    pub threads: usize,
    /// Zones × days × runs computed.
    pub zone_days: u64,
    /// Plots × days × runs computed.
    pub plot_days: u64,
}

impl RunFacts {
    /// Of `runs` runs of a site (a comparison makes draws × (strategies + 2)).
    #[must_use]
    pub fn of(model: &SiteModel, runs: u64, seconds: f64, threads: usize) -> Self {
        let days = model.base.days as u64 * runs;
        let zones: usize = model.base.plots.iter().map(|plot| plot.rings * plot.grounds.len()).sum();
        Self { seconds, threads, zone_days: zones as u64 * days, plot_days: model.base.plots.len() as u64 * days }
    }
}

/// Which days of a station a run was laid on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct UsedWeather {
    /// Name of the file, without its folder.
    pub file: String,
    /// First day of the station that is used, `YYYY-MM-DD`.
    pub first: String,
    /// Last day of the station that is used.
    pub last: String,
    /// Days of the file that were filled in, as the site file allows.
    pub filled: usize,
}

/// A document as text: two spaces a level, a line end at the end.
///
/// # Errors
/// Never for the documents of this module; other types may not be JSON.
pub fn text<T: Serialize>(document: &T) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(document).map(|text| text + "\n")
}
