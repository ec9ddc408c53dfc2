//! The charts of reports and folders: what each shows, made from a comparison or season.

use crate::charts::Chart;
use crate::charts::bars::{Bar, BarsData, bars};
use crate::charts::fan::{FanData, FanPanel, fan};
use crate::charts::trade_off::{Gain, PointKind, TradeOffData, TradePoint, finding, trade_off};
use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::season::Season;
use crate::stats::Estimate;
use crate::wording::held;
use scenarios::SiteModel;
use sim_engine::gates::spec::StrategyKind;
use sim_engine::measures::Measure;
use sim_engine::site::Plot;

/// Of a measure that is blank in every draw.
const NO_ESTIMATE: Estimate = Estimate { mean: f64::NAN, low: f64::NAN, high: f64::NAN };

/// Cover lost against a gain, with the birds shut in and, where it says something, with nothing done at all. `None` if no
/// strategy has a figure for it: without pests none are kept down.
#[must_use]
pub fn trade(c: &Comparison, gain: Gain) -> Option<Chart> {
    let strategies = (0..c.names.len()).map(|s| {
        let holds = c.verdict.standings[s].holds;
        point(c, gain, ArmId::Strategy(s), &c.names[s], PointKind::Strategy, holds)
    });
    // With nothing done, hoed and mown ground is missed: the same origin, another cover. Of work it says nothing: who does
    // none saves all of it.
    let nothing = point(c, gain, ArmId::Nothing, "no birds, no care", PointKind::UsualCare, true);
    let shut_in = point(c, gain, ArmId::ShutIn, "birds shut in", PointKind::ShutIn, true);
    let apart = gain == Gain::Pests && (nothing.cover_loss.mean - shut_in.cover_loss.mean).abs() > APART;
    let points: Vec<TradePoint> = std::iter::once(shut_in).chain(apart.then_some(nothing)).chain(strategies).collect();
    let any = points.iter().any(|p| p.kind == PointKind::Strategy && p.gain.mean.is_finite());
    any.then(|| trade_off(&TradeOffData { title: finding(gain, &points), gain, points }))
}

/// Points of cover under which two baselines would lie on one another.
const APART: f64 = 0.3;

fn point(c: &Comparison, gain: Gain, run: ArmId, name: &str, kind: PointKind, holds: bool) -> TradePoint {
    let of = |measure| c.figure(run, measure).map_or(NO_ESTIMATE, |figure| figure.mean);
    TradePoint {
        name: name.to_owned(),
        cover_loss: of(Measure::CoverLoss),
        gain: of(match gain {
            Gain::Pests => Measure::PestSuppression,
            Gain::Hours => Measure::WorkSaved,
        }),
        kind,
        holds,
    }
}

/// The aim by strategy, highest first.
#[must_use]
pub fn aim(c: &Comparison) -> Chart {
    let verdict = &c.verdict;
    let mut order: Vec<usize> = (0..c.names.len()).collect();
    order.sort_by(|&a, &b| c.aim[b].mean.total_cmp(&c.aim[a].mean));
    let bar = |s: usize| {
        let standing = &verdict.standings[s];
        let weakest = standing.weakest();
        Bar {
            name: c.names[s].clone(),
            value: c.aim[s],
            holds: standing.holds,
            best: verdict.best.as_ref() == Some(&c.names[s]),
            note: weakest.map_or_else(String::new, |limit| format!("held in {}", held(limit.held, limit.draws))),
        }
    };
    bars(&BarsData {
        title: headline(c),
        quantity: format!("aim, {} gained over birds shut in", c.aim_unit.a_year()),
        bars: order.into_iter().map(bar).collect(),
    })
}

/// The verdict in one line.
#[must_use]
pub fn headline(c: &Comparison) -> String {
    let verdict = &c.verdict;
    let gains = c.aim[c.leading()].mean > 0.0;
    match (&verdict.best, &verdict.leader, &verdict.runner_up) {
        (_, Some(leader), _) if !gains && c.limits_shut_in.iter().any(|limit| !limit.enough) => {
            format!("{leader} is best within your limits, but costs more than it saves")
        }
        (_, Some(_), _) if !gains => "Nothing here is better than keeping the birds in the yard".to_owned(),
        (Some(best), _, Some(_)) if no_limits(c) => format!("Best strategy: {best}"),
        (Some(best), _, Some(_)) => format!("Best strategy within your limits: {best}"),
        (_, Some(leader), Some(next)) => format!("{leader} or {next}: too close to call"),
        (_, Some(leader), None) if c.names.len() == 1 => format!("{leader} keeps every limit"),
        (_, Some(leader), None) => format!("Only {leader} keeps every limit"),
        (_, None, _) => "No strategy keeps every limit often enough".to_owned(),
    }
}

fn no_limits(c: &Comparison) -> bool {
    c.verdict.standings.iter().all(|standing| standing.limits.is_empty())
}

/// Least cover of any plot, day by day: the leading strategy, the one the others are set against
/// and every gate open. `None` where no plot has a sward.
#[must_use]
pub fn least_cover(model: &SiteModel, c: &Comparison) -> Option<Chart> {
    model.base.plots.iter().any(Plot::has_sward).then_some(())?;
    let all_open = (0..c.names.len())
        .find(|&s| model.strategies.get(c.plan.which[s]).is_some_and(|spec| spec.kind == StrategyKind::AllOpen));
    let mut shown = vec![c.leading()];
    for s in [Some(c.plan.against), all_open].into_iter().flatten() {
        if !shown.contains(&s) {
            shown.push(s);
        }
    }
    let shut_in: Vec<f64> =
        c.least_cover(ArmId::ShutIn).iter().map(|day| day.map_or(f64::NAN, |of| of.median)).collect();
    let bound = model.limits.all.iter().find(|l| l.measure == Measure::LeastCover).map(|l| 100.0 * l.bound);
    let panels = shown.iter().map(|&s| FanPanel { limit: bound, ..panel(c, s, &shut_in) }).collect();
    Some(fan(&FanData {
        title: cover_title(c, c.leading()),
        quantity: "cover of the barest plot, %".to_owned(),
        start: model.base.start,
        every_days: 1,
        panels,
        limit: bound.map_or_else(String::new, |b| format!("limit {b:.0} %")),
        references: vec!["birds shut in, median".to_owned()],
    }))
}

fn cover_title(c: &Comparison, s: usize) -> String {
    let least = c.figure(ArmId::Strategy(s), Measure::LeastCover);
    least.map_or_else(
        || format!("{}: cover of the barest plot", c.names[s]),
        |f| {
            format!(
                "{}: the barest plot falls to {:.0} % cover in the middle case",
                c.names[s],
                100.0 * f.spread.median
            )
        },
    )
}

fn panel(c: &Comparison, s: usize, shut_in: &[f64]) -> FanPanel {
    let mut panel = FanPanel { name: c.names[s].clone(), references: vec![shut_in.to_vec()], ..FanPanel::default() };
    for day in c.least_cover(ArmId::Strategy(s)) {
        panel.push(day.as_ref());
    }
    panel
}

/// Cover of each plot with a sward over a season, with the run of birds shut in beside it. `None` where there is none.
#[must_use]
pub fn cover(model: &SiteModel, which: usize, season: &Season) -> Option<Chart> {
    let swards: Vec<usize> = (0..model.base.plots.len()).filter(|&plot| model.base.plots[plot].has_sward()).collect();
    (!swards.is_empty()).then_some(())?;
    let line = 100.0 * model.limits.cover_line;
    let percent = |days: &[f64]| days.iter().map(|cover| 100.0 * cover).collect::<Vec<f64>>();
    let panel = |plot: usize| FanPanel {
        name: model.base.plots[plot].name.clone(),
        median: percent(&season.cover[plot]),
        references: vec![percent(&season.cover_shut_in[plot])],
        limit: Some(line),
        ..FanPanel::default()
    };
    let loss = season.measures.get(Measure::CoverLoss);
    Some(fan(&FanData {
        title: format!("{} costs {loss:.1} points of ground cover against birds shut in", strategy_name(model, which)),
        quantity: "ground cover, %".to_owned(),
        start: model.base.start,
        every_days: 1,
        panels: swards.into_iter().map(panel).collect(),
        limit: format!("limit {line:.0} %"),
        references: vec!["birds shut in".to_owned()],
    }))
}

/// Name of a strategy of the model.
pub(super) fn strategy_name(model: &SiteModel, which: usize) -> &str {
    model.strategies.get(which).map_or("", |spec| spec.name.as_str())
}
