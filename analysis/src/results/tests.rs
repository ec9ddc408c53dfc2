//! What a folder of results keeps, takes away and refuses.

use super::list::WrittenList;
use super::names::OWN;
use super::{Origin, ResultsError, ResultsFolder, SiteOrigin};
use crate::output::Files;
use std::path::Path;

fn origin(command: &str, site: &str) -> Origin {
    Origin { command: command.to_owned(), site: SiteOrigin::Named(site.to_owned()) }
}

fn open(folder: &Path) -> Result<ResultsFolder, ResultsError> {
    ResultsFolder::open(folder, &origin("season", "the demo"), &["a.txt"])
}

fn write(folder: &Path, files: &[(&str, &str)]) -> Result<(), ResultsError> {
    let mut set = Files::default();
    files.iter().for_each(|(name, text)| set.add(*name, *text));
    open(folder)?.write(&set).map(drop)
}

fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.retain(|name| name != OWN);
    names.sort();
    names
}

#[test]
fn a_run_takes_away_what_the_last_one_wrote_and_nothing_else() {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), &[("a.txt", "one"), ("plot-7.svg", "seven"), ("plot-8.svg", "eight")]).unwrap();
    std::fs::write(folder.path().join("plot-8.svg"), "drawn on by hand").unwrap();
    std::fs::write(folder.path().join("notes.txt"), "mine").unwrap();
    write(folder.path(), &[("a.txt", "two")]).unwrap();
    assert_eq!(names(folder.path()), ["a.txt", "notes.txt", "plot-8.svg"]);
    assert_eq!(std::fs::read_to_string(folder.path().join("a.txt")).unwrap(), "two");
}

#[test]
fn what_is_foreign_or_changed_is_in_the_way() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("a.txt"), "mine").unwrap();
    let said = open(folder.path()).unwrap_err().to_string();
    assert!(said.contains("a.txt") && said.contains("in the way") && said.contains("--out"), "{said}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "it left something");
    std::fs::remove_file(folder.path().join("a.txt")).unwrap();
    write(folder.path(), &[("a.txt", "one"), ("b.txt", "one")]).unwrap();
    std::fs::write(folder.path().join("b.txt"), "changed").unwrap();
    assert!(write(folder.path(), &[("a.txt", "two"), ("b.txt", "two")]).is_err());
    // None took its place.
    assert_eq!(std::fs::read_to_string(folder.path().join("a.txt")).unwrap(), "one");
    assert_eq!(names(folder.path()), ["a.txt", "b.txt"]);
    // Nobody's file is taken for a half-written one.
    std::fs::write(folder.path().join("a.txt.part"), "mine").unwrap();
    write(folder.path(), &[("a.txt", "two")]).unwrap();
    assert_eq!(names(folder.path()), ["a.txt", "a.txt.part", "b.txt"]);
}

#[test]
fn a_folder_is_of_one_run_one_site_and_one_command() {
    let folder = tempfile::tempdir().unwrap();
    let first = open(folder.path()).unwrap();
    let said = open(folder.path()).unwrap_err().to_string();
    assert!(said.contains("another run is writing here"), "{said}");
    drop(first);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0, "a run that wrote nothing left something");
    write(folder.path(), &[("a.txt", "one")]).unwrap();
    for (command, site) in [("season", "another"), ("compare", "the demo")] {
        let said = ResultsFolder::open(folder.path(), &origin(command, site), &[]).unwrap_err().to_string();
        assert!(said.contains("the demo") && said.contains(site) && said.contains("--out"), "{said}");
    }
}

/// Wherever a run is killed, the next one knows all it finds.
#[test]
fn every_state_a_killed_run_leaves_is_gone_on_from() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    write(path, &[("a.txt", "one"), ("b.txt", "one"), ("c.txt", "one")]).unwrap();
    let own = path.join(OWN);
    std::fs::write(own.join("a.txt.part"), "tw").unwrap();
    std::fs::write(own.join("written.part"), "hens").unwrap();
    // Killed between two renames.
    let mut list = WrittenList::of(&own).unwrap();
    list.add(&WrittenList::holding([("b.txt".to_owned(), digest("two"))].into_iter()));
    list.save(&own).unwrap();
    std::fs::write(path.join("b.txt"), "two").unwrap();
    write(path, &[("a.txt", "three"), ("b.txt", "three")]).unwrap();
    assert_eq!(names(path), ["a.txt", "b.txt"]);
    let mut left: Vec<_> = std::fs::read_dir(own).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    left.sort();
    assert_eq!(left, ["owner", "written"]);
}

/// Killed before it wrote anything, or its files moved away: the next run of any site may have it.
#[test]
fn a_folder_without_results_is_nobodys() {
    let folder = tempfile::tempdir().unwrap();
    let another = |name: &str| ResultsFolder::open(&folder.path().join(name), &origin("compare", "another"), &[]);
    write(&folder.path().join("y"), &[("a.txt", "one")]).unwrap();
    assert!(another("y").is_err());
    std::fs::remove_file(folder.path().join("y/a.txt")).unwrap();
    drop(another("y").unwrap());
}

fn digest(text: &str) -> String {
    let mut digest = crate::provenance::Fnv::default();
    digest.take(text.as_bytes());
    digest.hex()
}

#[cfg(unix)]
#[test]
fn files_may_be_read_by_whoever_may_read_any_new_file() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("any.txt"), "one").unwrap();
    write(folder.path(), &[("a.txt", "one")]).unwrap();
    let mode = |name| std::fs::metadata(folder.path().join(name)).unwrap().permissions().mode();
    assert_eq!(mode("a.txt"), mode("any.txt"));
}
