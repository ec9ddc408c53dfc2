//! Where the birds' day goes.
//!
//! # Formulas
//!
//! ```text
//! birds at a distance x ∝ 1/(1 + x/distance_scale)²                                                 per m of the way
//! reach          = N(distance + √area) − N(distance),   N(x) = x / (1 + x/distance_scale)             m
//! pull of a plot = reach · (plot_pull + green_pull · G/(G + intake_half) + insect_pull · warmth)      m
//! bird-days      = birds that go out · ranging · Σ part · pull / (home_pull + yard's pull + Σ pulls of the gates open in it)
//! ```
//!
//! A day is cut into parts where a gate opens or shuts; `part` is its share of the day's ranging (`activity.rs`), 1 where all
//! gates are open from dawn to dusk. G is the green on the plot, g/m²; warmth that of insect life, 0 to 1; `ranging` is day
//! length over 12 h, within bounds, times the factors of rain, heat and cold (of the day: `drivers.rs`). The yard pulls by
//! `yard_pull` · its reach, and what is left of the day is spent at house, feed and water.
//!
//! # Source
//!
//! Distance: the one form that carries two sources of which an exponential fall carries either: 43, 34 and 22 % of the birds
//! outdoors on six UK farms within 10, at 10 to 50 and beyond 50 m (told in Larsen et al. 2017, Animals 7:21; a scale of 13 m
//! gives 43, 36 and 21 %), and droppings of 6 and 1.3 g/m²/h at 2 and 17 m (University of Göttingen, three farms, reported
//! 2007; 11 m gives their 4.6 times). Form ours, calibrated to both.
//!
//! # Limits
//!
//! Birds remember nothing and follow no leader. A plot reaches in by the root of its area, whatever its form.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  green_pull [-], intake_half [g/m2], plot_pull [-], insect_pull [-], distance_scale [m]
//!                 by the birds (birds_day.rs): home_pull [m], yard_pull [-]
//! ```

use crate::species::ProcessParams;

/// How strongly a plot draws.
#[inline]
#[must_use]
pub fn pull(p: &ProcessParams, reach_m: f64, green_g_m2: f64, insect_warmth: f64) -> f64 {
    let green = p.green_pull * green_g_m2 / (green_g_m2 + p.intake_half);
    reach_m * (p.plot_pull + green + p.insect_pull * insect_warmth)
}

/// Metres of ground near the house that a stretch from a distance on is worth to birds, which thin out with distance:
/// all its metres at the house, `distance_scale` at most.
#[inline]
#[must_use]
pub fn reach_m(p: &ProcessParams, distance_m: f64, into_m: f64) -> f64 {
    let within = |x: f64| x / (1.0 + x / p.distance_scale);
    within(distance_m + into_m) - within(distance_m)
}

/// An open gate and how it draws a party.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenGate {
    /// Index of its plot.
    pub plot: usize,
    /// Its pull, m.
    pub pull: f64,
    /// Share of the day's ranging that is over when it opens.
    pub from: f64,
    /// Share of the day's ranging that is over when it shuts.
    pub to: f64,
    /// Bird-days of the party there.
    pub bird_days: f64,
}

/// Shares a party's day out: writes its bird-days behind every gate, returns those in the yard and those in all plots.
/// The rest of the day is spent at house, feed and water.
///
/// `cuts` is room to reckon in: the gates' openings and shuttings.
pub fn share_out(
    gates: &mut [OpenGate],
    cuts: &mut Vec<f64>,
    yard_pull: f64,
    home_pull: f64,
    birds: f64,
) -> (f64, f64) {
    cuts.clear();
    cuts.extend([0.0, 1.0]);
    cuts.extend(gates.iter().flat_map(|gate| [gate.from, gate.to]));
    cuts.sort_unstable_by(f64::total_cmp);
    cuts.dedup();
    let (mut in_yard, mut out) = (0.0, 0.0);
    for part in cuts.windows(2) {
        let open = |gate: &OpenGate| gate.from <= part[0] && part[1] <= gate.to;
        let pulls: f64 = gates.iter().filter(|gate| open(gate)).map(|gate| gate.pull).sum();
        let per_pull = (part[1] - part[0]) * birds / (home_pull + yard_pull + pulls);
        for gate in gates.iter_mut().filter(|gate| open(gate)) {
            let here = gate.pull * per_pull;
            gate.bird_days += here;
            out += here;
        }
        in_yard += yard_pull * per_pull;
    }
    (in_yard, out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{ample, near, same};

    fn pulls() -> ProcessParams {
        ProcessParams { plot_pull: 0.35, green_pull: 1.0, insect_pull: 0.3, distance_scale: 20.0, ..ample(60.0) }
    }

    /// A bare plot draws by its reach; green adds half of its pull at 60 g/m², insects theirs by warmth.
    #[test]
    fn reach_green_and_insects_draw_birds() {
        let p = pulls();
        same(pull(&p, 10.0, 0.0, 0.0), 3.5);
        same(pull(&p, 10.0, 60.0, 0.0), 8.5);
        same(pull(&p, 10.0, 120.0, 0.0), 3.5 + 10.0 * 2.0 / 3.0);
        same(pull(&p, 10.0, 0.0, 0.5), 5.0);
    }

    /// A stretch of 20 m from the house on is worth 10 m at a scale of 20; as much again lies between 20 m and infinity.
    #[test]
    fn birds_thin_out_with_distance() {
        let p = pulls();
        near(reach_m(&p, 0.0, 0.01), 0.01, 1e-5);
        same(reach_m(&p, 0.0, 20.0), 10.0);
        near(reach_m(&p, 20.0, 1e9), 10.0, 1e-6);
        // A quarter of the density at one scale.
        near(reach_m(&p, 20.0, 1e-3) / reach_m(&p, 0.0, 1e-3), 0.25, 1e-4);
        same(reach_m(&p, 3.0, 4.0) + reach_m(&p, 7.0, 5.0), reach_m(&p, 3.0, 9.0));
    }

    /// Both sources of the scale: shares by ring of six farms (Larsen et al. 2017) and droppings at 2 and 17 m (Göttingen).
    #[test]
    fn one_form_carries_both_sources_of_distance() {
        let p = ProcessParams { distance_scale: 12.0, ..pulls() };
        let share = |from: f64, to: f64| 100.0 * reach_m(&p, from, to - from) / p.distance_scale;
        for ((from, to), farms) in [((0.0, 10.0), 43.2), ((10.0, 50.0), 34.4), ((50.0, 1e9), 22.4)] {
            near(share(from, to), farms, 4.0);
        }
        near(share(2.0, 2.001) / share(17.0, 17.001), 6.0 / 1.3, 0.4);
    }

    const fn gate(plot: usize, pull: f64, from: f64, to: f64) -> OpenGate {
        OpenGate { plot, pull, from, to, bird_days: 0.0 }
    }

    /// Nine birds: shares of 2 (home), 1 (yard), 4 and 1 (plots) of 8; the time at home is the rest.
    #[test]
    fn the_day_is_shared_out_by_pull() {
        let mut gates = [gate(0, 4.0, 0.0, 1.0), gate(3, 1.0, 0.0, 1.0)];
        let (in_yard, out) = share_out(&mut gates, &mut Vec::new(), 1.0, 2.0, 9.0);
        same(in_yard, 9.0 / 8.0);
        same(out, 9.0 * 5.0 / 8.0);
        same(gates[0].bird_days, 4.5);
        same(gates[1].bird_days, 1.125);
        // With every gate shut all of it is yard and home.
        let (in_yard, out) = share_out(&mut [], &mut Vec::new(), 1.0, 2.0, 9.0);
        same(in_yard, 3.0);
        assert_eq!(out, 0.0);
    }

    /// One gate for the last quarter, one for the last half: 5/8 of the last quarter is out, 1/4 of the one before.
    #[test]
    fn a_gate_draws_while_it_is_open() {
        let mut gates = [gate(0, 4.0, 0.75, 1.0), gate(3, 1.0, 0.5, 1.0)];
        let (in_yard, out) = share_out(&mut gates, &mut Vec::new(), 1.0, 2.0, 8.0);
        same(gates[0].bird_days, 0.25 * 8.0 * 4.0 / 8.0);
        same(gates[1].bird_days, 0.25 * 8.0 * (1.0 / 8.0 + 1.0 / 4.0));
        same(out, gates[0].bird_days + gates[1].bird_days);
        same(in_yard, 8.0 * (0.5 / 3.0 + 0.25 / 4.0 + 0.25 / 8.0));
    }
}
