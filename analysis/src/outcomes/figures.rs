//! Means, quantiles and differences over all possible years: read column by column, once.

use super::columns::SpillError;
use super::kept::{KeptYears, arm_place, arms};
use super::plot_column::PlotColumn;
use crate::experiment::ArmId;
use crate::stats::blocks::{mean_interval, paired};
use crate::stats::quantiles::{Spread, present, spread, spread_of_sorted};
use crate::stats::{Estimate, LEVEL, mean};
use scenarios::SiteModel;
use sim_engine::measures::Measure;

/// A measure over the draws.
#[derive(Clone, Copy, Debug)]
pub struct Figure {
    /// Mean and its 95 % interval.
    pub mean: Estimate,
    /// Median and the range nine of ten draws fall in.
    pub spread: Spread,
}

/// What a run is set against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Against {
    /// The strategy the others are set against.
    Reference,
    /// Birds shut in.
    ShutIn,
    /// No birds, no care.
    Nothing,
}

impl Against {
    const ALL: [Against; 3] = [Against::Reference, Against::ShutIn, Against::Nothing];

    fn run(self, reference: ArmId) -> ArmId {
        match self {
            Against::Reference => reference,
            Against::ShutIn => ArmId::ShutIn,
            Against::Nothing => ArmId::Nothing,
        }
    }
}

/// A figure of a plot over the draws.
#[derive(Clone, Copy, Debug, Default)]
pub struct PlotSpread {
    /// Its spread; `None` where it is blank in every draw.
    pub spread: Option<Spread>,
    /// Whether there is more to it than blanks and noughts.
    pub something: bool,
}

impl PlotSpread {
    /// Of a column.
    #[must_use]
    pub fn of(values: &[f64]) -> Self {
        Self { spread: spread(values), something: values.iter().any(|value| !value.is_nan() && *value != 0.0) }
    }
}

/// One measure of one run.
#[derive(Clone, Debug)]
struct MeasureFigures {
    /// Its mean summed up in order, as tables print it.
    mean: Option<f64>,
    figure: Option<Figure>,
    /// By [`Against`].
    differences: [Estimate; Against::ALL.len()],
}

/// All of them.
#[derive(Clone, Debug)]
pub struct Figures {
    /// By measure, then run.
    measures: Vec<Vec<MeasureFigures>>,
    /// By run, then plot, then column.
    plots: Vec<Vec<Vec<PlotSpread>>>,
    /// By run, then day.
    covers: Vec<Vec<Option<Spread>>>,
}

impl Figures {
    /// Of all possible years; `reference` is the strategy the others are set against.
    ///
    /// # Errors
    /// The temporary file could not be read.
    pub fn of(kept: &KeptYears, model: &SiteModel, strategies: usize, reference: usize) -> Result<Self, SpillError> {
        let reference = ArmId::Strategy(reference);
        let runs = || arms(strategies);
        let measures = Measure::ALL.iter().map(|&measure| {
            let set_against = Against::ALL.map(|against| kept.values(against.run(reference), measure));
            let [reference, shut_in, nothing] = set_against;
            let set_against = [reference?, shut_in?, nothing?];
            runs().map(|run| Ok(of_column(&kept.values(run, measure)?, &set_against))).collect()
        });
        let plots = runs().map(|run| {
            let column = |plot| move |&column: &_| Ok(PlotSpread::of(&kept.plot_values(run, plot, column)?));
            (0..model.base.plots.len()).map(|plot| PlotColumn::ALL.iter().map(column(plot)).collect()).collect()
        });
        let covers = runs().map(|run| {
            (0..model.base.days).map(|day| Ok(cover_spread(kept.least_cover(run, day)?, kept.years()))).collect()
        });
        Ok(Self {
            measures: measures.collect::<Result<_, _>>()?,
            plots: plots.collect::<Result<_, _>>()?,
            covers: covers.collect::<Result<_, _>>()?,
        })
    }

    fn at(&self, run: ArmId, measure: Measure) -> &MeasureFigures {
        &self.measures[measure as usize][arm_place(run)]
    }

    /// Mean, median and range of a measure; `None` where it is blank in every draw.
    #[must_use]
    pub fn figure(&self, run: ArmId, measure: Measure) -> Option<Figure> {
        self.at(run, measure).figure
    }

    /// Its mean alone, summed up in the order of draws: it may differ from that of the figure in the last digit.
    #[must_use]
    pub fn mean(&self, run: ArmId, measure: Measure) -> Option<f64> {
        self.at(run, measure).mean
    }

    /// Paired difference of a run to another, mean and 95 % interval; `None` where no draw has both.
    #[must_use]
    pub fn difference(&self, run: ArmId, against: Against, measure: Measure) -> Option<Estimate> {
        let difference = self.at(run, measure).differences[against as usize];
        (!difference.mean.is_nan()).then_some(difference)
    }

    /// A figure of a plot; blank in the run without birds, which no plot is shown of.
    #[must_use]
    pub fn plot(&self, run: ArmId, plot: usize, column: PlotColumn) -> PlotSpread {
        self.plots[arm_place(run)][plot][column as usize]
    }

    /// Cover of the barest plot day by day, %; blank in the runs without birds.
    #[must_use]
    pub fn least_cover(&self, run: ArmId) -> &[Option<Spread>] {
        &self.covers[arm_place(run)]
    }
}

fn of_column(values: &[f64], set_against: &[Vec<f64>; Against::ALL.len()]) -> MeasureFigures {
    let present = present(values);
    MeasureFigures {
        mean: (!present.is_empty()).then(|| mean(&present)),
        figure: spread(values).map(|spread| Figure { mean: mean_interval(values, LEVEL), spread }),
        differences: set_against.each_ref().map(|other| paired(values, other, LEVEL).estimate),
    }
}

/// Of thousandths, in percent.
fn cover_spread(mut thousandths: Vec<u16>, years: usize) -> Option<Spread> {
    thousandths.sort_unstable();
    spread_of_sorted(thousandths.len(), years, |place| f64::from(thousandths[place]) / 10.0)
}
