//! The modules of a crate: their files, what each defines, imports and names.

use super::tokens::tokens;
use std::collections::{BTreeMap, BTreeSet};

/// A module: of a file, or written out inside one.
#[derive(Default)]
pub struct Module {
    /// Its file.
    pub file: String,
    /// The module it is declared in; the root has none.
    pub parent: Option<usize>,
    /// The modules declared in it.
    pub children: BTreeMap<String, usize>,
    /// Its imports.
    pub imports: Vec<Import>,
    /// Paths in its code outside imports.
    pub paths: Vec<Vec<String>>,
    /// Words after `fn`, `struct` and the like.
    pub items: BTreeSet<String>,
    /// Every word outside imports.
    pub words: BTreeSet<String>,
}

/// One leaf of a `use`.
pub struct Import {
    /// Its path; without the `*` of a glob.
    pub path: Vec<String>,
    /// What it is called here; none for a glob.
    pub name: Option<String>,
    /// Whether it is passed on: `pub use`.
    pub public: bool,
}

/// The modules of a crate; the root first. `read` gives a file's text, if it is there.
pub fn modules(root: &str, read: &dyn Fn(&str) -> Option<String>) -> Vec<Module> {
    let folder = root.rsplit_once('/').map_or("", |(folder, _)| folder).to_owned();
    let mut reader = Reader { read, found: Vec::new() };
    reader.file(root.to_owned(), folder, None);
    reader.found
}

struct Reader<'a> {
    read: &'a dyn Fn(&str) -> Option<String>,
    found: Vec<Module>,
}

impl Reader<'_> {
    /// Reads a module's file; its children lie in `folder`.
    fn file(&mut self, file: String, folder: String, parent: Option<usize>) -> usize {
        let text = (self.read)(&file).unwrap_or_else(|| panic!("{file} is declared and not there"));
        self.module(&tokens(&text), file, folder, parent)
    }

    fn module(&mut self, tokens: &[String], file: String, folder: String, parent: Option<usize>) -> usize {
        let number = self.found.len();
        self.found.push(Module { file, parent, ..Module::default() });
        let mut at = 0;
        while at < tokens.len() {
            at += self.piece(tokens, at, number, &folder);
        }
        number
    }

    /// Takes in what begins at a token; how many tokens it is.
    fn piece(&mut self, tokens: &[String], at: usize, number: usize, folder: &str) -> usize {
        let token = |ahead: usize| tokens.get(at + ahead).map_or("", String::as_str);
        match (token(0), token(2)) {
            ("mod", ";") => self.declared(token(1), number, folder),
            ("mod", "{") => return self.written_out(&tokens[at..], number, folder),
            ("use", _) => {
                let length = tokens[at..].iter().position(|token| token == ";").unwrap_or(1);
                let public = at > 0 && ["pub", ")"].contains(&tokens[at - 1].as_str());
                leaves(&tokens[at + 1..at + length], &[], public, &mut self.found[number].imports);
                return length;
            }
            _ => self.found[number].take(tokens, at),
        }
        1
    }

    fn declared(&mut self, name: &str, number: usize, folder: &str) {
        let beside = format!("{folder}/{name}.rs");
        let file = if (self.read)(&beside).is_some() { beside } else { format!("{folder}/{name}/mod.rs") };
        let child = self.file(file, format!("{folder}/{name}"), Some(number));
        self.found[number].children.insert(name.to_owned(), child);
    }

    fn written_out(&mut self, tokens: &[String], number: usize, folder: &str) -> usize {
        let length = closing(&tokens[2..]) + 2;
        let file = self.found[number].file.clone();
        let child = self.module(&tokens[3..length], file, format!("{folder}/{}", tokens[1]), Some(number));
        self.found[number].children.insert(tokens[1].clone(), child);
        length + 1
    }
}

impl Module {
    /// Takes in a word: what it defines, or the path it begins.
    fn take(&mut self, tokens: &[String], at: usize) {
        const DEFINE: [&str; 9] = ["fn", "struct", "enum", "union", "trait", "type", "const", "static", "!"];
        let (before, word) = (if at > 0 { tokens[at - 1].as_str() } else { "" }, &tokens[at]);
        if !is_word(word) {
            return;
        }
        if DEFINE.contains(&before) {
            self.items.insert(word.clone());
        }
        self.words.insert(word.clone());
        if before != "::" && before != "." && tokens.get(at + 1).is_some_and(|next| next == "::") {
            self.paths.push(path(&tokens[at..]));
        }
    }
}

fn is_word(token: &str) -> bool {
    token.starts_with(|c: char| c.is_alphabetic() || c == '_')
}

/// The words of a path that begins here.
fn path(tokens: &[String]) -> Vec<String> {
    let words = tokens.iter().step_by(2).take_while(|token| is_word(token)).count();
    let signs = tokens.iter().skip(1).step_by(2).take_while(|token| *token == "::").count();
    tokens.iter().step_by(2).take(words.min(signs + 1)).cloned().collect()
}

/// Where the bracket that opens here closes.
fn closing(tokens: &[String]) -> usize {
    let mut depth = 0;
    for (at, token) in tokens.iter().enumerate() {
        match token.as_str() {
            "{" => depth += 1,
            "}" => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return at;
        }
    }
    tokens.len()
}

/// The leaves of a `use` tree below a path.
fn leaves(tree: &[String], above: &[String], public: bool, found: &mut Vec<Import>) {
    let words = path(tree);
    let rest = &tree[(words.len() * 2).saturating_sub(1)..];
    let rest = if rest.first().is_some_and(|token| token == "::") { &rest[1..] } else { rest };
    let here = [above, &words].concat();
    match rest.first().map(String::as_str) {
        Some("{") => split(&rest[1..closing(rest)]).for_each(|branch| leaves(branch, &here, public, found)),
        Some("*") => found.push(Import { path: here, name: None, public }),
        Some("as") => found.push(leaf(here, rest.last().cloned(), public)),
        _ => found.push(leaf(here, None, public)),
    }
}

/// `a::b::self` is `a::b`.
fn leaf(mut path: Vec<String>, name: Option<String>, public: bool) -> Import {
    if path.len() > 1 && path.last().is_some_and(|last| last == "self") {
        path.pop();
    }
    Import { name: name.or(path.last().cloned()), path, public }
}

/// The branches between the commas outside braces.
fn split(tokens: &[String]) -> impl Iterator<Item = &[String]> {
    let mut depth = 0;
    let branches = tokens.split(move |token| {
        match token.as_str() {
            "{" => depth += 1,
            "}" => depth -= 1,
            _ => {}
        }
        depth == 0 && token == ","
    });
    branches.filter(|branch| !branch.is_empty())
}
