//! Stays, rests, cleaning up after crops and the harvest that the waiting period allows.

use sim_engine::season::DayView;
use sim_engine::site::Site;

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
    wait_d: f64,
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
            wait_d: f64::from(wait_days(site, plot)),
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

    pub fn harvest_begins(&mut self) {
        if let (Some(last), true) = (self.last_in, self.harvest_allowed.is_nan()) {
            self.harvest_allowed = last as f64 + self.wait_d;
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
        let now: f64 = super::zones(view.world, plot).map(|(area, zone)| area * zone.residue).sum();
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

/// The plot's waiting period: the longer one if anything harvested there touches the soil.
pub(crate) fn wait_days(site: &Site, plot: usize) -> u32 {
    let here = &site.plots[plot];
    let crops = here.grounds.iter().flat_map(|g| &g.crops).filter_map(|c| c.harvest);
    let touches = crops.chain(here.canopy_harvest.iter().copied()).any(|h| h.touches_soil);
    if touches { site.rules.waiting_days_touching } else { site.rules.waiting_days_other }
}
