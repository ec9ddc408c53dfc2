//! Every demo teaches something: no strategy wins on everything, some keep every limit and
//! some do not.
#![allow(clippy::unwrap_used)]

mod common;

use analysis::compare::{ComparePlan, Comparison, compare};
use analysis::experiment::{ArmId, Job};
use common::folder;
use scenarios::{Library, SiteModel};
use sim_engine::measures::Measure;

const DRAWS: usize = 16;

/// What a strategy is compared by besides its aim; more is better after the sign.
const WON: [(Measure, f64); 4] =
    [(Measure::CoverLoss, -1.0), (Measure::PestSuppression, 1.0), (Measure::WorkSaved, 1.0), (Measure::FeedSaved, 1.0)];

fn demos() -> Vec<(String, SiteModel)> {
    let library = Library::shipped().unwrap();
    let read = |entry: std::io::Result<std::fs::DirEntry>| {
        let path = entry.unwrap().path();
        let model = scenarios::site_file::read(&path.join("site.toml"), &library);
        (path.display().to_string(), model.unwrap_or_else(|faults| panic!("{faults}")))
    };
    std::fs::read_dir(folder("scenarios/demos")).unwrap().map(read).collect()
}

fn compared(model: &SiteModel) -> Comparison {
    let which = (0..model.strategies.len()).collect();
    let plan = ComparePlan {
        seed: 1,
        draws: DRAWS,
        which,
        against: model.compare.against,
        required_reliability: model.compare.required_reliability,
        indifference_share: model.compare.indifference_share,
    };
    compare(model, &plan, None, &Job::unheard()).unwrap()
}

/// Mean over the possible years, by strategy.
fn means(c: &Comparison, measure: Measure) -> Vec<f64> {
    let mean = |s: usize| c.values(ArmId::Strategy(s), measure).unwrap().iter().sum::<f64>() / DRAWS as f64;
    (0..c.names.len()).map(mean).collect()
}

/// Whether each is at least as good as every other.
fn best(values: &[f64]) -> Vec<bool> {
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    values.iter().map(|value| *value >= most).collect()
}

#[test]
fn no_strategy_is_best_on_aim_cover_pests_weeding_and_feed() {
    for (name, model) in demos() {
        let c = compared(&model);
        let aim: Vec<f64> = c.aims.iter().map(|points| points.iter().sum::<f64>() / DRAWS as f64).collect();
        let mut wins = vec![best(&aim)];
        for (measure, sign) in WON {
            wins.push(best(&means(&c, measure).iter().map(|value| sign * value).collect::<Vec<_>>()));
        }
        for (s, strategy) in c.names.iter().enumerate() {
            assert!(wins.iter().any(|won| !won[s]), "{name}: {strategy} is best on everything");
        }
        let hold = c.verdict.standings.iter().filter(|standing| standing.holds).count();
        assert!(hold >= 2, "{name}: {hold} strategies keep every limit");
        assert!(hold < c.names.len(), "{name}: every strategy keeps every limit");
    }
}
