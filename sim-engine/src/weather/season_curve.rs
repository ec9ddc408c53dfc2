//! A smooth year out of twelve monthly means.
//!
//! Straight lines between values at the middle of the months, those values being
//! chosen so that the mean over the days of each month is again the monthly mean
//! (the adjustment of Killworth 1996, solved exactly). There is no step at a month's
//! border, and nothing is lost by smoothing. Months have their own lengths; in leap
//! years February is a day longer and its mean holds to within that day.

use jiff::civil::Date;

const MONTHS: usize = 12;
/// Days of the months in a common year.
const LENGTHS_D: [f64; MONTHS] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];

/// Where a day lies between the middles of two months.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Position {
    /// Month (0 to 11) whose middle lies before the day.
    before: usize,
    /// Month (0 to 11) whose middle lies after the day.
    after: usize,
    /// Way from the one to the other, 0 to 1.
    share: f64,
}

impl Position {
    /// Position of a day.
    #[must_use]
    pub fn of(date: Date) -> Self {
        Self::within(month_index(date), f64::from(date.day()) - 0.5, date.in_leap_year())
    }

    /// Position of a moment `gone_d` days into a month.
    fn within(month: usize, gone_d: f64, leap: bool) -> Self {
        let half = |m: usize| 0.5 * (LENGTHS_D[m] + if leap && m == 1 { 1.0 } else { 0.0 });
        let past_middle = gone_d - half(month);
        let (before, after) =
            if past_middle < 0.0 { ((month + 11) % MONTHS, month) } else { (month, (month + 1) % MONTHS) };
        let span = half(before) + half(after);
        let share = if past_middle < 0.0 { 1.0 + past_middle / span } else { past_middle / span };
        Self { before, after, share }
    }
}

/// Month of a date as an index, 0 to 11.
#[must_use]
pub fn month_index(date: Date) -> usize {
    usize::from(date.month().unsigned_abs()) - 1
}

/// A value that changes through the year without steps and keeps its monthly means.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeasonCurve {
    /// Values at the middle of the months.
    middles: [f64; MONTHS],
}

impl SeasonCurve {
    /// The curve with these monthly means, January first.
    #[must_use]
    pub fn through(means: [f64; MONTHS]) -> Self {
        Self { middles: solve(month_weights(), means) }
    }

    /// Value at a position in the year.
    #[must_use]
    pub fn at(&self, position: Position) -> f64 {
        let from = self.middles[position.before];
        from + position.share * (self.middles[position.after] - from)
    }

    /// Variance of the curve within each month (common year).
    #[must_use]
    pub fn variance_within_months(&self) -> [f64; MONTHS] {
        core::array::from_fn(|month| {
            let values: Vec<f64> = positions(month).map(|p| self.at(p)).collect();
            let n = values.len() as f64;
            let mean = values.iter().sum::<f64>() / n;
            values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / n
        })
    }
}

/// Positions of the days of a month in a common year.
fn positions(month: usize) -> impl Iterator<Item = Position> {
    let days = LENGTHS_D[month] as u32;
    (0..days).map(move |day| Position::within(month, f64::from(day) + 0.5, false))
}

/// Row m: how much each middle weighs in the mean of month m.
fn month_weights() -> [[f64; MONTHS]; MONTHS] {
    let mut weights = [[0.0; MONTHS]; MONTHS];
    for (month, row) in weights.iter_mut().enumerate() {
        for position in positions(month) {
            row[position.before] += (1.0 - position.share) / LENGTHS_D[month];
            row[position.after] += position.share / LENGTHS_D[month];
        }
    }
    weights
}

/// Gaussian elimination; the weights are dominated by their diagonal, so no rows need swapping.
fn solve(mut rows: [[f64; MONTHS]; MONTHS], mut right: [f64; MONTHS]) -> [f64; MONTHS] {
    for pivot in 0..MONTHS {
        for row in pivot + 1..MONTHS {
            let factor = rows[row][pivot] / rows[pivot][pivot];
            let upper = rows[pivot];
            for (entry, above) in rows[row].iter_mut().zip(upper).skip(pivot) {
                *entry -= factor * above;
            }
            right[row] -= factor * right[pivot];
        }
    }
    for row in (0..MONTHS).rev() {
        let known: f64 = (row + 1..MONTHS).map(|column| rows[row][column] * right[column]).sum();
        right[row] = (right[row] - known) / rows[row][row];
    }
    right
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::near;
    use jiff::civil::date;

    const MEANS: [f64; 12] = [3.2, 3.6, 5.9, 8.4, 12.0, 14.8, 17.1, 16.9, 14.0, 10.2, 6.1, 3.9];

    fn year(year: i16) -> Vec<Date> {
        date(year, 1, 1).series(jiff::Span::new().days(1)).take_while(|d| d.year() == year).collect()
    }

    #[test]
    fn monthly_means_are_kept() {
        let curve = SeasonCurve::through(MEANS);
        for (month, want) in MEANS.iter().enumerate() {
            let days: Vec<f64> = year(2021)
                .into_iter()
                .filter(|&d| month_index(d) == month)
                .map(|d| curve.at(Position::of(d)))
                .collect();
            near(days.iter().sum::<f64>() / days.len() as f64, *want, 1e-12);
        }
    }

    /// The largest step from day to day is that of the steepest slope, at any border and in leap years.
    #[test]
    fn no_steps_at_month_borders() {
        let curve = SeasonCurve::through(MEANS);
        let mut days = year(2023);
        days.extend(year(2024));
        for pair in days.windows(2) {
            let step = curve.at(Position::of(pair[1])) - curve.at(Position::of(pair[0]));
            assert!(step.abs() < 0.2, "{} {step}", pair[1]);
        }
    }

    #[test]
    fn a_constant_year_stays_constant() {
        let curve = SeasonCurve::through([7.0; 12]);
        for day in year(2024) {
            near(curve.at(Position::of(day)), 7.0, 1e-12);
        }
        assert!(curve.variance_within_months().iter().all(|v| *v < 1e-20));
    }

    /// Day `d` (from 1) is `d - 1/2` days into its month. From the middle of January to that of
    /// February it is half of 31 and half of 28 days (29 in a leap year).
    #[test]
    fn positions_count_days_from_middle_to_middle() {
        let is = |d: Date, before: usize, after: usize, share: f64| {
            let got = Position::of(d);
            assert_eq!((got.before, got.after), (before, after), "{d}");
            near(got.share, share, 1e-12);
        };
        is(date(2021, 1, 16), 0, 1, 0.0);
        is(date(2021, 1, 31), 0, 1, 15.0 / 29.5);
        is(date(2021, 2, 1), 0, 1, 16.0 / 29.5);
        is(date(2021, 2, 28), 1, 2, 13.5 / 29.5);
        is(date(2024, 1, 31), 0, 1, 15.0 / 30.0);
        is(date(2024, 2, 29), 1, 2, 14.0 / 30.0);
        is(date(2024, 3, 1), 1, 2, 15.0 / 30.0);
        is(date(2024, 4, 1), 2, 3, 16.0 / 30.5);
        is(date(2021, 1, 1), 11, 0, 16.0 / 31.0);
        is(date(2021, 12, 31), 11, 0, 15.0 / 31.0);
    }

    /// Variance of the days' values about their month's mean, taken from the days themselves.
    #[test]
    fn variance_is_that_of_the_days() {
        let curve = SeasonCurve::through(MEANS);
        for (month, got) in curve.variance_within_months().into_iter().enumerate() {
            let days = year(2021).into_iter().filter(|&d| month_index(d) == month);
            let values: Vec<f64> = days.map(|d| curve.at(Position::of(d))).collect();
            let n = values.len() as f64;
            let squares = values.iter().map(|v| v * v).sum::<f64>() / n;
            near(got, squares - MEANS[month] * MEANS[month], 1e-9);
        }
    }
}
