//! Reports: one HTML file, no network and no script needed, fit for phone, screen and paper.
//!
//! The order is that of a reader in a hurry: the answer, what each strategy costs and buys,
//! the pictures, then everything it rests on. Each part is a file of its own.

mod answer;
pub mod cautions;
pub mod describe;
mod grounds;
mod leading;
mod limits;
mod measures;
mod page;
pub mod pictures;
mod season_page;
mod strategies;
pub mod words;

pub use season_page::{SeasonTold, season_report};

use crate::compare::Comparison;
use crate::json::Provenance;
use crate::luck::{Draw, Luck};
use maud::{Markup, html};
use scenarios::{Library, SiteModel};
use sim_engine::weather::DayWeather;
use sim_engine::world::RunError;

/// What a report of a comparison is made from.
#[derive(Clone, Copy)]
pub struct Compared<'a> {
    /// The site.
    pub model: &'a SiteModel,
    /// The library, for plants that can harm birds.
    pub library: &'a Library,
    /// The comparison.
    pub comparison: &'a Comparison,
    /// What it was made from.
    pub from: &'a Provenance,
    /// The days all possible years shared, if they did (`--weather`).
    pub weather: Option<&'a [DayWeather]>,
    /// What a reader should know before the figures, as sentences.
    pub notes: &'a [String],
}

impl Compared<'_> {
    /// Index into the model of the strategy looked at closely.
    fn leading(&self) -> usize {
        self.comparison.plan.which[pictures::leading(self.comparison)]
    }

    /// Draw 0: every unknown at its likely value.
    fn likely(&self) -> Draw {
        let luck = Luck { seed: self.comparison.plan.seed };
        match self.weather {
            Some(days) => luck.draw_on(self.model, 0, days),
            None => luck.draw(self.model, 0),
        }
    }
}

/// `report.html` of a comparison.
///
/// # Errors
/// If the season of the leading strategy cannot be run.
pub fn compare_report(told: &Compared<'_>) -> Result<String, RunError> {
    let parts = [
        answer::part(told),
        strategies::part(told),
        charts(told),
        limits::part(told),
        leading::part(told)?,
        measures::part(told),
        grounds::taken_for_granted(told.model),
        grounds::cautions(told.model, told.library),
        grounds::how_to_read(told),
        grounds::provenance(told.model, told.from, told.comparison.outcomes.len()),
    ];
    let title = format!("{}: which gate, when", told.model.name);
    Ok(page::whole(&title, &parts))
}

fn charts(told: &Compared<'_>) -> Markup {
    let c = told.comparison;
    html! {
        section {
            h2 { "What is won and what it costs" }
            div.pictures {
                @if let Some(chart) = pictures::trade(c) { (page::figure(&chart)) }
                (page::figure(&pictures::aim(c)))
                (page::figure(&pictures::least_cover(told.model, c)))
                div.reading {
                    h3 { "Reading the pictures" }
                    ul {
                        li { "A hollow marker or a hatched bar: a limit gives way too often." }
                        li { "Whiskers are 95 % intervals of the mean. Where they overlap, look at the differences under “Every measure”: all strategies share their luck, so differences are surer." }
                        li { "The bands show one plot at a time: whichever is barest that day. Half of all possible years run in the dark band, 9 in 10 in the pale one." }
                        li { "A limit must hold on every day of the run, so a possible year that dips under the line once counts as not held." }
                    }
                }
            }
        }
    }
}
