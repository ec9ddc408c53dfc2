//! That the pins speak: a season's files are changed, and what is said of it is held to the change.

use crate::common::{done, files};
use crate::season::Season;
use crate::speak::moved;
use std::path::Path;
use std::sync::OnceLock;

/// A column of the ledger, and its day and plot changed below.
const COLUMN: &str = "n.stock.mineral[kg/ha]";
const DAY: &str = "2028-06-01";
const PLOT: &str = "cherry-bank";

/// The files of a season and its pin.
fn run() -> &'static (tempfile::TempDir, String) {
    static RUN: OnceLock<(tempfile::TempDir, String)> = OnceLock::new();
    RUN.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        done(folder.path(), &["season", "sallowmere", "--strategy", "by-eye", "--exact", "--out", "."]);
        let pin = Season::read(folder.path()).pin([None, None]);
        (folder, pin)
    })
}

/// What is said of a copy of the season in which one file is another.
fn said_of(file: &str, change: impl Fn(&str) -> String) -> Vec<String> {
    let (original, pin) = run();
    let copy = tempfile::tempdir().unwrap();
    for (path, bytes) in files(original.path()) {
        std::fs::write(copy.path().join(path.file_name().unwrap()), bytes).unwrap();
    }
    let path = copy.path().join(file);
    let before = std::fs::read_to_string(&path).unwrap();
    let after = change(&before);
    assert_ne!(before, after);
    std::fs::write(&path, after).unwrap();
    moved(pin, &Season::read(copy.path()))
}

/// The text with the cell of [`COLUMN`] on [`DAY`] in the first zone of [`PLOT`] replaced.
fn with_cell(csv: &str, by: impl Fn(f64) -> f64) -> String {
    let column = csv.lines().next().unwrap().split(',').position(|name| name == COLUMN).unwrap();
    let mut found = false;
    let row = |line: &str| {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        if !found && cells[0] == DAY && cells[1] == PLOT {
            found = true;
            cells[column] = format!("{:?}", by(cells[column].parse().unwrap()));
        }
        cells.join(",") + "\n"
    };
    csv.lines().map(row).collect()
}

/// The text with a column more behind, or the first after the date taken out.
fn with_column(csv: &str) -> String {
    let line = |(at, line): (usize, &str)| format!("{line},{}\n", if at == 0 { "invented[mm]" } else { "0.5" });
    csv.lines().enumerate().map(line).collect()
}

fn without_column(csv: &str, name: &str) -> String {
    let column = csv.lines().next().unwrap().split(',').position(|one| one == name).unwrap();
    let others = |line: &str| {
        let cells = line.split(',').enumerate().filter(|(at, _)| *at != column).map(|(_, cell)| cell);
        cells.collect::<Vec<_>>().join(",") + "\n"
    };
    csv.lines().map(others).collect()
}

#[track_caller]
fn assert_says(said: &[String], words: &[&str]) {
    let all = |line: &&String| words.iter().all(|word| line.contains(word));
    assert!(said.iter().any(|line| all(&line)), "nothing says {words:?}:\n{}", said.join("\n"));
}

#[test]
fn nothing_is_said_of_what_did_not_move() {
    let (folder, pin) = run();
    assert_eq!(moved(pin, &Season::read(Path::new(folder.path()))), Vec::<String>::new());
}

#[test]
fn a_cell_is_told_with_file_column_date_and_amount() {
    let said = said_of("ledger.csv", |csv| with_cell(csv, |value| value + 1.0));
    assert_eq!(said.len(), 2, "{said:#?}");
    assert_says(&said, &["ledger.csv: parts on", DAY]);
    assert_says(&said, &["ledger.csv:", COLUMN, "from 2028-05-08 to 2028-06-18", "sum ", " → ", "(+1.000e0, +"]);
}

#[test]
fn the_last_digit_of_a_cell_is_told() {
    let said = said_of("ledger.csv", |csv| with_cell(csv, f64::next_up));
    assert_eq!(said.len(), 2, "{said:#?}");
    assert_says(&said, &["ledger.csv: parts on", DAY]);
    assert_says(&said, &["ledger.csv:", COLUMN, "from 2028-05-08 to 2028-06-18", "less than the digits kept"]);
}

#[test]
fn a_new_column_is_new_and_moves_nothing() {
    assert_eq!(said_of("ledger_site.csv", with_column), ["ledger_site.csv: new column invented[mm]"]);
    let said = said_of("ledger.csv", |csv| with_column(&with_cell(csv, |value| value + 1.0)));
    assert_says(&said, &["ledger.csv: new column invented[mm]"]);
    assert_says(&said, &["ledger.csv: parts on", DAY]);
    assert_says(&said, &["ledger.csv:", COLUMN, "(+1.000e0, +"]);
    assert_eq!(said.len(), 3, "{said:#?}");
}

#[test]
fn a_column_gone_is_gone_and_the_others_are_still_compared() {
    let said = said_of("ledger.csv", |csv| without_column(&with_cell(csv, |value| value + 1.0), "cover[share]"));
    assert_says(&said, &["ledger.csv: gone: column cover[share]"]);
    assert_says(&said, &["ledger.csv:", COLUMN, "(+1.000e0, +"]);
    assert_eq!(said.len(), 3, "{said:#?}");
}

#[test]
fn columns_that_change_places_are_told() {
    let said = said_of("ledger_site.csv", |csv| csv.replacen("tmin[C],tmax[C]", "tmax[C],tmin[C]", 1));
    assert_says(&said, &["ledger_site.csv: columns stand in another order, from tmax[C] on"]);
}

#[test]
fn a_day_gone_is_told() {
    let said = said_of("ledger_site.csv", |csv| {
        csv.lines().filter(|line| !line.starts_with(DAY)).map(|line| format!("{line}\n")).collect()
    });
    assert_says(&said, &["ledger_site.csv: rows 1096 → 1095"]);
    assert_says(&said, &["ledger_site.csv: parts on 2028-06-02"]);
}

#[test]
fn a_new_measure_is_no_moved_ledger() {
    let said = said_of("summary.json", |text| {
        text.replacen("\"measures\": {", "\"measures\": { \"invented\": { \"unit\": \"mm\", \"value\": 1.5 },", 1)
    });
    assert_eq!(said, ["summary.json: new figure measures.invented[mm]"]);
}

#[test]
fn a_measure_is_told_with_the_amount() {
    let measure = "\"days_under\": 0.0";
    let said = said_of("summary.json", |text| text.replacen(measure, "\"days_under\": 2.5", 1));
    assert_eq!(said, ["summary.json: plots.days_under of \"kitchen-beds\" 0.0 → 2.5 (+2.500e0)"]);
}

#[test]
fn a_row_of_the_diary_is_told() {
    let said = said_of("diary.csv", |csv| csv.replacen("gate opened", "gate shut", 1));
    assert_says(&said, &["diary.csv: parts in row", "gate shut"]);
    assert_says(&said, &["diary.csv: gate opened"]);
    assert_eq!(said.len(), 3, "{said:#?}");
}
