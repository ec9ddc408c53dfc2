//! What happens on the ground of a plot: one file per process.
//!
//! Every process takes its rates from the zone as it was at the start of the
//! step ([`context::ZoneRates`]); [`step::step`] holds the order in which they apply.

pub mod bites;
pub mod canopy_uptake;
pub mod constants;
pub mod context;
pub mod cover;
pub mod creepers;
pub mod crops;
pub mod dead_cover;
pub mod harvest;
pub mod insects;
pub mod labour;
pub mod manual_care;
pub mod nutrients;
pub mod pests;
pub mod predation;
pub mod recovery;
pub mod seen;
pub mod slugs;
pub mod step;
pub mod water;
pub mod weeds;
pub mod worm_eggs;
