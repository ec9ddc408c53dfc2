//! What became of each strategy, in a keeper's words.

use super::{Fate, Selection};

/// How many possible years each strategy was tried on, and why no more, as one sentence.
/// `limits` are the limits in words.
#[must_use]
pub fn stayed(selection: &Selection, names: &[String], limits: &[String]) -> String {
    let tried = |s: usize| format!("{} on {}", names[s], selection.ended[s].draws);
    let all = |fate: Fate| -> Vec<String> {
        (0..names.len()).filter(|&s| selection.ended[s].fate == fate).map(tried).collect()
    };
    let mut parts = [all(Fate::Best), all(Fate::AsGood), all(Fate::Undecided)].concat();
    for (by, name) in names.iter().enumerate() {
        let beaten = all(Fate::Beaten { by });
        if !beaten.is_empty() {
            parts.push(format!("{}, then {name} was known to be ahead", beaten.join(", ")));
        }
    }
    for (limit, words) in limits.iter().enumerate() {
        let failed = all(Fate::Fails { limit });
        if !failed.is_empty() {
            parts.push(format!("{}, then \"{words}\" was known to hold too seldom", failed.join(", ")));
        }
    }
    format!("Tried on as many possible years as it took to know: {}.", parts.join("; "))
}

#[cfg(test)]
mod tests {
    use super::super::{Ended, SelectionEnd, SelectionRules};
    use super::*;

    #[test]
    fn those_with_one_fate_share_a_clause() {
        let ended = [
            (96, Fate::Best),
            (64, Fate::Beaten { by: 0 }),
            (32, Fate::Fails { limit: 0 }),
            (64, Fate::Fails { limit: 0 }),
        ];
        let selection = Selection {
            rules: SelectionRules { confidence: 0.95, indifference_share: 0.05, required_reliability: 0.9, most: 96 },
            answer: SelectionEnd::Best,
            ended: ended.map(|(draws, fate)| Ended { draws, fate }).to_vec(),
            indifference_hours: 1.0,
            draws: 96,
        };
        let names = ["a", "b", "c", "d"].map(str::to_owned);
        let want = "Tried on as many possible years as it took to know: a on 96; b on 64, then a was known to be ahead; \
                    c on 32, d on 64, then \"it stays green\" was known to hold too seldom.";
        assert_eq!(stayed(&selection, &names, &["it stays green".to_owned()]), want);
    }
}
