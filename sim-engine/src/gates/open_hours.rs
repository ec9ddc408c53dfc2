//! From when to when a gate stands open on a day.

use core::fmt;

/// Noon by the sun, hours of the clock.
const NOON_H: f64 = 12.0;
const MINUTES_PER_H: f64 = 60.0;

/// A time of day. Dawn and dusk are the sun's rising and setting, and the clock is the sun's: noon is at 12:00.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TimeOfDay {
    /// So many hours after dawn.
    AfterDawn(f64),
    /// So many hours before dusk.
    BeforeDusk(f64),
    /// By the clock, hours.
    Clock(f64),
}

impl TimeOfDay {
    /// Hours after dawn on a day of this length, not beyond either end of the day.
    fn after_dawn(self, day_length_h: f64) -> f64 {
        let hours = match self {
            Self::AfterDawn(hours) => hours,
            Self::BeforeDusk(hours) => day_length_h - hours,
            Self::Clock(clock) => clock - (NOON_H - 0.5 * day_length_h),
        };
        hours.clamp(0.0, day_length_h)
    }
}

impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::AfterDawn(0.0) => f.write_str("dawn"),
            Self::BeforeDusk(0.0) => f.write_str("dusk"),
            Self::AfterDawn(hours) => write!(f, "{} after dawn", Span(hours)),
            Self::BeforeDusk(hours) => write!(f, "{} before dusk", Span(hours)),
            Self::Clock(hours) => {
                let minutes = (hours * MINUTES_PER_H).round();
                write!(f, "{:02}:{:02}", (minutes / MINUTES_PER_H).floor(), minutes % MINUTES_PER_H)
            }
        }
    }
}

/// Hours in words.
struct Span(f64);

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let minutes = (self.0 * MINUTES_PER_H).round();
        if minutes % MINUTES_PER_H == 0.0 {
            let plural = if minutes == MINUTES_PER_H { "" } else { "s" };
            write!(f, "{} hour{plural}", minutes / MINUTES_PER_H)
        } else {
            write!(f, "{minutes} minutes")
        }
    }
}

/// A stretch of the day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenHours {
    /// From.
    pub from: TimeOfDay,
    /// To.
    pub to: TimeOfDay,
}

impl OpenHours {
    /// The first hours of the day.
    #[must_use]
    pub fn first(hours: f64) -> Self {
        Self { from: TimeOfDay::AfterDawn(0.0), to: TimeOfDay::AfterDawn(hours) }
    }

    /// The last hours of the day.
    #[must_use]
    pub fn last(hours: f64) -> Self {
        Self { from: TimeOfDay::BeforeDusk(hours), to: TimeOfDay::BeforeDusk(0.0) }
    }

    /// From and to in hours after dawn, on a day of this length; `None` where nothing is left of it.
    #[must_use]
    pub fn within(&self, day_length_h: f64) -> Option<(f64, f64)> {
        let (from, to) = (self.from.after_dawn(day_length_h), self.to.after_dawn(day_length_h));
        (to > from).then_some((from, to))
    }
}

/// As a site file has it: "last 3 hours", "15:00 to dusk".
impl fmt::Display for OpenHours {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.from, self.to) {
            (TimeOfDay::BeforeDusk(hours), TimeOfDay::BeforeDusk(0.0)) => write!(f, "last {}", Span(hours)),
            (TimeOfDay::AfterDawn(0.0), TimeOfDay::AfterDawn(hours)) => write!(f, "first {}", Span(hours)),
            (from, to) => write!(f, "{from} to {to}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::same;

    const fn hours(from: TimeOfDay, to: TimeOfDay) -> OpenHours {
        OpenHours { from, to }
    }

    /// On a day of 10 hours the sun is up from 7:00 to 17:00.
    #[test]
    fn times_are_counted_from_dawn() {
        let within = |of: OpenHours| of.within(10.0).unwrap();
        assert_eq!(within(OpenHours::last(3.0)), (7.0, 10.0));
        assert_eq!(within(OpenHours::first(2.5)), (0.0, 2.5));
        assert_eq!(within(hours(TimeOfDay::Clock(15.0), TimeOfDay::BeforeDusk(0.0))), (8.0, 10.0));
        assert_eq!(within(hours(TimeOfDay::Clock(9.0), TimeOfDay::Clock(11.5))), (2.0, 4.5));
        let (from, to) = within(hours(TimeOfDay::AfterDawn(1.0), TimeOfDay::BeforeDusk(2.0)));
        same(to - from, 7.0);
    }

    /// The gate is not opened before dawn, nor left open after dusk: a stretch longer than the day is the day, one
    /// that lies in the dark is none.
    #[test]
    fn nothing_is_open_in_the_dark() {
        assert_eq!(OpenHours::last(12.0).within(8.0), Some((0.0, 8.0)));
        let afternoon = hours(TimeOfDay::Clock(17.0), TimeOfDay::BeforeDusk(0.0));
        assert_eq!(afternoon.within(8.0), None);
        assert_eq!(afternoon.within(16.0), Some((13.0, 16.0)));
        assert_eq!(OpenHours::last(3.0).within(0.0), None);
    }

    #[test]
    fn they_are_said_as_they_are_written() {
        for (open, words) in [
            (OpenHours::last(3.0), "last 3 hours"),
            (OpenHours::last(1.0), "last 1 hour"),
            (OpenHours::first(1.5), "first 90 minutes"),
            (hours(TimeOfDay::Clock(15.25), TimeOfDay::BeforeDusk(0.0)), "15:15 to dusk"),
            (hours(TimeOfDay::AfterDawn(0.0), TimeOfDay::Clock(10.0)), "dawn to 10:00"),
            (hours(TimeOfDay::AfterDawn(1.0), TimeOfDay::BeforeDusk(2.0)), "1 hour after dawn to 2 hours before dusk"),
        ] {
            assert_eq!(open.to_string(), words);
        }
    }
}
