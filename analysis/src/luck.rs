//! Luck: one weather path, one value of each unknown, one start — the same for every
//! strategy, thread and machine.

use scenarios::SiteModel;
use scenarios::unknowns;
use sim_engine::drivers::Drivers;
use sim_engine::site::Site;
use sim_engine::streams::{stream, uniform};
use sim_engine::weather::DayWeather;

/// What draws are numbered within.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Luck {
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

impl Luck {
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

    /// Rank of every unknown, 0 to 1; all 0.5 in draw 0. Each has a stream named after it.
    #[must_use]
    pub fn ranks(&self, model: &SiteModel, number: u64) -> Vec<f64> {
        if number == 0 {
            return Vec::new();
        }
        let rank = |u: &unknowns::Unknown| {
            let purpose = u.tie.as_ref().unwrap_or(&u.name);
            uniform(&mut stream(self.seed, number, &format!("unknown.{purpose}")))
        };
        model.unknowns.iter().map(rank).collect()
    }
}
