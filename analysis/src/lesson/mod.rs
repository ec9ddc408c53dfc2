//! One printed lesson: two strategies on the same draw, guessed first, then seen.
//!
//! A leader prints two pages. The first is the group's: the site, both strategies, when each opens
//! which gate, and questions to guess at; nothing on it tells how the year came out. The
//! second is the leader's: the same chart with both lines, the answers with figures and
//! reasons, how often the answer is the same in other possible years, and how to run the hour.
//! The lesson is about the first twelve months of the site's run: a group can follow one year.

mod answers;
mod finished;
mod fit;
mod leader;
mod make;
mod markup;
mod page;
pub mod pair;
mod paper;
pub mod pictures;
pub mod play;
pub mod questions;
mod reasons;
mod sheet;
pub mod topic;
mod words;

pub use finished::{Lesson, LessonView};
pub use make::{LessonError, LessonSpec, first_year, make};
pub use page::lesson_page;
