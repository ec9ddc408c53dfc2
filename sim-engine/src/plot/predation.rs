//! The pests of a zone in a step, and the birds after them: hands to every pest (`plot/pests/`) its day.
//!
//! # Formulas
//!
//! ```text
//! share of fallen fruit = what birds eat of it in the step / what lies there         (`plot/bites/fodder.rs`)
//! degree-days of a step = step · (bare + (covered − bare) · cover)       C d, 0 out of season
//! search in the soil    = search per bird-day · diggable · bird-days of the step    m² per m²
//! search at a crossing  = search per bird-day · bare of snow · bird-days of the day  m² per m², emerging and dropping
//! ```
//!
//! Diggable and bare of snow: `bites/pressure.rs`. Cover is the zone's ground cover at the start of the step, 0 to 1. Who leaves the soil or drops meets the birds of
//! the whole day, whatever the step.
//!
//! # Source
//!
//! Form ours: a zone's soil warmth lies between bare and covered ground by its cover (`weather/soil_temperature.rs`). What
//! a bird-day searches is calibrated (`flock/party.rs`).
//!
//! # Limits
//!
//! All birds of a plot search as those of the party do that is there most. A pest lives only on the ground of
//! its hosts: pests of crops in the beds, others everywhere.
//!
//! # Parameters
//!
//! None of its own: those of `plot/pests/` and `flock/party.rs`.

use crate::flock::party::PestSearch;
use crate::plot::context::ZoneContext;
use crate::plot::pests::{self, PestDay, Search};
use crate::simd::Real;
use crate::state::{PestHere, Zone};

/// What the pests of a zone meet in a step.
#[derive(Clone, Copy)]
pub struct Predation<'a, F: Real = f64> {
    /// Degree-days of each pest of the site on bare and on covered ground, whole day.
    pub degree_days: &'a [[F; 2]],
    /// Adults of each pest of the site per m² of host zone, at the start of the step.
    pub mean_adults: &'a [F],
    /// Ground cover at the start of the step, 0 to 1.
    pub cover: F,
    /// Share of the zone birds can reach.
    pub exposed: F,
    /// Share of the zone that is under no net.
    pub open: F,
    /// Bird-days per m², this step.
    pub bird_days: F,
    /// Share of the fallen fruit that birds eat, this step.
    pub fruit: F,
    /// How a bird-day searches for each pest of the site; `None` where no birds are.
    pub search: Option<&'a [PestSearch<F>]>,
}

/// Where a pest stands in its year here.
#[derive(Clone, Copy)]
pub struct PestTimes<F: Real = f64> {
    /// Degree-days are counted.
    pub in_season: F::Mask,
    /// Something it feeds on stands here.
    pub host: F::Mask,
}

/// One step of all pests of a zone; `times` tells of each, by its place in the plot's list.
#[inline(always)]
pub fn step<F: Real>(
    zone: &mut Zone<F>,
    pests: &mut [PestHere<F>],
    context: &ZoneContext<F>,
    predation: &Predation<F>,
    times: &[PestTimes<F>],
) {
    let constants = context.constants;
    let step = context.step();
    let first = context.here.pests.start;
    for (offset, (state, p)) in pests.iter_mut().zip(&context.plot.pests).enumerate() {
        if !constants.pest_lives[first + offset] {
            continue;
        }
        let [bare, covered] = predation.degree_days[p.pest];
        let search = match predation.search {
            Some(search) => {
                let search = &search[p.pest];
                let a_day = predation.bird_days * context.day.bare_of_snow * (1.0 / step);
                Search {
                    soil: search.soil * predation.bird_days * context.day.diggable,
                    emerging_day: search.emerging * a_day,
                    dropping_day: search.dropping * a_day,
                    fruit: predation.fruit,
                }
            }
            None => {
                let none = context.zero();
                Search { soil: none, emerging_day: none, dropping_day: none, fruit: none }
            }
        };
        let PestTimes { in_season, host } = times[offset];
        let day = PestDay {
            params: &context.pests[p.pest],
            of_step: &constants.pests[p.pest],
            reach: constants.pest_reach[p.pest][usize::from(context.here.bed)],
            soil_c: context.day.soil_c,
            search,
            degree_days: ((bare + (covered - bare) * predation.cover) * step).select_or_zero(in_season),
            since_solstice: context.day.since_solstice,
            host,
            mean_adults: predation.mean_adults[p.pest],
            neighbours: constants.neighbours[first + offset],
            host_share: constants.host_shares[first + offset],
            exposed: predation.exposed,
            open: predation.open,
        };
        pests::advance(state, &day, &mut zone.flows);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::PlotPest;
    use crate::species::{Host, Pest};
    use crate::testing::{BED, Garden, SWARD, garden_site, hazard_to_prob, same, sawfly};

    const SEARCH: PestSearch = PestSearch { soil: 1.2, emerging: 0.4, dropping: 1.0 };

    /// One step of the garden's pest on its sward, half covered, under so many bird-days per m².
    fn stepped(garden: &Garden, pest: PestHere, bird_days: f64, in_season: bool) -> (PestHere, Zone) {
        let (mut pests, mut zone) = ([pest], Zone::default());
        let search = [SEARCH];
        let predation = Predation {
            degree_days: &[[12.0, 8.0]],
            mean_adults: &[0.0],
            cover: 0.25,
            exposed: 1.0,
            open: 1.0,
            bird_days,
            fruit: 0.0,
            search: (bird_days > 0.0).then_some(&search),
        };
        step(&mut zone, &mut pests, &garden.zone_context(SWARD), &predation, &[PestTimes { in_season, host: true }]);
        (pests[0], zone)
    }

    /// A garden of this pest whose numbers were changed, in so many steps a day.
    fn garden(steps: u32, change: impl Fn(&mut crate::species::PestParams)) -> Garden {
        let mut site = garden_site();
        site.steps_per_day = steps;
        site.pests[0].params = sawfly();
        change(&mut site.pests[0].params);
        Garden::of(site)
    }

    /// A quarter of the way from bare (12 C d) to covered ground (8): 11 a day, half of it in half a day.
    #[test]
    fn degree_days_lie_between_bare_and_covered_ground() {
        for (steps, want) in [(1, 11.0), (2, 5.5)] {
            same(stepped(&garden(steps, |_| ()), PestHere::default(), 0.0, true).0.age, want);
        }
        assert_eq!(stepped(&garden(1, |_| ()), PestHere::default(), 0.0, false).0.age, 0.0);
    }

    /// Two half-days of search in the soil are one day of it; at a crossing each half-day meets the day's birds.
    #[test]
    fn the_soil_is_searched_by_the_step_and_crossings_by_the_day() {
        for steps in [1, 2] {
            let step = 1.0 / f64::from(steps);
            let garden = garden(steps, |params| params.death_soil = 0.0);
            let resting = PestHere { dropped: 100.0, dropped_near: 40.0, ..PestHere::default() };
            let (pest, zone) = stepped(&garden, resting, 0.3 * step, false);
            same(pest.dropped, 100.0 - 40.0 * hazard_to_prob(1.2 * 0.3 * step));
            same(zone.flows.get(crate::ledger::flows::Flow::PestCaught), 100.0 - pest.dropped);
            // A larva in the last box above ground drops with 6/260 a degree-day.
            let mut grown = PestHere::default();
            grown.above[5] = 100.0;
            let drops = 100.0 * 11.0 * step * 6.0 / 260.0;
            same(stepped(&garden, grown, 0.3 * step, true).0.dropped, drops * (1.0 - hazard_to_prob(0.3)));
            same(stepped(&garden, grown, 0.0, true).0.dropped, drops);
            // Of what rises, 1 − exp(−0.4 · 0.3) is caught.
            let before = PestHere { age: 155.0, overwintered: 100.0, ..PestHere::default() };
            let (alone, hunted) = (stepped(&garden, before, 0.0, true).0, stepped(&garden, before, 0.3 * step, true).0);
            let left_in_soil = hunted.overwintered / alone.overwintered;
            same(hunted.risen, alone.risen * left_in_soil * (1.0 - hazard_to_prob(0.4 * 0.3)));
        }
    }

    /// Pests of crops live in the beds: on the sward nothing happens to them, in the bed they fly in by their own number.
    #[test]
    fn a_pest_of_crops_lives_in_the_beds() {
        let mut site = garden_site();
        let fly = Pest { host: Host::Crops(vec!["daisy family".into()]), ..site.pests[0].clone() };
        site.pests.push(fly);
        site.plots[0].pests.push(PlotPest { pest: 1, start_per_m2: 0.0, neighbours: 10.0, hosts: vec![] });
        let mut garden = Garden::of(site);
        garden.constants.neighbours[1] = 1e3;
        for (ground, want) in [(SWARD, [0.0032, 0.0]), (BED, [0.0032, 0.032])] {
            let mut pests = [PestHere { emerged_share: 0.5, ..PestHere::default() }; 2];
            let (cold, none) = ([[1.0, 1.0]; 2], [0.0; 2]);
            let predation = Predation {
                degree_days: &cold,
                mean_adults: &none,
                cover: 0.5,
                exposed: 1.0,
                open: 1.0,
                bird_days: 0.0,
                fruit: 0.0,
                search: None,
            };
            let times = [PestTimes { in_season: true, host: true }; 2];
            step(&mut Zone::default(), &mut pests, &garden.zone_context(ground), &predation, &times);
            pests.iter().zip(want).for_each(|(pest, want)| same(pest.flown_in, want));
        }
    }
}
