//! Words for people, made from data at the face.

mod birds_or_none;
mod limits;

pub use birds_or_none::birds_or_none;
pub use limits::limit_in_words;
