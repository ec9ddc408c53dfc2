//! A run is a value: it can be stepped, cloned, put away and gone on with. Recorders say what they
//! read, and a run keeps that and no more, alone and side by side.
#![allow(clippy::unwrap_used)]

mod common;

use common::{drivers, library};
use scenarios::{SiteModel, site_file};
use sim_engine::drivers::Drivers;
use sim_engine::gates::reason::Reason;
use sim_engine::gates::{CloneStrategy, Observation, Opening, Proposal, Strategy, build};
use sim_engine::ledger::flows::{Flow, FlowSet};
use sim_engine::measures::Measure;
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::run::world::RunError;
use sim_engine::run::{Batch, Realization, Run, RunOptions, simulate};
use sim_engine::simd::lanes;
use sim_engine::summary::Summary;
use std::path::Path;

fn demo(name: &str) -> SiteModel {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demos").join(name).join("site.toml");
    site_file::read(&path, library()).unwrap_or_else(|faults| panic!("{faults}"))
}

const DEMOS: [&str; 3] = ["sallowmere", "emberstair", "puddlecote"];

fn strategy(model: &SiteModel, which: usize) -> Box<dyn CloneStrategy> {
    build(&model.base, &model.strategies, which)
}

fn begun<'a>(model: &'a SiteModel, drivers: &'a Drivers, keep: FlowSet) -> Run<'a> {
    Run::new(&model.base, drivers, RunOptions::default(), keep).unwrap()
}

/// All there is of two runs on the same evening.
fn assert_alike(one: &Run, other: &Run) {
    assert_eq!(one.day(), other.day());
    assert_eq!(one.ground(), other.ground(), "day {}", one.day());
    assert_eq!(one.world().site_flows, other.world().site_flows, "day {}", one.day());
    assert_eq!((&one.world().yard, &one.world().heap), (&other.world().yard, &other.world().heap));
    assert_eq!((&one.world().plots, &one.world().parties), (&other.world().plots, &other.world().parties));
}

#[test]
fn stepping_a_run_is_running_it_whole() {
    for model in DEMOS.map(demo) {
        let drivers = drivers(&model, &model.base, 1);
        for which in 0..model.strategies.len() {
            let fresh = || Summary::new(None, model.limits.cover_line);
            let (mut whole, mut stepped) = (fresh(), fresh());
            let options = RunOptions::default();
            let at_once =
                simulate(&model.base, &drivers, strategy(&model, which).as_mut(), options, &mut whole).unwrap();
            let mut run = begun(&model, &drivers, stepped.flows());
            let mut strategy = strategy(&model, which);
            run.start(&mut stepped);
            while run.step(strategy.as_mut(), &mut stepped).unwrap() {}
            run.end(&mut stepped);
            assert_alike(&at_once, &run);
            for &measure in Measure::ALL {
                let (once, by_day) = (whole.measures.get(measure), stepped.measures.get(measure));
                assert_eq!(once.to_bits(), by_day.to_bits(), "{}: {}", model.strategies[which].name, measure.name());
            }
        }
    }
}

/// Days after which a season is cut in two.
const HALF_WAY: usize = 160;

#[test]
fn clones_end_alike_under_the_same_gates_and_part_where_their_gates_do() {
    for model in DEMOS.map(demo) {
        let drivers = drivers(&model, &model.base, 2);
        let mut run = begun(&model, &drivers, FlowSet::ALL);
        let mut gates = strategy(&model, 1);
        run.advance(HALF_WAY, gates.as_mut(), &mut ()).unwrap();
        // Put away in a list, with what the strategy remembers, and taken up again.
        let mut kept: Vec<(Run, Box<dyn CloneStrategy>)> = vec![(run.clone(), gates.clone()); 3];
        run.advance(usize::MAX, gates.as_mut(), &mut ()).unwrap();
        let (mut same, mut same_gates) = kept.pop().unwrap();
        same.advance(usize::MAX, same_gates.as_mut(), &mut ()).unwrap();
        assert_alike(&run, &same);
        let ((mut one, mut its_gates), (mut other, _)) = (kept.pop().unwrap(), kept.pop().unwrap());
        let mut other_gates = Shut;
        let mut parted = false;
        while one.day() < one.days() {
            one.step(its_gates.as_mut(), &mut ()).unwrap();
            other.step(&mut other_gates, &mut ()).unwrap();
            parted |= one.world().birds_on != other.world().birds_on;
            if parted {
                break;
            }
            assert_alike(&one, &other);
        }
        assert!(parted, "the strategy opens a gate some day");
        assert_ne!(one.ground(), other.ground(), "birds leave their mark on the day");
    }
}

/// Opens nothing.
struct Shut;

impl Strategy for Shut {
    fn propose(&mut self, _: &Observation, _: &mut Proposal) -> bool {
        true
    }
}

/// Takes down which gates were open, day by day.
#[derive(Default)]
struct Openings(Vec<Vec<Opening>>);

impl Recorder for Openings {
    fn day(&mut self, view: &DayView) {
        self.0.push(view.gates.openings.clone());
    }
}

/// Opens what was open.
struct Again<'o>(core::slice::Iter<'o, Vec<Opening>>);

impl Strategy for Again<'_> {
    fn propose(&mut self, _: &Observation, proposal: &mut Proposal) -> bool {
        let today = self.0.next().unwrap();
        proposal.openings.extend_from_slice(today);
        proposal.reason = Reason::AllOpen;
        true
    }
}

/// What a run comes to follows from its draw and its gates alone: these are enough to store it by.
#[test]
fn a_run_again_under_its_gates_ends_alike() {
    let model = demo("emberstair");
    let drivers = drivers(&model, &model.base, 3);
    let mut openings = Openings::default();
    let run = simulate(&model.base, &drivers, strategy(&model, 4).as_mut(), RunOptions::default(), &mut openings);
    let mut again = Again(openings.0.iter());
    let again = simulate(&model.base, &drivers, &mut again, RunOptions::default(), &mut ());
    assert_alike(&run.unwrap(), &again.unwrap());
}

/// Sums a flow over the ground at the end, having named some flows.
struct Reads {
    named: FlowSet,
    flow: Flow,
    sum: f64,
}

impl Recorder for Reads {
    fn flows(&self) -> FlowSet {
        self.named
    }
    fn day(&mut self, _: &DayView) {}
    fn end(&mut self, run: &RunView) {
        self.sum = (0..run.ground.zones.len()).map(|zone| run.flow(zone, self.flow)).sum();
    }
}

fn reads(named: &[Flow], flow: Flow) -> Reads {
    Reads { named: FlowSet::of(named), flow, sum: 0.0 }
}

/// Runs for as many recorders as run side by side, and for one alone.
fn side_by_side_and_alone(fresh: impl Fn() -> Reads) -> (Reads, Reads) {
    let model = demo("puddlecote");
    let drivers: Vec<Drivers> = (1..=lanes() as u64).map(|draw| drivers(&model, &model.base, draw)).collect();
    let realizations: Vec<Realization> = drivers.iter().map(|drivers| (&model.base, drivers)).collect();
    let mut together: Vec<Reads> = realizations.iter().map(|_| fresh()).collect();
    let options = RunOptions::default();
    Batch::new(&realizations).run(&realizations, &model.strategies, 0, options, &mut together).unwrap();
    let mut alone = fresh();
    simulate(&model.base, &drivers[0], strategy(&model, 0).as_mut(), options, &mut alone).unwrap();
    (together.swap_remove(0), alone)
}

/// A measure on this flow was once silently 0 where runs went side by side.
#[test]
fn a_flow_that_is_named_is_kept_side_by_side() {
    let (together, alone) = side_by_side_and_alone(|| reads(&[Flow::Drainage], Flow::Drainage));
    assert!(alone.sum > 1.0, "water drains in three years: {} mm", alone.sum);
    assert_eq!(together.sum.to_bits(), alone.sum.to_bits());
}

#[test]
#[should_panic(expected = "reads the flow water.out.drainage and did not name it")]
fn a_flow_that_is_not_named_is_a_fault_side_by_side() {
    side_by_side_and_alone(|| reads(&[Flow::Runoff], Flow::Drainage));
}

#[test]
#[should_panic(expected = "reads the flow water.out.drainage and did not name it")]
fn another_recorders_flow_is_a_fault_too() {
    let model = demo("puddlecote");
    let drivers = drivers(&model, &model.base, 1);
    let mut both = (reads(&[Flow::Drainage], Flow::Drainage), reads(&[], Flow::Drainage));
    let _ = simulate(&model.base, &drivers, strategy(&model, 0).as_mut(), RunOptions::default(), &mut both);
}

#[test]
#[should_panic(expected = "reads the ground on day 0 and did not ask for it")]
fn ground_that_was_not_asked_for_is_a_fault() {
    struct Looks;
    impl Recorder for Looks {
        fn day(&mut self, view: &DayView) {
            let _ = view.ground();
        }
    }
    let model = demo("puddlecote");
    let drivers = drivers(&model, &model.base, 1);
    let _ = simulate(&model.base, &drivers, strategy(&model, 0).as_mut(), RunOptions::default(), &mut Looks);
}

#[test]
fn a_run_begun_for_other_flows_refuses_the_recorder() {
    let model = demo("puddlecote");
    let drivers = drivers(&model, &model.base, 1);
    let mut run = begun(&model, &drivers, FlowSet::of(&[Flow::Runoff]));
    let refused = run.step(strategy(&model, 0).as_mut(), &mut reads(&[Flow::Drainage], Flow::Drainage));
    assert_eq!(refused, Err(RunError::FlowNotKept { flow: "water.out.drainage" }));
}
