//! What `analysis/STATISTICS.md` shows is what its commands print. After a change that is meant:
//! `REWRITE=1 cargo test --test statistics` puts the new outputs into the page (`.ci/update-golden` does that
//! and all else).
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.
#![cfg(unix)]

mod common;

use common::{done, repository};

#[test]
fn every_output_is_what_the_command_prints() {
    let path = repository().join("analysis/STATISTICS.md");
    let page = std::fs::read_to_string(&path).unwrap();
    let mut pieces = page.split("```sh\n");
    let mut anew = pieces.next().unwrap().to_owned();
    let mut shown = 0;
    for piece in pieces {
        let (command, rest) = piece.split_once("\n```\n\n```text\n").unwrap();
        let (_, after) = rest.split_once("```").unwrap();
        let folder = tempfile::tempdir().unwrap();
        let arguments: Vec<&str> = command.strip_prefix("hensward ").unwrap().split_whitespace().collect();
        let printed = done(folder.path(), &arguments);
        anew += &format!("```sh\n{command}\n```\n\n```text\n{}\n```{after}", printed.trim());
        shown += 1;
    }
    assert!(shown >= 2);
    if std::env::var_os("REWRITE").is_some() {
        std::fs::write(&path, &anew).unwrap();
    }
    assert!(
        anew == page || std::env::var_os("REWRITE").is_some(),
        "the page is stale: REWRITE=1 cargo test --test statistics"
    );
}
