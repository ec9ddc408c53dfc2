//! Waiting periods: on which days a coming harvest keeps birds out of a plot.
//!
//! A window keeps birds out from so many days before its first day to its last day: 120 days from raw manure to harvest where
//! the edible part touches the soil, else 90 (USDA NOP, 7 CFR 205.203(c)); the site's rules may ask for more, or with a
//! written reason for less. Of several windows the nearest counts. Limits: days only; it does not ask whether birds
//! were there, or whether manure was composted.

use crate::dates::{days_between, in_year, next_on_or_after, spans};
use crate::site::{HardRules, HarvestWindow, Plot, Site};
use jiff::ToSpan;
use jiff::civil::Date;

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
    let wait = site.rules.waiting_days(&window) as i32;
    let mut from = site.start;
    while let Some(last) = next_on_or_after(window.to, from) {
        let first = days_between(site.start, window_start(window, last));
        let (begin, end) = ((first - wait).max(0), days_between(site.start, last));
        if begin >= site.days as i32 {
            break;
        }
        for day in begin..=end.min(site.days as i32 - 1) {
            mark(day as usize, (first - day).max(1) as u16);
        }
        from = last.saturating_add(1.day());
    }
}

/// The first day of the window that ends on `last`.
fn window_start(window: HarvestWindow, last: Date) -> Date {
    let same_year = in_year(window.from, last.year()).filter(|first| *first <= last);
    same_year.or_else(|| in_year(window.from, last.year() - 1)).unwrap_or(last)
}

/// Spans that touch the days from `first` to `last` in which a harvest keeps a plot shut: from its
/// waiting period to its last day.
#[must_use]
pub fn shut_for_harvest(plot: &Plot, rules: &HardRules, first: Date, last: Date) -> Vec<(Date, Date)> {
    let shut = |harvest: &HarvestWindow| {
        let wait = i64::from(rules.waiting_days(harvest)).days();
        let picked = spans((harvest.from, harvest.to), first, last.saturating_add(wait));
        picked.into_iter().map(move |(from, to)| (from.saturating_sub(wait), to)).collect::<Vec<_>>()
    };
    plot.harvests().flat_map(shut).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::When;
    use jiff::civil::date;

    #[test]
    fn a_window_over_the_new_year_keeps_out_from_its_wait_to_its_end() {
        let window = HarvestWindow {
            from: When::Yearly { month: 11, day: 15 },
            to: When::Yearly { month: 2, day: 10 },
            touches_soil: false,
        };
        assert_eq!(window_start(window, date(2028, 2, 10)), date(2027, 11, 15));
        assert_eq!(next_on_or_after(window.to, date(2027, 3, 1)), Some(date(2028, 2, 10)));
    }
}
