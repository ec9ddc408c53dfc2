//! What is watched of a run, and the figures made of it.

use jiff::civil::Date;
use sim_engine::ledger::flows::{Flow, FlowSet, SiteFlow};
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::state::PestHere;
use sim_engine::summary::percent_fewer;
use sim_engine::units::{DAYS_PER_YEAR, KG_HA_PER_G_M2, KG_PER_G};

/// Hours of light of the day of which a bird-day is all.
const BIRD_DAY_H: f64 = 12.0;

/// What lies or stands on a plot, per m².
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stock {
    /// Ground cover, g.
    Cover,
    /// Annual and creeping weeds, g.
    Weeds,
    /// All weeds but one, g.
    WeedsBut(&'static str),
    /// Shoots of one creeping weed, g.
    Creeper(&'static str),
    /// Adults of a pest.
    Adults(&'static str),
    /// Eggs and larvae of a pest above ground.
    Larvae(&'static str),
    /// Worm eggs, ripe or not, relative.
    WormEggs,
}

/// Over which days a stock is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Days {
    /// The mean of the whole run: what traps take.
    Run,
    /// The mean from one day to another.
    Between(Date, Date),
    /// One evening.
    On(Date),
}

/// A figure of a trial, of the runs with birds and without.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Figure {
    /// How much less of it with birds, %.
    Less(Stock, Days),
    /// What there is of it with birds, % of what there is without.
    Left(Stock, Days),
    /// So many times as much of it with birds.
    Times(Stock, Days),
    /// What is left of it, % of what there was on the first evening; without regard to birds.
    Kept(Stock, Date),
    /// Damage by a pest, so many points lower with birds.
    DamageLower(&'static str),
    /// The same, % of the damage without birds.
    DamageLess(&'static str),
    /// Harvest, % more with birds.
    HarvestMore,
    /// Nitrogen leached under birds, kg/ha a year.
    Leached,
    /// Green eaten, g a bird and day.
    GreenEaten,
    /// Feed saved, % of need.
    FeedSaved,
    /// Birds on the plots, % of all, mean over hours of light.
    Out,
    /// Of the birds on the plot those so many metres from its gate, %.
    Away(f64, f64),
    /// Of all droppings (their nitrogen) those that fall outside the house, %.
    DroppedOutside,
}

impl Figure {
    fn stock(&self) -> Option<Stock> {
        match self {
            Figure::Less(stock, _) | Figure::Left(stock, _) | Figure::Times(stock, _) | Figure::Kept(stock, _) => {
                Some(*stock)
            }
            _ => None,
        }
    }

    /// The pest it is about.
    #[must_use]
    pub fn pest(&self) -> Option<&'static str> {
        match self.stock() {
            Some(Stock::Adults(pest) | Stock::Larvae(pest)) => Some(pest),
            _ => match self {
                Figure::DamageLower(pest) | Figure::DamageLess(pest) => Some(pest),
                _ => None,
            },
        }
    }

    /// The weed it is about.
    #[must_use]
    pub fn weed(&self) -> Option<&'static str> {
        match self.stock() {
            Some(Stock::WeedsBut(name) | Stock::Creeper(name)) => Some(name),
            _ => None,
        }
    }

    /// The figure; `NaN` where there is nothing to compare.
    #[must_use]
    pub fn of(&self, with: &Watch, without: &Watch) -> f64 {
        let both = |days: Days| (with.stock_over(days), without.stock_over(days));
        match *self {
            Figure::Less(_, days) => {
                let (with, without) = both(days);
                percent_fewer(with, without)
            }
            Figure::Left(_, days) => {
                let (with, without) = both(days);
                100.0 - percent_fewer(with, without)
            }
            Figure::Times(_, days) => {
                let (with, without) = both(days);
                if without > 0.0 { with / without } else { f64::NAN }
            }
            Figure::Kept(_, date) => {
                100.0 * with.stock_over(Days::On(date)) / with.days.first().copied().unwrap_or(f64::NAN)
            }
            Figure::DamageLower(_) => 100.0 * (without.damage - with.damage),
            Figure::DamageLess(_) => percent_fewer(with.damage, without.damage),
            Figure::HarvestMore => -percent_fewer(with.harvest_kg, without.harvest_kg),
            Figure::Leached => with.leached_kg_ha_yr,
            Figure::GreenEaten => with.green_kg / KG_PER_G / with.bird_days,
            Figure::FeedSaved => 100.0 * with.saved_kg / (with.saved_kg + with.bought_kg),
            Figure::Out => 100.0 * with.out_h / (BIRD_DAY_H * with.bird_days),
            Figure::Away(from_m, to_m) => with.away_percent(from_m, to_m),
            Figure::DroppedOutside => 100.0 * with.outside_kg / with.dropped_kg,
        }
    }
}

/// What was seen of a run of the plot a figure is about.
#[derive(Clone, Debug)]
pub struct Watch {
    figure: Figure,
    plot: usize,
    start: Date,
    days: Vec<f64>,
    bird_days: f64,
    out_h: f64,
    green_kg: f64,
    saved_kg: f64,
    bought_kg: f64,
    damage: f64,
    harvest_kg: f64,
    leached_kg_ha_yr: f64,
    outside_kg: f64,
    dropped_kg: f64,
    /// Share of the birds on the plot in each ring, from the gate.
    rings: Vec<f64>,
    depth_m: f64,
}

impl Watch {
    /// Watches for a figure of a plot.
    #[must_use]
    pub fn new(figure: Figure, plot: usize) -> Self {
        Self {
            figure,
            plot,
            start: Date::ZERO,
            days: Vec::new(),
            bird_days: 0.0,
            out_h: 0.0,
            green_kg: 0.0,
            saved_kg: 0.0,
            bought_kg: 0.0,
            damage: f64::NAN,
            harvest_kg: 0.0,
            leached_kg_ha_yr: 0.0,
            outside_kg: 0.0,
            dropped_kg: 0.0,
            rings: Vec::new(),
            depth_m: 0.0,
        }
    }

    fn stock_over(&self, days: Days) -> f64 {
        let place = |date: Date| usize::try_from(sim_engine::dates::days_between(self.start, date)).ok();
        let range = match days {
            Days::Run => Some(0..self.days.len()),
            Days::Between(from, to) => place(from).zip(place(to)).map(|(from, to)| from..to + 1),
            Days::On(date) => place(date).map(|day| day..day + 1),
        };
        let Some(seen) = range.and_then(|range| self.days.get(range)) else { return f64::NAN };
        seen.iter().sum::<f64>() / seen.len() as f64
    }

    /// Rings are as deep as each other, and birds spread evenly within one.
    fn away_percent(&self, from_m: f64, to_m: f64) -> f64 {
        let deep = self.depth_m / self.rings.len() as f64;
        let of_ring = |(ring, share): (usize, &f64)| {
            let (near, far) = (ring as f64 * deep, (ring + 1) as f64 * deep);
            share * (far.min(to_m) - near.max(from_m)).max(0.0) / deep
        };
        100.0 * self.rings.iter().enumerate().map(of_ring).sum::<f64>()
    }

    /// Mean over the zones of the plot, by area.
    fn over_plot(&self, run: &RunView, of: impl Fn(usize) -> f64) -> f64 {
        let constants = &run.world.constants;
        constants.plots[self.plot].zones.clone().map(|zone| constants.zones[zone].share * of(zone)).sum()
    }

    fn stock(&self, run: &RunView, stock: Stock) -> f64 {
        let site = run.world.site;
        let plot = &site.plots[self.plot];
        let weed = |at: usize| site.weeds[plot.weeds[at].0].name.as_str();
        let creeper = |at: usize| site.creepers[plot.creepers[at].0].name.as_str();
        let weeds = |zone: usize, wanted: &dyn Fn(&str) -> bool| -> f64 {
            let here = run.ground.weeds[run.world.constants.zones[zone].weeds.clone()].iter().enumerate();
            here.filter(|(at, _)| wanted(weed(*at))).map(|(_, weed)| weed.mass()).sum()
        };
        let creepers = |zone: usize, wanted: &dyn Fn(&str) -> bool| -> f64 {
            let here = run.ground.creepers[run.world.constants.zones[zone].creepers.clone()].iter().enumerate();
            here.filter(|(at, _)| wanted(creeper(*at))).map(|(_, plant)| plant.shoots).sum()
        };
        let both = |zone: usize, wanted: &dyn Fn(&str) -> bool| weeds(zone, wanted) + creepers(zone, wanted);
        self.over_plot(run, |zone| {
            let here = &run.ground.zones[zone];
            match stock {
                Stock::Cover => here.cover_mass,
                Stock::Weeds => both(zone, &|_| true),
                Stock::WeedsBut(but) => both(zone, &|name| name != but),
                Stock::Creeper(wanted) => creepers(zone, &|name| name == wanted),
                Stock::Adults(name) => self.pest(run, zone, name).map_or(0.0, |pest| pest.adults),
                Stock::Larvae(name) => self.pest(run, zone, name).map_or(0.0, |pest| pest.above.iter().sum()),
                Stock::WormEggs => [here.worms.frail, here.worms.hardy]
                    .iter()
                    .map(|pool| pool.infective + pool.ripening.iter().sum::<f64>())
                    .sum(),
            }
        })
    }

    fn pest<'r>(&self, run: &RunView<'r, '_>, zone: usize, name: &str) -> Option<&'r PestHere> {
        let site = run.world.site;
        let at = site.plots[self.plot].pests.iter().position(|pest| site.pests[pest.pest].name == name)?;
        run.ground.pests.get(run.world.constants.zones[zone].pests.start + at)
    }

    fn rings(&mut self, run: &RunView) {
        let (constants, plot) = (&run.world.constants, &run.world.site.plots[self.plot]);
        self.rings = vec![0.0; plot.rings];
        for (at, zone) in constants.plots[self.plot].zones.clone().enumerate() {
            self.rings[at / plot.grounds.len()] += constants.zones[zone].share * constants.zones[zone].use_factor;
        }
        self.depth_m = plot.area_m2.sqrt();
    }
}

impl Recorder for Watch {
    fn flows(&self) -> FlowSet {
        FlowSet::of(&[Flow::LeachedN, Flow::ManureN])
    }

    fn reads_ground(&self, _: usize) -> bool {
        self.figure.stock().is_some()
    }

    fn start(&mut self, run: &RunView) {
        self.start = run.world.site.start;
        self.rings(run);
    }

    fn day(&mut self, view: &DayView) {
        if let Some(stock) = self.figure.stock() {
            self.days.push(self.stock(&view.run(), stock));
        }
        self.bird_days += view.birds.birds;
        self.green_kg += view.birds.green_kg;
        self.saved_kg += view.birds.feed_saved_kg;
        self.bought_kg += view.birds.feed_bought_kg;
        let on_plots: f64 = view.world.birds_on.iter().map(|birds| birds.bird_days).sum();
        self.out_h += BIRD_DAY_H * on_plots * BIRD_DAY_H / view.world.drivers.days[view.day].day_length_h;
    }

    fn end(&mut self, run: &RunView) {
        let years = run.world.site.days as f64 / DAYS_PER_YEAR;
        if let Some(name) = self.figure.pest() {
            self.damage = self.over_plot(run, |zone| {
                self.pest(run, zone, name).map_or(f64::NAN, |pest| pest.damage_sum / pest.seasons.max(1.0))
            });
        }
        self.harvest_kg = run.world.harvests[self.plot].iter().map(|harvest| harvest.kept_kg).sum();
        self.leached_kg_ha_yr = self.over_plot(run, |zone| run.flow(zone, Flow::LeachedN)) / years;
        let zones = run.world.constants.zones.iter().enumerate();
        let manure_g: f64 = zones.map(|(at, zone)| run.flow(at, Flow::ManureN) / KG_HA_PER_G_M2 * zone.area_m2).sum();
        self.outside_kg = manure_g * KG_PER_G + run.world.site_flows.get(SiteFlow::YardN);
        self.dropped_kg = run.world.site_flows.get(SiteFlow::DroppedN);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn seen(days: &[f64]) -> Watch {
        let figure = Figure::Less(Stock::Weeds, Days::Run);
        Watch { days: days.to_vec(), start: date(2001, 5, 1), ..Watch::new(figure, 0) }
    }

    #[test]
    fn a_stock_is_taken_over_its_days() {
        let watch = seen(&[1.0, 2.0, 6.0, 11.0]);
        assert_eq!(watch.stock_over(Days::Run), 5.0);
        assert_eq!(watch.stock_over(Days::On(date(2001, 5, 3))), 6.0);
        assert_eq!(watch.stock_over(Days::Between(date(2001, 5, 2), date(2001, 5, 3))), 4.0);
        assert!(watch.stock_over(Days::On(date(2001, 5, 5))).is_nan());
        assert!(watch.stock_over(Days::On(date(2001, 4, 30))).is_nan());
    }

    #[test]
    fn figures_compare_with_the_run_without_birds() {
        let (with, without) = (seen(&[1.0, 2.0]), seen(&[4.0, 8.0]));
        let of = |figure: Figure| figure.of(&with, &without);
        assert_eq!(of(Figure::Less(Stock::Weeds, Days::Run)), 75.0);
        assert_eq!(of(Figure::Left(Stock::Weeds, Days::Run)), 25.0);
        assert_eq!(of(Figure::Times(Stock::Weeds, Days::Run)), 0.25);
        assert_eq!(of(Figure::Kept(Stock::Weeds, date(2001, 5, 2))), 200.0);
        assert!(Figure::Less(Stock::Weeds, Days::Run).of(&with, &seen(&[0.0, 0.0])).is_nan());
        let damaged = |damage| Watch { damage, ..seen(&[]) };
        assert!((Figure::DamageLower("x").of(&damaged(0.15), &damaged(0.2)) - 5.0).abs() < 1e-9);
        assert!((Figure::DamageLess("x").of(&damaged(0.15), &damaged(0.2)) - 25.0).abs() < 1e-9);
    }

    /// Four rings of 25 m: the nearest 10 m hold two fifths of the first ring's birds.
    #[test]
    fn birds_are_spread_evenly_within_a_ring() {
        let watch = Watch { rings: vec![0.5, 0.25, 0.15, 0.1], depth_m: 100.0, ..seen(&[]) };
        let away = |from, to| watch.away_percent(from, to);
        assert!((away(0.0, 10.0) - 20.0).abs() < 1e-9);
        assert!((away(10.0, 50.0) - 55.0).abs() < 1e-9);
        assert!((away(50.0, f64::INFINITY) - 25.0).abs() < 1e-9);
    }
}
