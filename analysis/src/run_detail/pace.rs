//! Stays, rests, how long a crop's residue lies, and the harvest that the waiting period allows.

use sim_engine::dates::{date_of, days_between};
use sim_engine::run::recorder::DayView;
use sim_engine::site::Site;
use sim_engine::waiting::{earliest_harvest, waiting_days_before};

/// Share of a crop's residue that may be left when it counts as gone (common practice, no
/// source). The measure `clean_up` is something else: the share gone within three weeks.
const GONE_BELOW: f64 = 0.1;

/// What is kept in mind of a plot's days.
#[derive(Clone, Debug)]
pub(super) struct Pace {
    pub stays: f64,
    pub longest_stay: f64,
    pub shortest_rest: f64,
    /// First harvest birds went before: the day it began, and the last with birds in before it.
    first_harvest: Option<(usize, usize)>,
    stay: f64,
    last_in: Option<usize>,
    /// Day a crop ended, and its residue that evening once known, kg.
    pending: Option<(usize, f64)>,
    /// Days until residue was gone, in sum, and how often it got there.
    gone_after: (f64, f64),
    /// Day of the run on which residue was gone for the first time.
    pub first_residue_gone: f64,
}

impl Pace {
    /// Before the first day.
    pub fn start() -> Self {
        Self {
            stays: 0.0,
            longest_stay: 0.0,
            shortest_rest: f64::NAN,
            first_harvest: None,
            stay: 0.0,
            last_in: None,
            pending: None,
            gone_after: (0.0, 0.0),
            first_residue_gone: f64::NAN,
        }
    }

    pub fn crop_ended(&mut self, day: usize) {
        self.pending = Some((day, f64::NAN));
    }

    pub fn harvest_begins(&mut self, day: usize) {
        self.first_harvest = self.first_harvest.or(self.last_in.map(|last| (day, last)));
    }

    pub fn day(&mut self, view: &DayView, plot: usize) {
        if view.world.birds_on[plot].bird_days > 0.0 {
            self.birds_in(view.day);
        } else {
            self.stay = 0.0;
        }
        if let Some((ended, left)) = self.pending {
            self.pending = self.look_for_residue(view, plot, ended, left);
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
    fn look_for_residue(&mut self, view: &DayView, plot: usize, ended: usize, left: f64) -> Option<(usize, f64)> {
        let now = view.world.condition_of(plot).residue_kg;
        if left.is_nan() {
            return (now > 0.0).then_some((ended, now));
        }
        if now <= GONE_BELOW * left {
            self.gone_after.0 += (view.day - ended) as f64;
            self.gone_after.1 += 1.0;
            self.first_residue_gone = self.first_residue_gone.min(view.day as f64);
            return None;
        }
        (!view.world.plots[plot].crop_standing).then_some((ended, left))
    }

    /// Day from which the waiting period allows the first harvest birds went before.
    pub fn harvest_allowed(&self, site: &Site, plot: usize) -> f64 {
        let allowed = |(begins, last)| {
            let wait = waiting_days_before(&site.plots[plot], &site.rules, date_of(site.start, begins));
            f64::from(days_between(site.start, earliest_harvest(date_of(site.start, last), wait)))
        };
        self.first_harvest.map_or(f64::NAN, allowed)
    }

    /// Mean days until residue was gone, where it got there.
    pub fn residue_gone_d(&self) -> f64 {
        if self.gone_after.1 > 0.0 { self.gone_after.0 / self.gone_after.1 } else { f64::NAN }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use scenarios::{Library, site_file};
    use sim_engine::site::{HarvestWindow, PlotCanopy, When};
    use std::path::Path;

    #[test]
    fn each_harvest_of_a_plot_waits_as_long_as_its_own_crop_asks() {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios/demos/sallowmere/site.toml");
        let mut site = site_file::read(&demo, &Library::shipped().unwrap()).unwrap().base;
        let on = |month, day| When::Yearly { month, day };
        let window = HarvestWindow::picked;
        site.start = date(2027, 2, 1);
        site.plots[0].grounds.iter_mut().for_each(|ground| ground.crops.clear());
        let harvest = vec![
            window(on(5, 20), on(6, 10), false),
            window(on(1, 10), on(1, 20), true),
            window(on(1, 10), on(1, 15), false),
        ];
        site.plots[0].canopies = vec![PlotCanopy { canopy: 0, share: 1.0, harvest }];
        let wait = |month, day| waiting_days_before(&site.plots[0], &site.rules, date(2028, month, day));
        assert_eq!((wait(5, 20), wait(1, 10)), (90, 120));
        // Birds last in on 12 September 2027 may be followed by a harvest on 10 January 2028, day 343 of the run.
        let day = |on| days_between(site.start, on).unsigned_abs() as usize;
        let last_in = day(date(2027, 9, 12));
        let pace = Pace { first_harvest: Some((day(date(2028, 1, 10)), last_in)), ..Pace::start() };
        assert_eq!(pace.harvest_allowed(&site, 0), (last_in + 120) as f64);
        assert_eq!(last_in + 120, day(date(2028, 1, 10)));
    }
}
