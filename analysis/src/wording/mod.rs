//! Words for people, made from data at the face.

mod limits;

pub use limits::limit_in_words;
