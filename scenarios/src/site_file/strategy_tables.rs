//! How `[strategy.NAME]` and what a strategy does are declared.

use super::practice::YARD;
use super::practice_tables::RULE;
use super::{bounds, defaults};
use crate::library::EntryKind;
use crate::quantity::kinds::{DAYS, DEGREE_DAYS, TEMPERATURE_C};
use crate::table_format::{KeyFormat, Kind, TableFormat, Taken, left_out, required};

/// A kind of strategy: one of them must be there.
const fn does(key: &'static str, kind: Kind, example: &'static str, what: &'static str) -> KeyFormat {
    left_out(key, kind, Taken::Words("a strategy is of one kind"), example, what)
}

pub(super) const STRATEGY: TableFormat = TableFormat {
    heading: "[strategy.NAME]",
    written: "[strategy.shown]",
    what: "Which gate is open on which day: one of the kinds below. Without any: `all-open`, and `in-turn` with 14 days in each plot.",
    keys: &[
        left_out(
            "hours",
            Kind::Form(
                "\"last 3 hours\" (before dusk), \"first 90 minutes\", \"15:00 to dusk\", \"dawn to 10:00\" or \"2 hours after dawn to 1 hour before dusk\"",
            ),
            Taken::Words("dawn to dusk"),
            "\"last 3 hours\"",
            "When the gate stands open; the clock is the sun's, noon at 12:00. Birds range most in the first hours of a day and the last.",
        ),
        left_out(
            "birds",
            Kind::Whole(&bounds::LET_THROUGH),
            Taken::Words("the flock"),
            "4",
            "How many birds are let through.",
        ),
        does("all_shut", Kind::Table(&ALL_SHUT), "{}", "No birds out of the yard."),
        does("all_open", Kind::Table(&ALL_OPEN), "{}", "Every gate that may be open is."),
        does("continuous", Kind::Table(&CONTINUOUS), "{ plot = \"orchard\" }", "Always the same plot."),
        does("fixed_turn", Kind::Table(&FIXED_TURN), "{ stay = \"21 days\" }", "Plots in turn."),
        does("by_eye", Kind::Table(&BY_EYE), "{ enter_above = 0.9, leave_below = 0.75 }", "By the look of the ground."),
        does(
            "between_crops",
            Kind::Table(&BETWEEN_CROPS),
            "{ stay = \"14 days\", else = \"by-eye\" }",
            "Where a crop has just ended, else as another strategy.",
        ),
        does(
            "pest_date",
            Kind::Table(&PEST_DATE),
            "{ plot = \"orchard\", species = \"apple sawfly\", from = \"-60 degree-days\", to = \"80 degree-days\", else = \"by-eye\" }",
            "In a plot around half emergence of a pest, counted by the likely base, start and sum, as a keeper would.",
        ),
        does(
            "weather",
            Kind::Table(&WEATHER),
            "{ shade_above = \"27 C\", else = \"by-eye\" }",
            "Under shade after a hot day, in the yard on wet ground.",
        ),
        does("dated", Kind::Table(&DATED), "{ file = \"gates.csv\" }", "By the lines of a CSV file."),
        does("layered", Kind::List(&Kind::Named("strategy")), "[\"by-eye\"]", "The first of these that has an answer."),
        does(
            "rule",
            Kind::List(&Kind::Table(&RULE)),
            "[{ where = \"orchard\", stay = \"14 days\", rest = \"28 days\" }]",
            "A keeper's practice: rules, the first that has an answer on top.",
        ),
        left_out(
            "home",
            Kind::Either(&[Kind::Named("plot"), Kind::Choice(|| vec![YARD])]),
            Taken::Words("the yard"),
            "\"orchard\"",
            "With rules: where the birds are when none of them has an answer.",
        ),
    ],
    rest: None,
    examples: &[
        "[strategy.shown]\nfixed_turn = { stay = \"21 days\" }\nhours = \"last 3 hours\"\nbirds = 4",
        "[strategy.shown]\nlayered = [\"by-eye\"]",
        "[strategy.shown]\nhome = \"orchard\"\n[[strategy.shown.rule]]\nwhere = \"vegetables\"\nbetween = [\"11-01\", \"03-15\"]\nstay = \"14 days\"\nrest = \"28 days\"",
    ],
};

const fn kind_of(
    heading: &'static str,
    written: &'static str,
    what: &'static str,
    keys: &'static [KeyFormat],
) -> TableFormat {
    TableFormat { heading, written, what, keys, rest: None, examples: &[] }
}

const ELSE: KeyFormat =
    required("else", Kind::Named("strategy"), "\"by-eye\"", "The strategy that is followed otherwise.");

const ALL_SHUT: TableFormat =
    kind_of("[strategy.NAME] all_shut", "all_shut = {…}", "No birds out of the yard; it has no keys.", &[]);

const ALL_OPEN: TableFormat =
    kind_of("[strategy.NAME] all_open", "all_open = {…}", "Every gate that may be open is; it has no keys.", &[]);

const CONTINUOUS: TableFormat = kind_of(
    "[strategy.NAME] continuous",
    "continuous = { … }",
    "Always the same plot.",
    &[required("plot", Kind::Named("plot"), "\"orchard\"", "The plot.")],
);

const FIXED_TURN: TableFormat = kind_of(
    "[strategy.NAME] fixed_turn",
    "fixed_turn = { … }",
    "Plots in turn.",
    &[
        required("stay", Kind::Quantity(&DAYS, &bounds::STAY_D), "\"21 days\"", "Days in each plot."),
        left_out(
            "order",
            Kind::List(&Kind::Named("plot")),
            Taken::Words("all plots as in the file"),
            "[\"orchard\", \"vegetables\"]",
            "The plots in their turn.",
        ),
        left_out(
            "by_area",
            Kind::Flag,
            Taken::Words("false"),
            "true",
            "Whether stays are in proportion to area; else they are alike.",
        ),
    ],
);

const BY_EYE: TableFormat = kind_of(
    "[strategy.NAME] by_eye",
    "by_eye = { … }",
    "By the look of the ground, in shares of cover where the plot is barest; of a plot that is all beds, by what there is on the beds.",
    &[
        required("enter_above", Kind::Number(&bounds::SHARE), "0.9", "Birds go in from this cover on."),
        required("leave_below", Kind::Number(&bounds::SHARE), "0.75", "It is left below this cover."),
        left_out(
            "longest_stay",
            Kind::Quantity(&DAYS, &bounds::STAY_D),
            Taken::Quantity(defaults::LONGEST_STAY_D, "days"),
            "\"14 days\"",
            "After so many days it is left in any case.",
        ),
        left_out(
            "shortest_rest",
            Kind::Quantity(&DAYS, &bounds::REST_D),
            Taken::Quantity(defaults::SHORTEST_REST_D, "days"),
            "\"28 days\"",
            "For so many days they do not go in again.",
        ),
    ],
);

const BETWEEN_CROPS: TableFormat = kind_of(
    "[strategy.NAME] between_crops",
    "between_crops = { … }",
    "Where a crop has just ended, else as another strategy.",
    &[
        required(
            "stay",
            Kind::Quantity(&DAYS, &bounds::STAY_D),
            "\"14 days\"",
            "Days in the plot from the crop's end.",
        ),
        ELSE,
    ],
);

const PEST_DATE: TableFormat = kind_of(
    "[strategy.NAME] pest_date",
    "pest_date = { … }",
    "In a plot around half emergence of a pest, counted by the likely base, start and sum, as a keeper would.",
    &[
        required("plot", Kind::Named("plot"), "\"orchard\"", "The plot."),
        required("species", Kind::Entry(EntryKind::Pest), "\"apple sawfly\"", "The pest."),
        required(
            "from",
            Kind::Quantity(&DEGREE_DAYS, &bounds::DEGREE_DAYS),
            "\"-60 degree-days\"",
            "From when on, against half emergence.",
        ),
        required("to", Kind::Quantity(&DEGREE_DAYS, &bounds::DEGREE_DAYS), "\"80 degree-days\"", "Until when."),
        ELSE,
    ],
);

const WEATHER: TableFormat = kind_of(
    "[strategy.NAME] weather",
    "weather = { … }",
    "Under shade after a hot day, in the yard on wet ground; one of the two must be there.",
    &[
        left_out(
            "shade_above",
            Kind::Quantity(&TEMPERATURE_C, &bounds::WARM_C),
            Taken::Words("no such day"),
            "\"27 C\"",
            "Under shade after a day warmer than this.",
        ),
        left_out("off_wet_ground", Kind::Flag, Taken::Words("false"), "true", "In the yard where the ground is wet."),
        ELSE,
    ],
);

const DATED: TableFormat = kind_of(
    "[strategy.NAME] dated",
    "dated = { … }",
    "By the lines of a CSV file: date, plot, hours (`last 3 hours`), birds (from 1); each holds until the next date, whatever the order of the lines; a line twice is a fault.",
    &[required("file", Kind::File("CSV file of dates"), "\"gates.csv\"", "The file.")],
);
