//! A site file understood: the engine's site, what is unknown about it, what it is
//! judged by, and what was taken for granted.

use crate::diagnose::Fault;
use crate::library::{Entry, EntryKind, HARMS, WaitingRule};
use crate::money::AimUnit;
use crate::site_file::defaults;
use crate::unknowns::Unknown;
use crate::weather_source::WeatherSource;
use sim_engine::gates::spec::StrategySpec;
use sim_engine::measures::Measure;
use sim_engine::site::Site;

/// A site file understood.
#[derive(Clone, Debug)]
pub struct SiteModel {
    /// Name of the site.
    pub name: String,
    /// Its screens and reports are in US customary units, unless others are asked for.
    pub us_units: bool,
    /// The site with every unknown at its likely value.
    pub base: Site,
    /// Longitude, degrees east, for dusk times.
    pub longitude_deg: Option<f64>,
    /// Hours local time is ahead of UTC.
    pub utc_offset_h: f64,
    /// Whole years of the run.
    pub years: u32,
    /// Possible years to draw.
    pub draws: u32,
    /// Where weather comes from.
    pub weather: WeatherSource,
    /// Gaps of a station's file of up to so many days are filled.
    pub fill_gaps_days: u32,
    /// Strategies, in the order of the file.
    pub strategies: Vec<StrategySpec>,
    /// Every number that is not known exactly.
    pub unknowns: Vec<Unknown>,
    /// Library entries in use: kind, index in the engine's table, entry.
    pub entries: Vec<(EntryKind, usize, Entry)>,
    /// What a unit of each measure, its own, is worth, in `aim_unit`.
    pub aims: Vec<(Measure, f64)>,
    /// What aims are counted in.
    pub aim_unit: AimUnit,
    /// What must hold.
    pub limits: Limits,
    /// How strategies are compared.
    pub compare: CompareSettings,
    /// The rules of the countries the file names; empty where it names none, and the US organic rule is taken.
    pub waiting_rules: Vec<WaitingRule>,
    /// Why a waiting period is shorter than the rule; printed on every sheet.
    pub waiting_rule_reason: Option<String>,
    /// What the file left open, and what was taken.
    pub defaults: Vec<DefaultUsed>,
    /// Names of the file that were read as another of the same thing.
    pub names_read: Vec<NameRead>,
    /// What a keeper should look at again.
    pub warnings: Vec<Fault>,
}

impl SiteModel {
    /// Doubts about plants that can harm birds, where birds come to them.
    pub fn harms(&self) -> impl Iterator<Item = &crate::diagnose::Fault> {
        self.warnings.iter().filter(|warning| warning.message.contains(HARMS))
    }

    /// Index of the strategy of this name.
    #[must_use]
    pub fn strategy(&self, name: &str) -> Option<usize> {
        self.strategies.iter().position(|strategy| strategy.name == name)
    }

    /// Days the rule asks for before a harvest that touches the soil, or another: the most of the countries the file names,
    /// or the US organic rule. The site may have set others.
    #[must_use]
    pub fn rule_days(&self, touches_soil: bool) -> u32 {
        longest_wait(&self.waiting_rules, touches_soil).0
    }

    /// The rule of the country those days are of; `None` where they are those of the US organic rule.
    #[must_use]
    pub fn waiting_rule(&self, touches_soil: bool) -> Option<&WaitingRule> {
        longest_wait(&self.waiting_rules, touches_soil).1
    }

    /// The rules of the countries whose days count for some harvest, each once; all that are named, where days of none do.
    #[must_use]
    pub fn rules_that_count(&self) -> Vec<&WaitingRule> {
        let mut counting: Vec<&WaitingRule> =
            [true, false].into_iter().filter_map(|soil| self.waiting_rule(soil)).collect();
        counting.dedup();
        if counting.is_empty() { self.waiting_rules.iter().collect() } else { counting }
    }
}

/// The longest wait that these rules ask for, and whose it is, the first of equals: a country whose days are not known has
/// those of the US organic rule, and so has no country at all.
pub(crate) fn longest_wait(rules: &[WaitingRule], touches_soil: bool) -> (u32, Option<&WaitingRule>) {
    let of = |(touching, other): (u32, u32)| if touches_soil { touching } else { other };
    let us = (of((defaults::WAITING_TOUCHING_D, defaults::WAITING_OTHER_D)), None);
    let waits = rules.iter().map(|rule| rule.days.map_or(us, |days| (of(days), Some(rule))));
    waits.rev().max_by_key(|(days, whose)| (*days, whose.is_some())).unwrap_or(us)
}

/// A default the file left to us.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DefaultUsed {
    /// Key, for example `plot.long-beds.irrigation`.
    pub key: String,
    /// What was taken, as it would be written.
    pub value: String,
}

/// A name that was read as another of the same thing: "zucchini" as "courgette".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NameRead {
    /// What it is, in a keeper's words.
    pub kind: &'static str,
    /// As the file has it.
    pub written: String,
    /// The entry it was read as.
    pub entry: String,
}

/// Which side of a bound is right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// The measure must not be below the bound.
    AtLeast,
    /// The measure must not be above the bound.
    AtMost,
}

/// One limit on a measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// Key in the site file.
    pub name: &'static str,
    /// Measure it binds.
    pub measure: Measure,
    /// Which side is right.
    pub sense: Sense,
    /// The bound, in the measure's unit.
    pub bound: f64,
    /// Where a bound is from that the site file does not write.
    pub source: Option<&'static str>,
}

impl Limit {
    /// Whether a value keeps the limit; a blank value does.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        match self.sense {
            Sense::AtLeast => value.is_nan() || value >= self.bound,
            Sense::AtMost => value.is_nan() || value <= self.bound,
        }
    }
}

/// What must hold. The waiting period is a hard rule of the engine and is not listed here.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Limits {
    /// The limits, in the order of reports.
    pub all: Vec<Limit>,
    /// Cover below which a plot-day counts as under the limit, 0 to 1.
    pub cover_line: f64,
}

/// How strategies are compared.
#[derive(Clone, Debug, PartialEq)]
pub struct CompareSettings {
    /// Index of the strategy the others are set against.
    pub against: usize,
    /// Chance with which a limit must hold, 0 to 1.
    pub required_reliability: f64,
    /// Difference worth telling apart, as a share of the best's gain over birds shut in.
    pub indifference_share: f64,
    /// Weight of each pest of the site in pest suppression.
    pub pest_weights: Vec<f64>,
}
