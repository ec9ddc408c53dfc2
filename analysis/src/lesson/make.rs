//! Makes a lesson: plays both strategies on one draw, and tries the answers on many.

use super::finished::Lesson;
use super::play::{play, play_one};
use super::questions::{candidates, pick};
use super::{fit, pair};
use crate::draw_sampler::{Draw, DrawSampler};
use crate::experiment::{Job, draws_of, over_draws};
use crate::season::check_books;
use crate::units::Units;
use jiff::ToSpan;
use scenarios::SiteModel;
use sim_engine::run::world::RunError;
use sim_engine::site::Plot;
use sim_engine::weather::DayWeather;

/// Possible years computed between two looks at the stop sign.
const BATCH: usize = 32;

/// What a lesson is made for.
#[derive(Clone, Debug)]
pub struct LessonSpec<'a> {
    /// Strategy A, and strategy B if it is named; else the rule of [`pair`] chooses.
    pub which: (usize, Option<usize>),
    /// Seed of all random numbers.
    pub seed: u64,
    /// Which draw is shown; 0 has every unknown at its likely value.
    pub number: u64,
    /// Possible years to try the answers on.
    pub draws: usize,
    /// A station's days, if all years share them.
    pub weather: Option<&'a [DayWeather]>,
    /// A sentence on that weather; may be empty.
    pub note: &'a str,
    /// Units of what is printed.
    pub units: Units,
}

/// Why there is no lesson.
#[derive(Debug, thiserror::Error)]
pub enum LessonError {
    /// A run failed: see [`RunError`].
    #[error(transparent)]
    Run(#[from] RunError),
    /// There is nothing to hold the strategy against.
    #[error("a lesson needs two strategies, and the site has one")]
    OneStrategy,
    /// There is no cover to ask about and to draw.
    #[error("a lesson draws ground cover, and every plot of the site is all beds")]
    NoSward,
    /// Stopped before it was finished.
    #[error("stopped before the possible years were finished")]
    Stopped,
}

/// The first twelve months of a site's run.
#[must_use]
pub fn first_year(mut model: SiteModel) -> SiteModel {
    let start = model.base.start;
    let year = start.saturating_add(1.year()).since(start).map_or(0, |span| span.get_days());
    let days = usize::try_from(year).unwrap_or(0);
    model.years = 1;
    if days > 0 {
        model.base.days = model.base.days.min(days);
    }
    model
}

/// Makes the lesson of a site that is cut to its first year; its progress is the possible years that
/// are done, and it stops between batches of them.
///
/// # Errors
/// See [`LessonError`].
pub fn make(model: SiteModel, spec: &LessonSpec<'_>, job: &Job<'_>) -> Result<Lesson, LessonError> {
    if !model.base.plots.iter().any(Plot::has_sward) {
        return Err(LessonError::NoSward);
    }
    let draw = DrawSampler { seed: spec.seed }.draw_under(&model, spec.number, spec.weather);
    let which = two_strategies(&model, &draw, spec.which)?;
    check_books(&model, spec.seed, spec.weather, &which)?;
    let shown = play_one(&model, &draw, &which)?;
    let mut all = candidates(&model, which, &shown);
    let mut done = 0;
    while done < spec.draws {
        if job.stopped() {
            return Err(LessonError::Stopped);
        }
        let last = (done + BATCH).min(spec.draws);
        let years =
            over_draws(done..last, |some| play(&model, draws_of(&model, spec.seed, spec.weather, some), &which))?;
        for year in years {
            all.iter_mut().for_each(|question| question.try_on(&model, &year));
        }
        done = last;
        job.come_to(done);
    }
    let questions = pick(all, spec.draws);
    let (number, draws, units, note) = (spec.number, spec.draws, spec.units, spec.note.to_owned());
    let mut lesson = Lesson { model, which, number, draw, shown, questions, draws, units, note };
    fit::to_the_page(&mut lesson);
    Ok(lesson)
}

fn two_strategies(model: &SiteModel, draw: &Draw, spec: (usize, Option<usize>)) -> Result<[usize; 2], LessonError> {
    if let (first, Some(second)) = spec {
        return Ok([first, second]);
    }
    let all: Vec<usize> = (0..model.strategies.len()).collect();
    let second = pair::partner(model, &play_one(model, draw, &all)?, spec.0).ok_or(LessonError::OneStrategy)?;
    Ok([spec.0, second])
}
