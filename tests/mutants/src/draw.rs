//! Drawing the sample: the first of each area that are mutants at all. What the compiler turns
//! down is none, and the next in the order takes its place.

use crate::build::{Binary, Site, build_switched};
use crate::record::Record;
use crate::sample::{Area, Mutant};
use crate::scratch::Tree;
use crate::settings::Settings;
use crate::trial::Outcome;
use anyhow::{Result, bail, ensure};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The workspace and the copies that are changed.
pub struct Work {
    /// The workspace.
    pub root: PathBuf,
    /// Folder for all that is made.
    pub scratch: PathBuf,
    /// The workspace's files as they are.
    pub plain: Tree,
    /// The copy with all mutants that can be switched.
    pub switched: Site,
    /// The copy with one mutant at a time.
    pub alone: Site,
}

impl Work {
    /// Reads a workspace.
    ///
    /// # Errors
    /// A file that cannot be read, or code that is marked to be left out.
    pub fn new(root: &Path) -> Result<Self> {
        let root = root.canonicalize()?;
        let scratch = root.join("target/mutants");
        std::fs::create_dir_all(&scratch)?;
        let plain = Tree::read(&root)?;
        ensure!(!plain.says("mutants::skip"), "an attribute `mutants::skip` leaves code out");
        let site = |name: &str| Site { tree: scratch.join(name), target: scratch.join("build") };
        Ok(Self { switched: site("switched"), alone: site("alone"), root, plain, scratch })
    }

    /// Builds one mutant by itself.
    ///
    /// # Errors
    /// A mutant that does not build.
    pub fn build_alone(&self, mutant: &Mutant, settings: &Settings) -> Result<Vec<Binary>> {
        self.write_alone(mutant)?;
        self.alone.binaries(settings)
    }

    fn compiles_alone(&self, mutant: &Mutant) -> Result<bool> {
        self.write_alone(mutant)?;
        self.alone.compiles(&mutant.package)
    }

    fn write_alone(&self, mutant: &Mutant) -> Result<()> {
        let mut tree = self.plain.clone();
        tree.mutate(mutant)?;
        tree.write(&self.alone.tree)
    }
}

/// The sample.
pub struct Drawn<'a> {
    /// Mutants drawn, by area.
    pub by_area: Vec<(String, Vec<&'a Mutant>)>,
    /// Those that can be chosen at run time, each with its number.
    pub switched: Vec<(u32, &'a Mutant)>,
    /// Those that must be built by themselves.
    pub alone: Vec<&'a Mutant>,
    /// Test binaries with the switched ones in them.
    pub binaries: Vec<Binary>,
}

/// Draws the sample and builds it. More than the sample go into the build, as some fall out.
///
/// # Errors
/// A tree that does not build, or too few mutants.
pub fn draw<'a>(work: &Work, areas: &'a [Area], settings: &Settings, record: &mut Record) -> Result<Drawn<'a>> {
    let mut numbered: BTreeMap<u32, &Mutant> = BTreeMap::new();
    for mutant in areas.iter().flat_map(candidates) {
        numbered.insert(numbered.len() as u32 + 1, mutant);
    }
    let mut out: BTreeSet<u32> = BTreeSet::new();
    out.extend(numbered.iter().filter(|(_, mutant)| record.is_unswitched(&mutant.name)).map(|(number, _)| number));
    println!("building {} mutants at once, to draw {} of them", numbered.len(), settings.size);
    let binaries = build_switched(&work.switched, &work.plain, &numbered, &mut out, settings)?;
    record.set_unswitched(out.iter().map(|number| numbered[number].name.clone()))?;

    let numbers: BTreeMap<&str, u32> =
        numbered.iter().map(|(number, mutant)| (mutant.name.as_str(), *number)).collect();
    let mut drawn = Drawn { by_area: Vec::new(), switched: Vec::new(), alone: Vec::new(), binaries };
    for area in areas {
        let mut taken = Vec::new();
        for mutant in candidates(area) {
            if taken.len() == area.quota {
                break;
            }
            let number = numbers[mutant.name.as_str()];
            if !out.contains(&number) {
                drawn.switched.push((number, mutant));
            } else if is_one(work, mutant, record)? {
                drawn.alone.push(mutant);
            } else {
                continue;
            }
            taken.push(mutant);
        }
        if taken.len() < area.quota {
            bail!("too few mutants of {} can be built", area.name);
        }
        drawn.by_area.push((area.name.clone(), taken));
    }
    Ok(drawn)
}

fn candidates(area: &Area) -> impl Iterator<Item = &Mutant> {
    area.mutants.iter().take(area.quota + area.quota / 2 + 5)
}

/// Whether a mutant that cannot be switched is one: whether it compiles by itself.
fn is_one(work: &Work, mutant: &Mutant, record: &mut Record) -> Result<bool> {
    if record.of(&mutant.name) == Some(&Outcome::NotBuilt) {
        return Ok(false);
    }
    let compiles = record.of(&mutant.name).is_some() || work.compiles_alone(mutant)?;
    if !compiles {
        record.add(&mutant.name, Outcome::NotBuilt, 0.0)?;
    }
    Ok(compiles)
}
