//! The library that ships reads whole and fast.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::Library;
use scenarios::library::EntryKind;
use std::time::Instant;

#[test]
fn it_reads_whole() {
    let library = match Library::shipped() {
        Ok(library) => library,
        Err(faults) => panic!("{faults}"),
    };
    for kind in EntryKind::ALL {
        assert!(library.names(*kind).count() > 0, "no {}", kind.plain());
    }
    assert!(library.climates().count() > 0);
}

#[test]
#[ignore = "prints the time; run in release"]
fn time_to_read() {
    let begun = Instant::now();
    for _ in 0..20 {
        Library::shipped().unwrap();
    }
    println!("{:.2} ms a read", begun.elapsed().as_secs_f64() * 1000.0 / 20.0);
}
