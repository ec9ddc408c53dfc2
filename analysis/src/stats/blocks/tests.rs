//! Block intervals against scipy, and how often they cover on invented responses to unknowns that are
//! drawn as [`crate::draw_sampler`] draws it.

use super::*;
use crate::draw_sampler::spread_out;
use crate::stats::fixtures::{close, table};
use crate::stats::wilson::wilson;
use sim_engine::streams::{standard_normal, stream};
use statrs::statistics::{Accumulate, OnlineMoments};

const LEVEL: f64 = 0.95;

/// t intervals by scipy (origin in tests/fixtures/README.md). A number for each draw of a block
/// makes the block the unit; few draws stand for themselves, their reach the root of 4/3 as far.
#[test]
fn agrees_with_scipy() {
    let data = table("i_ttest_data.csv", &["case", "x", "y"]);
    let wanted = ["case", "level", "mean_x", "mean_ci_lo", "mean_ci_hi", "paired_t", "paired_ci_lo", "paired_ci_hi"];
    let (mut single, mut blocks) = (0, 0);
    for want in table("i_ttest_result.csv", &wanted) {
        let (x, y): (Vec<f64>, Vec<f64>) =
            data.iter().filter(|row| row[0] == want[0]).map(|row| (row[1], row[2])).unzip();
        let agrees = |x: &[f64], y: &[f64], far: f64| {
            let (alone, pair) = (mean_interval(x, want[1]), paired(x, y, want[1]));
            let nearer = |end: f64, of: Estimate| of.mean + (end - of.mean) / far;
            let ends = |of: Estimate| [nearer(of.low, of), nearer(of.high, of)];
            let ([a, b], [c, d]) = (ends(alone), ends(pair.estimate));
            let got = [alone.mean, a, b, pair.t * far, c, d];
            got.iter().zip(&want[2..]).for_each(|(got, want)| close(*got, *want, 1e-9));
        };
        if unit(x.len()) == 1 {
            agrees(&x, &y, (4.0_f64 / 3.0).sqrt());
            single += 1;
        }
        if x.len() >= FEWEST {
            let each = |of: &[f64]| of.iter().flat_map(|&v| [v; BLOCK]).collect::<Vec<f64>>();
            agrees(&each(&x), &each(&y), 1.0);
            blocks += 1;
        }
    }
    assert!(single > 20 && blocks > 20);
}

/// Bit by bit: whichever blocks there are, mean and deviation are those of all numbers in a row.
#[test]
fn mean_and_deviation_are_those_of_statrs() {
    let mut random = stream(11, 0, "numbers");
    let numbers: Vec<f64> = (0..300).map(|_| 40.0 + 7.0 * standard_normal(&mut random)).collect();
    for many in [2, 3, 41, 300] {
        let ours = Moments::of(&numbers[..many]);
        let theirs = numbers[..many].iter().copied().fold(OnlineMoments::<2>::default(), Accumulate::push);
        assert_eq!((Some(ours.mean()), Some(ours.deviation())), (theirs.mean(), theirs.std_dev()), "{many}");
    }
}

/// By hand, ten blocks and two draws of an eleventh, one blank on the way.
#[test]
fn a_rest_and_blanks_weigh_what_they_have() {
    let mut draws: Vec<f64> = (0..42_u32).map(|i| f64::from(i / 4) + [0.5, -0.5][i as usize % 2]).collect();
    draws[1] = f64::NAN;
    // Block means: 0.5 - 1/6 of the first three, then 1 to 9, and 10 of the last two.
    let parts: Vec<(f64, f64)> =
        [(3.0, 1.0 / 6.0)].into_iter().chain((1..10).map(|j| (4.0, f64::from(j)))).chain([(2.0, 10.0)]).collect();
    let n: f64 = parts.iter().map(|(weight, _)| weight).sum();
    let centre = parts.iter().map(|(weight, at)| weight * at).sum::<f64>() / n;
    let between: f64 = parts.iter().map(|(weight, at)| weight * (at - centre) * (at - centre)).sum();
    let moments = Moments::of(&draws);
    assert_eq!((moments.count, moments.blocks), (41, 11));
    close(moments.mean(), centre, 1e-12);
    close(moments.variance().0, between / 10.0, 1e-12);
    assert_eq!(moments.variance().1, 10.0);
}

#[test]
fn running_sums_are_those_of_the_whole() {
    let values = [1e6 + 1.0, 1e6 + 4.0, f64::NAN, 1e6 + 2.5, 1e6 - 7.0];
    let moments = Moments::of(&values);
    let kept: Vec<f64> = values.into_iter().filter(|value| !value.is_nan()).collect();
    close(moments.mean(), crate::stats::mean(&kept), 1e-12);
    close(moments.deviation(), crate::stats::variance(&kept).sqrt(), 1e-9);
    assert!(Moments::default().mean().is_nan() && Moments::default().interval(LEVEL).mean.is_nan());
    // What goes on after a look is what would have gone on without.
    let mut looked_at = Moments::default();
    values.iter().for_each(|&value| {
        looked_at.add(value);
        let _ = looked_at.interval(LEVEL);
    });
    looked_at.close();
    assert_eq!(looked_at, moments);
}

#[test]
fn one_draw_tells_nothing_about_the_spread() {
    let got = mean_interval(&[3.0], LEVEL);
    assert_eq!((got.mean, got.low, got.high), (3.0, f64::NEG_INFINITY, f64::INFINITY));
}

#[test]
fn equal_columns_differ_by_exactly_nothing() {
    let column: Vec<f64> = (0..50).map(|i| 0.1 * f64::from(i % 7)).collect();
    let got = paired(&column, &column, LEVEL).estimate;
    assert_eq!((got.mean, got.low, got.high), (0.0, 0.0, 0.0));
}

/// An invented response: what ranks do one by one, together, and what is chance.
struct Response {
    what: &'static str,
    of: fn([f64; 3], f64) -> f64,
    mean: f64,
}

/// Means in closed form: of a centred rank 0, of its square 1/12, of independent products 0.
const RESPONSES: [Response; 4] = [
    Response { what: "one by one", of: |r, _| r[0] + 2.0 * r[1] * r[1] + r[2], mean: 1.0 / 6.0 },
    Response { what: "one by one and chance", of: |r, z| 3.0 * r[0] + r[1] + 0.5 * z, mean: 0.0 },
    Response { what: "together", of: |r, _| r[0] * r[1] + r[1] * r[2], mean: 0.0 },
    Response { what: "all of it", of: |r, z| 2.0 * r[0] + 4.0 * r[0] * r[1] + 3.0 * r[2] * r[2] + 0.3 * z, mean: 0.25 },
];

/// A column of draws: ranks spread out in blocks, the rest anew each draw.
fn column(response: &Response, repeat: u64, draws: usize) -> Vec<f64> {
    let draw = |number: u64| {
        let ranks = ["a", "b", "c"].map(|name| spread_out(repeat, number, name) - 0.5);
        (response.of)(ranks, standard_normal(&mut stream(repeat, number, "chance")))
    };
    (1..=draws as u64).map(draw).collect()
}

/// Times of `repeats` an interval covered, and its mean width.
fn covered(response: &Response, draws: usize, interval: impl Fn(&[f64]) -> Estimate) -> (usize, f64) {
    const REPEATS: u64 = 1_000;
    (0..REPEATS).fold((0, 0.0), |(covered, width), repeat| {
        let got = interval(&column(response, repeat, draws));
        let hit = got.low <= response.mean && response.mean <= got.high;
        (covered + usize::from(hit), width + (got.high - got.low) / REPEATS as f64)
    })
}

/// As if draws were independent.
fn naive(draws: &[f64]) -> Estimate {
    let variance = crate::stats::variance(draws);
    let n = draws.len() as f64;
    from_error(crate::stats::mean(draws), (variance / n).sqrt(), n - 1.0, variance.sqrt(), LEVEL).estimate
}

/// 95 % intervals cover in 95 of 100, within what a thousand repeats can tell, also where the last
/// block is a part; those made as if draws were independent cover almost always and are wider.
#[test]
fn block_intervals_cover_as_they_say() {
    for response in &RESPONSES {
        for draws in [42, 60, 200] {
            let (hits, width) = covered(response, draws, |column| mean_interval(column, LEVEL));
            let rate = wilson(hits, 1_000, 0.999);
            println!("{}, {draws} draws: {hits} of 1,000, width {width:.4}", response.what);
            assert!(rate.low <= LEVEL && LEVEL <= rate.high, "{}, {draws}: {hits} of 1,000", response.what);
        }
    }
    let by_one = &RESPONSES[0];
    let ((hits, width), (_, honest)) =
        (covered(by_one, 200, naive), covered(by_one, 200, |column| mean_interval(column, LEVEL)));
    println!("as if independent: {hits} of 1,000, width {width:.4} instead of {honest:.4}");
    assert!(hits > 995 && honest < 0.5 * width, "{hits}, {honest} for {width}");
}

/// With few draws each counts for itself: never too narrow, also where unknowns work only together.
#[test]
fn few_draws_err_towards_too_wide() {
    for response in &RESPONSES {
        for draws in [5, 20, 36] {
            let (hits, _) = covered(response, draws, |column| mean_interval(column, LEVEL));
            println!("{}, {draws} draws: {hits} of 1,000", response.what);
            assert!(wilson(hits, 1_000, 0.999).high >= LEVEL, "{}, {draws}: {hits} of 1,000", response.what);
        }
    }
}

/// Whether a limit holds at three ranks.
type Holds = fn([f64; 3]) -> bool;

/// With u = |1 − 2a|, v = |1 − 2b| even and of either sign, the product of both is below −t in half
/// of 1 − t + t ln t: one in ten at this t, solved to the last digit.
const TOGETHER: f64 = 0.438_503_138_854_271;

/// Wilson's interval supposes independent draws: of draws spread out it covers at least as often.
#[test]
fn counting_errs_towards_too_wide() {
    // Each holds in nine of ten: the sum of three ranks stays under a line (P of a sum of three
    // uniforms over 3 − x is x³/6 for x ≤ 1); two are not both high; two are not far off on opposite
    // sides, where what they do they do mostly together.
    let limits: [(&str, Holds); 3] = [
        ("sum", |r| r[0] + r[1] + r[2] < 3.0 - 0.6_f64.cbrt()),
        ("both", |r| r[0].min(r[1]) < 1.0 - 0.1_f64.sqrt()),
        ("together", |r| (0.5 - r[0]) * (0.5 - r[1]) > -0.25 * TOGETHER),
    ];
    for (what, holds) in limits {
        for draws in [20, 60, 200] {
            let hit = |repeat: &u64| {
                let ranks = |number: u64| ["a", "b", "c"].map(|name| spread_out(*repeat, number, name));
                let held = (1..=draws as u64).filter(|&number| holds(ranks(number))).count();
                let chance = wilson(held, draws, LEVEL);
                chance.low <= 0.9 && 0.9 <= chance.high
            };
            let hits = (0..1_000).filter(hit).count();
            println!("counted, {what}, {draws} draws: {hits} of 1,000");
            assert!(wilson(hits, 1_000, 0.999).high >= LEVEL, "{what}, {draws}: {hits} of 1,000");
        }
    }
}

/// Blocks of four from draw 1 on; they count as one from the tenth on, which 37 draws begin.
#[test]
fn draws_are_placed_and_counted_in_blocks_of_four() {
    assert_eq!([1, 4, 5, 40].map(place), [(0, 0), (0, 3), (1, 0), (9, 3)]);
    assert_eq!([1, 36, 37, 40].map(unit), [1, 1, 4, 4]);
    assert_eq!([36.0, 40.0, 42.0, 2.0, 1.0].map(freedom), [35.0, 9.0, 9.5, 1.0, 1.0]);
}
