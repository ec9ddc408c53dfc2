//! Few rows in memory and many in a file are the same rows, down to the documents made of them.

use super::columns::{Columns, Room, SpillError};
use super::{KeptYears, Outcomes};
use crate::compare::{ComparePlan, Comparison, finish, run_draws};
use crate::experiment::{ArmId, DrawOutcome};
use crate::json::{compare_csv, compare_document, text};
use crate::provenance::Provenance;
use crate::report::{CompareView, compare_report};
use crate::season::likely;
use crate::units::Units;
use scenarios::{Library, SiteModel, site_file};
use sim_engine::measures::Measure;
use std::path::{Path, PathBuf};

/// No room in memory at all: a file from the first block on.
fn none(block: usize, folder: &Path) -> Room {
    Room { block, memory: 0, folder: folder.to_owned() }
}

fn demo() -> (SiteModel, Library) {
    a_year_of("demos/puddlecote/site.toml")
}

fn a_year_of(site: &str) -> (SiteModel, Library) {
    let library = Library::shipped().unwrap();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios").join(site);
    let mut model = site_file::read(&path, &library).unwrap();
    model.years = 1;
    model.base.days = 366;
    (model, library)
}

fn plan(model: &SiteModel, draws: usize) -> ComparePlan {
    let (which, against) = (vec![0, 1], 0);
    let required_reliability = model.compare.required_reliability;
    ComparePlan { seed: 3, draws, which, against, required_reliability, indifference_share: 0.05 }
}

#[test]
fn columns_come_back_whatever_stays_in_memory() {
    let folder = tempfile::tempdir().unwrap();
    let rows = |count: usize| (0..count).map(|row| [row as f64, -0.5 * row as f64, f64::NAN]);
    for count in [0, 1, 3, 4, 5, 400] {
        for room in [Room::default(), none(1, folder.path()), none(4 * 3 * 8, folder.path())] {
            let mut columns = Columns::new(3, &room);
            rows(count).try_for_each(|row| columns.push(row)).unwrap();
            columns.close().unwrap();
            let bits = |column: Vec<f64>| column.into_iter().map(f64::to_bits).collect::<Vec<_>>();
            for column in 0..3 {
                let want: Vec<f64> = rows(count).map(|row| row[column]).collect();
                assert_eq!(bits(columns.column(column).unwrap()), bits(want), "{count} rows, {room:?}");
            }
            let blocks = (0..columns.blocks()).map(|block| columns.block(block, 2).unwrap());
            let seconds = blocks.flat_map(|block| (0..block.rows()).map(|row| block.at(row, 1)).collect::<Vec<_>>());
            assert_eq!(seconds.collect::<Vec<_>>(), rows(count).map(|row| row[1]).collect::<Vec<_>>());
        }
    }
    // The files have no names, or lost them.
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn without_a_place_for_the_file_the_place_is_named() {
    let folder = PathBuf::from("/nowhere/at-all");
    let mut columns = Columns::<u16>::new(1, &none(2, &folder));
    let said = columns.push([1]).unwrap_err().to_string();
    assert_eq!(
        said,
        "cannot keep possible years in a temporary file in /nowhere/at-all: there is no such folder; name another \
         folder in TMPDIR (on Windows TMP)"
    );
    let full = SpillError { folder, cause: std::io::ErrorKind::StorageFull.into() }.to_string();
    assert!(full.contains("the disk is full; free some space there"), "{full}");
}

/// Every document and picture of a comparison.
fn made(model: &SiteModel, library: &Library, c: &Comparison) -> Vec<(String, Vec<u8>)> {
    let from = Provenance::new(3, String::new());
    let likely = likely(model, 3, None, c.plan.which[c.leading()]).unwrap();
    let (units, notes) = (Units::Metric, &[]);
    let view = CompareView { model, library, comparison: c, likely: &likely, from: &from, notes, units };
    let report = compare_report(&view);
    let mut draws = Vec::new();
    compare_csv(c, &mut draws).unwrap();
    let document = text(&compare_document(model, c, &from, None)).unwrap();
    let table = crate::table::compare_table(model, c, units);
    let files = [("page", report.html), ("document", document), ("table", table)];
    let files = files.into_iter().map(|(name, text)| (name.to_owned(), text.into_bytes()));
    let charts = report.charts.into_iter().map(|(name, chart)| (name, chart.svg.into_bytes()));
    files.chain(charts).chain([("draws".to_owned(), draws)]).collect()
}

fn collected(model: &SiteModel, years: &[DrawOutcome], room: &Room) -> Comparison {
    let mut outcomes = Outcomes::within(model, 2, room);
    years.iter().try_for_each(|year| outcomes.push(model, year.clone(), &[0, 1])).unwrap();
    finish(model, &plan(model, years.len()), outcomes, None).unwrap()
}

#[test]
fn what_goes_to_a_file_makes_the_same_bytes() {
    let (model, library) = demo();
    let folder = tempfile::tempdir().unwrap();
    let plan = plan(&model, 42);
    let years = run_draws(&model, &plan, &plan.which, None, 0..42).unwrap();
    let [memory, file] = [Room::default(), none(100_000, folder.path())]
        .map(|room| made(&model, &library, &collected(&model, &years, &room)));
    assert_eq!(memory.len(), file.len());
    for ((name, memory), (_, file)) in memory.iter().zip(&file) {
        assert!(!memory.is_empty() && memory == file, "{name}");
    }
}

/// Pictures show means and quantiles: they hold no mark for each possible year.
#[test]
fn pictures_do_not_grow_with_possible_years() {
    let (model, library) = demo();
    let plan = plan(&model, 8);
    let years = run_draws(&model, &plan, &plan.which, None, 0..8).unwrap();
    let many: Vec<DrawOutcome> = years.iter().cycle().take(800).cloned().collect();
    let size = |years: &[DrawOutcome]| -> usize {
        let files = made(&model, &library, &collected(&model, years, &Room::default()));
        files.iter().filter(|(name, _)| name != "draws").map(|(_, bytes)| bytes.len()).sum()
    };
    let (few, many) = (size(&years), size(&many));
    assert!(many < few + few / 20, "{few} bytes of 8 possible years, {many} of 800");
}

#[test]
fn a_strategy_that_is_out_has_blanks() {
    let (model, _) = demo();
    let plan = plan(&model, 2);
    let years = run_draws(&model, &plan, &plan.which, None, 0..2).unwrap();
    let mut outcomes = Outcomes::new(&model, 2);
    outcomes.push(&model, years[0].clone(), &[0, 1]).unwrap();
    let mut last = years[1].clone();
    last.strategies.remove(0);
    outcomes.push(&model, last, &[1]).unwrap();
    outcomes.kept.close().unwrap();
    let kept: &KeptYears = &outcomes.kept;
    let work = |s| kept.values(ArmId::Strategy(s), Measure::Work).unwrap();
    let of = |year: usize, s: usize| years[year].strategies[s].measures.get(Measure::Work);
    assert_eq!((work(0)[0], work(1)), (of(0, 0), vec![of(0, 1), of(1, 1)]));
    assert!(work(0)[1].is_nan());
    assert_eq!(outcomes.aims.iter().map(Vec::len).collect::<Vec<_>>(), [1, 2]);
    assert_eq!(kept.least_cover(ArmId::Strategy(0), 5).unwrap().len(), 1);
}

/// Most memory the process ever had, in MB, as Linux counts it.
fn most_mb() -> usize {
    let status = std::fs::read_to_string("/proc/self/status").unwrap();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap();
    line.trim_end_matches("kB").trim().parse::<usize>().unwrap() / 1024
}

/// Made-up years, all different, through all that a comparison makes of real ones.
#[test]
#[ignore = "some minutes and 5 GB of disk: .ci/slow memory"]
fn a_million_possible_years_take_less_than_500_mb() {
    const YEARS: usize = 1_000_000;
    let (model, library) = a_year_of("starters/small-yard.toml");
    let plan = plan(&model, YEARS);
    let years = run_draws(&model, &plan, &plan.which, None, 0..64).unwrap();
    let mut outcomes = Outcomes::new(&model, 2);
    for number in 0..YEARS {
        let mut year = years[number % years.len()].clone();
        let all = [&mut year.shut_in, &mut year.no_birds, &mut year.nothing].into_iter().chain(&mut year.strategies);
        for (at, outcome) in all.enumerate() {
            outcome.detail = outcome.detail.take().filter(|_| number < years.len());
            for &measure in Measure::ALL {
                let off = (number * (at + 3)).wrapping_mul(2_654_435_761) % 4_096;
                outcome.measures.set(measure, outcome.measures.get(measure) * (1.0 + off as f64 / 1e5));
            }
        }
        outcomes.push(&model, year, &[0, 1]).unwrap();
    }
    println!("{} MB when all years are in", most_mb());
    let c = finish(&model, &plan, outcomes, None).unwrap();
    println!("{} MB when all is known", most_mb());
    compare_csv(&c, &mut std::io::sink()).unwrap();
    let from = Provenance::new(3, String::new());
    let likely = likely(&model, 3, None, c.plan.which[c.leading()]).unwrap();
    let (units, notes) = (Units::Metric, &[]);
    let view =
        CompareView { model: &model, library: &library, comparison: &c, likely: &likely, from: &from, notes, units };
    let page = compare_report(&view).html.len() + text(&compare_document(&model, &c, &from, None)).unwrap().len();
    let most = most_mb();
    println!("{most} MB when all is written, {page} bytes of page and document");
    assert!(most < 500, "{most} MB");
}
