//! Over which rates of the aims the answer holds.
//!
//! The aim is a sum of measures, each times its rate. Of the leading strategy and another, let p be what one measure at its
//! rate makes of the lead Δ. Multiplied by f, that rate makes the lead Δ + (f − 1) p: nothing is left of it at
//! f = 1 − Δ / p. Below that where p is positive, above it where p is negative, the other comes first.
//!
//! Limits: one rate is changed at a time, on means; a rate that turns its sign is another aim and is not looked at.

use sim_engine::measures::Measure;

/// Where another strategy draws level with the leading one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// How many times the rate as it is.
    pub factor: f64,
    /// The strategy that draws level and comes first beyond, by position among those compared.
    pub strategy: usize,
}

/// How far one rate may go before the answer turns, all others as they are.
#[derive(Clone, Debug, PartialEq)]
pub struct RateRange {
    /// The measure whose rate it is.
    pub measure: Measure,
    /// The rate as it is, for a unit of the measure; below nought for what is not wanted.
    pub rate: f64,
    /// Where less of it turns the answer; `None` where it holds down to nought.
    pub below: Option<Turn>,
    /// Where more of it turns the answer; `None` where it holds however much.
    pub above: Option<Turn>,
}

/// What the answer asks of the rates.
#[derive(Clone, Debug, PartialEq)]
pub struct Rates {
    /// The leader is at least as good in all that the aims name, whatever each is worth.
    pub whatever: bool,
    /// By aim, in the order of the site file, those of no worth left out.
    pub ranges: Vec<RateRange>,
}

impl Rates {
    /// The nearest change of a single rate that turns the answer, by how many times it is.
    #[must_use]
    pub fn nearest(&self) -> Option<(&RateRange, Turn)> {
        let turns = self
            .ranges
            .iter()
            .flat_map(|range| [range.below, range.above].into_iter().flatten().map(move |t| (range, t)));
        let far = |turn: Turn| libm::log(turn.factor).abs();
        turns.min_by(|a, b| far(a.1).total_cmp(&far(b.1)))
    }
}

/// What each measure at its rate makes of the lead over one strategy.
struct Lead {
    strategy: usize,
    parts: Vec<f64>,
}

/// Judges the leading strategy against the others that keep every limit; `None` where none of them differs from it, or it
/// keeps not every limit itself. `counted` says how many possible years each strategy has, `column` gives a measure of one
/// year by year.
///
/// # Errors
/// What `column` fails with.
pub fn rates<E>(
    aims: &[(Measure, f64)],
    leader: usize,
    holds: &[bool],
    counted: &[usize],
    column: impl Fn(usize, Measure) -> Result<Vec<f64>, E>,
) -> Result<Option<Rates>, E> {
    if !holds[leader] {
        return Ok(None);
    }
    let aims: Vec<(Measure, f64)> = aims.iter().copied().filter(|(_, rate)| *rate != 0.0).collect();
    let leads = (0..holds.len()).filter(|&s| s != leader && holds[s]).map(|strategy| {
        // Strategies taken out early have the first possible years only.
        let shared = counted[leader].min(counted[strategy]);
        let part = |&(measure, rate): &(Measure, f64)| {
            let (one, other) = (column(leader, measure)?, column(strategy, measure)?);
            Ok(rate * apart(&one[..shared], &other[..shared]))
        };
        Ok(Lead { strategy, parts: aims.iter().map(part).collect::<Result<_, E>>()? })
    });
    Ok(judged(&aims, &leads.collect::<Result<Vec<_>, E>>()?))
}

/// Mean of a measure under one strategy less that under another; a blank counts as nought, as it does in the aim.
fn apart(one: &[f64], other: &[f64]) -> f64 {
    let of = |value: f64| if value.is_nan() { 0.0 } else { value };
    let apart = one.iter().zip(other).map(|(&one, &other)| of(one) - of(other));
    crate::stats::mean(&apart.collect::<Vec<_>>())
}

fn judged(aims: &[(Measure, f64)], leads: &[Lead]) -> Option<Rates> {
    let leads: Vec<&Lead> = leads.iter().filter(|lead| lead.parts.iter().any(|part| *part != 0.0)).collect();
    if leads.is_empty() {
        return None;
    }
    let range = |(at, &(measure, rate)): (usize, &(Measure, f64))| {
        let turns = |sign: f64| {
            let turn = move |lead: &&Lead| {
                // Level already where it is ahead, as one taken out early may be on its few years.
                let all = lead.parts.iter().sum::<f64>().max(0.0);
                let part = lead.parts[at];
                (part * sign > 0.0).then_some(Turn { factor: 1.0 - all / part, strategy: lead.strategy })
            };
            leads.iter().filter_map(turn).filter(|turn| turn.factor > 0.0)
        };
        let below = turns(1.0).max_by(|a, b| a.factor.total_cmp(&b.factor));
        let above = turns(-1.0).min_by(|a, b| a.factor.total_cmp(&b.factor));
        RateRange { measure, rate, below, above }
    };
    Some(Rates {
        whatever: leads.iter().all(|lead| lead.parts.iter().all(|part| *part >= 0.0)),
        ranges: aims.iter().enumerate().map(range).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const AIMS: [(Measure, f64); 2] = [(Measure::WorkSaved, 1.0), (Measure::HarvestKept, 0.3)];

    /// What strategies are worth in hours and kilograms, the first against the others.
    fn of(strategies: &[[f64; 2]]) -> Option<Rates> {
        let lead = |(strategy, other): (usize, &[f64; 2])| {
            let part = |at: usize| AIMS[at].1 * (strategies[0][at] - other[at]);
            Lead { strategy, parts: vec![part(0), part(1)] }
        };
        judged(&AIMS, &strategies.iter().enumerate().skip(1).map(lead).collect::<Vec<_>>())
    }

    /// Saved are 10 h and kept 20 kg under the first, 6 h and 26 kg, and 13 h and 4 kg under the others. With w the worth of an
    /// hour and k that of a kilogram the second is level where 10 w + 20 k = 6 w + 26 k, so at k = 2/3 or w = 0.45, and
    /// the third where 10 w + 20 k = 13 w + 4 k, so at k = 3/16 or w = 1.6.
    #[test]
    fn of_three_the_ranges_end_where_their_sums_are_equal() {
        let rates = of(&[[10.0, 20.0], [6.0, 26.0], [13.0, 4.0]]).unwrap();
        assert!(!rates.whatever);
        let ends = |range: &RateRange| {
            [range.below, range.above].map(|turn| turn.map(|t| (range.rate * t.factor, t.strategy)))
        };
        let want = [[(0.45, 1), (1.6, 2)], [(3.0 / 16.0, 2), (2.0 / 3.0, 1)]];
        for (range, want) in rates.ranges.iter().zip(want) {
            for (got, want) in ends(range).into_iter().zip(want) {
                let (rate, strategy) = got.unwrap();
                assert!((rate - want.0).abs() < 1e-12 && strategy == want.1, "{range:?}");
            }
        }
        // 1.6 times is nearer than 1/0.625 by a hair of rounding at most; either is the nearest.
        let (range, turn) = rates.nearest().unwrap();
        assert_eq!(turn.strategy, 2, "{range:?}");
        assert!((libm::log(turn.factor).abs() - libm::log(1.6)).abs() < 1e-12);
    }

    #[test]
    fn better_on_every_measure_asks_no_rates() {
        let rates = of(&[[10.0, 20.0], [6.0, 20.0], [9.0, 4.0]]).unwrap();
        assert!(rates.whatever && rates.nearest().is_none());
        // One that is the same in all is no other answer.
        assert_eq!(of(&[[10.0, 20.0], [10.0, 20.0]]), None);
        assert_eq!(of(&[[10.0, 20.0]]), None);
    }

    #[test]
    fn a_rate_that_holds_on_one_side_has_an_end_on_the_other_only() {
        let rates = of(&[[10.0, 20.0], [6.0, 26.0]]).unwrap();
        assert!(rates.ranges[0].below.is_some() && rates.ranges[0].above.is_none());
        assert!(rates.ranges[1].below.is_none() && rates.ranges[1].above.is_some());
    }
}
