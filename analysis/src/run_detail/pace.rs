//! Stays, rests, cleaning up after crops and the harvest that the waiting period allows.

use jiff::civil::Date;
use sim_engine::dates::date_of;
use sim_engine::run::recorder::DayView;
use sim_engine::site::{HarvestWindow, Site, When};

/// Share of a crop's residue that may be left when its bed counts as cleaned up (common
/// practice, no source).
const CLEAN_BELOW: f64 = 0.1;

/// What is kept in mind of a plot's days.
#[derive(Clone, Debug)]
pub(super) struct Pace {
    pub stays: f64,
    pub longest_stay: f64,
    pub shortest_rest: f64,
    /// First harvest birds went before: day from which the waiting period allows it.
    pub harvest_allowed: f64,
    waits: Waits,
    stay: f64,
    last_in: Option<usize>,
    /// Day a crop ended, and its residue that evening once known, kg.
    pending: Option<(usize, f64)>,
    cleaned: (f64, f64),
    /// Day of the run on which the first clean-up was done.
    pub first_cleaned: f64,
}

impl Pace {
    /// For a plot before the first day.
    pub fn of(site: &Site, plot: usize) -> Self {
        Self {
            stays: 0.0,
            longest_stay: 0.0,
            shortest_rest: f64::NAN,
            harvest_allowed: f64::NAN,
            waits: Waits::of(site, plot),
            stay: 0.0,
            last_in: None,
            pending: None,
            cleaned: (0.0, 0.0),
            first_cleaned: f64::NAN,
        }
    }

    pub fn crop_ended(&mut self, day: usize) {
        self.pending = Some((day, f64::NAN));
    }

    pub fn harvest_begins(&mut self, day: usize) {
        if let (Some(last), true) = (self.last_in, self.harvest_allowed.is_nan()) {
            self.harvest_allowed = last as f64 + f64::from(self.waits.days(day));
        }
    }

    pub fn day(&mut self, view: &DayView, plot: usize) {
        if view.world.birds_on[plot].bird_days > 0.0 {
            self.birds_in(view.day);
        } else {
            self.stay = 0.0;
        }
        if let Some((ended, left)) = self.pending {
            self.pending = self.clean_up(view, plot, ended, left);
        }
    }

    fn birds_in(&mut self, day: usize) {
        if self.stay == 0.0 {
            self.stays += 1.0;
            if let Some(last) = self.last_in {
                // f64::min takes the number where the other is NaN.
                self.shortest_rest = self.shortest_rest.min((day - last - 1) as f64);
            }
        }
        self.stay += 1.0;
        self.longest_stay = self.longest_stay.max(self.stay);
        self.last_in = Some(day);
    }

    /// Looks whether the residue is gone; what is still to be looked at.
    fn clean_up(&mut self, view: &DayView, plot: usize, ended: usize, left: f64) -> Option<(usize, f64)> {
        let now = view.world.condition_of(plot).residue_kg;
        if left.is_nan() {
            return (now > 0.0).then_some((ended, now));
        }
        if now <= CLEAN_BELOW * left {
            self.cleaned.0 += (view.day - ended) as f64;
            self.cleaned.1 += 1.0;
            self.first_cleaned = self.first_cleaned.min(view.day as f64);
            return None;
        }
        (!view.world.plots[plot].crop_standing).then_some((ended, left))
    }

    /// Mean days of the clean-ups that were finished.
    pub fn clean_up_d(&self) -> f64 {
        if self.cleaned.1 > 0.0 { self.cleaned.0 / self.cleaned.1 } else { f64::NAN }
    }
}

/// The harvests of a plot and how long each waits for birds' manure.
#[derive(Clone, Debug)]
pub(crate) struct Waits {
    start: Date,
    windows: Vec<HarvestWindow>,
    touching: u32,
    other: u32,
}

impl Waits {
    /// Those of a plot.
    pub fn of(site: &Site, plot: usize) -> Self {
        let here = &site.plots[plot];
        let crops = here.grounds.iter().flat_map(|g| &g.crops).filter_map(|c| c.harvest);
        let windows = crops.chain(here.canopy_harvest.iter().copied()).collect();
        let (touching, other) = (site.rules.waiting_days_touching, site.rules.waiting_days_other);
        Self { start: site.start, windows, touching, other }
    }

    /// Waiting period of the harvest that begins on this day of the run; the longer one where
    /// two begin.
    pub fn days(&self, day: usize) -> u32 {
        let date = date_of(self.start, day);
        let touches = self.windows.iter().any(|h| h.touches_soil && begins_on(h.from, date));
        if touches { self.touching } else { self.other }
    }
}

/// Whether a date of every year, or one date, is this one; 29 February falls on the 28th
/// where there is none.
fn begins_on(when: When, date: Date) -> bool {
    match when {
        When::On(on) => on == date,
        When::Yearly { month, day } => month == date.month() && day.min(date.days_in_month()) == date.day(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn each_harvest_of_a_bed_waits_as_long_as_its_own_crop_asks() {
        let on = |month, day| When::Yearly { month, day };
        let window = |from, to, touches_soil| HarvestWindow { from, to, touches_soil };
        let waits = Waits {
            start: date(2027, 2, 1),
            windows: vec![window(on(5, 20), on(6, 10), false), window(on(1, 10), on(1, 20), true)],
            touching: 120,
            other: 90,
        };
        let day = |month, day| (date(2028, month, day) - waits.start).get_days() as usize;
        assert_eq!((waits.days(day(5, 20)), waits.days(day(1, 10))), (90, 120));
    }

    #[test]
    fn a_leap_day_is_kept_in_every_year() {
        let leap = When::Yearly { month: 2, day: 29 };
        assert!(begins_on(leap, date(2027, 2, 28)) && begins_on(leap, date(2028, 2, 29)));
        assert!(!begins_on(leap, date(2028, 2, 28)));
        assert!(!begins_on(When::On(date(2027, 5, 1)), date(2028, 5, 1)));
    }
}
