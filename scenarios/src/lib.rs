//! What people write and what the program ships: site files, station weather and
//! the library; parsed, checked, every fault with its place and remedy.
//!
//! [`site_file::read`] makes a [`SiteModel`] of a site file and a [`Library`];
//! [`unknowns::at`] makes of it a site of the engine for one draw.

mod csv_lines;
pub mod diagnose;
mod gone_keys;
mod headings;
pub mod hosts;
pub mod io_errors;
pub mod library;
pub mod model;
pub mod money;
pub mod nearest;
pub mod open_hours;
mod orders;
pub mod practice_text;
pub mod problems;
pub mod quantity;
pub mod read_file;
pub mod reader;
pub mod short_number;
pub mod shown_text;
pub mod site_file;
pub mod station;
pub mod table_format;
pub mod unknowns;
pub mod vary;
mod warnings;
pub mod weather_source;
pub mod yearly_load;

pub use diagnose::{Fault, Faults};
pub use library::Library;
pub use model::SiteModel;
pub use warnings::crowding::crowded;
