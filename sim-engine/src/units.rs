//! Factors between units that more than one file needs.

/// Days of a year of rates, leap days spread over all years.
pub const DAYS_PER_YEAR: f64 = 365.25;

/// 1 g in kg.
pub const KG_PER_G: f64 = 1e-3;
