//! `[limits]`, `[aims]` and `[compare]`: what strategies are judged by.

use super::bounds;
use super::context::Context;
use super::defaults;
use crate::model::{CompareSettings, Limit, Limits, Sense};
use crate::nearest::did_you_mean;
use crate::quantity::Bound;
use crate::quantity::kinds::{
    DAYS, LOAD, M2_BIRD, Measured, PER_DAY, PER_HOUR, PER_KG, PER_LOAD, PER_MOVE, PER_POINT, PER_SPACE,
};
use crate::reader::{Item, Reader};
use sim_engine::gates::spec::StrategySpec;
use sim_engine::measures::Measure;

/// How a limit is written.
enum Form {
    Bare(Bound),
    Quantity(Measured, Bound),
    Days(Bound),
}

/// Every limit: key, measure, the right side, how it is written.
const LIMITS: &[(&str, Measure, Sense, Form)] = &[
    ("least_cover", Measure::LeastCover, Sense::AtLeast, Form::Bare(bounds::SHARE)),
    ("bare_days", Measure::BareDays, Sense::AtMost, Form::Days(bounds::BARE_DAYS)),
    ("space", Measure::Space, Sense::AtLeast, Form::Quantity(M2_BIRD, bounds::SPACE_M2)),
    ("nitrogen", Measure::NitrogenLoad, Sense::AtMost, Form::Quantity(LOAD, bounds::NUTRIENT_KG_HA)),
    ("nitrogen_worst", Measure::NitrogenWorst, Sense::AtMost, Form::Quantity(LOAD, bounds::NUTRIENT_KG_HA)),
    ("nitrogen_leached", Measure::NitrogenLeached, Sense::AtMost, Form::Quantity(LOAD, bounds::NUTRIENT_KG_HA)),
    ("phosphorus", Measure::PhosphorusLoad, Sense::AtMost, Form::Quantity(LOAD, bounds::NUTRIENT_KG_HA)),
    ("yard_days", Measure::YardDays, Sense::AtMost, Form::Days(bounds::BARE_DAYS)),
    ("mud_days", Measure::MudDays, Sense::AtMost, Form::Days(bounds::BARE_DAYS)),
];

/// The limits: those written, or the defaults where there is no `[limits]`.
pub(super) fn limits(context: &mut Context<'_>, root: &Reader<'_>) -> Limits {
    let Some(reader) = root.table("limits") else {
        context.default("limits", "least_cover 0.7, bare_days 30, space 4 m2 per bird");
        return default_limits();
    };
    let mut all = Vec::new();
    for (name, measure, sense, form) in LIMITS {
        let Some(item) = reader.get(name) else { continue };
        let bound = match form {
            Form::Bare(bound) => item.number(bound),
            Form::Quantity(what, bound) => item.quantity(what, bound),
            Form::Days(bound) if item.bare().is_some() => item.number(bound),
            Form::Days(bound) => item.quantity(&DAYS, bound),
        };
        all.extend(bound.map(|bound| Limit { name, measure: *measure, sense: *sense, bound }));
    }
    reader.finish();
    with_cover_line(all)
}

fn default_limits() -> Limits {
    let bound = |measure| match measure {
        Measure::LeastCover => Some(defaults::LEAST_COVER),
        Measure::BareDays => Some(defaults::BARE_DAYS),
        Measure::Space => Some(defaults::SPACE_M2),
        _ => None,
    };
    let limit = |(name, measure, sense, _): &(&'static str, Measure, Sense, Form)| {
        Some(Limit { name, measure: *measure, sense: *sense, bound: bound(*measure)? })
    };
    with_cover_line(LIMITS.iter().filter_map(limit).collect())
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

/// The aims: those written, or the defaults where there is no `[aims]`.
pub(super) fn aims(context: &mut Context<'_>, root: &Reader<'_>) -> Vec<(Measure, f64)> {
    let Some(reader) = root.table("aims") else {
        let words: Vec<String> =
            DEFAULT_AIMS.iter().map(|(m, points)| format!("{} {points} h per {}", m.name(), one(m.unit()))).collect();
        context.default("aims", words.join(", "));
        return DEFAULT_AIMS.to_vec();
    };
    reader.entries().iter().filter_map(aim).collect()
}

/// One of a unit: "per point", not "per points".
fn one(unit: &str) -> &str {
    match unit {
        "points" => "point",
        "moves/yr" => "move/yr",
        unit => unit,
    }
}

fn aim(item: &Item<'_>) -> Option<(Measure, f64)> {
    let Some(measure) = Measure::by_name(&item.key) else {
        let names = Measure::ALL.iter().map(|measure| measure.name());
        let remedy = crate::gone_keys::aim(&item.key).map_or_else(|| did_you_mean(&item.key, names), str::to_owned);
        item.page.error(item.key_span.clone(), format!("there is no measure {:?}", item.key), remedy);
        return None;
    };
    match per_unit(measure.unit()) {
        Some((what, scale)) => Some((measure, item.quantity(what, &bounds::POINTS)? * scale)),
        None => Some((measure, item.number(&bounds::POINTS)?)),
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
