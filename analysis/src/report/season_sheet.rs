//! The first page of a season: what the gates did, the harvest, what to watch, what it gained and cost.

use super::describe::what_it_does;
use super::gate_dates::GateDates;
use super::runs::{Run, StrategyRuns};
use super::sheet::safety;
use super::{balance, watch};
use crate::harvest_dates::{HarvestDates, harvest_dates};
use crate::harvests::PlotHarvest;
use crate::wording::{BLANK, figure, list, plain_date, typeset, unit};
use maud::{Markup, html};
use sim_engine::dates::date_of;
use sim_engine::site::Plant;

/// Gates and harvests listed at most together, so that it stays one page, and harvests beside however many gates; the
/// others stand with their plots.
const MOST_ROWS: usize = 14;
const SURE_HARVESTS: usize = 5;
/// Harvests of the first year are told; those of later years are like them.
const DAYS_A_YEAR: usize = 365;

pub(super) fn part(runs: &StrategyRuns<'_>) -> Markup {
    let year = match runs.draw.number {
        0 => "Every unknown at its likely value, in the first weather drawn.".to_owned(),
        number => format!("Possible year number {number}."),
    };
    let years = runs.model.years;
    let (open, picked) = (GateDates::all(runs.season, runs.draw), picked(runs));
    let listed = picked.len().min(MOST_ROWS.saturating_sub(open.len()).max(SURE_HARVESTS));
    html! {
        header {
            p.site { (runs.model.name) }
            h1 { "A season under " (runs.name()) }
            p.answer { (typeset(&what_it_does(runs.model, runs.which, runs.units))) " " (year) }
        }
        section.first {
            div {
                h2 id="gates" { "What the gates did" @if years > 1 { " in " (years) " years" } }
                (gates(runs, &open[..open.len().min(MOST_ROWS - listed)], open.len()))
                @if !picked.is_empty() { (harvest(runs, &picked[..listed], picked.len())) }
                p.heed { (safety(runs.model)) }
            }
            div {
                h2 id="watch" { "What to watch" }
                (watch::list(runs))
                h2 id="balance" { "What it gained and cost in a year" }
                (balance::table(runs))
            }
        }
    }
}

/// Those of all gates ever open that there is room for.
fn gates(runs: &StrategyRuns<'_>, listed: &[GateDates], all: usize) -> Markup {
    let site = &runs.model.base;
    let never = |plot: &usize| GateDates::of(runs.season, runs.draw, *plot).is_none();
    let shut = (0..site.plots.len()).filter(never).map(|plot| site.plots[plot].name.as_str());
    let shut: Vec<&str> = shut.collect();
    html! {
        @if listed.is_empty() { p { "No gate was ever open: the birds stayed in the yard." } }
        @else { (gate_table(runs, listed)) }
        p.note {
            (more(all - listed.len(), "gate"))
            @if !shut.is_empty() && !listed.is_empty() { "Never open: " (list(&shut)) ". " }
            a href="#moves" { "Every move, and why" }
        }
    }
}

fn gate_table(runs: &StrategyRuns<'_>, gates: &[GateDates]) -> Markup {
    html! {
        table.dates {
            thead { tr { th { "Gate to" } th { "First open" } th { "Last open" } th.number { "Days" } th.number { "Stays" } } }
            tbody { @for gate in gates { tr {
                td.what { (runs.model.base.plots[gate.plot].name) }
                td { (plain_date(gate.first)) }
                td { (plain_date(gate.last)) }
                td.number { (gate.days) }
                td.number { (gate.stays) }
            } } }
        }
    }
}

/// Harvests of the first year, by their first day of picking.
fn picked<'m>(runs: &StrategyRuns<'m>) -> Vec<HarvestDates<'m>> {
    let end = date_of(runs.model.base.start, DAYS_A_YEAR);
    let mut dates = harvest_dates(runs.model);
    dates.retain(|harvest| harvest.first_day < end);
    dates.sort_by_key(|harvest| (harvest.first_day, harvest.plot));
    dates
}

fn harvest(runs: &StrategyRuns<'_>, listed: &[HarvestDates<'_>], all: usize) -> Markup {
    html! {
        h2 id="picked" { "The harvest" }
        (harvest_table(runs, listed))
        p.note {
            (more(all - listed.len(), "harvest"))
            "Kept: fresh, after what weeds, pests and birds took; the small figure is all there was before that."
        }
    }
}

fn harvest_table(runs: &StrategyRuns<'_>, dates: &[HarvestDates<'_>]) -> Markup {
    let borne = runs.harvests(Run::Strategy);
    html! {
        table.dates {
            thead { tr { th { "Crop" } th { "Last day with birds" } th { "Picked from" } th.number { "Kept, " (typeset(&unit("kg/yr", runs.units))) } } }
            tbody { @for (at, harvest) in dates.iter().enumerate() { tr {
                td.what {
                    (harvest.name) " " small { (runs.model.base.plots[harvest.plot].name) @if harvest.window.windfall { ", fallen fruit" } }
                }
                td { @if harvest.shut_from_start { "none from the start" } @else if harvest.birds_in_while_picked { "may be in" } @else { (plain_date(harvest.last_bird_day)) } }
                td { (plain_date(harvest.first_day)) }
                td.number { (kept(runs, &borne, harvest, first_of_its_kind(dates, at))) }
            } } }
        }
    }
}

/// A crop picked twice has one figure for the year, beside its first picking.
fn first_of_its_kind(dates: &[HarvestDates<'_>], at: usize) -> bool {
    let kind = |harvest: &HarvestDates<'_>| (harvest.plot, harvest.plant);
    dates[..at].iter().all(|before| kind(before) != kind(&dates[at]))
}

fn kept(runs: &StrategyRuns<'_>, borne: &[PlotHarvest], dates: &HarvestDates<'_>, first: bool) -> Markup {
    let place = match dates.plant {
        Plant::Crop(crop) => crop,
        Plant::Canopy(canopy) => runs.model.base.crops.len() + canopy,
    };
    let of = borne.iter().find(|of| (of.plot, of.place) == (dates.plot, place)).map(|of| of.harvest);
    let said = |kg: f64| figure(runs.units.value(kg, "kg/yr"), 1);
    html! { @match of {
        _ if !first => "in the line above",
        None => (BLANK),
        Some(of) => {
            (said(of.kept_kg)) " "
            small { "of " (said(of.kept_kg + of.lost_to_weeds_kg + of.lost_to_pests_kg + of.taken_by_birds_kg)) }
        },
    } }
}

/// "2 more gates stand with their plots. "
fn more(left_out: usize, what: &str) -> String {
    match left_out {
        0 => String::new(),
        1 => format!("1 more {what} stands with its plot. "),
        more => format!("{more} more {what}s stand with their plots. "),
    }
}
