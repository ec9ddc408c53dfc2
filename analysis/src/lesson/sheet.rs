//! Page 1, the group's: what is known beforehand, and what to guess. No outcome stands here.

use super::page::{figure, typeset};
use super::questions::Question;
use super::words::{day_words, letter, plan_words};
use super::{Lesson, pictures};
use crate::charts::axis::{date_of, plain_date};
use crate::report::words::list;
use maud::{Markup, html};

/// Height of the empty chart, px, where one plot is listed.
const CHART: f64 = 226.0;
/// Height a further plot takes of it, px.
const PER_PLOT: f64 = 15.0;
/// Least height to draw on, px.
const LEAST_CHART: f64 = 110.0;

pub(super) fn page(lesson: &Lesson) -> Markup {
    html! {
        section.sheet.group {
            header {
                h1 { "Two gate plans, one year: which would you take?" }
                p.name { "Name" span.dots {} }
            }
            (site(lesson))
            (plans(lesson))
            h2 { "When each gate is open" }
            (figure(&pictures::calendar(lesson)))
            (guesses(lesson))
            (drawing(lesson))
            p.turn { "Write down every guess before page 2 comes out." }
        }
    }
}

fn site(lesson: &Lesson) -> Markup {
    let (model, units) = (&lesson.model, lesson.units);
    let base = &model.base;
    let last = date_of(base.start, base.days.saturating_sub(1));
    let area: f64 = base.plots.iter().map(|plot| plot.area_m2).sum();
    let used = lesson.plots_used();
    let shut: Vec<&str> =
        (0..base.plots.len()).filter(|plot| !used.contains(plot)).map(|plot| base.plots[plot].name.as_str()).collect();
    let plots: Vec<String> = used.iter().map(|&plot| plot_words(lesson, plot)).collect();
    let yard = units.area(base.yard.area_m2);
    html! {
        div.site {
            p {
                strong { (model.name) } ", " (plain_date(base.start)) " to " (plain_date(last)) ". "
                (typeset(&format!("{}; a yard of {yard}; {} plots, {} in all.", hens(lesson), base.plots.len(), units.area(area))))
            }
            p { (typeset(&format!("{}.", plots.join("; ")))) }
            @if !shut.is_empty() { p { "Opened by neither plan: " (list(&shut)) "." } }
        }
    }
}

/// "plum-slope: plum trees, rough grass".
fn plot_words(lesson: &Lesson, plot: usize) -> String {
    let base = &lesson.model.base;
    let here = &base.plots[plot];
    let crops = here.grounds.iter().flat_map(|ground| &ground.crops).map(|crop| base.crops[crop.crop].name.as_str());
    let over = here.canopy.map(|canopy| base.canopies[canopy].name.as_str());
    let mut grows: Vec<&str> = crops.chain(over).collect();
    grows.push(base.covers[here.cover].name.as_str());
    grows.dedup();
    format!("{}: {}", here.name, grows.join(", "))
}

/// "14 hens (layer)" of every group that is there at some time of the year.
fn hens(lesson: &Lesson) -> String {
    let base = &lesson.model.base;
    let end = date_of(base.start, base.days);
    let here = base.groups.iter().filter(|group| group.arrive.is_none_or(|date| date < end));
    let said: Vec<String> = here
        .map(|group| {
            let class = &base.birds[group.class].name;
            match group.arrive.filter(|&date| date > base.start) {
                Some(date) => format!("{} birds ({class}) from {} on", group.number, plain_date(date)),
                None => format!("{} birds ({class})", group.number),
            }
        })
        .collect();
    list(&said)
}

fn plans(lesson: &Lesson) -> Markup {
    html! {
        div.plans {
            @for plan in 0..2 {
                p {
                    strong { "Plan " (letter(plan)) ", " (lesson.name(plan)) ". " }
                    @for line in plan_words(&lesson.model, lesson.which[plan]) { (typeset(&line)) " " }
                }
            }
        }
    }
}

fn guesses(lesson: &Lesson) -> Markup {
    html! {
        h2 { "What do you think?" }
        ol.guesses { @for question in &lesson.questions { (ask(question)) } }
    }
}

fn ask(question: &Question) -> Markup {
    html! {
        li {
            p { (typeset(&question.ask)) }
            @if !question.boxes.is_empty() {
                p.boxes { @for choice in &question.boxes { span { i.box {} (choice) } } }
            }
            @if !question.blanks.is_empty() {
                p.blanks { @for blank in &question.blanks { span { (blank) span.dots {} } } }
            }
        }
    }
}

fn drawing(lesson: &Lesson) -> Markup {
    let plot = &lesson.model.base.plots[lesson.drawn_plot()].name;
    let rows = lesson.plots_used().len().saturating_sub(1) as f64;
    let height = (CHART - PER_PLOT * rows).max(LEAST_CHART);
    html! {
        p.draw {
            strong { "Draw the ground cover of " (plot) } " from the dot on: A as a full line, B as dashes. It starts on "
            (day_words(lesson.model.base.start, 0)) "."
        }
        (figure(&pictures::cover(lesson, height, false)))
    }
}
