//! One draw played under several strategies and with the birds shut in: what a lesson looks at.

use crate::diary::Diary;
use crate::draw_sampler::Draw;
use crate::experiment::{Arm, CoverRecorder, Judged, Trial};
use scenarios::SiteModel;
use sim_engine::measures::Measures;
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::run::world::RunError;
use sim_engine::summary::PlotSummary;

/// The year of one strategy.
#[derive(Clone, Debug)]
pub struct StrategyYear {
    /// What the run is judged by, against the same draw with the birds shut in.
    pub measures: Measures,
    /// By plot.
    pub plots: Vec<PlotSummary>,
    /// What was done at each gate and why.
    pub diary: Diary,
    /// What was seen on the ground.
    pub ground: GroundRecord,
}

/// What a run shows on the ground.
#[derive(Clone, Debug, Default)]
pub struct GroundRecord {
    /// Cover outside beds; blank for plots that are all beds, which are never the barest.
    pub cover: CoverRecorder,
    /// Pests of each kind on all plots on the last evening, all stages, number.
    pub pests: Vec<f64>,
}

/// The same draw under every strategy asked for.
#[derive(Clone, Debug, Default)]
pub struct SharedDraw {
    /// With the birds shut in.
    pub shut_in: GroundRecord,
    /// By strategy, in the order asked for.
    pub strategies: Vec<StrategyYear>,
}

/// Plays draws with the birds shut in and under the strategies `which` of the model; one [`SharedDraw`] a draw.
///
/// # Errors
/// [`RunError::TooLittleWeather`] if a draw has fewer days of weather than its run.
pub fn play(model: &SiteModel, draws: Vec<Draw>, which: &[usize]) -> Result<Vec<SharedDraw>, RunError> {
    let (trial, shut_in) = Trial::new(draws, model, |_| GroundRecord::default())?;
    let mut all: Vec<SharedDraw> =
        shut_in.into_iter().map(|run| SharedDraw { shut_in: run.recorder, strategies: Vec::new() }).collect();
    for &strategy in which {
        let runs =
            trial.run(Arm::strategy(&model.strategies, strategy), |_| (Diary::default(), GroundRecord::default()))?;
        all.iter_mut().zip(runs).for_each(|(draw, run)| draw.strategies.push(StrategyYear::of(run)));
    }
    Ok(all)
}

/// Plays one draw.
///
/// # Errors
/// [`RunError::TooLittleWeather`] if the draw has fewer days of weather than its run.
pub fn play_one(model: &SiteModel, draw: &Draw, which: &[usize]) -> Result<SharedDraw, RunError> {
    Ok(play(model, vec![draw.clone()], which)?.pop().unwrap_or_default())
}

impl Recorder for GroundRecord {
    fn start(&mut self, run: &RunView) {
        self.cover.start(run);
        self.pests = vec![0.0; run.world.site.pests.len()];
    }

    fn day(&mut self, view: &DayView) {
        self.cover.day(view);
    }

    fn end(&mut self, run: &RunView) {
        let world = run.world;
        for here in &world.constants.zones {
            let kinds = &world.site.plots[here.plot].pests;
            for (pest, state) in kinds.iter().zip(&run.ground.pests[here.pests.clone()]) {
                self.pests[pest.pest] += state.total() * here.area_m2;
            }
        }
    }
}

impl StrategyYear {
    fn of(run: Judged<(Diary, GroundRecord)>) -> Self {
        let (diary, ground) = run.recorder;
        Self { measures: run.measures, plots: run.plots, diary, ground }
    }

    /// Days of the run with this gate open among `days`.
    #[must_use]
    pub fn open_days(&self, plot: usize, days: core::ops::Range<usize>) -> usize {
        days.filter(|&day| self.is_open(day, plot)).count()
    }

    /// Whether a gate is open on a day of the run.
    #[must_use]
    pub fn is_open(&self, day: usize, plot: usize) -> bool {
        self.diary.state(day, plot).is_some_and(|state| state.open)
    }

    /// Days of the run.
    #[must_use]
    pub fn days(&self) -> usize {
        self.ground.days()
    }
}

impl GroundRecord {
    /// Days of the run.
    #[must_use]
    pub fn days(&self) -> usize {
        self.cover.by_plot.first().map_or(0, Vec::len)
    }

    /// Plot, day and cover of the barest ground of the run.
    #[must_use]
    pub fn barest(&self) -> (usize, usize, f64) {
        let mut least = (0, 0, f64::INFINITY);
        for (plot, days) in self.cover.by_plot.iter().enumerate() {
            for (day, &cover) in days.iter().enumerate() {
                if cover < least.2 {
                    least = (plot, day, cover);
                }
            }
        }
        least
    }

    /// Days on which a plot's cover is below `line`, all plots counted together.
    #[must_use]
    pub fn days_below(&self, line: f64) -> f64 {
        self.cover.by_plot.iter().flatten().filter(|cover| **cover < line).count() as f64
    }

    /// First day on which a plot's cover is below `line`, with the plot (the barest of that day).
    #[must_use]
    pub fn first_below(&self, line: f64) -> Option<(usize, usize)> {
        let cover = &self.cover.by_plot;
        (0..self.days()).find_map(|day| {
            let plots = (0..cover.len()).filter(|&plot| cover[plot][day] < line);
            let barest = plots.min_by(|&a, &b| cover[a][day].total_cmp(&cover[b][day]));
            barest.map(|plot| (day, plot))
        })
    }
}
