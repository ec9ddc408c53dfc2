//! What a comparison holds in memory grows by what each strategy is worth and whether its limits held, and by nothing else.

#![allow(clippy::unwrap_used)]

mod common;

use analysis::experiment::{DrawOutcome, draws_of, outcomes};
use analysis::outcomes::Outcomes;
use analysis::outcomes::columns::Room;
use common::site;
use scenarios::SiteModel;
use sim_engine::measures::Measure;

/// A possible year of a few days, which takes little room in the file.
fn small() -> (SiteModel, DrawOutcome) {
    let (model, _) = site(|model| model.base.days = 8);
    let year = outcomes(draws_of(&model, 1, None, 0..1), &model, &[0, 1], 0).unwrap().remove(0);
    (model, year)
}

/// Most bytes held at once while so many made-up years come in.
fn most_bytes(years: usize, room: &Room) -> u64 {
    let (model, year) = small();
    let taken = allocation_counter::measure(|| {
        let mut outcomes = Outcomes::within(&model, 2, room);
        for number in 0..years {
            let mut year = year.clone();
            year.strategies[0].measures.set(Measure::WorkSaved, number as f64);
            outcomes.push(&model, year, &[0, 1]).unwrap();
        }
        outcomes.kept.close().unwrap();
        assert_eq!(outcomes.years(), years);
    });
    taken.bytes_max
}

/// Bytes a possible year may take: two aims, the limits of two strategies, and as much again while a list doubles
/// its room.
fn bytes_a_year() -> u64 {
    let (model, _) = small();
    3 * 2 * (8 + model.limits.all.len() as u64)
}

#[test]
fn memory_grows_by_aims_and_limits_alone() {
    let folder = tempfile::tempdir().unwrap();
    let room = Room { block: 64 << 10, memory: 64 << 10, folder: folder.path().to_owned() };
    let (few, many) = (most_bytes(1_000, &room), most_bytes(9_000, &room));
    let each = (many - few) / 8_000;
    assert!(each <= bytes_a_year(), "{each} bytes a possible year");
}
