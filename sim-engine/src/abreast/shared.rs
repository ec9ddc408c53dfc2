//! What years that run abreast share of their drivers: day by day, lane beside lane.

use super::Year;
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
        for day in 0..first.days {
            numbers.clear();
            years.iter().for_each(|year| list(year, day, &mut numbers));
            let each = numbers.len() / years.len();
            shared.of_day = each * lanes;
            shared.rows.reserve_exact(if day == 0 { first.days * shared.of_day } else { 0 });
            for number in 0..each {
                let of_year = |lane: usize| numbers[lane.min(years.len() - 1) * each + number];
                shared.rows.extend((0..lanes).map(of_year));
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
    for plant in drivers.plants(day) {
        Laned::<f64>::list(plant, 0, &mut put);
    }
}
