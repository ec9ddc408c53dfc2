//! Numbers of plants, pests, slugs and processes, and those of weeds, pests and slugs resolved for a step.
//!
//! # Formulas
//!
//! ```text
//! mature weeds die : 1 − exp(−death_mature · step)                                                       share a step
//! death in the soil, mixing of a pest : min(1, r · step)                                                share a step
//! a rate a year    : r · step / 365.25                                                                  a step
//! age of a weed    : moves on by 2 / days_to_mature                                                     1/(C d)
//! adult death      = 1 − exp(−(1/adult_life + death_adult) · step)                                      share a step
//! eggs             = eggs_per_adult / adult_life · step                                                 per adult
//! leaves the fruit = 1 − exp(−step / fruit_stay)                                                        share a step
//! boxes of a slug  : 6 / hatch 1/(C d), 6 / growing_up · step                                             at full activity
//! boxes of a pest  : 6 / egg_to_drop, 6 / summer_soil, 6 / before_laying                                             1/(C d)
//! ```
//!
//! # Source
//!
//! Bank of seed, 12 and 32 % a year: Roberts & Feast 1973. Boxes: Manetsch 1976. The rest follows from what a rate is.
//!
//! # Limits
//!
//! Constants hold for a draw: how long adults live and what dies in the soil does not hang on its weather.
//!
//! # Parameters
//!
//! ```text
//! WeedParams  death_mature [1/d], days_to_mature [C d], bank_death [1/yr], bank_death_disturbed [1/yr],
//!              seeds_blown_in [1/m2/yr]
//! PestParams  adult_life [d], death_adult [1/d], death_soil [1/d], death_cold [1/d], death_above_ground [1/d], emergence_spread [C d],
//!              eggs_per_adult [1], before_laying [C d], egg_to_drop [C d], fruit_stay [d], summer_soil [C d], fly_in [1/m/d], mixing [1/d]
//! SlugParams  hatch [C d], growing_up [d], eggs_a_day [1/d], death_egg [1/d], death_young [1/d], death_adult [1/d],
//!              death_dry_egg [1/d], death_dry [1/d], creeps_in [1/m/d]
//! ```

use crate::simd::soa::soa;
use crate::site::Site;
use crate::species::{CoverParams, CreeperParams, CropParams, PestParams, ProcessParams, SlugParams, WeedParams};
use crate::state::PEST_BOXES;
use crate::units::DAYS_PER_YEAR;

/// Numbers of all plants and pests of the site, by index into its lists, and of the processes.
#[derive(Clone, Debug, PartialEq)]
pub struct SpeciesParams<F = f64> {
    /// Ground covers.
    pub covers: Vec<CoverParams<F>>,
    /// Annual weeds.
    pub weeds: Vec<WeedParams<F>>,
    /// Creeping weeds.
    pub creepers: Vec<CreeperParams<F>>,
    /// Crops.
    pub crops: Vec<CropParams<F>>,
    /// Pests.
    pub pests: Vec<PestParams<F>>,
    /// Slugs and snails.
    pub slugs: Vec<SlugParams<F>>,
    /// Processes.
    pub process: ProcessParams<F>,
}

soa! { SpeciesParams { covers, weeds, creepers, crops, pests, slugs, process } }

impl SpeciesParams {
    pub(super) fn new(site: &Site) -> Self {
        Self {
            covers: site.covers.iter().map(|kind| kind.params.clone()).collect(),
            weeds: site.weeds.iter().map(|kind| kind.params.clone()).collect(),
            creepers: site.creepers.iter().map(|kind| kind.params.clone()).collect(),
            crops: site.crops.iter().map(|kind| kind.params.clone()).collect(),
            pests: site.pests.iter().map(|kind| kind.params.clone()).collect(),
            slugs: site.slugs.iter().map(|kind| kind.params.clone()).collect(),
            process: site.process.clone(),
        }
    }
}

/// Constants of an annual weed, resolved for a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeedStep<F = f64> {
    /// Share of mature plants that dies.
    pub dies: F,
    /// Share of an age that moves on, per C d: half way to maturity is one age.
    pub ageing: F,
    /// Share of the bank that dies undisturbed.
    pub bank_death: F,
    /// What it dies more, fully disturbed.
    pub bank_death_disturbed: F,
    /// Seeds blown in, per m².
    pub blown_in: F,
}

soa! { WeedStep { dies, ageing, bank_death, bank_death_disturbed, blown_in } }

impl WeedStep {
    pub(super) fn new(params: &WeedParams, step: f64) -> Self {
        let of_year = step / DAYS_PER_YEAR;
        Self {
            dies: 1.0 - libm::exp(-params.death_mature * step),
            ageing: 1.0 / (0.5 * params.days_to_mature),
            bank_death: params.bank_death * of_year,
            bank_death_disturbed: (params.bank_death_disturbed - params.bank_death) * of_year,
            blown_in: params.seeds_blown_in * of_year,
        }
    }
}

/// Constants of a pest, resolved for a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PestStep<F = f64> {
    /// Share of adults that dies.
    pub adult_death: F,
    /// Rate at which adults that do not lay yet die.
    pub death_waiting: F,
    /// Boxes of that wait passed per C d; 0 where there is none.
    pub waiting_per_degree_day: F,
    /// Share of what is in the soil that dies, besides what birds catch.
    pub death_soil: F,
    /// Share of it that dies more in cold soil.
    pub death_cold: F,
    /// Rate at which eggs and larvae above ground die.
    pub death_above_ground: F,
    /// 1 over the standard deviation of emergence, 1/(C d).
    pub per_spread: F,
    /// Eggs an adult lays.
    pub eggs: F,
    /// Boxes above ground passed per C d.
    pub above_per_degree_day: F,
    /// Share of larvae in fallen fruit that leaves it.
    pub leaves_fruit: F,
    /// Boxes of a summer generation in the soil passed per C d.
    pub summer_per_degree_day: F,
    /// Adults flying in over a metre of edge where neighbours are 'few'.
    pub fly_in: F,
    /// Share of the difference to other plots by which adults mix.
    pub mixing: F,
}

soa! {
    PestStep {
        adult_death, death_waiting, waiting_per_degree_day, death_soil, death_cold, death_above_ground, per_spread, eggs, above_per_degree_day, leaves_fruit,
        summer_per_degree_day, fly_in, mixing,
    }
}

impl PestStep {
    /// Resolves a pest's numbers for a step of so many days.
    #[must_use]
    pub fn new(params: &PestParams, step: f64) -> Self {
        let boxes = PEST_BOXES as f64;
        Self {
            adult_death: 1.0 - libm::exp(-(1.0 / params.adult_life + params.death_adult) * step),
            death_waiting: params.death_adult * step,
            waiting_per_degree_day: if params.before_laying > 0.0 { boxes / params.before_laying } else { 0.0 },
            death_soil: (params.death_soil * step).min(1.0),
            death_cold: (params.death_cold * step).min(1.0),
            death_above_ground: params.death_above_ground * step,
            per_spread: 1.0 / params.emergence_spread,
            eggs: params.eggs_per_adult / params.adult_life * step,
            above_per_degree_day: boxes / params.egg_to_drop,
            leaves_fruit: 1.0 - libm::exp(-step / params.fruit_stay),
            summer_per_degree_day: boxes / params.summer_soil,
            fly_in: params.fly_in * step,
            mixing: (params.mixing * step).min(1.0),
        }
    }
}

/// Constants of a slug or snail, resolved for a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlugStep<F = f64> {
    /// Eggs an adult lays at full activity.
    pub eggs: F,
    /// Boxes of eggs passed per C d.
    pub hatch_per_degree_day: F,
    /// Boxes of young passed at full activity.
    pub growing_up: F,
    /// Rate at which eggs die.
    pub death_egg: F,
    /// Rate at which young die.
    pub death_young: F,
    /// Rate at which adults die.
    pub death_adult: F,
    /// Rate at which eggs die more in dry soil.
    pub death_dry_egg: F,
    /// Rate at which young and adults die more in dry soil.
    pub death_dry: F,
    /// Adults creeping in over a metre of edge at full activity.
    pub creeps_in: F,
}

soa! {
    SlugStep { eggs, hatch_per_degree_day, growing_up, death_egg, death_young, death_adult, death_dry_egg, death_dry, creeps_in }
}

impl SlugStep {
    /// Resolves the numbers of a slug or snail for a step of so many days.
    #[must_use]
    pub fn new(params: &SlugParams, step: f64) -> Self {
        let boxes = PEST_BOXES as f64;
        Self {
            eggs: params.eggs_a_day * step,
            hatch_per_degree_day: boxes / params.hatch,
            growing_up: boxes / params.growing_up * step,
            death_egg: params.death_egg * step,
            death_young: params.death_young * step,
            death_adult: params.death_adult * step,
            death_dry_egg: params.death_dry_egg * step,
            death_dry: params.death_dry * step,
            creeps_in: params.creeps_in * step,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plot::constants::SiteConstants;
    use crate::testing::{same, sawfly, two_plots};

    /// Rates a year are shares of the year's steps: 12 and 32 % of a bank lost are 0.128 and 0.386 a year.
    #[test]
    fn a_weeds_year_is_shared_out_over_its_steps() {
        let of_step = &SiteConstants::new(&two_plots(4)).weeds[0];
        let year = 4.0 * 365.25;
        same(of_step.bank_death * year, 0.128);
        same((of_step.bank_death + of_step.bank_death_disturbed) * year, 0.386);
        same(of_step.blown_in * year, 10.0);
        // Half way to mature, 450 C d, is one age.
        same(of_step.ageing * 450.0, 1.0);
    }

    #[test]
    fn a_pests_rates_are_resolved_for_the_step() {
        let params = sawfly();
        let of_step = PestStep::new(&params, 0.5);
        same(of_step.death_soil, 0.002);
        same(of_step.death_above_ground, 0.0175);
        same(of_step.per_spread * 30.0, 1.0);
        same(of_step.eggs, 25.0 / 10.0 * 0.5);
        same(of_step.above_per_degree_day * 260.0, 6.0);
        same(of_step.leaves_fruit, 1.0 - libm::exp(-0.125));
        same(of_step.summer_per_degree_day * 300.0, 6.0);
        same(of_step.fly_in, 0.004);
        same(of_step.mixing, 0.025);
        // Never more than all.
        let fast = PestStep::new(&PestParams { death_soil: 3.0, mixing: 3.0, ..params }, 0.5);
        assert_eq!((fast.death_soil, fast.mixing), (1.0, 1.0));
    }
}
