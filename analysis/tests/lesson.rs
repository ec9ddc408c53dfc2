//! The lesson: two sheets that belong together, and a first one that gives nothing away.

#![allow(clippy::unwrap_used)]

mod common;

use analysis::experiment::Job;
use analysis::json::{LessonDocument, RunFacts, lesson_document, text};
use analysis::lesson::topic::TopicAnswer;
use analysis::lesson::{Lesson, LessonError, LessonSpec, LessonView, first_year, lesson_page, make};
use analysis::units::Units;
use common::{checked, from, site};
use scenarios::SiteModel;
use sim_engine::measures::Measure;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

fn lesson(edit: impl FnOnce(&mut SiteModel), units: Units, draws: usize) -> Lesson {
    let (model, _) = site(edit);
    let against = model.compare.against;
    let spec = LessonSpec { which: (against, None), seed: 7, number: 0, draws, weather: None, note: "", units };
    make(first_year(model), &spec, &Job::unheard()).unwrap()
}

/// Both sheets.
fn sheets(lesson: &Lesson) -> (String, String) {
    let page = lesson_page(&LessonView { lesson, from: &from() });
    let (head, sheets) = page.split_once("<body>").unwrap();
    assert!(head.contains("@page") && head.starts_with("<!DOCTYPE html>"));
    let (first, second) = sheets.split_once("</section>").unwrap();
    assert_eq!(second.matches("</section>").count(), 1, "two sheets, no more");
    (first.to_owned(), second.to_owned())
}

#[test]
fn two_sheets_without_network_tell_both_plans() {
    let lesson = lesson(|_| (), Units::Metric, 4);
    let (group, leader) = sheets(&lesson);
    for no in ["http", "<script", "<link", "<img", "url(", "@import", "NaN", "inf ", "<b>"] {
        assert!(!group.contains(no) && !leader.contains(no), "{no}");
    }
    for strategy in 0..2 {
        assert!(group.matches(lesson.name(strategy)).count() > 1 && leader.contains(lesson.name(strategy)));
    }
    for must in ["5 min", "10 min", "15 min", "To ask", "Common wrong ideas", "leaves out", "Salmonella"] {
        assert!(leader.contains(must), "{must}");
    }
    for must in ["120 days", "7 CFR 205.203(c)", "housing order", "Local rules", "animal-health authority", "of 4"] {
        assert!(leader.contains(must), "{must}");
    }
    let lower = format!("{group}{leader}").to_lowercase();
    assert!(lower.split(|c: char| !c.is_alphabetic()).all(|word| word != "safe" && word != "safely"));
}

#[test]
fn the_groups_sheet_gives_nothing_away() {
    let lesson = lesson(|_| (), Units::Metric, 2);
    let (group, leader) = sheets(&lesson);
    for question in &lesson.questions {
        let (figures, reason) = (lesson.figures(question, Units::Metric), lesson.reason(question, Units::Metric));
        let seen = |words: &str| words.replace("m2", "m²").replace(" %", "\u{a0}%").replace(" m²", "\u{a0}m²");
        assert!(leader.contains(&seen(&figures)) && leader.contains(&seen(&reason)), "{figures} {reason}");
        assert!(!group.contains(&seen(&figures)) && !group.contains(&seen(&reason)), "{figures} {reason}");
        assert!(group.contains(&seen(&question.ask)), "{}", question.ask);
    }
    // No decimal figure of an outcome, no barest day, no date below the line.
    for strategy in &lesson.shown.strategies {
        for &measure in Measure::ALL {
            let value = strategy.measures.get(measure);
            if value.is_finite() && measure.decimals() > 0 && value.abs() > 0.0 {
                let printed = format!(">{value:.*}<", measure.decimals());
                assert!(!group.contains(&printed), "{printed}");
            }
        }
        let (_, _, least) = strategy.ground.barest();
        assert!(!group.contains(&format!("{:.0}\u{a0}%", 100.0 * least)));
    }
    // The lines of the chart stand on the second sheet only; the axes on both.
    let plot = &lesson.model.base.plots[lesson.drawn_plot()].name;
    assert!(group.contains("Empty axes to draw on") && !group.contains("Least cover of the year"));
    assert!(leader.contains("Least cover of the year") && leader.contains(plot.as_str()));
}

#[test]
fn a_question_leans_to_neither_side_and_its_answer_is_one_of_its_boxes() {
    let lesson = lesson(|_| (), Units::Metric, 6);
    assert!((3..=5).contains(&lesson.questions.len()), "{}", lesson.questions.len());
    for question in &lesson.questions {
        assert!(question.boxes.contains(&"A".to_owned()) || question.boxes.contains(&"A only".to_owned()));
        assert!(question.same <= lesson.draws);
        let [a, b] = lesson.values(question);
        match question.answer {
            TopicAnswer::Plan(_) => assert!((a - b).abs() > 0.1 * a.abs().max(b.abs()), "{question:?}: {a} {b}"),
            TopicAnswer::Even => assert!(!question.clear),
            TopicAnswer::Bare(strategy, _) => assert_eq!(strategy, usize::from(b < a)),
            // The figures behind it are days below the line.
            TopicAnswer::Keeps(keeps, other) => assert_eq!((keeps, other), (a == 0.0, b == 0.0)),
        }
    }
}

#[test]
fn the_demo_asks_about_its_ground_first_and_chooses_a_plan_with_as_much_gate_work() {
    let lesson = lesson(|_| (), Units::Metric, 6);
    assert_eq!(lesson.name(0), "what-we-do-now");
    assert_eq!(lesson.questions[0].key(), "cover_lost");
    let moves = |strategy: usize| lesson.shown.strategies[strategy].measures.get(Measure::GateMoves);
    assert!((moves(0) - moves(1)).abs() <= analysis::lesson::pair::ALIKE * moves(0).max(moves(1)));
}

#[test]
fn the_same_inputs_give_the_same_pages_and_units_change_the_print_only() {
    let (one, two) = (lesson(|_| (), Units::Metric, 3), lesson(|_| (), Units::Metric, 3));
    assert_eq!(sheets(&one), sheets(&two));
    let us = lesson(|_| (), Units::Us, 3);
    let (group, leader) = sheets(&us);
    assert!(group.contains("ft²") && !group.contains("m²") && !leader.contains("m²"));
    assert_eq!(
        text(&lesson_document(&one, &from(), None)).unwrap(),
        text(&lesson_document(&us, &from(), None)).unwrap()
    );
}

#[test]
fn the_document_keeps_its_schema() {
    let lesson = lesson(|_| (), Units::Metric, 2);
    let run = RunFacts::of(&lesson.model, 9, 0.5, 2);
    let document: LessonDocument = lesson_document(&lesson, &from(), Some(run));
    let value = checked("lesson", &document);
    assert_eq!(value["strategies"].as_array().unwrap().len(), 2);
    assert_eq!(value["questions"][0]["values"].as_array().unwrap().len(), 2);
}

#[test]
fn a_crowded_site_keeps_two_questions_and_a_chart_to_draw_on() {
    let crowd = |model: &mut SiteModel| {
        let one = model.base.plots[6].clone();
        for number in model.base.plots.len()..24 {
            let mut plot = one.clone();
            plot.name = format!("meadow-number-{number}");
            model.base.plots.push(plot);
        }
    };
    let lesson = lesson(crowd, Units::Metric, 1);
    assert!(lesson.questions.len() >= 2);
    assert!(sheets(&lesson).0.contains("Empty axes to draw on"));
    if let Some(folder) = std::env::var_os("LESSON_LOOK") {
        std::fs::write(folder, lesson_page(&LessonView { lesson: &lesson, from: &from() })).unwrap();
    }
}

#[test]
fn one_plan_makes_no_lesson() {
    let (mut model, _) = site(|_| ());
    model.strategies.truncate(1);
    let spec =
        LessonSpec { which: (0, None), seed: 7, number: 0, draws: 1, weather: None, note: "", units: Units::Metric };
    assert!(matches!(make(first_year(model.clone()), &spec, &Job::unheard()), Err(LessonError::OneStrategy)));
    model.strategies.push(model.strategies[0].clone());
    assert!(matches!(
        make(first_year(model), &spec, &Job::new(Arc::new(AtomicBool::new(true)), &|_| ())),
        Err(LessonError::Stopped)
    ));
}
