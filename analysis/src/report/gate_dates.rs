//! What a gate did in a season: first and last day open, days and stays.

use crate::draw_sampler::Draw;
use crate::season::Season;
use crate::wording::plain_date;
use jiff::civil::Date;
use sim_engine::dates::date_of;

/// A gate that was open on some day of the season.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct GateDates {
    pub plot: usize,
    /// First and last day on which it was open.
    pub first: Date,
    pub last: Date,
    /// Days open, and runs of them.
    pub days: usize,
    pub stays: usize,
}

impl GateDates {
    /// Of the gate to a plot; `None` where it was never open.
    pub fn of(season: &Season, draw: &Draw, plot: usize) -> Option<Self> {
        let open = |day: usize| season.diary.state(day, plot).is_some_and(|state| state.open);
        let days: Vec<usize> = (0..draw.site.days).filter(|&day| open(day)).collect();
        let date = |day: usize| date_of(draw.site.start, day);
        Some(Self {
            plot,
            first: date(*days.first()?),
            last: date(*days.last()?),
            days: days.len(),
            stays: days.chunk_by(|a, b| a + 1 == *b).count(),
        })
    }

    /// Every gate that was ever open, in the order they first were.
    pub fn all(season: &Season, draw: &Draw) -> Vec<Self> {
        let mut gates: Vec<Self> = (0..draw.site.plots.len()).filter_map(|plot| Self::of(season, draw, plot)).collect();
        gates.sort_by_key(|gate| gate.first);
        gates
    }

    /// " Gate first open on 3 Apr 2027, last on 2 Oct 2027."
    pub fn in_words(&self) -> String {
        format!(" Gate first open on {}, last on {}.", plain_date(self.first), plain_date(self.last))
    }
}
