//! One printed lesson: two plans on the same luck, guessed first, then seen.
//!
//! A leader prints two pages. The first is the group's: the site, both plans, when each opens
//! which gate, and questions to guess at; nothing on it tells how the year came out. The
//! second is the leader's: the same chart with both lines, the answers with figures and
//! reasons, how often the answer is the same in other possible years, and how to run the hour.
//! The lesson is about the first twelve months of the site's run: a group can follow one year.

mod answers;
mod fit;
mod leader;
mod page;
pub mod pair;
pub mod pictures;
pub mod play;
pub mod questions;
mod reasons;
mod sheet;
mod words;

pub use page::lesson_page;

use crate::experiment::{Job, draws_of, over_draws};
use crate::json::Provenance;
use crate::luck::{Draw, Luck};
use crate::units::Units;
use jiff::ToSpan;
use play::{SameLuck, play, play_one};
use questions::{Question, candidates, pick};
use scenarios::SiteModel;
use sim_engine::run::world::RunError;
use sim_engine::weather::DayWeather;

/// Possible years computed between two looks at the stop sign.
const BATCH: usize = 32;

/// A finished lesson.
pub struct Lesson {
    /// The site, cut to a year.
    pub model: SiteModel,
    /// Indices of plan A and plan B in the model.
    pub which: [usize; 2],
    /// Number of the draw that is shown.
    pub number: u64,
    /// The luck that is shown.
    pub draw: Draw,
    /// The year under both plans and without birds.
    pub shown: SameLuck,
    /// What the group is asked, with the answers.
    pub questions: Vec<Question>,
    /// Possible years the answers were tried on.
    pub draws: usize,
    /// Units of what is printed.
    pub units: Units,
    /// Where the weather of all years comes from, if a station file was given.
    pub note: String,
}

/// What a lesson is made for.
#[derive(Clone, Debug)]
pub struct Asked<'a> {
    /// Plan A, and plan B if it is named; else the rule of [`pair`] chooses.
    pub which: (usize, Option<usize>),
    /// Seed of all luck.
    pub seed: u64,
    /// Which luck is shown; 0 has every unknown at its likely value.
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
    /// A run could not start.
    #[error(transparent)]
    Run(#[from] RunError),
    /// There is nothing to hold the plan against.
    #[error("a lesson needs two plans, and the site has one")]
    OnePlan,
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
pub fn make(model: SiteModel, asked: &Asked<'_>, job: &Job<'_>) -> Result<Lesson, LessonError> {
    let draw = Luck { seed: asked.seed }.draw_under(&model, asked.number, asked.weather);
    let which = two_plans(&model, &draw, asked.which)?;
    let shown = play_one(&model, &draw, &which)?;
    let mut all = candidates(&model, which, &shown);
    let mut done = 0;
    while done < asked.draws {
        if job.stopped() {
            return Err(LessonError::Stopped);
        }
        let last = (done + BATCH).min(asked.draws);
        let years =
            over_draws(done..last, |some| play(&model, draws_of(&model, asked.seed, asked.weather, some), &which))?;
        for year in years {
            all.iter_mut().for_each(|question| question.try_on(&model, &year));
        }
        done = last;
        job.come_to(done);
    }
    let questions = pick(all, asked.draws);
    let (number, draws, units, note) = (asked.number, asked.draws, asked.units, asked.note.to_owned());
    let mut lesson = Lesson { model, which, number, draw, shown, questions, draws, units, note };
    fit::to_the_page(&mut lesson);
    Ok(lesson)
}

fn two_plans(model: &SiteModel, draw: &Draw, asked: (usize, Option<usize>)) -> Result<[usize; 2], LessonError> {
    if let (first, Some(second)) = asked {
        return Ok([first, second]);
    }
    let all: Vec<usize> = (0..model.strategies.len()).collect();
    let second = pair::partner(&play_one(model, draw, &all)?.plans, asked.0).ok_or(LessonError::OnePlan)?;
    Ok([asked.0, second])
}

impl Lesson {
    /// Name of plan A (0) or B (1) in the site file.
    #[must_use]
    pub fn name(&self, plan: usize) -> &str {
        &self.model.strategies[self.which[plan]].name
    }

    /// The figures an answer rests on, in words.
    #[must_use]
    pub fn figures(&self, question: &Question, units: Units) -> String {
        answers::figures(question.topic, &self.model, &self.shown, units)
    }

    /// One sentence why the answer is so, from the diary and the books.
    #[must_use]
    pub fn reason(&self, question: &Question, units: Units) -> String {
        reasons::of(question.topic, &self.model, &self.draw, &self.shown, units)
    }

    /// What is compared, for A and B: a measure in its unit, of 100 of a pest left without birds
    /// those left, the cover of the barest day (0 to 1), or days below the line.
    #[must_use]
    pub fn values(&self, question: &Question) -> [f64; 2] {
        [0, 1].map(|plan| answers::value(question.topic, &self.shown, plan))
    }
}

/// A lesson with what it was made from.
pub struct Told<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// What it was made from.
    pub from: &'a Provenance,
}
