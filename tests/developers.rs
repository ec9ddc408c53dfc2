//! DEVELOPERS.md tells of files that exist.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

const DEVELOPERS: &str = include_str!("../DEVELOPERS.md");

/// Every path in backticks: with a slash, or a file at the top.
#[test]
fn every_path_named_exists() {
    let quoted: Vec<&str> = DEVELOPERS.split('`').skip(1).step_by(2).collect();
    let is_path = |text: &&str| {
        !text.contains([' ', '<', '*', '{', '(', '$', ':', '\n', '='])
            && !text.starts_with(['-', '/', '"', '+'])
            && (text.contains('/') || [".md", ".toml"].iter().any(|ending| text.ends_with(ending)))
    };
    let paths: Vec<&str> = quoted.iter().copied().filter(is_path).collect();
    assert!(paths.len() >= 30, "{paths:?}");
    for path in paths {
        let there = common::repository().join(path.trim_end_matches('/'));
        assert!(there.exists(), "DEVELOPERS.md names {path}, which is not there");
    }
}
