//! `hensward sources`: what it finds, prints and exports.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{done, one_line, run, stderr};
use serde_json::Value;

/// Every number an entry states itself stands once on the page, with its range, unit and source,
/// and every climate and harmful plant is there.
#[test]
fn the_page_of_the_library_holds_all_the_library_states() {
    let folder = tempfile::tempdir().unwrap();
    let page = done(folder.path(), &["sources", "--markdown"]);
    let document: Value = serde_json::from_str(&done(folder.path(), &["sources", "--json"])).unwrap();
    let (climates, others): (Vec<&Value>, Vec<&Value>) =
        document["entries"].as_array().unwrap().iter().partition(|entry| text(&entry["name"]).starts_with("climate."));
    let stated = others.into_iter().filter(|entry| entry["taken_from"].is_null());
    let mut wanted: Vec<String> = stated.map(row).collect();
    let mut rows: Vec<String> = page.lines().filter_map(row_of_an_entry).collect();
    wanted.sort();
    rows.sort();
    assert!(wanted.len() > 2_000, "{}", wanted.len());
    let lost: Vec<&String> = wanted.iter().filter(|row| !rows.contains(row)).take(3).collect();
    assert!(wanted == rows, "{} numbers, {} rows; not on the page: {lost:?}", wanted.len(), rows.len());
    for climate in climates {
        let heading = format!("\n### {}\n", text(&climate["name"]).split('.').nth(1).unwrap());
        assert!(page.contains(&heading), "{heading}");
    }
    for plant in document["harmful_plants"].as_array().unwrap() {
        assert!(page.contains(&format!("\n| {} | ", text(&plant["plant"]))), "{plant}");
    }
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap()
}

/// A number as the page has it: name, value, least, most, unit, kind, source.
fn row(entry: &Value) -> String {
    let field = text(&entry["name"]).rsplit('.').next().unwrap();
    let [value, low, high] = ["value", "low", "high"].map(|key| entry[key].as_f64().unwrap());
    let [unit, kind, source] = ["unit", "kind", "source"].map(|key| text(&entry[key]));
    format!("`{field}` | {value} | {low} | {high} | {unit} | {kind} | {source}")
}

/// The same of a line of the page; what a process means is left out. `None` for other lines.
fn row_of_an_entry(line: &str) -> Option<String> {
    let cells: Vec<&str> = line.strip_prefix("| `")?.strip_suffix(" |")?.split(" | ").collect();
    let source = cells.last()?.replace("\\|", "|");
    (cells.len() > 3).then(|| format!("`{} | {source}", cells[..6].join(" | ")))
}

/// Every row of a table has as many cells as its head.
#[test]
fn the_tables_of_the_page_are_whole() {
    let folder = tempfile::tempdir().unwrap();
    let cells = |line: &str| line.replace("\\|", "").matches('|').count();
    let mut head = None;
    for (number, line) in done(folder.path(), &["sources", "--markdown"]).lines().enumerate() {
        if !line.starts_with('|') {
            head = None;
            continue;
        }
        let wanted = *head.get_or_insert_with(|| cells(line));
        assert_eq!(cells(line), wanted, "line {}: {line}", number + 1);
    }
}

#[test]
fn a_number_is_told_with_all_that_is_known_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let text = one_line(&done(folder.path(), &["sources", "western", "cherry", "fruit", "fly"]));
    for want in [
        "western cherry fruit fly (pest)",
        "emergence: 600 C d (530 to 690); paper",
        "Degree-days to half of spring emergence (the median, not the first).",
        "AliNiazee 1979: first at 462 (cage); Jones et al. 1991",
        "(taken over from apple sawfly)",
        "rest on memory alone",
    ] {
        assert!(text.contains(want), "does not say {want:?}, but: {text}");
    }
    let us = one_line(&done(folder.path(), &["sources", "western cherry fruit fly", "--units", "us"]));
    assert!(
        us.contains("base_temperature: 41 F (no range)") && us.contains("emergence: 1080 F d (954 to 1240)"),
        "{us}"
    );
    let plant = one_line(&done(folder.path(), &["sources", "yew"]));
    assert!(plant.contains("welfare page, not authoritative") && plant.contains("unknown, not harmless"), "{plant}");
}

#[test]
fn without_a_word_it_counts_and_says_what_rests_on_memory() {
    let folder = tempfile::tempdir().unwrap();
    let text = one_line(&done(folder.path(), &["sources"]));
    assert!(text.contains("rest on memory alone") && text.contains("together"), "{text}");
    let document = done(folder.path(), &["sources", "--json"]);
    let document: Value = serde_json::from_str(&document).unwrap();
    let memory = document["from_memory"]["names"].as_array().unwrap();
    assert!(text.contains(&format!("{} (", memory.len())), "{text}");
    let listed = done(folder.path(), &["sources", "--kind", "from memory"]);
    assert!(one_line(&listed).contains(&format!("{} numbers:", memory.len())), "{listed}");
}

/// A country is found by any of its names, with days, whom they bind, the source and how well it is known; all of them by
/// what they are.
#[test]
fn waiting_rules_are_told_with_their_source_and_status() {
    let folder = tempfile::tempdir().unwrap();
    let told = one_line(&done(folder.path(), &["sources", "england"]));
    for want in ["United Kingdom (waiting rule", "123 days", "at least 4 months", "Defra summary", "(read)"] {
        assert!(told.contains(want), "{want}: {told}");
    }
    assert!(one_line(&done(folder.path(), &["sources", "Ireland"])).contains("no number of days known"));
    let document = done(folder.path(), &["sources", "waiting rules", "--json"]);
    let document: Value = serde_json::from_str(&document).unwrap();
    let (rules, page) =
        (document["waiting_rules"].as_array().unwrap(), done(folder.path(), &["sources", "--markdown"]));
    assert!(rules.len() > 5 && document["entries"].as_array().unwrap().is_empty());
    for rule in rules {
        assert!(page.contains(&format!("\n| {} | ", text(&rule["country"]))), "{rule}");
        assert!(!text(&rule["source"]).is_empty() && !text(&rule["status"]).is_empty(), "{rule}");
    }
}

#[test]
fn json_stays_metric_and_names_what_was_asked() {
    let folder = tempfile::tempdir().unwrap();
    let ask = ["sources", "codling moth", "--json", "--units", "us"];
    let document: Value = serde_json::from_str(&done(folder.path(), &ask)).unwrap();
    assert_eq!((&document["word"], &document["site"]), (&"codling moth".into(), &"library".into()));
    let entries = document["entries"].as_array().unwrap();
    let base = entries.iter().find(|entry| entry["name"] == "pest.codling moth.base_temperature").unwrap();
    assert_eq!((&base["value"], &base["unit"], &base["kind"]), (&10.0.into(), &"C".into(), &"paper".into()));
}

/// What `--export` prints can be pasted into a site file, for an entry of every kind and a
/// climate, and gives the same numbers.
#[test]
fn an_export_of_every_kind_reads_back() {
    let folder = tempfile::tempdir().unwrap();
    let words = [
        "soil.loam",
        "cover.mown grass",
        "weed.chickweed",
        "creeper.couch grass",
        "crop.lettuce",
        "canopy.plum trees",
        "pest.plum sawfly",
        "bird.layer",
        "process.general",
        "climate.continental",
    ];
    let mut text = common::DEMO.to_owned();
    for word in words {
        let exported = done(folder.path(), &["sources", word, "--export"]);
        assert!(exported.starts_with("[library."), "{exported}");
        text.push_str(&format!("\n{exported}"));
    }
    std::fs::write(folder.path().join("gates.csv"), common::DEMO_GATES).unwrap();
    for (name, text) in [("plain", common::DEMO), ("pasted", &text)] {
        std::fs::write(folder.path().join("site.toml"), text).unwrap();
        done(folder.path(), &["season", "site.toml", "--exact", "--out", name]);
    }
    let ledger = |name: &str| std::fs::read_to_string(folder.path().join(name).join("ledger.csv")).unwrap();
    assert!(ledger("plain") == ledger("pasted"), "pasting the library's own numbers changed the season");
}

#[test]
fn files_are_written_only_where_asked() {
    let folder = tempfile::tempdir().unwrap();
    done(folder.path(), &["sources", "loam"]);
    assert!(common::files(folder.path()).is_empty());
    done(folder.path(), &["sources", "loam", "--export", "--out", "here"]);
    let names: Vec<String> = common::files(folder.path())
        .iter()
        .map(|(path, _)| path.file_name().unwrap().to_string_lossy().into_owned())
        .collect();
    assert_eq!(names, ["export.toml", "sources.csv", "summary.json"]);
}

#[test]
fn what_is_not_there_is_refused_with_what_was_meant() {
    let folder = tempfile::tempdir().unwrap();
    let wrong: &[(&[&str], &str)] = &[
        (&["sources", "onoin fly"], "Did you mean \"onion fly\"?"),
        (&["sources", "coffee"], "All names: hensward sources"),
        (&["sources", "loam", "--kind", "papr"], "possible values"),
        (&["sources", "yew", "--export"], "Export a soil"),
        (&["sources", "yew", "--kind", "paper"], "Leave --kind out"),
        (&["sources", "--export"], "WORD"),
    ];
    for (arguments, want) in wrong {
        let output = run(folder.path(), arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(one_line(&stderr(&output)).contains(want), "{arguments:?}: {}", stderr(&output));
        assert!(output.stdout.is_empty());
    }
    assert!(common::files(folder.path()).is_empty());
}
