//! Constants of a site: of all zones, plots and species, and which pest lives where.
//!
//! # Formulas
//!
//! ```text
//! a rate r, 1/d    : share of a step 1 − exp(−r · step);  of a share u a day: 1 − (1 − u)^step
//! share of a pest  = area of its zone / area of all zones it lives on
//! ```
//!
//! # Source
//!
//! Follows from what a rate and a share are.
//!
//! # Limits
//!
//! Constants hold for a draw. A pest of crops lives in every bed, whether a host ever stands there or not.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams uptake_share [-], settling [1/d], firm_loosening [1/d], residue_fall [1/d], seed_deepening [1/d],
//!                leaching_depth_water [mm]
//! ```

use super::canopy::CanopyStep;
use super::plot::PlotConstants;
use super::species::{PestStep, SlugStep, SpeciesParams, WeedStep};
use super::zone::{ZoneConstants, ring_use};
use crate::plot::pests::Reach;
use crate::simd::soa::soa;
use crate::site::{Plot, Site};
use crate::species::{CropPlant, Host, Pest};

/// Constants of all zones and the shares of constant hazards in a step.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteConstants<F = f64> {
    /// Numbers of plants, pests and processes.
    pub species: SpeciesParams<F>,
    /// Zones in the order plot, ring, ground.
    pub zones: Vec<ZoneConstants<F>>,
    /// Plots.
    pub plots: Vec<PlotConstants>,
    /// Of each annual weed of the site.
    pub weeds: Vec<WeedStep<F>>,
    /// What each canopy of each plot asks of the soil and drops, plot after plot.
    pub canopies: Vec<CanopyStep<F>>,
    /// Of each pest of the site.
    pub pests: Vec<PestStep<F>>,
    /// Of each slug or snail of the site.
    pub slugs: Vec<SlugStep<F>>,
    /// Share of each pest of the site within the layer birds scratch, in the sward and in a bed.
    pub pest_reach: Vec<[Reach<F>; 2]>,
    /// Adults of each pest of the zones' lists round about, against 'few' = 1, times the plot's edge per area, 1/m.
    pub neighbours: Vec<F>,
    /// Share of its zone's ground the hosts of each pest of the zones' lists have.
    pub host_shares: Vec<F>,
    /// Whether each pest of the zones' lists lives on its zone's ground at all.
    pub pest_lives: Vec<bool>,
    /// Which pest of the site each of the zones' lists is.
    pub pest_kinds: Vec<usize>,
    /// Share its zone has of all ground that pest lives on.
    pub pest_shares: Vec<F>,
    /// Zones with a crop that ends when it is ripe.
    pub ripening: Vec<usize>,
    /// Where each plot's pests are watched for rising: their first host zone.
    pub watched: Vec<Watched>,
    /// Whether each pest of the site feeds on canopies.
    pub canopy_pests: Vec<bool>,
    /// Whether a pest (first index) feeds on a crop (second), both of the site.
    pub pest_eats: Vec<Vec<bool>>,
    /// Step, days.
    pub step: f64,
    /// Most of the mineral nitrogen that plants can take in a step.
    pub uptake_share: F,
    /// Disturbance kept a step.
    pub settle_keep: F,
    /// Firmness kept a step.
    pub firm_keep: F,
    /// Residue that falls a step.
    pub residue_falls: F,
    /// Surface seed that sinks a step.
    pub seed_sinks: F,
    /// 1 over the water that holds the root zone's nitrate, 1/mm.
    pub per_nitrate_water: F,
}

soa! {
    SiteConstants {
        species, zones, weeds, canopies, pests, slugs, pest_reach, neighbours, host_shares, pest_shares, uptake_share, settle_keep, firm_keep,
        residue_falls, seed_sinks, per_nitrate_water,
    }
    plain {
        canopy_pests, plots, pest_lives, pest_kinds, ripening, watched, pest_eats,
        step,
    }
}

/// A pest of a plot, at the first zone it lives in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Watched {
    /// Index into `Site::plots`.
    pub plot: usize,
    /// Index into `Site::pests`.
    pub pest: usize,
    /// Index into the world's list of pests.
    pub at: usize,
}

impl SiteConstants {
    /// Resolves the site's numbers.
    #[must_use]
    pub fn new(site: &Site) -> Self {
        let step = 1.0 / f64::from(site.steps_per_day);
        let p = &site.process;
        let share = |rate: f64| 1.0 - libm::exp(-rate * step);
        let mut constants = Self {
            species: SpeciesParams::new(site),
            zones: Vec::new(),
            plots: Vec::new(),
            weeds: site.weeds.iter().map(|w| WeedStep::new(&w.params, step)).collect(),
            canopies: Vec::new(),
            pests: site.pests.iter().map(|p| PestStep::new(&p.params, step)).collect(),
            slugs: site.slugs.iter().map(|slug| SlugStep::new(&slug.params, step)).collect(),
            pest_reach: site.pests.iter().map(|pest| Reach::by_ground(&pest.params, p)).collect(),
            neighbours: Vec::new(),
            host_shares: Vec::new(),
            pest_lives: Vec::new(),
            pest_kinds: Vec::new(),
            pest_shares: Vec::new(),
            ripening: Vec::new(),
            watched: Vec::new(),
            canopy_pests: site.pests.iter().map(|pest| matches!(pest.host, Host::Canopy)).collect(),
            pest_eats: site.pests.iter().map(|pest| site.crops.iter().map(|crop| eats(pest, crop)).collect()).collect(),
            step,
            uptake_share: 1.0 - libm::pow(1.0 - p.uptake_share, step),
            settle_keep: 1.0 - share(p.settling),
            firm_keep: 1.0 - share(p.firm_loosening),
            residue_falls: share(p.residue_fall),
            seed_sinks: share(p.seed_deepening),
            per_nitrate_water: 1.0 / p.leaching_depth_water,
        };
        for plot in 0..site.plots.len() {
            constants.push_plot(site, plot);
        }
        constants.share_out_pests(site);
        constants
    }

    /// Finds each zone's share of the ground its pests live on.
    fn share_out_pests(&mut self, site: &Site) {
        let area = |zone: &ZoneConstants| zone.pests.clone().map(|_| zone.area_m2).collect::<Vec<_>>();
        self.pest_shares = self.zones.iter().flat_map(area).collect();
        let mut all_m2 = vec![0.0; site.pests.len()];
        for ((share, &kind), &lives) in self.pest_shares.iter_mut().zip(&self.pest_kinds).zip(&self.pest_lives) {
            *share *= f64::from(u8::from(lives));
            all_m2[kind] += *share;
        }
        for (share, &kind) in self.pest_shares.iter_mut().zip(&self.pest_kinds) {
            *share = if all_m2[kind] > 0.0 { *share / all_m2[kind] } else { 0.0 };
        }
    }

    fn push_plot(&mut self, site: &Site, index: usize) {
        let plot = &site.plots[index];
        let first = self.zones.len();
        let use_factors = ring_use(site, index);
        for factor in use_factors {
            for ground in 0..plot.grounds.len() {
                let zone = ZoneConstants::new(site, (index, ground), factor, self.step, self.zones.last());
                if plot.grounds[ground].crops.iter().any(|crop| crop.ends_when_ripe) {
                    self.ripening.push(self.zones.len());
                }
                let edge = super::plot::edge_per_area(plot.area_m2);
                self.neighbours.extend(plot.pests.iter().map(|p| p.neighbours * edge));
                self.host_shares.extend(plot.pests.iter().map(|p| plot.host_share(p)));
                self.pest_kinds.extend(plot.pests.iter().map(|p| p.pest));
                self.pest_lives.extend(plot.pests.iter().map(|p| lives_on(&site.pests[p.pest], zone.bed)));
                self.zones.push(zone);
            }
        }
        self.watch(site, index, first);
        let canopies = self.canopies.len();
        self.canopies.extend(plot.canopies.iter().map(|canopy| CanopyStep::new(site, canopy, self.step)));
        self.plots.push(PlotConstants::new(site, index, first..self.zones.len(), canopies..self.canopies.len()));
    }

    /// Finds where each pest of a plot whose zones begin at `first` lives first.
    fn watch(&mut self, site: &Site, plot: usize, first: usize) {
        for (offset, p) in site.plots[plot].pests.iter().enumerate() {
            let mut places = self.zones[first..].iter().map(|zone| zone.pests.start + offset);
            if let Some(at) = places.find(|&at| self.pest_lives[at]) {
                self.watched.push(Watched { plot, pest: p.pest, at });
            }
        }
    }
}

impl<F> SiteConstants<F> {
    /// Whether something a pest feeds on stands in a zone of `plot` where this crop of the site stands.
    #[inline(always)]
    #[must_use]
    pub fn feeds(&self, plot: &Plot, pest: usize, crop: Option<usize>) -> bool {
        crop.is_some_and(|crop| self.pest_eats[pest][crop]) || (!plot.canopies.is_empty() && self.canopy_pests[pest])
    }
}

/// Pests of crops live in the beds, others everywhere.
fn lives_on(pest: &Pest, bed: bool) -> bool {
    match pest.host {
        Host::Canopy => true,
        Host::Crops(_) => bed,
    }
}

fn eats(pest: &Pest, crop: &CropPlant) -> bool {
    match &pest.host {
        Host::Canopy => false,
        Host::Crops(families) => families.contains(&crop.family),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plot::recovery::recovery_per_growth;
    use crate::testing::{hazard_to_prob, same, two_plots};
    use core::ops::Range;

    /// What a rate takes in the steps of a day is what it takes in a day.
    #[test]
    fn the_steps_of_a_day_make_the_day() {
        for steps in [1, 2, 4] {
            let constants = SiteConstants::new(&two_plots(steps));
            let of_day = |share: f64| 1.0 - libm::pow(1.0 - share, f64::from(steps));
            same(constants.step * f64::from(steps), 1.0);
            same(of_day(constants.uptake_share), 0.6);
            same(of_day(1.0 - constants.settle_keep), hazard_to_prob(0.04));
            same(of_day(1.0 - constants.firm_keep), hazard_to_prob(0.015));
            same(of_day(constants.residue_falls), hazard_to_prob(0.008));
            same(of_day(constants.seed_sinks), hazard_to_prob(0.02));
            same(of_day(constants.zones[0].drained), hazard_to_prob(0.5));
            same(of_day(constants.weeds[0].dies), hazard_to_prob(0.03));
            same(of_day(constants.pests[0].adult_death), hazard_to_prob(0.1 + 0.02));
            same(constants.zones[0].recovery * f64::from(steps), recovery_per_growth(22.0));
            same(constants.per_nitrate_water * 135.0, 1.0);
        }
    }

    #[test]
    fn zones_stand_in_the_order_plot_ring_ground_and_make_up_their_plot() {
        let constants = SiteConstants::new(&two_plots(1));
        let of = |zone: &ZoneConstants| (zone.plot, zone.ground, zone.bed, zone.area_m2, zone.share);
        let got: Vec<_> = constants.zones.iter().map(of).collect();
        let ring = [(0, 0, false, 37.5, 0.375), (0, 1, true, 12.5, 0.125)];
        assert_eq!(got, [ring[0], ring[1], ring[0], ring[1], (1, 0, true, 50.0, 1.0)]);
        // Seen over the gate is the sward, or the bed where there is nothing else.
        let seen: Vec<_> = constants.zones.iter().map(|zone| (zone.seen, zone.seen_share)).collect();
        assert_eq!(seen, [(true, 0.5), (false, 0.0), (true, 0.5), (false, 0.0), (true, 1.0)]);
        let zones: Vec<_> = constants.plots.iter().map(|plot| plot.zones.clone()).collect();
        assert_eq!(zones, [0..4, 4..5]);
    }

    #[test]
    fn every_zone_has_its_own_part_of_the_lists() {
        let constants = SiteConstants::new(&two_plots(1));
        let starts =
            |of: fn(&ZoneConstants) -> &Range<usize>| constants.zones.iter().map(|z| of(z).clone()).collect::<Vec<_>>();
        assert_eq!(starts(|z| &z.weeds), [0..1, 1..2, 2..3, 3..4, 4..6]);
        assert_eq!(starts(|z| &z.creepers), [0..1, 1..2, 2..3, 3..4, 4..4]);
        assert_eq!(starts(|z| &z.pests), [0..2, 2..4, 4..6, 6..8, 8..9]);
        assert_eq!(constants.pest_kinds, [0, 1, 0, 1, 0, 1, 0, 1, 1]);
        // 100 m² have 0.4 m of edge a m², 50 m² 0.57.
        let want = [0.4, 1.2, 0.4, 1.2, 0.4, 1.2, 0.4, 1.2, 12.0 / f64::sqrt(50.0)];
        constants.neighbours.iter().zip(want).for_each(|(of, want)| same(*of, want));
        assert_eq!(constants.ripening, [4]);
    }

    /// A pest of trees lives all over a plot, one of crops in the beds; its shares of all its ground add up to 1.
    #[test]
    fn pests_live_where_their_hosts_grow() {
        let constants = SiteConstants::new(&two_plots(1));
        assert_eq!(constants.pest_lives, [true, false, true, true, true, false, true, true, true]);
        let want = [0.375, 0.0, 0.125, 1.0 / 6.0, 0.375, 0.0, 0.125, 1.0 / 6.0, 2.0 / 3.0];
        constants.pest_shares.iter().zip(want).for_each(|(share, want)| same(*share, want));
        let watched = |plot, pest, at| Watched { plot, pest, at };
        assert_eq!(constants.watched, [watched(0, 0, 0), watched(0, 1, 3), watched(1, 1, 8)]);
        // However small their ground is.
        let mut site = two_plots(1);
        site.plots.truncate(1);
        site.plots[0].area_m2 = 3.0;
        let shares = SiteConstants::new(&site).pest_shares;
        [0.0, 0.5, 0.0, 0.5].iter().zip(shares.iter().skip(1).step_by(2)).for_each(|(want, share)| same(*share, *want));
        // One whose ground is nowhere has no share of it.
        let mut site = two_plots(1);
        site.plots.truncate(1);
        site.plots[0].grounds.truncate(1);
        let constants = SiteConstants::new(&site);
        assert_eq!((constants.pest_lives, constants.pest_shares[1]), (vec![true, false, true, false], 0.0));
        assert_eq!(constants.watched, [watched(0, 0, 0)]);
    }

    /// What flies in over the edge is spread over the plot: per m² it falls with the root of the area.
    #[test]
    fn arrivals_per_area_fall_with_the_root_of_the_area() {
        let of = |area_m2: f64| {
            let mut site = two_plots(1);
            site.plots[0].area_m2 = area_m2;
            SiteConstants::new(&site).neighbours[0]
        };
        same(of(25.0), 2.0 * of(100.0));
        same(of(10_000.0), 0.1 * of(100.0));
        same(of(100.0) * 100.0, 40.0);
    }

    #[test]
    fn pests_feed_on_their_hosts_alone() {
        let mut site = two_plots(1);
        site.crops.push(CropPlant { family: "bean family".into(), ..site.crops[0].clone() });
        let constants = SiteConstants::new(&site);
        assert_eq!(constants.canopy_pests, [true, false]);
        assert_eq!(constants.pest_eats, [[false, false], [true, false]]);
        let [garden, far] = &site.plots[..] else { panic!("two plots") };
        let feeds =
            |pest: usize, crop: Option<usize>| [constants.feeds(garden, pest, crop), constants.feeds(far, pest, crop)];
        assert_eq!(feeds(0, None), [true, false]);
        assert_eq!(feeds(0, Some(0)), [true, false]);
        assert_eq!([feeds(1, None), feeds(1, Some(0)), feeds(1, Some(1))], [[false; 2], [true; 2], [false; 2]]);
    }
}
