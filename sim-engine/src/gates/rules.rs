//! Hard rules: what keeps a gate shut whatever the strategy.
//!
//! In order of weight: housing order; spray or bait on the plot; a crop in the ground that guards do not cover; the
//! waiting period of a coming harvest (USDA NOP 7 CFR 205.203(c): 120 days where the edible
//! part touches the soil, else 90; longer or, with a written reason, shorter by the site
//! file); isolation; and, where the site says so, mud, frozen ground and snow.

use super::reason::Veto;
use crate::site::{HardRules, Treatment};

/// What the rules look at, for one plot on one day.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct GateFacts {
    /// A housing order is in force.
    pub housed: bool,
    /// What on it harms birds, and for how many days from today.
    pub keep_out: Option<(Treatment, u16)>,
    /// A crop stands on a bed without guards of its own.
    pub crop_standing: bool,
    /// Share of the plot under beds without guards of their own.
    pub beds: f64,
    /// Share of the plot other guards keep birds off; beds first.
    pub guarded: f64,
    /// Days to a harvest inside its waiting period; 0 none.
    pub days_to_harvest: u16,
    /// A group is isolated here.
    pub isolation: bool,
    /// The ground is mud.
    pub mud: bool,
    /// The ground is frozen.
    pub frozen: bool,
    /// Snow lies.
    pub snow: bool,
}

/// The weightiest reason that keeps the gate shut, if any.
#[must_use]
pub fn veto(rules: &HardRules, facts: &GateFacts) -> Option<Veto> {
    /// Rounding of shares added up in a site file.
    const TOLERANCE: f64 = 1e-9;
    if facts.housed {
        return Some(Veto::Housing);
    }
    if let Some((treatment, days)) = facts.keep_out {
        return Some(Veto::KeepOut { treatment, days });
    }
    if facts.crop_standing && facts.guarded + TOLERANCE < facts.beds {
        return Some(Veto::CropStanding);
    }
    if facts.days_to_harvest > 0 {
        return Some(Veto::WaitingPeriod { days: facts.days_to_harvest });
    }
    if facts.isolation {
        return Some(Veto::Isolation);
    }
    if facts.mud && rules.shut_on_mud {
        return Some(Veto::Mud);
    }
    if facts.snow && rules.shut_on_snow {
        return Some(Veto::Snow);
    }
    if facts.frozen && rules.shut_on_frozen {
        return Some(Veto::Frozen);
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const RULES: HardRules = HardRules {
        waiting_days_touching: 120,
        waiting_days_other: 90,
        own_waits: Vec::new(),
        shut_on_mud: true,
        shut_on_frozen: false,
        shut_on_snow: true,
    };

    #[test]
    fn a_guarded_crop_does_not_shut_the_gate_but_an_unguarded_one_does() {
        let crop = GateFacts { crop_standing: true, beds: 0.6, guarded: 0.5, ..GateFacts::default() };
        assert_eq!(veto(&RULES, &crop), Some(Veto::CropStanding));
        assert_eq!(veto(&RULES, &GateFacts { guarded: 0.6, ..crop }), None);
    }

    #[test]
    fn the_weightiest_reason_is_given_and_the_site_decides_on_ground() {
        let baited = Some((Treatment::BaitLaid, 9));
        let all = GateFacts {
            housed: true,
            keep_out: baited,
            days_to_harvest: 40,
            mud: true,
            frozen: true,
            ..GateFacts::default()
        };
        assert_eq!(veto(&RULES, &all), Some(Veto::Housing));
        let treated = GateFacts { housed: false, ..all };
        assert_eq!(veto(&RULES, &treated), Some(Veto::KeepOut { treatment: Treatment::BaitLaid, days: 9 }));
        let waiting = GateFacts { keep_out: None, ..treated };
        assert_eq!(veto(&RULES, &waiting), Some(Veto::WaitingPeriod { days: 40 }));
        let ground = GateFacts { days_to_harvest: 0, ..waiting };
        assert_eq!(veto(&RULES, &ground), Some(Veto::Mud));
        assert_eq!(veto(&RULES, &GateFacts { mud: false, ..ground }), None);
    }

    /// Ground rules act where the site says so and the ground is so, and not otherwise.
    #[test]
    fn a_ground_rule_needs_both_the_ground_and_the_site() {
        let none = GateFacts::default();
        let grounds = [
            (GateFacts { mud: true, ..none }, Veto::Mud),
            (GateFacts { snow: true, ..none }, Veto::Snow),
            (GateFacts { frozen: true, ..none }, Veto::Frozen),
        ];
        for (set, (ground, veto_of)) in grounds.iter().enumerate() {
            let rules = HardRules { shut_on_mud: set == 0, shut_on_snow: set == 1, shut_on_frozen: set == 2, ..RULES };
            assert_eq!(veto(&rules, ground), Some(*veto_of));
            assert_eq!(veto(&rules, &none), None);
            for (other, _) in grounds.iter().filter(|(_, other)| other != veto_of) {
                assert_eq!(veto(&rules, other), None);
            }
        }
        assert_eq!(veto(&RULES, &GateFacts { isolation: true, ..none }), Some(Veto::Isolation));
    }

    /// Shares that add up to the beds but for rounding guard them: 0.1 + 0.2 is a hair over 0.3.
    #[test]
    fn rounding_of_shares_opens_no_gap() {
        let crop = GateFacts { crop_standing: true, beds: 0.1 + 0.2, guarded: 0.3, ..GateFacts::default() };
        assert!(crop.guarded < crop.beds);
        assert_eq!(veto(&RULES, &crop), None);
        assert_eq!(veto(&RULES, &GateFacts { crop_standing: false, guarded: 0.0, ..crop }), None);
    }
}
