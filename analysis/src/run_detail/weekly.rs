//! Cover, weeds, pests and nitrogen of every plot, once a week.

use super::zones::zones;
use sim_engine::run::recorder::{DayView, RunView};
use sim_engine::site::Site;

/// Days between two looks.
pub const EVERY_DAYS: usize = 7;

/// What is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Ground cover outside beds, %; NaN of a plot that is all beds.
    Cover,
    /// Weed cover, %.
    Weeds,
    /// Pests resting in the soil, all species, per m² of the ground they live on.
    Pests,
    /// Mineral nitrogen in the root zone, kg/ha.
    Nitrogen,
}

impl Quantity {
    /// All, in the order of pictures.
    pub const ALL: [Quantity; 4] = [Quantity::Cover, Quantity::Weeds, Quantity::Pests, Quantity::Nitrogen];
}

/// The weeks of a run. Kept in single precision: a picture shows no more.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Weekly {
    plots: usize,
    values: Vec<f32>,
}

impl Weekly {
    /// Bytes the weeks of one run take.
    #[must_use]
    pub fn bytes(plots: usize, days: usize) -> usize {
        Self::figures(plots, days) * size_of::<f32>()
    }

    /// Figures of one run.
    fn figures(plots: usize, days: usize) -> usize {
        days.div_ceil(EVERY_DAYS) * plots * Quantity::ALL.len()
    }

    pub(super) fn start(site: &Site) -> Self {
        let plots = site.plots.len();
        Self { plots, values: Vec::with_capacity(Self::figures(plots, site.days)) }
    }

    /// Whether a week's figures are taken in the evening of a day.
    pub(super) fn looks_on(day: usize) -> bool {
        day.is_multiple_of(EVERY_DAYS)
    }

    pub(super) fn day(&mut self, view: &DayView) {
        if !Self::looks_on(view.day) {
            return;
        }
        for plot in 0..self.plots {
            let (world, run) = (view.world, view.run());
            let values = [
                100.0 * world.cover_outside_beds(plot),
                100.0 * world.condition_of(plot).weeds,
                pests(&run, plot),
                nitrogen(&run, plot),
            ];
            self.values.extend(values.map(|value| value as f32));
        }
    }

    /// Weeks kept.
    #[must_use]
    pub fn weeks(&self) -> usize {
        self.values.len() / (self.plots * Quantity::ALL.len()).max(1)
    }

    /// Value of a week; `NaN` where the plot has none of it.
    #[must_use]
    pub fn at(&self, week: usize, plot: usize, quantity: Quantity) -> f64 {
        let index = (week * self.plots + plot) * Quantity::ALL.len() + quantity as usize;
        self.values.get(index).map_or(f64::NAN, |&value| f64::from(value))
    }
}

fn pests(run: &RunView, plot: usize) -> f64 {
    let world = run.world;
    let (mut ground, mut number) = (0.0, 0.0);
    for zone in world.constants.plots[plot].zones.clone() {
        let here = &world.constants.zones[zone];
        let states = &run.ground.pests[here.pests.clone()];
        let lives = &world.constants.pest_lives[here.pests.clone()];
        if lives.contains(&true) {
            ground += here.area_m2;
        }
        for (state, _) in states.iter().zip(lives).filter(|(_, lives)| **lives) {
            number += here.area_m2 * (state.overwintered + state.dropped + state.summer.iter().sum::<f64>());
        }
    }
    if ground > 0.0 { number / ground } else { f64::NAN }
}

fn nitrogen(run: &RunView, plot: usize) -> f64 {
    let zones = zones(run, plot);
    zones.map(|(area, _, zone)| area * zone.mineral_n).sum::<f64>() / run.world.site.plots[plot].area_m2
}
