//! Bars lying down, with intervals: the aim by strategy, or any measure.

use super::Chart;
use super::axis::Scale;
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::frame::{Heading, Key};
use super::theme::{EDGE, GRID, INK, LINE, MARGIN, PAPER, Rgb, SOFT_INK, TEXT, WIDTH, series};
use crate::stats::Estimate;
use crate::wording::number;

const BAR: f64 = 20.0;
const ROW: f64 = LINE + BAR + 14.0;

/// What the bars show.
#[derive(Clone, Debug, PartialEq)]
pub struct BarsData {
    /// The finding.
    pub title: String,
    /// Quantity and unit: "aim, hours a year gained over birds shut in".
    pub quantity: String,
    /// Bars from top to bottom.
    pub bars: Vec<Bar>,
}

/// One bar.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Name.
    pub name: String,
    /// Length with its interval; a NaN mean is shown as blank.
    pub value: Estimate,
    /// Whether it keeps every limit; hatched otherwise.
    pub holds: bool,
    /// Whether it is the best: drawn darkest.
    pub best: bool,
    /// A few words after the name: "held in 9 of 10 possible years"; may be empty.
    pub note: String,
}

/// Draws the bars.
#[must_use]
pub fn bars(data: &BarsData) -> Chart {
    let heading = Heading::new(&data.title, "");
    let key = key(data);
    let foot = heading.height() + data.bars.len() as f64 * ROW;
    let height = foot + 2.0 * LINE + 14.0 + key.height();
    let alt = alternative(data);
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        let x = scale(data);
        draw_axis(pen, data, x, (heading.height(), foot));
        for (i, bar) in data.bars.iter().enumerate() {
            draw_bar(pen, bar, x, heading.height() + i as f64 * ROW);
        }
        key.draw(pen, foot + 2.0 * LINE + 10.0);
    });
    Chart { svg, alt }
}

fn scale(data: &BarsData) -> Scale {
    let ends = data.bars.iter().flat_map(|bar| [bar.value.low, bar.value.mean, bar.value.high]);
    let room = data.bars.iter().map(|bar| text_width(&value_text(bar), TEXT, true)).fold(0.0, f64::max);
    Scale::around(ends, MARGIN + 14.0, WIDTH - MARGIN - room - 12.0)
}

fn draw_axis(pen: &mut Pen<'_>, data: &BarsData, x: Scale, (top, foot): (f64, f64)) {
    for tick in x.ticks() {
        let at = x.px(tick);
        pen.line(&[(at, top), (at, foot)], Stroke::plain(GRID, 1.0));
        let look = Type { side: Side::Middle, colour: SOFT_INK, ..Type::default() };
        pen.text((at, foot + 12.0), &x.tick_text(tick), look);
    }
    pen.line(&[(x.px(0.0), top), (x.px(0.0), foot + 3.0)], Stroke::plain(EDGE, 1.6));
    pen.text((MARGIN + 14.0, foot + LINE + 13.0), &data.quantity, Type::default());
}

fn draw_bar(pen: &mut Pen<'_>, bar: &Bar, x: Scale, top: f64) {
    draw_name(pen, bar, x, top + LINE / 2.0 + 1.0);
    let (y, middle) = (top + LINE + 2.0, top + LINE + 2.0 + BAR / 2.0);
    let value = bar.value;
    let look = Type { side: Side::End, bold: true, ..Type::default() };
    pen.text((WIDTH - MARGIN, middle), &value_text(bar), look);
    if value.mean.is_nan() {
        return;
    }
    let (from, to) = (x.px(value.mean.min(0.0)), x.px(value.mean.max(0.0)));
    fill(pen, bar, (from, y), (to - from, BAR));
    let (low, high) = (x.px(value.low), x.px(value.high));
    if high > low && value.low.is_finite() && value.high.is_finite() {
        // A rim of paper keeps the whisker apart from a dark bar.
        let whisker = |pen: &mut Pen<'_>, colour: Rgb, width: f64, reach: f64| {
            pen.line(&[(low, middle), (high, middle)], Stroke::plain(colour, width));
            for end in [low, high] {
                pen.line(&[(end, middle - reach), (end, middle + reach)], Stroke::plain(colour, width));
            }
        };
        whisker(pen, PAPER, 4.6, 7.0);
        whisker(pen, INK, 2.0, 6.0);
    }
}

fn draw_name(pen: &mut Pen<'_>, bar: &Bar, x: Scale, y: f64) {
    let name = Type { bold: bar.best, ..Type::default() };
    let width = text_width(&bar.name, TEXT, bar.best);
    let note = text_width(&bar.note, TEXT, false);
    // Paper under the words, or grid lines run through them.
    let gap = if bar.note.is_empty() { 0.0 } else { 12.0 };
    pen.rect((x.from_px - 2.0, y - LINE / 2.0), (width + gap + note + 4.0, LINE - 1.0), PAPER, 1.0);
    pen.text((x.from_px, y), &bar.name, name);
    let soft = Type { colour: SOFT_INK, ..Type::default() };
    pen.text((x.from_px + width + gap, y), &bar.note, soft);
}

fn fill(pen: &mut Pen<'_>, bar: &Bar, at: (f64, f64), size: (f64, f64)) {
    let dark = series(0).colour;
    match (bar.holds, bar.best) {
        (_, true) => pen.rect(at, size, dark, 1.0),
        (true, false) => pen.rect(at, size, series(3).colour, 1.0),
        (false, false) => {
            pen.hatch(at, size, 7.0, Stroke::plain(EDGE, 1.4));
            pen.frame(at, size, Stroke::plain(EDGE, 1.4));
        }
    }
}

fn value_text(bar: &Bar) -> String {
    if bar.value.mean.is_nan() { "blank".to_owned() } else { number(bar.value.mean, 1) }
}

fn key(data: &BarsData) -> Key<'_> {
    let mut key = Key::default();
    let kinds = [("best", true, true), ("keeps every limit", true, false), ("breaks a limit", false, false)];
    for (words, holds, best) in kinds {
        let is = |bar: &&Bar| bar.best == best && (best || bar.holds == holds);
        if let Some(bar) = data.bars.iter().find(is) {
            key.add(words, move |pen, x, y| fill(pen, bar, (x, y - 7.0), (30.0, 14.0)));
        }
    }
    key.add("95 % interval", |pen, x, y| {
        pen.line(&[(x, y), (x + 30.0, y)], Stroke::plain(INK, 2.0));
        for end in [x, x + 30.0] {
            pen.line(&[(end, y - 6.0), (end, y + 6.0)], Stroke::plain(INK, 2.0));
        }
    });
    key
}

fn alternative(data: &BarsData) -> String {
    let words = |bar: &Bar| {
        let value = bar.value;
        let range = if value.low.is_finite() && value.low < value.high {
            format!(" ({} to {})", number(value.low, 1), number(value.high, 1))
        } else {
            String::new()
        };
        let limit = if bar.holds { "" } else { ", breaks a limit" };
        format!("{}: {}{range}{limit}.", bar.name, value_text(bar))
    };
    let bars: Vec<String> = data.bars.iter().map(words).collect();
    format!("{}. {}. {}", data.title.trim_end_matches('.'), data.quantity, bars.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charts::look::check;

    fn bar(name: &str, mean: f64, reach: f64, holds: bool, note: &str) -> Bar {
        let value = Estimate { mean, low: mean - reach, high: mean + reach };
        Bar { name: name.into(), value, holds, best: false, note: note.into() }
    }

    fn invented() -> BarsData {
        let mut bars = vec![
            bar("pest dates", 41.2, 3.6, true, "held in 97 of 100 possible years"),
            bar("turn every 7 days", 38.9, 3.1, true, "held in 93 of 100 possible years"),
            bar("by eye", 30.4, 2.8, true, "held in 99 of 100 possible years"),
            bar("all open", 46.0, 5.2, false, "held in 12 of 100 possible years"),
            bar("one plot for good", -7.5, 4.4, false, "held in 3 of 100 possible years"),
        ];
        bars[0].best = true;
        BarsData {
            title: "Pest dates gain most among those that keep every limit".into(),
            quantity: "Aim, hours a year gained over birds shut in".into(),
            bars,
        }
    }

    #[test]
    fn an_invented_comparison_draws() {
        check("bars", &bars(&invented()));
    }

    #[test]
    fn blanks_one_draw_and_nothing_draw() {
        let mut data = invented();
        data.bars[1].value.mean = f64::NAN;
        data.bars[2].value.low = f64::NEG_INFINITY;
        data.bars[2].value.high = f64::INFINITY;
        check("bars-blank", &bars(&data));
        data.bars.clear();
        check("bars-empty", &bars(&data));
    }

    #[test]
    fn the_alternative_says_numbers_and_limits() {
        let alt = alternative(&invented());
        assert!(alt.contains("all open: 46.0 (40.8 to 51.2), breaks a limit."), "{alt}");
    }
}
