//! Plots that the waiting period, standing crops and harvests keep shut: all year, or
//! on a day on which they are to open.

use super::Doubt;
use crate::model::SiteModel;
use crate::site_file::dates::{in_year, spans};
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::gates::spec::StrategyKind;
use sim_engine::site::{HarvestWindow, Plot, Rules, SiteEventKind, When};

/// Fewer open days a year than this are doubted; from memory.
const FEW_DAYS: usize = 14;

/// Plots hardly ever open by the rules.
pub(super) fn always_shut(model: &SiteModel) -> Vec<Doubt> {
    let site = &model.base;
    let year = site.start.year();
    let doubt = |plot: &Plot| {
        let open = open_days(plot, &site.rules, year);
        let harvests = harvests(plot).next().is_some();
        (harvests && open < FEW_DAYS).then(|| Doubt {
            about: about(plot, model),
            message: format!(
                "{} can be open {open} days of a year: it is in crop, or within the waiting period before a harvest, the rest",
                plot.name
            ),
            remedy: "Leave a longer gap between crops, guard the beds, or count on this plot for nothing.".into(),
        })
    };
    site.plots.iter().filter_map(doubt).collect()
}

fn about(plot: &Plot, model: &SiteModel) -> String {
    let crop = plot.grounds.iter().flat_map(|ground| &ground.crops).find(|crop| crop.harvest.is_some());
    let name = crop.and_then(|crop| model.base.crops.get(crop.crop)).map(|crop| crop.name.as_str());
    name.map_or(format!("plot.{}.area", plot.name), |name| format!("plot.{}.crop.{name}.harvest", plot.name))
}

fn harvests(plot: &Plot) -> impl Iterator<Item = &HarvestWindow> {
    let crops = plot.grounds.iter().flat_map(|ground| &ground.crops);
    crops.filter_map(|crop| crop.harvest.as_ref()).chain(&plot.canopy_harvest)
}

/// Days of a year on which neither a crop nor a coming harvest keeps the plot shut.
fn open_days(plot: &Plot, rules: &Rules, year: i16) -> usize {
    let (Some(first), Some(last)) = (january(year), january(year + 1)) else { return usize::MAX };
    let shut = shut(plot, rules, first, last);
    let days = std::iter::successors(Some(first), |day| day.tomorrow().ok()).take_while(|day| *day < last);
    days.filter(|day| !shut.iter().any(|(from, to)| day >= from && day <= to)).count()
}

/// Spans of days on which a standing crop (in beds without guards) or a coming harvest keeps the plot shut.
fn shut(plot: &Plot, rules: &Rules, first: Date, last: Date) -> Vec<(Date, Date)> {
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
fn shut_until(plot: &Plot, rules: &Rules, day: Date) -> Option<Date> {
    let spans = shut(plot, rules, day, day).into_iter();
    spans.filter(|(from, to)| day >= *from && day <= *to).map(|(_, to)| to).max()
}

/// Dated openings that the rules will not allow.
pub(super) fn dates(model: &SiteModel) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for strategy in &model.strategies {
        let StrategyKind::Dated { openings } = &strategy.kind else { continue };
        for (date, plot) in openings.iter().flat_map(|opening| opening.plots.iter().map(|plot| (opening.date, *plot))) {
            doubts.extend(refused(model, format!("strategy.{}", strategy.name), plot, date));
        }
    }
    doubts
}

/// Gates opened by hand that the rules will not allow.
pub(super) fn by_hand(model: &SiteModel) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for (position, event) in model.base.events.iter().enumerate() {
        let SiteEventKind::GateByHand { plot, open: true } = event.what else { continue };
        let date = in_year(event.on, model.base.start.year());
        doubts.extend(date.and_then(|date| refused(model, format!("event.{position}"), plot, date)));
    }
    doubts
}

fn refused(model: &SiteModel, about: String, plot: usize, date: Date) -> Option<Doubt> {
    let plot = model.base.plots.get(plot)?;
    let until = shut_until(plot, &model.base.rules, date)?;
    let message =
        format!("{} is to open on {date}, while a crop or the waiting period keeps it shut until {until}", plot.name);
    Some(Doubt { about, message, remedy: "The gate stays shut by rule; choose another plot or date.".into() })
}

fn january(year: i16) -> Option<Date> {
    in_year(When::Yearly { month: 1, day: 1 }, year)
}
