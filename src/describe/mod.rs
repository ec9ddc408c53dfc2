//! A site said back in plain words: what the program understood.

pub mod brief;
mod events;
mod judged;
pub mod plot_dates;
mod plots;
mod site;
mod words;

use crate::text::TextPage;
use analysis::cautions;
use analysis::harvest_dates::harvest_dates;
use analysis::practice_days::{practice_days, spoken};
use analysis::report::describe::what_it_does;
use analysis::table::wrapped;
use analysis::units::Units;
use analysis::wording::harvest_in_words;
use scenarios::diagnose::MOST_SHOWN;
use scenarios::{Library, SiteModel};

/// The whole site.
pub fn site(model: &SiteModel, library: &Library, units: Units) -> String {
    let mut page = TextPage::default();
    site::tell(&mut page, model, units);
    plots::tell(&mut page, model, units);
    events::tell(&mut page, model);
    picking(&mut page, model);
    strategies(&mut page, model, units);
    judged::tell(&mut page, model, units);
    names_read(&mut page, model);
    taken(&mut page, model, units);
    warnings(&mut page, model, units);
    page.heading("Cautions");
    for caution in cautions::of(model, library, units) {
        page.point(&format!("{}. {}", caution.about, caution.text));
    }
    page.finish()
}

/// Every harvest of the run on its dates.
fn picking(page: &mut TextPage, model: &SiteModel) {
    let harvests = harvest_dates(model);
    if harvests.is_empty() {
        return;
    }
    page.heading("Birds out before a harvest");
    for harvest in &harvests {
        page.point(&format!("in {}, {}", model.base.plots[harvest.plot].name, harvest_in_words(harvest)));
    }
}

fn strategies(page: &mut TextPage, model: &SiteModel, units: Units) {
    page.heading("Strategies");
    for (which, spec) in model.strategies.iter().enumerate() {
        page.point(&format!("{}: {}", spec.name, what_it_does(model, which, units)));
        practice_sentences(page, model, which, units);
    }
}

/// How often each rule of a practice spoke, and which never did and why.
fn practice_sentences(page: &mut TextPage, model: &SiteModel, which: usize, units: Units) {
    // A run that fails is a fault of the command that asks for it, not of what the file says.
    for days in practice_days(model, which, units).unwrap_or_default() {
        spoken(&days).iter().for_each(|words| page.point(&format!("{}, {words}", days.strategy)));
    }
}

/// Names that the library has under another.
fn names_read(page: &mut TextPage, model: &SiteModel) {
    if model.names_read.is_empty() {
        return;
    }
    page.heading("Names read");
    for read in &model.names_read {
        page.point(&format!("{}: {} (you wrote {})", read.kind, read.entry, read.written));
    }
}

/// What the file left open.
fn taken(page: &mut TextPage, model: &SiteModel, units: Units) {
    if model.defaults.is_empty() {
        return;
    }
    page.heading("Not in the file, so this was taken");
    let mut output: Vec<(String, Vec<String>)> = Vec::new();
    for default in &model.defaults {
        let (plot, key) = plot_and_key(&default.key);
        let words = format!("{key}: {}", units.words(&default.value));
        match output.iter_mut().find(|(of, _)| *of == words) {
            Some((_, plots)) => plots.extend(plot),
            None => output.push((words, plot.into_iter().collect())),
        }
    }
    for (words, plots) in output {
        let plots = if plots.is_empty() { String::new() } else { format!(" ({})", plots.join(", ")) };
        page.point(&format!("{words}{plots}"));
    }
}

/// "plot.long-beds.irrigation" as plot "long-beds" and key "irrigation"; other keys whole.
fn plot_and_key(key: &str) -> (Option<String>, &str) {
    match key.strip_prefix("plot.").and_then(|rest| rest.split_once('.')) {
        Some((plot, key)) => (Some(plot.to_owned()), key),
        None => (None, key),
    }
}

/// What a keeper should look at again.
fn warnings(page: &mut TextPage, model: &SiteModel, units: Units) {
    if model.warnings.is_empty() {
        return;
    }
    page.heading("Unusual: look at these again");
    for warning in model.warnings.iter().take(MOST_SHOWN) {
        page.raw(&in_the_page(&units.fault(warning).to_string()));
    }
    if let Some(more) = model.warnings.len().checked_sub(MOST_SHOWN).filter(|more| *more > 0) {
        page.raw(&format!("… and {more} more.\n\n"));
    }
    page.raw(&wrapped("None of these stops a run.", "  "));
}

/// A warning in the width of the page; the file's own line and its mark stay as they are.
fn in_the_page(warning: &str) -> String {
    let of_file =
        |line: &str| line.trim_start_matches([' ', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9']).starts_with('|');
    let line = |line: &str| match line.strip_prefix("  ") {
        _ if of_file(line) => format!("{line}\n"),
        Some(remedy) => wrapped(remedy, "  "),
        None => wrapped(line, ""),
    };
    warning.lines().map(line).collect::<String>() + "\n"
}
