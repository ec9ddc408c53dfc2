//! Why a gate is as it is today: for the diary, in a keeper's words.

use crate::site::Treatment;
use core::fmt;

/// Why a strategy proposed what it did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// The strategy had no answer: the birds keep to the yard.
    NoAnswer,
    /// All gates are open that may be.
    AllOpen,
    /// All gates are shut.
    AllShut,
    /// Always the same plot.
    ForGood,
    /// A turn.
    Turn {
        /// Day of the stay, from 1.
        day: f64,
        /// Days of this stay.
        stay: f64,
    },
    /// Every plot of the turn is shut.
    TurnAllShut,
    /// Entered by the look of it.
    Entered {
        /// Cover seen.
        cover: f64,
        /// Days it had rested.
        rest: f64,
    },
    /// Stays while it looks well.
    Stays {
        /// Cover seen.
        cover: f64,
        /// Days open so far.
        days: f64,
    },
    /// No plot looks ready.
    NoneReady,
    /// Clean-up after a crop.
    CleanUp {
        /// Days since the crop ended.
        since: f64,
    },
    /// In the window around a pest's emergence.
    PestWindow {
        /// Degree-days to (−) or past (+) half emergence.
        degree_days: f64,
    },
    /// Shade on a hot day.
    Shade {
        /// Yesterday's highest temperature.
        tmax: f64,
    },
    /// Off wet ground.
    OffWet,
    /// By the list of dates.
    Dated,
    /// By a rule of a practice.
    Rule {
        /// Its place, from 0.
        rule: usize,
        /// Day of the stay, from 1.
        day: f64,
        /// Days of the stay, where it has an end.
        stay: Option<f64>,
    },
    /// No rule of a practice has an answer: home.
    Home,
    /// No rule of a practice has an answer, and it names no home.
    NoRule,
    /// Set by hand, by an event of the site file.
    ByHand,
    /// Turned round to see what difference it makes.
    Counterfactual,
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match *self {
            Reason::NoAnswer => write!(f, "no plot asked for: yard only"),
            Reason::AllOpen => write!(f, "every gate that may be open is open"),
            Reason::AllShut => write!(f, "every gate is shut"),
            Reason::ForGood => write!(f, "always in this plot"),
            Reason::Turn { day, stay } => write!(f, "its turn, day {day:.0} of {stay:.0}"),
            Reason::TurnAllShut => write!(f, "every plot of the turn is shut: yard only"),
            Reason::Entered { cover, rest } => {
                write!(f, "looks ready: {:.0} % cover after {rest:.0} days' rest", 100.0 * cover)
            }
            Reason::Stays { cover, days } => {
                write!(f, "stays: {:.0} % cover on day {days:.0}", 100.0 * cover)
            }
            Reason::NoneReady => write!(f, "no plot looks ready: yard only"),
            Reason::CleanUp { since } => write!(f, "clean-up, {since:.0} days after the crop ended"),
            Reason::PestWindow { degree_days } if degree_days < 0.0 => {
                write!(f, "pest due: {:.0} degree-days to half emergence", -degree_days)
            }
            Reason::PestWindow { degree_days } => {
                write!(f, "pest leaving the soil: {degree_days:.0} degree-days past half emergence")
            }
            Reason::Shade { tmax } => write!(f, "shade: {tmax:.0} C yesterday"),
            Reason::OffWet => write!(f, "ground too wet: yard only"),
            Reason::Dated => write!(f, "by the list of dates"),
            Reason::Rule { rule, day, stay: Some(stay) } => {
                write!(f, "rule {}, day {day:.0} of {stay:.0} at most", rule + 1)
            }
            Reason::Rule { rule, day, stay: None } => write!(f, "rule {}, day {day:.0}", rule + 1),
            Reason::Home => write!(f, "home: no rule applies"),
            Reason::NoRule => write!(f, "no rule applies: yard only"),
            Reason::ByHand => write!(f, "set by hand"),
            Reason::Counterfactual => write!(f, "changed to see the difference"),
        }
    }
}

/// Why a rule keeps a gate shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Veto {
    /// A housing order: the birds stay in.
    Housing,
    /// Something that harms birds is on it.
    KeepOut {
        /// What.
        treatment: Treatment,
        /// Days it still keeps them out, today counted.
        days: u16,
    },
    /// A crop stands and is not fully guarded.
    CropStanding,
    /// Inside the waiting period of a harvest.
    WaitingPeriod {
        /// Days to the harvest.
        days: u16,
    },
    /// Another group is isolated here.
    Isolation,
    /// Mud.
    Mud,
    /// Frozen ground.
    Frozen,
    /// Snow.
    Snow,
}

impl Veto {
    /// What keeps the gate shut, in two or three words.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Veto::Housing => "a housing order",
            Veto::KeepOut { .. } => "spray or bait",
            Veto::CropStanding => "a standing crop",
            Veto::WaitingPeriod { .. } => "the waiting days",
            Veto::Isolation => "birds in isolation",
            Veto::Mud => "mud",
            Veto::Frozen => "frozen ground",
            Veto::Snow => "snow",
        }
    }
}

impl fmt::Display for Veto {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match *self {
            Veto::Housing => write!(f, "housing order"),
            Veto::KeepOut { treatment, days } => write!(f, "{}: keep out for {days} more days", treatment.word()),
            Veto::CropStanding => write!(f, "a crop stands here, not guarded"),
            // Within a harvest, and on the day before it, there is one day to go.
            Veto::WaitingPeriod { days: 0 | 1 } => write!(f, "waiting period: harvest now or tomorrow"),
            Veto::WaitingPeriod { days } => write!(f, "waiting period: harvest in {days} days"),
            Veto::Isolation => write!(f, "birds in isolation here"),
            Veto::Mud => write!(f, "mud"),
            Veto::Frozen => write!(f, "frozen ground"),
            Veto::Snow => write!(f, "snow"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Shares are told in percent, and degree-days without a sign, before and after.
    #[test]
    fn figures_are_told_as_a_keeper_reads_them() {
        let told = |reason: Reason| reason.to_string();
        assert_eq!(told(Reason::Entered { cover: 0.93, rest: 41.0 }), "looks ready: 93 % cover after 41 days' rest");
        assert_eq!(told(Reason::Stays { cover: 0.8, days: 3.0 }), "stays: 80 % cover on day 3");
        let pest = |degree_days| told(Reason::PestWindow { degree_days });
        assert_eq!(pest(-12.4), "pest due: 12 degree-days to half emergence");
        assert_eq!(pest(0.0), "pest leaving the soil: 0 degree-days past half emergence");
        assert_eq!(pest(55.0), "pest leaving the soil: 55 degree-days past half emergence");
        assert_eq!(told(Reason::Turn { day: 2.0, stay: 7.0 }), "its turn, day 2 of 7");
        assert_eq!(Veto::WaitingPeriod { days: 40 }.to_string(), "waiting period: harvest in 40 days");
    }

    /// A diary says why: no two reasons sound alike.
    #[test]
    fn every_reason_has_words_of_its_own() {
        let reasons = [
            Reason::NoAnswer,
            Reason::AllOpen,
            Reason::AllShut,
            Reason::ForGood,
            Reason::TurnAllShut,
            Reason::NoneReady,
            Reason::CleanUp { since: 3.0 },
            Reason::Shade { tmax: 30.0 },
            Reason::OffWet,
            Reason::Dated,
            Reason::Home,
            Reason::NoRule,
            Reason::Rule { rule: 0, day: 3.0, stay: None },
            Reason::Rule { rule: 0, day: 3.0, stay: Some(14.0) },
            Reason::ByHand,
            Reason::Counterfactual,
        ];
        let vetoes = [Veto::Housing, Veto::CropStanding, Veto::Isolation, Veto::Mud, Veto::Frozen, Veto::Snow]
            .map(|v| v.to_string());
        let mut words: Vec<String> = reasons.iter().map(Reason::to_string).chain(vetoes).collect();
        let all = words.len();
        words.sort();
        words.dedup();
        assert!(words.len() == all && words.iter().all(|text| !text.is_empty()), "{words:?}");
    }
}
