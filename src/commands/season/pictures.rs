//! The season's charts: the strip of gates and cover, and cover by plot.

use analysis::charts::Chart;
use analysis::charts::fan::{FanData, FanPanel, fan};
use analysis::charts::season_strip::{Mark, SpanKind, StripData, StripRow, season_strip};
use analysis::luck::Draw;
use analysis::season::Season;
use scenarios::SiteModel;
use sim_engine::agenda::Happening;

/// File names and charts.
pub(super) fn all(model: &SiteModel, draw: &Draw, which: usize, season: &Season) -> Vec<(&'static str, Chart)> {
    vec![("season.svg", strip(model, draw, which, season)), ("cover.svg", cover(model, which, season))]
}

fn strip(model: &SiteModel, draw: &Draw, which: usize, season: &Season) -> Chart {
    let rows = (0..draw.site.plots.len()).map(|plot| row(draw, plot, season)).collect();
    let (name, least) = worst(model, season);
    let strategy = &model.strategies[which].name;
    let title = format!("{strategy}: {name} is the barest, down to {:.0} % cover", 100.0 * least);
    season_strip(&StripData { title, start: draw.site.start, rows })
}

/// The plot whose cover falls lowest, and how low.
fn worst<'m>(model: &'m SiteModel, season: &Season) -> (&'m str, f64) {
    let plots =
        model.base.plots.iter().zip(&season.plots).map(|(plot, figures)| (plot.name.as_str(), figures.least_cover));
    plots.reduce(|worst, next| if next.1 < worst.1 { next } else { worst }).unwrap_or(("", f64::NAN))
}

fn row(draw: &Draw, plot: usize, season: &Season) -> StripRow {
    let state = |day: usize| season.diary.state(day, plot);
    let open = (0..draw.site.days).map(|day| state(day).is_some_and(|state| state.open)).collect();
    let marks = season.diary.events.iter().filter_map(|&(day, what)| Some((day, mark(what, plot)?))).collect();
    StripRow {
        name: draw.site.plots[plot].name.clone(),
        cover: season.cover[plot].clone(),
        open,
        marks,
        spans: spans(draw, plot, season),
    }
}

fn mark(what: Happening, of: usize) -> Option<Mark> {
    match what {
        Happening::CropIn { plot, .. } if plot == of => Some(Mark::CropIn),
        Happening::HarvestBegins { plot } if plot == of => Some(Mark::Harvest),
        Happening::CropOut { plot, .. } if plot == of => Some(Mark::CropOut),
        Happening::HeapSpread { plot, .. } if plot == of => Some(Mark::Note),
        _ => None,
    }
}

/// Stretches in which a rule keeps the plot shut.
fn spans(draw: &Draw, plot: usize, season: &Season) -> Vec<(usize, usize, SpanKind)> {
    use sim_engine::gates::reason::Veto;
    let kind = |day: usize| match season.diary.state(day, plot)?.rule? {
        Veto::Housing => Some(SpanKind::Housing),
        Veto::WaitingPeriod { .. } => Some(SpanKind::Waiting),
        Veto::Isolation => Some(SpanKind::Isolation),
        Veto::CropStanding | Veto::Mud | Veto::Frozen | Veto::Snow => None,
    };
    let kinds: Vec<Option<SpanKind>> = (0..draw.site.days).map(kind).collect();
    let mut first = 0;
    let mut spans = Vec::new();
    for run in kinds.chunk_by(|a, b| a == b) {
        if let Some(kind) = run[0] {
            spans.push((first, first + run.len(), kind));
        }
        first += run.len();
    }
    spans
}

/// Cover of each plot with the no-birds run beside it.
fn cover(model: &SiteModel, which: usize, season: &Season) -> Chart {
    let percent = |days: &[f64]| days.iter().map(|cover| 100.0 * cover).collect::<Vec<f64>>();
    let panel = |plot: usize| FanPanel {
        name: model.base.plots[plot].name.clone(),
        median: percent(&season.cover[plot]),
        reference: percent(&season.cover_without[plot]),
        ..FanPanel::default()
    };
    let loss = season.measures.get(sim_engine::measures::Measure::CoverLoss);
    fan(&FanData {
        title: format!("{} costs {loss:.1} points of ground cover against no birds", model.strategies[which].name),
        quantity: "ground cover, %".to_owned(),
        start: model.base.start,
        panels: (0..model.base.plots.len()).map(panel).collect(),
        limit: Some((100.0 * model.limits.cover_line, format!("limit {:.0} %", 100.0 * model.limits.cover_line))),
        reference: "no birds".to_owned(),
    })
}
