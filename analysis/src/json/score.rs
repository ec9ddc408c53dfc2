//! `hensward.score/2`: a strategy on the open problem set.

use super::compare::{LimitFigures, limit};
use super::figures::finite;
use super::{Interval, RunFacts};
use crate::compare::Comparison;
use crate::provenance::{DIGEST, Provenance};
use crate::score::share;
use scenarios::problems::Best;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Name and number of the format.
const FORMAT: &str = "hensward.score/2";
/// What stands for the site: there are twenty.
const SITE: &str = "problems";

/// `hensward score`: a strategy on the open problem set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ScoreDocument {
    /// Name and number of this format.
    #[schemars(extend("const" = FORMAT))]
    pub format: String,
    /// Version of the program.
    pub version: String,
    /// Seed of the frozen draws.
    pub seed: u64,
    /// The set of problems.
    #[schemars(extend("const" = SITE))]
    pub site: String,
    /// Digest of the strategy's bytes.
    #[schemars(regex(pattern = DIGEST))]
    pub input_digest: String,
    /// What was scored: a strategy's name, or the program.
    pub strategy: String,
    /// Mean share of the best known, 0 to 1, where a problem whose limits fail counts 0.
    pub mean_share: Option<f64>,
    /// The problems.
    pub problems: Vec<ScoredProblem>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
}

/// One problem.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ScoredProblem {
    /// Name.
    pub name: String,
    /// Possible years.
    #[schemars(range(min = 1))]
    pub draws: usize,
    /// Worth over birds shut in.
    pub aim: Interval,
    /// Every limit holds often enough.
    pub holds: bool,
    /// The limits.
    pub limits: Vec<LimitFigures>,
    /// Best mean aim known.
    pub best_aim: f64,
    /// Plain strategy that reached it.
    pub best_strategy: String,
    /// Aim as a share of the best known; may be below 0 or above 1.
    pub share: Option<f64>,
}

/// Makes the document of comparisons of one strategy, each with the best known.
#[must_use]
pub fn score_document(strategy: &str, played: &[(Comparison, Best)], from: &Provenance) -> ScoreDocument {
    let problems: Vec<ScoredProblem> = played.iter().map(|(c, best)| problem(c, best)).collect();
    let counted: Vec<f64> =
        problems.iter().filter_map(|p| p.share.map(|share| if p.holds { share } else { 0.0 })).collect();
    ScoreDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: SITE.to_owned(),
        input_digest: from.input_digest.clone(),
        strategy: strategy.to_owned(),
        mean_share: finite(crate::stats::mean(&counted)),
        problems,
        run: None,
    }
}

fn problem(c: &Comparison, best: &Best) -> ScoredProblem {
    let standing = &c.verdict.standings[0];
    ScoredProblem {
        name: best.problem.clone(),
        draws: c.finished,
        aim: c.aim[0].into(),
        holds: standing.holds,
        limits: standing.limits.iter().map(limit).collect(),
        best_aim: best.aim,
        best_strategy: best.strategy.clone(),
        share: share(c.aim[0].mean, best.aim),
    }
}
