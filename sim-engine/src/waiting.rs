//! Waiting periods: on which days a coming harvest keeps birds out of a plot.
//!
//! The clock starts on the birds' last day in: a harvest may begin so many days after it, 120 where the edible part touches
//! the soil, else 90 (USDA NOP, 7 CFR 205.203(c)); the site's rules may ask for more, or with a written reason for less.
//! A window so keeps birds out from a day on to its last day; of several windows the nearest counts. A wait of 0 days, which
//! takes a written reason, keeps none out where nothing that is picked touches the soil: it hangs above birds that are in. Limits: days only;
//! it does not ask whether birds were there, or whether manure was composted.

use crate::dates::{days_between, in_year, next_on_or_after, spans};
use crate::site::{HardRules, HarvestWindow, Plant, Plot, Site};
use jiff::ToSpan;
use jiff::civil::Date;

/// The first day on which a harvest may begin after birds' last day in.
#[must_use]
pub fn earliest_harvest(last_bird_day: Date, wait_days: u32) -> Date {
    last_bird_day.saturating_add(i64::from(wait_days).days())
}

/// The first day on which a harvest that begins on `harvest` keeps birds out: the day after the last of which
/// [`earliest_harvest`] is no later; on the day of harvest itself always.
#[must_use]
pub fn shut_from(harvest: Date, wait_days: u32) -> Date {
    harvest.saturating_sub((i64::from(wait_days) - 1).max(0).days())
}

/// Days to the harvest that keeps birds out, day-major by plot; 0 where none does, 1 within
/// a harvest window.
pub(crate) fn waiting(site: &Site) -> Vec<u16> {
    let plots = site.plots.len();
    let mut days = vec![0; site.days * plots];
    for (index, plot) in site.plots.iter().enumerate() {
        for window in plot.harvests() {
            keep_out(site, *window, |day, to_harvest| {
                let here = &mut days[day * plots + index];
                *here = if *here == 0 { to_harvest } else { to_harvest.min(*here) };
            });
        }
    }
    days
}

/// Tells `mark` every day of the run on which a harvest window keeps birds out.
fn keep_out(site: &Site, window: HarvestWindow, mut mark: impl FnMut(usize, u16)) {
    let wait = site.rules.waiting_days(&window);
    if !keeps_out(&window, wait) {
        return;
    }
    let mut from = site.start;
    while let Some(last) = next_on_or_after(window.to, from) {
        let harvest = window_start(window, last);
        let first = days_between(site.start, harvest);
        let begin = days_between(site.start, shut_from(harvest, wait)).max(0);
        let end = days_between(site.start, last);
        if begin >= site.days as i32 {
            break;
        }
        for day in begin..=end.min(site.days as i32 - 1) {
            mark(day as usize, (first - day).max(1) as u16);
        }
        from = last.saturating_add(1.day());
    }
}

/// Whether a window keeps birds out at all.
fn keeps_out(window: &HarvestWindow, wait_days: u32) -> bool {
    wait_days > 0 || window.touches_soil
}

/// The first day of the window that ends on `last`.
fn window_start(window: HarvestWindow, last: Date) -> Date {
    let same_year = in_year(window.from, last.year()).filter(|first| *first <= last);
    same_year.or_else(|| in_year(window.from, last.year() - 1)).unwrap_or(last)
}

/// A harvest window on its dates, with the days it keeps birds out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Picking {
    /// What is picked.
    pub plant: Plant,
    /// The window it is of.
    pub window: HarvestWindow,
    /// Days from birds to the first picking day.
    pub wait_days: u32,
    /// First day on which birds are kept out.
    pub shut_from: Date,
    /// First picking day.
    pub first: Date,
    /// Last picking day: the last on which birds are kept out.
    pub last: Date,
}

impl Picking {
    /// Whether it keeps birds out: where fruit that hangs waits 0 days they may be in while it is picked.
    #[must_use]
    pub fn keeps_out(&self) -> bool {
        keeps_out(&self.window, self.wait_days)
    }

    /// The last day on which birds may be in; the last picking day of what keeps none out.
    #[must_use]
    pub fn last_bird_day(&self) -> Date {
        if self.keeps_out() { self.shut_from.saturating_sub(1.day()) } else { self.last }
    }
}

/// Pickings of a plot that go on, or for which birds are kept out, on any day from `first` to `last`; in the order of its
/// crops and fruit, each by date.
#[must_use]
pub fn pickings(plot: &Plot, rules: &HardRules, first: Date, last: Date) -> Vec<Picking> {
    let of = |(plant, window): (Plant, &HarvestWindow)| {
        let (window, wait_days) = (*window, rules.waiting_days(window));
        let dates = spans((window.from, window.to), first, earliest_harvest(last, wait_days));
        let picking = move |(first, last)| Picking {
            plant,
            window,
            wait_days,
            shut_from: shut_from(first, wait_days),
            first,
            last,
        };
        dates.into_iter().map(picking)
    };
    let touches = |picking: &Picking| picking.shut_from <= last && picking.last >= first;
    plot.harvests_of().flat_map(of).filter(touches).collect()
}

/// Spans that touch the days from `first` to `last` in which a harvest keeps a plot shut: from its
/// waiting period to its last day.
#[must_use]
pub fn shut_for_harvest(plot: &Plot, rules: &HardRules, first: Date, last: Date) -> Vec<(Date, Date)> {
    let shut = pickings(plot, rules, first, last).into_iter().filter(Picking::keeps_out);
    shut.map(|picking| (picking.shut_from, picking.last)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::{OwnWait, When};
    use crate::testing::two_plots;
    use jiff::civil::date;

    #[test]
    fn a_window_over_the_new_year_keeps_out_from_its_wait_to_its_end() {
        let (from, to) = (When::Yearly { month: 11, day: 15 }, When::Yearly { month: 2, day: 10 });
        let window = HarvestWindow::picked(from, to, false);
        assert_eq!(window_start(window, date(2028, 2, 10)), date(2027, 11, 15));
        assert_eq!(next_on_or_after(window.to, date(2027, 3, 1)), Some(date(2028, 2, 10)));
    }

    /// Fruit that hangs out of reach, by the keeper's own wait of 0 days: birds may be in on every day of picking.
    #[test]
    fn a_wait_of_no_days_keeps_no_birds_out() {
        let window = HarvestWindow {
            own_wait: Some(0),
            ..HarvestWindow::picked(When::Yearly { month: 7, day: 1 }, When::Yearly { month: 7, day: 31 }, false)
        };
        let mut site = two_plots(1);
        (site.start, site.days) = (date(2027, 3, 1), 365);
        site.plots.iter_mut().for_each(|plot| plot.grounds.iter_mut().for_each(|ground| ground.crops.clear()));
        site.plots[0].canopies[0].harvest = vec![window];
        site.rules.own_waits = vec![OwnWait { days: 0, reason: Some("it hangs at 2 m".to_owned()) }];
        assert!(waiting(&site).iter().all(|days| *days == 0));
        let july = (date(2027, 7, 10), date(2027, 7, 20));
        assert_eq!(shut_for_harvest(&site.plots[0], &site.rules, july.0, july.1), []);
        let picked = pickings(&site.plots[0], &site.rules, july.0, july.1);
        assert_eq!(picked.iter().map(Picking::last_bird_day).collect::<Vec<_>>(), [date(2027, 7, 31)]);
        site.rules.own_waits[0].days = 1;
        assert_eq!(waiting(&site).iter().filter(|days| **days > 0).count(), 31);
        // What touches the soil is never picked among birds.
        site.rules.own_waits[0].days = 0;
        site.plots[0].canopies[0].harvest[0].touches_soil = true;
        assert_eq!(waiting(&site).iter().filter(|days| **days > 0).count(), 31);
    }

    /// First picked on 20 January: 90 days before it, on 22 October of the old year, birds may be in for the last time.
    #[test]
    fn the_last_day_in_may_be_in_the_old_year() {
        let (january, april) = (When::Yearly { month: 1, day: 20 }, When::Yearly { month: 4, day: 30 });
        let mut site = two_plots(1);
        (site.start, site.days) = (date(2027, 7, 1), 400);
        site.plots.iter_mut().for_each(|plot| plot.grounds.iter_mut().for_each(|ground| ground.crops.clear()));
        let window = HarvestWindow::picked(january, april, false);
        site.plots[0].canopies[0].harvest = vec![window];
        let (days, plots) = (waiting(&site), site.plots.len());
        let on = |on| days[days_between(site.start, on) as usize * plots];
        let asked = [date(2027, 10, 22), date(2027, 10, 23), date(2028, 1, 19), date(2028, 1, 20), date(2028, 5, 1)];
        assert_eq!(asked.map(on), [0, 89, 1, 1, 0]);
        let told = shut_for_harvest(&site.plots[0], &site.rules, date(2027, 12, 1), date(2027, 12, 31));
        assert_eq!(told, [(date(2027, 10, 23), date(2028, 4, 30))]);
    }

    /// 60 of the keeper's own days before fruit that is picked, 120 before the same fruit from the ground: the longer keeps
    /// the gate shut, and each is told by itself, in years of 365 and 366 days.
    #[test]
    fn own_days_hold_for_the_harvest_they_are_given_for() {
        let mut site = two_plots(1);
        site.plots.iter_mut().for_each(|plot| plot.grounds.iter_mut().for_each(|ground| ground.crops.clear()));
        site.rules.own_waits = vec![OwnWait { days: 60, reason: Some("all of it is cooked".into()) }];
        let (june, july) = (When::Yearly { month: 6, day: 20 }, When::Yearly { month: 7, day: 10 });
        let picked = HarvestWindow { own_wait: Some(0), ..HarvestWindow::picked(june, july, false) };
        let fallen = HarvestWindow { windfall: true, ..HarvestWindow::picked(june, july, true) };
        site.plots[0].canopies[0].harvest = vec![picked, fallen];
        (site.start, site.days) = (date(2027, 1, 1), 730);
        let told = |first, last| {
            let told = pickings(&site.plots[0], &site.rules, first, last).into_iter();
            told.map(|one| (one.window.windfall, one.last_bird_day(), one.first, one.last)).collect::<Vec<_>>()
        };
        let years = [
            (false, date(2027, 4, 21), date(2027, 6, 20), date(2027, 7, 10)),
            (false, date(2028, 4, 21), date(2028, 6, 20), date(2028, 7, 10)),
            (true, date(2027, 2, 20), date(2027, 6, 20), date(2027, 7, 10)),
            (true, date(2028, 2, 21), date(2028, 6, 20), date(2028, 7, 10)),
        ];
        assert_eq!(told(date(2027, 1, 1), date(2028, 12, 31)), years);
        // 20 February 2027 is free, the day after it is not.
        assert_eq!(told(date(2027, 2, 20), date(2027, 2, 20)), []);
        assert_eq!(told(date(2027, 2, 21), date(2027, 2, 21)), [years[2]]);
        let (days, plots) = (waiting(&site), site.plots.len());
        let on = |on| days[days_between(site.start, on) as usize * plots];
        assert_eq!(
            [date(2027, 2, 20), date(2027, 2, 21), date(2028, 2, 21), date(2028, 2, 22)].map(on),
            [0, 119, 0, 119]
        );
    }

    /// Birds out 120 days before the harvest may have been in that day; 119 days before, they may not. Both rules alike.
    #[test]
    fn a_wait_of_120_days_is_120_days_everywhere() {
        let harvest = date(2028, 7, 1);
        for wait in [119, 120, 121] {
            let last_in = harvest.saturating_sub(i64::from(wait).days());
            assert_eq!(earliest_harvest(last_in, wait as u32), harvest);
            assert_eq!(shut_from(harvest, wait as u32), last_in.tomorrow().unwrap());
        }
        assert_eq!((shut_from(harvest, 0), shut_from(harvest, 1)), (harvest, harvest));
        for (touches_soil, wait) in [(true, 120), (false, 90)] {
            let mut site = two_plots(1);
            (site.start, site.days) = (date(2028, 1, 1), 200);
            site.plots.iter_mut().for_each(|plot| plot.grounds.iter_mut().for_each(|ground| ground.crops.clear()));
            let window = HarvestWindow::picked(When::On(harvest), When::On(harvest), touches_soil);
            site.plots[0].canopies[0].harvest = vec![window];
            let days = waiting(&site);
            let plots = site.plots.len();
            let to_harvest = |before: usize| days[(182 - before) * plots];
            let told = shut_for_harvest(&site.plots[0], &site.rules, site.start, date(2028, 7, 10));
            for before in [wait - 1, wait, wait + 1] {
                let day = harvest.saturating_sub((before as i64).days());
                assert_eq!(usize::from(to_harvest(before)), if before < wait { before } else { 0 });
                assert_eq!(told.iter().any(|(from, to)| day >= *from && day <= *to), before < wait);
            }
        }
    }
}
