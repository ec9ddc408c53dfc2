//! Every pest of the library in a climate where it is at home, north or south, without birds
//! and without neighbours: it neither dies out nor swamps its plot, and it flies when it
//! should. Not measured fields: months of flight are from memory, as the library's sums are.
#![allow(clippy::unwrap_used)]

mod common;

use common::{library, no_birds, over_plot};
use scenarios::library::EntryKind;
use scenarios::{SiteModel, site_file};
use sim_engine::ledger::flows::FlowSet;
use sim_engine::species::Host;

/// Years of a trial: three winters between four summers.
const YEARS: u32 = 4;
/// Pests per m² at the start.
const START: f64 = 3.0;
/// Fewer than this share of the start: it dies out. (Caterpillars that eat each other settle far below the start.)
const DYING: f64 = 0.02;
/// More than this per m² after the last winter: it swamps the plot.
const SWAMPED: f64 = 400.0;

/// Pest, climate, latitude, months in which half of the first brood may have risen.
const HOMES: &[(&str, &str, f64, [i8; 2])] = &[
    ("african black beetle", "warm temperate", -36.0, [10, 11]),
    ("apple maggot", "continental", 48.0, [7, 9]),
    ("apple sawfly", "cool-maritime", 53.0, [4, 5]),
    ("asparagus beetle", "continental", 48.0, [4, 5]),
    ("bean seed fly", "cool-maritime", 53.0, [3, 5]),
    ("cabbage flea beetle", "continental", 48.0, [4, 5]),
    ("cabbage maggot", "continental", 48.0, [5, 6]),
    ("cabbage moth", "continental", 48.0, [5, 6]),
    ("cabbage root fly", "cool-maritime", 53.0, [4, 5]),
    ("carrot fly", "cool-maritime", 53.0, [4, 6]),
    ("christmas beetle", "warm temperate", -36.0, [11, 12]),
    ("cockchafer", "continental", 48.0, [5, 5]),
    ("codling moth", "continental", 48.0, [5, 6]),
    ("colorado beetle", "continental", 48.0, [4, 6]),
    ("corn earworm and bollworm", "subtropical", -28.0, [9, 10]),
    ("currant sawfly", "cool-maritime", 53.0, [4, 5]),
    ("cutworm", "continental", 48.0, [5, 6]),
    ("european cherry fruit fly", "continental", 48.0, [6, 7]),
    ("fall armyworm", "subtropical", 28.0, [3, 4]),
    ("fuller's rose weevil", "mediterranean", 38.0, [7, 9]),
    ("garden chafer", "cool-maritime", 53.0, [5, 6]),
    ("grass grub", "warm temperate", -36.0, [10, 12]),
    ("hazelnut weevil", "continental", 48.0, [5, 6]),
    ("japanese beetle", "warm temperate", 36.0, [6, 7]),
    ("leatherjacket", "cool-maritime", 53.0, [8, 9]),
    ("mediterranean fruit fly", "mediterranean", 38.0, [3, 5]),
    ("melon fly", "subtropical", 28.0, [3, 4]),
    ("olive fly", "mediterranean", 38.0, [6, 7]),
    ("onion fly", "cool-maritime", 53.0, [5, 6]),
    ("oriental fruit fly", "subtropical", 28.0, [3, 4]),
    ("pea moth", "continental", 48.0, [5, 7]),
    ("pear midge", "cool-maritime", 53.0, [3, 5]),
    ("pear slug", "warm temperate", -36.0, [10, 11]),
    ("plum curculio", "continental", 48.0, [5, 6]),
    ("plum fruit moth", "continental", 48.0, [5, 6]),
    ("plum sawfly", "cool-maritime", 53.0, [4, 5]),
    ("queensland fruit fly", "subtropical", -28.0, [9, 10]),
    ("raspberry beetle", "cool-maritime", 53.0, [5, 6]),
    ("raspberry cane midge", "cool-maritime", 53.0, [5, 6]),
    ("south american fruit fly", "warm temperate", -36.0, [10, 11]),
    ("spotted-wing drosophila", "warm temperate", 36.0, [3, 5]),
    ("squash vine borer", "warm temperate", 36.0, [5, 6]),
    ("striped cucumber beetle", "continental", 48.0, [5, 6]),
    ("swede midge", "continental", 48.0, [5, 6]),
    ("tomato hornworm", "warm temperate", 36.0, [5, 6]),
    ("vine weevil", "cool-maritime", 53.0, [6, 7]),
    ("walnut husk fly", "continental", 48.0, [7, 8]),
    ("western cherry fruit fly", "continental", 48.0, [5, 7]),
    ("wireworm", "continental", 48.0, [4, 5]),
];

#[test]
fn every_pest_of_the_library_has_a_home_here() {
    let named: Vec<&str> = HOMES.iter().map(|(pest, ..)| *pest).collect();
    assert_eq!(library().names(EntryKind::Pest).collect::<Vec<_>>(), named);
    for (pest, climate, ..) in HOMES {
        let known = library().pest_climates().iter().find(|known| known.pest == *pest).unwrap();
        assert!(known.climates.iter().any(|name| name == climate), "{pest} is not known of {climate}");
    }
}

#[test]
fn at_home_it_lives_on_and_flies_in_its_months() {
    let mut faults = Vec::new();
    for (pest, climate, latitude_deg, months) in HOMES {
        let model = home(pest, climate, *latitude_deg);
        let (left, risen_by) = lives(&model);
        if !(DYING * START..SWAMPED).contains(&left) {
            faults.push(format!("{pest} in {climate}: {left:.2} per m2 after {YEARS} years"));
        }
        if !(months[0]..=months[1]).contains(&risen_by.month()) {
            faults.push(format!("{pest} in {climate}: half has risen by {risen_by}"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// A plot of its host, begun at midwinter.
fn home(pest: &str, climate: &str, latitude_deg: f64) -> SiteModel {
    let south = latitude_deg < 0.0;
    let start = if south { "2027-06-22" } else { "2027-01-01" };
    let host = library().get(EntryKind::Pest, pest).unwrap().facts.host.clone().unwrap();
    let stands = match host {
        Host::Canopy => "canopy = \"apple trees\"\n".to_owned(),
        Host::Crops(families) => format!("beds = 0.8\n{}", crops(&families[0], south)),
    };
    let text = format!(
        "format = 2\nlatitude = \"{latitude_deg} deg\"\n[run]\nstart = {start}\nyears = {YEARS}\n\
         [weather]\nclimate = \"{climate}\"\n[yard]\narea = \"40 m2\"\n\
         [birds.flock]\nclass = \"layer\"\nnumber = 4\n[plot.here]\narea = \"100 m2\"\nsoil = \"loam\"\n\
         cover = {{ plant = \"mown grass\" }}\n{stands}\
         [[plot.here.pest]]\nspecies = \"{pest}\"\nstart = \"{START} per m2\"\nneighbours = \"none\"\n"
    );
    site_file::read_text("home.toml", &text, library(), &|_| Err("none".into()))
        .unwrap_or_else(|f| panic!("{f}\n{text}"))
}

/// A crop of the family that stands through every warm season.
fn crops(family: &str, south: bool) -> String {
    let of_family = |entry: &&scenarios::library::Entry| entry.facts.family.as_deref() == Some(family);
    let crop = library().entries().filter(|entry| entry.kind == EntryKind::Crop).find(of_family).unwrap();
    let season = |year: i32| {
        if south { format!("{year}-09-10, {}-05-30", year + 1) } else { format!("{year}-03-10, {year}-11-20") }
    };
    let one = |year| format!("[[plot.here.crop]]\ncrop = {:?}\nin_ground = [{}]\n", crop.name, season(year));
    (2027..2027 + YEARS as i32).map(one).collect()
}

/// Pests of all stages per m² at the end, and the day by which half of the second year's
/// overwintered pool has left the soil, deaths apart.
fn lives(model: &SiteModel) -> (f64, jiff::civil::Date) {
    let drivers = common::drivers(model, &model.base, 1);
    let mut emerged = Vec::new();
    let ended = no_birds(&model.base, &drivers, |view| {
        let run = view.run();
        emerged.push(over_plot(&run, 0, |z| run.ground.pests[run.world.constants.zones[z].pests.start].emerged_share));
    });
    let left = over_plot(&ended.view(FlowSet::ALL), 0, |z| {
        let pest = &ended.ground().pests[ended.world().constants.zones[z].pests.start];
        pest.total()
    });
    let half = (366..emerged.len()).find(|&day| emerged[day] >= 0.5).expect("half rises in the second year");
    (left, model.base.start.checked_add(jiff::Span::new().days(half as i64)).unwrap())
}
