//! A drawing of a site: the yard, a path on which the gates stand at their distance, and each plot as a square as large
//! as its area, by turns above and below the path. It shows at one look what was written wrong: a plot a hundred times too
//! large, a gate far off. Where plots lie and what form they have the file does not say.

mod layout;
mod text;

pub use layout::{Placed, SitePlan};
pub use text::drawn;
