//! The Parquet table of a sweep, read back through the crate's own reader, against the CSV.

#![cfg(feature = "parquet")]
#![allow(clippy::unwrap_used)] // In tests a fault may end the run.

use analysis::stats::blocks::Moments;
use analysis::sweep::axis::{Axis, Values};
use analysis::sweep::design::Design;
use analysis::sweep::merge::Whole;
use analysis::sweep::part::PartWriter;
use analysis::sweep::rows::tell;
use analysis::sweep::tally::Tally;
use analysis::sweep::{LimitName, Shard, SweepPlan};
use parquet::file::reader::{FileReader, SerializedFileReader};
use parquet::record::Field;
use std::path::{Path, PathBuf};

/// Strategies of the invented sweep; one name needs quoting in CSV.
const STRATEGIES: [&str; 3] = ["by-eye", "turn, by \"area\"", "überall offen"];
/// More rows than one group of the file holds.
const CELLS: u64 = 6_000;

fn axis(key: &str, unit: &str, values: Vec<f64>) -> Axis {
    Axis { key: key.into(), unit: unit.into(), light: true, whole: false, values: Values::List(values) }
}

fn plan() -> SweepPlan {
    let stays = (0..CELLS / 2).map(|k| k as f64 * 0.1).collect();
    SweepPlan {
        version: "1.2.3".into(),
        input_digest: "0".repeat(32),
        seed: 7,
        site: "Küche".into(),
        years: 1,
        draws: 3,
        required_reliability: 0.9,
        axes: vec![axis("stay", "days", stays), axis("plot.hazel-strip.area", "m2", vec![-4.0, 1e-9])],
        design: Design::Grid,
        strategies: STRATEGIES.map(str::to_owned).into(),
        limits: vec![LimitName { name: "least_cover".into(), words: "cover".into() }],
        aims: vec![],
        aim_unit: "h".into(),
        weather: None,
    }
}

/// So many draws about a value; none has nothing to tell.
fn moments(draws: u64, value: f64) -> Moments {
    let mut moments = Moments::default();
    for draw in 0..draws {
        moments.add(value + 0.7 * draw as f64);
    }
    moments.close();
    moments
}

/// Tallies that differ from cell to cell; here and there one has nothing to tell.
fn tally(cell: u64, strategy: usize) -> Tally {
    let mut tally = Tally::new(1);
    tally.draws = 3;
    tally.held = vec![cell % 4];
    tally.all_held = cell % 3;
    let value = (cell as f64 + 0.1).sqrt() * if strategy == 1 { -1.0 } else { 1e7 };
    tally.aim = moments(3, value);
    for (place, of_measure) in tally.measures.iter_mut().enumerate() {
        let count = (cell + place as u64 + strategy as u64) % 4;
        *of_measure = moments(count, value / (place + 3) as f64);
    }
    tally
}

/// A finished part of the invented sweep, in blocks of so many cells.
fn whole(folder: &Path, block: u64) -> Whole {
    let path = folder.join(format!("{block}.sweep"));
    let mut part = PartWriter::open(&path, &plan(), Shard::WHOLE, false).unwrap();
    while part.next < CELLS {
        let cells = part.next..(part.next + block).min(CELLS);
        part.keep(&cells.map(|c| (0..STRATEGIES.len()).map(|s| tally(c, s)).collect()).collect::<Vec<_>>()).unwrap();
    }
    part.finish().unwrap();
    drop(part);
    Whole::of(&[path]).unwrap()
}

fn written(folder: &Path, block: u64) -> PathBuf {
    let path = folder.join(format!("{block}.parquet"));
    let mut file = std::fs::File::create(&path).unwrap();
    analysis::sweep::parquet::write(&whole(folder, block), &mut file, &path).unwrap();
    path
}

#[test]
fn every_value_is_that_of_the_csv() {
    let folder = tempfile::tempdir().unwrap();
    let mut csv = Vec::new();
    tell(&whole(folder.path(), 500), &mut csv, folder.path()).unwrap();
    let mut csv = csv::Reader::from_reader(csv.as_slice());
    let file = SerializedFileReader::new(std::fs::File::open(written(folder.path(), 1_000)).unwrap()).unwrap();
    let heads: Vec<String> = csv.headers().unwrap().iter().map(str::to_owned).collect();
    let fields = file.metadata().file_metadata().schema().get_fields();
    assert_eq!(fields.iter().map(|field| field.name()).collect::<Vec<_>>(), heads);
    assert!(heads.contains(&"plot.hazel-strip.area[m2]".to_owned()));
    let (mut rows, mut blanks) = (0, 0);
    for (row, record) in file.get_row_iter(None).unwrap().zip(csv.records()) {
        for ((head, field), text) in row.unwrap().get_column_iter().zip(&record.unwrap()) {
            let cell = match field {
                Field::Long(count) => count.to_string(),
                Field::Double(number) => number.to_string(),
                Field::Str(text) => text.clone(),
                Field::Bool(flag) => flag.to_string(),
                Field::Null => String::new(),
                other => panic!("{head} is {other:?}"),
            };
            assert_eq!(cell, text, "row {rows}, {head}");
            blanks += u64::from(cell.is_empty());
        }
        rows += 1;
    }
    assert_eq!(rows, CELLS * STRATEGIES.len() as u64);
    assert_eq!(file.metadata().file_metadata().num_rows() as u64, rows);
    assert!(file.num_row_groups() > 1 && blanks > 0, "{} groups, {blanks} blanks", file.num_row_groups());
}

#[test]
fn the_file_says_which_run_it_is_of() {
    let folder = tempfile::tempdir().unwrap();
    let file = SerializedFileReader::new(std::fs::File::open(written(folder.path(), 900)).unwrap()).unwrap();
    let said = file.metadata().file_metadata().key_value_metadata().unwrap();
    let said = |key: &str| said.iter().find(|pair| pair.key == format!("hensward.{key}")).unwrap().value.clone();
    assert_eq!(said("version").as_deref(), Some("1.2.3"));
    assert_eq!((said("seed").as_deref(), said("site").as_deref()), (Some("7"), Some("Küche")));
    assert_eq!(said("input_digest").unwrap().len(), 32);
}

#[test]
fn how_a_run_was_cut_leaves_no_trace() {
    let folder = tempfile::tempdir().unwrap();
    let bytes = |block: u64| std::fs::read(written(folder.path(), block)).unwrap();
    assert!(bytes(7) == bytes(1_024), "the bytes hang on how cells were kept");
}

#[test]
fn a_file_that_cannot_be_written_is_named() {
    struct Full;
    impl std::io::Write for Full {
        fn write(&mut self, _: &[u8]) -> std::io::Result<usize> {
            Err(std::io::ErrorKind::StorageFull.into())
        }
        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let whole = whole(folder.path(), 1_000);
    let error = analysis::sweep::parquet::write(&whole, &mut Full, Path::new("a.parquet")).unwrap_err().to_string();
    assert!(error.contains("cannot write a.parquet: the disk is full"), "{error}");
}
