//! The verdict's cases, worked by hand (no outside source: the rule is our own).

use super::*;
use crate::select::{Ended, Fate, Selection, SelectionEnd};
use crate::units::Units;
use scenarios::model::{Limit, Sense};
use scenarios::money::AimUnit;
use sim_engine::measures::Measure;

fn contender(name: &str, aim: &[f64]) -> Contender {
    Contender { name: name.into(), aim: aim.to_vec(), limits: vec![limit(aim.len(), aim.len())] }
}

fn limit(held: usize, draws: usize) -> LimitOutcome {
    LimitOutcome {
        limit: Limit {
            name: "least_cover",
            measure: Measure::LeastCover,
            sense: Sense::AtLeast,
            bound: 0.6,
            source: None,
        },
        held: (0..draws).map(|draw| draw < held).collect(),
    }
}

/// A column around `centre` that wobbles by `step`, differently for each `phase`.
fn wobble(centre: f64, step: f64, draws: usize, phase: usize) -> Vec<f64> {
    (0..draws).map(|draw| centre + step * (((draw * (7 + phase)) % 11) as f64 - 5.0)).collect()
}

fn words(verdict: &Verdict) -> String {
    verdict_words(verdict, None, &[], Units::Metric, &AimUnit::Hours)
}

fn judged(contenders: &[Contender]) -> Verdict {
    let verdict = decide(contenders, &VerdictRules::default()).unwrap();
    println!("{}\n", words(&verdict));
    assert!(!words(&verdict).contains("NaN") && !words(&verdict).contains("inf"), "{}", words(&verdict));
    verdict
}

#[test]
fn a_clear_lead_is_named() {
    let verdict = judged(&[
        contender("all open", &wobble(30.0, 0.4, 110, 0)),
        contender("weekly turn", &wobble(41.0, 0.4, 110, 1)),
    ]);
    assert_eq!(verdict.best.as_deref(), Some("weekly turn"));
    assert_eq!(verdict.runner_up.as_deref(), Some("all open"));
    assert_eq!(verdict.settle, Settle::Settled);
    assert_eq!(verdict.leader_stability, Some(1.0));
    assert!((verdict.difference.unwrap().mean - 11.0).abs() < 1e-9);
    assert!((verdict.indifference_hours - 0.05 * 41.0).abs() < 1e-9);
}

#[test]
fn a_lead_below_worth_is_too_close() {
    let verdict =
        judged(&[contender("weekly turn", &wobble(41.0, 3.0, 22, 0)), contender("by eye", &wobble(38.2, 3.0, 22, 1))]);
    assert_eq!(verdict.best, None);
    assert_eq!(verdict.leader.as_deref(), Some("weekly turn"));
    assert!(matches!(verdict.settle, Settle::MoreYears(draws) if draws > 22), "{:?}", verdict.settle);
}

#[test]
fn surely_less_than_worth_means_either_will_do() {
    let verdict = judged(&[
        contender("weekly turn", &wobble(41.0, 0.1, 110, 0)),
        contender("by eye", &wobble(40.5, 0.1, 110, 1)),
    ]);
    assert_eq!(verdict.best, None);
    assert_eq!(verdict.settle, Settle::EitherWillDo);
}

#[test]
fn a_hopeless_spread_asks_for_a_measurement() {
    let verdict = judged(&[
        contender("weekly turn", &wobble(41.0, 30.0, 110, 0)),
        contender("by eye", &wobble(38.5, 30.0, 110, 1)),
    ]);
    assert_eq!(verdict.settle, Settle::Measure);
}

#[test]
fn one_contender_that_holds_is_best_with_nothing_to_compare() {
    let verdict = judged(&[contender("all open", &[3.0, 4.0, 5.0])]);
    assert_eq!(verdict.best.as_deref(), Some("all open"));
    assert_eq!((verdict.runner_up, verdict.difference, verdict.leader_stability), (None, None, Some(1.0)));
}

#[test]
fn one_draw_cannot_tell() {
    let verdict = judged(&[contender("a", &[9.0]), contender("b", &[1.0])]);
    assert_eq!(verdict.best, None);
    assert_eq!(verdict.settle, Settle::MoreYears(settle::USUAL_DRAWS));
}

#[test]
fn all_equal_is_too_close_and_shares_the_sureness() {
    let same = [2.0, 3.0, 4.0, 5.0];
    let verdict = judged(&[contender("a", &same), contender("b", &same), contender("c", &same)]);
    assert_eq!((verdict.best.clone(), verdict.settle), (None, Settle::EitherWillDo));
    assert!((verdict.leader_stability.unwrap() - 1.0 / 3.0).abs() < 1e-9);
    let nothing = judged(&[contender("a", &[0.0; 4]), contender("b", &[0.0; 4])]);
    assert_eq!((nothing.best, nothing.settle), (None, Settle::EitherWillDo));
}

#[test]
fn nothing_holds_names_the_nearest_and_the_limit() {
    let mut far = contender("all open", &wobble(40.0, 0.5, 100, 0));
    far.limits = vec![limit(40, 100)];
    let mut near = contender("weekly turn", &wobble(30.0, 0.5, 100, 1));
    near.limits = vec![limit(100, 100), limit(85, 100)];
    let verdict = judged(&[far, near]);
    assert_eq!((&verdict.best, &verdict.leader, verdict.leader_stability), (&None, &None, None));
    assert_eq!(verdict.nearest.as_deref(), Some("weekly turn"));
    assert!(words(&verdict).contains("held in 85 of 100 possible years"), "{}", words(&verdict));
    assert!(words(&verdict).contains("9 of 10"));
}

#[test]
fn a_limit_at_exactly_the_wanted_share_holds() {
    let mut edge = contender("weekly turn", &wobble(30.0, 0.5, 100, 1));
    edge.limits = vec![limit(90, 100)];
    let verdict = judged(&[edge]);
    assert!(verdict.standings[0].holds);
    // Drawn again, about half the bootstraps fall below 90: honesty about a knife's edge.
    let stability = verdict.leader_stability.unwrap();
    assert!(stability > 0.4 && stability < 0.8, "{stability}");
}

#[test]
fn a_higher_aim_that_breaks_a_limit_is_out_and_said_so() {
    let mut greedy = contender("all open", &wobble(60.0, 0.5, 100, 0));
    greedy.limits = vec![limit(62, 100)];
    let verdict = judged(&[greedy, contender("weekly turn", &wobble(30.0, 0.5, 100, 1))]);
    assert_eq!(verdict.best.as_deref(), Some("weekly turn"));
    assert!(words(&verdict).contains("all open scores higher"), "{}", words(&verdict));
}

#[test]
fn negative_best_says_that_nothing_gains() {
    let verdict = judged(&[contender("a", &wobble(-5.0, 0.1, 110, 0)), contender("b", &wobble(-9.0, 0.1, 110, 1))]);
    assert_eq!(verdict.best.as_deref(), Some("a"));
    assert_eq!(verdict.indifference_hours, 0.0);
    assert!(words(&verdict).starts_with("Nothing here is better than keeping the birds in the yard"));
}

#[test]
fn the_same_input_gives_the_same_verdict() {
    let pair = [contender("a", &wobble(5.0, 1.0, 40, 0)), contender("b", &wobble(4.5, 1.0, 40, 1))];
    assert_eq!(judged(&pair), judged(&pair));
}

#[test]
fn faults_of_the_caller_are_errors() {
    let rules = VerdictRules::default();
    assert_eq!(decide(&[], &rules), Err(VerdictError::NoContenders));
    let empty = Contender { name: "a".into(), aim: vec![], limits: vec![] };
    assert_eq!(decide(&[empty], &rules), Err(VerdictError::NoDraws("a".into())));
    let blank = contender("a", &[1.0, f64::NAN]);
    assert!(matches!(decide(&[blank], &rules), Err(VerdictError::NotANumber { draw: 1, .. })));
    let uneven = [contender("a", &[1.0, 2.0]), contender("b", &[1.0])];
    assert!(matches!(decide(&uneven, &rules), Err(VerdictError::Unequal { .. })));
}

/// A selection of strategies that each ended after so many years.
fn selection(answer: SelectionEnd, ended: &[(usize, Fate)]) -> Selection {
    Selection {
        rules: crate::select::SelectionRules {
            confidence: 0.95,
            indifference_share: 0.05,
            required_reliability: 0.9,
            most: 1_000,
        },
        answer,
        ended: ended.iter().map(|&(draws, fate)| Ended { draws, fate }).collect(),
        indifference_hours: 2.0,
        draws: ended.iter().map(|&(draws, _)| draws).max().unwrap(),
    }
}

/// The verdict, and its words.
fn selected(contenders: &[Contender], selection: &Selection) -> (Verdict, String) {
    let verdict = of_selection(contenders, &VerdictRules::default(), selection).unwrap();
    let words = verdict_words(&verdict, Some(selection), &[], Units::Metric, &AimUnit::Hours);
    (verdict, words)
}

/// Of those beaten the one that stayed longest comes second, whatever it scored; the lead over it is
/// that of the years both have.
#[test]
fn the_second_of_a_selection_is_who_stayed_longest() {
    let mut best = wobble(40.0, 0.1, 160, 0);
    best[130..].fill(90.0);
    let contenders = [contender("a", &wobble(35.0, 0.1, 96, 1)), contender("b", &best), contender("c", &[30.0; 128])];
    let beaten = Fate::Beaten { by: 1 };
    let (verdict, words) =
        selected(&contenders, &selection(SelectionEnd::Best, &[(96, beaten), (160, Fate::Best), (128, beaten)]));
    assert_eq!((verdict.best.as_deref(), verdict.runner_up.as_deref()), (Some("b"), Some("c")));
    assert_eq!(
        (verdict.leader_stability, verdict.confidence, verdict.settle, verdict.draws, verdict.indifference_hours),
        (None, Some(0.95), Settle::Settled, 160, 2.0)
    );
    let lead = verdict.difference.unwrap();
    let shared = crate::stats::mean(&best[..128]) - 30.0;
    assert!((lead.mean - shared).abs() < 1e-9, "{}", lead.mean);
    assert!(verdict.also_close.is_empty());
    let want = format!("b gains {:.1} hours a year over birds shut in", crate::stats::mean(&best));
    assert!(words.starts_with(&want), "{}", words);
    assert!(words.contains("It is the best that keeps every limit: 10.0 hours a year ahead of c ("), "{}", words);
    assert!(words.ends_with("of 100 such answers at least 95 are right."), "{}", words);
}

#[test]
fn those_left_without_a_worthwhile_difference_are_all_named() {
    let contenders = ["a", "b", "c", "d"].map(|name| contender(name, &wobble(30.0, 0.5, 160, name.len())));
    let fates = [(160, Fate::AsGood), (160, Fate::AsGood), (96, Fate::Beaten { by: 0 }), (160, Fate::AsGood)];
    let (verdict, words) = selected(&contenders, &selection(SelectionEnd::NoWorthwhileDifference, &fates));
    assert_eq!((verdict.best, verdict.leader.as_deref()), (None, Some("a")));
    assert_eq!((verdict.runner_up.as_deref(), verdict.also_close), (Some("b"), vec!["d".to_owned()]));
    assert_eq!(verdict.settle, Settle::EitherWillDo);
    // All equal: each wins its share of the years drawn again.
    let stability = verdict.leader_stability.unwrap();
    assert!((stability - 1.0 / 3.0).abs() < 1e-9, "{stability}");
    assert!(
        words.contains("No worthwhile difference between a, b and d: none leads another by 2.00 hours a year."),
        "{}",
        words
    );
}

#[test]
fn a_selection_that_ran_out_says_who_is_left() {
    let contenders = [contender("a", &wobble(30.0, 0.5, 200, 0)), contender("b", &wobble(33.0, 0.5, 200, 1))];
    let left =
        |fates: [Fate; 2]| selected(&contenders, &selection(SelectionEnd::OutOfYears, &fates.map(|fate| (200, fate))));
    let (both, said) = left([Fate::Undecided, Fate::Undecided]);
    assert_eq!(
        (both.leader.as_deref(), both.runner_up.as_deref(), both.settle),
        (Some("b"), Some("a"), Settle::Measure)
    );
    assert!(said.contains("Not settled in 200 possible years: a and b are still in, and a lead of 2.00 hours a year"));
    let (one, said) = left([Fate::Undecided, Fate::Fails { limit: 0 }]);
    assert_eq!(one.leader.as_deref(), Some("a"));
    assert!(said.contains("Only a is still in after 200 possible years"), "{}", said);
}

#[test]
fn a_selection_of_which_nothing_holds_names_the_nearest() {
    let out = |name: &str, held: usize| Contender { limits: vec![limit(held, 96)], ..contender(name, &[5.0; 96]) };
    let contenders = [out("a", 40), out("b", 60)];
    let fails = Fate::Fails { limit: 0 };
    let (verdict, _) = selected(&contenders, &selection(SelectionEnd::NothingHolds, &[(96, fails), (96, fails)]));
    assert_eq!((verdict.nearest.as_deref(), verdict.settle), (Some("b"), Settle::EaseLimitOrChange));
    assert_eq!((verdict.leader, verdict.draws), (None, 96));
}

#[test]
fn faults_of_the_caller_of_a_selection_are_errors() {
    let of = |contenders: &[Contender]| {
        let fates: Vec<(usize, Fate)> =
            contenders.iter().map(|_| (2, Fate::Undecided)).chain([(2, Fate::Best)]).collect();
        of_selection(contenders, &VerdictRules::default(), &selection(SelectionEnd::Best, &fates))
    };
    assert_eq!(of(&[]), Err(VerdictError::NoContenders));
    let empty = Contender { name: "a".into(), aim: vec![], limits: vec![] };
    assert_eq!(of(&[empty]), Err(VerdictError::NoDraws("a".into())));
    let blank = contender("a", &[1.0, f64::INFINITY]);
    assert!(matches!(of(&[blank]), Err(VerdictError::NotANumber { draw: 1, .. })));
}
