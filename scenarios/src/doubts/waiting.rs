//! Plots that the waiting period, standing crops and harvests keep shut: all year, or
//! on a day on which they are to open.

use super::{Doubt, SiteView, Threshold};
use crate::site_file::dates::{in_year, spans};
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::site::{HardRules, HarvestWindow, Plot, SiteEventKind, When};

/// Fewer open days a year than this are doubted.
pub(super) const FEW_DAYS: Threshold = Threshold::new(14.0, "days", "from memory");

/// Plots hardly ever open by the rules.
pub(super) fn always_shut(sight: &SiteView<'_>) -> Vec<Doubt> {
    let site = sight.site;
    let doubt = |plot: &Plot| {
        let open = open_days(plot, &site.rules, site.start.year());
        let harvests = harvests(plot).next().is_some();
        (harvests && (open as f64) < FEW_DAYS.value).then(|| {
            Doubt::new(
                about(plot, sight),
                &format!("{} can be open {open} days of a year", plot.name),
                "it is in crop, or within the waiting period before a harvest, the rest",
                "Leave a longer gap between crops, guard the beds, or count on this plot for nothing.",
            )
        })
    };
    site.plots.iter().filter_map(doubt).collect()
}

fn about(plot: &Plot, sight: &SiteView<'_>) -> String {
    let crop = sight.crops_of(plot).into_iter().find(|crop| crop.plan.harvest.is_some());
    crop.map_or(format!("plot.{}.fruit_harvest", plot.name), |crop| format!("{}.harvest", crop.path))
}

fn harvests(plot: &Plot) -> impl Iterator<Item = &HarvestWindow> {
    let crops = plot.grounds.iter().flat_map(|ground| &ground.crops);
    crops.filter_map(|crop| crop.harvest.as_ref()).chain(&plot.canopy_harvest)
}

/// Days of a year on which neither a crop nor a coming harvest keeps the plot shut.
pub(super) fn open_days(plot: &Plot, rules: &HardRules, year: i16) -> usize {
    let (Some(first), Some(last)) = (january(year), january(year + 1)) else { return usize::MAX };
    let shut = shut(plot, rules, first, last);
    let days = std::iter::successors(Some(first), |day| day.tomorrow().ok()).take_while(|day| *day < last);
    days.filter(|day| !shut.iter().any(|(from, to)| day >= from && day <= to)).count()
}

/// Spans of days on which a standing crop (in beds without guards) or a coming harvest keeps the plot shut.
fn shut(plot: &Plot, rules: &HardRules, first: Date, last: Date) -> Vec<(Date, Date)> {
    let around = (first.saturating_sub(2.years()), last.saturating_add(2.years()));
    let crops = plot.grounds.iter().flat_map(|ground| &ground.crops).map(|crop| (crop.from, crop.to));
    let crops = crops.filter(|_| plot.guards.is_empty());
    let mut shut: Vec<(Date, Date)> = crops.flat_map(|times| spans(times, around.0, around.1)).collect();
    for harvest in harvests(plot) {
        let days = if harvest.touches_soil { rules.waiting_days_touching } else { rules.waiting_days_other };
        let times = spans((harvest.from, harvest.to), around.0, around.1);
        shut.extend(times.iter().map(|(from, to)| (from.saturating_sub(i64::from(days).days()), *to)));
    }
    shut
}

/// Last day of the span that keeps the plot shut on this day, if one does.
fn shut_until(plot: &Plot, rules: &HardRules, day: Date) -> Option<Date> {
    let spans = shut(plot, rules, day, day).into_iter();
    spans.filter(|(from, to)| day >= *from && day <= *to).map(|(_, to)| to).max()
}

/// Dated openings that the rules will not allow.
pub(super) fn dates(sight: &SiteView<'_>) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for strategy in &sight.model.strategies {
        let Some(openings) = strategy.kind.dates() else { continue };
        for (date, plot) in openings.iter().flat_map(|opening| opening.plots.iter().map(|plot| (opening.date, *plot))) {
            doubts.extend(refused(sight, format!("strategy.{}.dated.file", strategy.name), plot, date));
        }
    }
    doubts
}

/// Gates opened by hand that the rules will not allow.
pub(super) fn by_hand(sight: &SiteView<'_>) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for (position, event) in sight.site.events.iter().enumerate() {
        let SiteEventKind::GateByHand { plot, open: true } = event.what else { continue };
        let date = in_year(event.on, sight.site.start.year());
        doubts.extend(date.and_then(|date| refused(sight, format!("event.{position}.on"), plot, date)));
    }
    doubts
}

fn refused(sight: &SiteView<'_>, about: String, plot: usize, date: Date) -> Option<Doubt> {
    let plot = sight.site.plots.get(plot)?;
    let until = shut_until(plot, &sight.site.rules, date)?;
    let what = format!("{} is to open on {date}", plot.name);
    let because = format!("a crop or the waiting period keeps it shut until {until}");
    Some(Doubt::new(about, &what, &because, "The gate stays shut by rule; choose another plot or date."))
}

/// Waiting period below which there is hardly any.
const HARDLY_ANY: Threshold =
    Threshold::new(30.0, "days", "from memory; the rule is 120 and 90 days, 7 CFR 205.203(c)");

/// A waiting period of next to nothing.
pub(super) fn none(sight: &SiteView<'_>) -> Vec<Doubt> {
    let rules = &sight.site.rules;
    let all =
        [("waiting_days_touching", rules.waiting_days_touching), ("waiting_days_other", rules.waiting_days_other)];
    let doubt = |(key, days): (&str, u32)| {
        (f64::from(days) < HARDLY_ANY.value).then(|| {
            let because = format!("less than {HARDLY_ANY} is next to none before food is eaten raw");
            Doubt::new(
                format!("rules.{key}"),
                &format!("a waiting period of {days} days"),
                &because,
                "Did you mean weeks? Take the line out for the rule.",
            )
        })
    };
    all.into_iter().filter_map(doubt).collect()
}

/// A heap spread on a plot within the waiting period before a harvest.
pub(super) fn heap(sight: &SiteView<'_>) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for (position, event) in sight.site.events.iter().enumerate() {
        let SiteEventKind::SpreadHeap { plot } = event.what else { continue };
        let year = sight.site.start.year() + 1;
        let (Some(plot), Some(date)) = (sight.site.plots.get(plot), in_year(event.on, year)) else { continue };
        let until = harvests(plot).find_map(|harvest| waiting_until(harvest, &sight.site.rules, date));
        if let Some(until) = until {
            doubts.push(Doubt::new(
                format!("event.{position}.on"),
                &format!("the heap is spread on {} on {:02}-{:02}", plot.name, date.month(), date.day()),
                &format!(
                    "a harvest there is within the waiting period for fresh manure, until {:02}-{:02}",
                    until.month(),
                    until.day()
                ),
                "Spread it after the last harvest, in autumn, or on another plot.",
            ));
        }
    }
    doubts
}

/// Last day of the harvest whose waiting period this day is in.
fn waiting_until(harvest: &HarvestWindow, rules: &HardRules, day: Date) -> Option<Date> {
    let days = i64::from(if harvest.touches_soil { rules.waiting_days_touching } else { rules.waiting_days_other });
    let times = spans((harvest.from, harvest.to), day, day.saturating_add(days.days()));
    times.into_iter().find(|(from, to)| from.saturating_sub(days.days()) <= day && *to >= day).map(|(_, to)| to)
}

fn january(year: i16) -> Option<Date> {
    in_year(When::Yearly { month: 1, day: 1 }, year)
}
