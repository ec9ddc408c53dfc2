//! Days of the year that a keeper sees come in a plot: when one came last. Nothing of the future is asked.

use super::rule::YearMark;
use crate::dates::{in_year, last_solstice};
use crate::site::{Plot, Site, When};
use jiff::ToSpan;
use jiff::civil::Date;

/// A mark of one plot, as the days on which it comes.
#[derive(Clone, Debug, PartialEq)]
pub enum Comes {
    /// Whole days after the winter solstice.
    AfterSolstice(i64),
    /// The earliest of these in a calendar year.
    Earliest(Vec<When>),
    /// The latest of these in a calendar year.
    Latest(Vec<When>),
    /// The plot has nothing of the kind.
    Never,
}

impl Comes {
    /// A mark in a plot.
    #[must_use]
    pub fn of(mark: YearMark, site: &Site, plot: &Plot) -> Self {
        let leafy = || plot.canopies.iter().filter_map(|here| site.canopies.get(here.canopy)).filter(|c| !c.evergreen);
        let after = |day: Option<f64>| day.map_or(Self::Never, |day| Self::AfterSolstice(day as i64));
        match mark {
            YearMark::Day(when) => Self::Earliest(vec![when]),
            YearMark::BudBreak => after(leafy().map(|canopy| canopy.params.leaf_out).reduce(f64::min)),
            YearMark::LeafFall => after(leafy().map(|canopy| canopy.params.leaf_fall).reduce(f64::max)),
            YearMark::FirstPicking => Self::Earliest(plot.harvests().map(|harvest| harvest.from).collect()),
            YearMark::LastPicking => Self::Latest(plot.harvests().map(|harvest| harvest.to).collect()),
        }
    }

    /// The last day, today counted, on which it came; `None` where it has not within two years.
    #[must_use]
    pub fn last(&self, today: Date, latitude_deg: f64) -> Option<Date> {
        let gone = |day: &Date| *day <= today;
        let of_year = |whens: &[When], year: i16| -> Vec<Date> {
            whens.iter().filter_map(|when| in_year(*when, year)).filter(|day| day.year() == year).collect()
        };
        let years = || [today.year(), today.year() - 1].into_iter();
        match self {
            Self::AfterSolstice(days) => {
                let solstice = last_solstice(today, latitude_deg);
                let before = last_solstice(solstice.saturating_sub(1.days()), latitude_deg);
                [solstice, before].into_iter().map(|from| from.saturating_add(days.days())).find(gone)
            }
            Self::Earliest(whens) => years().filter_map(|year| of_year(whens, year).into_iter().min()).find(gone),
            Self::Latest(whens) => years().filter_map(|year| of_year(whens, year).into_iter().max()).find(gone),
            Self::Never => None,
        }
    }
}

/// Whether a window is going on: the first mark came after the second did, or the second comes today.
#[must_use]
pub fn going_on(from: &Comes, to: &Comes, today: Date, latitude_deg: f64) -> bool {
    let (Some(began), ended) = (from.last(today, latitude_deg), to.last(today, latitude_deg)) else { return false };
    ended.is_none_or(|ended| began > ended || ended == today)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    const NORTH: f64 = 51.0;

    fn day(month: i8, day: i8) -> Comes {
        Comes::Earliest(vec![When::Yearly { month, day }])
    }

    fn days(from: &Comes, to: &Comes, year: i16, latitude: f64) -> usize {
        let all = (0..365).map(|n: i64| date(year, 1, 1).saturating_add(n.days()));
        all.filter(|today| going_on(from, to, *today, latitude)).count()
    }

    #[test]
    fn both_days_count_and_a_window_may_run_over_new_year() {
        assert_eq!(days(&day(3, 1), &day(3, 31), 2027, NORTH), 31);
        assert_eq!(days(&day(3, 1), &day(3, 1), 2027, NORTH), 1);
        // November to February: 30 + 31 + 31 + 28 days.
        assert_eq!(days(&day(11, 1), &day(2, 28), 2027, NORTH), 120);
        assert!(going_on(&day(11, 1), &day(2, 28), date(2028, 1, 1), NORTH));
        assert!(!going_on(&day(11, 1), &day(2, 28), date(2028, 2, 29), NORTH));
    }

    /// Leaves off from day 320 after the solstice to day 110: 365 − 320 + 110 + 1 days, in either half of the world.
    #[test]
    fn leaf_fall_to_bud_break_is_the_bare_time() {
        let (fall, bud) = (Comes::AfterSolstice(320), Comes::AfterSolstice(110));
        for latitude in [NORTH, -NORTH] {
            assert_eq!(days(&fall, &bud, 2027, latitude), 156, "{latitude}");
        }
        assert!(going_on(&fall, &bud, date(2027, 1, 15), NORTH) && !going_on(&fall, &bud, date(2027, 7, 15), NORTH));
    }

    #[test]
    fn pickings_are_the_first_and_last_of_a_year() {
        let both = || vec![When::Yearly { month: 9, day: 1 }, When::Yearly { month: 7, day: 1 }];
        let (first, last) = (Comes::Earliest(both()), Comes::Latest(both()));
        assert_eq!(first.last(date(2027, 8, 1), NORTH), Some(date(2027, 7, 1)));
        assert_eq!(last.last(date(2027, 8, 1), NORTH), Some(date(2026, 9, 1)));
        assert!(!going_on(&Comes::Never, &first, date(2027, 8, 1), NORTH));
    }
}
