//! One luck, day by day: ledger, diary, measures, audit; and "why".

use crate::closely::Closely;
use crate::diary::{Diary, GateState};
use crate::ledger::{Digits, Ledger};
use crate::luck::Draw;
use scenarios::SiteModel;
use sim_engine::books::Audit;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::measures::{Measure, Measures};
use sim_engine::season::{DayView, Recorder, RunOptions, run};
use sim_engine::summary::{PlotSummary, ReferenceRecorder, Summary};
use sim_engine::world::{RunError, World};

/// A season, told in full.
pub struct Season {
    /// Measures, held against the no-birds run of the same luck.
    pub measures: Measures,
    /// By plot.
    pub plots: Vec<PlotSummary>,
    /// What was done and why.
    pub diary: Diary,
    /// Residuals of the books.
    pub audit: Audit,
    /// `ledger.csv` and `ledger_site.csv`; empty where none was asked for.
    pub ledger: (Vec<u8>, Vec<u8>),
    /// Cover outside beds, by plot then day.
    pub cover: Vec<Vec<f64>>,
    /// The same in the no-birds run.
    pub cover_without: Vec<Vec<f64>>,
    /// The run looked at closely.
    pub closely: Closely,
    /// The no-birds run looked at closely.
    pub closely_without: Closely,
}

/// Tells a season under strategy `which`; writing its ledger takes longer than the season, so
/// it is made only where its digits are given.
///
/// # Errors
/// If the run cannot start.
pub fn tell(model: &SiteModel, draw: &Draw, which: usize, ledger: Option<Digits>) -> Result<Season, RunError> {
    let mut closely_without = Closely::default();
    let reference = without_birds(draw, &mut closely_without)?;
    let line = model.limits.cover_line;
    let mut closely = Closely::default();
    let mut summary = Summary::new(Some(&reference.reference), line).weighing_pests(&model.compare.pest_weights);
    let (mut diary, mut ledger, mut books, mut cover) =
        (Diary::default(), ledger.map(Ledger::new), Books::default(), Cover::default());
    let mut all = (&mut summary, (&mut diary, (&mut ledger, (&mut books, (&mut cover, &mut closely)))));
    run(&draw.site, &draw.drivers, &model.strategies, which, RunOptions::default(), &mut all)?;
    let plots = draw.site.plots.len();
    let days = draw.site.days;
    let cover_without = (0..plots).map(|p| (0..days).map(|d| reference.reference.cover(d, p)).collect()).collect();
    Ok(Season {
        measures: summary.measures.clone(),
        plots: summary.plots.clone(),
        diary,
        audit: books.audit.unwrap_or_else(Books::nothing),
        ledger: ledger.map(Ledger::into_texts).unwrap_or_default(),
        cover: cover.by_plot,
        cover_without,
        closely,
        closely_without,
    })
}

/// What one gate decision did.
pub struct Why {
    /// How the gate stood that day.
    pub state: GateState,
    /// How it would have stood.
    pub turned_round: bool,
    /// Measures as they were and as they would have been.
    pub measures: Vec<(Measure, f64, f64)>,
    /// Cover of the plot 30 days on, as it was and as it would have been.
    pub cover_later: (f64, f64),
}

/// Days after which the cover of the plot is compared.
pub const LATER_DAYS: usize = 30;

/// Tells why a gate stood as it did on `day`, and what turning that one decision round would
/// have changed by the end of the run.
///
/// # Errors
/// If the run cannot start.
pub fn why(model: &SiteModel, draw: &Draw, which: usize, plot: usize, day: usize) -> Result<Option<Why>, RunError> {
    let reference = without_birds(draw, &mut Option::<Closely>::None)?;
    let line = model.limits.cover_line;
    let go = |turn_round| {
        let mut recorders = (
            Summary::new(Some(&reference.reference), line).weighing_pests(&model.compare.pest_weights),
            Diary::default(),
        );
        let options = RunOptions { turn_round, ..RunOptions::default() };
        run(&draw.site, &draw.drivers, &model.strategies, which, options, &mut recorders)?;
        Ok((recorders.0.measures, recorders.1))
    };
    let (was, diary) = go(None)?;
    let (would, other) = go(Some((day, plot)))?;
    let later = (day + LATER_DAYS).min(draw.site.days - 1);
    let (Some(state), Some(turned)) = (diary.state(day, plot), other.state(day, plot)) else { return Ok(None) };
    let cover = |d: &Diary| d.state(later, plot).map_or(f64::NAN, |s| s.cover);
    let measures = Measure::ALL.iter().map(|&m| (m, was.get(m), would.get(m))).collect();
    Ok(Some(Why {
        state: *state,
        turned_round: turned.open != state.open,
        measures,
        cover_later: (cover(&diary), cover(&other)),
    }))
}

fn without_birds(draw: &Draw, also: &mut impl Recorder) -> Result<ReferenceRecorder, RunError> {
    let shut = [StrategySpec { name: String::new(), kind: StrategyKind::AllShut, hours: None, birds: None }];
    let mut reference = ReferenceRecorder::default();
    let options = RunOptions { birds: false, ..RunOptions::default() };
    run(&draw.site, &draw.drivers, &shut, 0, options, &mut (&mut reference, also))?;
    Ok(reference)
}

/// Checks the books every day.
#[derive(Default)]
pub struct Books {
    /// The audit, once the run has begun.
    pub audit: Option<Audit>,
}

impl Books {
    fn nothing() -> Audit {
        Audit::empty()
    }
}

impl Recorder for Books {
    fn start(&mut self, world: &World) {
        self.audit = Some(Audit::start(world));
    }

    fn day(&mut self, view: &DayView) {
        if let Some(audit) = &mut self.audit {
            audit.check(view.world, view.day);
        }
    }
}

/// Cover outside beds of every plot.
#[derive(Default)]
struct Cover {
    by_plot: Vec<Vec<f64>>,
}

impl Recorder for Cover {
    fn start(&mut self, world: &World) {
        self.by_plot = vec![Vec::with_capacity(world.site.days); world.site.plots.len()];
    }

    fn day(&mut self, view: &DayView) {
        for (plot, days) in self.by_plot.iter_mut().enumerate() {
            days.push(view.world.cover_outside_beds(plot));
        }
    }
}
