//! The format of a site file looked up: what a word finds, in words for the terminal, and as a schema for editors.

mod find;
mod pasted;
mod rarely;
mod schema;
mod words;

pub use find::{FoundTable, everything, find};
pub use pasted::pasted;
pub use rarely::rarely_known;
pub use schema::site_schema;
pub use words::{details, overview};
