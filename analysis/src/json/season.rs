//! `hensward.season/2`: one draw, day by day, with the audit of the books.

use super::figures::finite;
use super::harvest::{HarvestFigures, harvest};
use super::{RunFacts, UsedWeather, WhyFigures};
use crate::harvests::harvests_of;
use crate::provenance::{DIGEST, Provenance};
use crate::season::Season;
use scenarios::SiteModel;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sim_engine::ledger::flows::Currency;
use sim_engine::measures::Measure;
use sim_engine::summary::PlotSummary;
use std::collections::BTreeMap;

/// Name and number of the format.
const FORMAT: &str = "hensward.season/2";

/// `hensward season`: one draw, day by day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SeasonDocument {
    /// Name and number of this format.
    #[schemars(extend("const" = FORMAT))]
    pub format: String,
    /// Version of the program.
    pub version: String,
    /// Seed of all random numbers.
    pub seed: u64,
    /// Name of the site.
    pub site: String,
    /// Digest of the inputs' bytes.
    #[schemars(regex(pattern = DIGEST))]
    pub input_digest: String,
    /// Number of the draw; 0 has every unknown at its likely value.
    pub draw: u64,
    /// Name of the strategy.
    pub strategy: String,
    /// First day, `YYYY-MM-DD`.
    pub start: String,
    /// Days run.
    pub days: usize,
    /// Worst relative residual of the books.
    pub audit: AuditFigures,
    /// The measures by name.
    pub measures: BTreeMap<String, SeasonMeasure>,
    /// The plots, in the order of the site file.
    pub plots: Vec<PlotDocument>,
    /// Harvests by plot and plant.
    pub harvest: Vec<HarvestFigures>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
    /// Which days of a station it was run on, with `--weather`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<UsedWeather>,
    /// The answer to `--why`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<WhyFigures>,
}

/// Worst relative residual, |in − out − change| ÷ max(throughflow, stock), of any day or the whole run.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AuditFigures {
    /// Water.
    #[schemars(range(min = 0))]
    pub water: f64,
    /// Nitrogen.
    #[schemars(range(min = 0))]
    pub n: f64,
    /// Phosphorus.
    #[schemars(range(min = 0))]
    pub p: f64,
    /// Dry matter.
    #[schemars(range(min = 0))]
    pub dry_matter: f64,
    /// Seeds in the bank.
    #[schemars(range(min = 0))]
    pub seeds: f64,
    /// Birds.
    #[schemars(range(min = 0))]
    pub birds: f64,
    /// Pests.
    #[schemars(range(min = 0))]
    pub pests: f64,
}

/// A measure of one run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SeasonMeasure {
    /// Unit.
    pub unit: String,
    /// Value; `null` if blank.
    pub value: Option<f64>,
}

/// One plot of one run; per year where not said otherwise.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlotDocument {
    /// Name.
    pub name: String,
    /// Least cover outside beds, 0 to 1; `null` if it is all beds.
    pub least_cover: Option<f64>,
    /// Mean cover outside beds, 0 to 1; `null` if it is all beds.
    pub mean_cover: Option<f64>,
    /// Days under the cover limit that birds shut in held; `null` if it is all beds.
    pub days_under: Option<f64>,
    /// Longest run of days under half cover that there were not with the birds shut in, d; `null` if it is all beds.
    pub bare_days: Option<f64>,
    /// Mean weed cover, 0 to 1.
    pub weed_cover: Option<f64>,
    /// Days open.
    pub days_open: Option<f64>,
    /// Bird-days per m².
    pub bird_days_per_m2: Option<f64>,
    /// Manure nitrogen, kg/ha.
    pub nitrogen_kg_ha: Option<f64>,
    /// Manure phosphorus, kg/ha.
    pub phosphorus_kg_ha: Option<f64>,
    /// Nitrogen leached, kg/ha.
    pub leached_kg_ha: Option<f64>,
    /// Infective worm eggs at the end, relative.
    pub worm_eggs: Option<f64>,
}

/// Makes the document; `which` is the index of the strategy in the model. `run` is `None` for files.
#[must_use]
pub fn season_document(
    model: &SiteModel,
    season: &Season,
    which: usize,
    draw: u64,
    from: &Provenance,
    run: Option<RunFacts>,
) -> SeasonDocument {
    let measure = |&m: &Measure| {
        let value = SeasonMeasure { unit: m.unit().to_owned(), value: finite(season.measures.get(m)) };
        (m.name().to_owned(), value)
    };
    SeasonDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: model.name.clone(),
        input_digest: from.input_digest.clone(),
        draw,
        strategy: model.strategies.get(which).map(|s| s.name.clone()).unwrap_or_default(),
        start: model.base.start.to_string(),
        days: model.base.days,
        audit: audit(season),
        measures: Measure::ALL.iter().map(measure).collect(),
        plots: model.base.plots.iter().zip(&season.plots).map(|(p, s)| plot(&p.name, s)).collect(),
        harvest: harvest(&model.base, &harvests_of(&season.plots)),
        run,
        weather: None,
        why: None,
    }
}

fn audit(season: &Season) -> AuditFigures {
    let of = |currency: Currency| {
        let c = currency as usize;
        season.audit.worst[c].max(season.audit.whole[c])
    };
    AuditFigures {
        water: of(Currency::Water),
        n: of(Currency::N),
        p: of(Currency::P),
        dry_matter: of(Currency::DryMatter),
        seeds: of(Currency::Seeds),
        birds: of(Currency::Birds),
        pests: of(Currency::Pests),
    }
}

fn plot(name: &str, s: &PlotSummary) -> PlotDocument {
    PlotDocument {
        name: name.to_owned(),
        least_cover: finite(s.least_cover),
        mean_cover: finite(s.mean_cover),
        days_under: finite(s.days_under),
        bare_days: finite(s.bare_days),
        weed_cover: finite(s.weed_cover),
        days_open: finite(s.days_open),
        bird_days_per_m2: finite(s.bird_days),
        nitrogen_kg_ha: finite(s.nitrogen),
        phosphorus_kg_ha: finite(s.phosphorus),
        leached_kg_ha: finite(s.leached),
        worm_eggs: finite(s.worm_eggs),
    }
}
