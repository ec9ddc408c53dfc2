//! Every name that is accepted, put wherever a site has a name: every page and picture is well-formed XML, and every line of
//! a table has the cells of its heads.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{done, files, run, stderr};
use rayon::prelude::*;
use std::path::Path;

/// Names of many scripts, and names that mean something to a shell, a system, a spreadsheet or a page.
fn names() -> Vec<String> {
    let forty = ["x", "Ж", "菜", "ﷺ"].map(|letter| letter.repeat(40));
    let written = [
        "Gran's plot (low)",
        "A & B",
        "Ä ö ß",
        "العربية",
        "日本語",
        "ʻokina",
        "L’île d'Été",
        "e\u{301}tage n\u{303}",
        "बगीचा",
        "a.b",
        "a..",
        "con",
        "null",
        "inf",
        "1e5",
        "007",
        "plot_1",
        "two  blanks",
        "amp&amp;".trim_end_matches(';'),
        "birds",
        "site.toml",
        "𝔘𝔫𝔦",
    ];
    written.into_iter().map(str::to_owned).chain(forty).collect()
}

/// A small site in which every kind of thing that has a name has two, and they are these.
fn site(one: &str, two: &str, climate: &str) -> String {
    let plot = |name: &str, bed: &str| {
        format!(
            r#"
[plot."{name}"]
area = "40 m2"
soil = "{name}"
beds = 0.3
cover = {{ plant = "{name}", start = 0.9 }}
weeds = [ {{ plant = "{name}", seeds = "1500 per m2" }} ]
creeping = [ {{ plant = "{name}", reserve = "20 g/m2" }} ]
slugs = [ {{ species = "{name}", start = "15 per m2" }} ]
canopy = "{name}"
[plot."{name}".bed."{bed}"]
[[plot."{name}".pest]]
species = "{name}"
start = "8 per m2"
[[plot."{name}".crop]]
crop = "{name}"
bed = "{bed}"
in_ground = ["05-01", "07-20"]
harvest = ["06-25", "07-20"]
"#
        )
    };
    let like = [
        ("soil", "loam"),
        ("cover", "mown grass"),
        ("weed", "chickweed"),
        ("creeper", "couch grass"),
        ("slug", "grey field slug"),
        ("canopy", "almond trees"),
        ("pest", "plum sawfly"),
        ("crop", "lettuce"),
        ("bird", "layer"),
    ];
    let own = like.map(|(kind, like)| {
        [one, two].map(|name| format!("[library.{kind}.\"{name}\"]\nlike = \"{like}\"\nabout = \"{name}\"\n")).concat()
    });
    let group = |name: &str| format!("[birds.\"{name}\"]\nclass = \"{name}\"\nnumber = 3\n");
    format!(
        r#"format = 2
name = "{one}{two}"
latitude = "51 deg"
[weather]
climate = "{one}"
[run]
start = 2027-04-01
years = 1
draws = 2
[yard]
area = "8 m2"
{}{}{}{}
[[event]]
on = 2027-05-01
what = "shut gate"
plot = "{one}"
[strategy."{one}"]
by_eye = {{ enter_above = 0.88, leave_below = 0.75 }}
[strategy."{two}"]
fixed_turn = {{ stay = "7 days", order = ["{two}", "{one}"] }}
[compare]
against = "{two}"
pest_weights = {{ "{one}" = 2 }}
{}
{}
"#,
        group(one),
        group(two),
        plot(one, two),
        plot(two, one),
        own.concat(),
        climate.replacen("cool-maritime", one, 1),
    )
}

/// Faults of the files below a folder, as what reads XML and CSV finds them, and the kinds that were read.
fn faults(folder: &Path, of: &str) -> (Vec<String>, Vec<String>) {
    let (mut faults, mut kinds) = (Vec::new(), Vec::new());
    for (path, bytes) in files(folder) {
        let kind = path.extension().unwrap_or_default().to_string_lossy().into_owned();
        let told = match kind.as_str() {
            "svg" | "html" => {
                let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
                let text = std::str::from_utf8(&bytes).unwrap();
                roxmltree::Document::parse_with_options(text, options).err().map(|error| error.to_string())
            }
            "csv" => {
                let lines = csv::ReaderBuilder::new().has_headers(false).from_reader(bytes.as_slice()).into_records();
                lines.filter_map(Result::err).next().map(|error| error.to_string())
            }
            _ => None,
        };
        faults.extend(told.map(|told| format!("{of}: {}: {told}", path.display())));
        kinds.push(kind);
    }
    (faults, kinds)
}

/// Every command that writes pages, pictures or tables, on a site with these names; what is wrong with them.
fn commands(one: &str, two: &str, climate: &str) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("site.toml"), site(one, two, climate)).unwrap();
    let vary = format!("plot.{one}.area=38,42");
    let why = format!("{one}@2027-06-01");
    let of = |arguments: &[&str]| done(folder.path(), &[arguments, &["--quiet", "--threads", "1"]].concat());
    let told = of(&["check", ".", "--all", "--out", "check"]);
    assert!([one, two].iter().all(|name| common::one_line(&told).contains(&common::one_line(name))), "{told}");
    of(&["season", ".", "--strategy", two, "--out", "season", "--why", &why]);
    of(&["compare", ".", "--strategy", one, "--strategy", two, "--against", one, "--out", "compare"]);
    of(&["lesson", ".", "--strategy", one, "--strategy", two, "--draws", "2", "--out", "lesson"]);
    of(&["carry", ".", "--strategy", two, "--draws", "1", "--out", "carry"]);
    of(&["sweep", ".", "--strategy", one, "--vary", &vary, "--vary", "stay=3,9", "--draws", "1", "--out", "sweep"]);
    let (faults, kinds) = faults(folder.path(), one);
    let count = |kind: &str| kinds.iter().filter(|of| *of == kind).count();
    assert!(count("svg") >= 10 && count("html") == 3 && count("csv") >= 6, "{kinds:?}");
    faults
}

#[test]
fn pages_pictures_and_tables_can_be_read_whatever_is_called_how() {
    let folder = tempfile::tempdir().unwrap();
    let climate = done(folder.path(), &["sources", "cool-maritime", "--export"]);
    let names = names();
    assert!(names.len().is_multiple_of(2));
    let pairs: Vec<(&String, &String)> = names.chunks(2).map(|pair| (&pair[0], &pair[1])).collect();
    let faults: Vec<String> = pairs.par_iter().flat_map(|(one, two)| commands(one, two, &climate)).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// What is no name is refused wherever one may stand, with what a name is, and nothing of it acts on a terminal.
#[test]
fn what_is_no_name_is_refused_wherever_one_stands() {
    let folder = tempfile::tempdir().unwrap();
    let climate = done(folder.path(), &["sources", "cool-maritime", "--export"]);
    let good = site("one", "two", &climate);
    let places = [
        "[plot.\"one\"",
        "[birds.\"one\"]",
        "[strategy.\"one\"]",
        "[plot.\"one\".bed.\"two\"]",
        "bed = \"two\"",
        "[library.soil.\"one\"]",
        "[library.pest.\"one\"]",
        "[library.bird.\"one\"]",
        "[library.climate.\"one\"]",
    ];
    for bad in
        ["", "=1+1", "@a", "a,b", "<b>", "a\\u001b[2J", "a\\u202eb", "a\\u200bb", "\\u3164", "🐔", ".", "..", "-1"]
    {
        for place in places {
            let (before, last) = place.rsplit_once(['.', '=']).unwrap();
            let spoilt = last.replacen("one", bad, 1).replacen("two", bad, 1);
            let joint = &place[before.len()..=before.len()];
            let text = good.replace(place, &format!("{before}{joint}{spoilt}"));
            assert_ne!(text, good, "{place}");
            std::fs::write(folder.path().join("site.toml"), text).unwrap();
            let answer = run(folder.path(), &["check", "."]);
            let said = stderr(&answer);
            assert_eq!(answer.status.code(), Some(2), "{place} {bad:?}: {said}");
            assert!(said.contains("cannot be the name of a"), "{place} {bad:?}: {said}");
            assert!(said.contains("1 to 40 characters"), "{place} {bad:?}: {said}");
            assert!(!said.contains(['\u{1b}', '\u{202e}', '\u{200b}']), "{place} {bad:?}: {said:?}");
        }
    }
}

/// Other texts of a site stand on pages too.
#[test]
fn other_texts_have_no_character_that_is_not_seen() {
    let folder = tempfile::tempdir().unwrap();
    let climate = done(folder.path(), &["sources", "cool-maritime", "--export"]);
    let good = site("one", "two", &climate);
    for bad in ["a\\u001b[2J", "a\\u0000", "a\\u202eb", "a\\uffff"] {
        for (place, spoilt) in [
            ("name = \"onetwo\"", format!("name = \"{bad}\"")),
            ("about = \"one\"", format!("about = \"{bad}\"")),
            ("climate = \"one\"", format!("station = \"{bad}\"")),
            ("soil = \"one\"", format!("soil = \"{bad}\"")),
            ("plot = \"one\"", format!("plot = \"{bad}\"")),
        ] {
            let text = good.replacen(place, &spoilt, 1);
            assert_ne!(text, good, "{place}");
            std::fs::write(folder.path().join("site.toml"), text).unwrap();
            let answer = run(folder.path(), &["check", "."]);
            let said = stderr(&answer);
            assert_eq!(answer.status.code(), Some(2), "{place} {bad:?}: {said}");
            assert!(!said.contains(['\u{1b}', '\u{202e}', '\0', '\u{ffff}']), "{place} {bad:?}: {said:?}");
        }
    }
}
