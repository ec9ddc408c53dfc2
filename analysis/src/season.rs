//! One draw, day by day: ledger, diary, measures, audit; and "why".

use crate::diary::{Diary, GateState};
use crate::draw_sampler::{Draw, DrawSampler};
use crate::experiment::{Arm, CoverRecorder, Trial};
use crate::ledger::{Digits, Ledger};
use crate::run_detail::RunDetail;
use scenarios::SiteModel;
use sim_engine::dates::date_of;
use sim_engine::ledger::balance::{Audit, AuditFault};
use sim_engine::ledger::flows::FlowSet;
use sim_engine::measures::{Measure, Measures};
use sim_engine::plot::constants::SiteConstants;
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::run::world::RunError;
use sim_engine::site::Site;
use sim_engine::summary::PlotSummary;
use sim_engine::weather::DayWeather;

/// A season, told in full.
pub struct Season {
    /// Measures, held against the same draw with the birds shut in.
    pub measures: Measures,
    /// By plot.
    pub plots: Vec<PlotSummary>,
    /// Measures with the birds shut in; blank where they are measured against that very run.
    pub measures_shut_in: Measures,
    /// By plot with the birds shut in.
    pub plots_shut_in: Vec<PlotSummary>,
    /// What was done and why.
    pub diary: Diary,
    /// Residuals of the books.
    pub audit: Audit,
    /// `ledger.csv` and `ledger_site.csv`; empty where none was asked for.
    pub ledger: (Vec<u8>, Vec<u8>),
    /// Cover outside beds, by plot then day.
    pub cover: Vec<Vec<f64>>,
    /// The same with the birds shut in.
    pub cover_shut_in: Vec<Vec<f64>>,
    /// The run looked at closely.
    pub detail: RunDetail,
    /// The run of birds shut in, looked at closely.
    pub detail_shut_in: RunDetail,
}

/// Runs a season under strategy `which`; writing its ledger takes longer than the season, so
/// it is made only where its digits are given.
///
/// # Errors
/// [`RunError::TooLittleWeather`] if the draw has fewer days of weather than its run.
pub fn simulate(model: &SiteModel, draw: &Draw, which: usize, ledger: Option<Digits>) -> Result<Season, RunError> {
    let (trial, shut_in) = Trial::new(vec![draw.clone()], model, |_| RunDetail::default())?;
    let recorder = |_: usize| {
        let books = (ledger.map(Ledger::new), Books::default());
        (Diary::default(), (books, (CoverRecorder::default(), RunDetail::default())))
    };
    let mut runs = trial.run(Arm::strategy(&model.strategies, which), recorder)?.into_iter();
    let (Some(run), Some(shut_in)) = (runs.next(), shut_in.into_iter().next()) else {
        return Err(RunError::TooLittleWeather { asked: draw.site.days, given: 0 });
    };
    let (diary, ((ledger, books), (cover, detail))) = run.recorder;
    let audit = audited(&draw.site, books)?;
    let (plots, days) = (0..draw.site.plots.len(), 0..draw.site.days);
    let baseline = &trial.baselines()[0];
    Ok(Season {
        measures: run.measures,
        plots: run.plots,
        measures_shut_in: shut_in.measures,
        plots_shut_in: shut_in.plots,
        diary,
        audit,
        ledger: ledger.map(Ledger::into_texts).unwrap_or_default(),
        cover: cover.by_plot,
        cover_shut_in: plots.map(|plot| days.clone().map(|day| baseline.cover(day, plot)).collect()).collect(),
        detail,
        detail_shut_in: shut_in.recorder,
    })
}

/// Runs the likely season of some strategies for its books alone, for whoever is about to run many that nobody audits.
///
/// # Errors
/// [`RunError::BooksOff`] if they do not balance; [`RunError::TooLittleWeather`] if the draw has fewer days of weather than
/// its run.
pub fn check_books(
    model: &SiteModel,
    seed: u64,
    weather: Option<&[DayWeather]>,
    which: &[usize],
) -> Result<(), RunError> {
    let draw = DrawSampler { seed }.draw_under(model, 0, weather);
    let (trial, _) = Trial::new(vec![draw.clone()], model, |_| ())?;
    which.iter().try_for_each(|&strategy| {
        let runs = trial.run(Arm::strategy(&model.strategies, strategy), |_| Books::default())?;
        runs.into_iter().try_for_each(|run| audited(&draw.site, run.recorder).map(drop))
    })
}

/// The audit of a run whose books balance.
fn audited(site: &Site, books: Books) -> Result<Audit, RunError> {
    let audit = books.audit.unwrap_or_else(Audit::empty);
    match audit.fault() {
        Some(fault) => Err(books_off(site, fault)),
        None => Ok(audit),
    }
}

/// The error of books that do not balance, with names for numbers.
fn books_off(site: &Site, fault: &AuditFault) -> RunError {
    let plot_of = |zone: usize| SiteConstants::new(site).zones.get(zone).map(|here| here.plot);
    let plot = fault.zone.and_then(plot_of).and_then(|plot| site.plots.get(plot));
    RunError::BooksOff {
        currency: fault.currency.name(),
        place: plot.map_or("yard, house and flock".to_owned(), |plot| format!("plot {}", plot.name)),
        date: date_of(site.start, fault.day),
        relative: fault.relative,
    }
}

/// A season with every unknown at its likely value.
pub struct LikelySeason {
    /// Its draw.
    pub draw: Draw,
    /// The season.
    pub season: Season,
}

/// Runs the likely season of a strategy.
///
/// # Errors
/// [`RunError::TooLittleWeather`] if the draw has fewer days of weather than its run.
pub fn likely(
    model: &SiteModel,
    seed: u64,
    weather: Option<&[DayWeather]>,
    which: usize,
) -> Result<LikelySeason, RunError> {
    let draw = DrawSampler { seed }.draw_under(model, 0, weather);
    let season = simulate(model, &draw, which, None)?;
    Ok(LikelySeason { draw, season })
}

/// What one gate decision did.
pub struct Why {
    /// How the gate stood that day.
    pub state: GateState,
    /// Asked the other way the gate would have stood the other way; else a rule holds it.
    pub could_be_inverted: bool,
    /// Measures as they were and as they would have been.
    pub measures: Vec<(Measure, f64, f64)>,
    /// Cover of the plot 30 days on, as it was and as it would have been.
    pub cover_later: (f64, f64),
}

/// Days after which the cover of the plot is compared.
pub const LATER_DAYS: usize = 30;

/// Tells why a gate stood as it did on `day`, and what inverting that one decision would
/// have changed by the end of the run.
///
/// # Errors
/// [`RunError::TooLittleWeather`] if the draw has fewer days of weather than its run.
pub fn why(model: &SiteModel, draw: &Draw, which: usize, plot: usize, day: usize) -> Result<Option<Why>, RunError> {
    let (trial, _) = Trial::new(vec![draw.clone()], model, |_| ())?;
    let arm = Arm::strategy(&model.strategies, which);
    let as_it_was = trial.run(arm, |_| Diary::default())?.pop();
    let counterfactual = trial.run(arm.counterfactual((day, plot)), |_| Diary::default())?.pop();
    let (Some(was), Some(would)) = (as_it_was, counterfactual) else { return Ok(None) };
    let (diary, other) = (was.recorder, would.recorder);
    let later = (day + LATER_DAYS).min(draw.site.days - 1);
    let (Some(state), Some(inverted)) = (diary.state(day, plot), other.state(day, plot)) else { return Ok(None) };
    let cover = |d: &Diary| d.state(later, plot).map_or(f64::NAN, |s| s.cover);
    let measures = Measure::ALL.iter().map(|&m| (m, was.measures.get(m), would.measures.get(m))).collect();
    Ok(Some(Why {
        state: *state,
        could_be_inverted: inverted.open != state.open,
        measures,
        cover_later: (cover(&diary), cover(&other)),
    }))
}

/// Checks the books every day.
#[derive(Default)]
pub struct Books {
    /// The audit, once the run has begun.
    pub audit: Option<Audit>,
}

impl Recorder for Books {
    fn flows(&self) -> FlowSet {
        FlowSet::ALL
    }

    fn reads_ground(&self, _: usize) -> bool {
        true
    }

    fn start(&mut self, run: &RunView) {
        self.audit = Some(Audit::start(run));
    }

    fn day(&mut self, view: &DayView) {
        if let Some(audit) = &mut self.audit {
            audit.check(&view.run(), view.day);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use scenarios::{Library, site_file};
    use sim_engine::ledger::flows::Currency;
    use std::path::Path;

    #[test]
    fn books_are_checked_before_many_runs() {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios/demos/puddlecote/site.toml");
        let model = site_file::read(&demo, &Library::shipped().unwrap()).unwrap();
        assert_eq!(check_books(&model, 1, None, &[0, 1]), Ok(()));
    }

    /// Whoever meets it is told what, where and when.
    #[test]
    fn books_that_are_off_are_told_with_currency_plot_and_day() {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios/demos/sallowmere/site.toml");
        let site = site_file::read(&demo, &Library::shipped().unwrap()).unwrap().base;
        let last = SiteConstants::new(&site).zones.len() - 1;
        let told = |zone: Option<usize>| {
            let fault = AuditFault { currency: Currency::N, day: 17, zone, relative: 2e-3 };
            books_off(&site, &fault).to_string()
        };
        let plot = format!("on 2027-04-01, in plot {}, 2e-3 of the n that", site.plots.last().unwrap().name);
        assert!(told(Some(last)).contains(&plot), "{}", told(Some(last)));
        assert!(told(None).contains("in yard, house and flock"), "{}", told(None));
    }
}
