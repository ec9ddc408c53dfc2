//! Where the nitrogen came from and where it went: under a strategy, and with the birds shut in.

use super::compared::CompareView;
use crate::charts::Chart;
use crate::charts::stack::{StackData, StackGroup, StackKind, stack};
use crate::experiment::ArmId;
use crate::run_detail::{Nitrogen, NitrogenPath};
use crate::season::Season;
use crate::units::Units;
use crate::wording::figure;
use scenarios::SiteModel;

const UNIT: &str = "kg/ha";

/// One plot: means over the possible years. `None` where no run was looked at closely.
#[must_use]
pub fn plot(view: &CompareView<'_>, plot: usize) -> Option<Chart> {
    let of = |run: ArmId| mean_of(view, run, |detail| vec![(detail.plots[plot].nitrogen, 1.0)]);
    compared(view, &view.model.base.plots[plot].name, of)
}

/// The whole site: means over the possible years and, by area, over plots.
#[must_use]
pub fn site(view: &CompareView<'_>) -> Option<Chart> {
    let areas: Vec<f64> = view.model.base.plots.iter().map(|plot| plot.area_m2).collect();
    let of = |run: ArmId| {
        mean_of(view, run, |detail| detail.plots.iter().map(|p| p.nitrogen).zip(areas.iter().copied()).collect())
    };
    compared(view, "All plots", of)
}

/// Mean over draws of the weighted mean of each.
fn mean_of(
    view: &CompareView<'_>,
    run: ArmId,
    parts: impl Fn(&crate::run_detail::RunDetail) -> Vec<(Nitrogen, f64)>,
) -> Option<Nitrogen> {
    let all: Vec<(Nitrogen, f64)> = view.comparison.detail(run).iter().flat_map(parts).collect();
    (!all.is_empty()).then(|| Nitrogen::mean(&all))
}

fn compared(view: &CompareView<'_>, name: &str, of: impl Fn(ArmId) -> Option<Nitrogen>) -> Option<Chart> {
    let c = view.comparison;
    let s = c.leading();
    let (with, shut_in) = (of(ArmId::Strategy(s))?, of(ArmId::ShutIn)?);
    let mut rows = vec![(c.names[s].clone(), with)];
    if c.plan.against != s {
        rows.push((c.names[c.plan.against].clone(), of(ArmId::Strategy(c.plan.against))?));
    }
    rows.push(("birds shut in".to_owned(), shut_in));
    Some(draw(name, &rows, view.units))
}

/// One plot in one season.
#[must_use]
pub fn season_plot(model: &SiteModel, which: usize, season: &Season, plot: usize, units: Units) -> Chart {
    let name = model.strategies.get(which).map_or("this season", |spec| spec.name.as_str());
    let rows = [
        (name.to_owned(), season.detail.plots[plot].nitrogen),
        ("birds shut in".to_owned(), season.detail_shut_in.plots[plot].nitrogen),
    ];
    draw(&model.base.plots[plot].name, &rows, units)
}

/// The first row is the one the title is about, the last the run of birds shut in.
fn draw(name: &str, rows: &[(String, Nitrogen)], units: Units) -> Chart {
    let said = |kg_ha: f64| figure(units.value(kg_ha, UNIT), 0);
    let (with, shut_in) = (&rows[0].1, &rows[rows.len() - 1].1);
    let title = format!(
        "{name}: droppings bring {} {} of nitrogen a year; {} leach, with the birds shut in {}",
        said(with.get(NitrogenPath::Manure)),
        units.unit(UNIT),
        said(with.get(NitrogenPath::Leached)),
        said(shut_in.get(NitrogenPath::Leached)),
    );
    stack(&StackData {
        title,
        quantity: format!("nitrogen, {} a year", units.unit(UNIT)),
        kinds: kinds(),
        groups: rows.iter().map(|(name, nitrogen)| group(name, nitrogen, units)).collect(),
    })
}

/// Kinds in the order ways in, drawn, ways out, left.
fn kinds() -> Vec<StackKind> {
    // Birds' own flows share a colour, so do those of air and water.
    const COLOURS_OUT: [usize; 4] = [0, 2, 3, 5];
    let kind = |words: &str, colour, hatched| StackKind { words: words.to_owned(), colour, hatched };
    let inward = NitrogenPath::IN.iter().enumerate().map(|(at, way)| kind(way.plain(), Some(at), false));
    let outward = NitrogenPath::OUT.iter().zip(COLOURS_OUT).map(|(way, at)| kind(way.plain(), Some(at), true));
    let drawn = kind("drawn from soil and plants", None, false);
    let left = kind("left in soil and plants", None, true);
    inward.chain([drawn]).chain(outward).chain([left]).collect()
}

fn group(name: &str, nitrogen: &Nitrogen, units: Units) -> StackGroup {
    let value = |kg_ha: f64| units.value(kg_ha, UNIT);
    let ways = |ways: &[NitrogenPath], first: usize| -> Vec<(usize, f64)> {
        ways.iter().enumerate().map(|(at, &way)| (first + at, value(nitrogen.get(way)))).collect()
    };
    let (drawn, left) = (NitrogenPath::IN.len(), NitrogenPath::IN.len() + 1 + NitrogenPath::OUT.len());
    let mut inward = ways(&NitrogenPath::IN, 0);
    inward.push((drawn, value((-nitrogen.stored).max(0.0))));
    let mut outward = ways(&NitrogenPath::OUT, drawn + 1);
    outward.push((left, value(nitrogen.stored.max(0.0))));
    StackGroup { name: name.to_owned(), inward, outward }
}
