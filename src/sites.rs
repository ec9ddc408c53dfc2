//! SITE on the command line: a site file, a folder that holds `site.toml`, or a demo's name.

use crate::demos::{DEMOS, Demo};
use crate::problem::CommandError;
use analysis::provenance::input_digest;
use analysis::results::SiteOrigin;
use scenarios::nearest::nearest;
use scenarios::{Faults, Library, SiteModel, read_file, site_file};
use std::cell::RefCell;
use std::path::{Path, PathBuf};

/// The site file of a folder.
const SITE_FILE: &str = "site.toml";

/// A site that was read.
pub struct Opened {
    /// What it says.
    pub model: SiteModel,
    /// The library it was read with.
    pub library: Library,
    /// Name of its results folder.
    pub label: String,
    /// Whose results they are.
    pub origin: SiteOrigin,
    /// All that was read: its part in the input, and its text.
    pub inputs: Vec<Input>,
    /// What the site file is called in messages.
    pub shown: String,
    /// Files the site file names: name and text.
    pub beside: Vec<(String, String)>,
}

/// A text that was read: its part in the input, and the text.
pub type Input = (&'static str, String);

/// The digest of texts that were read, in their order.
pub fn digest(inputs: &[Input]) -> String {
    let parts: Vec<(&str, &[u8])> = inputs.iter().map(|(part, text)| (*part, text.as_bytes())).collect();
    input_digest(&parts)
}

/// Reads a site.
///
/// # Errors
/// All its faults, or that there is none of that name.
pub fn open(named: &str) -> Result<Opened, CommandError> {
    let library = Library::shipped().map_err(our_fault)?;
    if named.trim().is_empty() {
        let remedy =
            "Give a site file, a folder that holds site.toml, or the name of a demo: hensward check sallowmere";
        return Err(CommandError::argument("SITE", "it is empty", remedy));
    }
    let path = Path::new(named);
    if path.is_dir() && !path.join(SITE_FILE).exists() {
        let remedy = "Give the site file itself, or a folder that has one.";
        return Err(CommandError::argument(named, format!("the folder holds no {SITE_FILE}"), remedy));
    }
    if path.is_dir() {
        return of_file(&path.join(SITE_FILE), library);
    }
    match Demo::named(named) {
        Some(demo) if !path.exists() && !path.is_symlink() => of_demo(demo, library),
        // What is there and cannot be read, a link in a circle, says why.
        _ if path.is_symlink() || path.try_exists().unwrap_or(true) => of_file(path, library),
        _ => Err(not_found(named)),
    }
}

/// A fault of the shipped library is ours, not the user's.
pub fn our_fault(faults: Faults) -> CommandError {
    CommandError::Other(anyhow::Error::new(faults).context("the library built into the program has a fault"))
}

fn not_found(named: &str) -> CommandError {
    let names = DEMOS.iter().map(|demo| demo.name);
    let remedy = nearest(named, names.clone()).map_or_else(
        || {
            let demos: Vec<&str> = names.collect();
            format!("Give a site file, a folder that holds {SITE_FILE}, or the name of a demo: {}.", demos.join(", "))
        },
        |near| format!("Did you mean the demo \"{near}\"?"),
    );
    CommandError::argument(named, "there is no such site file, folder or demo", remedy)
}

fn of_demo(demo: &Demo, library: Library) -> Result<Opened, CommandError> {
    let shown = format!("{}/{SITE_FILE}", demo.name);
    read(&shown, demo.site, demo.name.to_owned(), of_the_demo(demo), library, &|name| demo.companion(name))
}

fn of_file(path: &Path, library: Library) -> Result<Opened, CommandError> {
    let shown = path.display().to_string();
    let text = text_of(path, "Give the path of a site file.")?;
    let folder = path.parent().map_or_else(PathBuf::new, Path::to_owned);
    let origin = SiteOrigin::File(path.to_owned());
    let opened = read(&shown, &text, label(path), origin, library, &|name| site_file::beside(&folder, name))?;
    // A demo's own files are the demo, wherever they are read.
    let same = |demo: &&Demo| {
        demo.name == opened.label
            && demo.site == text
            && opened.beside.iter().all(|(name, text)| demo.companion(name).as_ref() == Ok(text))
    };
    match DEMOS.iter().find(same) {
        Some(demo) => Ok(Opened { origin: of_the_demo(demo), ..opened }),
        None => Ok(opened),
    }
}

fn of_the_demo(demo: &Demo) -> SiteOrigin {
    SiteOrigin::Named(format!("the demo {}", demo.name))
}

/// Reads a text; its companions count as input as they are asked for.
fn read(
    shown: &str,
    text: &str,
    label: String,
    origin: SiteOrigin,
    library: Library,
    companion: &dyn Fn(&str) -> Result<String, String>,
) -> Result<Opened, CommandError> {
    let inputs = RefCell::new(vec![("site", text.to_owned())]);
    let beside = RefCell::new(Vec::new());
    let counted = |name: &str| {
        let text = companion(name)?;
        inputs.borrow_mut().push(("beside", text.clone()));
        beside.borrow_mut().push((name.to_owned(), text.clone()));
        Ok(text)
    };
    let model = site_file::read_text(shown, text, &library, &counted)?;
    let (inputs, beside) = (inputs.into_inner(), beside.into_inner());
    Ok(Opened { model, library, label, origin, inputs, shown: shown.to_owned(), beside })
}

impl Opened {
    /// The text of the site file.
    pub fn text(&self) -> &str {
        self.inputs.first().map_or("", |(_, text)| text)
    }

    /// Reads the site again with another text, the files it names being the same.
    ///
    /// # Errors
    /// The faults of the text.
    pub fn again(&self, text: &str) -> Result<SiteModel, Faults> {
        site_file::read_text(&self.shown, text, &self.library, &|name| {
            let found = self.beside.iter().find(|(of, _)| of == name);
            found.map(|(_, text)| text.clone()).ok_or_else(|| "there is no such file".to_owned())
        })
    }
}

/// The text of a file the user named.
///
/// # Errors
/// With the file, what is wrong with it, and `remedy`.
pub fn text_of(path: &Path, remedy: &str) -> Result<String, CommandError> {
    read_file::text(path, read_file::SITE_BYTES).map_err(|unread| {
        let remedy = unread.remedy.unwrap_or(remedy);
        CommandError::argument(&path.display().to_string(), format!("cannot be read: {}", unread.why), remedy)
    })
}

/// A name for the results folder: the folder's where the file is `site.toml`, else the file's.
pub fn label(path: &Path) -> String {
    let whole = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let is_site = whole.file_name().is_some_and(|name| name == SITE_FILE);
    let name = if is_site { whole.parent().and_then(Path::file_name) } else { whole.file_stem() };
    name.map_or_else(|| "site".to_owned(), |name| plain(&name.to_string_lossy()))
}

/// A name that does no harm as a folder's, typed or shown: no option, no control or marks of direction.
fn plain(name: &str) -> String {
    let harmless = |letter: char| {
        let marks = matches!(letter, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
        if letter.is_control() || marks { '_' } else { letter }
    };
    let name: String = name.chars().map(harmless).collect();
    name.strip_prefix('-').map_or(name.clone(), |rest| format!("_{rest}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_results_folder_has_a_harmless_name() {
        for (file, name) in [
            ("no/such/-rf.toml", "_rf"),
            ("no/such/a\u{1b}[2J\nb.toml", "a_[2J_b"),
            ("no/such/a\u{202e}b.toml", "a_b"),
            ("no/such/my-garden/site.toml", "my-garden"),
        ] {
            assert_eq!(label(Path::new(file)), name);
        }
    }
}
