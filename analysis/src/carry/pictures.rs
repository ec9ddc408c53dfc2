//! The chart of carrying capacity.

use super::Carried;
use super::view::{CarryView, birds};
use crate::charts::Chart;
use crate::charts::carry::{CarryData, CarryLine, carry};
use crate::wording::possible_years;

/// Most strategies on one chart: more bands than these hide one another.
const MOST_LINES: usize = 4;
/// Past the largest interval by this factor the curves are not drawn.
const REACH: f64 = 1.7;

/// The curves of the strategies that bear most.
#[must_use]
pub fn curves(view: &CarryView) -> Chart {
    let mut order: Vec<&(String, Carried)> = view.strategies.iter().collect();
    order.sort_by_key(|(_, carried)| std::cmp::Reverse(carried.birds));
    let shown = order.len().min(MOST_LINES);
    let end = order.iter().take(shown).map(|(_, carried)| carried.high.max(view.present)).max().unwrap_or(0);
    let lines = order.iter().take(shown).map(|(name, carried)| line(name, carried, REACH * end as f64));
    let more =
        if shown < order.len() { format!("; the {shown} of {} that bear most", order.len()) } else { String::new() };
    carry(&CarryData {
        title: title(view, order[0]),
        note: format!("All limits together; {} tried{more}", possible_years(view.draws as usize)),
        required_reliability: view.required_reliability,
        present: view.present as f64,
        lines: lines.collect(),
    })
}

fn title(view: &CarryView, (name, carried): &(String, Carried)) -> String {
    let way = carried.order.first().map(|&(limit, _)| format!("; {} fails first", view.limit(limit)));
    let most = if view.strategies.len() > 1 { " carries most:" } else { " carries" };
    format!("{name}{most} {} birds{}", birds(view, carried), way.unwrap_or_default())
}

fn line(name: &str, carried: &Carried, end: f64) -> CarryLine {
    let points = carried.curve.iter().filter(|point| point.birds as f64 <= end.max(carried.birds as f64));
    let point = |p: &super::CurvePoint| {
        let (chance, cover) = (p.chance, p.cover);
        (p.birds as f64, [chance.chance, chance.low, chance.high], [cover.mean, cover.low, cover.high])
    };
    CarryLine { name: name.to_owned(), birds: carried.birds as f64, points: points.map(point).collect() }
}
