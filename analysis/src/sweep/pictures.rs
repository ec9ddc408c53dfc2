//! The charts of a sweep.

use super::design::Design;
use super::row::SweepRow;
use super::rows::SweepView;
use crate::charts::Chart;
use crate::charts::sweep_front::{FrontData, FrontPoint, sweep_front};
use crate::charts::sweep_map::{MapCell, MapData, sweep_map};
use crate::charts::sweep_points::{PointsData, SampledPoint, sweep_points};
use crate::table::{setting, settings};
use crate::wording::{number, possible_years};
use scenarios::vary::FLOCK;
use sim_engine::measures::Measure;

/// What shades a map.
fn shade(view: &SweepView) -> String {
    let unit = if view.plan.aim_unit == "h" { "hours" } else { &view.plan.aim_unit };
    format!("What it is worth, {unit} a year over birds shut in")
}

/// Every chart of a sweep by the name of its file without ending: the trade-off where there are pests or weeds, and a map a
/// strategy, for a sample the points tried. The map called `sweep-map` (`sweep-points`) is that of the strategy that does best where all
/// limits hold.
#[must_use]
pub fn pictures(view: &SweepView) -> Vec<(String, Chart)> {
    // Where neither pests nor weeds are to be had the cover lost buys nothing that can be drawn.
    let buys = view.rows.iter().any(|row| !row.bought.is_nan() && row.bought != 0.0);
    let mut charts = Vec::new();
    if buys {
        charts.push(("trade-off".to_owned(), trade_off(view)));
    }
    let Some(plane) = Plane::of(view) else { return charts };
    let leader = leader(view);
    for strategy in 0..view.plan.strategies.len() {
        let name = view.plan.strategies[strategy].replace(' ', "-");
        let (kind, chart) = match view.plan.design {
            Design::Grid => ("sweep-map", map(view, &plane, strategy)),
            Design::Sobol { .. } | Design::Latin { .. } => ("sweep-points", points(view, &plane, strategy)),
        };
        let file = if strategy == leader { kind.to_owned() } else { format!("{kind}-{name}") };
        charts.push((file, chart));
    }
    charts
}

/// The strategy with the highest mean aim in a cell where it holds; the first where none does.
fn leader(view: &SweepView) -> usize {
    let aim = |strategy: &usize| view.best(*strategy).map_or(f64::NEG_INFINITY, |place| view.rows[place].aim.mean);
    let all = 0..view.plan.strategies.len();
    all.reduce(|best, next| if aim(&next) > aim(&best) { next } else { best }).unwrap_or(0)
}

/// The two axes a map has: the flock goes up where it is varied, and to the right what a strategy
/// sets (a stay) before what the site is.
struct Plane {
    across: usize,
    up: usize,
}

impl Plane {
    fn of(view: &SweepView) -> Option<Self> {
        let long = |&axis: &usize| {
            let (low, high) = view.plan.axes[axis].ends();
            high > low
        };
        let axes: Vec<usize> = (0..view.plan.axes.len()).filter(long).collect();
        let flock = axes.iter().copied().find(|&axis| view.plan.axes[axis].key == FLOCK);
        let up = flock.or(axes.get(1).copied())?;
        let others = || axes.iter().copied().filter(|&axis| axis != up);
        let across = others().find(|&axis| view.plan.axes[axis].light).or_else(|| others().next())?;
        Some(Self { across, up })
    }
}

fn sorted(view: &SweepView, axis: usize) -> Vec<f64> {
    let axis = &view.plan.axes[axis];
    let count = axis.count().unwrap_or(1);
    let mut values: Vec<f64> = (0..count).map(|k| axis.at((k as f64 + 0.5) / count as f64)).collect();
    values.sort_by(f64::total_cmp);
    values
}

fn words(view: &SweepView, axis: usize) -> String {
    let axis = &view.plan.axes[axis];
    match (axis.key.as_str(), axis.unit.as_str()) {
        (FLOCK, _) => "birds, the whole flock".to_owned(),
        (key, "") => key.to_owned(),
        (key, unit) => format!("{key}, {unit}"),
    }
}

fn map(view: &SweepView, plane: &Plane, strategy: usize) -> Chart {
    let own: Vec<&SweepRow> = view.rows.iter().filter(|row| row.strategy == strategy).collect();
    // Other axes are held where the strategy does best, else where the sweep begins.
    let held = view.best(strategy).map_or(&view.rows[0].values, |place| &view.rows[place].values);
    let shown =
        |row: &&&SweepRow| (0..held.len()).all(|a| a == plane.across || a == plane.up || row.values[a] == held[a]);
    let rows: Vec<&SweepRow> = own.iter().filter(shown).copied().collect();
    let (across, up) = (sorted(view, plane.across), sorted(view, plane.up));
    let find = |x: f64, y: f64| rows.iter().find(|row| row.values[plane.across] == x && row.values[plane.up] == y);
    let grid: Vec<Option<&&SweepRow>> =
        up.iter().flat_map(|&y| across.iter().map(move |&x| (x, y))).map(|(x, y)| find(x, y)).collect();
    let limits = view.plan.limits.len();
    let cell = |row: &Option<&&SweepRow>| {
        row.map_or_else(
            || MapCell { value: f64::NAN, holds: false, held: vec![f64::NAN; limits] },
            |row| MapCell { value: row.aim.mean, holds: row.holds, held: row.held.clone() },
        )
    };
    let best = view.best(strategy).map(|place| view.rows[place].cell);
    sweep_map(&MapData {
        title: title(view, plane, strategy, &rows),
        note: note(view, plane, strategy, held),
        across: (words(view, plane.across), across.clone()),
        up: (words(view, plane.up), up.clone()),
        shade: shade(view),
        cells: grid.iter().map(cell).collect(),
        limits: view.plan.limits.iter().map(|limit| limit.words.clone()).collect(),
        required_reliability: view.plan.required_reliability,
        best: best.and_then(|best| grid.iter().position(|row| row.is_some_and(|row| row.cell == best))),
    })
}

/// The cells of a sample where they lie: what is between them was not tried and is not drawn.
fn points(view: &SweepView, plane: &Plane, strategy: usize) -> Chart {
    let own: Vec<(usize, &SweepRow)> =
        view.rows.iter().enumerate().filter(|(_, row)| row.strategy == strategy).collect();
    let point = |(_, row): &(usize, &SweepRow)| SampledPoint {
        at: (row.values[plane.across], row.values[plane.up]),
        value: row.aim.mean,
        holds: row.holds,
    };
    let name = &view.plan.strategies[strategy];
    let best = view.best(strategy);
    let title = best.map_or_else(
        || format!("{name}: some limit fails at every point tried"),
        |best| format!("Of {} points tried, {name} does best with {}", own.len(), settings(view, &view.rows[best])),
    );
    let others = (0..view.plan.axes.len()).filter(|&axis| axis != plane.across && axis != plane.up);
    let others: Vec<&str> = others.map(|axis| view.plan.axes[axis].key.as_str()).collect();
    let also = if others.is_empty() { String::new() } else { format!("; {} not shown, varied too", others.join(", ")) };
    sweep_points(&PointsData {
        title,
        note: format!("{}{also}", over(view, strategy, "point")),
        across: words(view, plane.across),
        up: words(view, plane.up),
        shade: shade(view),
        points: own.iter().map(point).collect(),
        best: best.and_then(|best| own.iter().position(|&(place, _)| place == best)),
    })
}

/// What the map shows at a glance: how many birds, at which stay, and what fails first.
fn title(view: &SweepView, plane: &Plane, strategy: usize, rows: &[&SweepRow]) -> String {
    let name = &view.plan.strategies[strategy];
    let Some(best) = view.best(strategy).map(|place| &view.rows[place]) else {
        return format!("{name}: some limit fails everywhere on this map");
    };
    if view.plan.axes[plane.up].key != FLOCK {
        return format!("{name} does best with {}", settings(view, best));
    }
    let most = rows.iter().filter(|row| row.holds).map(|row| row.values[plane.up]).fold(0.0, f64::max);
    let at: Vec<&&SweepRow> = rows.iter().filter(|row| row.holds && row.values[plane.up] == most).collect();
    let unit = &view.plan.axes[plane.across];
    let values = at.iter().map(|row| row.values[plane.across]);
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    let tried = sorted(view, plane.across);
    let between = tried.iter().filter(|value| (low..=high).contains(value)).count();
    let with = match (at.len() == tried.len(), low == high) {
        (true, _) => String::new(),
        (false, true) => format!(" with {} {low} {}", unit.key, unit.unit),
        (false, false) => format!(" with {} {low} to {high} {}", unit.key, unit.unit),
    };
    let gaps = if at.len() < between { ", though not with each" } else { "" };
    // The largest flock tried is no answer to how many are borne.
    let all = sorted(view, plane.up).last().is_some_and(|&largest| most >= largest);
    let up_to = if all { "all flocks tried, up to" } else { "up to" };
    let mut title = format!("{name} carries {up_to} {} birds{with}{gaps}", number(most, 0));
    if let Some(limit) = gives_way(view, plane, rows, most) {
        title += &format!("; {} fails first", view.plan.limits[limit].name.replace('_', " "));
    }
    title.replace("  ", " ").replace(" ;", ";").replace(" ,", ",")
}

/// The limit that fails most often one step above the largest flock that holds.
fn gives_way(view: &SweepView, plane: &Plane, rows: &[&SweepRow], most: f64) -> Option<usize> {
    let above = sorted(view, plane.up).into_iter().find(|&flock| flock > most)?;
    let next: Vec<&&SweepRow> = rows.iter().filter(|row| row.values[plane.up] == above).collect();
    let mean = |limit: usize| next.iter().map(|row| row.held[limit]).sum::<f64>() / next.len() as f64;
    (0..view.plan.limits.len()).reduce(|worst, limit| if mean(limit) < mean(worst) { limit } else { worst })
}

fn note(view: &SweepView, plane: &Plane, strategy: usize, held: &[f64]) -> String {
    let others = view.plan.axes.iter().zip(held).enumerate().filter(|(a, _)| *a != plane.across && *a != plane.up);
    let others: Vec<String> = others.map(|(_, (axis, value))| setting(axis, *value)).collect();
    let others = if others.is_empty() { String::new() } else { format!("; {}", others.join(", ")) };
    format!("{}{others}", over(view, strategy, "cell"))
}

/// Whose chart it is, and over how many possible years on which weather.
fn over(view: &SweepView, strategy: usize, each: &str) -> String {
    let years = possible_years(view.plan.draws as usize);
    let weather = view.plan.weather.as_ref().map(|given| format!(", weather of {}", given.file)).unwrap_or_default();
    format!("{}, each {each} over {years}{weather}", view.plan.strategies[strategy])
}

fn trade_off(view: &SweepView) -> Chart {
    let point = |row: &SweepRow| FrontPoint {
        strategy: row.strategy,
        settings: settings(view, row),
        cover_loss: row.cover_loss.mean,
        bought: row.bought,
        holds: row.holds,
    };
    let (front, all) = (view.front.len(), view.rows.len());
    let pests = view.bought == Measure::PestSuppression;
    let (goal, up, unit) = if pests {
        ("fewer pests", "Pests kept down, % fewer emerging adults", "%")
    } else {
        ("less work", "Work saved, h/yr", "h/yr")
    };
    sweep_front(&FrontData {
        title: format!("For {front} of {all} strategies, nothing else gives both more cover and {goal}"),
        note: format!("The front holds {} points × {unit} against the worst of each", number(view.hypervolume, 0)),
        up: up.to_owned(),
        strategies: view.plan.strategies.clone(),
        points: view.rows.iter().map(point).collect(),
        front: view.front.clone(),
    })
}
