//! Other names of what the library has: what a keeper on another continent calls it.

use crate::nearest::singular;

/// Another name, and the library's (common practice, no source). Names within one another, such
/// as "sweet corn" and "corn", each stand for themselves.
const ALSO: &[(&str, &str)] = &[
    ("alfalfa", "lucerne"),
    ("annual bluegrass", "annual meadow grass"),
    ("arugula", "rocket"),
    ("bell pepper", "pepper"),
    ("bermudagrass", "bermuda grass"),
    ("blackjack", "cobbler's pegs"),
    ("canada thistle", "creeping thistle"),
    ("chicken", "layer"),
    ("cilantro", "coriander"),
    ("corn", "sweetcorn"),
    ("eggplant", "aubergine"),
    ("fava bean", "broad bean"),
    ("galinsoga", "gallant soldier"),
    ("garbanzo", "chickpea"),
    ("green bean", "french bean"),
    ("groundnut", "peanut"),
    ("hen", "layer"),
    ("lamb's quarters", "fat hen"),
    ("lambsquarters", "fat hen"),
    ("laying hen", "layer"),
    ("maize", "sweetcorn"),
    ("navy bean", "french bean"),
    ("pigweed", "redroot"),
    ("pumpkin", "winter squash"),
    ("quackgrass", "couch grass"),
    ("rooster", "cock"),
    ("rutabaga", "swede"),
    ("scallion", "spring onion"),
    ("snap bean", "french bean"),
    ("soybean", "soya bean"),
    ("sweet corn", "sweetcorn"),
    ("swiss chard", "chard"),
    ("zucchini", "courgette"),
];

/// What the library calls it, if that is known: "zucchini" is "courgette".
#[must_use]
pub fn also(name: &str) -> Option<&'static str> {
    let name = name.trim().to_lowercase();
    let one = singular(&name);
    ALSO.iter().find(|(other, _)| *other == name || *other == one).map(|&(_, ours)| ours)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::{EntryKind, Library};

    #[test]
    fn each_stands_for_an_entry_and_is_none_itself() {
        let library = Library::shipped().unwrap();
        let kinds = [
            EntryKind::Soil,
            EntryKind::Cover,
            EntryKind::Weed,
            EntryKind::Creeper,
            EntryKind::Crop,
            EntryKind::Canopy,
            EntryKind::Pest,
            EntryKind::Slug,
            EntryKind::Bird,
        ];
        let there = |name: &str| kinds.iter().any(|kind| library.get(*kind, name).is_some());
        for (other, ours) in ALSO {
            assert!(there(ours) && !there(other), "{other}: {ours}");
        }
    }

    #[test]
    fn one_or_many_and_capitals_are_the_same() {
        assert_eq!(also("Green beans"), Some("french bean"));
        assert_eq!(also("hens"), Some("layer"));
        assert_eq!(also("coffee"), None);
    }
}
