//! Page 2, the leader's: what came out, why, how often, and how to run the hour.

use super::page::{figure, typeset};
use super::questions::Question;
use super::words::day_words;
use super::{Lesson, Told, pictures};
use crate::report::words::{figure as number, held, possible_years};
use maud::{Markup, html};
use sim_engine::measures::Measure;

/// Height of the chart, px.
const CHART: f64 = 150.0;
/// Points of cover by which the lines must differ to have parted (a choice of ours: what shows
/// on the page).
const PARTED: f64 = 0.05;

pub(super) fn page(told: &Told<'_>) -> Markup {
    let lesson = told.lesson;
    html! {
        section.sheet.leader {
            header { h1 { "For the leader: what came out" } p.name { "Keep this page back" } }
            (timing())
            h2 { "Ground cover of " (lesson.model.base.plots[lesson.drawn_plot()].name) }
            (figure(&pictures::cover(lesson, CHART, true)))
            (answers(lesson))
            div.columns { (ask(lesson)) (wrong(lesson)) (cautions(lesson)) }
            (footer(told))
        }
    }
}

fn timing() -> Markup {
    html! {
        p.timing {
            strong { "5 min: " } "hand out page 1, read both plans aloud; each guesses alone, in writing. "
            strong { "10 min: " } "question by question, count hands for each box, then read the answer; show the chart last. "
            strong { "15 min: " } "talk."
        }
    }
}

fn answers(lesson: &Lesson) -> Markup {
    let years = possible_years(lesson.draws);
    html! {
        h2 { "Answers" }
        table {
            thead { tr { th {} th { "This year, and why" } th.years { "Same in other years" } } }
            tbody { @for (at, question) in lesson.questions.iter().enumerate() { (row(lesson, at, question)) } }
        }
        p.small {
            "Right column: the answer was the same in so many of " (years) ", each with its own weather and its own value of everything that is not known exactly. "
            (shown(lesson)) " " (lesson.note)
        }
    }
}

fn shown(lesson: &Lesson) -> String {
    match lesson.number {
        0 => "The year on these pages has every such value at its most likely.".to_owned(),
        number => format!("The year on these pages is possible year number {number}."),
    }
}

fn row(lesson: &Lesson, at: usize, question: &Question) -> Markup {
    html! {
        tr {
            td.number { (at + 1) }
            td {
                strong { (question.in_words) } ": " (typeset(&lesson.figures(question, lesson.units))) " "
                (typeset(&lesson.reason(question, lesson.units)))
            }
            td.years {
                (held(question.same, lesson.draws))
                @if 2 * question.same < lesson.draws { " – an odd year" }
            }
        }
    }
}

fn ask(lesson: &Lesson) -> Markup {
    let plot = &lesson.model.base.plots[lesson.drawn_plot()].name;
    html! {
        div {
            h2 { "To ask" }
            ul {
                li { "Where were most of us wrong, and what had we in mind?" }
                @if let Some(day) = parted(lesson) {
                    li { "The two lines part about " (day_words(lesson.model.base.start, day)) ". What does the gate calendar show in the weeks before?" }
                }
                li { "Which ground at home is like " (plot) "? What would you watch there to know when to shut the gate?" }
                li { "Which answer may turn round in another year (right column), and what would you change then?" }
            }
        }
    }
}

/// First day on which the two lines of the chart lie clearly apart.
fn parted(lesson: &Lesson) -> Option<usize> {
    let plot = lesson.drawn_plot();
    let [a, b] = [0, 1].map(|plan| &lesson.shown.plans[plan].ground.cover[plot]);
    (0..a.len().min(b.len())).find(|&day| (a[day] - b[day]).abs() > PARTED)
}

fn wrong(lesson: &Lesson) -> Markup {
    let moves = |plan: usize| number(lesson.shown.plans[plan].measures.get(Measure::GateMoves), 0);
    html! {
        div {
            h2 { "Common wrong ideas" }
            ul {
                li { "“More work at the gates, better ground.” Here A moves gates " (moves(0)) " times, B " (moves(1)) ": look at which gate and when." }
                li { "“The average looks well, so all is well.” One plot can lie bare meanwhile." }
                li { "“Hens went through once, so the pest is gone.” They find what lies within reach at that time; what flies in from next door no gate changes." }
                li { "“It came out so, so it is so.” It is a model’s comparison. It diagnoses no disease, counts useful insects without valuing them, and was not fitted to field trials." }
            }
        }
    }
}

fn cautions(lesson: &Lesson) -> Markup {
    let rules = &lesson.model.base.rules;
    html! {
        div.cautions {
            h2 { "Say this aloud" }
            ul {
                li { "Wash hands with soap after birds, eggs, soil and gates: hens that look well can carry Salmonella. Clean boots between yards." }
                li {
                    "Droppings are raw manure: no hens for " (rules.waiting_days_touching) " days before harvest where the edible part touches the soil, "
                    (rules.waiting_days_other) " days otherwise"
                    @match &lesson.model.waiting_rule_reason {
                        Some(reason) => { " (this site’s own rule: " (reason.trim_end_matches('.')) "; the US organic rule is 120 and 90)." }
                        None => { " (US organic rule, 7 CFR 205.203(c); yours may ask for more)." }
                    }
                }
                li { "Avian influenza: a housing order comes before every gate. Sudden deaths or illness go to the animal-health authority." }
                li { "Local rules and the vet come first. A plant not known to harm birds is unknown, not harmless." }
            }
        }
    }
}

fn footer(told: &Told<'_>) -> Markup {
    let from = told.from;
    html! {
        footer {
            "hensward " (from.version) " · seed " (from.seed) " · year " (told.lesson.number) " · inputs " (from.input_digest)
            " · the same site, seed and version print these pages again"
        }
    }
}
