//! Building: all mutants in one build, and those that cannot be switched by themselves.

use crate::sample::{Mutant, Place};
use crate::scratch::Tree;
use crate::settings::Settings;
use crate::switch::switched;
use crate::tool;
use anyhow::{Context, Result, bail, ensure};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Expr, ExprIf};

/// A copy of the workspace that is built, and where cargo puts what it builds.
pub struct Site {
    /// The copy.
    pub tree: PathBuf,
    /// Cargo's target folder, shared by the copies: what they depend on is built once.
    pub target: PathBuf,
}

/// A test binary.
#[derive(Clone, Debug)]
pub struct Binary {
    /// `package/lib` or `package/name of the file`.
    pub name: String,
    /// Its package.
    pub package: String,
    /// The file to run.
    pub path: PathBuf,
    /// Folder it runs in: that of its package.
    pub folder: PathBuf,
}

/// What one call of cargo said.
struct Said {
    well: bool,
    messages: Vec<Value>,
}

impl Site {
    /// Builds the test binaries that count.
    ///
    /// # Errors
    /// A tree that does not build.
    pub fn binaries(&self, settings: &Settings) -> Result<Vec<Binary>> {
        let said = self.build(settings)?;
        ensure!(said.well, "the tree does not build:\n{}", rendered(&said));
        Ok(self.found(&said, settings))
    }

    /// Whether a package compiles.
    ///
    /// # Errors
    /// A cargo that cannot be run.
    pub fn compiles(&self, package: &str) -> Result<bool> {
        Ok(self.cargo(&["check", "--lib", "--package", package])?.well)
    }

    fn build(&self, settings: &Settings) -> Result<Said> {
        let mut arguments = vec!["test", "--no-run", "--lib", "--tests"];
        for package in &settings.tests.packages {
            arguments.extend(["--package", package]);
        }
        self.cargo(&arguments)
    }

    fn cargo(&self, arguments: &[&str]) -> Result<Said> {
        let mut cargo = Command::new(tool::cargo());
        cargo.args(arguments).arg("--message-format=json").current_dir(&self.tree);
        // Lints that deny by default would turn down mutants that are sound code otherwise.
        cargo.env("CARGO_TARGET_DIR", &self.target).env("RUSTFLAGS", "--cap-lints=warn");
        let output = cargo.stderr(Stdio::inherit()).output().context("cargo")?;
        let text = String::from_utf8_lossy(&output.stdout);
        let messages = text.lines().filter_map(|line| serde_json::from_str(line).ok()).collect();
        Ok(Said { well: output.status.success(), messages })
    }

    fn found(&self, said: &Said, settings: &Settings) -> Vec<Binary> {
        let mut binaries = Vec::new();
        for artifact in said.messages.iter().filter(|message| message["profile"]["test"] == true) {
            let (Some(path), Some(manifest)) = (artifact["executable"].as_str(), artifact["manifest_path"].as_str())
            else {
                continue;
            };
            let folder = Path::new(manifest).parent().unwrap_or(&self.tree).to_path_buf();
            let package = folder.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let of_lib = artifact["target"]["kind"][0] == "lib";
            let name = if of_lib { "lib" } else { artifact["target"]["name"].as_str().unwrap_or_default() };
            let name = format!("{package}/{name}");
            if !settings.tests.left_out.contains_key(&name) {
                binaries.push(Binary { name, package, path: path.into(), folder });
            }
        }
        binaries
    }
}

/// Writes the tree with all mutants that can be switched, and takes out what does not compile
/// until the rest does. `out` holds the numbers taken out, also those of an earlier call.
///
/// # Errors
/// A fault of the compiler that lies in no mutant.
pub fn build_switched(
    site: &Site,
    plain: &Tree,
    mutants: &BTreeMap<u32, &Mutant>,
    out: &mut BTreeSet<u32>,
    settings: &Settings,
) -> Result<Vec<Binary>> {
    loop {
        let tree = with_mutants(plain, mutants, out)?;
        tree.write(&site.tree)?;
        let said = site.build(settings)?;
        if said.well {
            return Ok(site.found(&said, settings));
        }
        let faulty = faulty(&said, &tree)?;
        println!("{} mutants cannot be chosen at run time", faulty.len());
        out.extend(faulty);
    }
}

fn with_mutants(plain: &Tree, mutants: &BTreeMap<u32, &Mutant>, out: &mut BTreeSet<u32>) -> Result<Tree> {
    let mut by_file: BTreeMap<&str, Vec<(u32, &Mutant)>> = BTreeMap::new();
    for (number, mutant) in mutants.iter().filter(|(number, _)| !out.contains(number)) {
        by_file.entry(&mutant.file).or_default().push((*number, mutant));
    }
    let mut tree = plain.clone();
    let packages: BTreeSet<&str> = mutants.values().map(|mutant| mutant.package.as_str()).collect();
    tree.add_switch(packages.into_iter())?;
    for (file, mutants) in by_file {
        let switched = switched(plain.text(file)?, &mutants).with_context(|| file.to_owned())?;
        out.extend(mutants.iter().map(|(number, _)| number).filter(|number| !switched.placed.contains(number)));
        tree.set(file, &switched.text);
    }
    Ok(tree)
}

/// Mutants that the compiler's errors lie in.
fn faulty(said: &Said, tree: &Tree) -> Result<BTreeSet<u32>> {
    let mut found = BTreeSet::new();
    let mut unclear = None;
    for message in said.messages.iter().map(|message| &message["message"]).filter(|m| m["level"] == "error") {
        let spans = message["spans"].as_array().map(Vec::as_slice).unwrap_or_default();
        let Some(span) = spans.iter().find(|span| span["is_primary"] == true) else { continue };
        let file = span["file_name"].as_str().unwrap_or_default();
        match innermost(tree.text(file)?, begin(span)?)? {
            Some(number) => _ = found.insert(number),
            None => unclear = message["rendered"].as_str(),
        }
    }
    if found.is_empty() {
        bail!("the tree does not build, and not for a mutant:\n{}", unclear.unwrap_or("cargo failed"));
    }
    Ok(found)
}

fn begin(span: &Value) -> Result<Place> {
    let number = |key: &str| span[key].as_u64().map(|number| number as usize).context("a span of the compiler");
    Ok(Place { line: number("line_start")?, column: number("column_start")? })
}

/// The mutant in whose changed part a place lies, or else the innermost around the place.
fn innermost(text: &str, at: Place) -> Result<Option<u32>> {
    let mut finder = Finder { at, changed: None, around: None };
    finder.visit_file(&syn::parse_file(text)?);
    Ok(finder.changed.or(finder.around))
}

struct Finder {
    at: Place,
    changed: Option<u32>,
    around: Option<u32>,
}

impl Finder {
    fn holds(&self, span: proc_macro2::Span) -> bool {
        let at = (self.at.line, self.at.column - 1);
        let (start, end) = (span.start(), span.end());
        (start.line, start.column) <= at && at < (end.line, end.column)
    }
}

impl<'ast> Visit<'ast> for Finder {
    fn visit_expr_if(&mut self, node: &'ast ExprIf) {
        // The deeper comes later, and so stays.
        if let Some(number) = number_of(&node.cond).filter(|_| self.holds(node.span())) {
            self.around = Some(number);
            if self.holds(node.then_branch.span()) {
                self.changed = Some(number);
            }
        }
        visit::visit_expr_if(self, node);
    }
}

/// The number of a condition `::mutant_switch::on(7)`.
fn number_of(condition: &Expr) -> Option<u32> {
    let Expr::Call(call) = condition else { return None };
    let Expr::Path(path) = &*call.func else { return None };
    let Some(Expr::Lit(argument)) = call.args.first() else { return None };
    let syn::Lit::Int(number) = &argument.lit else { return None };
    path.path.segments.first().filter(|first| first.ident == "mutant_switch")?;
    number.base10_parse().ok()
}

fn rendered(said: &Said) -> String {
    let errors = said.messages.iter().map(|message| &message["message"]).filter(|m| m["level"] == "error");
    errors.filter_map(|error| error["rendered"].as_str()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_is_of_the_changed_part_it_lies_in() {
        let text = "fn f() {\n(if ::mutant_switch::on(3u32) { a - b }\nelse { (if ::mutant_switch::on(4u32) { a }\nelse { b }) + c })\n}";
        let at = |line, column| innermost(text, Place { line, column }).unwrap();
        assert_eq!(at(2, 35), Some(3));
        assert_eq!(at(3, 43), Some(4));
        assert_eq!(at(4, 9), Some(4));
        assert_eq!(at(4, 15), Some(3));
        assert_eq!(at(1, 1), None);
    }
}
