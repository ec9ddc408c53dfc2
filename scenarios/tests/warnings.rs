//! Every warning of `check`: a plausible mistake is recognised at its place, with the reason and
//! a remedy; the site without mistakes, the demos and the starters raise none.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::{Library, SiteModel, site_file};
use std::path::Path;
use std::sync::OnceLock;

/// A site without anything unusual, with every part a warning can be about.
const GOOD: &str = include_str!("warnings/good.toml");
/// Mistakes in it, and what must come of them; its head tells its form.
const CASES: &str = include_str!("warnings/cases.txt");

fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| Library::shipped().unwrap())
}

fn read_beside(text: &str, companion: &str) -> SiteModel {
    let companions = |_: &str| Ok(companion.to_owned());
    site_file::read_text("good.toml", text, library(), &companions).unwrap_or_else(|faults| panic!("{faults}"))
}

fn read(text: &str) -> SiteModel {
    read_beside(text, "date,plot\n")
}

fn told(model: &SiteModel) -> String {
    model.warnings.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n\n")
}

/// The good site with pieces replaced.
fn with(changes: &[(&str, &str)]) -> String {
    changes.iter().fold(GOOD.to_owned(), |text, (old, new)| {
        let (old, new) = (old.replace("\\n", "\n"), new.replace("\\n", "\n"));
        assert!(text.contains(&old), "{old}");
        text.replacen(&old, &new, 1)
    })
}

/// The site raises a warning with words of a message (reason included) and a remedy, at a line with
/// words: `line | message | remedy`.
fn raises(model: &SiteModel, expected: &str) {
    let told = told(model);
    let [line, message, remedy] = expected.split(" | ").collect::<Vec<_>>()[..] else { panic!("{expected}") };
    let warning = model.warnings.iter().find(|warning| warning.message.contains(message));
    let Some(warning) = warning else { panic!("no warning says {message:?}:\n{told}") };
    assert!(warning.message.contains(", because "), "{warning}");
    assert!(warning.remedy.contains(remedy), "{warning}");
    assert!(warning.place.text.contains(line) && warning.place.line > 0, "{warning}");
}

#[test]
fn every_mistake_is_recognised_at_its_place() {
    let (mut changes, mut beside, mut cases) = (Vec::new(), None, 0);
    for text in CASES.lines().filter(|text| !text.is_empty() && !text.starts_with('#')) {
        if let Some(expected) = text.strip_prefix("    ") {
            let companion = beside.take().unwrap_or("date,plot\\n");
            raises(&read_beside(&with(&changes), &companion.replace("\\n", "\n")), expected);
            changes.clear();
            cases += 1;
        } else if let Some(file) = text.strip_prefix("beside it: ") {
            beside = Some(file);
        } else {
            let (old, new) = text.split_once(" =>").unwrap();
            changes.push((old, new.trim_start()));
        }
    }
    assert!(cases >= 95, "{cases} cases");
}

/// A plot called after a plant that can harm birds.
#[test]
fn plants_that_can_harm() {
    let yew = read(&GOOD.replace("meadow", "yew-walk"));
    raises(&yew, "[plot.yew-walk] | birds go to yew-walk, because yew can harm birds | ask a vet");
}

#[test]
fn a_station_of_the_other_hemisphere() {
    let days = (0..800).map(|day| {
        let date = jiff::civil::date(2015, 1, 1).saturating_add(jiff::ToSpan::days(day));
        let warm = if (4..=9).contains(&date.month()) { 20.0 } else { 5.0 } + f64::from(day % 7);
        format!("{date},{warm},{},{}\n", warm + 6.0 + f64::from(day % 3), if day % 4 < 2 { day % 9 } else { 0 })
    });
    let station = format!("date,tmin[C],tmax[C],rain[mm]\n{}", days.collect::<String>());
    let text =
        with(&[("climate = \"cool-maritime\"", "station = \"s.csv\"\nuse = \"years\""), ("\"52 deg\"", "\"-52 deg\"")]);
    raises(&read_beside(&text, &station), "latitude | s.csv is warmest in July | Did you mean latitude = \"52 deg\"?");
}

#[test]
fn the_good_site_raises_none() {
    assert_eq!(told(&read(GOOD)), "");
}

#[test]
fn the_caret_stands_under_the_value() {
    let model = read(&with(&[("area = \"60 m2\"", "area = \"600 m2\"")]));
    let told = model.warnings[0].to_string();
    assert_eq!(
        told,
        "good.toml, line 47, column 8: unusual: 600 m2 is much for one plot and 13 birds, because it is over 40 m2 per bird (from memory)\n   \
         47 | area = \"600 m2\"\n      |        ^^^^^^^^\n  Did you mean \"600 ft2\"?"
    );
}

/// Every site file below a folder of the room: demos are folders, starters are files.
fn shipped() -> Vec<std::path::PathBuf> {
    let room = Path::new(env!("CARGO_MANIFEST_DIR"));
    let demos = std::fs::read_dir(room.join("demos")).unwrap().map(|entry| entry.unwrap().path().join("site.toml"));
    let starters = std::fs::read_dir(room.join("starters")).unwrap().map(|entry| entry.unwrap().path());
    demos.chain(starters).filter(|path| path.extension().is_some_and(|ending| ending == "toml")).collect()
}

#[test]
fn demos_and_starters_raise_none() {
    let all = shipped();
    assert!(all.len() >= 5, "{all:?}");
    for path in all {
        let model = site_file::read(&path, library()).unwrap_or_else(|faults| panic!("{faults}"));
        assert_eq!(told(&model), "", "{}", path.display());
    }
}

/// Whoever writes feet or acres means them.
#[test]
fn us_units_are_not_taken_for_a_slip() {
    let text = with(&[("\"40 m\"", "\"7000 ft\""), ("\"150 m2\"", "\"0.3 acre\"")]);
    assert_eq!(told(&read(&text)), "");
}
