//! Limits as clauses.

use crate::units::Units;
use scenarios::model::{Limit, Sense};
use sim_engine::measures::Measure;

/// A limit as a clause: "ground cover never falls below 70 %".
#[must_use]
pub fn limit_in_words(limit: &Limit, units: Units) -> String {
    let bound = limit.bound;
    let said = || units.plain(bound, limit.measure.unit());
    match (limit.measure, limit.sense) {
        (Measure::LeastCover, _) => format!("no plot's cover falls below {:.0} %", 100.0 * bound),
        (Measure::DaysUnder, _) => format!("plots spend at most {bound:.0} days a year under the cover line"),
        (Measure::BareDays, _) => {
            format!("no plot lies under half cover because of the birds for more than {bound:.0} days")
        }
        (Measure::Space, _) => {
            format!("every bird has at least {} outdoors, on average over the year", units.area(bound))
        }
        (m, Sense::AtLeast) => format!("{} is at least {}", m.plain(), said()),
        (m, Sense::AtMost) => format!("{} is at most {}", m.plain(), said()),
    }
}
