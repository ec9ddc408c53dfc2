//! The pests of a zone in a step, and the birds after them.

use crate::flock::party::PestSearch;
use crate::lanes::Real;
use crate::plot::look::Surroundings;
use crate::plot::pests::{self, PestDay, Search};
use crate::state::{PestHere, Zone};

/// What the pests of a zone meet in a step.
#[derive(Clone, Copy)]
pub struct Hunt<'a, F: Real = f64> {
    /// Degree-days of each pest of the site on bare and on covered ground, whole day.
    pub degree_days: &'a [[F; 2]],
    /// Adults of each pest of the site per m² of host zone, at the start of the step.
    pub mean_adults: &'a [F],
    /// Ground cover at the start of the step, 0 to 1.
    pub cover: F,
    /// Share of the zone birds can reach.
    pub exposed: F,
    /// Bird-days per m², this step.
    pub bird_days: F,
    /// How a bird-day searches for each pest of the site; `None` where no birds are.
    pub search: Option<&'a [PestSearch<F>]>,
}

/// Where a pest stands in its year here.
#[derive(Clone, Copy)]
pub struct Times<F: Real = f64> {
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
    around: &Surroundings<F>,
    hunt: &Hunt<F>,
    times: &[Times<F>],
) {
    let plan = around.plan;
    let step = around.step();
    let first = around.here.pests.start;
    for (offset, (state, p)) in pests.iter_mut().zip(&around.plot.pests).enumerate() {
        if !plan.pest_lives[first + offset] {
            continue;
        }
        let [bare, covered] = hunt.degree_days[p.pest];
        let search = match hunt.search {
            Some(search) => {
                let (search, a_day) = (&search[p.pest], hunt.bird_days * (1.0 / step));
                Search {
                    soil: search.soil * hunt.bird_days,
                    emerging_day: search.emerging * a_day,
                    dropping_day: search.dropping * a_day,
                }
            }
            None => Search { soil: around.zero(), emerging_day: around.zero(), dropping_day: around.zero() },
        };
        let Times { in_season, host } = times[offset];
        let day = PestDay {
            numbers: &around.pests[p.pest],
            of_step: &plan.pests[p.pest],
            search,
            degree_days: ((bare + (covered - bare) * hunt.cover) * step).where_(in_season),
            since_solstice: around.day.since_solstice,
            host,
            mean_adults: hunt.mean_adults[p.pest],
            neighbours: plan.neighbours[first + offset],
            exposed: hunt.exposed,
        };
        pests::advance(state, &day, &mut zone.flows);
    }
}
