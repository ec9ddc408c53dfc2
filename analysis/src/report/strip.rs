//! The picture of a season: what the strip of its gates shows.

use super::pictures::strategy_name;
use crate::charts::season_strip::{Mark, SpanKind, StripData, StripRow};
use crate::draw_sampler::Draw;
use crate::season::Season;
use scenarios::SiteModel;
use sim_engine::agenda::Event;
use sim_engine::dates::{self, date_of, days_between};
use sim_engine::gates::reason::Veto;

/// What the strip of the first `days` of a season shows: plots down, days across, gates, crops and rules.
#[must_use]
pub fn strip(model: &SiteModel, draw: &Draw, which: usize, season: &Season, days: usize) -> StripData {
    let rows = (0..draw.site.plots.len()).map(|plot| strip_row(draw, plot, season)).collect();
    let strip = StripData { title: String::new(), start: draw.site.start, rows }.first_days(days);
    let run = if draw.number == 0 { "a likely run" } else { "this run" };
    StripData { title: finding(strategy_name(model, which), run, &strip), ..strip }
}

/// The gate that stands open most.
fn finding(strategy: &str, run: &str, strip: &StripData) -> String {
    let open = |row: &StripRow| row.open.iter().filter(|&&open| open).count();
    let days = strip.rows.first().map_or(0, |row| row.open.len());
    match strip.rows.iter().rev().max_by_key(|row| open(row)) {
        Some(row) if open(row) > 0 => {
            format!("{strategy}: the gate to {} is open most, on {} of {days} days of {run}", row.name, open(row))
        }
        _ => format!("{strategy}: no gate is ever open"),
    }
}

fn strip_row(draw: &Draw, plot: usize, season: &Season) -> StripRow {
    let state = |day: usize| season.diary.state(day, plot);
    let open = (0..draw.site.days).map(|day| state(day).is_some_and(|state| state.open)).collect();
    let marks = season.diary.events.iter().filter_map(|&(day, what)| Some((day, mark(what, plot)?))).collect();
    StripRow {
        name: draw.site.plots[plot].name.clone(),
        cover: season.cover[plot].clone(),
        cover_shut_in: season.cover_shut_in[plot].clone(),
        open,
        marks,
        spans: spans(draw, plot, season).into_iter().chain(put_up(draw, plot)).collect(),
    }
}

fn mark(what: Event, of: usize) -> Option<Mark> {
    match what {
        Event::CropIn { plot, .. } if plot == of => Some(Mark::CropIn),
        Event::HarvestBegins { plot } if plot == of => Some(Mark::Harvest),
        Event::CropOut { plot, .. } if plot == of => Some(Mark::CropOut),
        Event::HeapSpread { plot, .. } if plot == of => Some(Mark::HeapSpread),
        _ => None,
    }
}

/// Stretches in which a rule keeps the plot shut.
fn spans(draw: &Draw, plot: usize, season: &Season) -> Vec<(usize, usize, SpanKind)> {
    let kind = |day: usize| match season.diary.state(day, plot)?.rule? {
        Veto::Housing => Some(SpanKind::Housing),
        Veto::KeepOut { .. } => Some(SpanKind::Treated),
        Veto::WaitingPeriod { .. } => Some(SpanKind::Waiting),
        Veto::Isolation => Some(SpanKind::Isolation),
        Veto::CropStanding => Some(SpanKind::Crop),
        Veto::Mud | Veto::Frozen | Veto::Snow => None,
    };
    let kinds: Vec<Option<SpanKind>> = (0..draw.site.days).map(kind).collect();
    let mut first = 0;
    let mut spans = Vec::new();
    for run in kinds.chunk_by(|a, b| a == b) {
        if let Some(kind) = run[0] {
            spans.push((first, first + run.len(), kind));
        }
        first += run.len();
    }
    spans
}

/// Days on which part of a plot stands under guards or nets.
fn put_up(draw: &Draw, plot: usize) -> Vec<(usize, usize, SpanKind)> {
    let site = &draw.site;
    let (here, last) = (&site.plots[plot], date_of(site.start, site.days - 1));
    let guards = here.guards.iter().map(|guard| ((guard.from, guard.to), SpanKind::Guarded));
    let nets = here.nets.iter().map(|net| ((net.from, net.to), SpanKind::Netted));
    let day = |date| days_between(site.start, date).max(0) as usize;
    let stretches = |(window, kind)| {
        let found = dates::spans(window, site.start, last).into_iter();
        found.map(move |(from, to)| (day(from), (day(to) + 1).min(site.days), kind)).collect::<Vec<_>>()
    };
    guards.chain(nets).flat_map(stretches).collect()
}
