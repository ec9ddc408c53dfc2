//! Birds on a zone in a step, as amounts per m², and what snow and frost leave of them.
//!
//! # Formulas
//!
//! ```text
//! bare of snow = max(0, 1 − snow water / snow_hides)                     share of the ground, 0 to 1
//! diggable     = bare of snow where the soil is not frozen, else 0
//! green, wanted, searched for seed, trodden  · bare of snow
//! scratched, searched for insects, slugs and worm eggs  · diggable
//! ```
//!
//! Both shares come with the day (`drivers.rs`); what birds drop falls on snow as on grass.
//!
//! # Source
//!
//! Common practice, no source: under snow birds find no green and no soil, frozen ground they cannot scratch. Soil is
//! frozen below `frozen_below` at 5 cm under grass (`weather/snow.rs`).
//!
//! # Limits
//!
//! Snow lies evenly: no drift, no path swept free. Birds stay out as long as without snow. Frost takes no leaf out of their
//! reach.
//!
//! # Parameters
//!
//! ```text
//! by the day (drivers.rs): snow_hides [mm]
//! ```

use crate::drivers::GroundDay;
use crate::simd::Real;
use crate::simd::soa::soa;

/// Green food asked for by all birds, times the taste of each for a kind of food, g DM/m².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Wants<F = f64> {
    /// Grasses.
    pub grass: F,
    /// Broadleaved plants.
    pub broadleaf: F,
    /// Fallen fruit.
    pub fruit: F,
}

soa! { Wants { grass, broadleaf, fruit } }

impl<F: Real> Wants<F> {
    /// For a share of the day, or more densely.
    #[inline(always)]
    #[must_use]
    pub fn times(&self, factor: F) -> Self {
        Self { grass: self.grass * factor, broadleaf: self.broadleaf * factor, fruit: self.fruit * factor }
    }

    /// Of food of which this share is grass and the rest broadleaved.
    #[inline(always)]
    #[must_use]
    pub fn of_leaf(&self, grass_share: F) -> F {
        self.broadleaf + (self.grass - self.broadleaf) * grass_share
    }
}

impl Wants {
    /// What others want comes to it.
    pub(crate) fn join(&mut self, others: &Self) {
        self.grass += others.grass;
        self.broadleaf += others.broadleaf;
        self.fruit += others.fruit;
    }
}

/// Birds on a zone in a step.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pressure<F = f64> {
    /// Bird-days, per m².
    pub bird_days: F,
    /// Green food asked for, g DM/m².
    pub green: F,
    /// That by the taste for each kind of food.
    pub wants: Wants<F>,
    /// Scratched, m² per m² of zone.
    pub scratched: F,
    /// Searched for insects, m² per m².
    pub insects: F,
    /// Searched for seed, m² per m².
    pub seeds: F,
    /// Cleared of the slugs that are out, m² per m².
    pub slugs: F,
    /// Trodden, m² per m².
    pub trodden: F,
    /// Nitrogen dropped, kg/ha.
    pub n: F,
    /// Phosphorus dropped, kg/ha.
    pub p: F,
    /// Worm eggs shed, per m², relative to `worm_shed`.
    pub shed: F,
    /// Searched for worm eggs, m² per m².
    pub uptake: F,
    /// Nitrogen dropped in a house that stands here, kg/ha, alike in all rings.
    pub house_n: F,
    /// Its phosphorus, kg/ha.
    pub house_p: F,
    /// Its worm eggs, per m², relative to `worm_shed`.
    pub house_shed: F,
}

soa! {
    Pressure {
        bird_days,
        green,
        wants,
        scratched,
        insects,
        seeds,
        slugs,
        trodden,
        n,
        p,
        shed,
        uptake,
        house_n,
        house_p,
        house_shed
    }
}

impl<F: Real> Pressure<F> {
    /// The same birds in a ring that they use so much more than the plot, for a share of the day.
    #[inline(always)]
    #[must_use]
    pub fn in_ring(&self, use_factor: F, step: F) -> Self {
        let mut here = self.times(use_factor * step);
        here.n += self.house_n * step;
        here.p += self.house_p * step;
        here.shed += self.house_shed * step;
        here
    }

    /// The same birds for a share of the day, or more densely.
    #[inline(always)]
    #[must_use]
    pub fn times(&self, factor: F) -> Self {
        Self {
            bird_days: self.bird_days * factor,
            green: self.green * factor,
            wants: self.wants.times(factor),
            scratched: self.scratched * factor,
            insects: self.insects * factor,
            seeds: self.seeds * factor,
            slugs: self.slugs * factor,
            trodden: self.trodden * factor,
            n: self.n * factor,
            p: self.p * factor,
            shed: self.shed * factor,
            uptake: self.uptake * factor,
            house_n: self.house_n * factor,
            house_p: self.house_p * factor,
            house_shed: self.house_shed * factor,
        }
    }

    /// What snow and frost of the day leave of it.
    #[inline(always)]
    #[must_use]
    pub fn through_snow(&self, day: &GroundDay<F>) -> Self {
        Self {
            green: self.green * day.bare_of_snow,
            wants: self.wants.times(day.bare_of_snow),
            scratched: self.scratched * day.diggable,
            insects: self.insects * day.diggable,
            seeds: self.seeds * day.bare_of_snow,
            slugs: self.slugs * day.diggable,
            trodden: self.trodden * day.bare_of_snow,
            uptake: self.uptake * day.diggable,
            ..*self
        }
    }
}

impl Pressure {
    /// Other birds come to these.
    pub(crate) fn join(&mut self, others: &Self) {
        let sums = [
            (&mut self.bird_days, others.bird_days),
            (&mut self.green, others.green),
            (&mut self.scratched, others.scratched),
            (&mut self.insects, others.insects),
            (&mut self.seeds, others.seeds),
            (&mut self.slugs, others.slugs),
            (&mut self.trodden, others.trodden),
            (&mut self.n, others.n),
            (&mut self.p, others.p),
            (&mut self.shed, others.shed),
            (&mut self.uptake, others.uptake),
            (&mut self.house_n, others.house_n),
            (&mut self.house_p, others.house_p),
            (&mut self.house_shed, others.house_shed),
        ];
        for (sum, more) in sums {
            *sum += more;
        }
        self.wants.join(&others.wants);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SOME: Pressure = Pressure {
        bird_days: 1.0,
        green: 2.0,
        wants: Wants { grass: 1.0, broadleaf: 2.0, fruit: 3.0 },
        scratched: 3.0,
        insects: 4.0,
        seeds: 5.0,
        slugs: 14.0,
        trodden: 6.0,
        n: 7.0,
        p: 8.0,
        shed: 9.0,
        uptake: 10.0,
        house_n: 11.0,
        house_p: 12.0,
        house_shed: 13.0,
    };

    /// Pressures are amounts per area: they scale and add up, every one.
    #[test]
    fn pressures_scale_and_add_up() {
        let mut twice = SOME;
        twice.join(&SOME);
        assert_eq!(twice, SOME.times(2.0));
        assert_eq!(twice.times(0.5), SOME);
        assert_eq!(
            [twice.bird_days, twice.green, twice.scratched, twice.insects, twice.seeds],
            [2.0, 4.0, 6.0, 8.0, 10.0]
        );
        assert_eq!([twice.trodden, twice.n, twice.p, twice.shed, twice.uptake], [12.0, 14.0, 16.0, 18.0, 20.0]);
    }

    /// A sward of four fifths grass is wanted by four fifths as grass.
    #[test]
    fn a_mixed_sward_is_wanted_by_its_shares() {
        let wants = Wants { grass: 1.0, broadleaf: 2.0, fruit: 0.0 };
        assert_eq!([1.0, 0.75, 0.0].map(|grass| wants.of_leaf(grass)), [1.0, 1.25, 2.0]);
    }

    /// Half hidden, half is found; on frozen ground nothing is dug, on bare frozen ground leaf is eaten; what is dropped falls.
    #[test]
    fn snow_hides_the_ground_and_frost_shuts_it() {
        let through = |bare_of_snow: f64, diggable: f64| {
            SOME.through_snow(&GroundDay { bare_of_snow, diggable, ..GroundDay::default() })
        };
        assert_eq!(through(1.0, 1.0), SOME);
        let half = Pressure {
            green: 1.0,
            wants: SOME.wants.times(0.5),
            scratched: 1.5,
            insects: 2.0,
            seeds: 2.5,
            slugs: 7.0,
            trodden: 3.0,
            uptake: 5.0,
            ..SOME
        };
        assert_eq!(through(0.5, 0.5), half);
        assert_eq!(through(1.0, 0.0), Pressure { scratched: 0.0, insects: 0.0, slugs: 0.0, uptake: 0.0, ..SOME });
        let deep = through(0.0, 0.0);
        assert_eq!([deep.green, deep.scratched, deep.insects, deep.seeds, deep.trodden, deep.uptake], [0.0; 6]);
        assert_eq!([deep.bird_days, deep.n, deep.p, deep.shed], [1.0, 7.0, 8.0, 9.0]);
    }
}
