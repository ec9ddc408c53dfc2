//! Stacked bars lying down: what came in and where it went, in pairs of bars.
//!
//! What came in is solid, what went out is hatched, so that the two sides are told apart
//! in grey print as well.

use super::Chart;
use super::axis::Scale;
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::frame::{Heading, Key};
use super::theme::{EDGE, GRID, LINE, MARGIN, PAPER, Rgb, SOFT_INK, TEXT, WIDTH, series};
use crate::wording::number;

const BAR: f64 = 22.0;
const BAR_GAP: f64 = 5.0;
const GROUP: f64 = LINE + 2.0 * (BAR + BAR_GAP) + 10.0;
const SIDE_ROOM: f64 = 36.0;
/// Parts under this share of the longest bar are drawn but not named in the key.
const SLIGHT: f64 = 0.005;

/// What the bars show.
#[derive(Clone, Debug, PartialEq)]
pub struct StackData {
    /// The finding.
    pub title: String,
    /// Quantity and unit: "nitrogen, kg/ha a year".
    pub quantity: String,
    /// Words of every kind of part.
    pub kinds: Vec<StackKind>,
    /// Groups from top to bottom.
    pub groups: Vec<StackGroup>,
}

/// A kind of part.
#[derive(Clone, Debug, PartialEq)]
pub struct StackKind {
    /// In words.
    pub words: String,
    /// Number of its colour; `None` for grey.
    pub colour: Option<usize>,
    /// Hatched instead of solid.
    pub hatched: bool,
}

/// A pair of bars under one name.
#[derive(Clone, Debug, PartialEq)]
pub struct StackGroup {
    /// Name.
    pub name: String,
    /// Upper bar: kind and amount, 0 or more.
    pub inward: Vec<(usize, f64)>,
    /// Lower bar.
    pub outward: Vec<(usize, f64)>,
}

impl StackGroup {
    fn parts(&self) -> impl Iterator<Item = &(usize, f64)> {
        self.inward.iter().chain(&self.outward)
    }
}

fn total(parts: &[(usize, f64)]) -> f64 {
    parts.iter().map(|(_, amount)| amount).sum()
}

/// Draws the bars.
#[must_use]
pub fn stack(data: &StackData) -> Chart {
    let heading = Heading::new(&data.title, "");
    let key = key(data);
    let foot = heading.height() + data.groups.len() as f64 * GROUP;
    let height = foot + 2.0 * LINE + 14.0 + key.height();
    let alt = alternative(data);
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        let x = scale(data);
        draw_axis(pen, data, x, (heading.height(), foot));
        for (at, group) in data.groups.iter().enumerate() {
            draw_group(pen, data, group, x, heading.height() + at as f64 * GROUP);
        }
        key.draw(pen, foot + 2.0 * LINE + 10.0);
    });
    Chart { svg, alt }
}

fn scale(data: &StackData) -> Scale {
    let totals = data.groups.iter().flat_map(|group| [total(&group.inward), total(&group.outward)]);
    Scale::around(totals, MARGIN + SIDE_ROOM, WIDTH - MARGIN - 12.0)
}

fn draw_axis(pen: &mut Pen<'_>, data: &StackData, x: Scale, (top, foot): (f64, f64)) {
    for tick in x.ticks() {
        let at = x.px(tick);
        pen.line(&[(at, top), (at, foot)], Stroke::plain(GRID, 1.0));
        let look = Type { side: Side::Middle, colour: SOFT_INK, ..Type::default() };
        pen.text((at, foot + 12.0), &x.tick_text(tick), look);
    }
    pen.line(&[(x.px(0.0), top), (x.px(0.0), foot + 3.0)], Stroke::plain(EDGE, 1.6));
    pen.text((x.from_px, foot + LINE + 13.0), &data.quantity, Type::default());
}

fn draw_group(pen: &mut Pen<'_>, data: &StackData, group: &StackGroup, x: Scale, top: f64) {
    let width = text_width(&group.name, TEXT, true);
    pen.rect((x.from_px - 2.0, top), (width + 4.0, LINE), PAPER, 1.0);
    pen.text((x.from_px, top + LINE / 2.0), &group.name, Type { bold: true, ..Type::default() });
    for (row, (side, parts)) in [("in", &group.inward), ("out", &group.outward)].into_iter().enumerate() {
        let y = top + LINE + 2.0 + row as f64 * (BAR + BAR_GAP);
        let look = Type { side: Side::End, colour: SOFT_INK, ..Type::default() };
        pen.text((x.from_px - 6.0, y + BAR / 2.0), side, look);
        draw_bar(pen, data, parts, x, y);
    }
}

fn draw_bar(pen: &mut Pen<'_>, data: &StackData, parts: &[(usize, f64)], x: Scale, y: f64) {
    let mut from = 0.0;
    for &(kind, amount) in parts.iter().filter(|(_, amount)| *amount > 0.0) {
        let (left, right) = (x.px(from), x.px(from + amount));
        from += amount;
        // A gap of paper keeps neighbours apart.
        let width = (right - left - 1.5).max(0.8);
        fill(pen, &data.kinds[kind], (left, y), (width, BAR));
        let text = number(amount, 0);
        let room = text_width(&text, TEXT, false);
        if room + 10.0 < width {
            let middle = (left + width / 2.0, y + BAR / 2.0);
            pen.rect((middle.0 - room / 2.0 - 2.0, y + 2.0), (room + 4.0, BAR - 4.0), PAPER, 0.88);
            pen.text(middle, &text, Type { side: Side::Middle, ..Type::default() });
        }
    }
}

fn fill(pen: &mut Pen<'_>, kind: &StackKind, at: (f64, f64), size: (f64, f64)) {
    let colour: Rgb = kind.colour.map_or(EDGE, |number| series(number).colour);
    if kind.hatched {
        pen.hatch(at, size, 6.0, Stroke::plain(colour, 2.0));
        pen.frame(at, size, Stroke::plain(colour, 1.6));
    } else {
        pen.rect(at, size, colour, 1.0);
    }
}

/// Kinds that show.
fn shown(data: &StackData) -> Vec<usize> {
    let longest = data.groups.iter().flat_map(|g| [total(&g.inward), total(&g.outward)]).fold(0.0, f64::max);
    let shows = |kind: usize| {
        data.groups.iter().flat_map(StackGroup::parts).any(|&(of, amount)| of == kind && amount > SLIGHT * longest)
    };
    (0..data.kinds.len()).filter(|&kind| shows(kind)).collect()
}

fn key(data: &StackData) -> Key<'_> {
    let mut key = Key::default();
    for kind in shown(data) {
        let kind = &data.kinds[kind];
        key.add_wide(&kind.words, 22.0, move |pen, x, y| fill(pen, kind, (x, y - 7.0), (22.0, 14.0)));
    }
    key
}

fn alternative(data: &StackData) -> String {
    let kinds = shown(data);
    let side = |parts: &[(usize, f64)]| -> String {
        let named = parts.iter().filter(|(kind, amount)| *amount > 0.0 && kinds.contains(kind));
        let words: Vec<String> =
            named.map(|&(kind, amount)| format!("{} {}", data.kinds[kind].words, number(amount, 0))).collect();
        if words.is_empty() { "nothing".to_owned() } else { words.join(", ") }
    };
    let groups: Vec<String> = (data.groups.iter())
        .map(|group| format!("{}: in {}; out {}.", group.name, side(&group.inward), side(&group.outward)))
        .collect();
    format!("{}. {}. {}", data.title.trim_end_matches('.'), data.quantity, groups.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charts::look::check;

    fn invented() -> StackData {
        let kind = |words: &str, colour, hatched| StackKind { words: words.into(), colour, hatched };
        StackData {
            title: "Droppings bring 140 to the plum slope, and 61 leach".into(),
            quantity: "nitrogen, kg/ha a year".into(),
            kinds: vec![
                kind("droppings", Some(0), false),
                kind("rain", Some(3), false),
                kind("leached", Some(5), true),
                kind("left in soil and plants", None, true),
            ],
            groups: vec![
                StackGroup {
                    name: "by eye".into(),
                    inward: vec![(0, 140.0), (1, 12.0)],
                    outward: vec![(2, 61.0), (3, 91.0)],
                },
                StackGroup { name: "birds shut in".into(), inward: vec![(1, 12.0)], outward: vec![(2, 12.0)] },
            ],
        }
    }

    #[test]
    fn an_invented_balance_draws() {
        let chart = stack(&invented());
        check("stack", &chart);
        assert!(chart.alt.contains("by eye: in droppings 140, rain 12; out leached 61, left in soil and plants 91."));
    }

    #[test]
    fn nothing_draws() {
        let mut data = invented();
        data.groups[0].inward.clear();
        data.groups[0].outward.clear();
        check("stack-empty-group", &stack(&data));
        data.groups.clear();
        check("stack-empty", &stack(&data));
    }
}
