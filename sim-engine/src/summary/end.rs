//! What a run shows at its end of some of its zones: those of a plot, or all of the site.

use crate::plot::labour::{self, WorkHours};
use crate::plot::pests::damage;
use crate::run::recorder::RunView;
use crate::state::{PestHere, Zone};
use std::ops::Range;

/// Pests of some zones over a run; `NaN` where none can live.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PestFigures {
    /// Adults risen from the zones' own soil, per m² where pests live, a year.
    pub emerged_m2: f64,
    /// Adults flown in, per m² where pests live, a year.
    pub flown_in_m2: f64,
    /// Crop damaged, %: mean over the seasons of each pest, weighted by the area it lives on.
    pub damage_percent: f64,
}

impl PestFigures {
    /// Of a run of so many `years`.
    #[must_use]
    pub fn of(run: &RunView, zones: Range<usize>, years: f64) -> Self {
        let (mut area_m2, mut flown_in, mut damaged) = (0.0, 0.0, 0.0);
        for (area, share, state, pest) in pests_of(run, zones.clone()) {
            let in_season = run.world.in_season(pest);
            let running = if in_season { damage(state, &run.world.site.pests[pest].params, share) } else { 0.0 };
            let seasons = state.seasons + f64::from(u8::from(in_season));
            area_m2 += area;
            flown_in += state.flown_in * area;
            damaged += area * (state.damage_sum + running) / seasons.max(1.0);
        }
        if area_m2 <= 0.0 {
            return Self { emerged_m2: f64::NAN, flown_in_m2: f64::NAN, damage_percent: f64::NAN };
        }
        Self {
            emerged_m2: emerged(run, zones).iter().sum::<f64>() / area_m2 / years,
            flown_in_m2: flown_in / area_m2 / years,
            damage_percent: 100.0 * damaged / area_m2,
        }
    }
}

/// Adults risen from the zones' own soil so far, number by pest of the site.
pub(super) fn emerged(run: &RunView, zones: Range<usize>) -> Vec<f64> {
    let mut numbers = vec![0.0; run.world.site.pests.len()];
    for (area, _, state, pest) in pests_of(run, zones) {
        numbers[pest] += state.risen * area;
    }
    numbers
}

/// Every pest where it can live: area, share of it that its hosts have, state, index into the site's pests.
fn pests_of<'w>(run: &'w RunView, zones: Range<usize>) -> impl Iterator<Item = (f64, f64, &'w PestHere, usize)> {
    let constants = &run.world.constants;
    constants.zones[zones].iter().flat_map(move |here| {
        let states = &run.ground.pests[here.pests.clone()];
        let kinds = here
            .pests
            .clone()
            .map(|at| (constants.pest_lives[at], constants.host_shares[at], constants.pest_kinds[at]));
        let living = states.iter().zip(kinds).filter(|(_, (lives, ..))| *lives);
        living.map(move |(state, (_, share, kind))| (here.area_m2, share, state, kind))
    })
}

/// Slugs and snails of zones over a run of so many days, mean per m² where they live; `NaN` where none do.
#[must_use]
pub fn mean_slugs(run: &RunView, zones: Range<usize>, days: f64) -> f64 {
    let (mut area_m2, mut slug_days) = (0.0, 0.0);
    for here in run.world.constants.zones[zones].iter().filter(|here| !here.slugs.is_empty()) {
        area_m2 += here.area_m2;
        slug_days +=
            here.area_m2 * run.ground.slugs[here.slugs.clone()].iter().map(|slugs| slugs.slug_days).sum::<f64>();
    }
    if area_m2 > 0.0 { slug_days / area_m2 / days } else { f64::NAN }
}

/// How much less than `without`, %; `NaN` of nothing.
#[must_use]
pub fn percent_fewer(now: f64, without: f64) -> f64 {
    if without > 0.0 { 100.0 * (1.0 - now / without) } else { f64::NAN }
}

/// Seeds in the banks of zones.
#[must_use]
pub fn seeds(run: &RunView, zones: Range<usize>) -> f64 {
    let of_zone = |here: &crate::plot::constants::ZoneConstants| {
        let weeds = run.ground.weeds[here.weeds.clone()].iter();
        here.area_m2 * weeds.map(|weed| weed.deep + weed.surface).sum::<f64>()
    };
    run.world.constants.zones[zones].iter().map(of_zone).sum()
}

/// Change a year of what grew from `start` to `end` in so many years, %; `NaN` where there was nothing.
#[must_use]
pub fn yearly_change_percent(start: f64, end: f64, years: f64) -> f64 {
    if start > 0.0 { 100.0 * (libm::pow(end / start, 1.0 / years) - 1.0) } else { f64::NAN }
}

/// Sum over zones of a state per m².
#[must_use]
pub fn total(run: &RunView, zones: Range<usize>, of: fn(&Zone) -> f64) -> f64 {
    let areas = run.world.constants.zones[zones.clone()].iter().map(|here| here.area_m2);
    run.ground.zones[zones].iter().zip(areas).map(|(zone, area_m2)| of(zone) * area_m2).sum()
}

/// Hours of the keeper's work on a plot so far; what was thrown out of beds is shovelled back, whenever that is.
pub(super) fn work(run: &RunView, plot: usize) -> WorkHours {
    let thrown_kg = total(run, run.world.constants.plots[plot].zones.clone(), |zone| zone.thrown);
    WorkHours { shovelling: labour::shovelling(&run.world.site.process, thrown_kg), ..run.world.work[plot] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::same;

    #[test]
    fn a_bank_that_doubles_in_two_years_grows_by_forty_one_per_cent_a_year() {
        same(yearly_change_percent(500.0, 1000.0, 2.0), 100.0 * (core::f64::consts::SQRT_2 - 1.0));
        assert!(yearly_change_percent(0.0, 10.0, 1.0).is_nan());
    }

    #[test]
    fn a_quarter_of_them_is_three_quarters_fewer() {
        same(percent_fewer(5.0, 20.0), 75.0);
        same(percent_fewer(30.0, 20.0), -50.0);
        assert!(percent_fewer(1.0, 0.0).is_nan());
    }
}
