//! Every number of the library at the ends of its domain: what passes `check` ends in finite figures over books that
//! balance, and in files without a figure that is no number.
//!
//! Kinds, numbers and domains are walked through as they are declared, so that a new number is tried without a word here.
//! An ordinary run tries some; `.ci/slow corners` tries all.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

mod common;

use analysis::compare::{ComparePlan, compare};
use analysis::draw_sampler::DrawSampler;
use analysis::experiment::Job;
use analysis::json::{compare_document, text};
use analysis::ledger::Digits;
use analysis::report::{CompareView, SeasonView, compare_report, season_report};
use analysis::season::{likely, simulate};
use analysis::units::Units;
use rand::Rng;
use scenarios::library::{Entry, EntryKind};
use scenarios::{Library, SiteModel, site_file};
use sim_engine::species::Host;
use sim_engine::streams::{stream, uniform};
use std::any::Any;
use std::panic::catch_unwind;
use std::time::{Duration, Instant};

/// Corners of an ordinary run.
const SOME: u64 = 200;
/// Corners at random of a whole run, besides every number by itself.
const AT_RANDOM: u64 = 1000;
/// Possible years of a comparison.
const DRAWS: usize = 4;
/// A corner takes some tenths of a second; one that takes so long hangs.
const LONGEST: Duration = Duration::from_secs(60);

/// Least, likely and most of a number, by its name; the unit it is written with.
#[derive(Clone)]
struct Stated {
    name: String,
    unit: &'static str,
    range: [f64; 3],
}

/// A site, and what its keeper is unsure of.
struct Corner {
    site: String,
    stated: Vec<Stated>,
}

/// A number of an entry by its place among those of the kind, and its least, likely and most.
type At = (usize, [f64; 3]);

/// What became of a corner.
enum Outcome {
    /// `check` refused it.
    Refused,
    /// It ran.
    Ran,
}

#[test]
fn some_corners() {
    let library = Library::shipped().unwrap();
    hold((0..SOME).map(|number| (number % 2 == 0, number)).map(|(single, number)| {
        let mut luck = stream(number, 0, "corners");
        if single { singles(&library, &mut luck, true).remove(0) } else { at_random(&library, &mut luck) }
    }));
}

#[test]
#[ignore = "some minutes: .ci/slow corners"]
fn all_corners() {
    let library = Library::shipped().unwrap();
    let mut luck = stream(1, 0, "all corners");
    let singles = singles(&library, &mut luck, false);
    let random =
        (0..AT_RANDOM).map(|number| at_random(&library, &mut stream(number, 1, "corners"))).collect::<Vec<_>>();
    hold(singles.into_iter().chain(random));
}

/// Runs corners, and fails with all that went wrong.
fn hold(corners: impl Iterator<Item = Corner>) {
    let library = Library::shipped().unwrap();
    let (mut ran, mut refused, mut wrong) = (0, 0, Vec::new());
    for corner in corners {
        let said = corner.unsure();
        let begun = Instant::now();
        let watched = Watched::over(format!("{said}\n{}", corner.site));
        let outcome = catch_unwind(|| corner.run(&library));
        drop(watched);
        match outcome {
            Ok(Ok(Outcome::Ran)) => ran += 1,
            Ok(Ok(Outcome::Refused)) => refused += 1,
            Ok(Err(fault)) => wrong.push(format!("{fault}: {}", corner.shrunk(&library).told())),
            Err(panic) => wrong.push(format!("panic, {}: {}", words(panic.as_ref()), corner.shrunk(&library).told())),
        }
        if begun.elapsed() > LONGEST / 6 {
            wrong.push(format!("{:?}: {said}", begun.elapsed()));
        }
    }
    println!("{ran} corners ran, {refused} were refused, {} went wrong", wrong.len());
    assert!(wrong.is_empty(), "{} went wrong:\n{}", wrong.len(), wrong.join("\n"));
    assert!(ran > refused, "more was refused than run");
}

fn words(panic: &(dyn Any + Send)) -> String {
    let text = panic.downcast_ref::<String>().cloned();
    text.or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned())).unwrap_or_default()
}

/// Ends the test, with the corner that hangs, after [`LONGEST`].
struct Watched(Option<std::sync::mpsc::Sender<()>>);

impl Watched {
    fn over(said: String) -> Self {
        let (done, wait) = std::sync::mpsc::channel::<()>();
        std::thread::spawn(move || {
            if wait.recv_timeout(LONGEST) == Err(std::sync::mpsc::RecvTimeoutError::Timeout) {
                println!("hangs: {said}");
                eprintln!("hangs: {said}");
                std::process::exit(1);
            }
        });
        Self(Some(done))
    }
}

impl Drop for Watched {
    fn drop(&mut self) {
        drop(self.0.take());
    }
}

impl Corner {
    fn unsure(&self) -> String {
        let line = |stated: &Stated| {
            let bare = matches!(stated.unit, "-" | "1");
            let one = |value: f64| if bare { format!("{value:e}") } else { format!("\"{value:e} {}\"", stated.unit) };
            format!("\"{}\" = [{}]\n", stated.name, stated.range.map(one).join(", "))
        };
        format!("[unsure]\n{}", self.stated.iter().map(line).collect::<String>())
    }

    /// What stands on it, and what the keeper is unsure of.
    fn told(&self) -> String {
        let named = |line: &&str| [" = \"", "plant = "].iter().any(|mark| line.contains(mark));
        let site: Vec<&str> = self.site.lines().filter(named).collect();
        format!("{}\n{}", site.join("\n"), self.unsure())
    }

    /// As little of what is stated as still goes wrong.
    fn shrunk(&self, library: &Library) -> Self {
        let (mut stated, mut size) = (self.stated.clone(), self.stated.len().div_ceil(2));
        while size > 0 {
            let mut from = 0;
            while from < stated.len() {
                let mut fewer = stated.clone();
                fewer.drain(from..(from + size).min(stated.len()));
                let corner = Self { site: self.site.clone(), stated: fewer };
                match catch_unwind(|| corner.run(library)) {
                    Ok(Ok(_)) => from += size,
                    _ => stated = corner.stated,
                }
            }
            size /= 2;
        }
        Self { site: self.site.clone(), stated }
    }

    fn run(&self, library: &Library) -> Result<Outcome, String> {
        let text = format!("{}{}", self.site, self.unsure());
        let none = |_: &str| Err("none".to_owned());
        let model = match site_file::read_text("corner.toml", &text, library, &none) {
            Ok(model) => model,
            Err(faults) => return self.refusal(&faults.to_string()),
        };
        for kind in EntryKind::ALL {
            let stands = model.entries.iter().any(|(of, ..)| of == kind);
            assert!(stands, "no {} stands on the site of this test", kind.plain());
        }
        compared(&model, library)?;
        season(&model, library)?;
        Ok(Outcome::Ran)
    }

    /// Only what is out of order may be refused: every number is of its domain.
    fn refusal(&self, faults: &str) -> Result<Outcome, String> {
        let expected = faults.contains("and must be below it");
        if expected { Ok(Outcome::Refused) } else { Err(format!("refused, {faults}")) }
    }
}

fn compared(model: &SiteModel, library: &Library) -> Result<(), String> {
    let plan = ComparePlan {
        seed: 7,
        draws: DRAWS,
        which: (0..model.strategies.len()).collect(),
        against: 0,
        required_reliability: 0.9,
        indifference_share: 0.05,
    };
    let comparison = compare(model, &plan, None, &Job::unheard()).map_err(|error| format!("compare, {error}"))?;
    let likely = likely(model, plan.seed, None, comparison.leading()).map_err(|error| format!("likely, {error}"))?;
    let from = common::from();
    let view = CompareView {
        model,
        library,
        comparison: &comparison,
        from: &from,
        likely: &likely,
        notes: &[],
        units: Units::Metric,
    };
    let document = compare_document(model, &comparison, &from, None);
    for (file, said) in [
        ("report.html", compare_report(&view).html),
        ("draws.csv", common::draws_csv(&comparison)),
        ("summary.json", text(&document).unwrap()),
    ] {
        no_strange_figure(file, &said)?;
    }
    Ok(())
}

fn season(model: &SiteModel, library: &Library) -> Result<(), String> {
    let which = model.strategies.len() - 1;
    let draw = DrawSampler { seed: 7 }.draw(model, 1);
    let season = simulate(model, &draw, which, Some(Digits::Short)).map_err(|error| format!("season, {error}"))?;
    let from = common::from();
    let view = SeasonView { model, library, draw: &draw, which, season: &season, from: &from, units: Units::Metric };
    no_strange_figure("season.html", &season_report(&view).html)
}

/// A word of a page or table that is no finite number.
fn no_strange_figure(file: &str, said: &str) -> Result<(), String> {
    let strange = |word: &str| matches!(word, "NaN" | "nan" | "inf" | "infinity" | "Infinity");
    let mut words = said.split(|letter: char| !letter.is_alphanumeric());
    words.find(|word| strange(word)).map_or(Ok(()), |word| Err(format!("{word} in {file}")))
}

/// Every number by itself: at both ends, hardly above the lower one, and anywhere between them; numbers in order with
/// hardly anything between them. Only one of them, where `one` is wanted.
fn singles(library: &Library, luck: &mut impl Rng, one: bool) -> Vec<Corner> {
    let mut all: Vec<(EntryKind, Vec<At>)> = Vec::new();
    for kind in EntryKind::ALL {
        for (position, field) in kind.fields().iter().enumerate() {
            let (low, high) = (field.domain.low(), field.domain.high());
            let tiny = low + 1e-9 * (high - low);
            for range in [[low; 3], [high; 3], [tiny; 3], [low, tiny, high], [low, high, high]] {
                all.push((*kind, vec![(position, range)]));
            }
        }
        for order in kind.orders() {
            let find = |name: &str| kind.fields().iter().position(|field| field.name == name).unwrap();
            let (below, above) = (find(order.below), find(order.above));
            let domain = kind.fields()[below].domain;
            let span = domain.high() - domain.low();
            for share in [0.0, 0.5, 0.999] {
                let at = domain.low() + share * span;
                all.push((*kind, vec![(below, [at; 3]), (above, [at + 1e-6 * span; 3])]));
            }
        }
    }
    if one {
        all = vec![all.swap_remove(below(luck, all.len()))];
    }
    let corner = |(kind, numbers): (EntryKind, Vec<At>)| {
        let (site, entries) = site(library, luck);
        let of_kind: Vec<&&Entry> = entries.iter().filter(|entry| entry.kind == kind).collect();
        let state =
            |(position, range): &At| of_kind.iter().map(|entry| stated(entry, *position, *range)).collect::<Vec<_>>();
        let stated = numbers.iter().flat_map(state).collect();
        Corner { site, stated }
    };
    all.into_iter().map(corner).collect()
}

/// Few or many numbers of many entries, each at an end of its domain.
fn at_random(library: &Library, luck: &mut impl Rng) -> Corner {
    let (site, entries) = site(library, luck);
    let share = [0.02, 0.1, 0.4, 1.0][below(luck, 4)];
    let mut all = Vec::new();
    for entry in entries {
        let mut here: Vec<At> = Vec::new();
        for (position, field) in entry.kind.fields().iter().enumerate() {
            if uniform(luck) < share {
                let (low, high) = (field.domain.low(), field.domain.high());
                let ranges = [[low; 3], [high; 3], [low, entry.params[position].value, high]];
                here.push((position, ranges[below(luck, 3)]));
            }
        }
        in_order(entry, &mut here);
        all.extend(here.into_iter().map(|(position, range)| stated(entry, position, range)));
    }
    Corner { site, stated: all }
}

/// Takes away what would put numbers of an entry out of order.
fn in_order(entry: &Entry, numbers: &mut Vec<At>) {
    for order in entry.kind.orders() {
        let find = |name: &str| entry.kind.fields().iter().position(|field| field.name == name).unwrap();
        let pair = [find(order.below), find(order.above)];
        let [lesser, greater] = pair.map(|position| {
            let number = &entry.params[position];
            let own = numbers.iter().find(|(of, _)| *of == position).map(|(_, range)| *range);
            own.unwrap_or([number.low, number.value, number.high])
        });
        if lesser[2] >= greater[0] {
            numbers.retain(|(position, _)| !pair.contains(position));
        }
    }
    // Taken away, one may be out of order with a third.
    let orders = entry.kind.orders();
    let ordered = |position: usize| {
        let name = entry.kind.fields()[position].name;
        orders.iter().any(|order| order.below == name || order.above == name)
    };
    let broken = orders.iter().any(|order| {
        let find = |name: &str| entry.kind.fields().iter().position(|field| field.name == name).unwrap();
        let range = |position: usize| {
            let number = &entry.params[position];
            let own = numbers.iter().find(|(of, _)| *of == position).map(|(_, range)| *range);
            own.unwrap_or([number.low, number.value, number.high])
        };
        range(find(order.below))[2] >= range(find(order.above))[0]
    });
    if broken {
        numbers.retain(|(position, _)| !ordered(*position));
    }
}

fn stated(entry: &Entry, position: usize, range: [f64; 3]) -> Stated {
    Stated { name: entry.number_name(position), unit: entry.kind.fields()[position].unit, range }
}

fn below(luck: &mut impl Rng, many: usize) -> usize {
    ((uniform(luck) * many as f64) as usize).min(many - 1)
}

/// A small site on which something of every kind stands, picked from the library; and what does.
fn site<'l>(library: &'l Library, luck: &mut impl Rng) -> (String, Vec<&'l Entry>) {
    let mut here: Vec<&Entry> = Vec::new();
    let mut pick = |kind: EntryKind, fits: &dyn Fn(&Entry) -> bool| {
        let all: Vec<&Entry> = library.entries().filter(|entry| entry.kind == kind && fits(entry)).collect();
        let entry = all[below(luck, all.len())];
        if !here.contains(&entry) {
            here.push(entry);
        }
        entry
    };
    let any = |_: &Entry| true;
    pick(EntryKind::Process, &any);
    let [soil, cover, creeper, canopy, slug, class] =
        [EntryKind::Soil, EntryKind::Cover, EntryKind::Creeper, EntryKind::Canopy, EntryKind::Slug, EntryKind::Bird]
            .map(|kind| pick(kind, &any).name.clone());
    let weeds = [0; 2].map(|_| pick(EntryKind::Weed, &any).name.clone());
    let on_trees = pick(EntryKind::Pest, &|entry| entry.facts.host == Some(Host::Canopy)).name.clone();
    let eaten = |pest: &Entry, crop: &Entry| {
        pest.facts.host.as_ref().zip(crop.facts.family.as_ref()).is_some_and(|(host, family)| host.is_crop_of(family))
    };
    let crops: Vec<&Entry> = library.entries().filter(|entry| entry.kind == EntryKind::Crop).collect();
    let pest = pick(EntryKind::Pest, &|pest| crops.iter().any(|crop| eaten(pest, crop)));
    let crop = pick(EntryKind::Crop, &|crop| eaten(pest, crop)).name.clone();
    let on_crops = &pest.name;
    let text = format!(
        r#"format = 2
latitude = "52 deg"
[run]
start = 2027-03-01
years = 1
[weather]
climate = "cool-maritime"
[yard]
area = "40 m2"
[birds.flock]
class = "{class}"
number = 10
[plot.orchard]
area = "100 m2"
soil = "{soil}"
cover = {{ plant = "{cover}", start = 0.9 }}
canopy = "{canopy}"
creeping = [ {{ plant = "{creeper}", reserve = "20 g/m2" }} ]
weeds = [ {{ plant = "{}", seeds = "500 per m2" }} ]
[[plot.orchard.pest]]
species = "{on_trees}"
start = "8 per m2"
[[plot.orchard.care]]
task = "mow"
every = "3 weeks"
season = ["04-15", "10-15"]
[plot.beds]
area = "64 m2"
soil = "{soil}"
beds = 0.6
cover = {{ plant = "{cover}", start = 0.9 }}
weeds = [ {{ plant = "{}", seeds = "2000 per m2" }} ]
slugs = [ {{ species = "{slug}", start = "10 per m2" }} ]
[[plot.beds.crop]]
crop = "{crop}"
in_ground = ["04-01", "10-01"]
harvest = ["08-01", "10-01"]
[[plot.beds.pest]]
species = "{on_crops}"
start = "8 per m2"
[[plot.beds.care]]
task = "weed"
every = "3 weeks"
season = ["04-15", "08-31"]
[strategy.turn]
fixed_turn = {{ order = ["orchard", "beds"], stay = "10 days" }}
[strategy.by-eye]
by_eye = {{ enter_above = 0.88, leave_below = 0.75, longest_stay = "14 days", shortest_rest = "28 days" }}
[aims]
work_saved = "1 h per h"
cover_loss = "-0.25 h per point"
harvest_kept = "0.3 h per kg"
pest_suppression = "0.1 h per point"
feed_saved = "0.05 h per kg"
"#,
        weeds[0], weeds[1]
    );
    (text, here)
}
