//! The drawing of a site as a chart: yard, path, numbered gates, plots as large as their areas.

use super::Chart;
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::frame::Heading;
use super::theme::{COVERED, CROP_GROUND, EDGE, GATE_OPEN, INK, LINE, MARGIN, PAPER, SOFT_INK, Shape, TEXT, WIDTH};
use crate::site_plan::{Placed, SitePlan};
use crate::units::Units;
use crate::wording::typeset;
use scenarios::SiteModel;

/// Highest drawing, px.
const HIGHEST: f64 = 420.0;
const GATE_RADIUS: f64 = 9.0;
/// Size of a gate's number, px.
const NUMBER: f64 = 12.0;

/// Px a metre, and where the path lies.
struct OnPage {
    px_per_m: f64,
    left: f64,
    path: f64,
}

impl OnPage {
    fn x(&self, metres: f64) -> f64 {
        self.left + metres * self.px_per_m
    }
}

/// Draws the site with a list of its plots below.
#[must_use]
pub fn site_plan(model: &SiteModel, units: Units) -> Chart {
    let plan = SitePlan::of(&model.base);
    let title = format!("{}: yard, gates and plots to scale", model.name);
    let heading = Heading::new(&title, "Areas and distances are to scale; places and forms are not.");
    let [above_m, below_m] = plan.reach_m();
    let across = (WIDTH - 2.0 * MARGIN) / (plan.yard_m + plan.right_m()).max(1.0);
    let px_per_m = across.min(HIGHEST / (above_m + below_m).max(1.0));
    let path = heading.height() + above_m * px_per_m + GATE_RADIUS;
    let page = OnPage { px_per_m, left: MARGIN + plan.yard_m * px_per_m, path };
    let list_top = path + below_m * px_per_m + GATE_RADIUS + LINE;
    let lines: Vec<String> = model
        .base
        .plots
        .iter()
        .enumerate()
        .map(|(at, plot)| {
            let gate = units.length(plot.distance_m);
            typeset(&format!("{}  {}: {}, gate {gate} from the yard", at + 1, plot.name, units.area(plot.area_m2)))
        })
        .collect();
    let yard = typeset(&format!("Yard: {}", units.area(model.base.yard.area_m2)));
    let height = list_top + LINE * (lines.len() as f64 + 2.0);
    let alt = format!("{title}. {yard}. {}.", lines.join(". "));
    let svg = document(&title, &alt, height, |pen| {
        heading.draw(pen);
        let end = page.x(plan.right_m());
        pen.line(&[(page.left, path), (end, path)], Stroke { dash: &[4.0, 4.0], ..Stroke::plain(SOFT_INK, 1.4) });
        let side = plan.yard_m * px_per_m;
        pen.rect((MARGIN, path - side / 2.0), (side, side), CROP_GROUND, 1.0);
        pen.frame((MARGIN, path - side / 2.0), (side, side), Stroke::plain(EDGE, 1.2));
        if side > text_width("yard", TEXT, false) {
            pen.text((MARGIN + side / 2.0, path), "yard", Type { side: Side::Middle, ..Type::default() });
        }
        plan.plots.iter().for_each(|plot| draw_plot(pen, &page, plot));
        plan.plots.iter().for_each(|plot| draw_gate(pen, &page, plot));
        for (at, line) in std::iter::once(&yard).chain(&lines).enumerate() {
            pen.text((MARGIN, list_top + LINE * (at as f64 + 0.5)), line, Type::default());
        }
    });
    Chart { svg, alt }
}

fn draw_plot(pen: &mut Pen<'_>, page: &OnPage, plot: &Placed) {
    let side = plot.side_m * page.px_per_m;
    let (x, y) = (page.x(plot.left_m), if plot.above { page.path - side } else { page.path });
    pen.rect((x, y), (side, side), COVERED, 0.55);
    pen.frame((x, y), (side, side), Stroke::plain(GATE_OPEN, 1.2));
    let number = plot.number.to_string();
    let named = format!("{number} {}", plot.name);
    let room = |words: &str| text_width(words, TEXT, false) < side - 6.0;
    if side > LINE {
        let words = if room(&named) { &named } else { &number };
        let look = Type { side: Side::Middle, colour: INK, ..Type::default() };
        pen.text((x + side / 2.0, y + side / 2.0), words, look);
    }
}

/// The gate's number in a ring on the path.
fn draw_gate(pen: &mut Pen<'_>, page: &OnPage, plot: &Placed) {
    let at = (page.x(plot.gate_m), page.path);
    let foot = if plot.above { -1.0 } else { 1.0 };
    let beside = (page.x(plot.left_m), at.1 + foot * 2.0);
    pen.line(&[at, beside], Stroke::plain(GATE_OPEN, 1.0));
    pen.marker(at, Shape::Circle, GATE_RADIUS, GATE_OPEN, true);
    let look = Type { size: NUMBER, side: Side::Middle, colour: PAPER, bold: true };
    pen.text(at, &plot.number.to_string(), look);
}
