//! What happens to the whole site.

use super::plot_dates::spoken;
use crate::text::TextPage;
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
    let what = match event.what {
        SiteEventKind::HousingOrder => "a housing order keeps the birds in".to_owned(),
        SiteEventKind::SpreadHeap { plot: at } => format!("the heap is spread on {}", plot(at)),
        SiteEventKind::GateByHand { plot: at, open: true } => format!("the gate of {} is opened by hand", plot(at)),
        SiteEventKind::GateByHand { plot: at, open: false } => format!("the gate of {} is shut by hand", plot(at)),
    };
    match event.until {
        Some(until) => format!("From {} to {}: {what}.", spoken(event.on), spoken(until)),
        None => format!("On {}: {what}.", spoken(event.on)),
    }
}
