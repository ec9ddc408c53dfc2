//! What of a site never changes within a draw: numbers resolved once.

mod canopy;
mod plot;
mod site;
mod species;
mod zone;

pub use canopy::{CanopyStep, SOLSTICE_YEAR_D, Season};
pub use plot::PlotConstants;
pub use site::{SiteConstants, Watched};
pub use species::{PestStep, SlugStep, SpeciesParams, WeedStep};
pub use zone::ZoneConstants;
