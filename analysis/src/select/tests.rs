//! Error rates on invented strategies whose best is known. The rates stand in `STATISTICS.md`.

use super::*;
use crate::draw_sampler;
use crate::stats::wilson::wilson;
use sim_engine::streams::{gamma, standard_normal, stream, uniform};
use std::convert::Infallible;

/// Chance asked for in these tests.
const SURE: f64 = 0.95;

/// How invented strategies score.
#[derive(Clone, Copy)]
struct Invented {
    what: &'static str,
    /// Mean aim by strategy; the first is the best that holds.
    means: &'static [f64],
    /// Spread by strategy.
    spreads: &'static [f64],
    /// Share of the spread's variance that is common to all.
    common: f64,
    /// Chance that the one limit holds, by strategy; empty: no limit.
    holds: &'static [f64],
    /// Scores lean to one side (a gamma of shape 2) instead of normal.
    leaning: bool,
    /// Luck of its own is that of one unknown, spread out in blocks as [`crate::draw_sampler`] does, and so
    /// is the limit's.
    spread_out: bool,
    indifference_share: f64,
    /// What a right answer is.
    right: Right,
}

#[derive(Clone, Copy, PartialEq)]
enum Right {
    /// The first is named.
    First,
    /// The first is named or is among those left.
    FirstNotLost,
    /// Nothing is named: all are the same.
    NoneNamed,
}

/// What was counted.
#[derive(Debug)]
struct Counted {
    wrong: usize,
    out_of_years: usize,
    repeats: usize,
    /// Mean years of the longest, and mean runs of all strategies together.
    years: f64,
    runs: f64,
}

fn deviate(leaning: bool, random: &mut rand::rngs::ChaCha8Rng) -> f64 {
    if leaning { (gamma(random, 2.0, 1.0) - 2.0) / 2.0_f64.sqrt() } else { standard_normal(random) }
}

fn one(case: &Invented, repeat: u64, most: usize) -> Selection {
    let mut random = stream(20, repeat, case.what);
    let rules = SelectionRules {
        confidence: SURE,
        indifference_share: case.indifference_share,
        required_reliability: 0.9,
        most,
    };
    let limits = usize::from(!case.holds.is_empty());
    let mut years = |first: usize, count: usize, live: &[usize]| -> Result<Vec<Vec<YearSample>>, Infallible> {
        let year = |place: usize| {
            let rank = |name: &str| draw_sampler::spread_out(repeat, (first + place) as u64 + 1, name);
            let shared = deviate(case.leaning, &mut random);
            // Every strategy draws, so that who is left changes nobody's numbers.
            let all: Vec<YearSample> = (0..case.means.len())
                .map(|s| {
                    let own = match case.spread_out {
                        // One unknown, centred and of spread 1.
                        true => 12_f64.sqrt() * (rank(&format!("aim {s}")) - 0.5),
                        false => deviate(case.leaning, &mut random),
                    };
                    let mut even = || if case.spread_out { rank(&format!("limit {s}")) } else { uniform(&mut random) };
                    let noise = case.common.sqrt() * shared + (1.0 - case.common).sqrt() * own;
                    let held = case.holds.iter().map(|_| even() < case.holds[s]);
                    YearSample { aim: case.means[s] + case.spreads[s] * noise, held: held.take(limits).collect() }
                })
                .collect();
            live.iter().map(|&s| all[s].clone()).collect()
        };
        Ok((0..count).map(year).collect())
    };
    select(case.means.len(), limits, rules, &mut years).unwrap()
}

fn count(case: &Invented, repeats: usize) -> Counted {
    let mut counted = Counted { wrong: 0, out_of_years: 0, repeats, years: 0.0, runs: 0.0 };
    for repeat in 0..repeats as u64 {
        let selection = one(case, repeat, 20_000);
        let left = selection.left();
        let named = (selection.answer == SelectionEnd::Best).then(|| left[0]);
        let right = match case.right {
            Right::First => named == Some(0),
            Right::FirstNotLost => left.contains(&0),
            Right::NoneNamed => named.is_none(),
        };
        let ran_out = selection.answer == SelectionEnd::OutOfYears;
        counted.out_of_years += usize::from(ran_out);
        counted.wrong += usize::from(!right && !ran_out);
        counted.years += selection.draws as f64 / repeats as f64;
        counted.runs += selection.ended.iter().map(|e| e.draws as f64).sum::<f64>() / repeats as f64;
    }
    counted
}

const TEN: [f64; 10] = [100.0, 95.0, 95.0, 95.0, 95.0, 95.0, 95.0, 95.0, 95.0, 95.0];
const SPREAD: [f64; 10] = [15.0; 10];
/// Five points in a hundred of the best's gain: the lead of the slippage configuration.
const PLAIN: Invented = Invented {
    what: "slippage",
    means: &TEN,
    spreads: &SPREAD,
    common: 0.0,
    holds: &[],
    leaning: false,
    spread_out: false,
    indifference_share: 0.05,
    right: Right::First,
};

/// Every case: what must hold is that wrong answers are not more than 1 − SURE.
///
/// "Slippage": the best leads all others by just what is worth a change, the hardest case of
/// all. There `indifference_share` is a little under it, because the gain it is a share of is
/// itself guessed from the first years.
fn cases() -> Vec<Invented> {
    vec![
        Invented { indifference_share: 0.047, ..PLAIN },
        Invented { what: "common luck", common: 0.8, indifference_share: 0.047, ..PLAIN },
        Invented {
            what: "best the most uneven",
            spreads: &[30.0, 8.0, 8.0, 8.0, 8.0, 8.0, 8.0, 8.0, 8.0, 8.0],
            indifference_share: 0.045,
            ..PLAIN
        },
        Invented {
            what: "others more uneven",
            spreads: &[6.0, 10.0, 14.0, 18.0, 22.0, 26.0, 30.0, 6.0, 14.0, 22.0],
            common: 0.5,
            indifference_share: 0.045,
            ..PLAIN
        },
        Invented { what: "leaning scores", leaning: true, indifference_share: 0.047, ..PLAIN },
        Invented {
            what: "steps",
            means: &[100.0, 99.0, 97.0, 94.0, 90.0, 85.0, 79.0, 72.0, 64.0, 55.0],
            right: Right::FirstNotLost,
            ..PLAIN
        },
        Invented { what: "all the same", means: &[100.0; 5], spreads: &[15.0; 5], right: Right::NoneNamed, ..PLAIN },
        Invented {
            what: "the highest breaks a limit",
            means: &[100.0, 120.0, 130.0, 90.0, 80.0],
            spreads: &[15.0; 5],
            common: 0.5,
            holds: &[0.925, 0.875, 0.6, 0.99, 0.99],
            right: Right::First,
            ..PLAIN
        },
        Invented {
            what: "luck spread out in blocks",
            means: &[100.0, 95.0, 95.0, 95.0],
            spreads: &[60.0; 4],
            common: 0.4,
            spread_out: true,
            indifference_share: 0.047,
            ..PLAIN
        },
        Invented {
            what: "the same, two higher ones break a limit",
            means: &[100.0, 120.0, 130.0, 90.0],
            spreads: &[15.0; 4],
            common: 0.4,
            holds: &[0.925, 0.875, 0.6, 0.99],
            spread_out: true,
            ..PLAIN
        },
    ]
}

fn rates(repeats: usize) {
    println!("case | wrong | 95 % interval | out of years | years | runs");
    for case in cases() {
        let got = count(&case, repeats);
        let rate = wilson(got.wrong, got.repeats, 0.95);
        println!(
            "{} | {} of {} | {:.1} to {:.1} % | {} | {:.0} | {:.0}",
            case.what,
            got.wrong,
            got.repeats,
            100.0 * rate.low,
            100.0 * rate.high,
            got.out_of_years,
            got.years,
            got.runs
        );
        assert!(rate.low <= 1.0 - SURE, "{}: {got:?}", case.what);
        assert_eq!(got.out_of_years, 0, "{}", case.what);
    }
}

#[test]
fn wrong_answers_are_as_rare_as_promised() {
    rates(1_000);
}

/// The same with more repeats, for the table of `STATISTICS.md`; run by `.ci/slow`.
#[test]
#[ignore = "takes a minute"]
fn wrong_answers_are_as_rare_as_promised_in_ten_thousand() {
    rates(10_000);
}

/// Years that are all the same: aims and limits by strategy.
fn steady(aims: &[f64], held: &[&[bool]], rules: SelectionRules, given: usize) -> Selection {
    let mut years = |first: usize, count: usize, live: &[usize]| -> Result<Vec<Vec<YearSample>>, Infallible> {
        let sample = |&s: &usize| YearSample { aim: aims[s], held: held[s].to_vec() };
        let count = count.min(given.saturating_sub(first));
        Ok((0..count).map(|_| live.iter().map(sample).collect()).collect())
    };
    select(aims.len(), held[0].len(), rules, &mut years).unwrap()
}

const STEADY: SelectionRules =
    SelectionRules { confidence: SURE, indifference_share: 0.05, required_reliability: 0.9, most: 1_000 };

/// The chance of error is shared out by Bonferroni: half to pairs, of which each strategy has one
/// with every rival; half to limits, of which the best has all and each rival the one it fails by.
#[test]
fn the_chance_of_error_is_shared_out() {
    let shares = |strategies, limits| {
        let race = Race::new(strategies, limits, STEADY);
        (race.pair_error, race.limit_test)
    };
    let near = |got: f64, want: f64| assert!((got - want).abs() < 1e-12, "{got} is not {want}");
    near(shares(5, 2).0, 0.025 / 4.0);
    assert_eq!(shares(5, 2).1, LimitTest::new(0.9, 0.5 * (1.0 - SURE) / 6.0));
    near(shares(5, 0).0, 0.05 / 4.0);
    near(shares(1, 3).0, 0.0);
    assert_eq!(shares(1, 3).1, LimitTest::new(0.9, (1.0 - SURE) / 3.0));
}

/// Nothing varies, so leads are known when the first stage ends, and not before.
#[test]
fn a_steady_lead_is_known_at_the_end_of_the_first_stage() {
    let got = steady(&[95.0, 100.0, 60.0], &[&[], &[], &[]], STEADY, 1_000);
    assert_eq!((got.answer, got.draws, got.left()), (SelectionEnd::Best, FIRST, vec![1]));
    assert!((got.indifference_hours - 5.0).abs() < 1e-12);
    assert_eq!(got.ended[0], Ended { draws: FIRST, fate: Fate::Beaten { by: 1 } });
    assert_eq!(got.ended[1], Ended { draws: FIRST, fate: Fate::Best });
    let close = steady(&[99.0, 100.0], &[&[], &[]], STEADY, 1_000);
    assert_eq!((close.answer, close.left()), (SelectionEnd::NoWorthwhileDifference, vec![0, 1]));
}

/// By hand: a limit's share of the error is 0.025 / 2, so its bar is ln 80 = 4.382. At ln(0.125/0.075) = 0.511
/// a year not held that is 9 years: the first 32 asked for. At ln(0.925/0.875) = 0.0556 a year held it is 79.
#[test]
fn a_strategy_that_fails_its_limit_leaves_with_the_first_years() {
    let got = steady(&[100.0, 120.0], &[&[true], &[false]], STEADY, 1_000);
    assert_eq!(got.ended[1], Ended { draws: 32, fate: Fate::Fails { limit: 0 } });
    assert_eq!((got.answer, got.draws), (SelectionEnd::Best, 96));
    let none = steady(&[100.0, 120.0], &[&[true, false], &[false, true]], STEADY, 1_000);
    assert_eq!((none.answer, none.draws, none.left()), (SelectionEnd::NothingHolds, 32, vec![]));
    assert_eq!(none.ended[0].fate, Fate::Fails { limit: 1 });
}

/// The gain that worth is a share of is the best's among those whose limits held often enough.
#[test]
fn worth_is_a_share_of_the_best_that_keeps_its_limits() {
    let mixed =
        |aim: f64, one_in: usize| move |year: usize| YearSample { aim, held: vec![!year.is_multiple_of(one_in)] };
    let (keeps, breaks) = (mixed(100.0, 20), mixed(300.0, 8));
    let mut years = |first: usize, count: usize, live: &[usize]| -> Result<Vec<Vec<YearSample>>, Infallible> {
        let of = |s: usize, year: usize| if s == 0 { keeps(year) } else { breaks(year) };
        Ok((first..first + count).map(|year| live.iter().map(|&s| of(s, year + 1)).collect()).collect())
    };
    let got = select(2, 1, SelectionRules { most: FIRST, ..STEADY }, &mut years).unwrap();
    assert!((got.indifference_hours - 5.0).abs() < 1e-12, "{}", got.indifference_hours);
}

#[test]
fn years_run_out_or_are_stopped() {
    let open = SelectionRules { most: 50, ..STEADY };
    let got = steady(&[100.0, 60.0], &[&[], &[]], open, 1_000);
    assert_eq!((got.answer, got.draws, got.left()), (SelectionEnd::OutOfYears, 50, vec![0, 1]));
    assert_eq!(got.ended[1], Ended { draws: 50, fate: Fate::Undecided });
    let stopped = steady(&[100.0, 60.0], &[&[], &[]], STEADY, 40);
    assert_eq!((stopped.answer, stopped.draws), (SelectionEnd::Stopped, 40));
    assert_eq!(steady(&[7.0], &[&[]], STEADY, 1_000).answer, SelectionEnd::Best);
}
