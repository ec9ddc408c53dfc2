//! The examples run, and DEVELOPERS.md shows them as they are.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

#[path = "../examples/own_measure.rs"]
mod own_measure;
#[path = "../examples/own_recorder.rs"]
mod own_recorder;
#[path = "../examples/own_strategy.rs"]
mod own_strategy;

const DEVELOPERS: &str = include_str!("../DEVELOPERS.md");
/// Most lines of an example.
const LINES: usize = 40;

#[test]
fn a_strategy_a_recorder_and_a_measure_of_ones_own_run() {
    own_strategy::main().unwrap();
    own_recorder::main().unwrap();
    own_measure::main().unwrap();
}

#[test]
fn each_is_short_and_shown_as_it_is() {
    for name in ["own_strategy", "own_recorder", "own_measure"] {
        let code = std::fs::read_to_string(common::repository().join(format!("examples/{name}.rs"))).unwrap();
        assert!(code.lines().count() < LINES, "{name} has {LINES} lines or more");
        assert!(DEVELOPERS.contains(&format!("```rust\n{code}```")), "DEVELOPERS.md does not show {name}.rs as it is");
    }
}
