//! A bed laid with all that birds eat.

use super::{Intake, Pressure, Wants, take};
use crate::state::{Creeper, Weed, Zone};
use crate::testing::Garden;

/// Everything a bird finds on the bed, with a third of the zone under guards.
pub struct LaidGround {
    pub garden: Garden,
    pub zone: Zone,
    pub weeds: [Weed; 1],
    pub creepers: [Creeper; 1],
}

pub const EXPOSED: f64 = 2.0 / 3.0;
/// Within reach of each food of [`LaidGround::laid`] where nothing is guarded, g/m², and how readily it is taken:
/// cover, weed, creeper, crop, residue, fruit.
pub const WITHIN: [f64; 6] = [100.0, 54.0, 40.0, 50.0, 30.0, 25.0];
pub const PREFERENCE: [f64; 6] = [1.0, 2.0, 0.8, 1.5, 0.5, 1.0];
/// Torn out per scratching; older weeds.
pub const TORN: [f64; 4] = [0.04, 0.5, 0.08, 0.3];

impl LaidGround {
    pub fn laid() -> Self {
        let zone = Zone {
            cover_mass: 120.0,
            rested: 1.0,
            crowns: 1.0,
            crop: 50.0,
            residue: 30.0,
            residue_n: 6.0,
            residue_p: 0.9,
            dead: 80.0,
            dead_n: 16.0,
            dead_p: 2.0,
            fruit: 25.0,
            fruit_n: 3.0,
            fruit_p: 0.375,
            water: 100.0,
            insects: 0.4,
            ..Zone::default()
        };
        let weed = Weed { ages: [10.0, 20.0, 30.0], deep: 900.0, surface: 100.0, ..Weed::default() };
        let creeper = Creeper { shoots: 45.0, reserve: 70.0, ..Creeper::default() };
        let mut garden = Garden::new();
        garden.constants.species.process.mix_in = 0.0;
        Self { garden, zone, weeds: [weed], creepers: [creeper] }
    }

    pub fn take(&mut self, birds: &Pressure, exposed: f64) -> Intake {
        let context = self.garden.with_crop();
        take(&mut self.zone, &mut self.weeds, &mut self.creepers, birds, exposed, &context)
    }

    /// Cover, weed, creeper, crop, residue, fruit, g/m².
    pub fn foods(&self) -> [f64; 6] {
        let zone = &self.zone;
        [zone.cover_mass, self.weeds[0].mass(), self.creepers[0].shoots, zone.crop, zone.residue, zone.fruit]
    }

    /// What lies or stands, g/m², and its nitrogen, kg/ha (10 kg/ha is 1 g/m²); seeds per m².
    pub fn stocks(&self) -> [f64; 3] {
        let (zone, foods) = (&self.zone, self.foods());
        let mass: f64 = foods.iter().sum::<f64>() + zone.dead + zone.insects;
        let live = [(foods[0], 0.025), (foods[1], 0.03), (foods[2], 0.022), (foods[3], 0.028), (foods[5], 0.012)];
        let live_n: f64 = live.iter().map(|(mass, content)| mass * content * 10.0).sum();
        let soil_n = zone.dead_n + zone.residue_n + zone.fresh_n + zone.mineral_n;
        [mass, live_n + soil_n, self.weeds[0].deep + self.weeds[0].surface]
    }
}

pub fn scratching(scratched: f64) -> Pressure {
    Pressure { scratched, ..Pressure::default() }
}

pub fn asking(green: f64) -> Pressure {
    Pressure { green, wants: Wants { grass: green, broadleaf: green, fruit: green }, ..Pressure::default() }
}
