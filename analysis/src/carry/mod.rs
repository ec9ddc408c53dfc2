//! Carrying capacity: how many birds a site bears under each strategy, and what fails first.
//!
//! A flock is borne if all limits hold together in the wanted share of possible years. Flock
//! sizes are tried on the same draws: the size doubles until it is too large, then the gap is
//! halved. The chance is made never to rise with the flock ([`crate::stats::isotonic`]): where
//! one draw holds with 13 birds and not with 12, that is chance. Draws in blocks make counted
//! chances no less sure than the Wilson interval says ([`crate::stats::wilson`]). The interval reaches from the
//! largest flock whose Wilson interval lies above the wanted share to the largest whose
//! interval still touches it.

pub mod curve;
pub mod ground;
pub mod pictures;
pub mod view;

use crate::stats::Estimate;
use crate::stats::LEVEL;
use crate::stats::wilson::{Chance, wilson};
use crate::sweep::SweepError;
use crate::sweep::tally::Tally;
use curve::{Bars, Curve, Gap};
use sim_engine::measures::Measure;

/// Points of the curve from no bird to well beyond the answer.
const CURVE_POINTS: u64 = 12;
/// The curve ends at so many times the answer.
const CURVE_REACH: u64 = 2;
/// Shortest curve, birds.
const SHORTEST_CURVE: u64 = 12;
/// Every flock this near the answer is tried: a fitted curve hangs on its neighbours.
const NEIGHBOURS: u64 = 4;
/// Flock tried first where the site has no birds of its own.
const FIRST_FLOCK: u64 = 16;

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct CarryPlan {
    /// Number of strategies.
    pub strategies: usize,
    /// Number of limits.
    pub limits: usize,
    /// Possible years each flock is tried on.
    pub draws: u64,
    /// Share of them in which all limits must hold.
    pub required_reliability: f64,
    /// The flock of the site.
    pub present: u64,
    /// Largest flock that may be tried.
    pub most: u64,
}

/// A strategy (position) with a flock to be tried.
pub type Ask = (usize, u64);
/// Tries flocks: a tally for each ask, in their order.
pub type Try<'t> = dyn FnMut(&[Ask]) -> Result<Vec<Tally>, SweepError> + 't;

/// How many birds one strategy bears.
#[derive(Clone, Debug, PartialEq)]
pub struct Carried {
    /// Largest flock borne; 0 if not even one bird is.
    pub birds: u64,
    /// Largest flock borne for certain: the lower end of the interval.
    pub low: u64,
    /// Largest flock that may still be borne: the upper end.
    pub high: u64,
    /// It bears even the largest flock tried.
    pub beyond: bool,
    /// Limits in the order in which they give way, with the largest flock each bears by
    /// itself; those that never give way are left out.
    pub order: Vec<(usize, u64)>,
    /// Flock about which mean ground cover falls fastest.
    pub steepest: Option<f64>,
    /// The ground with that flock, and without birds.
    pub ground: [GroundFigures; 2],
    /// The curves.
    pub curve: Vec<CurvePoint>,
}

/// What the ground looks like: means over the possible years; `NaN` where there is no sward.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GroundFigures {
    /// Mean cover, 0 to 1.
    pub mean_cover: f64,
    /// Cover where and when it is barest, 0 to 1.
    pub least_cover: f64,
    /// Longest run of days under half cover because of the birds.
    pub bare_days: f64,
}

/// One flock tried.
#[derive(Clone, Debug, PartialEq)]
pub struct CurvePoint {
    /// Birds.
    pub birds: u64,
    /// Chance that all limits hold, never rising with the flock, with its Wilson interval.
    pub chance: Chance,
    /// The same for each limit alone.
    pub limits: Vec<f64>,
    /// Mean ground cover, 0 to 1.
    pub cover: Estimate,
}

/// Finds what each strategy bears.
///
/// # Errors
/// What `attempt` says.
pub fn carry(plan: &CarryPlan, attempt: &mut Try<'_>) -> Result<Vec<Carried>, SweepError> {
    let mut curves = vec![Curve::default(); plan.strategies];
    let start = if plan.present == 0 { FIRST_FLOCK } else { plan.present };
    let first = |strategy: usize| [(strategy, 0), (strategy, start.min(plan.most))];
    let asks: Vec<Ask> = (0..plan.strategies).flat_map(first).collect();
    fill(&mut curves, &asks, attempt)?;
    close(plan, &mut curves, attempt)?;
    let ends: Vec<u64> = curves.iter().map(|curve| end_of_curve(plan, curve)).collect();
    let mut grids: Vec<Vec<u64>> = ends.iter().map(|&end| even(0, end, CURVE_POINTS)).collect();
    let asks = missing(&curves, &grids);
    fill(&mut curves, &asks, attempt)?;
    // Once more between the neighbours of the steepest step.
    for (curve, grid) in curves.iter().zip(&mut grids) {
        if let Some((_, (from, to))) = curve.steepest(grid) {
            grid.extend(even(from, to, 4));
            grid.sort_unstable();
            grid.dedup();
        }
    }
    let asks = missing(&curves, &grids);
    fill(&mut curves, &asks, attempt)?;
    // More flocks tried may have moved the fitted curve a little.
    close(plan, &mut curves, attempt)?;
    Ok(curves.iter().zip(&grids).map(|(curve, grid)| carried(plan, curve, grid)).collect())
}

/// Tries flocks until every gap is one bird wide.
fn close(plan: &CarryPlan, curves: &mut [Curve], attempt: &mut Try<'_>) -> Result<(), SweepError> {
    loop {
        let of = |(s, curve): (usize, &Curve)| wanted(plan, curve).into_iter().map(move |flock| (s, flock));
        let asks: Vec<Ask> = curves.iter().enumerate().flat_map(of).collect();
        if asks.is_empty() {
            return Ok(());
        }
        fill(curves, &asks, attempt)?;
    }
}

fn fill(curves: &mut [Curve], asks: &[Ask], attempt: &mut Try<'_>) -> Result<(), SweepError> {
    if asks.is_empty() {
        return Ok(());
    }
    for (&(strategy, flock), tally) in asks.iter().zip(attempt(asks)?) {
        curves[strategy].put(flock, tally);
    }
    Ok(())
}

fn missing(curves: &[Curve], grids: &[Vec<u64>]) -> Vec<Ask> {
    let of = |(strategy, grid): (usize, &Vec<u64>)| {
        grid.iter().filter(|&&flock| !curves[strategy].has(flock)).map(|&flock| (strategy, flock)).collect::<Vec<_>>()
    };
    grids.iter().enumerate().flat_map(of).collect()
}

/// Whole numbers evenly from one to another.
fn even(from: u64, to: u64, steps: u64) -> Vec<u64> {
    let mut all: Vec<u64> = (0..=steps).map(|step| from + (to - from) * step / steps).collect();
    all.dedup();
    all
}

/// Flocks still to be tried: for the answer, the ends of its interval, and the two limits that
/// give way first.
fn wanted(plan: &CarryPlan, curve: &Curve) -> Vec<u64> {
    let bars = Bars::of(plan.required_reliability, plan.draws);
    let mut gaps: Vec<Gap> = [bars.middle, bars.surely, bars.perhaps].map(|bar| curve.gap(None, bar)).into();
    let mut limits: Vec<Gap> = (0..plan.limits).map(|limit| curve.gap(Some(limit), bars.middle)).collect();
    let ceiling = |gap: &Gap| gap.below.unwrap_or(u64::MAX);
    limits.sort_by_key(|gap| ceiling(gap));
    let second = limits.get(1).map_or(u64::MAX, ceiling);
    // One that may still give way before the second is looked at too.
    gaps.extend(
        limits
            .into_iter()
            .enumerate()
            .filter(|(place, gap)| *place < 2 || gap.above.unwrap_or(0) < second)
            .map(|(_, gap)| gap),
    );
    let mut flocks: Vec<u64> = gaps.into_iter().filter_map(|gap| gap.next(plan.most)).collect();
    if flocks.is_empty() {
        let answer = curve.gap(None, bars.middle).above.unwrap_or(0);
        flocks = (answer.saturating_sub(NEIGHBOURS)..=(answer + NEIGHBOURS).min(plan.most)).collect();
    }
    flocks.retain(|&flock| !curve.has(flock));
    flocks.sort_unstable();
    flocks.dedup();
    flocks
}

fn end_of_curve(plan: &CarryPlan, curve: &Curve) -> u64 {
    let high = curve.gap(None, Bars::of(plan.required_reliability, plan.draws).perhaps).above.unwrap_or(0);
    (CURVE_REACH * high.max(plan.present)).max(SHORTEST_CURVE).min(plan.most)
}

fn carried(plan: &CarryPlan, curve: &Curve, grid: &[u64]) -> Carried {
    let bars = Bars::of(plan.required_reliability, plan.draws);
    let gap = |bar| curve.gap(None, bar);
    let own = |limit: usize| {
        let gap = curve.gap(Some(limit), bars.middle);
        gap.below.map(|_| (limit, gap.above.unwrap_or(0)))
    };
    let mut order: Vec<(usize, u64)> = (0..plan.limits).filter_map(own).collect();
    order.sort_by_key(|&(_, flock)| flock);
    Carried {
        birds: gap(bars.middle).above.unwrap_or(0),
        low: gap(bars.surely).above.unwrap_or(0),
        high: gap(bars.perhaps).above.unwrap_or(0),
        beyond: gap(bars.middle).below.is_none(),
        order,
        steepest: curve.steepest(grid).map(|(flock, _)| flock),
        ground: [gap(bars.middle).above.unwrap_or(0), 0].map(|flock| ground_with(curve, flock)),
        curve: points(plan, curve),
    }
}

fn ground_with(curve: &Curve, flock: u64) -> GroundFigures {
    let tally = curve.points().find(|(birds, _)| *birds == flock).map(|(_, tally)| tally);
    let mean = |measure| tally.map_or(f64::NAN, |tally| tally.of(measure).interval(LEVEL).mean);
    GroundFigures {
        mean_cover: mean(Measure::MeanCover),
        least_cover: mean(Measure::LeastCover),
        bare_days: mean(Measure::BareDays),
    }
}

fn points(plan: &CarryPlan, curve: &Curve) -> Vec<CurvePoint> {
    let all = curve.fitted(None);
    let limits: Vec<Vec<(u64, f64)>> = (0..plan.limits).map(|limit| curve.fitted(Some(limit))).collect();
    let share = |held: f64| held / plan.draws as f64;
    let point = |(place, (birds, tally)): (usize, (u64, &Tally))| {
        let held = all[place].1;
        let ends = wilson(held.round() as usize, plan.draws as usize, LEVEL);
        CurvePoint {
            birds,
            chance: Chance { chance: share(held), ..ends },
            limits: limits.iter().map(|fitted| share(fitted[place].1)).collect(),
            cover: tally.of(Measure::MeanCover).interval(LEVEL),
        }
    };
    curve.points().enumerate().map(point).collect()
}

#[cfg(test)]
mod tests;
