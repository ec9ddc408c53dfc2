//! Real days: Seattle 2012–2015 (origin in `fixtures/README.md`) in `season`, `compare` and `weather`.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{done, one_line, run, seattle, stderr, without_run};

#[test]
fn a_season_on_real_days_says_which() {
    let folder = tempfile::tempdir().unwrap();
    let text = done(folder.path(), &["season", "sallowmere", "--weather", &seattle()]);
    assert!(text.contains("2012-03-15 to 2015-03-15"), "{text}");
    let site = std::fs::read_to_string(folder.path().join("results/sallowmere/season/ledger_site.csv")).unwrap();
    let second = site.lines().nth(1).unwrap();
    // 15 March 2012 in the station file: 11.1 and 4.4 C, 27.7 mm, on the first day of the run.
    let station = std::fs::read_to_string(seattle()).unwrap();
    let day = station.lines().find(|line| line.starts_with("2012-03-15")).unwrap();
    let cells: Vec<&str> = day.split(',').collect();
    assert!(second.starts_with(&format!("2027-03-15,{},{},{}", cells[1], cells[2], cells[3])), "{day} | {second}");
}

#[test]
fn the_books_balance_on_real_days() {
    let folder = tempfile::tempdir().unwrap();
    let document = without_run(&done(folder.path(), &["season", "sallowmere", "--weather", &seattle(), "--json"]));
    for (currency, worst) in document["audit"].as_object().unwrap() {
        assert!(worst.as_f64().unwrap() < 1e-9, "{currency}: {worst}");
    }
    assert_eq!(document["weather"]["first"], "2012-03-15");
}

/// A gap is refused unless the site file allows it to be filled; then it is counted.
#[test]
fn a_short_gap_is_filled_where_the_site_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let station = std::fs::read_to_string(seattle()).unwrap();
    let gap = |line: &&str| !(line.starts_with("2013-06-11") || line.starts_with("2013-06-12"));
    let holed: Vec<&str> = station.lines().filter(gap).collect();
    std::fs::write(folder.path().join("holed.csv"), holed.join("\n")).unwrap();
    std::fs::write(folder.path().join("gates.csv"), common::DEMO_GATES).unwrap();
    std::fs::write(folder.path().join("site.toml"), common::DEMO).unwrap();
    let asked = ["season", ".", "--weather", "holed.csv"];
    let refused = run(folder.path(), &asked);
    assert_eq!(refused.status.code(), Some(2));
    assert!(stderr(&refused).contains("fill_gaps"), "{}", stderr(&refused));
    let filling = common::DEMO.replacen("[weather]", "[weather]\nfill_gaps = \"3 days\"", 1);
    std::fs::write(folder.path().join("site.toml"), filling).unwrap();
    let text = done(folder.path(), &asked);
    assert!(one_line(&text).contains("(2 days filled in)"), "{text}");
}

#[test]
fn a_comparison_on_real_days_differs_in_the_unknowns_only() {
    let folder = tempfile::tempdir().unwrap();
    let text = done(folder.path(), &["compare", "sallowmere", "--weather", &seattle(), "--draws", "8"]);
    assert!(one_line(&text).contains("differ in the unknowns only"), "{text}");
    assert!(text.contains("8 possible years"), "{text}");
}

/// A station used year by year gives no more possible years than it has whole years.
#[test]
fn station_years_bound_the_possible_years() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::copy(seattle(), folder.path().join("seattle.csv")).unwrap();
    std::fs::write(folder.path().join("gates.csv"), common::DEMO_GATES).unwrap();
    let weather = "station = \"seattle.csv\"\nuse = \"years\"\n";
    let site = common::DEMO.replacen("climate = \"continental\"", weather, 1);
    std::fs::write(folder.path().join("site.toml"), site).unwrap();
    let text = done(folder.path(), &["compare", ".", "--draws", "50"]);
    let document = without_run(&done(folder.path(), &["compare", ".", "--draws", "50", "--json"]));
    let years = document["draws"].as_u64().unwrap();
    assert!((3..=4).contains(&years), "{years}");
    assert!(text.contains(&format!("has {years} whole years")), "{text}");
}

#[test]
fn a_fitted_climate_can_be_pasted_into_a_site_file() {
    let folder = tempfile::tempdir().unwrap();
    let text = done(folder.path(), &["weather", "fit", &seattle(), "--out", "fitted"]);
    assert!(one_line(&text).contains("4 whole years"), "{text}");
    let climate = std::fs::read_to_string(folder.path().join("fitted/climate.toml")).unwrap();
    let site = common::DEMO.replacen("climate = \"continental\"", "climate = \"seattle\"", 1);
    std::fs::write(folder.path().join("gates.csv"), common::DEMO_GATES).unwrap();
    std::fs::write(folder.path().join("site.toml"), format!("{site}\n{climate}")).unwrap();
    let said = done(folder.path(), &["check", ".", "--all"]);
    assert!(said.contains("the climate \"seattle\""), "{said}");
}

/// What is drawn is a station file again.
#[test]
fn drawn_days_can_be_read_back() {
    let folder = tempfile::tempdir().unwrap();
    let asked = ["weather", "draw", "--from", &seattle(), "--years", "4", "--start", "2027-03-15", "--out", "."];
    let text = done(folder.path(), &asked);
    assert_eq!(text, std::fs::read_to_string(folder.path().join("weather.csv")).unwrap());
    assert_eq!(text.lines().count(), 1 + 1461);
    done(folder.path(), &["season", "sallowmere", "--weather", "weather.csv"]);
}
