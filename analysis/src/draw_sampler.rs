//! Luck: one weather path, one value of each unknown, one start — the same for every
//! strategy, thread and machine.
//!
//! Draws come in blocks of [`BLOCK`]: draws 1 to 4, 5 to 8, and so on. In a block every unknown has
//! its rank once in each fourth of its range, in an order of its own (Latin hypercube: McKay,
//! Beckman & Conover 1979, Technometrics 21:239). What an unknown does by itself then nearly
//! cancels out of a block's mean, and fewer draws give an interval of the same width; what that
//! saves, and why weather is drawn plainly, stands in `STATISTICS.md`. A draw hangs on the seed and its
//! number alone, so it is the same whatever order or part of a run it is made in; and each draw
//! by itself has every rank as likely as before. But the draws of a block are not independent:
//! intervals count blocks ([`crate::stats::blocks`]).

use crate::stats::blocks::{BLOCK, place};
use scenarios::SiteModel;
use scenarios::unknowns;
use sim_engine::drivers::Drivers;
use sim_engine::site::Site;
use sim_engine::streams::{stream, uniform};
use sim_engine::weather::DayWeather;

/// What draws are numbered within.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DrawSampler {
    /// Seed of all streams.
    pub seed: u64,
}

/// One possible year (or run of years).
#[derive(Clone, Debug)]
pub struct Draw {
    /// Its number; 0 has every unknown at its likely value.
    pub number: u64,
    /// The site with its unknowns settled.
    pub site: Site,
    /// What weather and calendar decide.
    pub drivers: Drivers,
}

impl DrawSampler {
    /// Draw `number` of a site: weather path and unknowns from streams of their own, so that
    /// a number added to one process changes no other.
    #[must_use]
    pub fn draw(&self, model: &SiteModel, number: u64) -> Draw {
        let weather = model.weather.draw(self.seed, number, model.base.start, model.base.days);
        self.draw_on(model, number, &weather)
    }

    /// The same on given weather (`--weather FILE`).
    #[must_use]
    pub fn draw_on(&self, model: &SiteModel, number: u64, weather: &[DayWeather]) -> Draw {
        let site = unknowns::at(model, &self.ranks(model, number));
        let drivers = Drivers::new(&site, weather);
        Draw { number, site, drivers }
    }

    /// The one or the other.
    #[must_use]
    pub fn draw_under(&self, model: &SiteModel, number: u64, weather: Option<&[DayWeather]>) -> Draw {
        match weather {
            Some(days) => self.draw_on(model, number, days),
            None => self.draw(model, number),
        }
    }

    /// Rank of every unknown, 0 to 1; all 0.5 in draw 0. Each has streams named after it.
    #[must_use]
    pub fn ranks(&self, model: &SiteModel, number: u64) -> Vec<f64> {
        if number == 0 {
            return Vec::new();
        }
        let rank = |u: &unknowns::Unknown| {
            let purpose = u.tie.as_ref().unwrap_or(&u.name);
            spread_out(self.seed, number, purpose)
        };
        model.unknowns.iter().map(rank).collect()
    }
}

/// Rank of what is called `name` in draw `number`, from 1 on: evenly anywhere in one slice of as
/// many as a block has draws, each slice once a block.
#[must_use]
pub fn spread_out(seed: u64, number: u64, name: &str) -> f64 {
    let (block, place) = place(number);
    let within = uniform(&mut stream(seed, number, &format!("unknown.{name}")));
    (slices(seed, block, name)[place] as f64 + within) / BLOCK as f64
}

/// The slices of a block in random order (Fisher & Yates 1938, Durstenfeld 1964).
fn slices(seed: u64, block: u64, name: &str) -> [usize; BLOCK] {
    let mut numbers = stream(seed, block, &format!("latin.{name}"));
    let mut slices = std::array::from_fn(|slice| slice);
    for at in (1..BLOCK).rev() {
        slices.swap(at, (uniform(&mut numbers) * (at + 1) as f64) as usize);
    }
    slices
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Kolmogorov–Smirnov statistic times the root of n: 1.95 is passed by chance once in a thousand.
    fn ks(mut ranks: Vec<f64>) -> f64 {
        ranks.sort_by(f64::total_cmp);
        let n = ranks.len() as f64;
        let off = |(i, &at): (usize, &f64)| (at - i as f64 / n).abs().max(((i + 1) as f64 / n - at).abs());
        ranks.iter().enumerate().map(off).fold(0.0, f64::max) * n.sqrt()
    }

    #[test]
    fn each_place_of_a_block_has_even_ranks() {
        for place in 1..=BLOCK as u64 {
            let numbers = (0..20_000).map(|block| block * BLOCK as u64 + place);
            let ranks: Vec<f64> = numbers.map(|number| spread_out(3, number, "x")).collect();
            assert!(ks(ranks) < 1.95, "place {place}");
        }
    }

    #[test]
    fn a_block_has_every_slice_once() {
        for block in 0..500 {
            let rank = |place: u64| spread_out(9, block * BLOCK as u64 + place, "x");
            let mut seen: Vec<usize> = (1..=BLOCK as u64).map(|p| (rank(p) * BLOCK as f64) as usize).collect();
            seen.sort_unstable();
            assert_eq!(seen, (0..BLOCK).collect::<Vec<_>>());
        }
    }

    /// Unknowns do not go together: no correlation of two ranks beyond five standard errors.
    #[test]
    fn two_unknowns_go_their_own_ways() {
        let n = 40_000;
        let product = |number: u64| (spread_out(5, number, "x") - 0.5) * (spread_out(5, number, "y") - 0.5);
        let correlation = 12.0 * (1..=n).map(product).sum::<f64>() / n as f64;
        assert!(correlation.abs() < 5.0 / (n as f64).sqrt(), "{correlation}");
    }

    /// Pinned on the first build: a change here changes every result a user has.
    #[test]
    fn ranks_are_stable() {
        let got = [1, 2, 3, 4, 5].map(|number| spread_out(7, number, "x").to_bits());
        let pinned = [
            4_606_356_067_915_853_638,
            4_603_325_265_058_670_140,
            4_601_447_172_716_464_835,
            4_596_429_785_788_797_329,
            4_606_727_071_630_862_682,
        ];
        assert_eq!(got, pinned);
    }
}
