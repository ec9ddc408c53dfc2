//! How many draws do the tricks of the trade save beyond common draws? The tables of `STATISTICS.md`,
//! put between its markers by `.ci/update-methods`:
//! `cargo run --release -p analysis --example fewer_draws -- 4000 scenarios/demos/*/site.toml`
//!
//! Every method is drawn in many independent blocks. What counts is the variance of a block's
//! mean times the block's draws, against the variance of plain draws: that ratio is the share of
//! draws needed for an interval of the same width. Mirrored weather is made here and nowhere else.

use analysis::compare::{ComparePlan, compare};
use analysis::draw_sampler::Draw;
use analysis::experiment::{Arm, Job, Trial, gain};
use rand::Rng;
use rayon::prelude::*;
use scenarios::weather_source::WeatherSource;
use scenarios::{Library, SiteModel, site_file, unknowns};
use sim_engine::drivers::Drivers;
use sim_engine::measures::Measure;
use sim_engine::run::world::RunError;
use sim_engine::streams::{standard_normal, stream, uniform};
use sim_engine::weather::DayWeather;
use sim_engine::weather::climate::Climate;
use sim_engine::weather::season_curve::{Position, month_index};
use sim_engine::weather::seasons::Seasons;
use statrs::distribution::{ContinuousCDF, Gamma};

/// Seed of everything here.
const SEED: u64 = 2028;
/// Draws of the comparison that picks the two best strategies.
const PILOT: usize = 200;
/// Bootstraps of a ratio's own interval.
const BOOTSTRAPS: u64 = 400;
/// Days the generator's temperature residual runs in (as in `sim_engine::weather::generator`).
const RUN_IN_D: u32 = 30;
/// Points of a table of gamma quantiles.
const QUANTILES: usize = 4096;
/// What is measured of a draw: mean aim, paired difference, cover lost.
const FIGURES: usize = 3;
/// Control figures: rain and warmth of the four quarters of the year.
const CONTROLS: usize = 8;

type AnyError = Box<dyn std::error::Error + Send + Sync>;

/// How the ranks of a block are made.
#[derive(Clone, Copy, PartialEq)]
enum Ranks {
    Plain,
    /// Each unknown in every slice of its range once.
    Latin,
    /// In pairs, rank and 1 − rank.
    Mirrored,
    /// Both: slices once each, in mirrored pairs.
    MirroredLatin,
}

struct Method {
    name: &'static str,
    block: usize,
    ranks: Ranks,
    mirrored_weather: bool,
}

const fn method(name: &'static str, block: usize, ranks: Ranks, mirrored_weather: bool) -> Method {
    Method { name, block, ranks, mirrored_weather }
}

const METHODS: [Method; 9] = [
    method("unknowns spread out, blocks of 2", 2, Ranks::Latin, false),
    method("unknowns spread out, blocks of 4", 4, Ranks::Latin, false),
    method("unknowns spread out, blocks of 8", 8, Ranks::Latin, false),
    method("unknowns spread out, blocks of 32", 32, Ranks::Latin, false),
    method("unknowns mirrored", 2, Ranks::Mirrored, false),
    method("unknowns spread out and mirrored, blocks of 4", 4, Ranks::MirroredLatin, false),
    method("weather mirrored", 2, Ranks::Plain, true),
    method("unknowns and weather mirrored", 2, Ranks::Mirrored, true),
    method("unknowns spread out, blocks of 4, weather mirrored", 4, Ranks::Latin, true),
];

/// What a draw came to.
#[derive(Clone, Copy)]
struct Seen {
    figures: [f64; FIGURES],
    controls: [f64; CONTROLS],
}

fn main() -> Result<(), AnyError> {
    let library = Library::shipped()?;
    let mut arguments = std::env::args().skip(1);
    let draws: usize = arguments.next().ok_or("name how many draws")?.parse()?;
    for path in arguments {
        let model = site_file::read(std::path::Path::new(&path), &library)?;
        table(&model, draws)?;
    }
    println!();
    Ok(())
}

fn table(model: &SiteModel, draws: usize) -> Result<(), AnyError> {
    let best = two_best(model)?;
    let names = best.map(|s| model.strategies[s].name.clone());
    println!("\n{}: {} against {}, {} unknowns:\n", model.name, names[0], names[1], model.unknowns.len());
    println!("| method | mean aim of the best | the two best, paired | cover lost |\n|---|---|---|---|");
    let mirror = Mirror::new(climate(model)?)?;
    let plain = see(model, best, &mirror, &method("plain", 1, Ranks::Plain, false), draws)?;
    for way in &METHODS {
        let seen = see(model, best, &mirror, way, draws)?;
        row(way.name, &|figure| ratio(&plain, &seen, way.block, figure));
    }
    row("control figures: rain and warmth of the quarters", &|figure| controlled(&plain, figure));
    Ok(())
}

fn row(name: &str, ratio: &dyn Fn(usize) -> [f64; 3]) {
    let cells: Vec<String> =
        (0..FIGURES).map(ratio).map(|[at, low, high]| format!("{at:.2} ({low:.2} to {high:.2})")).collect();
    println!("| {name} | {} |", cells.join(" | "));
}

/// The two strategies with the highest mean aim of those that keep every limit.
fn two_best(model: &SiteModel) -> Result<[usize; 2], AnyError> {
    let plan = ComparePlan {
        seed: SEED,
        draws: PILOT,
        which: (0..model.strategies.len()).collect(),
        against: 0,
        required_reliability: model.compare.required_reliability,
        indifference_share: model.compare.indifference_share,
    };
    let verdict = compare(model, &plan, None, &Job::unheard())?.verdict;
    let place = |name: Option<String>| name.and_then(|name| model.strategy(&name));
    place(verdict.leader).zip(place(verdict.runner_up)).map(|(a, b)| [a, b]).ok_or_else(|| "two must hold".into())
}

fn climate(model: &SiteModel) -> Result<&Climate, AnyError> {
    match &model.weather {
        WeatherSource::Climate { climate, .. } => Ok(climate),
        WeatherSource::Fitted { fitted, .. } => Ok(&fitted.climate),
        WeatherSource::Years { .. } => Err("a station's own years have no mirror".into()),
    }
}

/// Plays `draws` draws of a method, block after block.
fn see(
    model: &SiteModel,
    best: [usize; 2],
    mirror: &Mirror,
    way: &Method,
    draws: usize,
) -> Result<Vec<Seen>, AnyError> {
    let one = |number: u64| -> Result<Seen, AnyError> {
        let weather = if way.mirrored_weather {
            mirror.draw(model, number - number % 2, number % 2 == 1)
        } else {
            model.weather.draw(SEED, number, model.base.start, model.base.days)
        };
        let site = unknowns::at(model, &ranks(model, way, number));
        let drivers = Drivers::new(&site, &weather);
        let draw = Draw { number, site, drivers };
        let (trial, mut without) = Trial::new(vec![draw], model, |_| ())?;
        let without = without.swap_remove(0).measures;
        let play =
            |which| Ok::<_, RunError>(trial.run(Arm::strategy(&model.strategies, which), |_| ())?.swap_remove(0));
        let played = [play(best[0])?.measures, play(best[1])?.measures];
        let aims = played.each_ref().map(|p| gain(&model.aims, p, &without));
        Ok(Seen {
            figures: [aims[0], aims[0] - aims[1], played[0].get(Measure::CoverLoss)],
            controls: controls(&weather),
        })
    };
    // Whole blocks only; numbers from a round one on, so that blocks begin where they should.
    let whole = draws / way.block * way.block;
    (0..whole as u64).into_par_iter().map(one).collect()
}

fn ranks(model: &SiteModel, way: &Method, number: u64) -> Vec<f64> {
    let (block, place) = (number / way.block as u64, (number % way.block as u64) as usize);
    let rank = |u: &unknowns::Unknown| {
        let name = u.tie.as_ref().unwrap_or(&u.name);
        let own = |number: u64| uniform(&mut stream(SEED, number, &format!("unknown.{name}")));
        let slices = |count: usize| {
            let mut numbers = stream(SEED, block, &format!("slices.{name}"));
            let mut all: Vec<usize> = (0..count).collect();
            (1..count).rev().for_each(|at| all.swap(at, (uniform(&mut numbers) * (at + 1) as f64) as usize));
            (all, uniform(&mut numbers) < 0.5)
        };
        let turned = |rank: f64, turn: bool| if turn { 1.0 - rank } else { rank };
        match way.ranks {
            Ranks::Plain => own(number),
            Ranks::Latin => (slices(way.block).0[place] as f64 + own(number)) / way.block as f64,
            Ranks::Mirrored => turned(own(number - number % 2), number % 2 == 1),
            Ranks::MirroredLatin => {
                // Half the slices, each with its mirror; which of the two comes first is chance.
                let first = (slices(way.block / 2).0[place / 2] as f64 + own(number - number % 2)) / way.block as f64;
                let flip = uniform(&mut stream(SEED, number - number % 2, &format!("side.{name}"))) < 0.5;
                turned(first, flip != (number % 2 == 1))
            }
        }
    };
    model.unknowns.iter().map(rank).collect()
}

/// Rain and warmth (degrees above 5 °C summed) of the quarters of the calendar year.
fn controls(days: &[DayWeather]) -> [f64; CONTROLS] {
    let mut sums = [0.0; CONTROLS];
    for day in days {
        let quarter = month_index(day.date) / 3;
        sums[quarter] += day.rain_mm;
        sums[4 + quarter] += (day.tmean_c() - 5.0).max(0.0);
    }
    sums
}

/// Weather and its mirror image: wet where the other is dry as far as the chances allow, much
/// rain for little, warm for cold. Both have the law of the generator.
struct Mirror<'c> {
    climate: &'c Climate,
    seasons: Seasons,
    amounts: Vec<Vec<f64>>,
}

impl<'c> Mirror<'c> {
    fn new(climate: &'c Climate) -> Result<Self, AnyError> {
        let quantiles = |month: &sim_engine::weather::climate::MonthClimate| -> Result<Vec<f64>, AnyError> {
            let law = Gamma::new(month.amount_shape, 1.0 / month.amount_scale_mm)?;
            Ok((0..QUANTILES).map(|k| law.inverse_cdf((k as f64 + 0.5) / QUANTILES as f64)).collect())
        };
        let amounts = climate.months.iter().map(quantiles).collect::<Result<_, _>>()?;
        Ok(Self { climate, seasons: Seasons::of(&climate.months), amounts })
    }

    fn draw(&self, model: &SiteModel, number: u64, turned: bool) -> Vec<DayWeather> {
        let [mut wet_days, mut amounts, mut warmth] =
            ["weather.rain-days", "weather.rain-amounts", "weather.temperature"].map(|what| stream(SEED, number, what));
        let even = |random: &mut dyn Rng| if turned { 1.0 - uniform(random) } else { uniform(random) };
        let bell = |random: &mut dyn Rng| if turned { -standard_normal(random) } else { standard_normal(random) };
        let Climate { months, a, b, .. } = self.climate;
        let mut residual = [0.0; 2];
        let mut carry_over = || {
            let e = [bell(&mut warmth), bell(&mut warmth)];
            let r = residual;
            residual = core::array::from_fn(|i| a[i][0] * r[0] + a[i][1] * r[1] + b[i][0] * e[0] + b[i][1] * e[1]);
            residual
        };
        (0..RUN_IN_D).for_each(|_| _ = carry_over());
        let mut date = model.base.start;
        let mut wet = even(&mut wet_days) < months[month_index(date)].wet_share();
        let mut days = Vec::with_capacity(model.base.days);
        for _ in 0..model.base.days {
            let month = &months[month_index(date)];
            wet = even(&mut wet_days) < if wet { month.p_wet_after_wet } else { month.p_wet_after_dry };
            let rain_mm = if wet {
                let place = (even(&mut amounts) * QUANTILES as f64) as usize;
                self.amounts[month_index(date)][place.min(QUANTILES - 1)].max(self.climate.wet_threshold_mm)
            } else {
                0.0
            };
            let [low, high] = self.seasons.at(Position::of(date), wet);
            let chi = carry_over();
            let (tmin, tmax) = (low.mean_c + low.sd_c * chi[0], high.mean_c + high.sd_c * chi[1]);
            let short = (self.climate.least_swing_c - (tmax - tmin)).max(0.0);
            days.push(DayWeather::new(date, tmin - 0.5 * short, tmax + 0.5 * short, rain_mm));
            date = date.tomorrow().unwrap_or(date);
        }
        days
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn variance(values: &[f64]) -> f64 {
    let centre = mean(values);
    values.iter().map(|v| (v - centre) * (v - centre)).sum::<f64>() / (values.len() - 1) as f64
}

/// Variance of block means times the block's draws, against that of plain draws, with the 2.5
/// and 97.5 % points of its bootstraps.
fn ratio(plain: &[Seen], seen: &[Seen], block: usize, figure: usize) -> [f64; 3] {
    let column = |of: &[Seen]| of.iter().map(|s| s.figures[figure]).collect::<Vec<f64>>();
    let single = column(plain);
    let means: Vec<f64> = column(seen).chunks_exact(block).map(mean).collect();
    let of = |means: &[f64], single: &[f64]| block as f64 * variance(means) / variance(single);
    with_range(of(&means, &single), &|number| of(&again(&means, number, "blocks"), &again(&single, number, "draws")))
}

fn again<T: Clone>(values: &[T], number: u64, what: &str) -> Vec<T> {
    let mut numbers = stream(SEED, number, what);
    (0..values.len()).map(|_| values[(uniform(&mut numbers) * values.len() as f64) as usize].clone()).collect()
}

fn with_range(at: f64, bootstrap: &dyn Fn(u64) -> f64) -> [f64; 3] {
    let mut all: Vec<f64> = (0..BOOTSTRAPS).map(bootstrap).collect();
    all.sort_by(f64::total_cmp);
    let place = |share: f64| all[(share * (all.len() - 1) as f64) as usize];
    [at, place(0.025), place(0.975)]
}

/// Variance left by a straight-line fit to the control figures, and the degrees of freedom it costs.
fn controlled(plain: &[Seen], figure: usize) -> [f64; 3] {
    with_range(left_over(plain, figure), &|number| left_over(&again(plain, number, "control"), figure))
}

/// By Gram and Schmidt: each control is freed of those before it, then the figure of it.
fn left_over(plain: &[Seen], figure: usize) -> f64 {
    let centred = |values: Vec<f64>| {
        let centre = mean(&values);
        values.into_iter().map(|v| v - centre).collect::<Vec<f64>>()
    };
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
    let less = |of: &mut [f64], by: &[f64]| {
        let share = dot(of, by) / dot(by, by);
        of.iter_mut().zip(by).for_each(|(x, y)| *x -= share * y);
    };
    let mut rest = centred(plain.iter().map(|s| s.figures[figure]).collect());
    let whole = dot(&rest, &rest);
    let mut before: Vec<Vec<f64>> = Vec::new();
    for control in 0..CONTROLS {
        let mut column = centred(plain.iter().map(|s| s.controls[control]).collect());
        before.iter().for_each(|by| less(&mut column, by));
        less(&mut rest, &column);
        before.push(column);
    }
    let n = plain.len() as f64;
    // Lavenberg & Welch 1981, Management Science 27:322: what guessing the slopes costs.
    let guessed = (n - 2.0) / (n - 2.0 - CONTROLS as f64);
    dot(&rest, &rest) / whole * guessed * (n - 1.0) / (n - 1.0 - CONTROLS as f64)
}
