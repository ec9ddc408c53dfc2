//! Which strategies would run the same way: those no varied value touches run once for many cells.

use sim_engine::gates::spec::StrategySpec;

/// Whether strategy `which` is the same in both lists, with all it calls upon.
#[must_use]
pub fn same(one: &[StrategySpec], other: &[StrategySpec], which: usize) -> bool {
    let (Some(a), Some(b)) = (one.get(which), other.get(which)) else { return false };
    // Strategies never call upon each other in a circle.
    a == b && a.kind.calls().iter().all(|&next| same(one, other, next))
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_engine::gates::spec::StrategyKind;

    fn named(kind: StrategyKind) -> StrategySpec {
        StrategySpec { name: "s".into(), kind, hours: None, birds: None }
    }

    #[test]
    fn a_change_in_what_it_calls_upon_counts() {
        let turn = |stay_days| named(StrategyKind::FixedTurn { order: vec![0], stay_days, by_area: false });
        let list =
            |stay| vec![turn(stay), named(StrategyKind::Layered { layers: vec![0] }), named(StrategyKind::AllOpen)];
        assert!(same(&list(3.0), &list(3.0), 1));
        assert!(!same(&list(3.0), &list(4.0), 0) && !same(&list(3.0), &list(4.0), 1));
        assert!(same(&list(3.0), &list(4.0), 2));
    }
}
