//! What each plot bears, by crop and fruit: the strategy against birds shut in.

use super::page::Part;
use super::runs::{Run, StrategyRuns};
use crate::harvests::PlotHarvest;
use crate::wording::{number, signed, unit};
use maud::{Markup, html};

/// Nothing where nothing is harvested.
pub(super) fn part(runs: &StrategyRuns<'_>) -> Option<Part> {
    let rows = runs.harvests(Run::Strategy);
    (!rows.is_empty()).then(|| Part::new("harvest", "What is harvested", body(runs, &rows)))
}

fn body(runs: &StrategyRuns<'_>, rows: &[PlotHarvest]) -> Markup {
    let site = &runs.model.base;
    let shut_in = runs.harvests(Run::ShutIn);
    let printed = |kg: f64| runs.units.value(kg, "kg/yr");
    let figure = |kg: f64| number(printed(kg), 1);
    let against = |row: &PlotHarvest| {
        let same = shut_in.iter().find(|other| (other.plot, other.place) == (row.plot, row.place));
        signed(printed(row.harvest.kept_kg - same.map_or(0.0, |same| same.harvest.kept_kg)), 1)
    };
    let head = ["Kept", "Against shut in", "Lost to weeds", "Lost to pests", "Lost to birds"];
    html! {
        p { "Under " (runs.name()) ", " (unit("kg/yr", runs.units)) ", fresh, " (runs.words("in this one possible year", "means over the possible years")) ". Lost to birds is fruit they pick; what they eat of a standing crop is never grown." }
        table.stack.harvest {
            thead { tr { th { "Plot and plant" } @for head in head { th.number { (head) } } } }
            tbody { @for row in rows { tr {
                td.what { strong { (site.plots[row.plot].name) } " " (site.harvest_name(row.place)) }
                td.number data-head=(head[0]) { (figure(row.harvest.kept_kg)) }
                td.number data-head=(head[1]) { (against(row)) }
                td.number data-head=(head[2]) { (figure(row.harvest.lost_to_weeds_kg)) }
                td.number data-head=(head[3]) { (figure(row.harvest.lost_to_pests_kg)) }
                td.number data-head=(head[4]) { (figure(row.harvest.taken_by_birds_kg)) }
            } } }
        }
    }
}
