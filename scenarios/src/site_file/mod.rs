//! A site file: read whole, every fault noted with its place, made into a [`SiteModel`].
//!
#![doc = include_str!("format.md")]
//!
//! # How it is read
//! The sections are read in the order in which they need each other: surroundings,
//! the site's own library entries, plots, birds, events, strategies, what is judged,
//! what is unknown.

mod aims;
mod beds;
mod birds;
mod bounds;
mod canopies;
mod care;
mod context;
mod date_meant;
mod dated;
pub(crate) mod dates;
pub(crate) mod defaults;
mod events;
pub mod format;
mod openings;
mod plots;
pub(crate) mod practice;
mod practice_tables;
mod strategies;
mod strategy_tables;
mod surroundings;
mod typo_hints;
mod unsure;
mod waits;
pub(crate) mod weather;

pub use context::Companions;
pub use date_meant::candidates as dates_meant;

use crate::diagnose::{Fault, FaultPage, Faults, Severity, SourceText};
use crate::library::{Entry, EntryKind, Library, read_entries};
use crate::model::SiteModel;
use crate::read_file;
use crate::reader::{Item, Reader};
use crate::shown_text::acts;
use crate::warnings;
use context::Context;
use sim_engine::dates::date_of;
use sim_engine::site::{Plot, Site};
use sim_engine::species::KeepersCount;
use std::cell::RefCell;
use std::path::Path;
use toml::de::DeTable;

/// Name of the one entry of the processes.
const GENERAL: &str = "general";

/// Reads the site file at a path; files it names are read from beside it.
///
/// # Errors
/// All faults of the file, in the order of its lines.
pub fn read(path: &Path, library: &Library) -> Result<SiteModel, Faults> {
    let shown = path.display().to_string();
    let text = read_file::text(path, read_file::SITE_BYTES).map_err(|unread| {
        let remedy =
            unread.remedy.unwrap_or("Give the path of a site file, or the name of a demo site such as sallowmere");
        Faults::one(Fault::of_file(&shown, format!("cannot be read: {}", unread.why), remedy))
    })?;
    let folder = path.parent().unwrap_or(Path::new("."));
    read_text(&shown, &text, library, &|name| beside(folder, name))
}

/// The text of a file that a site file names, from beside it.
///
/// # Errors
/// Why it cannot be read, in a sentence.
pub fn beside(folder: &Path, name: &str) -> Result<String, String> {
    read_file::text(&folder.join(name), read_file::STATION_BYTES).map_err(|unread| unread.sentence())
}

/// Reads the text of a site file called `file`; `companions` gives the files it names.
///
/// # Errors
/// All faults of the text, in the order of its lines.
pub fn read_text(file: &str, text: &str, library: &Library, companions: &Companions<'_>) -> Result<SiteModel, Faults> {
    let source = SourceText::new(file, text);
    let faults = RefCell::new(Vec::new());
    let page = FaultPage { source: &source, faults: &faults };
    let model = document(page, library, companions);
    let faults = Faults::sorted(faults.into_inner());
    match model {
        Some(mut model) if !faults.any_error() => {
            model.warnings = faults.into_vec();
            Ok(model)
        }
        _ => Err(faults.in_us_units(surroundings::says_us_units(text))),
    }
}

/// The model of a page, `None` where a fault left a hole in it.
fn document(page: FaultPage<'_>, library: &Library, companions: &Companions<'_>) -> Option<SiteModel> {
    if page.source.text().trim().is_empty() {
        let remedy = "Begin with a starter: hensward new my-garden";
        let fault = Fault::of_file(page.source.file(), "the file is empty", remedy);
        page.faults.borrow_mut().push(fault);
        return None;
    }
    let (document, errors) = DeTable::parse_recoverable(page.source.text());
    let mut told = Vec::new();
    for error in &errors {
        let span = error.span().unwrap_or(0..0);
        // A line that is no TOML often fails in several places: the first says enough.
        let line = page.source.place(span.clone()).line;
        if told.contains(&line) {
            continue;
        }
        told.push(line);
        let remedy = typo_hints::remedy(error.message(), page.source, span.clone());
        page.note(Severity::Error, page.source.place(span), error.message(), remedy);
    }
    if !errors.is_empty() {
        return None;
    }
    let root = Reader::new(page, "the site file", document.get_ref(), 0..0).declared(&format::SITE);
    let model = site(page, &root, library, companions);
    if !page.faults.borrow().iter().any(|fault| fault.message == plots::NO_PLOTS) {
        root.finish();
    }
    model
}

/// Entries the site defines itself.
fn own_entries(root: &Reader<'_>, library: &Library) -> Library {
    let mut own = Library::default();
    if let Some(reader) = root.table("library") {
        let entries: Vec<Entry> = read_entries(&reader, library);
        entries.into_iter().for_each(|entry| own.put(entry));
        own.read_climates(&reader);
        reader.finish();
    }
    own
}

fn check_format(root: &Reader<'_>) {
    let Some(item) = root.needed("format") else { return };
    match item.bare() {
        Some(2.0) => {}
        Some(1.0) => item.fault(
            "this is format 1, and this version reads format 2",
            "Write format = 2 and correct the lines named here: keys that are gone say what to write instead.",
        ),
        _ => item.fault("this version reads format 2", "Write format = 2."),
    }
}

/// Most characters of a site's name.
const LONGEST_TITLE: usize = 80;

/// The name of the site: a line of text that is seen.
fn title<'r>(item: &Item<'r>) -> Option<&'r str> {
    let text = item.text()?;
    let good = !text.trim().is_empty() && text.chars().count() <= LONGEST_TITLE && !text.chars().any(acts);
    if !good {
        let remedy = format!("Write 1 to {LONGEST_TITLE} characters in one line, none of them invisible.");
        item.fault(format!("{text:?} cannot be the name of a site"), remedy);
    }
    good.then_some(text)
}

fn site(page: FaultPage<'_>, root: &Reader<'_>, library: &Library, companions: &Companions<'_>) -> Option<SiteModel> {
    check_format(root);
    let (whereabouts, elevation_default) = surroundings::whereabouts(root);
    let us_units = surroundings::us_units(root);
    let run = surroundings::run(root);
    let last = date_of(run.start, run.days);
    let plot_items = plots::tables(root);
    if page.faults.borrow().iter().any(|fault| fault.message == plots::NO_PLOTS) {
        return None;
    }
    let mut context = Context {
        library,
        own: own_entries(root, library),
        tables: context::Tables::default(),
        used: Vec::new(),
        plot_names: plot_items.iter().map(|item| item.key.clone()).collect(),
        run: (run.start, last),
        starts: Vec::new(),
        defaults: Vec::new(),
        names_read: Vec::new(),
        crop_paths: Vec::new(),
        rules: surroundings::DEFAULT_RULES,
    };
    if elevation_default {
        context.default("elevation", format!("{} m", defaults::ELEVATION_M));
    }
    if context.in_use(EntryKind::Process, GENERAL).is_none() {
        root.fault("the library has no process \"general\"", "Use a library that has one.");
    }
    let weather = weather::read(&context, root, &run, whereabouts.place.latitude_deg, companions);
    let yard = surroundings::yard(&mut context, root);
    let house = surroundings::house(&mut context, root);
    let (waiting_rules, waiting_rule_reason) = surroundings::rules(&mut context, root);
    let numbered = plot_items.iter().enumerate();
    let plots: Vec<Plot> = numbered.filter_map(|(position, item)| plots::read(&mut context, item, position)).collect();
    let groups = birds::read(&mut context, root);
    let events = events::read(&mut context, root);
    let strategies = strategies::read(&mut context, root, &plots, companions);
    let limits = aims::limits(&mut context, root);
    let (aim_unit, aims) = aims::aims(&mut context, root);
    let compare = aims::compare(&context, root, &strategies);
    let unknowns = unsure::read(&context, root);
    let name = root.get("name").and_then(|item| title(&item)).unwrap_or(defaults::NAME).to_owned();
    let tables = context.tables;
    let weather = weather?;
    let mut place = whereabouts.place;
    place.above_weather_m = weather.elevation_m.map_or(0.0, |height| place.elevation_m - height);
    let base = Site {
        place,
        start: run.start,
        days: run.days,
        steps_per_day: run.steps_per_day,
        process: tables.process?,
        soils: tables.soils,
        covers: tables.covers,
        weeds: tables.weeds,
        creepers: tables.creepers,
        crops: tables.crops,
        canopies: tables.canopies,
        pests: tables.pests,
        slugs: tables.slugs,
        birds: tables.birds,
        yard,
        house,
        groups,
        plots,
        events,
        rules: context.rules,
    };
    let mut model = SiteModel {
        name,
        us_units,
        base,
        longitude_deg: whereabouts.longitude_deg,
        utc_offset_h: whereabouts.utc_offset_h,
        years: run.years,
        draws: run.draws,
        weather: weather.source,
        fill_gaps_days: weather.fill_gaps_days,
        strategies,
        unknowns,
        entries: context.used,
        aims,
        aim_unit,
        limits,
        compare,
        waiting_rules,
        waiting_rule_reason,
        defaults: context.defaults,
        names_read: context.names_read,
        warnings: Vec::new(),
    };
    settle(&mut model);
    model.unknowns.retain(|unknown| unknown.low < unknown.high);
    if page.faults.borrow().iter().all(|fault| fault.severity == Severity::Unusual) {
        let view = warnings::SiteView {
            model: &model,
            site: &model.base,
            library,
            own: &context.own,
            typical: warnings::Typical::of(&model.weather),
            crop_paths: &context.crop_paths,
            places: warnings::Places::of(root.document()),
            text: page.source.text(),
        };
        warnings::look(&view, page);
    }
    Some(model)
}

/// Puts the keeper's likely values into the base, so that rank 0.5 everywhere is the base.
fn settle(model: &mut SiteModel) {
    for unknown in &model.unknowns {
        crate::unknowns::set(&mut model.base, unknown.target, unknown.value);
    }
    for pest in &mut model.base.pests {
        pest.count = KeepersCount::of(&pest.params);
    }
}
