//! No files of a crate import each other in a ring: a file can be read, and moved, without the rest.
//!
//! The rule. A file imports another where it names something that is defined there: in a `use`, or in
//! a path in its code that begins with `crate`, `self`, `super` or a module it declares. A re-export is
//! followed to the file that defines; it is not held against the module that passes it on. `mod x;`
//! declares and is no import, and so is `pub use x::Name` of an own child, as long as the module
//! makes no use of the name itself. So a child that takes what its parent defines and a parent that
//! calls the child are a ring; what both need belongs into a file beside them. What only tests build
//! does not count. Names that macros make are not seen.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;
#[path = "no_circles/modules.rs"]
mod modules;
#[path = "no_circles/rings.rs"]
mod rings;
#[path = "no_circles/tokens.rs"]
mod tokens;

use common::repository;
use rings::{Imports, Ring};

/// The first file of every crate of the workspace.
fn roots() -> Vec<String> {
    let workspace: &str = include_str!("../Cargo.toml");
    let members = workspace.lines().find_map(|line| line.strip_prefix("members = [")).unwrap();
    let members = members.split('"').skip(1).step_by(2).map(|member| format!("{member}/src/lib.rs"));
    ["src/main.rs".to_owned()].into_iter().chain(members).collect()
}

/// What the files of a crate import, in this repository.
fn imports_of(root: &str) -> Imports {
    rings::imports(&modules::modules(root, &|path| std::fs::read_to_string(repository().join(path)).ok()))
}

/// A ring with one path for each import in it.
fn in_words(ring: &Ring, imports: &Imports) -> String {
    let mut words = format!("ring of {} files:", ring.len());
    for file in ring {
        for (other, path) in imports[file].iter().filter(|(other, _)| ring.contains(*other)) {
            words += &format!("\n  {file} imports {other}, as {path}");
        }
    }
    words
}

#[test]
fn files_do_not_import_each_other() {
    let mut said = Vec::new();
    for root in roots() {
        let imports = imports_of(&root);
        assert!(imports.len() > 10, "{root}: {} files import any", imports.len());
        said.extend(rings::rings(&imports).iter().map(|ring| in_words(ring, &imports)));
    }
    assert!(said.is_empty(), "\n{}", said.join("\n\n"));
}

/// The rings of a crate that is given as text.
fn rings_of(files: &[(&str, &str)]) -> Vec<String> {
    let read = |path: &str| files.iter().find(|(name, _)| *name == path).map(|(_, text)| (*text).to_owned());
    let imports = rings::imports(&modules::modules("src/lib.rs", &read));
    rings::rings(&imports).into_iter().map(|ring| Vec::from_iter(ring).join(" ")).collect()
}

/// A crate of the modules a, b and c.
fn rings_of_three(a: &str, b: &str, c: &str) -> Vec<String> {
    rings_of(&[("src/lib.rs", "mod a; mod b; mod c;"), ("src/a.rs", a), ("src/b.rs", b), ("src/c.rs", c)])
}

#[test]
fn a_ring_is_found_round_a_corner() {
    let found =
        rings_of_three("use crate::b::{self, One};", "fn f() { crate::c::two(); }", "use super::a::Three as T;");
    assert_eq!(found, ["src/a.rs src/b.rs src/c.rs"]);
    assert_eq!(rings_of_three("use crate::b::One;", "use crate::c::Two;", ""), Vec::<String>::new());
}

#[test]
fn what_is_not_code_and_what_only_tests_build_is_no_import() {
    for text in [
        "// use crate::a::X;",
        "/* /* */ use crate::a::X; */",
        "const T: &str = \"\\\" use crate::a::X;\";",
        "const T: &str = r#\"\" use crate::a::X; \"#;",
        "#[cfg(test)] mod tests { use crate::a::X; }",
        "#[cfg(test)] #[allow(unused)] use crate::a::{X, Y};",
        "#[cfg(test)] mod not_even_there;",
        "fn f<'a>(x: &'a str) -> char { '\"' } // use crate::a::X;",
    ] {
        assert_eq!(rings_of_three("use crate::b::Y;", text, ""), Vec::<String>::new(), "{text}");
    }
    for text in ["#[cfg(test)] mod tests {} use crate::a::X;", "const C: char = '\"'; use crate::a::X;"] {
        assert_eq!(rings_of_three("use crate::b::Y;", text, ""), ["src/a.rs src/b.rs"], "{text}");
    }
}

#[test]
fn a_re_export_is_followed_to_the_file_that_defines() {
    for passed_on in
        ["pub use deep::Name;", "pub use deep::*;", "pub use self::deep::Name as Other; pub use deep::Name;"]
    {
        let parent = format!("mod deep; {passed_on}");
        let files = |user: &'static str, deep: &'static str| {
            let lib = ("src/lib.rs", "mod a; mod b;");
            rings_of(&[lib, ("src/a.rs", user), ("src/b/mod.rs", &parent), ("src/b/deep.rs", deep)])
        };
        let deep = "use crate::a::Thing; pub struct Name;";
        assert_eq!(files("use crate::b::Name; pub struct Thing;", deep), ["src/a.rs src/b/deep.rs"], "{passed_on}");
        assert_eq!(files("use crate::b::Else; pub struct Thing;", deep), Vec::<String>::new(), "{passed_on}");
    }
}

#[test]
fn a_parent_that_only_passes_on_its_child_imports_nothing_and_one_that_calls_it_does() {
    let with = |parent: &'static str| {
        let child = ("src/a/child.rs", "use super::Of; pub struct Name; pub fn call() {}");
        rings_of(&[("src/lib.rs", "mod a;"), ("src/a.rs", parent), child])
    };
    assert_eq!(with("mod child; pub use child::Name; pub struct Of;"), Vec::<String>::new());
    for parent in [
        "mod child; use child::Name; pub struct Of(Name);",
        "mod child; pub use child::Name; pub struct Of(Name);",
        "mod child; pub struct Of; fn f() { child::call() }",
    ] {
        assert_eq!(with(parent), ["src/a.rs src/a/child.rs"], "{parent}");
    }
}

#[test]
fn modules_written_out_belong_to_their_file() {
    let found =
        rings_of_three("mod inner { use super::super::b::X; fn f() { super::g() } } fn g() {}", "use crate::a::g;", "");
    assert_eq!(found, ["src/a.rs src/b.rs"]);
}
