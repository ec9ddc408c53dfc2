//! The site file as a whole, as it is declared: the keys at its top, and under them every table.

use super::{aims, birds, defaults, events, plots, strategy_tables, surroundings, unsure, weather};
use crate::table_format::{Kind, RestFormat, TableFormat, Taken, left_out, required};

/// The site file.
pub const SITE: TableFormat = TableFormat {
    heading: "the site file",
    written: "",
    what: "Keys at the top of the file, before the first heading.",
    keys: &[
        required("format", Kind::FormatNumber(2), "2", "The number of this format."),
        left_out(
            "name",
            Kind::Text,
            Taken::Words(defaults::NAME),
            "\"My orchard\"",
            "What the site is called: 1 to 80 characters in one line.",
        ),
        surroundings::WHEREABOUTS[0],
        surroundings::WHEREABOUTS[1],
        surroundings::WHEREABOUTS[2],
        surroundings::WHEREABOUTS[3],
        required(
            "run",
            Kind::Table(&surroundings::RUN),
            "{ start = 2027-03-01 }",
            "When it begins, and how long it goes on.",
        ),
        required(
            "weather",
            Kind::Table(&weather::WEATHER),
            "{ climate = \"cool-maritime\" }",
            "Where the weather comes from.",
        ),
        required(
            "yard",
            Kind::Table(&surroundings::YARD),
            "{ area = \"48 m2\", surface = \"wood chip\" }",
            "Where the birds are while every gate is shut.",
        ),
        left_out(
            "house",
            Kind::Table(&surroundings::HOUSE),
            Taken::Words("its defaults"),
            "{ night_share = 0.45 }",
            "Where the birds sleep.",
        ),
        left_out(
            "birds",
            Kind::Tables(&Kind::Table(&birds::BIRDS)),
            Taken::Words("no birds"),
            "{ hens = { class = \"layer\", number = 16 } }",
            "Groups of birds by name.",
        ),
        required(
            "plot",
            Kind::Tables(&Kind::Table(&plots::PLOT)),
            "{ orchard = { area = \"64 m2\", soil = \"loam\", cover = { plant = \"mown grass\" } } }",
            "Plots by name, 1 to 24.",
        ),
        left_out(
            "event",
            Kind::List(&Kind::Table(&events::EVENT)),
            Taken::Words("none"),
            "[{ on = 2027-12-01, what = \"housing order\" }]",
            "What happens on a day.",
        ),
        left_out(
            "rules",
            Kind::Table(&surroundings::RULES),
            Taken::Words("its defaults"),
            "{ shut_on = [\"mud\"] }",
            "What keeps a gate shut, whatever a strategy says.",
        ),
        left_out(
            "strategy",
            Kind::Tables(&Kind::Table(&strategy_tables::STRATEGY)),
            Taken::Words("`all-open` and `in-turn`"),
            "{ all-open = { all_open = {} } }",
            "Strategies by name.",
        ),
        left_out(
            "limits",
            Kind::Table(&aims::LIMITS_FORMAT),
            Taken::Words("cover, bare days and space"),
            "{ least_cover = 0.7 }",
            "What must hold.",
        ),
        left_out(
            "aims",
            Kind::Table(&aims::AIMS),
            Taken::Words("work, harvest, feed and cover"),
            "{ work_saved = \"1 h per h\" }",
            "What a unit of any measure is worth.",
        ),
        left_out(
            "prices",
            Kind::Table(&aims::PRICES),
            Taken::Words("none"),
            "{ hour = \"12 EUR\" }",
            "All worth in money.",
        ),
        left_out(
            "compare",
            Kind::Table(&aims::COMPARE),
            Taken::Words("its defaults"),
            "{ sure = 0.9 }",
            "How strategies are compared.",
        ),
        left_out(
            "unsure",
            Kind::Table(&unsure::UNSURE),
            Taken::Words("the ranges of library and site"),
            "{ \"plot.orchard.cover.start\" = [0.8, 0.9, 0.95] }",
            "Your own ranges.",
        ),
        left_out(
            "library",
            Kind::Elsewhere(&OWN_ENTRIES),
            Taken::Words("none"),
            "{ soil = { \"my loam\" = { like = \"loam\" } } }",
            "Entries of your own.",
        ),
    ],
    rest: None,
    examples: &[
        "format = 2\nname = \"My orchard\"\nlatitude = \"52.6 deg\"\nlongitude = \"-1.1 deg\"\nutc_offset = \"1 h\"\nelevation = \"95 m\"",
    ],
};

const OWN_ENTRIES: TableFormat = TableFormat {
    heading: "[library.KIND.\"NAME\"]",
    written: "[library.soil.\"my loam\"]",
    what: "An entry of your own, in the library's form: each number with value, low, high, unit, source and kind, or taken by `like` from another; `hensward sources NAME --export` writes one out. KIND is soil, cover, weed, creeper, crop, canopy, pest, slug, bird or climate.",
    keys: &[],
    rest: Some(&RestFormat {
        name: "like",
        what: "The entry that everything is taken from that is not stated.",
        known: None,
        kind: Kind::Text,
        example: "like = \"loam\"",
    }),
    examples: &[],
};
