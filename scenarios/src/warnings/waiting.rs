//! Plots that the waiting period, standing crops and harvests keep shut: all year, or
//! on a day on which they are to open.

use super::site_view::{Named, setting};
use super::{SiteView, Threshold, Warning, warning};
use crate::site_file::dates::shown_day;
use jiff::civil::Date;
use sim_engine::dates::{in_year, spans};
use sim_engine::site::{CropPlan, HardRules, Plant, Plot, SiteEvent, SiteEventKind};
use sim_engine::waiting::shut_for_harvest;

/// Fewer open days a year than this are doubted.
pub(super) const FEW_DAYS: Threshold = Threshold::new(14.0, "days", "from memory");

/// Plots hardly ever open by the rules.
pub(super) fn always_shut(view: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    plot.harvests().next()?;
    let open = FEW_DAYS.under(open_days(plot, &view.site.rules, view.site.start.year()) as f64)?;
    let crop = view.crops_of(plot).into_iter().find(|crop| crop.plan.harvest.is_some());
    // Of a list of canopies each has its harvest with it.
    let fruit = if plot.canopies.iter().all(|canopy| canopy.share == 1.0) { "fruit_harvest" } else { "canopy" };
    warning(
        crop.map_or(plot.at(fruit), |crop| format!("{}.harvest", crop.path)),
        format!("{} can be open {open} days of a year", plot.name),
        "it is in crop, or within the waiting period before a harvest, the rest",
        "Leave a longer gap between crops, guard the beds, or do not count on this plot.",
    )
}

/// Days of a year on which neither a crop nor a coming harvest keeps the plot shut.
pub(super) fn open_days(plot: &Plot, rules: &HardRules, year: i16) -> usize {
    let (first, last) = (jiff::civil::date(year, 1, 1), jiff::civil::date(year + 1, 1, 1));
    let shut = shut(plot, rules, first, last);
    let days = std::iter::successors(Some(first), |day| day.tomorrow().ok()).take_while(|day| *day < last);
    days.filter(|day| !shut.iter().any(|(from, to)| day >= from && day <= to)).count()
}

/// Spans of days on which a standing crop (in beds without guards) or a coming harvest keeps the plot shut.
fn shut(plot: &Plot, rules: &HardRules, first: Date, last: Date) -> Vec<(Date, Date)> {
    let behind_guards = |crop: &CropPlan| {
        plot.guards.iter().any(|guard| guard.plants.is_none_or(|plants| plants == Plant::Crop(crop.crop)))
    };
    let crops = plot.grounds.iter().flat_map(|ground| &ground.crops).filter(|crop| !behind_guards(crop));
    let standing = crops.flat_map(|crop| spans((crop.from, crop.to), first, last));
    standing.chain(shut_for_harvest(plot, rules, first, last)).collect()
}

/// Dated openings that the rules will not allow.
pub(super) fn dates(view: &SiteView<'_>) -> Vec<Warning> {
    let mut warnings = Vec::new();
    for strategy in &view.model.strategies {
        for opening in strategy.kind.dates().unwrap_or_default() {
            let refused = |plot: &usize| refused(view, setting(strategy, "file"), *plot, opening.date);
            warnings.extend(opening.plots.iter().filter_map(refused));
        }
    }
    warnings
}

/// Gates opened by hand that the rules will not allow.
pub(super) fn by_hand(view: &SiteView<'_>, position: usize, event: &SiteEvent) -> Option<Warning> {
    let SiteEventKind::GateByHand { plot, open: true } = event.what else { return None };
    refused(view, format!("event.{position}.on"), plot, in_year(event.on, view.site.start.year())?)
}

fn refused(view: &SiteView<'_>, about: String, plot: usize, date: Date) -> Option<Warning> {
    let plot = view.site.plots.get(plot)?;
    let shut = shut(plot, &view.site.rules, date, date).into_iter();
    let until = shut.filter(|(from, to)| date >= *from && date <= *to).map(|(_, to)| to).max()?;
    let because = format!("a crop or the waiting period keeps it shut until {until}");
    let remedy = "The gate stays shut by rule; choose another plot or date.";
    warning(about, format!("{} is to open on {date}", plot.name), because, remedy)
}

/// Waiting period below which there is hardly any.
const HARDLY_ANY: Threshold =
    Threshold::new(30.0, "days", "from memory; the rule is 120 and 90 days, 7 CFR 205.203(c)");

/// A waiting period of next to nothing.
pub(super) fn none(view: &SiteView<'_>) -> Vec<Warning> {
    let rules = &view.site.rules;
    let hardly_any = |(key, days): (&str, u32)| {
        let days = HARDLY_ANY.under(f64::from(days))?;
        warning(
            format!("rules.{key}"),
            format!("a waiting period of {days} days"),
            format!("less than {HARDLY_ANY} is next to none before food is eaten raw"),
            "Did you mean weeks? Take the line out for the rule.",
        )
    };
    let all =
        [("waiting_days_touching", rules.waiting_days_touching), ("waiting_days_other", rules.waiting_days_other)];
    all.into_iter().filter_map(hardly_any).collect()
}

/// A heap spread on a plot within the waiting period before a harvest.
pub(super) fn heap(view: &SiteView<'_>, position: usize, event: &SiteEvent) -> Option<Warning> {
    let SiteEventKind::SpreadHeap { plots } = &event.what else { return None };
    let date = in_year(event.on, view.site.start.year() + 1)?;
    let (plot, until) = plots.iter().find_map(|&(plot, _)| {
        let plot = view.site.plots.get(plot)?;
        let waits = shut_for_harvest(plot, &view.site.rules, date, date);
        let (_, until) = waits.into_iter().find(|(from, to)| *from <= date && *to >= date)?;
        Some((plot, until))
    })?;
    let until = shown_day(until);
    warning(
        format!("event.{position}.on"),
        format!("the heap is spread on {} on {}", plot.name, shown_day(date)),
        format!("a harvest there is within the waiting period for fresh manure, until {until}"),
        "Spread it after the last harvest, in autumn, or on another plot.",
    )
}
