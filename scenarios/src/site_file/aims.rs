//! `[limits]`, `[aims]`, `[prices]` and `[compare]`: what strategies are judged by.

use super::bounds;
use super::context::Context;
use super::defaults;
use crate::model::{CompareSettings, Limit, Limits, Sense};
use crate::money::{self, AimUnit, Currency};
use crate::nearest::did_you_mean;
use crate::quantity::kinds::{
    DAYS, LOAD, M2_BIRD, Measured, PER_DAY, PER_HOUR, PER_KG, PER_LOAD, PER_MOVE, PER_POINT, PER_SPACE,
};
use crate::quantity::parse;
use crate::reader::{Item, Reader};
use crate::table_format::{Kind, RestFormat, TableFormat, Taken, left_out};
use sim_engine::gates::spec::StrategySpec;
use sim_engine::measures::Measure;

/// Every limit: key, measure, the right side.
const LIMITS: &[(&str, Measure, Sense)] = &[
    ("least_cover", Measure::LeastCover, Sense::AtLeast),
    ("bare_days", Measure::BareDays, Sense::AtMost),
    ("space", Measure::Space, Sense::AtLeast),
    ("nitrogen", Measure::NitrogenLoad, Sense::AtMost),
    ("nitrogen_worst", Measure::NitrogenWorst, Sense::AtMost),
    ("nitrogen_leached", Measure::NitrogenLeached, Sense::AtMost),
    ("phosphorus", Measure::PhosphorusLoad, Sense::AtMost),
    ("yard_days", Measure::YardDays, Sense::AtMost),
    ("mud_days", Measure::MudDays, Sense::AtMost),
];

/// What names a limit away.
const NO_LIMIT: &str = "none";

/// What holds unless the file says otherwise, how it is written, and where it is from.
const DEFAULT_LIMITS: &[(&str, f64, &str, &str)] = &[
    ("least_cover", defaults::LEAST_COVER, "0.7", "common practice, no source"),
    ("bare_days", defaults::BARE_DAYS, "30", "common practice, no source"),
    ("space", defaults::SPACE_M2, SPACE, "the organic rule for layers, Regulation (EU) 2020/464, annex I"),
];
const SPACE: &str = "\"4 m2 per bird\"";

const NONE: Kind = Kind::Choice(|| vec![NO_LIMIT]);
const A_SHARE: Kind = Kind::Either(&[Kind::Number(&bounds::SHARE), NONE]);
const AN_AREA: Kind = Kind::Either(&[Kind::Quantity(&M2_BIRD, &bounds::SPACE_M2), NONE]);
const A_LOAD: Kind = Kind::Either(&[Kind::Quantity(&LOAD, &bounds::NUTRIENT_KG_HA), NONE]);
const SOME_DAYS: Kind =
    Kind::Either(&[Kind::Number(&bounds::BARE_DAYS), Kind::Quantity(&DAYS, &bounds::BARE_DAYS), NONE]);
const NOT_LIMITED: Taken = Taken::Words("no limit");

pub(super) const LIMITS_FORMAT: TableFormat = TableFormat {
    heading: "[limits]",
    written: "[limits]",
    what: "What must hold. Three limits stand unless you write another, or \"none\" to do without it.",
    keys: &[
        left_out(
            "least_cover",
            A_SHARE,
            Taken::Number(defaults::LEAST_COVER),
            "0.7",
            "Least ground cover, that of a plot's barest ring outside beds; a plot that is all beds counts in no limit on it.",
        ),
        left_out(
            "bare_days",
            SOME_DAYS,
            Taken::Number(defaults::BARE_DAYS),
            "30",
            "Most days a plot lies under half cover that there were not with the birds shut in.",
        ),
        left_out(
            "space",
            AN_AREA,
            Taken::Words(SPACE),
            "\"4 m2 per bird\"",
            "Least area a bird; it counts the yard without a roof and, for the share of days with a gate open, each plot by its days open a year, wholly from 30 on.",
        ),
        left_out(
            "nitrogen",
            A_LOAD,
            NOT_LIMITED,
            "\"170 kg/ha per year\"",
            "Most nitrogen in any 12 months, site mean.",
        ),
        left_out(
            "nitrogen_worst",
            A_LOAD,
            NOT_LIMITED,
            "\"250 kg/ha per year\"",
            "Most nitrogen in any 12 months on the most loaded bed or sward.",
        ),
        left_out("nitrogen_leached", A_LOAD, NOT_LIMITED, "\"40 kg/ha per year\"", "Most nitrogen leached, site mean."),
        left_out(
            "phosphorus",
            A_LOAD,
            NOT_LIMITED,
            "\"40 kg/ha per year\"",
            "Most phosphorus in any 12 months, site mean.",
        ),
        left_out("yard_days", SOME_DAYS, NOT_LIMITED, "200", "Most days a year with no plot open."),
        left_out("mud_days", SOME_DAYS, NOT_LIMITED, "20", "Most days a year with mud in the yard."),
    ],
    rest: None,
    examples: &[],
};

/// What a worth is written as.
const WORTH_FORM: Kind = Kind::Either(&[
    Kind::Form("hours of your work or money per unit of the measure, \"0.3 h per kg\" or \"2.5 EUR per kg\""),
    Kind::Number(&bounds::WORTH),
]);

pub(super) const AIMS: TableFormat = TableFormat {
    heading: "[aims]",
    written: "[aims]",
    what: "Hours of your work, or money, that a unit of any measure is worth: by their sum strategies are compared. Without the section: work_saved 1 h per h, harvest_kept 0.3 h per kg, feed_saved 0.05 h per kg, cover_loss -0.4 h per point.",
    keys: &[],
    rest: Some(&RestFormat {
        name: "MEASURE",
        what: "What a unit of the measure is worth; negative: what is not wanted.",
        known: Some(|| Measure::ALL.iter().map(|measure| measure.name()).collect()),
        kind: WORTH_FORM,
        example: "work_saved = \"1 h per h\"\ncover_loss = \"-0.4 h per point\"",
    }),
    examples: &[],
};

const PER_KG_FORM: Kind = Kind::Form("money, or hours of your work, for a mass: \"2.5 EUR per kg\"");

pub(super) const PRICES: TableFormat = TableFormat {
    heading: "[prices]",
    written: "[prices]",
    what: "All worth in money; the word or sign is yours, one a site, and never converted.",
    keys: &[
        left_out(
            "hour",
            Kind::Form("money: \"12 EUR\""),
            Taken::Words("none"),
            "\"12 EUR\"",
            "Price of an hour of your work; hours of `[aims]` count at it.",
        ),
        left_out("harvest", PER_KG_FORM, Taken::Words("none"), "\"2.5 EUR per kg\"", "Price of what is harvested."),
        left_out(
            "feed",
            PER_KG_FORM,
            Taken::Words("none"),
            "\"0.5 EUR per kg\"",
            "Price of feed; where all worth is in money and feed has no price, feed saved counts nothing.",
        ),
    ],
    rest: None,
    examples: &[],
};

pub(super) const COMPARE: TableFormat = TableFormat {
    heading: "[compare]",
    written: "[compare]",
    what: "How strategies are compared.",
    keys: &[
        left_out(
            "against",
            Kind::Named("strategy"),
            Taken::Words("the first strategy"),
            "\"by-eye\"",
            "The strategy that others are compared with.",
        ),
        left_out(
            "sure",
            Kind::Number(&bounds::SHARE),
            Taken::Number(defaults::REQUIRED_RELIABILITY),
            "0.9",
            "Share of possible years in which limits must hold.",
        ),
        left_out(
            "worth",
            Kind::Number(&bounds::SHARE),
            Taken::Number(defaults::INDIFFERENCE_SHARE),
            "0.05",
            "Difference worth telling apart, a share of the best's gain.",
        ),
        left_out(
            "pest_weights",
            Kind::Table(&PEST_WEIGHTS),
            Taken::Words("1 each"),
            "{ \"plum sawfly\" = 2 }",
            "What pests of the site count against each other.",
        ),
    ],
    rest: None,
    examples: &[],
};

const PEST_WEIGHTS: TableFormat = TableFormat {
    heading: "[compare] pest_weights",
    written: "pest_weights = { … }",
    what: "What pests of the site count against each other.",
    keys: &[],
    rest: Some(&RestFormat {
        name: "PEST",
        what: "What the pest counts, an ordinary one being 1.",
        known: None,
        kind: Kind::Number(&bounds::WEIGHT),
        example: "\"plum sawfly\" = 2",
    }),
    examples: &[],
};

/// The limits: those written, and the defaults that are neither written nor named away.
pub(super) fn limits(context: &mut Context<'_>, root: &Reader<'_>) -> Limits {
    let reader = root.table("limits");
    let (mut all, mut taken) = (Vec::new(), Vec::new());
    for &(name, measure, sense) in LIMITS {
        let mut add = |bound, source| all.push(Limit { name, measure, sense, bound, source });
        let default = DEFAULT_LIMITS.iter().find(|(key, ..)| *key == name);
        match (reader.as_ref().and_then(|reader| reader.get(name)), default) {
            (Some(item), _) if item.value().as_str() == Some(NO_LIMIT) => {}
            (Some(item), _) => {
                let bound = LIMITS_FORMAT.key(name).and_then(|declared| limit(&item, &declared.kind));
                bound.into_iter().for_each(|bound| add(bound, None));
            }
            (None, Some(&(_, bound, written, source))) => {
                add(bound, Some(source));
                taken.push(format!("{name} = {written}"));
            }
            (None, None) => {}
        }
    }
    if !taken.is_empty() {
        context.default("limits", taken.join(", "));
    }
    reader.into_iter().for_each(Reader::finish);
    with_cover_line(all)
}

/// The number of a limit, written as it is declared.
fn limit(item: &Item<'_>, kind: &Kind) -> Option<f64> {
    match kind {
        Kind::Quantity(what, bound) => item.quantity(what, bound),
        Kind::Number(bound) => item.number(bound),
        Kind::Either(kinds) => {
            let bare = item.bare().is_some();
            let fits =
                |kind: &&Kind| matches!(kind, Kind::Number(_)) && bare || matches!(kind, Kind::Quantity(..)) && !bare;
            kinds.iter().find(fits).or(kinds.first()).and_then(|kind| limit(item, kind))
        }
        _ => None,
    }
}

fn with_cover_line(all: Vec<Limit>) -> Limits {
    let cover = all.iter().find(|limit| limit.measure == Measure::LeastCover).map(|limit| limit.bound);
    Limits { all, cover_line: cover.unwrap_or(defaults::LEAST_COVER) }
}

/// How the worth of a measure is written, by its unit; and measure units in one written unit.
fn per_unit(unit: &str) -> Option<(&'static Measured, f64)> {
    match unit {
        "h/yr" => Some((&PER_HOUR, 1.0)),
        "kg/yr" => Some((&PER_KG, 1.0)),
        "points" | "%" | "%/yr" => Some((&PER_POINT, 1.0)),
        "share" => Some((&PER_POINT, 100.0)),
        "moves/yr" => Some((&PER_MOVE, 1.0)),
        "d" | "d/yr" => Some((&PER_DAY, 1.0)),
        "kg/ha/yr" => Some((&PER_LOAD, 1.0)),
        "m2 per bird" => Some((&PER_SPACE, 1.0)),
        _ => None,
    }
}

/// Default aims, hours of the keeper's work per unit of the measure, from memory: a kilogram of vegetables at about a third
/// of an hour's wage, of feed at a twentieth; a point of cover (1 % of some 500 m² for a year) as the hours to reseed it.
const DEFAULT_AIMS: &[(Measure, f64)] =
    &[(Measure::WorkSaved, 1.0), (Measure::HarvestKept, 0.3), (Measure::FeedSaved, 0.05), (Measure::CoverLoss, -0.4)];

/// What a keeper may give a price in `[prices]`, besides an hour, and the measure that is worth it.
const PRICED: [(&str, Measure); 2] = [("harvest", Measure::HarvestKept), ("feed", Measure::FeedSaved)];

/// What is bought has a price of its own: it is not guessed from that of an hour.
const BOUGHT: Measure = Measure::FeedSaved;

/// The aims: those written, or the defaults where there is no `[aims]`; hours are counted at the price of one where
/// `[prices]` has it.
pub(super) fn aims(context: &mut Context<'_>, root: &Reader<'_>) -> (AimUnit, Vec<(Measure, f64)>) {
    let mut purse = Purse::default();
    let mut worths: Vec<(Option<Item<'_>>, Measure, Worth)> = Vec::new();
    let written = root.table("aims");
    if let Some(reader) = root.table("prices") {
        purse.hour = reader.get("hour").and_then(|item| purse.price_of_an_hour(&item));
        for (key, measure) in PRICED {
            let Some(item) = reader.get(key) else { continue };
            let worth = purse.worth(&item, measure);
            worths.extend(worth.map(|worth| (Some(item), measure, worth)));
        }
        reader.finish();
    }
    let priced = |worths: &[(_, Measure, _)], measure| worths.iter().any(|(_, priced, _)| *priced == measure);
    for item in written.as_ref().map(Reader::entries).unwrap_or_default() {
        let Some((measure, worth)) = purse.aim(&item) else { continue };
        if priced(&worths, measure) {
            item.fault(format!("{} has a price in [prices] too", item.key), "Keep one of the two.");
        }
        worths.push((Some(item), measure, worth));
    }
    if written.is_none() {
        let in_money = purse.currency.is_some();
        let left = DEFAULT_AIMS.iter().filter(|(measure, _)| !priced(&worths, *measure)).copied();
        let (bought, left): (Vec<_>, Vec<_>) = left.partition(|(measure, _)| in_money && *measure == BOUGHT);
        let words = left.iter().map(|(m, points)| format!("{} {points} h per {}", m.name(), one(m.unit())));
        let without = bought.iter().map(|(m, _)| format!("{} nothing, no price given", m.name()));
        let words: Vec<String> = words.chain(without).collect();
        context.default("aims", words.join(", "));
        worths.extend(left.into_iter().map(|(measure, hours)| (None, measure, Worth::Hours(hours))));
    }
    if purse.currency.is_some() && purse.hour.is_none() {
        let in_hours = worths.iter().find(|(_, _, worth)| matches!(worth, Worth::Hours(hours) if *hours != 0.0));
        if let Some((item, ..)) = in_hours {
            purse.unpriced(item.clone().or_else(|| root.get("prices")));
        }
    }
    let hour = purse.hour.unwrap_or(1.0);
    let aims = worths.iter().map(|&(_, measure, worth)| (measure, worth.counted(hour))).collect();
    (purse.unit(), aims)
}

/// What one unit of a measure is worth, as written.
#[derive(Clone, Copy)]
enum Worth {
    Hours(f64),
    Money(f64),
}

impl Worth {
    /// In the unit of all aims; `hour` is the price of one, or 1.
    fn counted(self, hour: f64) -> f64 {
        match self {
            Worth::Hours(hours) => hours * hour,
            Worth::Money(money) => money,
        }
    }
}

/// The currency of a site, by the first line that has one, and the price of an hour.
#[derive(Default)]
struct Purse {
    currency: Option<Currency>,
    hour: Option<f64>,
}

impl Purse {
    fn unit(self) -> AimUnit {
        self.currency.map_or(AimUnit::Hours, AimUnit::Money)
    }

    /// Money that an item says, with what follows "per"; notes a second currency.
    fn money<'i>(&mut self, item: &Item<'i>) -> Option<(f64, Option<&'i str>)> {
        let (value, currency, per) = money::parse(item.value().as_str()?)?;
        let first = self.currency.get_or_insert_with(|| currency.clone());
        if first.sign != currency.sign {
            let message = format!("{} is in {}, and another line in {}", item.key, currency.sign, first.sign);
            item.fault(message, "Write all worth of a site in one currency; none is converted.");
        }
        Some((value, per))
    }

    fn price_of_an_hour(&mut self, item: &Item<'_>) -> Option<f64> {
        match self.money(item) {
            Some((value, None | Some("h" | "hour"))) if value > 0.0 => item.within(value, &bounds::WORTH),
            _ => {
                item.fault(
                    "hour is no price of an hour",
                    "Write what one is worth to you, for example hour = \"12 EUR\".",
                );
                None
            }
        }
    }

    fn aim(&mut self, item: &Item<'_>) -> Option<(Measure, Worth)> {
        let Some(measure) = Measure::by_name(&item.key) else {
            let names = Measure::ALL.iter().map(|measure| measure.name());
            let moved =
                crate::gone_keys::aim(&item.key).map(str::to_owned).or_else(|| crate::headings::remedy(&item.key));
            let remedy = moved.unwrap_or_else(|| did_you_mean(&item.key, names));
            item.page.error(item.key_span.clone(), format!("there is no measure {:?}", item.key), remedy);
            return None;
        };
        Some((measure, self.worth(item, measure)?))
    }

    fn worth(&mut self, item: &Item<'_>, measure: Measure) -> Option<Worth> {
        let Some((what, scale)) = per_unit(measure.unit()) else {
            return Some(Worth::Hours(item.number(&bounds::WORTH)?));
        };
        let Some((value, per)) = self.money(item) else {
            if let Some(remedy) = item.value().as_str().and_then(crate::gone_keys::points) {
                item.fault(format!("{} counts points, and aims count hours", item.key), remedy);
                return None;
            }
            return Some(Worth::Hours(item.quantity(what, &bounds::WORTH)? * scale));
        };
        // What stands after "per" is read as it is of hours.
        match parse(&format!("{value} h per {}", per.unwrap_or_default()), what) {
            Ok(value) => Some(Worth::Money(item.within(value, &bounds::WORTH)? * scale)),
            Err(_) => {
                let wanted = what.unit.trim_start_matches("h per ");
                let sign = self.currency.as_ref().map_or("EUR", |currency| &currency.sign);
                let remedy = format!("Write it so: {} = \"{value} {sign} per {wanted}\".", item.key);
                item.fault(format!("{} needs a price per {wanted}", item.key), remedy);
                None
            }
        }
    }

    /// Notes that hours stand beside money without a price.
    fn unpriced(&self, item: Option<Item<'_>>) {
        let (Some(item), Some(currency)) = (item, &self.currency) else { return };
        let message = format!("hours of work stand beside {}, and an hour has no price", currency.sign);
        let remedy = format!("Give it one: [prices] hour = \"12 {}\"; or write all worth in hours.", currency.sign);
        item.fault(message, remedy);
    }
}

/// One of a unit: "per point", not "per points".
fn one(unit: &str) -> &str {
    match unit {
        "points" => "point",
        "moves/yr" => "move/yr",
        unit => unit,
    }
}

/// How strategies are compared.
pub(super) fn compare(context: &Context<'_>, root: &Reader<'_>, strategies: &[StrategySpec]) -> CompareSettings {
    let pest_weights = vec![1.0; context.tables.pests.len()];
    let mut compare = CompareSettings {
        against: 0,
        required_reliability: defaults::REQUIRED_RELIABILITY,
        indifference_share: defaults::INDIFFERENCE_SHARE,
        pest_weights,
    };
    let Some(reader) = root.table("compare") else { return compare };
    let names = || strategies.iter().map(|strategy| strategy.name.as_str());
    if let Some(against) = reader.get("against").and_then(|item| item.name_in("strategy", names())) {
        compare.against = against;
    }
    let share = |key, otherwise| reader.get(key).and_then(|item| item.number(&bounds::SHARE)).unwrap_or(otherwise);
    compare.required_reliability = share("sure", compare.required_reliability);
    compare.indifference_share = share("worth", compare.indifference_share);
    for item in reader.table("pest_weights").map(|table| table.entries()).unwrap_or_default() {
        let pests = context.tables.pests.iter();
        match pests.clone().position(|pest| pest.name == item.key) {
            Some(pest) => compare.pest_weights[pest] = item.number(&bounds::WEIGHT).unwrap_or(1.0),
            None => {
                let remedy = did_you_mean(&item.key, pests.map(|pest| pest.name.as_str()));
                item.page.error(item.key_span.clone(), format!("the site has no pest {:?}", item.key), remedy);
            }
        }
    }
    reader.finish();
    compare
}
