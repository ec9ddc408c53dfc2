//! How `[[strategy.NAME.rule]]` is declared.

use super::bounds;
use crate::library::EntryKind;
use crate::quantity::kinds::{DAYS, DEGREE_DAYS};
use crate::table_format::{Kind, TableFormat, Taken, left_out, required};
use sim_engine::gates::practice::rule::{Occasion, Which};

const ALWAYS: Taken = Taken::Words("always");
const SILENT: Kind = Kind::Form("wet, frozen, snow or \"hotter than 27 C\"");
const NO_END: Taken = Taken::Words("asked anew every morning");

pub(super) const RULE: TableFormat = TableFormat {
    heading: "[[strategy.NAME.rule]]",
    written: "[[strategy.shown.rule]]",
    what: "A rule of a keeper's practice. Rules are read from the top each morning: the first with a plot that may be open says which gate stands open. A stay that has begun goes on until it is over.",
    keys: &[
        required(
            "where",
            Kind::Either(&[Kind::Named("plot"), Kind::List(&Kind::Named("plot"))]),
            "\"orchard\"",
            "The plot, or a list of plots.",
        ),
        left_out(
            "which",
            Kind::Choice(|| Which::WORDS.iter().map(|(word, _)| *word).collect()),
            Taken::Words("as listed"),
            "\"longest rested\"",
            "Which of the plots first.",
        ),
        left_out(
            "when",
            Kind::Choice(|| Occasion::WORDS.iter().map(|(word, _)| *word).collect()),
            ALWAYS,
            "\"fruit on the ground\"",
            "Only then.",
        ),
        left_out(
            "between",
            Kind::List(&Kind::Form("a day of every year, leaf fall, bud break, first picking or last picking")),
            Taken::Words("the whole year"),
            "[\"06-01\", \"10-31\"]",
            "From when to when, over New Year too.",
        ),
        left_out(
            "while_rising",
            Kind::Table(&RISING),
            ALWAYS,
            "{ pest = \"plum sawfly\", from = \"-60 degree-days\", to = \"80 degree-days\" }",
            "While a pest rises from the soil, counted by the likely base, start and sum, as a keeper would.",
        ),
        left_out(
            "looks",
            Kind::Table(&LOOKS),
            Taken::Words("however the ground looks"),
            "{ enter_above = 0.85, leave_below = 0.7 }",
            "By the look of the ground.",
        ),
        left_out(
            "unless",
            Kind::Either(&[SILENT, Kind::List(&SILENT)]),
            Taken::Words("on any day"),
            "[\"wet\", \"hotter than 27 C\"]",
            "Not on such days.",
        ),
        left_out(
            "stay",
            Kind::Form("\"14 days\", \"at most 14 days\" or \"14 days by area\""),
            NO_END,
            "\"14 days\"",
            "How long a stay goes on once it has begun.",
        ),
        left_out(
            "rest",
            Kind::Quantity(&DAYS, &bounds::REST_D),
            Taken::Words("none"),
            "\"28 days\"",
            "Days since the last stay before they go in again.",
        ),
        left_out(
            "most",
            Kind::Form("\"42 days a year\" or \"6 weeks a year\""),
            Taken::Words("any number"),
            "\"42 days a year\"",
            "Most days of a calendar year in one plot under this rule.",
        ),
        left_out(
            "birds",
            Kind::Whole(&bounds::LET_THROUGH),
            Taken::Words("those of the strategy"),
            "4",
            "How many birds are let through.",
        ),
        left_out(
            "hours",
            Kind::Form("as `hours` of a strategy"),
            Taken::Words("those of the strategy"),
            "\"last 3 hours\"",
            "When the gate stands open.",
        ),
        left_out(
            "at_once",
            Kind::Flag,
            Taken::Words("false"),
            "true",
            "Whether it may end the stay of a rule further down.",
        ),
    ],
    rest: None,
    examples: &[
        "[[strategy.shown.rule]]\nwhere = \"orchard\"\nwhich = \"longest rested\"\nwhen = \"fruit on the ground\"\nbetween = [\"06-01\", \"10-31\"]\nlooks = { enter_above = 0.85, leave_below = 0.7 }\nunless = [\"wet\", \"hotter than 27 C\"]\nstay = \"14 days\"\nrest = \"28 days\"\nmost = \"42 days a year\"\nbirds = 4\nhours = \"last 3 hours\"\nat_once = true\nwhile_rising.pest = \"plum sawfly\"\nwhile_rising.from = \"-60 degree-days\"\nwhile_rising.to = \"80 degree-days\"",
    ],
};

const RISING: TableFormat = TableFormat {
    heading: "[[strategy.NAME.rule]] while_rising",
    written: "while_rising = { … }",
    what: "While a pest rises from the soil, in degree-days around half emergence.",
    keys: &[
        required("pest", Kind::Entry(EntryKind::Pest), "\"plum sawfly\"", "The pest."),
        required(
            "from",
            Kind::Quantity(&DEGREE_DAYS, &bounds::DEGREE_DAYS),
            "\"-60 degree-days\"",
            "From when on, against half emergence.",
        ),
        required("to", Kind::Quantity(&DEGREE_DAYS, &bounds::DEGREE_DAYS), "\"80 degree-days\"", "Until when."),
    ],
    rest: None,
    examples: &[
        "where = \"orchard\"\nwhile_rising.pest = \"plum sawfly\"\nwhile_rising.from = \"-60 degree-days\"\nwhile_rising.to = \"80 degree-days\"",
    ],
};

const LOOKS: TableFormat = TableFormat {
    heading: "[[strategy.NAME.rule]] looks",
    written: "looks = { … }",
    what: "By the look of the ground, in shares of cover where the plot is barest.",
    keys: &[
        required("enter_above", Kind::Number(&bounds::SHARE), "0.85", "Birds go in from this cover on."),
        required("leave_below", Kind::Number(&bounds::SHARE), "0.7", "It is left below this cover."),
    ],
    rest: None,
    examples: &["where = \"orchard\"\nlooks = { enter_above = 0.85, leave_below = 0.7 }"],
};
