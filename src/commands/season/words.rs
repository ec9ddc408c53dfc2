//! A season's figures as tables.

use crate::commands::station_days::ForcedWeather;
use crate::text::counted;
use analysis::season::Season;
use analysis::table::{TextColumn, TextTable, season_table, wrapped};
use analysis::units::Units;
use analysis::wording::{figure, list};
use scenarios::SiteModel;

/// What the days bare leave out.
const BARE: &str =
    "Bare by birds: days in a row under half cover, less those on which the plot would lie so with the birds shut in.";

/// What stdout says.
pub(super) fn words(
    model: &SiteModel,
    which: usize,
    draw: u64,
    laid: Option<&ForcedWeather>,
    season: &Season,
    units: Units,
) -> String {
    let strategy = &model.strategies[which].name;
    let named =
        if draw == 0 { "every unknown at its likely value".to_owned() } else { format!("possible year {draw}") };
    let years = counted(model.years as usize, "year", "years");
    let mut out = wrapped(&format!("{}: {strategy}, {years} from {}, {named}.", model.name, model.base.start), "");
    if let Some(laid) = laid {
        out.push_str(&wrapped(&laid.words(), ""));
    }
    out.push_str(&format!("\n{}\n{}\n", season_table(&season.measures, units), plots(model, season)));
    out.push_str(&wrapped(BARE, ""));
    out.push_str(&all_beds(model).map_or_else(String::new, |words| wrapped(&words, "")));
    let worst = season.audit.worst_of_all();
    out.push_str(&wrapped(
        &format!("The books balance: of water, nitrogen, phosphorus, dry matter, seeds, birds and pests at most {worst:.0e} of what is there or flows is unaccounted for on any day."),
        "",
    ));
    out
}

/// Says which plots have no figures of cover, and why.
fn all_beds(model: &SiteModel) -> Option<String> {
    let names: Vec<&str> =
        model.base.plots.iter().filter(|plot| !plot.has_sward()).map(|plot| plot.name.as_str()).collect();
    (!names.is_empty()).then(|| format!("All beds, no sward to keep: {}.", list(&names)))
}

fn plots(model: &SiteModel, season: &Season) -> String {
    let mut table = TextTable::new(&[
        (TextColumn::Words, "plot"),
        (TextColumn::Numbers, "least\ncover, %"),
        (TextColumn::Numbers, "mean\ncover, %"),
        (TextColumn::Numbers, "days open\na year"),
        (TextColumn::Numbers, "longest bare\nby birds, d"),
        (TextColumn::Numbers, "weeds,\n%"),
    ]);
    for (plot, figures) in model.base.plots.iter().zip(&season.plots) {
        table.row([
            plot.name.clone(),
            figure(100.0 * figures.least_cover, 0),
            figure(100.0 * figures.mean_cover, 0),
            figure(figures.days_open, 0),
            figure(figures.bare_days, 0),
            figure(100.0 * figures.weed_cover, 1),
        ]);
    }
    table.text()
}
