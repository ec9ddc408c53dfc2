//! What happens to the whole site.

use super::plot_dates::spoken;
use crate::text::TextPage;
use analysis::units::short;
use analysis::wording::list;
use scenarios::SiteModel;
use sim_engine::site::{SiteEvent, SiteEventKind};

/// Tells the events, if there are any.
pub(super) fn tell(page: &mut TextPage, model: &SiteModel) {
    if model.base.events.is_empty() {
        return;
    }
    page.heading("What happens");
    for event in &model.base.events {
        page.point(&one(model, event));
    }
}

fn one(model: &SiteModel, event: &SiteEvent) -> String {
    let plot = |plot: usize| model.base.plots.get(plot).map_or("", |plot| plot.name.as_str());
    let what = match &event.what {
        SiteEventKind::HousingOrder => "a housing order keeps the birds in".to_owned(),
        SiteEventKind::SpreadHeap { plots } => {
            let one = |&(at, share): &(usize, f64)| match plots.len() {
                1 => plot(at).to_owned(),
                _ => format!("{} ({} %)", plot(at), short(100.0 * share)),
            };
            format!("the heap is spread on {}", list(&plots.iter().map(one).collect::<Vec<_>>()))
        }
        &SiteEventKind::GateByHand { plot: at, open: true } => format!("the gate of {} is opened by hand", plot(at)),
        &SiteEventKind::GateByHand { plot: at, open: false } => format!("the gate of {} is shut by hand", plot(at)),
        &SiteEventKind::KeepOut { plot: at, treatment, days } => {
            format!("{}, {}: no bird goes in for {days} days", plot(at), treatment.word())
        }
    };
    match event.until {
        Some(until) => format!("From {} to {}: {what}.", spoken(event.on), spoken(until)),
        None => format!("On {}: {what}.", spoken(event.on)),
    }
}
