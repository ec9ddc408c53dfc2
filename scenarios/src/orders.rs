//! Whether of two numbers that are not known exactly one stays below the other in every draw.

use crate::unknowns::range_at;
use sim_engine::orders::Order;

/// Ranks looked at: where both ends are in order a range in logarithms may still bend over an even one.
const RANKS: u32 = 64;

/// Values are shown to one in so many.
const SHOWN: f64 = 1e5;

/// A number as draws see it.
pub(crate) struct Drawn<'n> {
    /// Its own name.
    pub name: &'n str,
    /// Least, likely, most.
    pub range: (f64, f64, f64),
    /// What it shares its rank with; by itself: its own name.
    pub tie: &'n str,
    /// High where the others of its tie are low.
    pub against: bool,
}

impl Drawn<'_> {
    fn at(&self, rank: f64) -> f64 {
        let (low, value, high) = self.range;
        range_at(low, value, high, if self.against { 1.0 - rank } else { rank })
    }
}

/// The first pair of values a draw can have that are not in order, and in words what is wrong with it.
pub(crate) fn broken(order: Order, below: &Drawn<'_>, above: &Drawn<'_>) -> Option<String> {
    let wrong = |(low, high): &(f64, f64)| low > high || (low == high && !order.or_same);
    let (low, high) = if below.tie == above.tie {
        let ranks = (0..=RANKS).map(|rank| f64::from(rank) / f64::from(RANKS));
        ranks.map(|rank| (below.at(rank), above.at(rank))).find(wrong)?
    } else {
        Some((below.range.2, above.range.0)).filter(wrong)?
    };
    let [low, high] = [low, high].map(|value| (value * SHOWN).round() / SHOWN);
    let (names, can) = ((below.name, above.name), if below.tie == above.tie { "at one rank" } else { "in one draw" });
    Some(format!("{} can be {low} where {} is {high} {can}, and must be below it", names.0, names.1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_engine::orders::TEMPERATURES;

    fn drawn<'n>(name: &'n str, tie: &'n str, range: (f64, f64, f64)) -> Drawn<'n> {
        Drawn { name, range, tie, against: false }
    }

    #[test]
    fn ranges_that_meet_are_out_of_order_unless_they_move_together() {
        let (one, other) = ((1.0, 5.0, 10.0), (8.0, 12.0, 20.0));
        let said = broken(TEMPERATURES[0], &drawn("a", "a", one), &drawn("b", "b", other)).unwrap();
        assert_eq!(said, "a can be 10 where b is 8 in one draw, and must be below it");
        assert_eq!(broken(TEMPERATURES[0], &drawn("a", "t", one), &drawn("b", "t", other)), None);
        let against = Drawn { against: true, ..drawn("b", "t", other) };
        assert!(broken(TEMPERATURES[0], &drawn("a", "t", one), &against).is_some());
    }
}
