//! What years that run abreast share of their drivers: day by day, lane beside lane.

use super::Year;
use crate::drivers::Plant;
use crate::lanes::laned::Laned;
use crate::world::canopy_water;

/// The drivers' numbers in rows, one number of each lane in a row; made once for all strategies.
pub(super) struct Shared {
    rows: Vec<f64>,
    of_day: usize,
}

impl Shared {
    /// Lists every year's days; lanes past the last year repeat it.
    pub fn new(years: &[Year], lanes: usize) -> Self {
        let (first, _) = years[0];
        let mut shared = Self { rows: Vec::new(), of_day: 0 };
        let mut numbers: Vec<f64> = Vec::new();
        list(&years[0], 0, &mut numbers);
        shared.of_day = numbers.len() * lanes;
        shared.rows.resize(first.days * shared.of_day, 0.0);
        for (day, rows) in shared.rows.chunks_exact_mut(shared.of_day).enumerate() {
            for lane in 0..lanes {
                numbers.clear();
                list(&years[lane.min(years.len() - 1)], day, &mut numbers);
                for (row, &number) in rows.chunks_exact_mut(lanes).zip(&numbers) {
                    row[lane] = number;
                }
            }
        }
        shared
    }

    /// The rows of a day, in the order of [`list`].
    pub fn day(&self, day: usize) -> &[f64] {
        &self.rows[day * self.of_day..(day + 1) * self.of_day]
    }
}

/// The numbers of a day: of the ground, of pests, of canopies by plot, of plants by slot.
fn list(&(site, drivers): &Year, day: usize, numbers: &mut Vec<f64>) {
    let mut put = |number: f64| numbers.push(number);
    Laned::<f64>::list(&drivers.days[day].ground, 0, &mut put);
    for both in drivers.pest_degree_days(day) {
        Laned::<f64>::list(both, 0, &mut put);
    }
    for plot in 0..site.plots.len() {
        put(canopy_water(site, drivers, plot, day));
    }
    for (plant, grower) in drivers.plants(day).iter().zip(drivers.growers()) {
        put(plant.growth);
        match grower.plant {
            Plant::Cover(_) => put(plant.dies),
            Plant::Weed(_) => [plant.thermal, plant.dies].into_iter().for_each(&mut put),
            Plant::Creeper(_) => [plant.dies, plant.upkeep].into_iter().for_each(&mut put),
            Plant::Crop(_) => put(plant.thermal),
        }
    }
}
