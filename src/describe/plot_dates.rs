//! Days of the year in words, and when a plot's crops and harvests keep its gate shut.

use analysis::wording::{list, month_name};
use jiff::ToSpan;
use jiff::civil::Date;
use scenarios::SiteModel;
use sim_engine::dates::{in_year, spans};
use sim_engine::site::{HardRules, HarvestWindow, Plot, When};
use sim_engine::waiting::{self, shut_for_harvest};

/// Days of an ordinary year.
const DAYS_A_YEAR: usize = 365;

/// "5 April" for every year, "5 April 2027" for one.
pub fn spoken(when: When) -> String {
    match when {
        When::On(date) => spoken_date(date),
        When::Yearly { month, day } => format!("{day} {}", month_name(month)),
    }
}

/// "5 April 2027".
pub fn spoken_date(date: Date) -> String {
    format!("{} {} {}", date.day(), month_name(date.month()), date.year())
}

/// "5 April", for a date that stands for every year.
fn spoken_day(date: Date) -> String {
    format!("{} {}", date.day(), month_name(date.month()))
}

/// The day from which the gate is shut for a harvest: "28 January", and where a 29 February lies between, the day it
/// is then: "28 January (29 January in leap years)".
pub fn shut_from(harvest: &HarvestWindow, rules: &HardRules, model: &SiteModel) -> Option<String> {
    let shut = |year| Some(waiting::shut_from(in_year(harvest.from, year)?, rules.waiting_days(harvest)));
    let ordinary = shut(ordinary_year(model))?;
    if let When::On(_) = harvest.from {
        return Some(spoken_date(ordinary));
    }
    let leap = shut(leap_year(model))?;
    Some(if (leap.month(), leap.day()) == (ordinary.month(), ordinary.day()) {
        spoken_day(ordinary)
    } else {
        format!("{} ({} in leap years)", spoken_day(ordinary), spoken_day(leap))
    })
}

/// The first year after the run's start that neither is nor goes before a leap year.
fn ordinary_year(model: &SiteModel) -> i16 {
    let first = model.base.start.year() + 1;
    (first..first + 12).find(|year| !leap(*year) && !leap(year + 1)).unwrap_or(first)
}

/// The first leap year after the run's start.
fn leap_year(model: &SiteModel) -> i16 {
    let first = model.base.start.year() + 1;
    (first..first + 12).find(|year| leap(*year)).unwrap_or(first)
}

fn leap(year: i16) -> bool {
    Date::new(year, 2, 29).is_ok()
}

/// Stretches in which neither a crop nor a coming harvest keeps the gate shut, in words, empty if
/// there are none; `None` if nothing ever keeps it shut. Days of an ordinary year, or of the run where crops have years, as in a
/// rotation; it is said where a leap year's differ. Guarded beds are not counted here.
pub fn open_seasons(plot: &Plot, model: &SiteModel) -> Option<String> {
    let crops = plot.grounds.iter().flat_map(|ground| &ground.crops).map(|crop| crop.from);
    let dated = crops.chain(plot.harvests().map(|harvest| harvest.from)).any(|when| matches!(when, When::On(_)));
    if dated {
        let days = open_days(plot, model, model.base.start, model.base.days)?;
        return Some(list(&stretches(runs(&days), spoken_date)));
    }
    let of_year = |year| {
        let open = open_days(plot, model, Date::new(year, 1, 1).ok()?, DAYS_A_YEAR)?;
        Some(list(&stretches(round_the_year(runs(&open)), spoken_day)))
    };
    let (ordinary, leap) = (of_year(ordinary_year(model))?, of_year(leap_year(model))?);
    Some(if leap == ordinary { ordinary } else { format!("{ordinary}; in leap years {leap}") })
}

/// Days on which neither a crop nor a coming harvest keeps the gate shut; `None` if nothing ever does.
fn open_days(plot: &Plot, model: &SiteModel, first: Date, days: usize) -> Option<Vec<Date>> {
    let last = first.checked_add((days as i64).days()).ok()?;
    let shut = shut_stretches(plot, &model.base.rules, (first, last));
    let open = |day: &Date| !shut.iter().any(|(from, to)| day >= from && day <= to);
    (!shut.is_empty()).then(|| first.series(1.day()).take(days).filter(open).collect())
}

fn stretches(runs: Vec<(Date, Date)>, spoken: fn(Date) -> String) -> Vec<String> {
    runs.into_iter().map(|(from, to)| format!("{} to {}", spoken(from), spoken(to))).collect()
}

/// When crops stand, and from the waiting period to the end of each harvest.
fn shut_stretches(plot: &Plot, rules: &HardRules, (first, last): (Date, Date)) -> Vec<(Date, Date)> {
    let crops = plot.grounds.iter().flat_map(|ground| &ground.crops);
    let standing = crops.flat_map(|crop| spans((crop.from, crop.to), first, last));
    standing.chain(shut_for_harvest(plot, rules, first, last)).collect()
}

/// Runs of days that follow one another.
fn runs(days: &[Date]) -> Vec<(Date, Date)> {
    let follows = |a: &Date, b: &Date| a.tomorrow().ok() == Some(*b);
    let ends = |run: &[Date]| Some((*run.first()?, *run.last()?));
    days.chunk_by(follows).filter_map(ends).collect()
}

/// Runs of any year: one that crosses the new year is one.
fn round_the_year(mut runs: Vec<(Date, Date)>) -> Vec<(Date, Date)> {
    let at_ends = |runs: &[(Date, Date)]| match (runs.first(), runs.last()) {
        (Some(first), Some(last)) => first.0.day_of_year() == 1 && last.1.month() == 12 && last.1.day() >= 30,
        _ => false,
    };
    if runs.len() > 1 && at_ends(&runs) {
        let (_, to) = runs.remove(0);
        if let Some(last) = runs.last_mut() {
            last.1 = to;
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    /// 120 days before 20 July lie after a 29 February; 90 days before 10 May before it.
    #[test]
    fn leap_years_have_their_own_day_where_a_29_february_lies_between() {
        let demo = crate::demos::Demo::named("puddlecote").unwrap();
        let library = scenarios::Library::shipped().unwrap();
        let model =
            scenarios::site_file::read_text(demo.name, demo.site, &library, &|name| demo.companion(name)).unwrap();
        let told = |month, day, touches_soil| {
            let from = When::Yearly { month, day };
            shut_from(&HarvestWindow::picked(from, from, touches_soil), &model.base.rules, &model).unwrap()
        };
        assert_eq!(told(7, 20, true), "23 March");
        assert_eq!(told(5, 10, false), "10 February (11 February in leap years)");
    }

    #[test]
    fn a_stretch_over_the_new_year_is_one() {
        let days: Vec<Date> = date(2027, 1, 1)
            .series(1.day())
            .take(365)
            .filter(|day| day.month() <= 2 || day.month() >= 11 || day.month() == 6)
            .collect();
        let runs = round_the_year(runs(&days));
        assert_eq!(runs, [(date(2027, 6, 1), date(2027, 6, 30)), (date(2027, 11, 1), date(2027, 2, 28))]);
    }

    /// Puddlecote's first bed is free, between onions, carrots and cabbage, at another time each year.
    #[test]
    fn a_rotation_is_told_with_its_years() {
        let demo = crate::demos::Demo::named("puddlecote").unwrap();
        let library = scenarios::Library::shipped().unwrap();
        let model =
            scenarios::site_file::read_text(demo.name, demo.site, &library, &|name| demo.companion(name)).unwrap();
        let bed = model.base.plots.iter().find(|plot| plot.name == "shed-bed").unwrap();
        let seasons = open_seasons(bed, &model).unwrap();
        // Onions from 20 March 2027; carrots wait 120 days after 22 March for 20 July 2028.
        assert!(seasons.starts_with("1 February 2027 to 19 March 2027, 21 August 2027 to 22 March 2028"), "{seasons}");
        assert_eq!(seasons.matches(" to ").count(), 4, "{seasons}");
    }
}
