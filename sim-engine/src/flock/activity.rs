//! When in the day birds range: most in the first hours and the last.
//!
//! # Formulas
//!
//! ```text
//! density  = 1 in the first `morning_peak` and the last `evening_peak` hours of the day, `midday_ranging` between them
//! share    = ∫ density from dawn to the hour / ∫ density of the whole day                        0 at dawn, 1 at dusk
//! ```
//!
//! A day no longer than both peaks together is all of one density.
//!
//! # Source
//!
//! Two peaks, the first two to three hours and the last three: Dawkins 1989, Appl. Anim. Behav. Sci. 24:77 (jungle fowl; from
//! memory). How much less is ranged between them: from memory.
//!
//! # Limits
//!
//! The course is the same in every weather; heat and rain take from the day as a whole. What a bird does in an hour out is
//! the same at all hours.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  morning_peak [h], evening_peak [h], midday_ranging [-]
//! ```

use crate::species::ProcessParams;

/// Share of the day's ranging that is over so many hours after dawn.
#[must_use]
pub fn share_before(p: &ProcessParams, hours: f64, day_length_h: f64) -> f64 {
    let midday_h = day_length_h - p.morning_peak - p.evening_peak;
    if hours >= day_length_h {
        return 1.0;
    }
    if midday_h <= 0.0 {
        return hours / day_length_h;
    }
    let after_morning = (hours - p.morning_peak).max(0.0);
    let ranged = hours.min(p.morning_peak)
        + p.midday_ranging * after_morning.min(midday_h)
        + (after_morning - midday_h).max(0.0);
    ranged / (p.morning_peak + p.midday_ranging * midday_h + p.evening_peak)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{ample, same};

    fn peaks() -> ProcessParams {
        ProcessParams { morning_peak: 2.0, evening_peak: 3.0, midday_ranging: 0.5, ..ample(60.0) }
    }

    /// A day of 13 hours: 2 + 0.5 · 8 + 3 = 9.
    #[test]
    fn mornings_and_evenings_count_for_more() {
        let share = |hours: f64| share_before(&peaks(), hours, 13.0);
        assert_eq!((share(0.0), share(13.0)), (0.0, 1.0));
        same(share(1.0), 1.0 / 9.0);
        same(share(2.0), 2.0 / 9.0);
        same(share(6.0), 4.0 / 9.0);
        same(1.0 - share(10.0), 3.0 / 9.0);
        same(1.0 - share(11.0), 2.0 / 9.0);
    }

    /// Without a dip the share is that of the hours, and so it is on a day that is all morning and evening.
    #[test]
    fn a_short_day_has_no_dip() {
        same(share_before(&peaks(), 1.0, 4.0), 0.25);
        same(share_before(&ProcessParams { midday_ranging: 1.0, ..peaks() }, 3.0, 12.0), 0.25);
    }
}
