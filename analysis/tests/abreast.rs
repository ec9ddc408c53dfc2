//! Years that run abreast in lanes end with the bits of each run alone.
#![allow(clippy::unwrap_used)]

use analysis::luck::{Draw, Luck};
use analysis::runs::{DrawOutcome, run_abreast, run_given};
use scenarios::{Library, SiteModel, site_file};
use sim_engine::abreast::{Abreast, Year, lanes};
use sim_engine::gates::{Strategy, build};
use sim_engine::measures::Measure;
use sim_engine::season::{RunOptions, run};
use sim_engine::summary::{ReferenceRecorder, Summary};
use sim_engine::world::RunError;
use std::path::Path;

fn model(demo: &str) -> SiteModel {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../scenarios/demos/{demo}/site.toml"));
    site_file::read(&path, &Library::shipped().unwrap()).unwrap()
}

fn draws(model: &SiteModel, count: u64) -> Vec<Draw> {
    (1..=count).map(|number| Luck { seed: 5 }.draw(model, number)).collect()
}

fn years(draws: &[Draw]) -> Vec<Year<'_>> {
    draws.iter().map(|draw| (&draw.site, &draw.drivers)).collect()
}

fn bits(summary: &Summary) -> Vec<u64> {
    Measure::ALL.iter().map(|&measure| summary.measures.get(measure).to_bits()).collect()
}

/// Every strategy of a demo on more years than fit abreast, the last few in fewer lanes.
fn holds(demo: &str) {
    let model = model(demo);
    let draws = draws(&model, lanes() as u64 * 2 + 3);
    let years = years(&draws);
    let ready = Abreast::new(&years);
    for which in 0..model.strategies.len() {
        for options in [RunOptions::default(), RunOptions { hands: false, ..RunOptions::default() }] {
            let fresh = || (ReferenceRecorder::default(), Summary::new(None, model.limits.cover_line));
            let mut abreast: Vec<_> = years.iter().map(|_| fresh()).collect();
            ready.run(&years, &model.strategies, which, options, &mut abreast).unwrap();
            for (draw, (reference, summary)) in draws.iter().zip(&abreast) {
                let mut alone = fresh();
                run(&draw.site, &draw.drivers, &model.strategies, which, options, &mut alone).unwrap();
                let place = format!("{demo}, {}, draw {}", model.strategies[which].name, draw.number);
                assert_eq!(bits(summary), bits(&alone.1), "{place}");
                assert_eq!(summary.plots, alone.1.plots, "{place}");
                assert_eq!(reference.reference, alone.0.reference, "{place}");
            }
        }
    }
}

#[test]
fn sallowmere_abreast_is_sallowmere_alone() {
    holds("sallowmere");
}

#[test]
fn emberstair_abreast_is_emberstair_alone() {
    holds("emberstair");
}

#[test]
fn puddlecote_abreast_is_puddlecote_alone() {
    holds("puddlecote");
}

#[test]
fn other_years_than_were_made_ready_are_refused() {
    let model = model("puddlecote");
    let draws = draws(&model, 3);
    let years = years(&draws);
    let mut recorders = vec![ReferenceRecorder::default(); 3];
    let ready = Abreast::new(&years[..2]);
    let refused = ready.run(&years, &model.strategies, 0, RunOptions::default(), &mut recorders);
    assert_eq!(refused, Err(RunError::OtherYears { ready: 2, given: 3, recorders: 3 }));
}

/// Years of which one alone is held against a run without birds, and two summaries of one year:
/// what cannot be gathered for all at once, each gathers for itself.
#[test]
fn summaries_that_differ_are_each_as_alone() {
    let model = model("puddlecote");
    let draws = draws(&model, 3);
    let years = years(&draws);
    let ready = Abreast::new(&years);
    let line = model.limits.cover_line;
    let mut reference = ReferenceRecorder::default();
    let no_birds = RunOptions { birds: false, ..RunOptions::default() };
    run(&draws[1].site, &draws[1].drivers, &model.strategies, 0, no_birds, &mut reference).unwrap();
    for twice in [false, true] {
        let fresh = |year: usize| {
            let against = (year == 1 && !twice).then_some(&reference.reference);
            (Summary::new(against, line), twice.then(|| Summary::new(None, 0.9)))
        };
        let mut abreast: Vec<_> = (0..3).map(fresh).collect();
        ready.run(&years, &model.strategies, 0, RunOptions::default(), &mut abreast).unwrap();
        for (year, (draw, together)) in draws.iter().zip(&abreast).enumerate() {
            let mut alone = fresh(year);
            run(&draw.site, &draw.drivers, &model.strategies, 0, RunOptions::default(), &mut alone).unwrap();
            assert_eq!((bits(&together.0), &together.0.plots), (bits(&alone.0), &alone.0.plots));
            assert_eq!(together.1.as_ref().map(bits), alone.1.as_ref().map(bits));
        }
    }
}

/// All runs of a draw, looked at closely and not.
#[test]
fn outcomes_abreast_are_outcomes_alone() {
    let model = model("sallowmere");
    let draws = draws(&model, lanes() as u64 * 2 + 2);
    let closely = lanes() + 1;
    let which = [0, 5, 9];
    let mut abreast = run_abreast(&draws[..lanes() * 2], &model, &which, closely).unwrap();
    // A small flight, looked at closely, and not.
    abreast.extend(run_abreast(&draws[lanes() * 2..], &model, &which, 0).unwrap());
    let few = run_abreast(&draws[..2], &model, &which, 2).unwrap();
    assert_eq!(few.len(), 2);
    abreast.splice(..2, few);
    for (i, (draw, together)) in draws.iter().zip(&abreast).enumerate() {
        let mut built: Vec<_> = which.iter().map(|&s| build(&draw.site, &model.strategies, s)).collect();
        let mut given: Vec<&mut dyn Strategy> = built.iter_mut().map(|strategy| strategy.as_mut() as _).collect();
        let alone = run_given(draw, &model, &mut given, i < closely).unwrap();
        let outcomes = |of: &DrawOutcome| {
            let all = [&of.no_birds, &of.nothing].into_iter().chain(&of.strategies);
            all.map(|o| format!("{:?}", (o.measures.clone(), &o.plots, &o.least_cover, &o.closely))).collect::<Vec<_>>()
        };
        assert!(outcomes(together) == outcomes(&alone), "draw {}", draw.number);
    }
}
