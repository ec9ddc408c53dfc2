//! A site on one screen: what was understood, a drawing, what is unusual, what to do next.

use super::plot_dates::spoken_date;
use super::words::{kept_apart, surface};
use super::{in_the_page, practice_sentences};
use crate::text::{TextPage, counted};
use analysis::harvest_dates::harvest_dates;
use analysis::report::describe::what_it_does;
use analysis::site_plan::{SitePlan, drawn};
use analysis::table::wrapped;
use analysis::units::{Units, short};
use analysis::wording::{harvest_in_words, limit_in_words, list};
use jiff::ToSpan;
use jiff::civil::Date;
use scenarios::SiteModel;
use scenarios::weather_source::WeatherSource;
use sim_engine::gates::spec::StrategyKind;
use sim_engine::site::{Group, Plot};

/// Letters in a line.
const WIDTH: usize = 80;
/// Strategies told; the rest are named.
const MOST_STRATEGIES: usize = 4;
/// Harvests told; the rest are counted.
const MOST_HARVESTS: usize = 6;
/// Doubts shown whole; the rest are counted.
const MOST_DOUBTS: usize = 4;

/// The screen; `given` is how the site was named on the command line.
pub fn site(model: &SiteModel, given: &str, units: Units) -> String {
    let mut page = TextPage::default();
    place(&mut page, model, units);
    page.heading("The ground");
    page.raw(&drawn(&SitePlan::of(&model.base), |metres| units.length(metres)));
    let widest = model.base.plots.iter().map(|plot| plot.name.chars().count()).max().unwrap_or(0);
    for (at, plot) in model.base.plots.iter().enumerate() {
        page.raw(&hanging(&plot_line(model, at, plot, widest, units)));
    }
    if let Some(words) = distance(model, units) {
        page.raw(&wrapped(&words, "  "));
    }
    strategies(&mut page, model, units);
    picking(&mut page, model);
    page.heading("What must hold");
    let limits: Vec<String> = model.limits.all.iter().map(|limit| limit_in_words(limit, units)).collect();
    let limits = if limits.is_empty() { "nothing but the rules of the gates".to_owned() } else { limits.join("; ") };
    page.raw(&wrapped(&format!("{limits}."), "  "));
    for read in &model.names_read {
        page.raw(&wrapped(&format!("You wrote \"{}\": read as {}, {}.", read.written, read.entry, read.kind), "  "));
    }
    doubts(&mut page, model, units);
    next(&mut page, given);
    page.finish()
}

fn place(page: &mut TextPage, model: &SiteModel, units: Units) {
    let site = &model.base;
    page.heading(&model.name);
    let side = if site.place.latitude_deg < 0.0 { "S" } else { "N" };
    let weather = match &model.weather {
        WeatherSource::Climate { name, .. } => format!("weather as in \"{name}\""),
        WeatherSource::Fitted { file, .. } => format!("weather in the manner of {file}"),
        WeatherSource::Years { file, .. } => format!("the years of {file}"),
    };
    page.raw(&wrapped(
        &format!(
            "{} {side}, {} above the sea; {weather}. From {} for {}, tried on {}.",
            short(site.place.latitude_deg.abs()),
            units.length(site.place.elevation_m),
            spoken_date(site.start),
            counted(model.years as usize, "year", "years"),
            counted(model.draws as usize, "possible year", "possible years"),
        ),
        "  ",
    ));
    let alike = |one: &Group, other: &Group| one.name == other.name && other.arrive.is_some();
    let groups: Vec<String> = site.groups.chunk_by(alike).map(|arrivals| birds(model, arrivals)).collect();
    let most = most_at_once(&site.groups, site.start);
    let groups = match groups.len() {
        0 => "none".to_owned(),
        1 => groups.concat(),
        _ => format!("{}; up to {} at once", list(&groups), short(most)),
    };
    page.raw(&wrapped(
        &format!("Birds: {groups}. Yard: {}, {}.", units.area(site.yard.area_m2), surface(site.yard.drained)),
        "  ",
    ));
}

/// "3 (rescues, layer) from 12 July 2027, kept apart in berries for 30 days": birds of a table, a group for each arrival.
fn birds(model: &SiteModel, arrivals: &[Group]) -> String {
    let Some(first) = arrivals.first() else { return String::new() };
    let class = model.base.birds.get(first.class).map_or("bird", |class| class.name.as_str());
    let mut words = format!("{} ({}, {class})", short(first.number), first.name);
    if let Some(date) = first.arrive.filter(|date| *date > model.base.start || arrivals.len() > 1) {
        let more = if arrivals.len() > 1 { " and every year after" } else { "" };
        words += &format!(" from {}{more}", spoken_date(date));
    }
    words += &kept_apart(model, first);
    words
}

/// Most birds on the site on a day.
fn most_at_once(groups: &[Group], start: Date) -> f64 {
    let from = |group: &Group| group.arrive.unwrap_or(start).max(start);
    let on = |day: Date| {
        let here = groups.iter().filter(|group| from(group) <= day && group.leave.is_none_or(|leave| leave > day));
        here.map(|group| group.number).sum::<f64>()
    };
    groups.iter().map(|group| on(from(group))).fold(0.0, f64::max)
}

/// "  1 lawn          34 m2, gate 3 m: mown grass".
fn plot_line(model: &SiteModel, at: usize, plot: &Plot, widest: usize, units: Units) -> String {
    let widest = widest.min(20);
    let digits = model.base.plots.len().to_string().len();
    format!(
        "{:>digits$} {:<widest$}  {}, gate {} away: {}",
        at + 1,
        plot.name,
        units.area(plot.area_m2),
        units.length(plot.distance_m),
        grows(model, plot)
    )
}

/// How few birds the farthest gate draws, which decides much; nothing where all gates are near.
fn distance(model: &SiteModel, units: Units) -> Option<String> {
    let scale = model.base.process.distance_scale;
    let far = model.base.plots.iter().max_by(|a, b| a.distance_m.total_cmp(&b.distance_m))?;
    let one_in = (1.0 + far.distance_m / scale).powi(2).round();
    (one_in >= 2.0 && !model.base.house.mobile).then(|| {
        format!(
            "Birds keep near home: of 4 hens that range beside the yard about 1 does {} away, and to the gate of {} comes about 1 of {}.",
            units.length(scale),
            far.name,
            short(one_in)
        )
    })
}

/// What grows in a plot, in names.
fn grows(model: &SiteModel, plot: &Plot) -> String {
    let site = &model.base;
    let mut words: Vec<String> = Vec::new();
    let beds: f64 = plot.grounds.iter().filter(|ground| ground.bed).map(|ground| ground.share).sum();
    let mut crops: Vec<&str> = Vec::new();
    for crop in plot.grounds.iter().flat_map(|ground| &ground.crops) {
        let name = site.crops.get(crop.crop).map_or("", |crop| crop.name.as_str());
        if !crops.contains(&name) {
            crops.push(name);
        }
    }
    if beds > 0.0 {
        let share = if beds >= 1.0 { "all beds".to_owned() } else { format!("{} % beds", short(100.0 * beds)) };
        words.push(if crops.is_empty() { share } else { format!("{share} ({})", crops.join(", ")) });
    }
    if plot.has_sward() {
        words.extend(site.covers.get(plot.cover).map(|cover| cover.name.clone()));
    }
    let over = plot.canopies.iter().filter_map(|here| site.canopies.get(here.canopy).map(|of| of.name.clone()));
    let over: Vec<String> = over.collect();
    if !over.is_empty() {
        words.push(format!("under {}", list(&over)));
    }
    let pests: Vec<&str> =
        plot.pests.iter().filter_map(|here| Some(site.pests.get(here.pest)?.name.as_str())).collect();
    if !pests.is_empty() {
        words.push(format!("pests: {}", pests.join(", ")));
    }
    words.join("; ")
}

/// Text wrapped under its first words.
fn hanging(words: &str) -> String {
    let mut lines = Vec::new();
    let mut line = String::new();
    // Blanks that align columns stay: only where a word does not fit a new line begins.
    for word in words.split_inclusive(' ') {
        if 2 + line.chars().count() + word.trim_end().chars().count() > WIDTH {
            lines.push(std::mem::replace(&mut line, "    ".to_owned()));
        }
        line += word;
    }
    lines.push(line);
    lines.iter().map(|line| format!("  {}\n", line.trim_end())).collect()
}

fn strategies(page: &mut TextPage, model: &SiteModel, units: Units) {
    page.heading("Strategies");
    let practice = |which: &usize| matches!(model.strategies[*which].kind, StrategyKind::Practice { .. });
    let mut order: Vec<usize> = (0..model.strategies.len()).collect();
    order.sort_by_key(|which| !practice(which));
    let (told, named) = order.split_at(order.len().min(MOST_STRATEGIES));
    for &which in told {
        page.point(&format!("{}: {}", model.strategies[which].name, what_it_does(model, which, units)));
        practice_sentences(page, model, which, units);
    }
    if !named.is_empty() {
        let names: Vec<&str> = named.iter().map(|&which| model.strategies[which].name.as_str()).collect();
        page.point(&format!("and {}.", list(&names)));
    }
}

/// The next harvests, with birds' last day before each.
fn picking(page: &mut TextPage, model: &SiteModel) {
    let mut next = harvest_dates(model);
    let year = model.base.start.saturating_add(1.year());
    next.retain(|harvest| harvest.first_day >= model.base.start && harvest.first_day < year);
    next.sort_by_key(|harvest| (harvest.first_day, harvest.plot));
    if next.is_empty() {
        return;
    }
    page.heading("Birds out before a harvest");
    for harvest in next.iter().take(MOST_HARVESTS) {
        page.point(&format!("in {}, {}", model.base.plots[harvest.plot].name, harvest_in_words(harvest)));
    }
    if next.len() > MOST_HARVESTS {
        page.point(&format!("and {} more: --all", next.len() - MOST_HARVESTS));
    }
}

/// What is unusual, and how much was not in the file.
fn doubts(page: &mut TextPage, model: &SiteModel, units: Units) {
    if !model.warnings.is_empty() {
        page.heading("Unusual: look at these again");
        // What can harm a bird comes first.
        let others = model.warnings.iter().filter(|warning| model.harms().all(|harm| harm != *warning));
        let warnings: Vec<_> = model.harms().chain(others).collect();
        for warning in warnings.iter().take(MOST_DOUBTS) {
            page.raw(&in_the_page(&units.fault(warning).to_string()));
        }
        let more = warnings.get(MOST_DOUBTS..).unwrap_or_default();
        if !more.is_empty() {
            page.raw("  Also, in full with --all:\n");
            for warning in more {
                let what = units.fault(warning).message;
                page.point(what.split(", because ").next().unwrap_or_default());
            }
            page.raw("  None of these stops a run.\n");
        }
    }
}

fn next(page: &mut TextPage, given: &str) {
    page.heading("Next");
    page.raw(&format!(
        "  hensward compare {given}\n      which strategy is better; writes report.html\n  \
         hensward check {given} --all\n      everything: dates, rules, limits, cautions, what the file left open\n"
    ));
}
