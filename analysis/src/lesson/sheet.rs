//! Page 1, the group's: what is known beforehand, and what to guess. No outcome stands here.

use super::finished::Lesson;
use super::markup::{figure, typeset};
use super::questions::Question;
use super::words::{letter, strategy_words};
use super::{paper, pictures};
use crate::wording::{list, plain_date};
use maud::{Markup, html};
use sim_engine::dates::date_of;

/// Size of text and height of a line as `lesson.css` has them, px.
const TEXT: (f64, f64) = (16.0, 19.0);
/// The same of the small print.
const SMALL: (f64, f64) = (14.7, 17.0);
/// Width of a box to tick with the gaps beside it, and of a letter after it, px.
const BOX: (f64, f64) = (38.0, 8.0);
/// Most plots named that stay shut all year; more are counted.
const NAMED: usize = 6;

/// The page, its empty chart with a field `height` px high.
pub(super) fn page(lesson: &Lesson, height: f64) -> Markup {
    html! {
        section.sheet.group {
            header {
                h1 { "Two gate strategies, the same year" }
                p.name { "Name" span.dots {} }
            }
            (site(lesson))
            (strategies(lesson))
            h2 { "When each gate is open" }
            (figure(&pictures::calendar(lesson)))
            (guesses(lesson))
            (drawing(lesson, height))
            p.turn { "Write down every guess before page 2 comes out." }
        }
    }
}

fn site(lesson: &Lesson) -> Markup {
    html! {
        p { strong { (lesson.model.name) } ". " (typeset(&setting(lesson))) }
        p.plots { (typeset(&growing(lesson))) }
    }
}

/// Dates, birds, yard, ground.
fn setting(lesson: &Lesson) -> String {
    let (base, units) = (&lesson.model.base, lesson.units);
    let last = date_of(base.start, base.days.saturating_sub(1));
    let area: f64 = base.plots.iter().map(|plot| plot.area_m2).sum();
    format!(
        "{} to {}. {} wait in a yard of {}; a strategy says which gate opens, and when. {}, {} in all.",
        plain_date(base.start),
        plain_date(last),
        flock(lesson),
        units.area(base.yard.area_m2),
        if base.plots.len() == 1 { "1 plot".to_owned() } else { format!("{} plots", base.plots.len()) },
        units.area(area)
    )
}

/// What grows where, and what stays shut all year.
fn growing(lesson: &Lesson) -> String {
    let plots = &lesson.model.base.plots;
    let used = lesson.plots_used();
    let here: Vec<String> = used.iter().map(|&plot| plot_words(lesson, plot)).collect();
    let shut: Vec<&str> =
        (0..plots.len()).filter(|plot| !used.contains(plot)).map(|plot| plots[plot].name.as_str()).collect();
    let shut = match shut.len() {
        0 => String::new(),
        few if few <= NAMED => format!(" Opened by neither strategy: {}.", list(&shut)),
        many => format!(" {many} more plots are opened by neither strategy."),
    };
    format!("Growing: {}.{shut}", here.join("; "))
}

/// "plum-slope – plum trees, rough grass".
fn plot_words(lesson: &Lesson, plot: usize) -> String {
    let base = &lesson.model.base;
    let here = &base.plots[plot];
    let crops = here.grounds.iter().flat_map(|ground| &ground.crops).map(|crop| base.crops[crop.crop].name.as_str());
    let over = here.canopies.iter().map(|canopy| base.canopies[canopy.canopy].name.as_str());
    let mut grows: Vec<&str> = crops.chain(over).collect();
    if here.has_sward() {
        grows.push(base.covers[here.cover].name.as_str());
    }
    grows.dedup();
    format!("{} – {}", here.name, grows.join(", "))
}

/// "14 birds (layer)" of every group that is there at some time of the year.
fn flock(lesson: &Lesson) -> String {
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

fn strategies(lesson: &Lesson) -> Markup {
    html! {
        div.strategies {
            @for strategy in 0..2 {
                p {
                    strong { "Strategy " (letter(strategy)) ", " (lesson.name(strategy)) ". " }
                    @for line in strategy_words(&lesson.model, lesson.which[strategy], lesson.units) { (typeset(&line)) " " }
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
            div.ask {
                p { (typeset(&question.ask)) }
                p.boxes { @for choice in &question.boxes { span { i.box {} (choice) } } }
            }
            @if !question.blanks.is_empty() {
                p.blanks { @for blank in &question.blanks { span { (blank) span.dots {} } } }
            }
        }
    }
}

fn drawing(lesson: &Lesson, height: f64) -> Markup {
    let plot = &lesson.model.base.plots[lesson.drawn_plot()].name;
    html! {
        p.draw {
            strong { "Draw how much of " (plot) " stays covered" } ", from the dot on: A a full line, B dashes."
        }
        (figure(&pictures::cover(lesson, height, false)))
    }
}

/// Height of everything on the page but the charts, CSS px.
pub(super) fn words_height(lesson: &Lesson) -> f64 {
    const HEADER: f64 = 33.0;
    const HEADING: f64 = 22.0;
    const BLANKS: f64 = 24.0;
    const QUESTION_GAP: f64 = 4.0;
    const STRATEGY_GAP: f64 = 3.0;
    // The instruction to draw takes two lines at most, the last line one, and some air.
    const REST: f64 = 3.0 * TEXT.1 + 14.0;
    let text = |words: &str, across: f64| paper::words(words, across, TEXT.0, TEXT.1);
    let site = format!("{}. {}", lesson.model.name, setting(lesson));
    let site = text(&site, paper::ACROSS) + paper::words(&growing(lesson), paper::ACROSS, SMALL.0, SMALL.1);
    let strategy = |strategy: usize| {
        let words = strategy_words(&lesson.model, lesson.which[strategy], lesson.units).join(" ");
        STRATEGY_GAP + text(&format!("Strategy A, {}. {words}", lesson.name(strategy)), paper::ACROSS - 17.0)
    };
    let question = |question: &Question| {
        let boxes: f64 = question.boxes.iter().map(|words| BOX.0 + BOX.1 * words.len() as f64).sum();
        let blanks = if question.blanks.is_empty() { 0.0 } else { BLANKS };
        text(&question.ask, paper::ACROSS - 36.0 - boxes) + blanks + QUESTION_GAP
    };
    let questions: f64 = lesson.questions.iter().map(question).sum();
    HEADER + site + strategy(0) + strategy(1) + 2.0 * HEADING + questions + REST
}
