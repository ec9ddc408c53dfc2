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
        surroundings::UNITS_KEY,
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
        "format = 2\nname = \"My orchard\"\nunits = \"metric\"\nlatitude = \"52.6 deg\"\nlongitude = \"-1.1 deg\"\nutc_offset = \"1 h\"\nelevation = \"95 m\"",
    ],
};

const OWN_ENTRIES: TableFormat = TableFormat {
    heading: "[library.KIND.\"NAME\"]",
    written: "[library.soil.\"my loam\"]",
    what: "An entry of your own, in the library's form: each number with value, low, high, unit, source and kind, or taken by `like` from another; `hensward sources NAME --export` writes one out. `also` are other names it may be written by, `ask` names that are asked back, `larvae_in_turf = true` makes a pest at home in a lawn. KIND is soil, cover, weed, creeper, crop, canopy, pest, slug, bird or climate.",
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reader::asked_for;
    use crate::{Library, site_file};
    use std::collections::BTreeSet;
    use std::path::Path;

    /// A site that has what the examples name, section by section.
    const SECTIONS: &[&str] = &[
        "format = 2\nlatitude = \"52 deg\"",
        "[run]\nstart = 2027-03-01\nyears = 1",
        "[weather]\nclimate = \"cool-maritime\"",
        "[yard]\narea = \"48 m2\"",
        "[birds.hens]\nclass = \"layer\"\nnumber = 8",
        "[plot.orchard]\narea = \"200 m2\"\nsoil = \"loam\"\nbeds = 0.2\ncover = { plant = \"rough grass\", start = 0.9 }\ncanopy = \"plum trees\"",
        "[plot.orchard.bed.north]",
        "[[plot.orchard.pest]]\nspecies = \"plum sawfly\"\nstart = \"8 per m2\"",
        "[plot.vegetables]\narea = \"60 m2\"\nsoil = \"loam\"\nbeds = 0.6\ncover = { plant = \"mown grass\" }",
        "[strategy.by-eye]\nby_eye = { enter_above = 0.9, leave_below = 0.75 }",
    ];

    fn companions(name: &str) -> Result<String, String> {
        match name {
            "gates.csv" => Ok("date,plot\n2027-05-01,orchard\n".to_owned()),
            "my-station.csv" => Ok(station()),
            _ => Err("there is no such file".to_owned()),
        }
    }

    /// Three years of a station.
    fn station() -> String {
        let first = jiff::civil::date(2020, 1, 1);
        let day = |at: i64| {
            let date = first.saturating_add(jiff::Span::new().days(at));
            let warm = -(f64::from(date.day_of_year()) / 58.0).cos();
            let (rain, swing) = (if at % 3 == 0 { at % 7 + 1 } else { 0 }, (at * 7 % 11) as f64 / 4.0);
            format!("{date},{:.1},{:.1},{rain}\n", 5.0 + 7.0 * warm - swing, 14.0 + 8.0 * warm + swing)
        };
        std::iter::once("date,tmin[C],tmax[C],rain[mm]\n".to_owned()).chain((0..1500).map(day)).collect()
    }

    /// The first line of a section, its heading.
    fn heading(section: &str) -> &str {
        section.lines().next().unwrap_or_default()
    }

    /// The site with an example in it: in the place of the section of the same heading, or a line within that of its parent.
    fn site_with(example: &str, parent: &TableFormat) -> String {
        let mut sections: Vec<String> = SECTIONS.iter().map(|section| (*section).to_owned()).collect();
        if example.starts_with('[') {
            let here = heading(example);
            sections.retain(|section| {
                heading(section) != here
                    && !(example.contains("\n[[") && section.starts_with("[["))
                    && !(example.contains("bed = {") && section.contains(".bed."))
            });
            sections.push(example.to_owned());
        } else if parent.written.is_empty() {
            let name = |line: &str| line.split(" = ").next().unwrap_or_default().to_owned();
            let written: Vec<String> = example.lines().map(name).collect();
            sections[0] = example.to_owned();
            assert!(written.contains(&"latitude".to_owned()));
        } else if parent.written.starts_with("canopy = ") {
            let orchard = sections.iter_mut().find(|section| heading(section) == "[plot.orchard]").unwrap();
            let others = orchard.lines().filter(|line| !line.starts_with("canopy") && !line.starts_with("fruit_"));
            let one = "plant = \"plum trees\", share = 0.5, harvest = [\"08-01\", \"09-10\"], windfalls = \"eaten\"";
            let canopy = format!("canopy = [{{ {one}, {example} }}]");
            *orchard = others.chain([canopy.as_str()]).collect::<Vec<_>>().join("\n");
        } else {
            let name = |line: &str| line.split(" = ").next().unwrap_or_default().to_owned();
            match sections.iter_mut().find(|section| heading(section) == parent.written) {
                Some(section) => {
                    let others = section.lines().filter(|line| name(line) != name(example));
                    let fruit = example.starts_with("fruit_wait") || example.starts_with("windfall_wait");
                    let more =
                        ["canopy = \"plum trees\"", "fruit_harvest = [\"08-01\", \"09-10\"]", "windfalls = \"eaten\""];
                    let more = more.into_iter().filter(|_| fruit);
                    let others = others.filter(|line| !fruit || !line.starts_with("canopy"));
                    *section = others.chain(more).chain([example]).collect::<Vec<_>>().join("\n");
                }
                None => {
                    let needed = match parent.written {
                        "[[event]]" => "on = 2027-12-01\nwhat = \"spread heap\"",
                        "[[plot.orchard.crop]]" => {
                            "crop = \"leek\"\nin_ground = [\"03-05\", \"07-12\"]\nharvest = [\"06-15\", \"07-10\"]"
                        }
                        "[birds.newcomers]" => "class = \"layer\"\nnumber = 4\narrive = 2027-05-01",
                        _ => "",
                    };
                    sections.push(format!("{}\n{needed}\n{example}", parent.written));
                }
            }
        }
        sections.join("\n\n") + "\n"
    }

    /// Every table with the one it stands in.
    fn tables(of: &'static TableFormat) -> Vec<(&'static TableFormat, &'static TableFormat)> {
        let kinds = of.keys.iter().map(|key| &key.kind).chain(of.rest.map(|rest| &rest.kind));
        let below = kinds.filter_map(Kind::below);
        std::iter::once((of, of))
            .chain(below.flat_map(|table| {
                let deeper = tables(table).into_iter().skip(1);
                std::iter::once((table, of)).chain(deeper).collect::<Vec<_>>()
            }))
            .collect()
    }

    fn examples() -> Vec<(&'static TableFormat, String, String)> {
        let all = tables(&SITE).into_iter();
        all.flat_map(|(table, parent)| {
            table.wholes().into_iter().map(move |example| (table, site_with(&example, parent), example))
        })
        .collect()
    }

    #[test]
    fn every_whole_example_is_read_without_a_fault() {
        let library = Library::shipped().unwrap();
        for (table, site, example) in examples() {
            let read = site_file::read_text("site.toml", &site, &library, &companions);
            if let Err(faults) = read {
                panic!("{}:\n{example}\n\n{faults}\n\n{site}", table.heading);
            }
        }
    }

    #[test]
    fn the_whole_examples_of_a_table_have_all_its_keys() {
        for (table, _) in tables(&SITE) {
            let all = table.wholes().join("\n");
            for key in table.keys.iter().filter(|key| key.kind.below().is_none()) {
                let name = format!("{} = ", key.key);
                let kind_of_strategy = table.written == "[strategy.shown]";
                assert!(all.contains(&name) || kind_of_strategy, "{} has no example with {}", table.heading, key.key);
            }
        }
    }

    #[test]
    fn a_sentence_says_what_every_key_and_table_is() {
        for (table, _) in tables(&SITE) {
            assert!(table.what.ends_with('.'), "{}", table.heading);
            for key in table.keys {
                assert!(key.what.ends_with('.') && key.what.starts_with(char::is_uppercase), "{}", key.key);
                let line = key.line();
                assert!(toml::de::DeTable::parse(&line).is_ok(), "{line}");
            }
        }
    }

    /// All there is to read: what ships, what the tests keep, and the examples of the declarations.
    fn corpus() -> Vec<(String, String)> {
        let room = Path::new(env!("CARGO_MANIFEST_DIR"));
        let mut all = Vec::new();
        for folder in [
            "starters",
            "problems",
            "hindcasts",
            "tests/data",
            "demos/sallowmere",
            "demos/emberstair",
            "demos/puddlecote",
        ] {
            for entry in std::fs::read_dir(room.join(folder)).unwrap() {
                let path = entry.unwrap().path();
                if path.extension().is_some_and(|ending| ending == "toml") {
                    all.push((path.display().to_string(), std::fs::read_to_string(&path).unwrap()));
                }
            }
        }
        all.extend(examples().into_iter().map(|(table, site, _)| (table.heading.to_owned(), site)));
        all
    }

    /// That no other key is asked for every reader holds itself to; here, that none is declared in vain.
    #[test]
    fn every_declared_key_is_asked_for() {
        let library = Library::shipped().unwrap();
        for (_, text) in corpus() {
            // Whether it can be used is not the question: some need a file beside them.
            site_file::read_text("site.toml", &text, &library, &companions).ok();
        }
        let asked = asked_for::all();
        let declared: BTreeSet<(&str, &str)> =
            tables(&SITE).iter().flat_map(|(table, _)| table.keys.iter().map(|key| (table.heading, key.key))).collect();
        assert_eq!(declared.difference(&asked).collect::<Vec<_>>(), Vec::<&(&str, &str)>::new());
        assert_eq!(asked.difference(&declared).collect::<Vec<_>>(), Vec::<&(&str, &str)>::new());
    }
}
