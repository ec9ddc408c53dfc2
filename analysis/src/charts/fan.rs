//! Fans: how one quantity may go over the days, over all possible years.
//!
//! Median, the middle half (25–75 %) and 5–95 %; one panel a plot or strategy.

use super::Chart;
use super::axis::{DateTick, Scale, months};
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::frame::{Heading, Key};
use super::theme::{EDGE, GRID, INK, LINE, MARGIN, Rgb, SOFT_INK, TEXT, WIDTH, series};
use crate::stats::quantiles::Spread;
use crate::wording::{number, plain_date, short_month_name};
use jiff::civil::Date;
use sim_engine::dates::date_of;

const PANEL: f64 = 112.0;
const PANEL_GAP: f64 = 14.0;
/// Steps wished on the upright axis: panels are low.
const PANEL_STEPS: f64 = 2.5;
/// Days are thinned until points stand at least this many px apart, for the file's size.
const LEAST_PX: f64 = 1.0;
const OUTER_ALPHA: f64 = 0.20;
const INNER_ALPHA: f64 = 0.42;

/// What the fans show.
#[derive(Clone, Debug, PartialEq)]
pub struct FanData {
    /// The finding.
    pub title: String,
    /// Quantity and unit, as the axis shows it ("ground cover, %"), where all panels share one
    /// scale; empty where each panel has its own, and its name says what and in what unit.
    pub quantity: String,
    /// Date of day 0.
    pub start: Date,
    /// Days from one value of a column to the next.
    pub every_days: usize,
    /// Panels from top to bottom.
    pub panels: Vec<FanPanel>,
    /// Words for [`FanPanel::limit`]: "limit 60 %".
    pub limit: String,
    /// Words for [`FanPanel::references`], one each: "birds shut in, median".
    pub references: Vec<String>,
}

/// One panel; all columns step by step, NaN where blank.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FanPanel {
    /// Name.
    pub name: String,
    /// 5 % quantile.
    pub p05: Vec<f64>,
    /// 25 % quantile.
    pub p25: Vec<f64>,
    /// Median.
    pub median: Vec<f64>,
    /// 75 % quantile.
    pub p75: Vec<f64>,
    /// 95 % quantile.
    pub p95: Vec<f64>,
    /// Medians to compare with.
    pub references: Vec<Vec<f64>>,
    /// A line to stay above or below.
    pub limit: Option<f64>,
}

impl FanPanel {
    /// Adds a step: the quantiles of its values, blank where there are none.
    pub fn push(&mut self, spread: Option<&Spread>) {
        let of = |pick: fn(&Spread) -> f64| spread.map_or(f64::NAN, pick);
        self.p05.push(of(|q| q.p05));
        self.p25.push(of(|q| q.p25));
        self.median.push(of(|q| q.median));
        self.p75.push(of(|q| q.p75));
        self.p95.push(of(|q| q.p95));
    }

    fn columns(&self) -> impl Iterator<Item = &Vec<f64>> {
        [&self.p05, &self.p25, &self.median, &self.p75, &self.p95].into_iter().chain(&self.references)
    }
}

/// Draws the fans.
#[must_use]
pub fn fan(data: &FanData) -> Chart {
    let note = if data.quantity.is_empty() { String::new() } else { format!("Each panel: {}", data.quantity) };
    let heading = Heading::new(&data.title, &note);
    let key = key(data);
    let steps = data.panels.iter().map(|panel| panel.median.len()).max().unwrap_or(0);
    let days = steps * data.every_days.max(1);
    let each = LINE + 4.0 + PANEL + PANEL_GAP;
    let foot = heading.height() + data.panels.len() as f64 * each;
    let height = foot + LINE * 2.0 + key.height();
    let alt = alternative(data);
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        let x = across(data, days);
        for (i, panel) in data.panels.iter().enumerate() {
            let top = heading.height() + i as f64 * each;
            draw_panel(pen, data, panel, x, top);
        }
        draw_dates(pen, data.start, days, x, foot - PANEL_GAP);
        key.draw(pen, foot + LINE * 2.0);
    });
    Chart { svg, alt }
}

/// Scale of a panel: set by all columns and the limit, of all panels where they share it.
fn up(data: &FanData, panel: &FanPanel, from_px: f64, to_px: f64) -> Scale {
    let own = std::slice::from_ref(panel);
    let panels = if data.quantity.is_empty() { own } else { data.panels.as_slice() };
    let columns = panels.iter().flat_map(FanPanel::columns).flatten().copied();
    let values = columns.chain(panels.iter().filter_map(|panel| panel.limit));
    Scale::with_ticks(values, from_px, to_px, PANEL_STEPS)
}

fn across(data: &FanData, days: usize) -> Scale {
    let scales = data.panels.iter().map(|panel| up(data, panel, 1.0, 0.0));
    let widths = scales.flat_map(|y| y.ticks().into_iter().map(move |t| text_width(&y.tick_text(t), TEXT, false)));
    let widest = widths.fold(0.0, f64::max);
    Scale {
        low: 0.0,
        high: days.max(2) as f64 - 1.0,
        from_px: MARGIN + widest + 8.0,
        to_px: WIDTH - MARGIN - 4.0,
        step: 1.0,
    }
}

fn draw_panel(pen: &mut Pen<'_>, data: &FanData, panel: &FanPanel, x: Scale, top: f64) {
    pen.text((x.from_px, top + LINE / 2.0), &panel.name, Type { bold: true, ..Type::default() });
    let plot_top = top + LINE + 4.0;
    let y = up(data, panel, plot_top + PANEL, plot_top);
    draw_grid(pen, data.start, x, y);
    // Columns count in steps, the axis in days.
    let x = Scale { high: x.high / data.every_days.max(1) as f64, ..x };
    let look = series(0);
    ribbon(pen, (&panel.p05, &panel.p95), x, y, OUTER_ALPHA);
    ribbon(pen, (&panel.p25, &panel.p75), x, y, INNER_ALPHA);
    for (at, column) in panel.references.iter().enumerate() {
        stretches(column, x, y).iter().for_each(|line| pen.line(line, reference_stroke(at)));
    }
    let median = Stroke::plain(look.colour, 2.2);
    stretches(&panel.median, x, y).iter().for_each(|line| pen.line(line, median));
    if let Some(limit) = panel.limit {
        let at = y.px(limit);
        pen.line(&[(x.from_px, at), (x.to_px, at)], Stroke { dash: &[2.0, 4.0], ..Stroke::plain(INK, 1.8) });
    }
}

fn draw_grid(pen: &mut Pen<'_>, start: Date, x: Scale, y: Scale) {
    for tick in y.ticks() {
        let at = y.px(tick);
        pen.line(&[(x.from_px, at), (x.to_px, at)], Stroke::plain(GRID, 1.0));
        let look = Type { side: Side::End, colour: SOFT_INK, ..Type::default() };
        pen.text((x.from_px - 8.0, at), &y.tick_text(tick), look);
    }
    for tick in months(start, x.high as usize + 1) {
        let at = x.px(tick.day as f64);
        let line = if tick.new_year { Stroke::plain(EDGE, 1.4) } else { Stroke::plain(GRID, 1.0) };
        pen.line(&[(at, y.to_px), (at, y.from_px)], line);
    }
    pen.line(&[(x.from_px, y.from_px), (x.to_px, y.from_px)], Stroke::plain(EDGE, 1.0));
}

/// Band between two columns, broken where either is blank.
fn ribbon(pen: &mut Pen<'_>, (low, high): (&[f64], &[f64]), x: Scale, y: Scale, alpha: f64) {
    let both: Vec<f64> = low.iter().zip(high).map(|(a, b)| a + b).collect();
    for run in present_runs(&both) {
        let along = |values: &[f64]| -> Vec<(f64, f64)> {
            thinned(&run, x).into_iter().map(|day| (x.px(day as f64), y.px(values[day]))).collect()
        };
        let mut edge = along(low);
        edge.extend(along(high).into_iter().rev());
        pen.polygon(&edge, series(0).colour, alpha);
    }
}

fn stretches(values: &[f64], x: Scale, y: Scale) -> Vec<Vec<(f64, f64)>> {
    present_runs(values)
        .into_iter()
        .map(|run| thinned(&run, x).into_iter().map(|day| (x.px(day as f64), y.px(values[day]))).collect())
        .collect()
}

/// Days of a run far enough apart to be told apart; always its first and last.
fn thinned(run: &std::ops::Range<usize>, x: Scale) -> Vec<usize> {
    let every = (LEAST_PX / (x.px(1.0) - x.px(0.0))).ceil().max(1.0) as usize;
    let mut days: Vec<usize> = run.clone().step_by(every).collect();
    days.extend((days.last() != Some(&(run.end - 1))).then_some(run.end - 1));
    days
}

/// Runs of days that are not blank.
fn present_runs(values: &[f64]) -> Vec<std::ops::Range<usize>> {
    let mut runs: Vec<std::ops::Range<usize>> = Vec::new();
    for day in (0..values.len()).filter(|&day| !values[day].is_nan()) {
        match runs.last_mut() {
            Some(run) if run.end == day => run.end = day + 1,
            _ => runs.push(day..day + 1),
        }
    }
    runs
}

/// Month names, as many as fit, and years below them.
fn draw_dates(pen: &mut Pen<'_>, start: Date, days: usize, x: Scale, foot: f64) {
    let ticks = months(start, days);
    let month_px = 30.0 * (x.to_px - x.from_px) / x.high;
    let every = [1_i8, 2, 3, 4, 6, 12].into_iter().find(|&every| f64::from(every) * month_px >= 40.0).unwrap_or(12);
    let soft = Type { side: Side::Middle, colour: SOFT_INK, ..Type::default() };
    for tick in ticks.iter().filter(|tick| (tick.date.month() - 1) % every == 0) {
        let at = x.px(tick.day as f64);
        pen.line(&[(at, foot), (at, foot + 5.0)], Stroke::plain(EDGE, 1.2));
        if at > x.from_px + 4.0 && at < x.to_px - 12.0 {
            pen.text((at, foot + 15.0), short_month_name(tick.date), soft);
        }
    }
    draw_years(pen, start, days, &ticks, x, foot + 15.0 + LINE - 2.0);
}

fn draw_years(pen: &mut Pen<'_>, start: Date, days: usize, ticks: &[DateTick], x: Scale, y: f64) {
    let mut edges: Vec<usize> = vec![0];
    edges.extend(ticks.iter().filter(|tick| tick.new_year && tick.day > 0).map(|tick| tick.day));
    edges.push(days);
    for pair in edges.windows(2) {
        let (from, to) = (x.px(pair[0] as f64), x.px(pair[1] as f64));
        if to - from > 44.0 {
            let look = Type { side: Side::Middle, bold: true, ..Type::default() };
            let year = date_of(start, pair[0]).year().to_string();
            pen.text(((from + to) / 2.0, y), &year, look);
        }
    }
}

fn key(data: &FanData) -> Key<'_> {
    let mut key = Key::default();
    let colour = series(0).colour;
    let bands = data.panels.iter().any(|panel| !panel.p05.is_empty());
    key.add(if bands { "median" } else { "this season" }, move |pen, x, y| {
        pen.line(&[(x, y), (x + 30.0, y)], Stroke::plain(colour, 2.4));
    });
    if bands {
        add_bands(&mut key, colour);
    }
    for (at, words) in data.references.iter().enumerate() {
        key.add(words, move |pen, x, y| pen.line(&[(x, y), (x + 30.0, y)], reference_stroke(at)));
    }
    if data.panels.iter().any(|panel| panel.limit.is_some()) {
        key.add(&data.limit, |pen, x, y| {
            let stroke = Stroke { dash: &[2.0, 4.0], ..Stroke::plain(INK, 1.8) };
            pen.line(&[(x, y), (x + 30.0, y)], stroke);
        });
    }
    key
}

/// Stroke of a column to compare with.
fn reference_stroke(at: usize) -> Stroke {
    let dash: &[f64] = if at == 0 { &[6.0, 4.0] } else { &[2.0, 3.0] };
    Stroke { dash, ..Stroke::plain(series(at + 1).colour, 2.2) }
}

fn add_bands(key: &mut Key<'_>, colour: Rgb) {
    key.add("middle half of possible years", move |pen, x, y| {
        pen.rect((x, y - 7.0), (30.0, 14.0), colour, OUTER_ALPHA);
        pen.rect((x, y - 7.0), (30.0, 14.0), colour, INNER_ALPHA);
    });
    key.add("9 in 10 possible years", move |pen, x, y| {
        pen.rect((x, y - 7.0), (30.0, 14.0), colour, OUTER_ALPHA);
    });
}

fn alternative(data: &FanData) -> String {
    let panels: Vec<String> = data.panels.iter().map(|panel| panel_words(data, panel)).collect();
    let title = data.title.trim_end_matches('.');
    let what = if data.quantity.is_empty() { "Each panel" } else { &data.quantity };
    format!("{title}. {what} through the season. {}", panels.join(" "))
}

fn panel_words(data: &FanData, panel: &FanPanel) -> String {
    let lowest = (0..panel.median.len())
        .filter(|&day| !panel.median[day].is_nan())
        .reduce(|low, day| if panel.median[day] < panel.median[low] { day } else { low });
    let highest = (0..panel.median.len())
        .filter(|&step| !panel.median[step].is_nan())
        .reduce(|high, step| if panel.median[step] > panel.median[high] { step } else { high });
    let (Some(low), Some(high)) = (lowest, highest) else {
        return format!("{}: blank.", panel.name);
    };
    let of = if panel.p05.is_empty() { "" } else { "the median is " };
    format!("{}: {of}lowest {}; highest {}.", panel.name, step_words(data, panel, low), step_words(data, panel, high))
}

/// "on 3 May 2027, at 61.0 (9 in 10 possible years: 50.0 to 70.0)".
fn step_words(data: &FanData, panel: &FanPanel, step: usize) -> String {
    let at = |column: &[f64]| column.get(step).map_or_else(|| "?".to_owned(), |&v| number(v, 1));
    let date = plain_date(date_of(data.start, step * data.every_days.max(1)));
    let range = if panel.p05.is_empty() {
        String::new()
    } else {
        format!(" (9 in 10 possible years: {} to {})", at(&panel.p05), at(&panel.p95))
    };
    format!("on {date}, at {}{range}", at(&panel.median))
}

#[cfg(test)]
mod tests;
