//! Energy need of birds and the feed the ground saves. Birds are never starved: what the ground does not give is bought.
//!
//! # Formulas
//!
//! ```text
//! need = max(0, maintenance · W^0.75 · (173 − 1.95 T) + 5.5 · gain + 2.07 · egg mass)        kcal a day
//! ```
//!
//! W is body mass, kg, T air temperature, °C, gain and egg mass in g a day. How much of it the ground gives is reckoned
//! in `birds_day.rs`.
//!
//! # Source
//!
//! NRC 1994, Nutrient Requirements of Poultry, note on laying hens (equation from memory). Maintenance of 1 is a hen's; that of birds
//! kept for meat is set so that they eat what they are known to (library).
//!
//! # Limits
//!
//! An equation for hens in lay, used with a factor for every class of bird. Walking, plumage and wind are not in it. Need falls with every
//! degree of warmth, which no bird's does in heat.
//!
//! # Parameters
//!
//! ```text
//! BirdParams  body_mass [kg], maintenance [-], gain [g/d], egg_mass [g/d]
//! ```

use crate::species::BirdParams;

/// Maintenance · W^0.75 of a bird, kg^0.75: the mass of a hen of the same need.
#[must_use]
pub fn metabolic_mass(bird: &BirdParams) -> f64 {
    bird.maintenance * libm::pow(bird.body_mass, 0.75)
}

/// Metabolisable energy need, kcal a day, of a bird of this [`metabolic_mass`]; gain and egg mass in g a day.
#[inline]
#[must_use]
pub fn need_of_metabolic_mass(metabolic_mass: f64, temperature_c: f64, gain_g_d: f64, egg_g_d: f64) -> f64 {
    (metabolic_mass * (173.0 - 1.95 * temperature_c) + 5.5 * gain_g_d + 2.07 * egg_g_d).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{layer, near};

    fn hen(body_kg: f64) -> BirdParams {
        BirdParams { body_mass: body_kg, ..layer().params }
    }

    fn need_kcal(body_kg: f64, temperature_c: f64, gain_g_d: f64, egg_g_d: f64) -> f64 {
        need_of_metabolic_mass(metabolic_mass(&hen(body_kg)), temperature_c, gain_g_d, egg_g_d)
    }

    /// Half the maintenance is half of what a bird needs that neither grows nor lays.
    #[test]
    fn maintenance_is_a_share_of_a_hens() {
        let (hen, half) = (hen(1.8), BirdParams { maintenance: 0.5, ..hen(1.8) });
        let need = |bird: &BirdParams, gain| need_of_metabolic_mass(metabolic_mass(bird), 12.0, gain, 0.0);
        near(need(&half, 0.0), 0.5 * need(&hen, 0.0), 1e-12);
        near(need(&half, 30.0) - need(&half, 0.0), 165.0, 1e-9);
    }

    #[test]
    fn need_meets_the_worked_values() {
        // NRC 1994 equation, arithmetic recomputed.
        for (w, t, egg, want) in [(1.80, 22.0, 50.0, 305.677), (1.75, 22.0, 50.0, 301.450), (2.0, 10.0, 45.0, 351.305)]
        {
            assert!((need_kcal(w, t, 0.0, egg) - want).abs() < 0.01);
        }
        assert!((need_kcal(1.80, 22.0, 0.0, 50.0) / 2.80 - 109.17).abs() < 0.01);
        for (w, want) in [(1.75, 1.52152), (1.8, 1.55401), (2.0, 1.68179)] {
            assert!((metabolic_mass(&hen(w)) - want).abs() < 1e-5);
        }
    }

    /// Per g and day: 5.5 kcal of gain, 2.07 of egg; a growing bird needs more, a warm one less, none less than nothing.
    #[test]
    fn growth_eggs_and_cold_cost_energy() {
        let need = |temperature_c: f64, gain: f64, egg: f64| need_kcal(1.8, temperature_c, gain, egg);
        near(need(22.0, 10.0, 0.0) - need(22.0, 0.0, 0.0), 55.0, 1e-9);
        near(need(22.0, 0.0, 10.0) - need(22.0, 0.0, 0.0), 20.7, 1e-9);
        near(need(12.0, 0.0, 0.0) - need(22.0, 0.0, 0.0), 19.5 * metabolic_mass(&hen(1.8)), 1e-9);
        assert_eq!(need(100.0, 0.0, 0.0), 0.0);
    }
}
