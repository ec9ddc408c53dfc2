//! `hensward.compare/2`: strategies on the same draws, and the verdict.

use super::figures::{finite, of_strategy, plain};
use super::harvest::{HarvestFigures, harvest};
use super::rates::{RatesFigures, rates};
use super::{Interval, MeasureFigures, PlainFigures, RunFacts, UsedWeather};
use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::provenance::{DIGEST, Provenance};
use crate::select::{Ended, Fate, Selection, SelectionEnd};
use crate::units::Units;
use crate::verdict::{LimitStanding, Settle};
use crate::wording::limit_in_words;
use scenarios::SiteModel;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Name and number of the format.
const FORMAT: &str = "hensward.compare/2";

/// `hensward compare`: strategies on the same possible years.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CompareDocument {
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
    /// Possible years counted.
    #[schemars(range(min = 1))]
    pub draws: usize,
    /// Whole years each of them runs.
    pub years: u32,
    /// Name of the strategy the others are set against.
    pub against: String,
    /// What aims are counted in: `h`, or the keeper's currency.
    pub aim_unit: String,
    /// The strategies, in the order asked.
    pub strategies: Vec<StrategyFigures>,
    /// Birds shut in: the same flock and heap, usual care, no gate opened.
    pub shut_in: BaselineFigures,
    /// No birds, usual care.
    pub no_birds: BaselineFigures,
    /// Neither birds nor care.
    pub nothing: BaselineFigures,
    /// The verdict.
    pub verdict: VerdictFigures,
    /// Over which rates of the aims it holds; `null` where there is nothing to choose.
    pub rates: Option<RatesFigures>,
    /// With `--until-sure`: how long each strategy stayed in, and why no longer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until_sure: Option<UntilSure>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
    /// Which days of a station it was run on, with `--weather`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<UsedWeather>,
    /// What a reader should know before the figures.
    pub notes: Vec<String>,
}

/// One strategy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StrategyFigures {
    /// Name.
    pub name: String,
    /// What it is worth over the run of birds shut in, `aim_unit` a year.
    pub aim: Interval,
    /// Possible years it was tried on.
    #[schemars(range(min = 1))]
    pub draws: usize,
    /// Every limit holds often enough.
    pub holds: bool,
    /// Not beaten on everything the aims name.
    pub undominated: bool,
    /// The limits.
    pub limits: Vec<LimitFigures>,
    /// The measures by name.
    pub measures: BTreeMap<String, MeasureFigures>,
    /// Harvests by plot and plant, means.
    pub harvest: Vec<HarvestFigures>,
}

/// How one limit fared.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LimitFigures {
    /// Key in the site file.
    pub name: String,
    /// In words.
    pub words: String,
    /// Draws in which it held.
    pub held: usize,
    /// Share of draws in which it held, 0 to 1.
    #[schemars(range(min = 0, max = 1))]
    pub chance: Option<f64>,
    /// Lower end of the 95 % Wilson interval.
    #[schemars(range(min = 0, max = 1))]
    pub low: Option<f64>,
    /// Upper end.
    #[schemars(range(min = 0, max = 1))]
    pub high: Option<f64>,
    /// Often enough.
    pub enough: bool,
}

/// Measures of a run without strategy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BaselineFigures {
    /// The measures by name.
    pub measures: BTreeMap<String, PlainFigures>,
    /// Harvests by plot and plant, means.
    pub harvest: Vec<HarvestFigures>,
}

/// How a selection went.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct UntilSure {
    /// Chance asked for that the answer is right.
    #[schemars(range(min = 0, max = 1))]
    pub sure: f64,
    /// Most possible years allowed.
    #[schemars(range(min = 1))]
    pub most_draws: usize,
    /// The answer.
    pub answer: SelectionEnd,
    /// Lead worth a change, `aim_unit` a year.
    pub worth: Option<f64>,
    /// The strategies, in the order asked.
    pub strategies: Vec<Stayed>,
}

/// How long a strategy stayed in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stayed {
    /// Name.
    pub name: String,
    /// Possible years it was tried on.
    #[schemars(range(min = 1))]
    pub draws: usize,
    /// What became of it.
    pub fate: FateSaid,
    /// The strategy ahead of it, where beaten.
    pub by: Option<String>,
    /// The limit that gives way, where one does.
    pub limit: Option<String>,
}

/// What became of a strategy.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FateSaid {
    /// It is the best.
    Best,
    /// No worthwhile difference to the others that are left.
    AsGood,
    /// Another is ahead of it: `by`.
    Beaten,
    /// A limit gives way too often: `limit`.
    Fails,
    /// Still in when the years ran out.
    Undecided,
}

/// The verdict.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct VerdictFigures {
    /// In words.
    pub text: String,
    /// The best; `null` when too close to call or nothing holds.
    pub best: Option<String>,
    /// Share of bootstraps in which the leader stays best.
    #[schemars(range(min = 0, max = 1))]
    pub sure: Option<f64>,
    /// Highest mean aim among those that hold, also when too close to call.
    pub leader: Option<String>,
    /// The next.
    pub runner_up: Option<String>,
    /// Leader less runner-up, `aim_unit` a year; interval simultaneous over all pairs.
    pub difference: Interval,
    /// Lead worth having, `aim_unit` a year.
    pub worth: Option<f64>,
    /// Others that may be worth as much as the leader.
    pub also_close: Vec<String>,
    /// When nothing holds: what comes nearest.
    pub nearest: Option<String>,
    /// What would settle it.
    pub settle: SettleSaid,
    /// Possible years that should settle it, with `more_years`.
    pub settle_draws: Option<usize>,
}

/// What would settle it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SettleSaid {
    /// It is settled.
    Settled,
    /// More possible years: `settle_draws`.
    MoreYears,
    /// Surely less apart than is worth having: either will do.
    EitherWillDo,
    /// More years than is sensible: the unknowns themselves need measuring.
    Measure,
    /// Nothing holds: ease a limit, keep fewer birds, or change a strategy.
    EaseLimitOrChange,
}

/// Makes the document. `run` is `None` for files.
#[must_use]
pub fn compare_document(
    model: &SiteModel,
    c: &Comparison,
    from: &Provenance,
    run: Option<RunFacts>,
) -> CompareDocument {
    CompareDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: model.name.clone(),
        input_digest: from.input_digest.clone(),
        draws: c.finished,
        years: model.years,
        against: c.names.get(c.plan.against).cloned().unwrap_or_default(),
        aim_unit: c.aim_unit.short().to_owned(),
        strategies: (0..c.names.len()).map(|s| strategy(model, c, s)).collect(),
        shut_in: baseline(model, c, ArmId::ShutIn),
        no_birds: baseline(model, c, ArmId::NoBirds),
        nothing: baseline(model, c, ArmId::Nothing),
        verdict: verdict(c),
        rates: rates(c),
        until_sure: c.selection.as_ref().map(|selection| until_sure(model, c, selection)),
        run,
        weather: None,
        notes: Vec::new(),
    }
}

fn strategy(model: &SiteModel, c: &Comparison, s: usize) -> StrategyFigures {
    let standing = &c.verdict.standings[s];
    StrategyFigures {
        name: c.names[s].clone(),
        aim: c.aim[s].into(),
        draws: c.counted[s],
        holds: standing.holds,
        undominated: c.undominated[s],
        limits: standing.limits.iter().map(limit).collect(),
        measures: of_strategy(c, ArmId::Strategy(s)),
        harvest: harvest(&model.base, c.harvests(ArmId::Strategy(s))),
    }
}

fn baseline(model: &SiteModel, c: &Comparison, run: ArmId) -> BaselineFigures {
    BaselineFigures { measures: plain(c, run), harvest: harvest(&model.base, c.harvests(run)) }
}

fn until_sure(model: &SiteModel, c: &Comparison, selection: &Selection) -> UntilSure {
    let stayed = |(ended, name): (&Ended, &String)| {
        let (fate, by, limit) = match ended.fate {
            Fate::Best => (FateSaid::Best, None, None),
            Fate::AsGood => (FateSaid::AsGood, None, None),
            Fate::Beaten { by } => (FateSaid::Beaten, Some(c.names[by].clone()), None),
            Fate::Fails { limit } => (FateSaid::Fails, None, Some(model.limits.all[limit].name.to_owned())),
            Fate::Undecided => (FateSaid::Undecided, None, None),
        };
        Stayed { name: name.clone(), draws: ended.draws, fate, by, limit }
    };
    UntilSure {
        sure: selection.rules.confidence,
        most_draws: selection.rules.most,
        answer: selection.answer,
        worth: finite(selection.indifference_hours),
        strategies: selection.ended.iter().zip(&c.names).map(stayed).collect(),
    }
}

pub(super) fn limit(l: &LimitStanding) -> LimitFigures {
    LimitFigures {
        name: l.limit.name.to_owned(),
        words: limit_in_words(&l.limit, Units::Metric),
        held: l.held,
        chance: finite(l.chance.chance),
        low: finite(l.chance.low),
        high: finite(l.chance.high),
        enough: l.enough,
    }
}

fn verdict(c: &Comparison) -> VerdictFigures {
    let v = &c.verdict;
    let (settle, settle_draws) = match v.settle {
        Settle::Settled => (SettleSaid::Settled, None),
        Settle::MoreYears(draws) => (SettleSaid::MoreYears, Some(draws)),
        Settle::EitherWillDo => (SettleSaid::EitherWillDo, None),
        Settle::Measure => (SettleSaid::Measure, None),
        Settle::EaseLimitOrChange => (SettleSaid::EaseLimitOrChange, None),
    };
    VerdictFigures {
        text: c.words(Units::Metric),
        best: v.best.clone(),
        // That nothing holds is no share of bootstraps; the document says 0 there.
        sure: finite(v.confidence.or(v.leader_stability).unwrap_or(0.0)),
        leader: v.leader.clone(),
        runner_up: v.runner_up.clone(),
        difference: v.difference.map(Interval::from).unwrap_or_default(),
        worth: finite(v.indifference_hours),
        also_close: v.also_close.clone(),
        nearest: v.nearest.clone(),
        settle,
        settle_draws,
    }
}
