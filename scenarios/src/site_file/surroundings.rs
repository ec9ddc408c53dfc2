//! Where and when: place, `[run]`, `[yard]`, `[house]` and `[rules]`.

use super::bounds;
use super::context::Context;
use super::dates::full;
use super::defaults;
use crate::library::{Evidence, WaitingRule};
use crate::model::longest_wait;
use crate::quantity::Bound;
use crate::quantity::kinds::{AREA_M2, DAYS, HOURS, INTERVAL_D, LATITUDE_DEG, LENGTH_M, LONGITUDE_DEG, Measured};
use crate::reader::{Item, Reader};
use crate::table_format::{KeyFormat, Kind, TableFormat, Taken, left_out, required, words};
use crate::unknowns::{Target, Unknown};
use jiff::civil::Date;
use sim_engine::dates::days_of_years;
use sim_engine::site::{HardRules, House, Yard};
use sim_engine::weather::Place;
use toml::de::DeTable;

/// Place, longitude and offset.
pub(super) struct Whereabouts {
    pub place: Place,
    pub longitude_deg: Option<f64>,
    pub utc_offset_h: f64,
}

/// Where the site lies; also the elevation's default, if it was taken.
pub(super) fn whereabouts(root: &Reader<'_>) -> (Whereabouts, bool) {
    let latitude = root.needed("latitude").and_then(|item| item.quantity(&LATITUDE_DEG, &bounds::LATITUDE));
    let quantity = |key, what: &Measured, bound: &Bound| root.get(key).and_then(|item| item.quantity(what, bound));
    let elevation = quantity("elevation", &LENGTH_M, &bounds::ELEVATION_M);
    let place = Place {
        latitude_deg: latitude.unwrap_or(0.0),
        elevation_m: elevation.unwrap_or(defaults::ELEVATION_M),
        above_weather_m: 0.0,
    };
    let longitude_deg = quantity("longitude", &LONGITUDE_DEG, &bounds::LONGITUDE);
    let utc_offset_h = quantity("utc_offset", &HOURS, &bounds::UTC_OFFSET_H).unwrap_or(0.0);
    (Whereabouts { place, longitude_deg, utc_offset_h }, root.get("elevation").is_none())
}

/// Keys at the top of a site file that say where it is.
pub(super) const WHEREABOUTS: [KeyFormat; 4] = [
    required(
        "latitude",
        Kind::Quantity(&LATITUDE_DEG, &bounds::LATITUDE),
        "\"52.6 deg\"",
        "How far north it lies; south is negative, or \"33.9 S\".",
    ),
    left_out(
        "longitude",
        Kind::Quantity(&LONGITUDE_DEG, &bounds::LONGITUDE),
        Taken::Words("none"),
        "\"-1.1 deg\"",
        "How far east it lies; no figure hangs on it, the clock of the model is the sun's.",
    ),
    left_out(
        "utc_offset",
        Kind::Quantity(&HOURS, &bounds::UTC_OFFSET_H),
        Taken::Quantity(0.0, "h"),
        "\"1 h\"",
        "What its clock is ahead of UTC; no figure hangs on it, the clock of the model is the sun's.",
    ),
    left_out(
        "elevation",
        Kind::Quantity(&LENGTH_M, &bounds::ELEVATION_M),
        Taken::Quantity(defaults::ELEVATION_M, "m"),
        "\"95 m\"",
        "Its height: it acts on sunshine and, where a station's file has radiation, humidity and wind, by the air's pressure on evaporation; on temperature only together with `elevation` of `[weather]`.",
    ),
];

/// Units of the screens and reports of a site, and whether they are US customary ones.
const UNITS: &[(&str, bool)] = &[("metric", false), ("us", true)];

/// The key that says in which units a site is shown.
pub(super) const UNITS_KEY: KeyFormat = left_out(
    "units",
    Kind::Choice(|| words(UNITS)),
    Taken::Words("\"metric\""),
    "\"us\"",
    "Units of its screens and reports, unless `--units` says others; the file itself may be written in any.",
);

/// Whether the site is shown in US customary units.
pub(super) fn us_units(root: &Reader<'_>) -> bool {
    root.get("units").and_then(|item| item.choice(UNITS)).unwrap_or(false)
}

/// The same of a text with faults, as far as that line can be read.
pub(super) fn says_us_units(text: &str) -> bool {
    let (document, _) = DeTable::parse_recoverable(text);
    let said = document.get_ref().get(UNITS_KEY.key).and_then(|units| units.get_ref().as_str());
    said.is_some_and(|said| UNITS.contains(&(said, true)))
}

/// Steps of a day.
const STEPS: Bound = Bound { low: 1.0, high: 8.0, wording: "A day has 1, 2, 4 or 8 steps." };

pub(super) const RUN: TableFormat = TableFormat {
    heading: "[run]",
    written: "[run]",
    what: "When it begins, and how long it goes on.",
    keys: &[
        required("start", Kind::Date, "2027-03-01", "First day."),
        left_out("years", Kind::Whole(&bounds::YEARS), Taken::Number(defaults::YEARS as f64), "3", "Years of a run."),
        left_out(
            "draws",
            Kind::Whole(&bounds::DRAWS),
            Taken::Number(defaults::DRAWS as f64),
            "200",
            "Possible years that strategies are compared on.",
        ),
        left_out("steps_per_day", Kind::Whole(&STEPS), Taken::Number(1.0), "1", "Steps of a day: 1, 2, 4 or 8."),
    ],
    rest: None,
    examples: &[],
};

pub(super) const YARD: TableFormat = TableFormat {
    heading: "[yard]",
    written: "[yard]",
    what: "Where the birds are while every gate is shut.",
    keys: &[
        required("area", Kind::Quantity(&AREA_M2, &bounds::YARD_M2), "\"48 m2\"", "Its area."),
        left_out(
            "surface",
            Kind::Choice(|| words(SURFACES)),
            Taken::Words("\"earth\""),
            "\"wood chip\"",
            "What it is covered with: wood chip, gravel, sand and straw drain, the others turn to mud.",
        ),
        left_out(
            "cleaned_out",
            Kind::Quantity(&INTERVAL_D, &bounds::INTERVAL_D),
            Taken::Words("never"),
            "\"every 6 weeks\"",
            "How often what lies there goes to the heap.",
        ),
        left_out(
            "covered",
            Kind::Flag,
            Taken::Words("false"),
            "false",
            "Whether it has a roof: the birds may be there under a housing order.",
        ),
        left_out(
            "netted",
            Kind::Flag,
            Taken::Words("false"),
            "true",
            "Whether it has nets: the birds may be there under a housing order.",
        ),
        left_out("shade", Kind::Number(&bounds::SHARE), Taken::Number(0.0), "0.3", "Share of it that lies in shade."),
    ],
    rest: None,
    examples: &[],
};

pub(super) const HOUSE: TableFormat = TableFormat {
    heading: "[house]",
    written: "[house]",
    what: "Where the birds sleep.",
    keys: &[
        left_out(
            "night_share",
            Kind::Number(&bounds::SHARE),
            Taken::Number(defaults::NIGHT_SHARE),
            "0.45",
            "Share of the droppings that fall there at night; by day what birds drop there comes to it; unknown by 0.78 to 1.33 of it.",
        ),
        left_out(
            "mobile",
            Kind::Flag,
            Taken::Words("false"),
            "true",
            "Whether it moves with the flock to the plot whose gate is open (the first, of several), and to the yard when none is: what falls in it lies on that plot and counts there, the birds use all of the plot alike, and a move takes time (`house_moving_time`).",
        ),
    ],
    rest: None,
    examples: &[],
};

/// What may lie on the ground that gates stay shut for.
const SHUT_ON: &[(&str, usize)] = &[("mud", 0), ("frozen", 1), ("snow", 2)];

const COUNTRIES: &str = "one of \"United States\", \"Canada\", \"United Kingdom\", \"European Union\", \"Australia\", \"New Zealand\", \"India\", \"South Africa\"";

pub(super) const RULES: TableFormat = TableFormat {
    heading: "[rules]",
    written: "[rules]",
    what: "What keeps a gate shut, whatever a strategy says.",
    keys: &[
        left_out(
            "country",
            Kind::Either(&[Kind::Form(COUNTRIES), Kind::List(&Kind::Form(COUNTRIES))]),
            Taken::Words("the US organic rule, 120 and 90 days"),
            "[\"Ireland\", \"United Kingdom\"]",
            "Whose waiting rule is taken, of a list the longest; where no number of days is known of a country, 120 and 90 are taken for it. Days written below come first.",
        ),
        left_out(
            "waiting_days_touching",
            Kind::Quantity(&DAYS, &bounds::WAITING_D),
            Taken::Quantity(defaults::WAITING_TOUCHING_D as f64, "days"),
            "\"120 days\"",
            "Days before a harvest that touches the soil; shorter only with a reason.",
        ),
        left_out(
            "waiting_days_other",
            Kind::Quantity(&DAYS, &bounds::WAITING_D),
            Taken::Quantity(defaults::WAITING_OTHER_D as f64, "days"),
            "\"60 days\"",
            "Days before another harvest; shorter only with a reason.",
        ),
        left_out(
            "waiting_rule_reason",
            Kind::Text,
            Taken::Words("none"),
            "\"all of it is cooked\"",
            "Why waiting periods are shorter than the rule; printed on every sheet.",
        ),
        left_out(
            "shut_on",
            Kind::List(&Kind::Choice(|| words(SHUT_ON))),
            Taken::Words("`[\"mud\", \"frozen\", \"snow\"]`"),
            "[\"mud\"]",
            "The ground that gates stay shut on: wet, or hard with frost (grass walked on then turns brown), or white.",
        ),
    ],
    rest: None,
    examples: &[],
};

/// What `[run]` says.
pub(super) struct RunSettings {
    pub start: Date,
    pub years: u32,
    pub days: usize,
    pub draws: u32,
    pub steps_per_day: u32,
}

/// The run; a place holder where its start is missing.
pub(super) fn run(root: &Reader<'_>) -> RunSettings {
    let mut run = RunSettings {
        start: Date::constant(2001, 1, 1),
        years: defaults::YEARS,
        days: 0,
        draws: defaults::DRAWS,
        steps_per_day: 1,
    };
    let Some(reader) = root.needed("run").and_then(|item| item.table("[run]")) else {
        return run;
    };
    let year = Bound { low: 1900.0, high: 2200.0, wording: "A run starts in the years 1900 to 2200." };
    if let Some(item) = reader.needed("start")
        && let Some(start) = full(&item)
        && item.within(f64::from(start.year()), &year).is_some()
    {
        run.start = start;
    }
    if let Some(years) = reader.get("years").and_then(|item| item.whole(&bounds::YEARS)) {
        run.years = years;
    }
    if let Some(draws) = reader.get("draws").and_then(|item| item.whole(&bounds::DRAWS)) {
        run.draws = draws;
    }
    run.steps_per_day = steps(&reader);
    reader.finish();
    run.days = days_of_years(run.start, run.years);
    run
}

fn steps(reader: &Reader<'_>) -> u32 {
    let Some(item) = reader.get("steps_per_day") else { return 1 };
    match item.whole(&STEPS) {
        Some(steps) if !steps.is_power_of_two() => {
            item.fault(format!("steps_per_day is {steps}"), STEPS.wording);
            1
        }
        steps => steps.unwrap_or(1),
    }
}

/// Surfaces of a yard: whether they drain and take droppings.
const SURFACES: &[(&str, bool)] = &[
    ("wood chip", true),
    ("gravel", true),
    ("sand", true),
    ("straw", true),
    ("earth", false),
    ("grass", false),
    ("concrete", false),
];

/// The yard.
pub(super) fn yard(context: &mut Context<'_>, root: &Reader<'_>) -> Yard {
    let bare =
        Yard { area_m2: 1.0, drained: false, cleaned_every_days: None, covered: false, netted: false, shade: 0.0 };
    let Some(reader) = root.needed("yard").and_then(|item| item.table("[yard]")) else { return bare };
    let area = reader.needed("area").and_then(|item| item.quantity(&AREA_M2, &bounds::YARD_M2));
    let surface = reader.get("surface").and_then(|item| item.choice(SURFACES));
    if reader.get("surface").is_none() {
        context.default("yard.surface", "earth");
    }
    let cleaned = reader.get("cleaned_out").and_then(|item| item.quantity(&INTERVAL_D, &bounds::INTERVAL_D));
    let flag = |key| reader.get(key).and_then(|item| item.flag()).unwrap_or(false);
    let (covered, netted) = (flag("covered"), flag("netted"));
    let shade = reader.get("shade").and_then(|item| item.number(&bounds::SHARE)).unwrap_or(0.0);
    reader.finish();
    let cleaned_every_days = cleaned.map(|days| days.round() as u32);
    let (area_m2, drained) = (area.unwrap_or(1.0), surface.unwrap_or(false));
    Yard { area_m2, drained, cleaned_every_days, covered, netted, shade }
}

/// The house; its night share is never known exactly.
pub(super) fn house(context: &mut Context<'_>, root: &Reader<'_>) -> House {
    let (mut night_share, mut mobile) = (defaults::NIGHT_SHARE, false);
    match root.table("house") {
        Some(reader) => {
            let stated = reader.get("night_share").and_then(|item| item.number(&bounds::SHARE));
            night_share = stated.unwrap_or(night_share);
            mobile = reader.get("mobile").and_then(|item| item.flag()).unwrap_or(false);
            reader.finish();
        }
        None => context.default("house.night_share", night_share.to_string()),
    }
    context.starts.push(Unknown {
        name: "house.night_share".to_owned(),
        unit: "share",
        domain: bounds::SHARE.domain(),
        low: night_share * defaults::NIGHT_SHARE_LOW,
        value: night_share,
        high: (night_share * defaults::NIGHT_SHARE_HIGH).min(1.0),
        tie: None,
        against: false,
        source: "nobody weighs it; 0.35 to 0.6 where 0.45 is likely".to_owned(),
        evidence: Evidence::FromMemory,
        target: Target::NightShare,
    });
    House { night_share, mobile }
}

/// The hard rules of a site that names none.
pub(super) const DEFAULT_RULES: HardRules = HardRules {
    waiting_days_touching: defaults::WAITING_TOUCHING_D,
    waiting_days_other: defaults::WAITING_OTHER_D,
    own_waits: Vec::new(),
    shut_on_mud: true,
    shut_on_frozen: true,
    shut_on_snow: true,
};

/// Reads the hard rules into the context; gives the rules of the countries that are named, and why a waiting period is shorter
/// than the rule.
pub(super) fn rules(context: &mut Context<'_>, root: &Reader<'_>) -> (Vec<WaitingRule>, Option<String>) {
    let Some(reader) = root.table("rules") else {
        context.default("rules", "waiting periods of 120 and 90 days, gates shut on mud, frozen ground and snow");
        return (Vec::new(), None);
    };
    let countries = reader.get("country").map(|item| waiting_rules(context, &item)).unwrap_or_default();
    let rules = &mut context.rules;
    [rules.waiting_days_touching, rules.waiting_days_other] =
        [true, false].map(|soil| longest_wait(&countries, soil).0);
    let reason = reader.get("waiting_rule_reason").and_then(|item| item.text());
    let reason = reason.map(str::trim).filter(|reason| !reason.is_empty());
    let waiting = |key, rule: u32| {
        let Some(item) = reader.get(key) else { return rule };
        let days = item.quantity(&DAYS, &bounds::WAITING_D).map_or(rule, |days| days.round() as u32);
        if days < rule && reason.is_none() {
            let message = format!("{key} is {days} days, shorter than the rule of {rule}");
            item.fault(message, "Say why: waiting_rule_reason = \"…\"; it is printed on every sheet.");
        }
        days
    };
    rules.waiting_days_touching = waiting("waiting_days_touching", rules.waiting_days_touching);
    rules.waiting_days_other = waiting("waiting_days_other", rules.waiting_days_other);
    shut_on(&reader, rules);
    reader.finish();
    (countries, reason.map(str::to_owned))
}

/// The rules of the countries of these names, one or a list, each once.
fn waiting_rules(context: &Context<'_>, item: &Item<'_>) -> Vec<WaitingRule> {
    let list = if item.value().as_array().is_some() { item.list().unwrap_or_default() } else { vec![item.clone()] };
    let mut rules: Vec<WaitingRule> = Vec::new();
    for rule in list.iter().filter_map(|item| waiting_rule(context, item)) {
        if !rules.contains(&rule) {
            rules.push(rule);
        }
    }
    rules
}

/// The rule of the country of this name.
fn waiting_rule(context: &Context<'_>, item: &Item<'_>) -> Option<WaitingRule> {
    let rules = context.library.waiting_rules();
    let names = |rule: &WaitingRule| [vec![rule.country.clone()], rule.also.clone()].concat();
    let named: Vec<(usize, String)> =
        rules.iter().enumerate().flat_map(|(at, rule)| names(rule).into_iter().map(move |name| (at, name))).collect();
    let found = item.name_in("waiting rule of", named.iter().map(|(_, name)| name.as_str()))?;
    rules.get(named[found].0).cloned()
}

fn shut_on(reader: &Reader<'_>, rules: &mut HardRules) {
    let Some(list) = reader.get("shut_on").and_then(|item| item.list()) else { return };
    let words: Vec<usize> = list.iter().filter_map(|item| item.choice(SHUT_ON)).collect();
    rules.shut_on_mud = words.contains(&0);
    rules.shut_on_frozen = words.contains(&1);
    rules.shut_on_snow = words.contains(&2);
}
