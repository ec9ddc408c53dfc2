//! Where the birds' day goes.
//!
//! Bird-days of a plot = birds that go out × (day length/12 h within bounds) × wet, hot and
//! cold factors × w_j/(home + Σw); w_j = √area · exp(−distance/d₀) · (base + green + insects).
//! Two plots draw more than one of their joint area (√): splitting a plot changes nothing
//! only at given bird-days. Without distance all gates open would equal a one-day turn.

use crate::drivers::OpenAir;
use crate::kinds::ProcessNumbers;

/// How strongly a plot draws.
#[inline]
#[must_use]
pub fn pull(p: &ProcessNumbers, root_area_m: f64, nearness: f64, green_g_m2: f64, insect_warmth: f64) -> f64 {
    let green = p.green_pull * green_g_m2 / (green_g_m2 + p.intake_half);
    root_area_m * nearness * (p.plot_pull + green + p.insect_pull * insect_warmth)
}

/// Nearness of a plot at a distance from the yard, 1 to 0.
#[must_use]
pub fn nearness(p: &ProcessNumbers, distance_m: f64) -> f64 {
    libm::exp(-distance_m / p.distance_scale)
}

/// Bird-days a party spends in each plot and in the yard, from their pulls.
///
/// `pulls` holds every open plot with its pull, which becomes bird-days;
/// returns those in the yard, and in all plots. The rest of the day is spent at house, feed and water.
pub fn share_out(
    pulls: &mut [(usize, f64)],
    yard_pull: f64,
    home_pull: f64,
    ranging: f64,
    air: &OpenAir,
) -> (f64, f64) {
    let total: f64 = home_pull + yard_pull + pulls.iter().map(|(_, pull)| pull).sum::<f64>();
    let per_pull = ranging * air.ranging / total;
    let mut out = 0.0;
    for (_, pull) in pulls.iter_mut() {
        *pull *= per_pull;
        out += *pull;
    }
    (yard_pull * per_pull, out)
}
