//! Properties that hold whatever the numbers: random values of every unknown within the
//! library's ranges, random strategies, 0 to 80 hens.
#![allow(clippy::unwrap_used)]

mod common;

use common::watchman::Watchman;
use common::*;
use proptest::prelude::*;
use scenarios::{SiteModel, unknowns};
use sim_engine::drivers::Drivers;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::measures::Measure;
use sim_engine::run::RunOptions;
use sim_engine::site::Site;
use sim_engine::summary::Summary;
use std::sync::OnceLock;

/// A garden with something of everything: beds, canopy, guards, care, pests, creeping weeds, an
/// isolated group, a housing order, the heap spread.
const GARDEN: &str = r#"
[plot.beds]
area = "60 m2"
soil = "sandy loam"
beds = 0.6
cover = { plant = "mown grass", start = 0.8 }
weeds = [{ plant = "chickweed", seeds = "2000 per m2" }, { plant = "fat hen", seeds = "500 per m2" }]
creeping = [{ plant = "couch grass", reserve = "30 g/m2" }]
irrigation = "drip"
distance_from_yard = "4 m"
[[plot.beds.crop]]
crop = "lettuce"
in_ground = ["04-05", "06-12"]
harvest = ["05-28", "06-12"]
[[plot.beds.crop]]
crop = "kale"
in_ground = ["07-01", "02-10"]
[[plot.beds.pest]]
species = "cabbage root fly"
start = "10 per m2"
[[plot.beds.care]]
task = "weed"
every = "3 weeks"
season = ["04-15", "08-31"]
[plot.orchard]
area = "150 m2"
soil = "clay loam"
drainage = "slow"
rings = 2
cover = { plant = "rough grass", start = 0.9 }
weeds = [{ plant = "cleavers", seeds = "200 per m2" }]
canopy = "plum trees"
guards = [{ share = 0.2, from = "04-01", to = "07-31" }]
worm_eggs = 20
distance_from_yard = "12 m"
[[plot.orchard.pest]]
species = "plum sawfly"
start = "10 per m2"
neighbours = "some"
[[plot.orchard.pest]]
species = "pear slug"
start = "5 per m2"
[plot.meadow]
area = "90 m2"
soil = "loam"
cover = { plant = "grass and clover", start = 0.85 }
weeds = [{ plant = "annual meadow grass", seeds = "800 per m2" }]
distance_from_yard = "20 m"
[[plot.meadow.care]]
task = "mow"
every = "8 weeks"
season = ["05-20", "09-30"]
[birds.young]
class = "pullet"
number = 4
arrive = 2027-06-01
isolate = { plot = "meadow", days = 30 }
[[event]]
on = 2027-11-10
until = 2027-12-20
what = "housing order"
[[event]]
on = "03-20"
what = "spread heap"
plot = "beds"
[strategy.turn]
fixed_turn = { order = ["beds", "orchard", "meadow"], stay = "9 days", by_area = true }
[strategy.all-open]
all_open = {}
[strategy.one]
continuous = { plot = "orchard" }
[strategy.eye]
by_eye = { enter_above = 0.85, leave_below = 0.7, longest_stay = "14 days", shortest_rest = "28 days" }
[strategy.between]
between_crops = { stay = "10 days", else = "turn" }
[strategy.date]
pest_date = { plot = "orchard", species = "plum sawfly", from = "-50 degree-days", to = "70 degree-days", else = "eye" }
[strategy.weather]
weather = { shade_above = "25 C", off_wet_ground = true, else = "between" }
"#;

fn garden() -> &'static SiteModel {
    static GARDEN_MODEL: OnceLock<SiteModel> = OnceLock::new();
    GARDEN_MODEL.get_or_init(|| site("2027-03-15", 1, 14.0, GARDEN))
}

/// The garden with every unknown at a rank drawn from `seed`, and so many hens.
fn random_site(seed: u64, hens: f64, steps: u32) -> Site {
    let model = garden();
    let rank = |u: &unknowns::Unknown| {
        sim_engine::streams::uniform(&mut sim_engine::streams::stream(seed, 0, u.tie.as_ref().unwrap_or(&u.name)))
    };
    let ranks: Vec<f64> = model.unknowns.iter().map(rank).collect();
    let mut site = unknowns::at(model, &ranks);
    site.groups[0].number = hens;
    site.days = 400;
    site.steps_per_day = steps;
    site
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    /// Never negative, never without a value; books close to 1e-9 every day in every currency.
    #[test]
    fn states_are_sound_and_the_books_close(seed in any::<u64>(), hens in 0.0..80.0_f64, which in 0_usize..7, steps in 1_u32..3) {
        let site = random_site(seed, hens, steps);
        let drivers = Drivers::new(&site, &garden().weather.draw(seed, 1, site.start, site.days));
        let mut watch = Watchman::default();
        record(&site, &drivers, (&garden().strategies, which), RunOptions::default(), &mut watch);
        let worst = watch.worst();
        prop_assert!(worst < 1e-9, "{worst:e}");
    }
}

/// Books over ten years, without birds and with.
#[test]
fn the_books_close_over_ten_years() {
    let mut site = random_site(3, 20.0, 1);
    site.days = 3652;
    let drivers = Drivers::new(&site, &garden().weather.draw(3, 1, site.start, site.days));
    for (which, birds) in [(0, false), (0, true), (1, true), (6, true)] {
        let mut watch = Watchman::default();
        let options = RunOptions { birds, ..RunOptions::default() };
        record(&site, &drivers, (&garden().strategies, which), options, &mut watch);
        let worst = watch.worst();
        println!("worst residual of ten years, strategy {which}, birds {birds}: {worst:.1e}");
        assert!(worst < 1e-9);
    }
}

/// Measures of the run cut into so many steps a day, held against no birds.
fn measured(steps: u32, strategy: &StrategySpec) -> Vec<f64> {
    let text = format!(
        "{}{}",
        plot(
            "orchard",
            140.0,
            12.0,
            "rings = 2\ncanopy = \"apple trees\"\nworm_eggs = 20\nweeds = [{ plant = \"chickweed\", seeds = \"3000 per m2\" }]\n[[plot.orchard.pest]]\nspecies = \"apple sawfly\"\nstart = \"10 per m2\""
        ),
        plot(
            "meadow",
            100.0,
            20.0,
            "rings = 2\nweeds = [{ plant = \"annual meadow grass\", seeds = \"1500 per m2\" }]"
        )
    );
    let mut model = site("2027-03-01", 2, 8.0, &text);
    model.base.steps_per_day = steps;
    let drivers = drivers(&model, &model.base, 0);
    let mut summary = Summary::new(Some(baseline(&model.base, &drivers)), 0.7);
    let strategy = core::slice::from_ref(strategy);
    record(&model.base, &drivers, (strategy, 0), RunOptions::default(), &mut summary);
    STEPPED.iter().map(|&(m, _)| summary.measures.get(m)).collect()
}

/// Measures and the error of a day's step that is allowed, % of the value at a sixteenth of a day.
const STEPPED: [(Measure, f64); 10] = [
    (Measure::MeanCover, 1.0),
    (Measure::LeastCover, 3.0),
    (Measure::WeedCover, 8.0),
    (Measure::Emerged, 5.0),
    (Measure::NitrogenLeached, 3.0),
    (Measure::NitrogenLoad, 1.0),
    (Measure::GreenEaten, 3.0),
    (Measure::InsectsEaten, 25.0),
    (Measure::FeedSaved, 4.0),
    (Measure::WormEggs, 3.0),
];

/// A day's step against a sixteenth of a day: the error is stated by measure and falls with the step.
#[test]
fn a_day_step_is_near_a_fine_step() {
    for (name, strategy) in [("turn of 14 d", turn(2, 14.0)), ("all open", spec(StrategyKind::AllOpen))] {
        let fine = measured(16, &strategy);
        let off = |steps: u32| -> Vec<f64> {
            measured(steps, &strategy).iter().zip(&fine).map(|(a, b)| 100.0 * (a / b - 1.0)).collect()
        };
        let (day, half, quarter) = (off(1), off(2), off(4));
        for (i, (measure, most)) in STEPPED.iter().enumerate() {
            println!(
                "{name}, {}: {:+.2} % at a day, {:+.2} % at a half, {:+.2} % at a quarter",
                measure.name(),
                day[i],
                half[i],
                quarter[i]
            );
            assert!(day[i].abs() < *most, "{name} {}", measure.name());
            assert!(quarter[i].abs() < 0.6 * day[i].abs().max(0.2), "{name} {}", measure.name());
        }
    }
}
