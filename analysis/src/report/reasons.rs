//! Why a figure goes the wrong way: the largest part of it, read off the same runs.

use super::runs::{Run, StrategyRuns};
use crate::run_detail::PlotFigures;
use crate::wording::{WORK_KINDS, figure, list, measured, unit};
use sim_engine::measures::Measure;
use sim_engine::plot::harvest::Harvest;

/// The reason a measure is worse than with the birds shut in by `change`; nothing where it is better or no part explains it.
pub(super) fn because(runs: &StrategyRuns<'_>, measure: Measure, change: f64) -> Option<String> {
    match measure {
        Measure::WorkSaved if change < 0.0 => more_work(runs),
        Measure::HarvestKept if change < 0.0 => less_harvest(runs, -change),
        Measure::PestSuppression if change < 0.0 => more_pests(runs),
        _ => None,
    }
}

/// "moving the birds takes 3.5 h".
fn more_work(runs: &StrategyRuns<'_>) -> Option<String> {
    let more = |measure| Some(runs.mean(Run::Strategy, measure)? - runs.mean(Run::ShutIn, measure)?);
    let kinds = WORK_KINDS.iter().filter_map(|&(measure, words)| Some((more(measure)?, words)));
    let (hours, words) = kinds.max_by(|a, b| a.0.total_cmp(&b.0)).filter(|(hours, _)| *hours >= 0.05)?;
    Some(format!("{words} takes {} h more", figure(hours, 1)))
}

/// What takes most of what is missing: pests, weeds, birds that pick, or birds that eat the standing crop.
fn less_harvest(runs: &StrategyRuns<'_>, missing: f64) -> Option<String> {
    let sum = |run| {
        let mut all = Harvest::default();
        runs.harvests(run).iter().for_each(|of| all.add(&of.harvest));
        all
    };
    let (with, shut_in) = (sum(Run::Strategy), sum(Run::ShutIn));
    let told = [
        (with.taken_by_birds_kg - shut_in.taken_by_birds_kg, "birds pick"),
        (with.lost_to_pests_kg - shut_in.lost_to_pests_kg, "pests take"),
        (with.lost_to_weeds_kg - shut_in.lost_to_weeds_kg, "weeds cost"),
    ];
    let grown = missing - told.iter().map(|(kg, _)| kg).sum::<f64>();
    let said = |kg: f64| format!("{} {}", measured(kg, Measure::HarvestKept, runs.units), unit("kg", runs.units));
    let (kg, words) = told.into_iter().max_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(if grown > kg {
        format!("{} less grows, on ground that birds graze, scratch and manure", said(grown))
    } else {
        format!("{words} {} more", said(kg))
    })
}

/// The plot whose soil lets out most more, and what lives there.
fn more_pests(runs: &StrategyRuns<'_>) -> Option<String> {
    let mean = |run: Run, plot: usize| {
        let seen = runs.details(run);
        let risen = |detail: &PlotFigures| if detail.pests.emerged_m2.is_nan() { 0.0 } else { detail.pests.emerged_m2 };
        seen.iter().map(|run| risen(&run.plots[plot])).sum::<f64>() / seen.len().max(1) as f64
    };
    let more = |plot: usize| mean(Run::Strategy, plot) - mean(Run::ShutIn, plot);
    let site = &runs.model.base;
    let plots = (0..site.plots.len()).map(|plot| (more(plot) * site.plots[plot].area_m2, plot));
    let (_, plot) = plots.max_by(|a, b| a.0.total_cmp(&b.0)).filter(|(adults, _)| *adults > 0.0)?;
    let pests: Vec<&str> = site.plots[plot].pests.iter().map(|here| site.pests[here.pest].name.as_str()).collect();
    Some(format!(
        "more leave the soil of {} ({}): {} per {} and year instead of {}",
        site.plots[plot].name,
        list(&pests),
        figure(runs.units.value(mean(Run::Strategy, plot), "per m2"), 1),
        unit("m2", runs.units),
        figure(runs.units.value(mean(Run::ShutIn, plot), "per m2"), 1),
    ))
}
