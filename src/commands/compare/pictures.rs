//! The comparison's charts: cover lost against pests kept down, and the aim by strategy.

use analysis::charts::Chart;
use analysis::charts::bars::{Bar, BarsData, bars};
use analysis::charts::trade_off::{PointKind, TradeOffData, TradePoint, finding, trade_off};
use analysis::compare::{Comparison, Run};
use analysis::report::words::held;
use analysis::stats::Estimate;
use sim_engine::measures::Measure;

/// File names and charts.
pub(super) fn all(comparison: &Comparison) -> [(&'static str, Chart); 2] {
    [("trade-off.svg", trade(comparison)), ("aim.svg", aim(comparison))]
}

fn trade(comparison: &Comparison) -> Chart {
    let strategies = (0..comparison.names.len()).map(|s| {
        let holds = comparison.verdict.standings[s].holds;
        point(comparison, Run::Strategy(s), &comparison.names[s], PointKind::Strategy, holds)
    });
    let no_birds = point(comparison, Run::NoBirds, "no birds", PointKind::NoBirds, true);
    let points: Vec<TradePoint> = std::iter::once(no_birds).chain(strategies).collect();
    trade_off(&TradeOffData { title: finding(&points), points })
}

fn point(comparison: &Comparison, run: Run, name: &str, kind: PointKind, holds: bool) -> TradePoint {
    let of = |measure| comparison.figure(run, measure).map_or(BLANK, |figure| figure.mean);
    TradePoint {
        name: name.to_owned(),
        cover_loss: of(Measure::CoverLoss),
        suppression: of(Measure::PestSuppression),
        kind,
        holds,
    }
}

const BLANK: Estimate = Estimate { mean: f64::NAN, low: f64::NAN, high: f64::NAN };

fn aim(comparison: &Comparison) -> Chart {
    let verdict = &comparison.verdict;
    let bar = |(s, name): (usize, &String)| {
        let standing = &verdict.standings[s];
        Bar {
            name: name.clone(),
            value: comparison.aim[s],
            holds: standing.holds,
            best: verdict.best.as_ref() == Some(name),
            note: standing
                .weakest()
                .map_or_else(String::new, |limit| format!("held in {}", held(limit.held, limit.draws))),
        }
    };
    bars(&BarsData {
        title: title(comparison),
        quantity: "aim, points gained over no birds".to_owned(),
        bars: comparison.names.iter().enumerate().map(bar).collect(),
    })
}

/// The verdict in one line.
fn title(comparison: &Comparison) -> String {
    let verdict = &comparison.verdict;
    match (&verdict.best, &verdict.leader, &verdict.runner_up) {
        (Some(best), _, _) => format!("{best} gains most of those that keep every limit"),
        (None, Some(leader), Some(next)) => format!("{leader} and {next} are too close to call"),
        (None, Some(leader), None) => format!("Only {leader} keeps every limit"),
        (None, None, _) => "No strategy keeps every limit often enough".to_owned(),
    }
}
