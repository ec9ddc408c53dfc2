//! `hensward.sweep/2`: a site varied over many cells.

use super::figures::finite;
use super::{Interval, RunFacts};
use crate::provenance::DIGEST;
use crate::sweep::axis::Values;
use crate::sweep::design::Design;
use crate::sweep::row::SweepRow;
use crate::sweep::rows::SweepView;
use crate::sweep::weather_given::GivenWeather;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sim_engine::measures::Measure;
use std::collections::BTreeMap;

/// Name and number of the format.
const FORMAT: &str = "hensward.sweep/2";

/// `hensward sweep`: a site varied over many cells.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SweepDocument {
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
    /// Possible years of each cell.
    #[schemars(range(min = 1))]
    pub draws: u64,
    /// Whole years each of them runs.
    pub years: u32,
    /// Chance with which every limit must hold.
    #[schemars(range(min = 0, max = 1))]
    pub sure: f64,
    /// How cells are laid out.
    pub design: DesignSaid,
    /// Number of cells.
    pub cells: u64,
    /// What is varied.
    pub varied: Vec<VariedFigures>,
    /// The limits.
    pub limits: Vec<LimitSpoken>,
    /// What aims are counted in: `h`, or the keeper's currency.
    pub aim_unit: String,
    /// The strategies.
    pub strategies: Vec<SweptFigures>,
    /// The two measures of the front: the first to be small, the second great.
    pub front_of: Vec<String>,
    /// What no other cell and strategy beats on both, by cover lost.
    pub front: Vec<CellFigures>,
    /// How much the front holds.
    pub hypervolume: HypervolumeFigures,
    /// The weather, where it was given and not generated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<GivenWeather>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
}

/// How cells are laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DesignSaid {
    /// Every combination.
    Grid,
    /// Sobol points, shifted digit by digit by the seed.
    Sobol,
    /// Latin hypercube.
    Latin,
}

/// One varied value.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct VariedFigures {
    /// As it was asked for.
    pub key: String,
    /// Unit, as in the site file; empty if it has none.
    pub unit: String,
    /// Number of values; `null` for anything between two ends.
    pub values: Option<u64>,
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
}

/// A limit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct LimitSpoken {
    /// Key in the site file.
    pub name: String,
    /// In words.
    pub words: String,
}

/// One strategy over all cells.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SweptFigures {
    /// Name.
    pub name: String,
    /// Cells in which every limit holds often enough.
    pub holds_in: u64,
    /// Of these the one with the highest mean aim; `null` where there is none.
    pub best: Option<CellFigures>,
}

/// One strategy in one cell.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CellFigures {
    /// Number of the cell, as in `cells.csv`.
    pub cell: u64,
    /// Name of the strategy.
    pub strategy: String,
    /// What was varied, with its value.
    pub values: BTreeMap<String, f64>,
    /// Worth over the run of birds shut in.
    pub aim: Interval,
    /// Every limit holds often enough.
    pub holds: bool,
    /// Means of the measures of the front.
    pub measures: BTreeMap<String, Option<f64>>,
}

/// How much the front holds against a corner.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HypervolumeFigures {
    /// Area between front and corner, in the product of both units.
    pub area: Option<f64>,
    /// The corner: the worst of all cells and strategies on each measure.
    pub corner: BTreeMap<String, Option<f64>>,
}

/// Makes the document. `run` is `None` for files.
#[must_use]
pub fn sweep_document(view: &SweepView, run: Option<RunFacts>) -> SweepDocument {
    let plan = &view.plan;
    let design = match plan.design {
        Design::Grid => DesignSaid::Grid,
        Design::Sobol { .. } => DesignSaid::Sobol,
        Design::Latin { .. } => DesignSaid::Latin,
    };
    let strategies = plan.strategies.iter().enumerate().map(|(position, name)| SweptFigures {
        name: name.clone(),
        holds_in: view.holding(position) as u64,
        best: view.best(position).map(|place| cell(view, &view.rows[place])),
    });
    SweepDocument {
        format: FORMAT.to_owned(),
        version: plan.version.clone(),
        seed: plan.seed,
        site: plan.site.clone(),
        input_digest: plan.input_digest.clone(),
        draws: plan.draws,
        years: plan.years,
        sure: plan.required_reliability,
        design,
        cells: view.cells,
        varied: varied(view),
        limits: plan.limits.iter().map(|l| LimitSpoken { name: l.name.clone(), words: l.words.clone() }).collect(),
        aim_unit: view.plan.aim_unit.clone(),
        strategies: strategies.collect(),
        front_of: vec![Measure::CoverLoss.name().to_owned(), view.bought.name().to_owned()],
        front: view.front.iter().map(|&place| cell(view, &view.rows[place])).collect(),
        hypervolume: HypervolumeFigures {
            area: finite(view.hypervolume),
            corner: both(view, view.corner[0], view.corner[1]),
        },
        weather: plan.weather.clone(),
        run,
    }
}

fn varied(view: &SweepView) -> Vec<VariedFigures> {
    let one = |axis: &crate::sweep::axis::Axis| {
        let (low, high) = axis.ends();
        let values = if matches!(axis.values, Values::List(_)) { axis.count() } else { None };
        VariedFigures { key: axis.key.clone(), unit: axis.unit.clone(), values, low, high }
    };
    view.plan.axes.iter().map(one).collect()
}

fn cell(view: &SweepView, row: &SweepRow) -> CellFigures {
    let keys = view.plan.axes.iter().map(|axis| axis.key.clone());
    CellFigures {
        cell: row.cell,
        strategy: view.plan.strategies[row.strategy].clone(),
        values: keys.zip(row.values.iter().copied()).collect(),
        aim: row.aim.into(),
        holds: row.holds,
        measures: both(view, row.cover_loss.mean, row.bought),
    }
}

fn both(view: &SweepView, cover_loss: f64, bought: f64) -> BTreeMap<String, Option<f64>> {
    let first = (Measure::CoverLoss.name().to_owned(), finite(cover_loss));
    BTreeMap::from([first, (view.bought.name().to_owned(), finite(bought))])
}
