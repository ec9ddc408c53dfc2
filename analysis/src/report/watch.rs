//! What to watch: where the leading strategy may go wrong, and the dates that matter.

use super::compared::CompareView;
use crate::experiment::ArmId;
use crate::harvest_dates::harvest_dates;
use crate::run_detail::{EVERY_DAYS, Quantity};
use crate::season::LikelySeason;
use crate::stats::quantiles::quantile;
use crate::wording::{birds_until, figure, plain_date, short_month_name, typeset};
use maud::{Markup, html};
use sim_engine::agenda::Event;
use sim_engine::dates::date_of;

pub(super) fn list(view: &CompareView<'_>) -> Markup {
    let mut points: Vec<String> = barest(view).into_iter().collect();
    points.extend(pests(view.likely));
    points.extend(pickings(view));
    points.push(
        "Shut a gate when the ground looks wrong, whatever the strategy says: bare patches, mud, birds in one corner."
            .to_owned(),
    );
    html! { ul.watch { @for point in &points { li { (typeset(point)) } } } }
}

/// The plot whose median falls lowest, and in which month.
fn barest(view: &CompareView<'_>) -> Option<String> {
    let c = view.comparison;
    let runs = c.detail(ArmId::Strategy(c.leading()));
    let weeks = runs.first()?.weekly.weeks();
    let at = |week: usize, plot: usize, share: f64| {
        let values: Vec<f64> = runs.iter().map(|run| run.weekly.at(week, plot, Quantity::Cover)).collect();
        quantile(&values, share).unwrap_or(f64::NAN)
    };
    let places = (0..view.model.base.plots.len()).flat_map(|plot| (0..weeks).map(move |week| (week, plot)));
    let medians = places.map(|(week, plot)| (week, plot, at(week, plot, 0.5))).filter(|place| !place.2.is_nan());
    let (week, plot, median) = medians.reduce(|low, next| if next.2 < low.2 { next } else { low })?;
    let date = date_of(view.model.base.start, week * EVERY_DAYS);
    Some(format!(
        "Ground cover of {}: lowest in {} {}, at {} % in the middle case and {} % in a bad year (1 in 20).",
        view.model.base.plots[plot].name,
        short_month_name(date),
        date.year(),
        figure(median, 0),
        figure(at(week, plot, 0.05), 0)
    ))
}

/// Pests named at most: the page is one sheet.
const MOST_PESTS: usize = 4;

/// First emergence of each pest in the likely season.
fn pests(likely: &LikelySeason) -> Option<String> {
    let site = &likely.draw.site;
    let mut first: Vec<(usize, usize, Vec<&str>)> = Vec::new();
    for &(day, what) in &likely.season.diary.events {
        let Event::EmergenceBegins { plot, pest } = what else { continue };
        let name = site.plots[plot].name.as_str();
        match first.iter_mut().find(|(of, ..)| *of == pest) {
            Some((.., plots)) if !plots.contains(&name) => plots.push(name),
            Some(_) => {}
            None => first.push((pest, day, vec![name])),
        }
    }
    let told = first.iter().take(MOST_PESTS).map(|(pest, day, plots)| {
        format!("{} from {} ({})", site.pests[*pest].name, plain_date(date_of(site.start, *day)), plots.join(", "))
    });
    let more = match first.len().saturating_sub(MOST_PESTS) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    let words = format!(
        "Pests leave the soil, in a likely year: {}{more}. Birds find them only where the gate is open then.",
        told.collect::<Vec<_>>().join("; ")
    );
    (!first.is_empty()).then_some(words)
}

/// Pickings named at most; all of the year stand on the cards of their plots.
const MOST_PICKINGS: usize = 3;

/// The next pickings: birds' last day before each.
fn pickings(view: &CompareView<'_>) -> Option<String> {
    let start = view.model.base.start;
    let mut next = harvest_dates(view.model);
    next.retain(|harvest| harvest.first_day >= start);
    next.sort_by_key(|harvest| (harvest.first_day, harvest.plot));
    let plot = |plot: usize| view.model.base.plots[plot].name.as_str();
    let told = next.iter().take(MOST_PICKINGS).map(|harvest| {
        let first = plain_date(harvest.first_day);
        format!("{} ({}) from {first}, {}", harvest.name, plot(harvest.plot), birds_until(harvest))
    });
    let words = format!("Next to pick: {}. The rest stands with each plot.", told.collect::<Vec<_>>().join("; "));
    (!next.is_empty()).then_some(words)
}
