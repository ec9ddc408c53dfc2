//! Factors between units that more than one file needs.

/// Days of a year of rates, leap days spread over all years.
pub const DAYS_PER_YEAR: f64 = 365.25;

/// 1 g in kg.
pub const KG_PER_G: f64 = 1e-3;

/// 1 g/m² in kg/ha.
pub const KG_HA_PER_G_M2: f64 = 10.0;

/// 1 m² in ha: what makes kg/ha on so many m² kg.
pub const HA_PER_M2: f64 = 1e-4;

/// 1 kg/ha in g/m².
pub const G_M2_PER_KG_HA: f64 = 0.1;
