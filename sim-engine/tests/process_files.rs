//! Every process file tells in its head what it is, its formulas, source, limits and parameters, and ends with tests.
//! What a head names exists.
#![allow(clippy::unwrap_used)]

use sim_engine::parameters::Field;
use sim_engine::species::{
    BirdParams, CanopyParams, CoverParams, CreeperParams, CropParams, PestParams, ProcessParams, SlugParams,
    SoilParams, WeedParams,
};
use std::path::{Path, PathBuf};

/// Parts of a head, in their order.
const PARTS: [&str; 4] = ["# Formulas", "# Source", "# Limits", "# Parameters"];
/// Starts the tests of a file.
const TESTS: &str = "\n#[cfg(test)]\nmod tests {\n";

/// A process file: its path under `src`, the text of its head, its code without tests, its tests.
struct ProcessFile {
    path: String,
    head: String,
    code: String,
    tests: String,
}

fn src() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// The files of processes, and the birds' day.
fn process_files() -> Vec<ProcessFile> {
    let mut files = vec![ProcessFile::read("birds_day.rs".to_owned())];
    let mut rooms = vec!["plot".to_owned(), "flock".to_owned()];
    while let Some(room) = rooms.pop() {
        for entry in std::fs::read_dir(src().join(&room)).unwrap() {
            let entry = entry.unwrap();
            let name = entry.file_name().into_string().unwrap();
            let path = format!("{room}/{name}");
            if entry.file_type().unwrap().is_dir() {
                rooms.push(path);
            } else if name != "mod.rs" {
                files.push(ProcessFile::read(path));
            }
        }
    }
    files
}

impl ProcessFile {
    fn read(path: String) -> Self {
        let text = std::fs::read_to_string(src().join(&path)).unwrap();
        Self::of(path, &text)
    }

    fn of(path: String, text: &str) -> Self {
        let in_head = |line: &&str| line.starts_with("//!");
        let head = text.lines().take_while(in_head).map(|line| format!("{}\n", line.trim_start_matches("//!").trim()));
        let body: String = text.lines().skip_while(in_head).map(|line| format!("{line}\n")).collect();
        let (code, tests) = body.split_once(TESTS).unwrap_or((&body, ""));
        Self { path, head: head.collect(), code: code.to_owned(), tests: tests.to_owned() }
    }

    /// What stands in its head under "Parameters".
    fn parameter_block(&self) -> &str {
        self.head.split_once("# Parameters").unwrap().1
    }

    /// Name and unit of every parameter its head lists.
    fn parameters(&self) -> Vec<(&str, &str)> {
        let listed = self.parameter_block();
        let parts = listed.split('[').zip(listed.split('[').skip(1));
        parts
            .map(|(before, after)| {
                let name = before.split(|c: char| !(c.is_alphanumeric() || c == '_')).rfind(|word| !word.is_empty());
                (name.unwrap(), after.split_once(']').unwrap().0)
            })
            .collect()
    }
}

/// All numbers of the library, of every kind.
fn fields() -> Vec<Field> {
    [
        SoilParams::FIELDS,
        CoverParams::FIELDS,
        WeedParams::FIELDS,
        CreeperParams::FIELDS,
        CropParams::FIELDS,
        CanopyParams::FIELDS,
        PestParams::FIELDS,
        BirdParams::FIELDS,
        SlugParams::FIELDS,
        ProcessParams::FIELDS,
    ]
    .concat()
}

/// Words of a text, of letters, digits and what `and` names.
fn words<'t>(text: &'t str, and: &'static [char]) -> impl Iterator<Item = &'t str> {
    text.split(move |c: char| !(c.is_alphanumeric() || and.contains(&c))).filter(|word| !word.is_empty())
}

#[test]
fn every_head_has_its_parts_and_every_file_its_tests() {
    for file in process_files() {
        let at: Vec<_> = PARTS.iter().map(|part| file.head.find(&format!("{part}\n"))).collect();
        assert!(at.iter().all(Option::is_some) && at.is_sorted(), "{}: {PARTS:?}, in this order", file.path);
        assert!(file.head.find("# ") > Some(20), "{} begins with what it is", file.path);
        assert!(file.tests.contains("#[test]"), "{} has tests below its code", file.path);
    }
}

/// A head lists a parameter with the unit it is declared in, and every parameter its code reads.
#[test]
fn every_parameter_is_listed_with_its_unit() {
    let fields = fields();
    for file in process_files() {
        let listed = file.parameters();
        for (name, unit) in &listed {
            let known = fields.iter().any(|field| field.name == *name && field.unit == *unit);
            assert!(known, "{}: no parameter {name} in {unit}", file.path);
        }
        let code: Vec<&str> = words(&file.code, &['_', '.']).collect();
        for field in &fields {
            let reads = code.iter().any(|word| word.split('.').skip(1).any(|part| part == field.name));
            let lists = listed.iter().any(|(name, _)| *name == field.name);
            assert!(!reads || lists, "{} reads {} and does not list it", file.path, field.name);
        }
    }
}

/// A file is named from its own folder or from `src`.
#[test]
fn every_file_a_head_names_exists() {
    for file in process_files() {
        for named in words(&file.head, &['_', '.', '/']).filter(|word| word.ends_with(".rs")) {
            let beside = src().join(&file.path).with_file_name(named);
            assert!(beside.exists() || src().join(named).exists(), "{} names {named}", file.path);
        }
    }
}

/// Parameters are listed by the type that declares them: a word of two capitals.
#[test]
fn every_type_that_lists_parameters_is_declared() {
    let declared = std::fs::read_to_string(src().join("species.rs")).unwrap();
    for file in process_files() {
        let camel = |word: &&str| word.starts_with(char::is_uppercase) && word[1..].contains(char::is_uppercase);
        for name in words(file.parameter_block(), &['_']).filter(camel) {
            assert!(declared.contains(&format!("\n    {name} {{")), "{} names {name}, no set of parameters", file.path);
        }
    }
}

#[test]
fn the_model_page_names_every_process_file() {
    let page = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("MODEL.md")).unwrap();
    for file in process_files() {
        assert!(page.contains(&format!("(src/{})", file.path)), "MODEL.md does not name {}", file.path);
    }
}
