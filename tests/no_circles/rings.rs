//! Which file imports which, and the rings among them.

use super::modules::{Import, Module};
use std::collections::{BTreeMap, BTreeSet};

/// A re-export of a re-export and so on goes no deeper.
const DEEPEST: usize = 16;

/// For each file the files it imports, with a path that does.
pub type Imports = BTreeMap<String, BTreeMap<String, String>>;

/// Files that import each other, directly or round several corners.
pub type Ring = BTreeSet<String>;

/// What each file of a crate imports of the others.
pub fn imports(modules: &[Module]) -> Imports {
    let mut found = Imports::new();
    for (number, module) in modules.iter().enumerate() {
        let used = module.imports.iter().filter(|import| !only_declares(modules, number, import));
        let whole = |import: &Import| (import.path.clone(), import.name.is_none());
        let bare = module.paths.iter().map(|path| (path.clone(), false));
        for (path, _) in used.map(whole).chain(bare) {
            let target = resolve(modules, number, &path, 0).filter(|file| **file != module.file);
            if let Some(target) = target {
                found.entry(module.file.clone()).or_default().entry(target.clone()).or_insert(path.join("::"));
            }
        }
    }
    found
}

/// Whether an import is a `pub use` of a child, of a name the module itself makes no use of.
fn only_declares(modules: &[Module], number: usize, import: &Import) -> bool {
    let module = &modules[number];
    let first = import.path.iter().find(|word| *word != "self");
    let of_child = first.is_some_and(|word| module.children.contains_key(word));
    let unused = import.name.as_ref().is_none_or(|name| !module.words.contains(name));
    import.public && of_child && unused
}

/// The file that defines what a path names; none where it leads out of the crate.
fn resolve<'a>(modules: &'a [Module], from: usize, path: &[String], depth: usize) -> Option<&'a String> {
    let (first, rest) = path.split_first()?;
    let here = &modules[from];
    match first.as_str() {
        "crate" => walk(modules, 0, rest, depth),
        "self" => walk(modules, from, rest, depth),
        "super" if rest.first().is_some_and(|word| word == "super") => resolve(modules, here.parent?, rest, depth),
        "super" => walk(modules, here.parent?, rest, depth),
        child => walk(modules, *here.children.get(child)?, rest, depth),
    }
}

/// Goes down from a module; follows re-exports to the file that defines.
fn walk<'a>(modules: &'a [Module], at: usize, path: &[String], depth: usize) -> Option<&'a String> {
    let here = &modules[at];
    let Some((first, rest)) = path.split_first() else { return Some(&here.file) };
    if let Some(&child) = here.children.get(first) {
        return walk(modules, child, rest, depth);
    }
    if depth == DEEPEST {
        return Some(&here.file);
    }
    if let Some(import) = here.imports.iter().find(|import| import.name.as_ref() == Some(first)) {
        return resolve(modules, at, &[&import.path, rest].concat(), depth + 1);
    }
    let globs = here.imports.iter().filter(|import| import.name.is_none() && !here.items.contains(first));
    let passed_on = globs.filter_map(|glob| resolve_in_glob(modules, at, glob, first, depth)).next();
    passed_on.or(Some(&here.file))
}

/// The file behind a glob that defines a name.
fn resolve_in_glob<'a>(
    modules: &'a [Module],
    at: usize,
    glob: &Import,
    name: &str,
    depth: usize,
) -> Option<&'a String> {
    let file = resolve(modules, at, &[glob.path.as_slice(), &[name.to_owned()]].concat(), depth + 1)?;
    let defines = |module: &Module| module.file == *file && module.items.contains(name);
    modules.iter().any(defines).then_some(file)
}

/// The rings, each once.
pub fn rings(imports: &Imports) -> BTreeSet<Ring> {
    let reach: BTreeMap<&String, BTreeSet<&String>> =
        imports.keys().map(|file| (file, reached(imports, file))).collect();
    let each_other = |a: &String, b: &String| reach[a].contains(b) && reach.get(b).is_some_and(|from| from.contains(a));
    let ring =
        |file: &String| reach[file].iter().filter(|other| each_other(file, other)).map(|o| (*o).clone()).collect();
    imports.keys().map(ring).filter(|ring: &Ring| !ring.is_empty()).collect()
}

/// Every file one comes to from a file.
fn reached<'a>(imports: &'a Imports, from: &str) -> BTreeSet<&'a String> {
    let mut found = BTreeSet::new();
    let mut open: Vec<&str> = vec![from];
    while let Some(file) = open.pop() {
        for next in imports.get(file).into_iter().flat_map(BTreeMap::keys) {
            if found.insert(next) {
                open.push(next);
            }
        }
    }
    found
}
