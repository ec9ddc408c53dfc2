//! Every row that is held against a published trial. Those set aside are the rows of `docs/set-aside.md`, by its letters.

use super::judge::Published::{self, AboveNought, Figure as Value, NoMoreThan};
use super::watch::Figure::{
    self, Away, DamageLess, DamageLower, DroppedOutside, FeedSaved, GreenEaten, HarvestMore, Kept, Leached, Left, Less,
    Out, Times,
};
use super::watch::{Days, Stock};
use jiff::civil::date;

/// What was known of a trial when the model's numbers were set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Known, and numbers were set by it or with it in mind.
    Tuned,
    /// Set aside beforehand.
    SetAside,
    /// Set aside, but part of the trial or of another on the same thing was known.
    KnownInPart,
}

/// One thing a trial found.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// Its name on the page; of those set aside it begins with the letter of `docs/set-aside.md`.
    pub id: &'static str,
    /// The trial.
    pub trial: &'static str,
    /// Where it was published.
    pub source: &'static str,
    /// Its site file.
    pub site: &'static str,
    /// The plot looked at.
    pub plot: &'static str,
    /// What is compared, in words.
    pub compared: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// How it is made.
    pub figure: Figure,
    /// What was published, in words.
    pub says: &'static str,
    /// The same, for the judge.
    pub published: Published,
    /// The least and the most it can be.
    pub possible: [f64; 2],
    /// What was known of it.
    pub kind: Kind,
}

/// Shares of a whole, %.
const PERCENT: [f64; 2] = [0.0, 100.0];
/// Nitrogen leached, kg/ha a year: single points under stocked grass go to 226 (Cuttle et al. 1992, J. Agric. Sci.).
const LEACHED: [f64; 2] = [0.0, 250.0];
/// So many times the cover of weeds: from none to all of the ground where a hundredth was covered.
const TIMES: [f64; 2] = [0.0, 100.0];
/// Green a broiler eats, g a day: 50 is claimed of hens on short feed (from memory).
const GREEN: [f64; 2] = [0.0, 50.0];
/// Feed saved, %: up to 30 is told of hens on wheat and fresh crops (Horsted & Hermansen 2007, Animal 1:575).
const SAVED: [f64; 2] = [0.0, 30.0];

/// Fruit damage, points: as `docs/set-aside.md` has it of row A.
const NO_DAMAGE: Published = NoMoreThan(5.0);
/// Weeds, %: ours; a trial of a few plots sees no less (common practice, no source).
const NO_CHANGE_OF_WEEDS: Published = NoMoreThan(25.0);
/// Yield, %: ours; likewise.
const NO_CHANGE_OF_YIELD: Published = NoMoreThan(10.0);

const PEDERSEN: Row = Row {
    id: "1a",
    trial: "broilers under apples, 8 m² each, Denmark",
    source: "Pedersen et al. 2004, orgprints.org 10127",
    site: "pedersen-2004.toml",
    plot: "orchard",
    compared: "catch of apple sawfly against no birds: fewer",
    unit: "%",
    figure: Less(Stock::Adults("apple sawfly"), Days::Run),
    says: "fewer",
    published: AboveNought,
    possible: PERCENT,
    kind: Kind::Tuned,
};

const CLARK_GAGE_HENS: Row = Row {
    id: "2a",
    trial: "hens under apples, 15 to 28 m² each, Michigan",
    source: "Clark & Gage 1996, Am. J. Altern. Agric. 11:39",
    site: "clark-gage-1996-hens.toml",
    compared: "Japanese beetles on the trees against no birds: fewer",
    figure: Less(Stock::Adults("japanese beetle"), Days::Run),
    ..PEDERSEN
};

/// The second summer of the trial.
const SUMMER_1991: Days = Days::Between(date(1991, 5, 1), date(1991, 9, 30));

const CLARK_GAGE_GEESE: Row = Row {
    id: "3a",
    trial: "geese under apples, Michigan",
    site: "clark-gage-1996-geese.toml",
    compared: "weeds against no birds, second summer: less mass",
    figure: Less(Stock::Weeds, SUMMER_1991),
    says: "less",
    ..CLARK_GAGE_HENS
};

const RIVERA_FERRE: Row = Row {
    id: "4a",
    trial: "organic broilers of 25 to 80 days, Netherlands",
    source: "Rivera-Ferre et al. 2007, NJAS",
    site: "rivera-ferre-2007.toml",
    plot: "range",
    compared: "green eaten, dry",
    unit: "g a bird and day",
    figure: GreenEaten,
    says: "10.7",
    published: Value(10.7, 10.7),
    possible: GREEN,
    kind: Kind::Tuned,
};

const LARSEN: Row = Row {
    id: "5a",
    trial: "hens on six farms, United Kingdom",
    source: "told in Larsen et al. 2017, Animals 7:21",
    site: "larsen-2017.toml",
    compared: "of the hens outdoors, within 10 m of the house",
    unit: "%",
    figure: Away(0.0, 10.0),
    says: "43.2",
    published: Value(43.2, 43.2),
    possible: PERCENT,
    ..RIVERA_FERRE
};

const MANEVSKI: Row = Row {
    id: "6",
    trial: "hen run on coarse sand, 4 and 6 m² each, Denmark",
    source: "Manevski et al. 2024, Agric. Syst. 104149",
    site: "manevski-2024.toml",
    plot: "grass-clover",
    compared: "nitrogen leached under grass-clover",
    unit: "kg/ha a year",
    figure: Leached,
    says: "154 ± 28",
    published: Value(126.0, 182.0),
    possible: LEACHED,
    kind: Kind::Tuned,
};

const THAPA: Row = Row {
    id: "7",
    trial: "eggs of roundworms buried at 7 cm, Denmark",
    source: "Thapa et al. 2017, Parasitology 144(9)",
    site: "thapa-2017.toml",
    plot: "ground",
    compared: "eggs left after 23 weeks from spring on",
    unit: "%",
    figure: Kept(Stock::WormEggs, date(2013, 10, 9)),
    says: "about 10",
    published: Value(10.0, 10.0),
    possible: PERCENT,
    kind: Kind::Tuned,
};

const YATES: Row = Row {
    id: "A1",
    trial: "free-range hens in orchards, Western Australia",
    source: "Yates, Spafford & Learmonth 2007, Plant Prot. Q. 22:155",
    site: "yates-2007.toml",
    compared: "apple weevils against no birds: fewer",
    figure: Less(Stock::Adults("apple weevil"), Days::Run),
    kind: Kind::SetAside,
    ..PEDERSEN
};

const KELLOGG: Row = Row {
    id: "B",
    trial: "hens fenced in under fruit trees, July to September 1990, Michigan",
    source: "note of the Kellogg Biological Station 1991",
    site: "kellogg-1991.toml",
    compared: "damage by plum curculio, that year, against no birds: less",
    figure: DamageLess("plum curculio"),
    says: "25 to 40 (one year, preliminary)",
    published: Value(25.0, 40.0),
    ..YATES
};

const KAGOSHIMA: Row = Row {
    id: "C1",
    trial: "ducks on wet ground, as in rice, 350 and later 170 a hectare, Kagoshima",
    source: "Jpn. Poult. Sci. 30(5), 1993",
    site: "kagoshima-1993.toml",
    plot: "field",
    compared: "weeds against no birds after one month: less mass",
    figure: Less(Stock::Weeds, Days::On(date(1992, 7, 20))),
    says: "84 (fewer plants)",
    published: Value(84.0, 84.0),
    ..YATES
};

const WURTZ: Row = Row {
    id: "D1",
    trial: "geese in a spruce nursery, Alaska",
    source: "Wurtz 1995, Ecol. Appl. 5:570",
    site: "wurtz-1995.toml",
    plot: "nursery",
    compared: "couch grass against no birds, end of the second summer: less mass",
    figure: Less(Stock::Creeper("couch grass"), Days::On(date(1991, 8, 31))),
    says: "kept down",
    ..YATES
};

const KLEIN: Row = Row {
    id: "E1",
    trial: "pullets in potato rows, seven days in turn, Vermont",
    source: "Klein 1996, SARE FNE95-092 (not replicated)",
    site: "klein-1996.toml",
    plot: "rows",
    compared: "adult Colorado beetles against no birds: fewer",
    figure: Less(Stock::Adults("colorado beetle on rows"), Days::Run),
    says: "75 to 85",
    published: Value(75.0, 85.0),
    ..YATES
};

const GARCIA: Row = Row {
    id: "F1",
    trial: "broilers on a cover crop, two days a plot",
    source: "Garcia et al. 2023, Front. Sustain. Food Syst.",
    site: "garcia-2023.toml",
    plot: "at-9-51",
    compared: "mass of the cover as the birds leave, of that without birds; 9.51 m² each",
    figure: Left(Stock::Cover, Days::On(date(2020, 5, 12))),
    says: "29 (3.5 times less)",
    published: Value(100.0 / 3.5, 100.0 / 3.5),
    ..YATES
};

const ELBE: Row = Row {
    id: "H1",
    trial: "a flock of 4,500 hens (2,000 put), Germany",
    source: "Elbe et al. 2005, 8. Wissenschaftstagung Ökologischer Landbau",
    site: "elbe-2005.toml",
    plot: "range",
    compared: "hens outside, mean over the hours of light",
    figure: Out,
    says: "9.8",
    published: Value(9.8, 9.8),
    kind: Kind::KnownInPart,
    ..YATES
};

/// Every row, those the model was tuned to first.
pub const ROWS: &[Row] = &[
    PEDERSEN,
    Row {
        id: "1b",
        compared: "yield against no birds: more",
        figure: HarvestMore,
        says: "not significant (10 either way counts as none)",
        published: NO_CHANGE_OF_YIELD,
        ..PEDERSEN
    },
    Row {
        id: "1c",
        compared: "fruit damaged by apple sawfly against no birds: lower",
        unit: "points",
        figure: DamageLower("apple sawfly"),
        says: "quality not significant (5 either way counts as none)",
        published: NO_DAMAGE,
        ..PEDERSEN
    },
    CLARK_GAGE_HENS,
    Row {
        id: "2b",
        compared: "fruit damaged by plum curculio against no birds: lower",
        unit: "points",
        figure: DamageLower("plum curculio"),
        says: "not reduced (5 either way counts as none)",
        published: NO_DAMAGE,
        ..CLARK_GAGE_HENS
    },
    Row {
        id: "2c",
        compared: "weeds against no birds, second summer: less mass",
        figure: Less(Stock::Weeds, SUMMER_1991),
        says: "not changed (25 either way counts as none)",
        published: NO_CHANGE_OF_WEEDS,
        ..CLARK_GAGE_HENS
    },
    CLARK_GAGE_GEESE,
    Row {
        id: "3b",
        compared: "fruit damaged by plum curculio against no birds: less",
        figure: DamageLess("plum curculio"),
        says: "less (by way of the ground)",
        ..CLARK_GAGE_GEESE
    },
    RIVERA_FERRE,
    Row {
        id: "4b",
        compared: "feed saved",
        unit: "%",
        figure: FeedSaved,
        says: "3 of their energy",
        published: Value(3.0, 3.0),
        possible: SAVED,
        ..RIVERA_FERRE
    },
    LARSEN,
    Row {
        id: "5b",
        compared: "at 10 to 50 m",
        figure: Away(10.0, 50.0),
        says: "34.4",
        published: Value(34.4, 34.4),
        ..LARSEN
    },
    Row {
        id: "5c",
        compared: "beyond 50 m",
        figure: Away(50.0, f64::INFINITY),
        says: "22.4",
        published: Value(22.4, 22.4),
        ..LARSEN
    },
    MANEVSKI,
    THAPA,
    YATES,
    Row {
        id: "A2",
        compared: "fruit damaged by apple weevils against no birds: lower",
        unit: "points",
        figure: DamageLower("apple weevil"),
        says: "not significant (5 either way counts as none)",
        published: NO_DAMAGE,
        ..YATES
    },
    KELLOGG,
    KAGOSHIMA,
    Row {
        id: "C2",
        compared: "weeds against no birds after two months: less mass",
        figure: Less(Stock::Weeds, Days::On(date(1992, 8, 19))),
        says: "98 (fewer plants)",
        published: Value(98.0, 98.0),
        ..KAGOSHIMA
    },
    WURTZ,
    Row {
        id: "D2",
        compared: "weeds that geese do not like against no birds, end of the second summer",
        unit: "times the mass",
        figure: Times(Stock::WeedsBut("couch grass"), Days::On(date(1991, 8, 31))),
        says: "25 (times the cover)",
        published: Value(25.0, 25.0),
        possible: TIMES,
        ..WURTZ
    },
    KLEIN,
    Row {
        id: "E2",
        compared: "larvae of Colorado beetles against no birds: fewer",
        figure: Less(Stock::Larvae("colorado beetle on rows"), Days::Run),
        says: "about 40",
        published: Value(40.0, 40.0),
        ..KLEIN
    },
    GARCIA,
    Row {
        id: "F2",
        plot: "at-4-76",
        compared: "the same at 4.76 m² each",
        figure: Left(Stock::Cover, Days::On(date(2020, 5, 14))),
        says: "13 (7.8 times less)",
        published: Value(100.0 / 7.8, 100.0 / 7.8),
        ..GARCIA
    },
    Row {
        id: "G",
        plot: "willow",
        compared: "nitrogen leached under willow (a hedge put)",
        says: "26 ± 14",
        published: Value(12.0, 40.0),
        kind: Kind::SetAside,
        ..MANEVSKI
    },
    ELBE,
    Row {
        id: "H2",
        compared: "of the hens outside, within 17 m of the house",
        figure: Away(0.0, 17.0),
        says: "69",
        published: Value(69.0, 69.0),
        ..ELBE
    },
    Row {
        id: "H3",
        compared: "of all droppings, those that fall outside",
        figure: DroppedOutside,
        says: "5",
        published: Value(5.0, 5.0),
        ..ELBE
    },
    Row {
        id: "I",
        source: "Thapa et al. 2017, Parasitology 144(9); the few eggs that last are set by this figure, so it counts as tuned",
        compared: "eggs left after 104 weeks",
        figure: Kept(Stock::WormEggs, date(2015, 4, 29)),
        says: "2 to 3",
        published: Value(2.0, 3.0),
        kind: Kind::KnownInPart,
        ..THAPA
    },
];
