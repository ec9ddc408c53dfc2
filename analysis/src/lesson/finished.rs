//! A finished lesson: the year under both strategies, the questions, the answers.

use super::play::SharedDraw;
use super::questions::Question;
use super::{answers, reasons};
use crate::draw_sampler::Draw;
use crate::provenance::Provenance;
use crate::units::Units;
use scenarios::SiteModel;

/// A finished lesson.
pub struct Lesson {
    /// The site, cut to a year.
    pub model: SiteModel,
    /// Indices of strategy A and strategy B in the model.
    pub which: [usize; 2],
    /// Number of the draw that is shown.
    pub number: u64,
    /// The draw that is shown.
    pub draw: Draw,
    /// The year under both strategies and with the birds shut in.
    pub shown: SharedDraw,
    /// What the group is asked, with the answers.
    pub questions: Vec<Question>,
    /// Possible years the answers were tried on.
    pub draws: usize,
    /// Units of what is printed.
    pub units: Units,
    /// Where the weather of all years comes from, if a station file was given.
    pub note: String,
}

impl Lesson {
    /// Name of strategy A (0) or B (1) in the site file.
    #[must_use]
    pub fn name(&self, strategy: usize) -> &str {
        &self.model.strategies[self.which[strategy]].name
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

    /// What is compared, for A and B: a measure in its unit, of 100 of a pest left with the birds shut in
    /// those left, the cover of the barest day (0 to 1), or days below the line.
    #[must_use]
    pub fn values(&self, question: &Question) -> [f64; 2] {
        [0, 1].map(|strategy| answers::value(question.topic, &self.model, &self.shown, strategy))
    }
}

/// A lesson with what it was made from.
pub struct LessonView<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// What it was made from.
    pub from: &'a Provenance,
}
