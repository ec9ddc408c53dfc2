//! Page 2, the leader's: what came out, why, how often, and how to run the hour.

use super::finished::{Lesson, LessonView};
use super::markup::{figure, typeset};
use super::questions::Question;
use super::words::day_words;
use super::{paper, pictures};
use crate::wording::{figure as number, held, possible_years};
use maud::{Markup, html};
use sim_engine::measures::Measure;

/// Size of text and height of a line as `lesson.css` has them, px.
const TEXT: (f64, f64) = (14.0, 17.0);
/// Points of cover by which the lines must differ to have parted (a choice of ours: what shows
/// on the page).
const PARTED: f64 = 0.05;

/// The page, its chart with a field `height` px high.
pub(super) fn page(view: &LessonView<'_>, height: f64) -> Markup {
    let lesson = view.lesson;
    html! {
        section.sheet.leader {
            header { h1 { "For the leader: what came out" } p.name { "Keep this page back" } }
            (timing())
            h2 { "Ground cover of " (lesson.model.base.plots[lesson.drawn_plot()].name) }
            (figure(&pictures::cover(lesson, height, true)))
            (answers(lesson))
            div.columns { div { (ask(lesson)) (wrong(lesson)) } (cautions(lesson)) }
            (footer(view))
        }
    }
}

fn timing() -> Markup {
    html! {
        p.timing {
            strong { "5 min: " } "hand out page 1, read both strategies aloud; each guesses alone, in writing. "
            strong { "10 min: " } "question by question, count hands for each box, then read the answer; pass the chart round last. "
            strong { "15 min: " } "talk. Grey in the calendar: a crop stands, its harvest is near, or the birds must stay in by order; no strategy opens there."
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
            "Right column: in how many years the answer is the same. Tried: " (years) ", each with its own weather and its own value of everything that is not known exactly. "
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
                strong { (question.in_words) } ". " (typeset(&lesson.figures(question, lesson.units))) " "
                (typeset(&lesson.reason(question, lesson.units)))
            }
            td.years {
                (held(question.same, lesson.draws))
                @if 2 * question.same < lesson.draws { " – this year is unusual" }
            }
        }
    }
}

fn ask(lesson: &Lesson) -> Markup {
    let plot = &lesson.model.base.plots[lesson.drawn_plot()].name;
    html! {
        h2 { "To ask" }
        ul {
            li { "Where were most of us wrong, and what had we in mind?" }
            @if let Some(day) = parted(lesson) {
                li { "The lines part about " (day_words(lesson.model.base.start, day)) ": what does the calendar show just before?" }
            }
            li { "Which ground at home is like " (plot) "? What tells you there to shut the gate?" }
            li { "Which answer could change in another year? What would you do then?" }
        }
    }
}

/// First day on which the two lines of the chart lie clearly apart.
fn parted(lesson: &Lesson) -> Option<usize> {
    let plot = lesson.drawn_plot();
    let [a, b] = [0, 1].map(|strategy| &lesson.shown.strategies[strategy].ground.cover.by_plot[plot]);
    (0..a.len().min(b.len())).find(|&day| (a[day] - b[day]).abs() > PARTED)
}

fn wrong(lesson: &Lesson) -> Markup {
    let moves = |strategy: usize| number(lesson.shown.strategies[strategy].measures.get(Measure::GateMoves), 0);
    html! {
        h2 { "Common wrong ideas" }
        ul {
            @if moves(0) != moves(1) {
                li { "“More gate work, better ground.” Gates opened or shut in the year: " (moves(0)) " under A, " (moves(1)) " under B. Look at which gate, and when." }
            }
            li { "“The average is fine.” One plot can lie bare meanwhile." }
            li { "“Birds went through, the pest is gone.” They find what is within reach that day, and no gate stops what flies in." }
        }
    }
}

fn cautions(lesson: &Lesson) -> Markup {
    let rules = &lesson.model.base.rules;
    html! {
        div {
            h2 { "What the model leaves out" }
            p { "It compares; it does not promise. It was not fitted to field trials, diagnoses no disease and does not value useful insects. Your own eyes on the ground come first." }
            h2 { "Say this aloud" }
            ul {
                li { "Wash hands with soap after birds, eggs, soil and gates: hens that look well can carry Salmonella. Clean boots between yards." }
                li {
                    "Droppings are raw manure: no birds for " (rules.waiting_days_touching) " days before harvest where the edible part touches the soil, "
                    (rules.waiting_days_other) " days otherwise"
                    @match &lesson.model.waiting_rule_reason {
                        Some(reason) => { " (this site’s own rule: " (reason.trim_end_matches('.')) "; the US organic rule is 120 and 90)." }
                        None => {
                            @for country in lesson.model.rules_that_count() {
                                " (" (country.rule) ", " (country.clause) (crate::wording::longest_of_countries(&lesson.model)) ")."
                            }
                            @if lesson.model.waiting_rules.is_empty() { " (US organic rule, 7 CFR 205.203(c); yours may ask for more)." }
                        }
                    }
                    @for words in crate::cautions::own_waits(&lesson.model) { (words) }
                }
                li { "Avian influenza: a housing order comes before every gate. Report sudden deaths to the animal-health authority." }
                li { "Local rules and the vet come first. A plant not known to harm birds is unknown, not harmless." }
            }
        }
    }
}

fn footer(view: &LessonView<'_>) -> Markup {
    let from = view.from;
    html! {
        footer {
            "hensward " (from.version) " · seed " (from.seed) " · year " (view.lesson.number) " · inputs " (from.input_digest)
            " · the same site, seed and version print these pages again"
        }
    }
}

/// Height of everything on the page but the chart, CSS px.
pub(super) fn words_height(lesson: &Lesson) -> f64 {
    // Header, three lines of timing, two headings, the table's head, three small lines, footer,
    // and some air.
    const REST: f64 = 33.0 + 3.0 * TEXT.1 + 2.0 * 22.0 + 36.0 + 3.0 * 15.0 + 27.0 + 14.0;
    // The right column: its headings and fixed words, counted on the printed page.
    const COLUMNS: f64 = 2.0 * 22.0 + 15.0 * TEXT.1;
    const ACROSS_ANSWER: f64 = paper::ACROSS - 22.0 - 84.0 - 16.0;
    let answer = |question: &Question| {
        let (figures, reason) = (lesson.figures(question, lesson.units), lesson.reason(question, lesson.units));
        5.0 + paper::words(&format!("{}: {figures} {reason}", question.in_words), ACROSS_ANSWER, TEXT.0, TEXT.1)
    };
    let reason = lesson.model.waiting_rule_reason.as_deref().unwrap_or_default();
    let own_rule = &format!("{reason}{}", crate::cautions::own_waits(&lesson.model).concat());
    let own_rule = paper::words(own_rule, paper::ACROSS / 2.0 - 30.0, TEXT.0, TEXT.1);
    REST + COLUMNS + own_rule + lesson.questions.iter().map(answer).sum::<f64>()
}
