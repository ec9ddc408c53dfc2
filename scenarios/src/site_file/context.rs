//! What the parts of a site file share while they are read: the library, the
//! engine's tables as they fill, and notes for later.

use crate::library::{Called, Entry, EntryKind, Library, Meaning, called, is_called};
use crate::model::{DefaultUsed, NameRead};
use crate::nearest::{TYPED_WRONG, among, distance, kin, nearest};
use crate::reader::Item;
use crate::unknowns::Unknown;
use jiff::civil::Date;
use sim_engine::site::HardRules;
use sim_engine::species::{
    BirdClass, BirdParams, Canopy, CanopyParams, CoverParams, CoverPlant, CreeperParams, CreeperPlant, CropParams,
    CropPlant, Host, KeepersCount, Pest, PestParams, ProcessParams, Slug, SlugParams, Soil, SoilParams, Thermometer,
    WeedParams, WeedPlant,
};

/// Reads a file named in a site file: its text, or in words why not.
pub type Companions<'c> = dyn Fn(&str) -> Result<String, String> + 'c;

/// The engine's tables.
#[derive(Debug, Default)]
pub(super) struct Tables {
    pub process: Option<ProcessParams>,
    pub soils: Vec<Soil>,
    pub covers: Vec<CoverPlant>,
    pub weeds: Vec<WeedPlant>,
    pub creepers: Vec<CreeperPlant>,
    pub crops: Vec<CropPlant>,
    pub canopies: Vec<Canopy>,
    pub pests: Vec<Pest>,
    pub slugs: Vec<Slug>,
    pub birds: Vec<BirdClass>,
}

/// What is shared while reading.
pub(super) struct Context<'r> {
    pub library: &'r Library,
    /// Entries the site defines itself.
    pub own: Library,
    pub tables: Tables,
    /// Entries in use.
    pub used: Vec<(EntryKind, usize, Entry)>,
    pub plot_names: Vec<String>,
    /// First and last day of the run.
    pub run: (Date, Date),
    /// Starts of the site that may be unknown, with their default range.
    pub starts: Vec<Unknown>,
    pub defaults: Vec<DefaultUsed>,
    /// Names read as another of the same thing.
    pub names_read: Vec<NameRead>,
    /// Where each crop stands in the file: plot, name and first day, and its path.
    pub crop_paths: Vec<(String, String)>,
    /// The hard rules, with the keeper's own waits read so far.
    pub rules: HardRules,
}

impl Context<'_> {
    /// Notes a default that was taken.
    pub fn default(&mut self, key: impl Into<String>, value: impl Into<String>) {
        self.defaults.push(DefaultUsed { key: key.into(), value: value.into() });
    }

    /// The entry of this name: the site's own first.
    pub fn entry(&self, kind: EntryKind, name: &str) -> Option<&Entry> {
        self.own.get(kind, name).or_else(|| self.library.get(kind, name))
    }

    /// Names of a kind.
    pub fn names(&self, kind: EntryKind) -> Vec<&str> {
        self.own.names(kind).chain(self.library.names(kind)).collect()
    }

    /// Entries of a kind, the site's own first.
    fn entries(&self, kind: EntryKind) -> impl Iterator<Item = &Entry> {
        self.own.entries().chain(self.library.entries()).filter(move |entry| entry.kind == kind)
    }

    /// Index of a named entry in the engine's table, taken into use; a fault if there is none, or more than one.
    pub fn named(&mut self, kind: EntryKind, item: &Item<'_>) -> Option<usize> {
        let name = item.text()?;
        if let Some(index) = self.in_use(kind, name) {
            return Some(index);
        }
        let entry = match called(self.entries(kind), name) {
            Called::One(entry) => entry.name.clone(),
            Called::Asked(meanings) => {
                item.fault(format!("{name:?} can mean more than one thing"), which(name, kind, &meanings));
                return None;
            }
            Called::Nothing => {
                item.fault(format!("there is no {} {name:?}", kind.plain()), self.instead(kind, name));
                return None;
            }
        };
        let index = self.in_use(kind, &entry);
        let read = NameRead { kind: kind.plain(), written: name.to_owned(), entry };
        if !self.names_read.contains(&read) {
            self.names_read.push(read);
        }
        index
    }

    /// What to write in place of a name there is none of.
    fn instead(&self, kind: EntryKind, name: &str) -> String {
        let names = self.names(kind);
        let told = among(name, names.iter().copied());
        let near = nearest(name, names.iter().copied());
        if near.is_some_and(|near| distance(name, near) <= TYPED_WRONG) {
            return told;
        }
        if let Some((entry, also)) = self.misspelt(kind, name) {
            return format!("Did you mean \"{entry}\"? It is also called {also}.");
        }
        let elsewhere = |of: &EntryKind| Some((*of, self.entries(*of).find(|entry| is_called(entry, name))?));
        let elsewhere = EntryKind::ALL.iter().filter(|of| **of != kind).find_map(elsewhere);
        if let Some(line) = elsewhere.and_then(|(of, entry)| written_as(of, &entry.name)) {
            return format!("{name:?} is known, but not as a {}. Write: {line}", kind.plain());
        }
        let elsewhere = elsewhere.map_or(String::new(), |(of, _)| format!("{name:?} is known as a {}. ", of.plain()));
        // The first of a list by the alphabet would be an odd thing to be like.
        let like = near.or_else(|| kin(name, &names).first().copied());
        let like = like.map_or("the one most like it".to_owned(), |like| format!("\"{like}\""));
        let own = own_heading(kind, name);
        format!("{elsewhere}{told} All of them: hensward sources. Or make your own: {own} with like = {like}.")
    }

    /// The entry that has this name with a slip in it among its other names, and that name.
    fn misspelt(&self, kind: EntryKind, name: &str) -> Option<(&str, &str)> {
        let others =
            self.entries(kind).flat_map(|entry| entry.also.iter().map(|also| (entry.name.as_str(), also.as_str())));
        let slip = |also: &str| distance(name, also) <= TYPED_WRONG && nearest(name, [also]).is_some();
        others.filter(|(_, also)| slip(also)).min_by_key(|(_, also)| distance(name, also))
    }

    /// Index of the entry of this name in the engine's table, taken into use.
    pub fn in_use(&mut self, kind: EntryKind, name: &str) -> Option<usize> {
        let known = self.used.iter().find(|(of, _, entry)| *of == kind && entry.name == name);
        if let Some((_, index, _)) = known {
            return Some(*index);
        }
        let entry = self.entry(kind, name)?.clone();
        let index = self.tables.put(&entry)?;
        self.used.push((kind, index, entry));
        Some(index)
    }

    /// Index of a named plot.
    pub fn plot(&self, item: &Item<'_>) -> Option<usize> {
        item.name_in("plot", self.plot_names.iter().map(String::as_str))
    }

    /// Index of the plot a key names.
    pub fn plot_of_key(&self, item: &Item<'_>) -> Option<usize> {
        item.key_in("plot", self.plot_names.iter().map(String::as_str))
    }
}

/// The heading of an entry of the keeper's own.
fn own_heading(kind: EntryKind, name: &str) -> String {
    format!("[library.{}.\"{name}\"]", kind.key())
}

/// Which of several a name means: what to write for each.
fn which(name: &str, kind: EntryKind, meanings: &[Meaning<'_>]) -> String {
    let each: Vec<String> = meanings
        .iter()
        .map(|meaning| format!("\"{}\" ({})", meaning.entry.name, meaning.what.trim_end_matches('.')))
        .collect();
    let own = own_heading(kind, name);
    match meanings {
        [one] => format!(
            "Write {}; or, if yours is another, make your own: {own} with like = \"{}\".",
            each[0], one.entry.name
        ),
        _ => format!("Write which you mean: {}.", each.join(" or ")),
    }
}

impl Tables {
    /// Puts an entry into its table; `None` only where an entry lacks numbers.
    fn put(&mut self, entry: &Entry) -> Option<usize> {
        let name = entry.name.clone();
        let values = entry.values();
        let facts = &entry.facts;
        match entry.kind {
            EntryKind::Soil => push(&mut self.soils, Soil { name, params: SoilParams::from_values(&values)? }),
            EntryKind::Cover => push(&mut self.covers, CoverPlant { name, params: CoverParams::from_values(&values)? }),
            EntryKind::Weed => push(&mut self.weeds, WeedPlant { name, params: WeedParams::from_values(&values)? }),
            EntryKind::Creeper => {
                push(&mut self.creepers, CreeperPlant { name, params: CreeperParams::from_values(&values)? })
            }
            EntryKind::Crop => {
                let family = facts.family.clone().unwrap_or_default();
                let touches_soil = facts.touches_soil.unwrap_or(true);
                let params = CropParams::from_values(&values)?;
                push(&mut self.crops, CropPlant { name, family, touches_soil, params })
            }
            EntryKind::Canopy => {
                let evergreen = facts.evergreen.unwrap_or(false);
                push(&mut self.canopies, Canopy { name, evergreen, params: CanopyParams::from_values(&values)? })
            }
            EntryKind::Pest => {
                let thermometer = facts.thermometer.unwrap_or(Thermometer::Air);
                let host = facts.host.clone().unwrap_or(Host::Canopy);
                let params = PestParams::from_values(&values)?;
                let count = KeepersCount::of(&params);
                push(&mut self.pests, Pest { name, thermometer, host, params, count })
            }
            EntryKind::Slug => push(&mut self.slugs, Slug { name, params: SlugParams::from_values(&values)? }),
            EntryKind::Bird => push(&mut self.birds, BirdClass { name, params: BirdParams::from_values(&values)? }),
            EntryKind::Process => {
                self.process = Some(ProcessParams::from_values(&values)?);
                Some(0)
            }
        }
    }
}

fn push<T>(table: &mut Vec<T>, value: T) -> Option<usize> {
    table.push(value);
    Some(table.len() - 1)
}

/// The line of a plot that names an entry of a kind; `None` for kinds that no plot names by one line.
fn written_as(kind: EntryKind, name: &str) -> Option<String> {
    match kind {
        EntryKind::Canopy => Some(format!("canopy = {name:?}, in its plot")),
        EntryKind::Cover => Some(format!("cover = {{ plant = {name:?} }}, in its plot")),
        EntryKind::Crop => Some(format!("[[plot.NAME.crop]] and below it crop = {name:?}")),
        EntryKind::Weed => Some(format!("weeds = [{{ plant = {name:?}, seeds = \"1500 per m2\" }}], in its plot")),
        _ => None,
    }
}
