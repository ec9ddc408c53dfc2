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
mod lesson;
mod new;
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
pub use draws::compare_csv;
pub use figures::{Interval, MeasureFigures, PlainFigures};
pub use lesson::{LessonDocument, QuestionSaid, lesson_document};
pub use new::{NewDocument, new_document};
pub use score::{ScoreDocument, ScoredProblem, score_document};
pub use season::{AuditFigures, PlotDocument, SeasonDocument, SeasonMeasure, season_document};
pub use sources::{
    HarmfulPlant, KindFigures, MemoryFigures, SourceFigures, SourcesDocument, library_digest, sources_csv,
    sources_document,
};
pub use sweep::{CellFigures, DesignSaid, SweepDocument, SweptFigures, VariedFigures, sweep_document};
pub use weather::{AgreementFigures, WeatherAction, WeatherDocument, fit_document, weather_draw_document};
pub use why::{CoverLater, Turned, WhyFigures, why_figures};

use scenarios::SiteModel;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Version of the program that wrote a document.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// What a digest looks like: [`input_digest`].
pub(crate) const DIGEST: &str = "^[0-9a-f]{32}$";

/// What a document was made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Provenance {
    /// Version of the program.
    pub version: String,
    /// Seed of all random numbers.
    pub seed: u64,
    /// Digest of the inputs' bytes: [`input_digest`].
    pub input_digest: String,
}

impl Provenance {
    /// Of this version of the program.
    #[must_use]
    pub fn new(seed: u64, input_digest: String) -> Self {
        Self { version: VERSION.to_owned(), seed, input_digest }
    }
}

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

/// Digest of inputs: role ("site", "weather", "dates", …) and bytes of each, in a fixed order.
///
/// FNV-1a with 128 bits (RFC draft-eastlake-fnv): it tells whether two runs had the same
/// inputs, and is no protection against forgery. Paths play no part.
#[must_use]
pub fn input_digest(parts: &[(&str, &[u8])]) -> String {
    const OFFSET: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
    let mut state = OFFSET;
    let mut take = |bytes: &[u8]| {
        for &byte in bytes {
            state = (state ^ u128::from(byte)).wrapping_mul(PRIME);
        }
    };
    for (role, bytes) in parts {
        // Lengths keep ("a", "bc") apart from ("ab", "c").
        take(&(role.len() as u64).to_le_bytes());
        take(role.as_bytes());
        take(&(bytes.len() as u64).to_le_bytes());
        take(bytes);
    }
    format!("{state:032x}")
}

/// A document as text: two spaces a level, a line end at the end.
///
/// # Errors
/// Never for the documents of this module; other types may not be JSON.
pub fn text<T: Serialize>(document: &T) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(document).map(|text| text + "\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Offset basis of the empty input and the published digest step by hand.
    #[test]
    fn the_digest_is_stable_and_tells_inputs_apart() {
        assert_eq!(input_digest(&[]), "6c62272e07bb014262b821756295c58d");
        let one = input_digest(&[("site", b"abc")]);
        assert_eq!(one, input_digest(&[("site", b"abc")]));
        assert_ne!(one, input_digest(&[("site", b"abd")]));
        assert_ne!(input_digest(&[("s", b"ab"), ("t", b"c")]), input_digest(&[("s", b"a"), ("t", b"bc")]));
    }
}
