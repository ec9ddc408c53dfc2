//! What the figures rest on: what was taken for granted, warnings, cautions, how to read, provenance.

use super::compared::CompareView;
use super::page::Part;
use crate::provenance::Provenance;
use crate::units::{Units, short};
use crate::wording::{figure, possible_years, typeset};
use maud::{Markup, html};
use scenarios::money::AimUnit;
use scenarios::{Library, SiteModel};

pub(super) fn taken_for_granted(model: &SiteModel, units: Units) -> Part {
    let body = html! {
            @if model.defaults.is_empty() {
                p { "Nothing: the site file says everything." }
            } @else {
                p { "The site file is silent on these; change them there if they are not so." }
                table.stack.granted {
                    thead { tr { th { "Key in the site file" } th { "Taken as" } } }
                    tbody { @for d in &model.defaults { tr { td.what { code { (d.key) } } td data-head="Taken as" { (typeset(&units.written(&d.value))) } } } }
                }
            }
            @if !model.warnings.is_empty() {
                h3 { "Worth another look" }
                ul { @for d in &model.warnings {
                    li {
                        @if d.place.line > 0 { "Line " (d.place.line) ": " }
                        (d.message) ". " (d.remedy)
                    }
                } }
            }
    };
    Part::new("granted", "What was taken for granted", body)
}

pub(super) fn cautions(model: &SiteModel, library: &Library, units: Units) -> Part {
    let cautions = crate::cautions::of(model, library, units);
    let body = html! { dl.cautions { @for c in cautions { div { dt { (c.about) } dd { (c.text) } } } } };
    Part::new("cautions", "Cautions", body)
}

pub(super) fn how_to_read(view: &CompareView<'_>) -> Part {
    let (model, c) = (view.model, view.comparison);
    let body = html! {
            ul {
                li { strong { "A possible year" } " is one weather and one value of everything that is not known exactly (seeds and pests in the soil, how much hens eat). Every strategy lives through the same ones, so differences between strategies are surer than the figures themselves." }
                li { strong { "The aim" } " adds up what the site file says each thing is worth to you, in " (match &c.aim_unit { AimUnit::Hours => "hours of your own work".to_owned(), money => money.short().to_owned() }) " a year; 0 means what you have with the birds shut in: the same flock, its heap and the usual care, and no gate opened."
                    ul { @for &(m, points) in &model.aims { li { (m.plain()) ": " (c.aim_unit.amount(&worth(points, m.unit(), view.units))) " " (per(m.unit(), view.units)) } } }
                }
                li { strong { "Ground cover lost" } " is how much less of the ground outside beds is covered, on the mean of the days and on the plot that loses most, than is asked for or there is with the birds shut in." }
                li { strong { "Pests kept down" } " is how many fewer adults rise from the plots' own soil than with the birds shut in. What flies in from next door is not changed by any gate here, and is shown separately under “Every measure”." }
                li { strong { "The best" } " has the highest mean aim among strategies that keep every limit often enough. A lead under "
                    (figure(100.0 * c.plan.indifference_share, 0)) " % of the gain is not worth a change of strategy, and is called too close." }
                li { strong { "None better in every way" } ": no other strategy is at least as good in all that the aims name and better in something." }
            }
    };
    Part::new("reading", "How to read this", body)
}

/// Hours that one unit is worth, as printed.
fn worth(points: f64, unit: &str, units: Units) -> String {
    let sign = if points > 0.0 { "+" } else { "" };
    format!("{sign}{}", short(points / units.value(1.0, unit)).replace('-', "−"))
}

/// "per hour a year", "per point".
fn per(unit: &str, units: Units) -> String {
    match unit {
        "points" => "per point of cover".to_owned(),
        "moves/yr" => "per move a year".to_owned(),
        "h/yr" => "per hour a year".to_owned(),
        "d/yr" | "d" => "per day".to_owned(),
        "share" => "for the whole, 0 to 100 %".to_owned(),
        other => format!("per {}", crate::wording::unit(other, units)),
    }
}

pub(super) fn provenance(model: &SiteModel, from: &Provenance, draws: usize) -> Markup {
    html! {
        footer {
            h2 { "Where this comes from" }
            dl {
                div { dt { "Program" } dd { "hensward " (from.version) } }
                div { dt { "Site" } dd { (model.name) } }
                div { dt { "Seed" } dd { (from.seed) } }
                div { dt { "Digest of the inputs" } dd { code { (from.input_digest) } } }
                div { dt { "Counted on" } dd { (possible_years(draws)) } }
                @if let Some(years) = model.weather.distinct_draws() { div { dt { "Weather" } dd { (years) " whole years of the station" } } }
            }
            p { "The same site, seed and version give this very page again." }
        }
    }
}
