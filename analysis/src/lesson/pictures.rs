//! The pictures of a lesson: when each strategy opens which gate, and the cover of one plot.

use super::finished::Lesson;
use super::markup::typeset;
use crate::charts::Chart;
use crate::charts::gate_calendar::{CalendarData, CalendarRow, gate_calendar};
use crate::charts::two_lines::{TwoLines, two_lines};
use sim_engine::gates::reason::Veto;

/// Lowest value of the axis before it is widened, %.
const AXIS_FROM: f64 = 40.0;

impl Lesson {
    /// Plots that either strategy opens.
    #[must_use]
    pub fn plots_used(&self) -> Vec<usize> {
        let used = |plot: &usize| {
            self.shown.strategies.iter().any(|strategy| strategy.open_days(*plot, 0..strategy.days()) > 0)
        };
        (0..self.model.base.plots.len()).filter(used).collect()
    }

    /// The plot whose cover the group draws: where the two strategies' covers lie furthest apart,
    /// day by day, in the mean; of equals the first.
    #[must_use]
    pub fn drawn_plot(&self) -> usize {
        let cover = |strategy: usize, plot: usize| &self.shown.strategies[strategy].ground.cover.by_plot[plot];
        let apart =
            |plot: usize| -> f64 { cover(0, plot).iter().zip(cover(1, plot)).map(|(a, b)| (a - b).abs()).sum() };
        let plots = &self.model.base.plots;
        let swards = (0..plots.len()).filter(|&plot| plots[plot].has_sward());
        swards.rev().max_by(|&a, &b| apart(a).total_cmp(&apart(b))).unwrap_or(0)
    }

    fn plan_names(&self) -> [String; 2] {
        [0, 1].map(|strategy| self.name(strategy).to_owned())
    }
}

/// When each strategy opens which gate; nothing of what comes of it.
#[must_use]
pub fn calendar(lesson: &Lesson) -> Chart {
    gate_calendar(&calendar_data(lesson))
}

pub(super) fn calendar_data(lesson: &Lesson) -> CalendarData {
    let row = |plot: usize| CalendarRow {
        name: row_name(lesson, plot),
        open: [0, 1].map(|strategy| {
            let played = &lesson.shown.strategies[strategy];
            (0..played.days()).map(|day| played.is_open(day, plot)).collect()
        }),
        shut: (0..lesson.shown.shut_in.days()).map(|day| known_shut(lesson, day, plot)).collect(),
    };
    CalendarData {
        title: "When each gate is open".to_owned(),
        start: lesson.model.base.start,
        strategies: lesson.plan_names(),
        rows: lesson.plots_used().into_iter().map(row).collect(),
    }
}

/// "currant-walk, 52 m²": the size of a plot decides how many hens tread each spot.
fn row_name(lesson: &Lesson, plot: usize) -> String {
    let plot = &lesson.model.base.plots[plot];
    typeset(&format!("{}, {}", plot.name, lesson.units.area(plot.area_m2)))
}

/// A rule that stands in the calendar, not in the weather or the ground, keeps the gate shut.
fn known_shut(lesson: &Lesson, day: usize, plot: usize) -> bool {
    let rule = lesson.shown.strategies[0].diary.state(day, plot).and_then(|state| state.rule);
    matches!(
        rule,
        Some(Veto::Housing | Veto::KeepOut { .. } | Veto::CropStanding | Veto::WaitingPeriod { .. } | Veto::Isolation)
    )
}

/// The cover of the drawn plot: empty axes for the group, `height` px high, or with the lines.
#[must_use]
pub fn cover(lesson: &Lesson, height: f64, filled: bool) -> Chart {
    two_lines(&cover_data(lesson, height, filled))
}

pub(super) fn cover_data(lesson: &Lesson, height: f64, filled: bool) -> TwoLines {
    let plot = lesson.drawn_plot();
    let of = |days: &[f64]| days.iter().map(|cover| 100.0 * cover).collect::<Vec<f64>>();
    let [a, b] = [0, 1].map(|strategy| of(&lesson.shown.strategies[strategy].ground.cover.by_plot[plot]));
    let lines = [a, b, of(&lesson.shown.shut_in.cover.by_plot[plot])];
    let line = 100.0 * lesson.model.limits.cover_line;
    // Both charts have the same axis. It starts at 40 % or, where the ground gets barer, at
    // nought, so that it hints at no more than that.
    let least = lines.iter().flatten().copied().fold(line, f64::min);
    TwoLines {
        title: format!("Ground cover of {}", lesson.model.base.plots[plot].name),
        start: lesson.model.base.start,
        days: lesson.shown.shut_in.days(),
        height,
        from: if least < AXIS_FROM { 0.0 } else { AXIS_FROM },
        begin: 100.0 * lesson.model.base.plots[plot].cover_start,
        limit: (line, format!("wanted: {line:.0} %")),
        strategies: lesson.plan_names(),
        lines: filled.then_some(lines),
    }
}
