//! Days of the year in words, and when a plot's crops and harvests keep its gate shut.

use analysis::wording::month_name;
use jiff::ToSpan;
use jiff::civil::Date;
use scenarios::SiteModel;
use sim_engine::dates::{in_year, spans};
use sim_engine::site::{HardRules, HarvestWindow, Plot, When};
use sim_engine::waiting::shut_for_harvest;

/// Days of a year, of any year.
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

/// A harvest and the day from which the gate is shut for it: "28 January".
pub fn shut_from(harvest: &HarvestWindow, rules: &HardRules, model: &SiteModel) -> Option<String> {
    let first = in_year(harvest.from, steady_year(model))?;
    let shut = first.checked_sub(i64::from(rules.waiting_days(harvest)).days()).ok()?;
    Some(match harvest.from {
        When::On(_) => spoken_date(shut),
        When::Yearly { .. } => spoken_day(shut),
    })
}

/// A year of the run in which what comes every year has settled: the second.
fn steady_year(model: &SiteModel) -> i16 {
    model.base.start.year() + 1
}

/// Stretches in which neither a crop nor a coming harvest keeps the gate shut, in words; `None`
/// if nothing ever does. Days of any year, or of the run where crops have years, as in a
/// rotation. Guarded beds are not counted here.
pub fn open_seasons(plot: &Plot, model: &SiteModel) -> Option<Vec<String>> {
    let crops = plot.grounds.iter().flat_map(|ground| &ground.crops).map(|crop| crop.from);
    let dated = crops.chain(plot.harvests().map(|harvest| harvest.from)).any(|when| matches!(when, When::On(_)));
    let (first, days) = if dated {
        (model.base.start, model.base.days)
    } else {
        (Date::new(steady_year(model), 1, 1).ok()?, DAYS_A_YEAR)
    };
    let last = first.checked_add((days as i64).days()).ok()?;
    let shut = shut_stretches(plot, &model.base.rules, (first, last));
    if shut.is_empty() {
        return None;
    }
    let open = |day: &Date| !shut.iter().any(|(from, to)| day >= from && day <= to);
    let days: Vec<Date> = first.series(1.day()).take(days).filter(|day| open(day)).collect();
    let (runs, spoken): (_, fn(Date) -> String) =
        if dated { (runs(&days), spoken_date) } else { (round_the_year(runs(&days)), spoken_day) };
    Some(runs.into_iter().map(|(from, to)| format!("{} to {}", spoken(from), spoken(to))).collect())
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
        // Onions from 20 March 2027; carrots wait 120 days from 22 March for 20 July 2028.
        let first = ["1 February 2027 to 19 March 2027", "21 August 2027 to 21 March 2028"];
        assert_eq!(seasons[..2], first);
        assert_eq!(seasons.len(), 4);
    }
}
