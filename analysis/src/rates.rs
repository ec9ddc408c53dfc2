//! Over which rates of the aims the answer holds.
//!
//! The aim is a sum of measures, each times its rate. Of two strategies with mean measures a and b, b draws level when one rate
//! r is multiplied by f = 1 − Δ / (r · d), where Δ = Σ r (a − b) is the lead and d = a − b in that measure.

use crate::compare::Comparison;
use crate::experiment::ArmId;
use scenarios::SiteModel;
use sim_engine::measures::Measure;

/// A rate at which another strategy draws level with the leading one, all other rates as they are.
#[derive(Clone, Debug, PartialEq)]
pub struct TurningRate {
    /// The measure whose rate is changed.
    pub measure: Measure,
    /// The rate as the site file has it, hours per unit.
    pub rate: f64,
    /// How many times that rate: below 1 where less of it turns the answer.
    pub factor: f64,
    /// The strategy that draws level, by position among those compared.
    pub strategy: usize,
}

/// What the answer asks of the rates.
#[derive(Clone, Debug, PartialEq)]
pub enum Rates {
    /// The leader is at least as good in all that the aims name, whatever each is worth.
    Any,
    /// The nearest change of a single rate that turns it; `None` where none does.
    Turns(Option<TurningRate>),
}

/// The lead over another strategy, by position: measure, rate, and the part of the lead it makes.
type Lead = (usize, Vec<(Measure, f64, f64)>);

/// Judges the leading strategy against the others that keep every limit; `None` where none of them does, or there is
/// only one.
#[must_use]
pub fn rates(model: &SiteModel, c: &Comparison) -> Option<Rates> {
    let leader = c.leading();
    let others: Vec<usize> = (0..c.names.len()).filter(|&s| s != leader && c.verdict.standings[s].holds).collect();
    if others.is_empty() || !c.verdict.standings[leader].holds {
        return None;
    }
    let mean = |s: usize, measure: Measure| c.figure(ArmId::Strategy(s), measure).map_or(0.0, |f| f.mean.mean);
    let gains: Vec<Lead> = others
        .iter()
        .map(|&s| {
            let gain =
                |&(measure, rate): &(Measure, f64)| (measure, rate, rate * (mean(leader, measure) - mean(s, measure)));
            (s, model.aims.iter().map(gain).collect())
        })
        .collect();
    Some(judged(&gains))
}

fn judged(leads: &[Lead]) -> Rates {
    if leads.iter().all(|(_, parts)| parts.iter().all(|(.., part)| *part >= 0.0)) {
        return Rates::Any;
    }
    let turning = leads.iter().flat_map(|&(strategy, ref parts)| {
        let lead: f64 = parts.iter().map(|(.., part)| part).sum();
        let turn = move |&(measure, rate, part): &(Measure, f64, f64)| {
            let factor = 1.0 - lead / part;
            (part != 0.0 && factor > 0.0).then_some(TurningRate { measure, rate, factor, strategy })
        };
        parts.iter().filter_map(turn)
    });
    let far = |turn: &TurningRate| libm::log(turn.factor).abs();
    Rates::Turns(turning.min_by(|a, b| far(a).total_cmp(&far(b))))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A leads by 4 h of work and lags by 2 kg worth 1 h: level where an hour is worth a quarter, or a kilogram four times.
    #[test]
    fn the_nearest_rate_that_turns_the_answer_is_found() {
        let parts = vec![(Measure::WorkSaved, 1.0, 4.0), (Measure::HarvestKept, 0.5, -1.0)];
        let Rates::Turns(Some(turn)) = judged(&[(1, parts)]) else { panic!() };
        assert_eq!(turn.strategy, 1);
        assert!([(Measure::WorkSaved, 0.25), (Measure::HarvestKept, 4.0)].contains(&(turn.measure, turn.factor)));
        let close = vec![(Measure::WorkSaved, 1.0, 4.0), (Measure::HarvestKept, 0.5, -3.5)];
        let Rates::Turns(Some(turn)) = judged(&[(1, close)]) else { panic!() };
        let nearest = if turn.measure == Measure::WorkSaved { 0.875 } else { 1.0 / 0.875 };
        assert!((turn.factor - nearest).abs() < 1e-12);
    }

    #[test]
    fn better_on_every_measure_asks_no_rates() {
        let parts = vec![(Measure::WorkSaved, 1.0, 4.0), (Measure::CoverLoss, -0.4, 0.0)];
        assert_eq!(judged(&[(1, parts)]), Rates::Any);
    }
}
