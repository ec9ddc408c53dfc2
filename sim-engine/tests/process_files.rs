//! Every process file tells in its head what it is, its formulas, source, limits and parameters, and ends with tests.
#![allow(clippy::unwrap_used)]

use sim_engine::parameters::Field;
use sim_engine::species::{
    BirdParams, CanopyParams, CoverParams, CreeperParams, CropParams, PestParams, ProcessParams, SoilParams, WeedParams,
};
use std::path::Path;

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

fn process_files() -> Vec<ProcessFile> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    for room in ["plot", "flock"] {
        for entry in std::fs::read_dir(src.join(room)).unwrap() {
            let name = entry.unwrap().file_name().into_string().unwrap();
            if name != "mod.rs" {
                let text = std::fs::read_to_string(src.join(room).join(&name)).unwrap();
                files.push(ProcessFile::of(format!("{room}/{name}"), &text));
            }
        }
    }
    files
}

impl ProcessFile {
    fn of(path: String, text: &str) -> Self {
        let in_head = |line: &&str| line.starts_with("//!");
        let head = text.lines().take_while(in_head).map(|line| format!("{}\n", line.trim_start_matches("//!").trim()));
        let body: String = text.lines().skip_while(in_head).map(|line| format!("{line}\n")).collect();
        let (code, tests) = body.split_once(TESTS).unwrap_or((&body, ""));
        Self { path, head: head.collect(), code: code.to_owned(), tests: tests.to_owned() }
    }

    /// Name and unit of every parameter its head lists.
    fn parameters(&self) -> Vec<(&str, &str)> {
        let listed = self.head.split_once("# Parameters").unwrap().1;
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
        ProcessParams::FIELDS,
    ]
    .concat()
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
        let words: Vec<&str> = file.code.split(|c: char| !(c.is_alphanumeric() || c == '_' || c == '.')).collect();
        for field in &fields {
            let reads = words.iter().any(|word| word.split('.').skip(1).any(|part| part == field.name));
            let lists = listed.iter().any(|(name, _)| *name == field.name);
            assert!(!reads || lists, "{} reads {} and does not list it", file.path, field.name);
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
