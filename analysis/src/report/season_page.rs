//! `season.html`: one season with its charts, measures and diary.

use super::words::{figure, typeset, unit};
use super::{grounds, page, pictures};
use crate::charts::axis::plain_date;
use crate::json::Provenance;
use crate::luck::Draw;
use crate::season::Season;
use maud::{Markup, html};
use scenarios::{Library, SiteModel};
use sim_engine::measures::Measure;

/// What the page of a season is made from.
#[derive(Clone, Copy)]
pub struct SeasonTold<'a> {
    /// The site.
    pub model: &'a SiteModel,
    /// The library, for plants that can harm birds.
    pub library: &'a Library,
    /// The luck.
    pub draw: &'a Draw,
    /// Index of the strategy in the model.
    pub which: usize,
    /// The season.
    pub season: &'a Season,
    /// What it was made from.
    pub from: &'a Provenance,
}

/// `season.html` of a season.
#[must_use]
pub fn season_report(told: &SeasonTold<'_>) -> String {
    let name = told.model.strategies.get(told.which).map_or("", |spec| spec.name.as_str());
    let title = format!("{}: a season under {name}", told.model.name);
    let parts = [
        head(told, name),
        measures(told),
        charts(told),
        diary(told),
        grounds::taken_for_granted(told.model),
        grounds::cautions(told.model, told.library),
        grounds::provenance(told.model, told.from, 1),
    ];
    page::whole(&title, &parts)
}

fn head(told: &SeasonTold<'_>, name: &str) -> Markup {
    let luck = match told.draw.number {
        0 => "Every unknown at its likely value, on the first of all weathers.".to_owned(),
        number => format!("Possible year number {number}."),
    };
    html! {
        header {
            p.site { (told.model.name) }
            h1 { "A season under " (name) }
            p.answer { (typeset(&super::describe::what_it_does(told.model, told.which))) " " (luck) }
        }
    }
}

fn charts(told: &SeasonTold<'_>) -> Markup {
    html! {
        section.own-page {
            h2 { "Gates and cover" }
            div.pictures {
                (page::figure(&pictures::strip(told.model, told.draw, told.which, told.season)))
                (page::figure(&pictures::cover(told.model, told.which, told.season)))
            }
        }
    }
}

fn measures(told: &SeasonTold<'_>) -> Markup {
    let shown = Measure::ALL.iter().map(|&m| (m, told.season.measures.get(m))).filter(|(_, value)| !value.is_nan());
    html! {
        section {
            h2 { "What came of it" }
            table.short {
                tbody { @for (m, value) in shown {
                    tr { td { (m.plain()) } td.number { (figure(value, m.decimals())) } td { (unit(m.unit())) } }
                } }
            }
        }
    }
}

fn diary(told: &SeasonTold<'_>) -> Markup {
    html! {
        section {
            h2 { "Diary" }
            details open {
                summary { (told.season.diary.lines.len()) " lines" }
                table.diary { tbody { @for day in told.season.diary.lines.chunk_by(|a, b| a.date == b.date) {
                    tr {
                        td.date { (plain_date(day[0].date)) }
                        td { @for line in day { p {
                            @if !line.plot.is_empty() { (line.plot) ": " }
                            (line.what)
                            @if !line.why.is_empty() { " (" (typeset(&line.why)) ")" }
                        } } }
                    }
                } } }
            }
        }
    }
}
