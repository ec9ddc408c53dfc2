//! `hensward.weather/1`: a climate fitted to a station, or generated days.

use super::RunFacts;
use super::figures::finite;
use crate::provenance::{DIGEST, Provenance};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sim_engine::weather::DayWeather;
use sim_engine::weather::agreement::Agreement;
use sim_engine::weather::fit::Fitted;

/// Name and number of the format.
const FORMAT: &str = "hensward.weather/1";

/// `hensward weather`: a climate fitted to a station, or generated days.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WeatherDocument {
    /// Name and number of this format.
    #[schemars(extend("const" = FORMAT))]
    pub format: String,
    /// Version of the program.
    pub version: String,
    /// Seed of all random numbers.
    pub seed: u64,
    /// The station's file or the site.
    pub site: String,
    /// Digest of the inputs' bytes.
    #[schemars(regex(pattern = DIGEST))]
    pub input_digest: String,
    /// What was done.
    pub action: WeatherAction,
    /// First day, `YYYY-MM-DD`; `null` without days.
    pub first: Option<String>,
    /// Last day.
    pub last: Option<String>,
    /// Days fitted to, or drawn.
    pub days: usize,
    /// Days of the station that were filled in gaps.
    pub filled: usize,
    /// What a user should know about the fit.
    pub notes: Vec<String>,
    /// Station and generator side by side; empty for `draw`.
    pub checks: Vec<AgreementFigures>,
    /// Bonferroni p-value over the checks.
    #[schemars(range(min = 0, max = 1))]
    pub combined_p: Option<f64>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
}

/// What was done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WeatherAction {
    /// A climate was fitted to a station's days.
    Fit,
    /// Days were generated.
    Draw,
}

/// One comparison of station and generator.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AgreementFigures {
    /// Month, or "whole year".
    pub when: String,
    /// What, with its unit.
    pub what: String,
    /// Mean of the station's years.
    pub station: Option<f64>,
    /// Mean of the generated years.
    pub generated: Option<f64>,
    /// Standard error of the difference.
    pub standard_error: Option<f64>,
    /// Two-sided p-value.
    #[schemars(range(min = 0, max = 1))]
    pub p_value: Option<f64>,
}

/// The document of a fit; `filled` are days of the station filled in gaps.
#[must_use]
pub fn fit_document(
    station: &str,
    days: &[DayWeather],
    filled: usize,
    fitted: &Fitted,
    agreement: Option<&Agreement>,
    from: &Provenance,
    run: Option<RunFacts>,
) -> WeatherDocument {
    let checks = agreement.map(|a| a.rows.iter().map(check).collect()).unwrap_or_default();
    WeatherDocument {
        filled,
        notes: fitted.notes.clone(),
        checks,
        combined_p: agreement.and_then(|a| finite(a.combined_p)),
        ..document(WeatherAction::Fit, station, days, from, run)
    }
}

/// The document of drawn days.
#[must_use]
pub fn weather_draw_document(
    site: &str,
    days: &[DayWeather],
    from: &Provenance,
    run: Option<RunFacts>,
) -> WeatherDocument {
    document(WeatherAction::Draw, site, days, from, run)
}

fn document(
    action: WeatherAction,
    site: &str,
    days: &[DayWeather],
    from: &Provenance,
    run: Option<RunFacts>,
) -> WeatherDocument {
    WeatherDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: site.to_owned(),
        input_digest: from.input_digest.clone(),
        action,
        first: days.first().map(|d| d.date.to_string()),
        last: days.last().map(|d| d.date.to_string()),
        days: days.len(),
        filled: 0,
        notes: Vec::new(),
        checks: Vec::new(),
        combined_p: None,
        run,
    }
}

fn check(row: &sim_engine::weather::agreement::AgreementRow) -> AgreementFigures {
    AgreementFigures {
        when: row.when().to_owned(),
        what: row.what.to_owned(),
        station: finite(row.station),
        generated: finite(row.generated),
        standard_error: finite(row.standard_error),
        p_value: finite(row.p_value),
    }
}
