//! Where each figure of a possible year is kept: a row a year, a column a figure.

use super::PlotColumn;
use super::columns::{Block, Columns, Room, SpillError};
use crate::experiment::{ArmId, Outcome};
use scenarios::SiteModel;
use sim_engine::measures::Measure;
use sim_engine::summary::PlotSummary;

/// Runs without a strategy come first.
const BASELINES: usize = 3;
/// A day without a figure of cover.
const NO_COVER: u16 = u16::MAX;
const MEASURES: usize = Measure::ALL.len();
const OF_PLOT: usize = PlotColumn::ALL.len();

/// Place of a run among all of a possible year.
#[must_use]
pub fn arm_place(run: ArmId) -> usize {
    match run {
        ArmId::ShutIn => 0,
        ArmId::NoBirds => 1,
        ArmId::Nothing => 2,
        ArmId::Strategy(s) => BASELINES + s,
    }
}

/// All runs of a possible year with so many strategies, in their order.
pub fn arms(strategies: usize) -> impl Iterator<Item = ArmId> + Clone {
    [ArmId::ShutIn, ArmId::NoBirds, ArmId::Nothing].into_iter().chain((0..strategies).map(ArmId::Strategy))
}

/// Figures of all possible years, out of memory where they are many.
#[derive(Debug)]
pub struct KeptYears {
    years: usize,
    strategies: usize,
    plots: usize,
    days: usize,
    /// Measures of every run, then plots of those that are looked at plot by plot.
    figures: Columns<f64>,
    /// Least cover of every day, in thousandths, of the runs it is shown of.
    covers: Columns<u16>,
}

impl KeptYears {
    /// None yet.
    #[must_use]
    pub fn new(model: &SiteModel, strategies: usize, room: &Room) -> Self {
        let (plots, days) = (model.base.plots.len(), model.base.days);
        let runs = |place: fn(ArmId) -> Option<usize>| arms(strategies).filter_map(place).count();
        let figures = runs(|run| Some(arm_place(run))) * MEASURES + runs(plots_place) * plots * OF_PLOT;
        Self {
            years: 0,
            strategies,
            plots,
            days,
            figures: Columns::new(figures, room),
            covers: Columns::new(runs(cover_place) * days, room),
        }
    }

    /// Possible years so far.
    #[must_use]
    pub fn years(&self) -> usize {
        self.years
    }

    /// Takes the next possible year in; `of` gives the outcome of a run, none of a strategy that is tried no further.
    ///
    /// # Errors
    /// The temporary file could not be written.
    pub fn push<'o>(&mut self, of: impl Fn(ArmId) -> Option<&'o Outcome> + Copy) -> Result<(), SpillError> {
        let (plots, days) = (self.plots, self.days);
        let measures = arms(self.strategies).flat_map(move |run| {
            let of = of(run);
            Measure::ALL.iter().map(move |&measure| of.map_or(f64::NAN, |of| of.measures.get(measure)))
        });
        let seen = arms(self.strategies).filter(|&run| plots_place(run).is_some());
        let by_plot = seen.flat_map(move |run| (0..plots).map(move |plot| of(run).and_then(|of| of.plots.get(plot))));
        self.figures.push(measures.chain(by_plot.flat_map(of_plot)))?;
        let shown = arms(self.strategies).filter(|&run| cover_place(run).is_some());
        self.covers.push(shown.flat_map(move |run| {
            let least = of(run).map_or(&[][..], |of| of.least_cover.as_slice());
            (0..days).map(move |day| least.get(day).copied().unwrap_or(NO_COVER))
        }))?;
        self.years += 1;
        Ok(())
    }

    /// After the last possible year, before any is read.
    ///
    /// # Errors
    /// The temporary file could not be written.
    pub fn close(&mut self) -> Result<(), SpillError> {
        self.figures.close()?;
        self.covers.close()
    }

    /// A measure of a run, possible year by possible year; `NaN` where it is blank.
    ///
    /// # Errors
    /// The temporary file could not be read.
    pub fn values(&self, run: ArmId, measure: Measure) -> Result<Vec<f64>, SpillError> {
        self.figures.column(measure_column(run, measure))
    }

    /// A figure of a plot; no possible years of the run without birds, which no plot is shown of.
    ///
    /// # Errors
    /// The temporary file could not be read.
    pub fn plot_values(&self, run: ArmId, plot: usize, column: PlotColumn) -> Result<Vec<f64>, SpillError> {
        let Some(place) = plots_place(run) else { return Ok(Vec::new()) };
        let before = arms(self.strategies).count() * MEASURES;
        self.figures.column(before + (place * self.plots + plot) * OF_PLOT + column as usize)
    }

    /// Least cover of any plot on a day, in thousandths, of the possible years that have it; none of the runs without birds.
    ///
    /// # Errors
    /// The temporary file could not be read.
    pub fn least_cover(&self, run: ArmId, day: usize) -> Result<Vec<u16>, SpillError> {
        let Some(place) = cover_place(run) else { return Ok(Vec::new()) };
        let mut cover = self.covers.column(place * self.days + day)?;
        cover.retain(|&thousandths| thousandths != NO_COVER);
        Ok(cover)
    }

    /// The measures of all runs, some possible years at a time, in their order.
    ///
    /// # Errors
    /// The temporary file could not be read.
    pub fn by_year(&self) -> impl Iterator<Item = Result<YearBlock, SpillError>> + '_ {
        let measures = arms(self.strategies).count() * MEASURES;
        (0..self.figures.blocks()).map(move |block| self.figures.block(block, measures).map(YearBlock))
    }
}

/// The measures of some possible years.
#[derive(Debug)]
pub struct YearBlock(Block<f64>);

impl YearBlock {
    /// How many possible years.
    #[must_use]
    pub fn years(&self) -> usize {
        self.0.rows()
    }

    /// A measure of a run in one of them.
    #[must_use]
    pub fn get(&self, year: usize, run: ArmId, measure: Measure) -> f64 {
        self.0.at(year, measure_column(run, measure))
    }
}

fn measure_column(run: ArmId, measure: Measure) -> usize {
    arm_place(run) * MEASURES + measure as usize
}

/// Place among the runs that are shown plot by plot.
fn plots_place(run: ArmId) -> Option<usize> {
    match run {
        ArmId::ShutIn => Some(0),
        ArmId::NoBirds => None,
        ArmId::Nothing => Some(1),
        ArmId::Strategy(s) => Some(2 + s),
    }
}

/// Place among the runs whose least cover is shown day by day.
fn cover_place(run: ArmId) -> Option<usize> {
    match run {
        ArmId::ShutIn => Some(0),
        ArmId::NoBirds | ArmId::Nothing => None,
        ArmId::Strategy(s) => Some(1 + s),
    }
}

fn of_plot(plot: Option<&PlotSummary>) -> impl Iterator<Item = f64> {
    PlotColumn::ALL.into_iter().map(move |column| plot.map_or(f64::NAN, |plot| column.of(plot)))
}
