//! `hensward.check/2`: what the program understood of a site file, or all its faults.

use super::RunFacts;
use crate::cautions::{self, Caution};
use crate::harvest_dates::{HarvestDates, WaitSetBy, harvest_dates};
use crate::practice_days::{PracticeDays, practice_days};
use crate::provenance::{DIGEST, Provenance};
use crate::units::Units;
use crate::wording::limit_in_words;
use scenarios::diagnose::Severity;
use scenarios::money::AimUnit;
use scenarios::{Fault, Faults, Library, SiteModel};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Name and number of the format.
const FORMAT: &str = "hensward.check/2";

/// `hensward check`: what was understood of a site file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CheckDocument {
    /// Name and number of this format.
    #[schemars(extend("const" = FORMAT))]
    pub format: String,
    /// Version of the program.
    pub version: String,
    /// Seed of all random numbers; a check uses none.
    pub seed: u64,
    /// Name of the site; of its file where the site has faults.
    pub site: String,
    /// Digest of the inputs' bytes.
    #[schemars(regex(pattern = DIGEST))]
    pub input_digest: String,
    /// The file can be used.
    pub ok: bool,
    /// Faults that keep it from being used, in the order of its lines.
    pub faults: Vec<FaultSaid>,
    /// What should be looked at again; the key is as first published.
    #[serde(rename = "doubts")]
    pub warnings: Vec<FaultSaid>,
    /// What the file left open, and what was taken.
    pub defaults: Vec<DefaultSaid>,
    /// Plots by name.
    pub plots: Vec<String>,
    /// Strategies by name.
    pub strategies: Vec<String>,
    /// What the rules of each practice came to, by strategy: of one that calls upon practices, as it asks them.
    pub practices: Vec<PracticeDays>,
    /// Numbers not known exactly that differ between draws.
    pub unknowns: usize,
    /// What aims are counted in: `h`, or the keeper's currency.
    pub aim_unit: String,
    /// What a unit of each measure is worth.
    pub aims: Vec<AimSaid>,
    /// What must hold.
    pub limits: Vec<LimitSaid>,
    /// Harvests of the run on their dates, plot by plot.
    pub harvests: Vec<HarvestSaid>,
    /// Cautions for this site.
    pub cautions: Vec<Caution>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
}

/// A fault or warning.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct FaultSaid {
    /// The file.
    pub file: String,
    /// Line from 1; 0: the file as a whole.
    pub line: usize,
    /// Column in characters from 1; 0: the file as a whole.
    pub column: usize,
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub remedy: String,
}

/// A default.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct DefaultSaid {
    /// Key.
    pub key: String,
    /// What was taken, as it would be written.
    pub value: String,
}

/// An aim.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AimSaid {
    /// Measure.
    pub measure: String,
    /// Its unit.
    pub unit: String,
    /// What a unit is worth, in `aim_unit`; hours unless the site file has prices.
    pub hours: f64,
}

/// A limit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LimitSaid {
    /// Key in the site file.
    pub name: String,
    /// Measure it binds.
    pub measure: String,
    /// The bound in the measure's unit.
    pub bound: f64,
    /// In words.
    pub words: String,
    /// Where the bound is from: `the site file`, or what is taken where that writes none.
    pub source: String,
}

/// A harvest of a crop or fruit, with birds' last day before it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct HarvestSaid {
    /// The plot.
    pub plot: String,
    /// The crop or canopy.
    pub name: String,
    /// It is of fruit that fell.
    pub windfall: bool,
    /// What is picked touches the soil.
    pub touches_soil: bool,
    /// Last day on which birds may be in.
    #[schemars(regex(pattern = DATE))]
    pub last_bird_day: String,
    /// First day of picking.
    #[schemars(regex(pattern = DATE))]
    pub first_day: String,
    /// Last day of picking.
    #[schemars(regex(pattern = DATE))]
    pub last_day: String,
    /// Days from birds to picking.
    pub wait_days: u32,
    /// Days the site's rule asks for.
    pub rule_days: u32,
    /// Whose days they are: `US organic rule`, the rule of the country named, `the site file`.
    pub set_by: String,
    /// The keeper's reason for days of their own.
    pub reason: Option<String>,
}

/// A day: year, month, day.
const DATE: &str = r"^\d{4}-\d{2}-\d{2}$";

fn harvest_said(model: &SiteModel, of: &HarvestDates<'_>) -> HarvestSaid {
    HarvestSaid {
        plot: model.base.plots[of.plot].name.clone(),
        name: of.name.to_owned(),
        windfall: of.window.windfall,
        touches_soil: of.window.touches_soil,
        last_bird_day: of.last_bird_day.to_string(),
        first_day: of.first_day.to_string(),
        last_day: of.last_day.to_string(),
        wait_days: of.wait_days,
        rule_days: of.rule_days,
        set_by: match of.set_by {
            WaitSetBy::UsOrganicRule => "US organic rule".to_owned(),
            WaitSetBy::Country(country) => country.rule.clone(),
            WaitSetBy::Site(_) | WaitSetBy::Harvest(_) => "the site file".to_owned(),
        },
        reason: of.set_by.reason().map(str::to_owned),
    }
}

/// The document of a site that can be used.
#[must_use]
pub fn check_document(model: &SiteModel, library: &Library, from: &Provenance, run: Option<RunFacts>) -> CheckDocument {
    let aim = |&(m, hours): &(sim_engine::measures::Measure, f64)| AimSaid {
        measure: m.name().to_owned(),
        unit: m.unit().to_owned(),
        hours,
    };
    let limit = |l: &scenarios::model::Limit| LimitSaid {
        name: l.name.to_owned(),
        measure: l.measure.name().to_owned(),
        bound: l.bound,
        words: limit_in_words(l, Units::Metric),
        source: l.source.unwrap_or("the site file").to_owned(),
    };
    let default = |d: &scenarios::model::DefaultUsed| DefaultSaid { key: d.key.clone(), value: d.value.clone() };
    let read = |n: &scenarios::model::NameRead| DefaultSaid {
        key: format!("{} {:?}", n.kind, n.written),
        value: format!("{} (you wrote {})", n.entry, n.written),
    };
    let strategies = 0..model.strategies.len();
    CheckDocument {
        ok: true,
        warnings: model.warnings.iter().map(said).collect(),
        defaults: model.names_read.iter().map(read).chain(model.defaults.iter().map(default)).collect(),
        plots: model.base.plots.iter().map(|p| p.name.clone()).collect(),
        strategies: model.strategies.iter().map(|s| s.name.clone()).collect(),
        // A run that fails is a fault of the command that asks for it, not of what the file says.
        practices: strategies
            .flat_map(|which| practice_days(model, which, Units::Metric).unwrap_or_default())
            .collect(),
        unknowns: model.unknowns.len(),
        aim_unit: model.aim_unit.short().to_owned(),
        aims: model.aims.iter().map(aim).collect(),
        limits: model.limits.all.iter().map(limit).collect(),
        harvests: harvest_dates(model).iter().map(|of| harvest_said(model, of)).collect(),
        cautions: cautions::of(model, library, Units::Metric),
        ..empty(&model.name, from, run)
    }
}

/// The document of a site file with faults; `site` is its name on the command line.
#[must_use]
pub fn check_faults_document(site: &str, faults: &Faults, from: &Provenance, run: Option<RunFacts>) -> CheckDocument {
    let of = |severity| faults.all().iter().filter(move |f| f.severity == severity).map(said).collect();
    CheckDocument { faults: of(Severity::Error), warnings: of(Severity::Unusual), ..empty(site, from, run) }
}

fn empty(site: &str, from: &Provenance, run: Option<RunFacts>) -> CheckDocument {
    CheckDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: site.to_owned(),
        input_digest: from.input_digest.clone(),
        ok: false,
        faults: Vec::new(),
        warnings: Vec::new(),
        defaults: Vec::new(),
        plots: Vec::new(),
        strategies: Vec::new(),
        practices: Vec::new(),
        unknowns: 0,
        aim_unit: AimUnit::Hours.short().to_owned(),
        aims: Vec::new(),
        limits: Vec::new(),
        harvests: Vec::new(),
        cautions: Vec::new(),
        run,
    }
}

fn said(fault: &Fault) -> FaultSaid {
    FaultSaid {
        file: fault.place.file.clone(),
        line: fault.place.line,
        column: fault.place.column,
        message: fault.message.clone(),
        remedy: fault.remedy.clone(),
    }
}
