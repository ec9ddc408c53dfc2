//! Runs side by side in lanes end with the bits of each run alone.
#![allow(clippy::unwrap_used)]

use analysis::draw_sampler::{Draw, DrawSampler};
use analysis::experiment::{DrawOutcome, outcome_given, outcomes};
use scenarios::{Library, SiteModel, site_file};
use sim_engine::gates::build;
use sim_engine::measures::Measure;
use sim_engine::run::recorder::Recorder;
use sim_engine::run::world::RunError;
use sim_engine::run::{Batch, Realization, RunOptions, simulate};
use sim_engine::simd::lanes;
use sim_engine::summary::{BaselineRecorder, Summary};
use std::path::Path;
use std::sync::Arc;

fn model(demo: &str) -> SiteModel {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../scenarios/demos/{demo}/site.toml"));
    site_file::read(&path, &Library::shipped().unwrap()).unwrap()
}

fn draws(model: &SiteModel, count: u64) -> Vec<Draw> {
    (1..=count).map(|number| DrawSampler { seed: 5 }.draw(model, number)).collect()
}

fn realizations(draws: &[Draw]) -> Vec<Realization<'_>> {
    draws.iter().map(|draw| (&draw.site, &draw.drivers)).collect()
}

/// Runs strategy `which` on one draw.
fn alone(model: &SiteModel, draw: &Draw, which: usize, options: RunOptions, recorder: &mut dyn Recorder) {
    let mut strategy = build(&draw.site, &model.strategies, which);
    simulate(&draw.site, &draw.drivers, strategy.as_mut(), options, recorder).unwrap();
}

fn bits(summary: &Summary) -> Vec<u64> {
    Measure::ALL.iter().map(|&measure| summary.measures.get(measure).to_bits()).collect()
}

/// Every strategy of a demo on more draws than run side by side, the last few in fewer lanes.
fn holds(demo: &str) {
    let model = model(demo);
    let draws = draws(&model, lanes() as u64 * 2 + 3);
    let realizations = realizations(&draws);
    let batch = Batch::new(&realizations);
    for which in 0..model.strategies.len() {
        for options in [RunOptions::default(), RunOptions { care: false, ..RunOptions::default() }] {
            let fresh = || (BaselineRecorder::default(), Summary::new(None, model.limits.cover_line));
            let mut together: Vec<_> = draws.iter().map(|_| fresh()).collect();
            batch.run(&realizations, &model.strategies, which, options, &mut together).unwrap();
            for (draw, (baseline, summary)) in draws.iter().zip(&together) {
                let mut single = fresh();
                alone(&model, draw, which, options, &mut single);
                let place = format!("{demo}, {}, draw {}", model.strategies[which].name, draw.number);
                assert_eq!(bits(summary), bits(&single.1), "{place}");
                assert_eq!(summary.plots, single.1.plots, "{place}");
                assert_eq!(baseline.baseline, single.0.baseline, "{place}");
            }
        }
    }
}

#[test]
fn sallowmere_side_by_side_is_sallowmere_alone() {
    holds("sallowmere");
}

#[test]
fn emberstair_side_by_side_is_emberstair_alone() {
    holds("emberstair");
}

#[test]
fn puddlecote_side_by_side_is_puddlecote_alone() {
    holds("puddlecote");
}

#[test]
fn other_realizations_than_were_made_ready_are_refused() {
    let model = model("puddlecote");
    let draws = draws(&model, 3);
    let realizations = realizations(&draws);
    let mut recorders = vec![BaselineRecorder::default(); 3];
    let batch = Batch::new(&realizations[..2]);
    let refused = batch.run(&realizations, &model.strategies, 0, RunOptions::default(), &mut recorders);
    assert_eq!(refused, Err(RunError::OtherRealizations { ready: 2, given: 3, recorders: 3 }));
}

/// Runs of which one alone is measured against a run without birds, and two summaries of one run.
#[test]
fn summaries_that_differ_are_each_as_alone() {
    let model = model("puddlecote");
    let draws = draws(&model, 3);
    let realizations = realizations(&draws);
    let batch = Batch::new(&realizations);
    let line = model.limits.cover_line;
    let mut recorder = BaselineRecorder::default();
    alone(&model, &draws[1], 0, RunOptions::no_birds(), &mut recorder);
    let baseline = Arc::new(recorder.baseline);
    for twice in [false, true] {
        let fresh = |run: usize| {
            let against = (run == 1).then(|| Arc::clone(&baseline));
            (Summary::new(against, line), (twice && run != 2).then(|| Summary::new(None, 0.9)))
        };
        let mut together: Vec<_> = (0..3).map(fresh).collect();
        batch.run(&realizations, &model.strategies, 0, RunOptions::default(), &mut together).unwrap();
        for (run, (draw, together)) in draws.iter().zip(&together).enumerate() {
            let mut single = fresh(run);
            alone(&model, draw, 0, RunOptions::default(), &mut single);
            assert_eq!((bits(&together.0), &together.0.plots), (bits(&single.0), &single.0.plots));
            assert_eq!(together.1.as_ref().map(bits), single.1.as_ref().map(bits));
        }
    }
}

/// All runs of a draw, looked at closely and not.
#[test]
fn outcomes_side_by_side_are_outcomes_alone() {
    let model = model("sallowmere");
    let draws = draws(&model, lanes() as u64 * 2 + 2);
    let detail = lanes() + 1;
    let which = [0, 5, 9];
    let some = |range: core::ops::Range<usize>, detail| outcomes(draws[range].to_vec(), &model, &which, detail);
    let mut together = some(0..lanes() * 2, detail).unwrap();
    // A few, in fewer lanes; looked at closely, and not.
    together.extend(some(lanes() * 2..draws.len(), 0).unwrap());
    together.splice(..2, some(0..2, 2).unwrap());
    for (i, (draw, together)) in draws.iter().zip(&together).enumerate() {
        let single = some(i..i + 1, usize::from(i < detail)).unwrap().swap_remove(0);
        let all = |of: &DrawOutcome| {
            let all = [&of.no_birds, &of.nothing].into_iter().chain(&of.strategies);
            all.map(|o| format!("{:?}", (o.measures.clone(), &o.plots, &o.least_cover, &o.detail))).collect::<Vec<_>>()
        };
        assert!(all(together) == all(&single), "draw {}", draw.number);
        let mut strategy = build(&draw.site, &model.strategies, which[1]);
        let given = outcome_given(draw.clone(), &model, strategy.as_mut()).unwrap();
        assert_eq!(given.strategies[0].plots, single.strategies[1].plots);
        assert_eq!(given.strategies[0].least_cover, single.strategies[1].least_cover);
    }
}
