//! What to try where no strategy keeps every limit: by what binds, and by whether the gates alone could mend it.

use crate::units::Units;
use crate::verdict::{LimitStanding, Standing};
use crate::wording::limit_in_words;
use sim_engine::measures::Measure;

/// Where a limit holds often enough with the birds shut in: what the birds do on the plots breaks it.
const BY_BIRDS: &str = "Fewer birds, shorter stays or a looser limit would be the things to try.";

/// What is to be tried where a limit holds too seldom with the birds shut in as well (common practice, no source). With
/// every gate shut the yard is all the space there is, and the heap still goes where it goes.
const SHUT_IN: &[(Measure, &str)] = &[
    (Measure::Space, "a larger yard, gates open on more days, fewer birds"),
    (Measure::YardDays, "gates open on more days, a plot more that no crop keeps shut"),
    (Measure::MudDays, "wood chip, gravel or sand on the yard, a roof over it"),
    (Measure::NitrogenLoad, "less compost, part of the heap carried off the site, fewer birds"),
    (Measure::NitrogenWorst, "heap and compost spread over more ground, less of them, fewer birds"),
    (Measure::NitrogenLeached, "heap and compost spread over more ground and in spring, less of them, fewer birds"),
    (Measure::PhosphorusLoad, "less compost, part of the heap carried off the site, fewer birds"),
];

/// Of any other limit: ground that falls short without a bird on it is its keeper's doing, or the weather's.
const BY_CARE: &str = "other care of the ground";

/// Things to try, for the strategy that comes nearest and how the limits fare with the birds shut in.
pub(super) fn remedy(near: &Standing, shut_in: &[LimitStanding], units: Units) -> String {
    let failing = || near.limits.iter().filter(|limit| !limit.enough);
    let fails_shut_in = |limit: &LimitStanding| shut_in.iter().any(|l| l.limit == limit.limit && !l.enough);
    let mut told: Vec<String> =
        failing().filter(|limit| fails_shut_in(limit)).map(|limit| not_by_gates(limit, units)).collect();
    match (told.is_empty(), failing().any(|limit| !fails_shut_in(limit))) {
        (true, _) => BY_BIRDS.to_owned(),
        (false, false) => told.join(" "),
        (false, true) => {
            told.push(format!("For the rest: {}", BY_BIRDS.replacen("Fewer", "fewer", 1)));
            told.join(" ")
        }
    }
}

fn not_by_gates(limit: &LimitStanding, units: Units) -> String {
    let things =
        SHUT_IN.iter().find(|(measure, _)| *measure == limit.limit.measure).map_or(BY_CARE, |(_, things)| things);
    format!(
        "\"{}\" fails with the birds shut in too; to try: {things}, or a looser limit.",
        limit_in_words(&limit.limit, units)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verdict::words::samples::{estimate, limit, standing};

    fn near(limits: Vec<LimitStanding>) -> Standing {
        Standing { holds: false, limits, ..standing("turn", estimate(1.0, 0.0, 2.0)) }
    }

    fn enough(limit: LimitStanding) -> LimitStanding {
        LimitStanding { enough: true, ..limit }
    }

    fn tried(limits: Vec<LimitStanding>, shut_in: &[LimitStanding]) -> String {
        remedy(&near(limits), shut_in, Units::Metric)
    }

    /// Each kind of limit has a thing of its own to try, and of none that breaks without a bird on the plots is it a
    /// shorter stay.
    #[test]
    fn each_limit_that_fails_shut_in_has_its_remedy() {
        let cases = [
            (Measure::Space, "a larger yard"),
            (Measure::YardDays, "gates open on more days, a plot more"),
            (Measure::MudDays, "gravel or sand on the yard"),
            (Measure::NitrogenLoad, "part of the heap carried off"),
            (Measure::NitrogenWorst, "spread over more ground"),
            (Measure::NitrogenLeached, "in spring"),
            (Measure::PhosphorusLoad, "part of the heap carried off"),
            (Measure::LeastCover, "other care of the ground"),
            (Measure::BareDays, "other care of the ground"),
            (Measure::WeedCover, "other care of the ground"),
        ];
        for (measure, thing) in cases {
            let said = tried(vec![limit(measure, 3.0, 20, 100)], &[limit(measure, 3.0, 0, 100)]);
            assert!(said.contains("fails with the birds shut in too; to try: ") && said.contains(thing), "{said}");
            assert!(said.ends_with(", or a looser limit.") && !said.contains("shorter stays"), "{said}");
        }
        assert!(SHUT_IN.iter().all(|(measure, _)| cases.iter().any(|(of, _)| of == measure)));
    }

    #[test]
    fn what_holds_shut_in_is_the_birds_doing() {
        let cover = |held| limit(Measure::LeastCover, 0.6, held, 100);
        assert_eq!(tried(vec![cover(40)], &[enough(cover(99))]), BY_BIRDS);
        assert_eq!(tried(vec![cover(40)], &[]), BY_BIRDS, "nothing is known of the birds shut in");
        // A limit that is kept is no matter, whatever it does with the birds shut in.
        let mud = |held| limit(Measure::MudDays, 20.0, held, 100);
        assert_eq!(tried(vec![cover(40), enough(mud(95))], &[enough(cover(99)), mud(50)]), BY_BIRDS);
    }

    #[test]
    fn of_two_kinds_both_are_told() {
        let mud = |held| limit(Measure::MudDays, 20.0, held, 100);
        let cover = |held| limit(Measure::LeastCover, 0.6, held, 100);
        let said = tried(vec![cover(40), mud(30)], &[enough(cover(99)), mud(30)]);
        let rest = " For the rest: fewer birds, shorter stays or a looser limit would be the things to try.";
        assert!(said.contains("a roof over it, or a looser limit.") && said.ends_with(rest), "{said}");
        assert_eq!(said.matches("shut in too").count(), 1);
    }
}
