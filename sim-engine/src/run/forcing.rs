//! What the runs of a batch read of their drivers, day by day: the ground lane beside lane, birds,
//! gates and keeper run after run.

use crate::drivers::OpenAir;
use crate::run::options::Realization;
use crate::simd::soa::StructOfArrays;

/// The drivers' numbers; those of the ground in rows, one number of each lane in a row. Made once
/// for all strategies.
pub(crate) struct Forcing {
    /// What birds, gates and keeper read of each day, run by run.
    airs: Vec<OpenAir>,
    runs: usize,
    rows: Vec<f64>,
    /// Numbers in a row.
    pub lanes: usize,
    /// Where the first row begins: at a line of the cache.
    first: usize,
    of_day: usize,
}

/// Bytes of a line of the cache.
const LINE: usize = 64;

impl Forcing {
    /// Lists every run's days; lanes past the last run repeat it.
    pub fn new(runs: &[Realization], lanes: usize) -> Self {
        let days = runs[0].0.days;
        let airs_of = |day: usize| runs.iter().map(move |(_, drivers)| OpenAir::of(&drivers.days[day]));
        let airs = (0..days).flat_map(airs_of).collect();
        let mut numbers: Vec<f64> = Vec::new();
        list(&runs[0], 0, &mut numbers);
        let of_day = numbers.len() * lanes;
        let mut rows = vec![0.0; days * of_day + LINE / size_of::<f64>()];
        let first = rows.as_ptr().align_offset(LINE).min(LINE / size_of::<f64>());
        for (day, rows) in rows[first..].chunks_exact_mut(of_day).take(days).enumerate() {
            for lane in 0..lanes {
                numbers.clear();
                list(&runs[lane.min(runs.len() - 1)], day, &mut numbers);
                for (row, &number) in rows.chunks_exact_mut(lanes).zip(&numbers) {
                    row[lane] = number;
                }
            }
        }
        Self { airs, runs: runs.len(), rows, lanes, first, of_day }
    }

    /// The open air of a day, run by run.
    pub fn airs(&self, day: usize) -> &[OpenAir] {
        &self.airs[day * self.runs..(day + 1) * self.runs]
    }

    /// The rows of a day, in the order of [`list`].
    pub fn day(&self, day: usize) -> &[f64] {
        let first = self.first + day * self.of_day;
        &self.rows[first..first + self.of_day]
    }

    /// Calls a share of a day's rows into the cache, a little with each plot, so that the processor
    /// need not wait for all of them at once in the morning.
    pub fn fetch(&self, day: usize, share: usize, shares: usize) {
        let first = self.first + day * self.of_day;
        let part = |share: usize| first + self.of_day * share / shares;
        let rows = self.rows.get(part(share)..part(share + 1)).unwrap_or_default();
        core::hint::black_box(rows.iter().step_by(LINE / size_of::<f64>()).sum::<f64>());
    }
}

/// The numbers of a day: of the ground, of pests, of slugs, of canopies by plot, of plants by slot.
fn list(&(site, drivers): &Realization, day: usize, numbers: &mut Vec<f64>) {
    let mut put = |number: f64| numbers.push(number);
    StructOfArrays::<f64>::list(&drivers.days[day].ground, 0, &mut put);
    for both in drivers.pest_degree_days(day) {
        StructOfArrays::<f64>::list(both, 0, &mut put);
    }
    for slug in drivers.slugs(day) {
        StructOfArrays::<f64>::list(slug, 0, &mut put);
    }
    for plot in 0..site.plots.len() {
        put(drivers.canopy(day, plot).water);
    }
    for (plant, grower) in drivers.plants(day).iter().zip(drivers.growers()) {
        let mut plant = *plant;
        plant.used(grower.plant).for_each(|number| put(*number));
    }
}
