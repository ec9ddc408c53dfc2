//! A plot that is all beds, as a keeper reads of it on the screen.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{done, one_line, run, stderr};

fn site(beds: f64) -> String {
    let plot = |name: &str, beds: f64| {
        let crop = "crop = \"cabbage\"\nin_ground = [2027-05-15, 2027-11-20]";
        let crop = if beds > 0.0 { format!("[[plot.{name}.crop]]\n{crop}\n") } else { String::new() };
        format!(
            "[plot.{name}]\narea = \"80 m2\"\nsoil = \"loam\"\ncover = {{ plant = \"mown grass\" }}\nbeds = {beds:.1}\n{crop}"
        )
    };
    format!(
        "format = 2\nlatitude = \"51 deg\"\n[run]\nstart = 2027-03-01\nyears = 1\n[weather]\nclimate = \"cool-maritime\"\n\
         [yard]\narea = \"20 m2\"\n[house]\nnight_share = 0.45\n[birds.flock]\nclass = \"layer\"\nnumber = 8\n\
         {}{}[strategy.open]\nall_open = {{}}\n[strategy.shut]\nall_shut = {{}}\n",
        plot("kitchen", 1.0),
        plot("meadow", beds)
    )
}

#[test]
fn a_season_shows_dashes_and_says_why() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("site.toml"), site(0.0)).unwrap();
    let said = done(folder.path(), &["season", "site.toml", "--strategy", "open", "--quiet"]);
    let row = |plot: &str| {
        let line = said.lines().find(|line| line.trim_start().starts_with(plot)).unwrap();
        line.split_whitespace().map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(row("kitchen")[1..3], ["–", "–"], "{said}");
    assert_eq!(row("kitchen")[4], "–", "{said}");
    assert!(!row("meadow").contains(&"–".to_owned()), "{said}");
    assert!(one_line(&said).contains("All beds, no sward to keep: kitchen."), "{said}");
    let checked = done(folder.path(), &["check", "site.toml", "--quiet", "--all"]);
    assert_eq!(checked.matches("all beds; gate").count(), 1, "{checked}");
}

#[test]
fn without_a_sward_there_is_no_lesson_to_draw() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("site.toml"), site(1.0)).unwrap();
    let output = run(folder.path(), &["lesson", "site.toml", "--draws", "2", "--quiet"]);
    assert_eq!(output.status.code(), Some(2));
    let said = one_line(&stderr(&output));
    assert!(said.contains("every plot of the site is all beds") && said.contains("beds = 0.7"), "{said}");
}
