//! What opens no gate is worth nothing against birds shut in, in every measure.
#![allow(clippy::unwrap_used)]

use analysis::draw_sampler::DrawSampler;
use analysis::experiment::{DrawOutcome, gain, outcome_given, outcomes};
use scenarios::{Library, SiteModel, problems, site_file};
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::gates::{Observation, Proposal, Strategy};
use sim_engine::measures::{Better, Measure};
use std::path::Path;

/// A strategy from outside that proposes nothing.
struct OpensNothing;

impl Strategy for OpensNothing {
    fn propose(&mut self, _: &Observation, _: &mut Proposal) -> bool {
        true
    }
}

fn is_worth_nothing(place: &str, model: &SiteModel, outcome: &DrawOutcome) {
    let (strategy, shut_in) = (&outcome.strategies[0], &outcome.shut_in);
    for &measure in Measure::ALL {
        let (own, reference) = (strategy.measures.get(measure), shut_in.measures.get(measure));
        assert_eq!(own.to_bits(), reference.to_bits(), "{place}, {}: {own} against {reference}", measure.name());
    }
    assert_eq!(strategy.plots, shut_in.plots, "{place}");
    let every = Measure::ALL.iter().filter(|m| m.better() != Better::Neither).map(|&measure| (measure, 1.0));
    assert_eq!(gain(&every.collect::<Vec<_>>(), &strategy.measures, &shut_in.measures), 0.0, "{place}");
    assert_eq!(gain(&model.aims, &strategy.measures, &shut_in.measures), 0.0, "{place}");
    let against_itself = [Measure::CoverLoss, Measure::WorkSaved, Measure::PestSuppression];
    for measure in against_itself.map(|measure| shut_in.measures.get(measure)) {
        assert!(measure == 0.0 || measure.is_nan(), "{place}: {measure}");
    }
}

fn holds(place: &str, mut model: SiteModel) {
    let draw = |number| DrawSampler { seed: 3 }.draw(&model, number);
    let (first, second) = (draw(1), draw(2));
    is_worth_nothing(place, &model, &outcome_given(first, &model, &mut OpensNothing).unwrap());
    model.strategies =
        vec![StrategySpec { name: "all shut".into(), kind: StrategyKind::AllShut, hours: None, birds: None }];
    is_worth_nothing(place, &model, &outcomes(vec![second], &model, &[0], 0).unwrap()[0]);
}

#[test]
fn on_the_demos() {
    let library = Library::shipped().unwrap();
    for demo in ["sallowmere", "emberstair", "puddlecote"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../scenarios/demos/{demo}/site.toml"));
        holds(demo, site_file::read(&path, &library).unwrap());
    }
}

#[test]
fn on_the_open_problems() {
    let library = Library::shipped().unwrap();
    for problem in problems::problems() {
        let none = |_: &str| Err(String::new());
        holds(problem.name, site_file::read_text(problem.name, problem.site, &library, &none).unwrap());
    }
}
