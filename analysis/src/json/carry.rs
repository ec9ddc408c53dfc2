//! `hensward.carry/2`: how many birds a site bears.

use super::figures::finite;
use super::{Interval, RunFacts, UsedWeather};
use crate::carry::view::CarryView;
use crate::carry::{Carried, CurvePoint, GroundFigures};
use crate::provenance::{DIGEST, Provenance};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Name and number of the format.
const FORMAT: &str = "hensward.carry/2";

/// `hensward carry`: how many birds a site bears.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CarryDocument {
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
    /// Possible years each flock was tried on.
    #[schemars(range(min = 1))]
    pub draws: u64,
    /// Share of them in which all limits must hold together.
    #[schemars(range(min = 0, max = 1))]
    pub sure: f64,
    /// The flock of the site, all groups together.
    pub present: u64,
    /// The limits: key, in words.
    pub limits: BTreeMap<String, String>,
    /// Where the search ends for want of room; `null` where it does not.
    pub room: Option<RoomFigures>,
    /// The strategies.
    pub strategies: Vec<CarriedFigures>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
    /// Which days of a station it was run on, with `--weather`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<UsedWeather>,
}

/// What one strategy bears.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CarriedFigures {
    /// Name.
    pub name: String,
    /// Largest flock borne; 0 if not even one bird is.
    pub birds: u64,
    /// Lower end of its 95 % interval.
    pub low: u64,
    /// Upper end.
    pub high: u64,
    /// It bears even the largest flock that was tried.
    pub beyond: bool,
    /// The limit that fails first; `null` if none does.
    pub binds: Option<String>,
    /// Largest flock this limit bears by itself.
    pub binds_birds: Option<u64>,
    /// The limit that gives way next.
    pub next: Option<String>,
    /// Largest flock that one bears by itself.
    pub next_birds: Option<u64>,
    /// Flock about which mean ground cover falls fastest.
    pub steepest: Option<f64>,
    /// The ground with the largest flock borne.
    pub ground: GroundSaid,
    /// The ground without birds.
    pub ground_without_birds: GroundSaid,
    /// The flocks tried.
    pub curve: Vec<CurveFigures>,
}

/// The largest flock that there is room for, beyond which `hensward check` warns of crowding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct RoomFigures {
    /// Birds.
    pub birds: u64,
    /// What one bird more would leave each.
    pub words: String,
}

/// What the ground looks like; `null` where there is no sward.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GroundSaid {
    /// Mean cover, 0 to 1.
    pub mean_cover: Option<f64>,
    /// Cover where and when it is barest, 0 to 1.
    pub least_cover: Option<f64>,
    /// Longest run of days under half cover because of the birds.
    pub bare_days: Option<f64>,
}

/// One flock tried.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CurveFigures {
    /// Birds.
    pub birds: u64,
    /// Chance that all limits hold, never rising with the flock.
    #[schemars(range(min = 0, max = 1))]
    pub chance: f64,
    /// Lower end of its 95 % interval.
    #[schemars(range(min = 0, max = 1))]
    pub low: f64,
    /// Upper end.
    #[schemars(range(min = 0, max = 1))]
    pub high: f64,
    /// The same for each limit by itself.
    pub limits: BTreeMap<String, f64>,
    /// Mean ground cover, 0 to 1.
    pub mean_cover: Interval,
}

/// Makes the document. `run` is `None` for files.
#[must_use]
pub fn carry_document(site: &str, view: &CarryView, from: &Provenance, run: Option<RunFacts>) -> CarryDocument {
    CarryDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: site.to_owned(),
        input_digest: from.input_digest.clone(),
        draws: view.draws,
        sure: view.required_reliability,
        present: view.present,
        limits: view.limits.iter().map(|limit| (limit.name.clone(), limit.words.clone())).collect(),
        room: view.room.as_ref().map(|room| RoomFigures { birds: room.birds, words: room.why.clone() }),
        strategies: view.strategies.iter().map(|(name, carried)| strategy(view, name, carried)).collect(),
        run,
        weather: None,
    }
}

fn strategy(view: &CarryView, name: &str, carried: &Carried) -> CarriedFigures {
    let way = |place: usize| carried.order.get(place);
    let limit = |place: usize| way(place).map(|&(limit, _)| view.limits[limit].name.clone());
    CarriedFigures {
        name: name.to_owned(),
        birds: carried.birds,
        low: carried.low,
        high: carried.high,
        beyond: carried.beyond,
        binds: limit(0),
        binds_birds: way(0).map(|way| way.1),
        next: limit(1),
        next_birds: way(1).map(|way| way.1),
        steepest: carried.steepest.and_then(finite),
        ground: said(carried.ground[0]),
        ground_without_birds: said(carried.ground[1]),
        curve: carried.curve.iter().map(|point| figures(view, point)).collect(),
    }
}

fn said(ground: GroundFigures) -> GroundSaid {
    GroundSaid {
        mean_cover: finite(ground.mean_cover),
        least_cover: finite(ground.least_cover),
        bare_days: finite(ground.bare_days),
    }
}

fn figures(view: &CarryView, point: &CurvePoint) -> CurveFigures {
    CurveFigures {
        birds: point.birds,
        chance: point.chance.chance,
        low: point.chance.low,
        high: point.chance.high,
        limits: view.limits.iter().map(|limit| limit.name.clone()).zip(point.limits.iter().copied()).collect(),
        mean_cover: point.cover.into(),
    }
}
