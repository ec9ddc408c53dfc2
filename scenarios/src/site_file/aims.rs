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
use crate::quantity::{Bound, parse};
use crate::reader::{Item, Reader};
use sim_engine::gates::spec::StrategySpec;
use sim_engine::measures::Measure;

/// How a limit is written.
enum Form {
    Bare(Bound),
    Quantity(Measured, Bound),
    Days(Bound),
}

/// A limit that a site may have.
struct LimitForm {
    key: &'static str,
    measure: Measure,
    sense: Sense,
    form: Form,
    /// What holds unless the file says otherwise, how it is written, and where it is from.
    default: Option<(f64, &'static str, &'static str)>,
}

const fn limit(key: &'static str, measure: Measure, sense: Sense, form: Form) -> LimitForm {
    LimitForm { key, measure, sense, form, default: None }
}

/// Every limit.
const LIMITS: &[LimitForm] = &[
    LimitForm {
        default: Some((defaults::LEAST_COVER, "0.70", "common practice, no source")),
        ..limit("least_cover", Measure::LeastCover, Sense::AtLeast, Form::Bare(bounds::SHARE))
    },
    LimitForm {
        default: Some((defaults::BARE_DAYS, "30", "common practice, no source")),
        ..limit("bare_days", Measure::BareDays, Sense::AtMost, Form::Days(bounds::BARE_DAYS))
    },
    LimitForm {
        default: Some((
            defaults::SPACE_M2,
            "\"4 m2 per bird\"",
            "the organic rule for layers, Regulation (EU) 2020/464, annex I",
        )),
        ..limit("space", Measure::Space, Sense::AtLeast, Form::Quantity(M2_BIRD, bounds::SPACE_M2))
    },
    limit("nitrogen", Measure::NitrogenLoad, Sense::AtMost, Form::Quantity(LOAD, bounds::NUTRIENT_KG_HA)),
    limit("nitrogen_worst", Measure::NitrogenWorst, Sense::AtMost, Form::Quantity(LOAD, bounds::NUTRIENT_KG_HA)),
    limit("nitrogen_leached", Measure::NitrogenLeached, Sense::AtMost, Form::Quantity(LOAD, bounds::NUTRIENT_KG_HA)),
    limit("phosphorus", Measure::PhosphorusLoad, Sense::AtMost, Form::Quantity(LOAD, bounds::NUTRIENT_KG_HA)),
    limit("yard_days", Measure::YardDays, Sense::AtMost, Form::Days(bounds::BARE_DAYS)),
    limit("mud_days", Measure::MudDays, Sense::AtMost, Form::Days(bounds::BARE_DAYS)),
];

/// What names a limit away.
const NO_LIMIT: &str = "none";

/// The limits: those written, and the defaults that are neither written nor named away.
pub(super) fn limits(context: &mut Context<'_>, root: &Reader<'_>) -> Limits {
    let reader = root.table("limits");
    let (mut all, mut taken) = (Vec::new(), Vec::new());
    for known in LIMITS {
        let mut add = |bound, source| {
            let LimitForm { key, measure, sense, .. } = *known;
            all.push(Limit { name: key, measure, sense, bound, source });
        };
        match (reader.as_ref().and_then(|reader| reader.get(known.key)), known.default) {
            (Some(item), _) if item.value().as_str() == Some(NO_LIMIT) => {}
            (Some(item), _) => known.bound(&item).into_iter().for_each(|bound| add(bound, None)),
            (None, Some((bound, written, source))) => {
                add(bound, Some(source));
                taken.push(format!("{} = {written}", known.key));
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

impl LimitForm {
    fn bound(&self, item: &Item<'_>) -> Option<f64> {
        match &self.form {
            Form::Bare(bound) => item.number(bound),
            Form::Quantity(what, bound) => item.quantity(what, bound),
            Form::Days(bound) if item.bare().is_some() => item.number(bound),
            Form::Days(bound) => item.quantity(&DAYS, bound),
        }
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
        let left = DEFAULT_AIMS.iter().filter(|(measure, _)| !priced(&worths, *measure)).copied();
        let left: Vec<(Measure, f64)> = left.collect();
        let words: Vec<String> =
            left.iter().map(|(m, points)| format!("{} {points} h per {}", m.name(), one(m.unit()))).collect();
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
