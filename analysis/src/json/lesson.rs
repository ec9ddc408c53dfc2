//! `hensward.lesson/2`: what was asked of the group, and what came out.

use super::figures::finite;
use super::{RunFacts, UsedWeather};
use crate::lesson::Lesson;
use crate::provenance::{DIGEST, Provenance};
use crate::units::Units;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Name and number of the format.
const FORMAT: &str = "hensward.lesson/2";

/// `hensward lesson`: what a group is asked, and what came out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LessonDocument {
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
    /// Number of the draw that is shown; 0 has every unknown at its likely value.
    pub draw: u64,
    /// Names of plan A and plan B.
    pub strategies: Vec<String>,
    /// First day, `YYYY-MM-DD`.
    pub start: String,
    /// Days of the lesson's year.
    pub days: usize,
    /// The plot whose cover the group draws.
    pub drawn_plot: String,
    /// The questions, as they stand on the sheet.
    pub questions: Vec<QuestionSaid>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
    /// Which days of a station it was run on, with `--weather`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<UsedWeather>,
}

/// A question with its answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct QuestionSaid {
    /// Which question: a measure's name, `barest_plot`, `cover_line` or `pests_left`.
    pub key: String,
    /// The question.
    pub ask: String,
    /// Boxes to tick.
    pub boxes: Vec<String>,
    /// The answer.
    pub answer: String,
    /// What is compared, of A and of B, in the measure's unit; points in 100 of a pest left, cover
    /// 0 to 1, or days below the line where the key is no measure.
    pub values: Vec<Option<f64>>,
    /// The figures it rests on in words, metric.
    pub figures: String,
    /// Why.
    pub reason: String,
    /// Possible years in which the answer is the same.
    pub same: usize,
    /// Possible years it was tried on.
    pub draws: usize,
}

/// Makes the document of a lesson, metric whatever the page is printed in. `run` is `None` for files.
#[must_use]
pub fn lesson_document(lesson: &Lesson, from: &Provenance, run: Option<RunFacts>) -> LessonDocument {
    let model = &lesson.model;
    let questions = lesson.questions.iter().map(|question| QuestionSaid {
        key: question.key(),
        ask: question.ask.clone(),
        boxes: question.boxes.clone(),
        answer: question.in_words.clone(),
        values: lesson.values(question).map(finite).to_vec(),
        figures: lesson.figures(question, Units::Metric),
        reason: lesson.reason(question, Units::Metric),
        same: question.same,
        draws: lesson.draws,
    });
    LessonDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: model.name.clone(),
        input_digest: from.input_digest.clone(),
        draw: lesson.number,
        strategies: (0..2).map(|plan| lesson.name(plan).to_owned()).collect(),
        start: model.base.start.to_string(),
        days: model.base.days,
        drawn_plot: model.base.plots[lesson.drawn_plot()].name.clone(),
        questions: questions.collect(),
        run,
        weather: None,
    }
}
