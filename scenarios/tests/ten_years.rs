//! Every pest and slug of the library in every climate it is known to live in, ten years without birds: how it grows at low
//! numbers, and what it comes to. The page `docs/growth.md` is what this finds; `REWRITE=1` writes it anew.
#![allow(clippy::unwrap_used)]

mod common;

use common::{library, mean, no_birds, over_plot, slug_garden};
use scenarios::library::EntryKind;
use scenarios::{SiteModel, site_file};
use sim_engine::gates::spec::StrategyKind;
use sim_engine::measures::Measure;
use sim_engine::run::RunOptions;
use sim_engine::species::Host;
use sim_engine::summary::Summary;

const YEARS: u32 = 10;

/// Fruit trees and bushes of the library a pest of fruit is put under.
fn canopy(pest: &str) -> &'static str {
    let hosts = [
        ("plum", "plum trees"),
        ("cherry", "cherry trees"),
        ("currant", "currant bushes"),
        ("raspberry", "raspberry canes"),
        ("olive", "olive trees"),
        ("walnut", "walnut trees"),
        ("hazelnut", "hazel"),
        ("pear", "pear trees"),
        ("rose weevil", "citrus trees"),
    ];
    hosts.iter().find(|(word, _)| pest.contains(word)).map_or("apple trees", |(_, canopy)| canopy)
}

fn garden(pest: &str, climate: &str, start: f64, neighbours: &str) -> SiteModel {
    let latitude = library().climate(climate).unwrap().latitude_deg;
    let host = library().get(EntryKind::Pest, pest).unwrap().facts.host.clone().unwrap();
    let canopy = canopy(pest);
    let stands = match host {
        Host::Canopy => format!("canopy = \"{canopy}\"\n"),
        Host::Crops(families) => format!("beds = 0.8\n{}", crops(&families[0])),
    };
    let text = format!(
        "format = 2\nlatitude = \"{latitude} deg\"\n[run]\nstart = 2027-01-01\nyears = {YEARS}\n\
         [weather]\nclimate = \"{climate}\"\n[yard]\narea = \"40 m2\"\n\
         [birds.flock]\nclass = \"layer\"\nnumber = 4\n[plot.here]\narea = \"200 m2\"\nsoil = \"loam\"\nrings = 1\n\
         cover = {{ plant = \"mown grass\" }}\n{stands}\
         [[plot.here.pest]]\nspecies = \"{pest}\"\nstart = \"{start} per m2\"\n{neighbours}"
    );
    site_file::read_text("ten.toml", &text, library(), &|_| Err("none".into()))
        .unwrap_or_else(|f| panic!("{f}\n{text}"))
}

fn crops(family: &str) -> String {
    let of_family = |entry: &&scenarios::library::Entry| entry.facts.family.as_deref() == Some(family);
    let crop = library().entries().filter(|entry| entry.kind == EntryKind::Crop).find(of_family).unwrap();
    let one =
        |year: i32| format!("[[plot.here.crop]]\ncrop = {:?}\nin_ground = [{year}-03-10, {year}-11-20]\n", crop.name);
    (2027..2027 + YEARS as i32).map(one).collect()
}

/// Pests of all stages per m² on every New Year's Eve.
fn eves(model: &SiteModel, draw: u64) -> Vec<f64> {
    let drivers = common::drivers(model, &model.base, draw);
    let mut eves = Vec::new();
    no_birds(&model.base, &drivers, |view| {
        let date = drivers.days[view.day].date;
        if (date.month(), date.day()) == (12, 31) {
            eves.push(over_plot(&view.run(), 0, |zone| {
                let pest = &view.ground().pests[view.world.constants.zones[zone].pests.start];
                let young: f64 = pest.above.iter().chain(&pest.summer).sum();
                pest.overwintered + pest.dropped + pest.adults + young
            }));
        }
    });
    eves
}

/// Crop or fruit damaged, %, mean of ten years from 3 pests per m² on, among the neighbours that are usual for the species.
fn damage(pest: &str, climate: &str) -> f64 {
    let model = garden(pest, climate, 3.0, "");
    let drivers = common::drivers(&model, &model.base, 1);
    let mut summary = Summary::new(None, 0.7);
    let alone = [common::spec(StrategyKind::AllShut)];
    common::record(&model.base, &drivers, (&alone, 0), RunOptions::no_birds(), &mut summary);
    summary.measures.get(Measure::PestDamage)
}

/// Generations a year by its degree-days: those that are over before it rests for the winter.
fn generations(pest: &str, climate: &str) -> usize {
    let model = garden(pest, climate, 3.0, "");
    let params = &model.base.pests[0].params;
    if params.resting_from <= 0.0 {
        return 1;
    }
    let drivers = common::drivers(&model, &model.base, 1);
    let before_rest = |day: &usize| drivers.days[*day].ground.since_solstice < params.resting_from;
    let sum: f64 = (0..drivers.days.len()).filter(before_rest).map(|day| drivers.pest_degree_days(day)[0][1]).sum();
    let left = sum / f64::from(YEARS) - params.emergence;
    1 + (left / (params.before_laying + params.egg_to_drop + params.summer_soil)).max(0.0) as usize
}

/// What the library names as the end of a pest's growth.
fn stopped_by(pest: &str) -> String {
    let entry = library().get(EntryKind::Pest, pest).unwrap();
    let at = EntryKind::Pest.fields().iter().position(|field| field.name == "crowding").unwrap();
    let source = &entry.params[at].source;
    let check = source.strip_prefix("what stops it: ").unwrap();
    check.split(';').next().unwrap().to_owned()
}

/// The first three years' growth: least and most, and that of a generation in the best of them.
struct Growth {
    least: f64,
    most: f64,
    generation: f64,
}

impl Growth {
    fn of(eves: &[f64], generations: usize) -> Self {
        let years: Vec<f64> = eves.windows(2).take(3).map(|w| w[1] / w[0]).collect();
        let most = years.iter().copied().fold(0.0, f64::max);
        let least = years.iter().copied().fold(f64::INFINITY, f64::min);
        Self { least, most, generation: f64::powf(most, 1.0 / generations as f64) }
    }
}

/// Three figures at most.
fn short(number: f64) -> String {
    if number >= 99.5 {
        format!("{number:.0}")
    } else if number >= 9.95 {
        format!("{number:.1}")
    } else {
        format!("{number:.2}")
    }
}

const PAGE_HEAD: &str = "# How pests and slugs grow without birds, and what stops them

What this library's likely numbers make of every pest and slug in every climate it is known to live in: one year's weather
after another for ten years, nobody let in and nothing sprayed. *Growth* is against the year before, from 0.01 per m2 with nothing flying or
creeping in, the first three years: the least, the most, and that of a
generation in the best of them; a year in which it is many already grows less. Below 1 it lives on what comes in from
round about. *After ten years* starts from 3 per m2 (slugs: 10) among the neighbours that are usual for it. Reported figures are mostly from
memory; `hensward sources --markdown` names each. A test holds every row to what is reported.

| pest | climate | growth a year | generations a year | growth a generation | per m2 after ten years | damage % | reported % | what stops it |
|---|---|---|---|---|---|---|---|---|
";

const SLUG_HEAD: &str = "
| slug or snail | climate | growth a year | per m2 after ten years | counted per m2 | what stops it |
|---|---|---|---|---|---|
";

/// Unprotected plantings lose no more than is reported of them, in some climate at least the least of it; no pest that lives
/// here dies out; slugs come to what is counted. Without a named check nothing grows for ever.
#[test]
fn ten_years_without_birds_are_what_is_reported() {
    let (mut faults, mut page) = (Vec::new(), PAGE_HEAD.to_owned());
    for known in library().pest_climates() {
        let [low, high] = known.damage_percent;
        let mut most: f64 = 0.0;
        for climate in &known.climates {
            let generations = generations(&known.pest, climate);
            let alone = eves(&garden(&known.pest, climate, 0.01, "neighbours = \"none\"\n"), 1);
            let growth = Growth::of(&alone, generations);
            let left = mean(&eves(&garden(&known.pest, climate, 3.0, ""), 1)[5..]);
            let damage = damage(&known.pest, climate);
            page += &format!(
                "| {} | {climate} | {} to {} | {generations} | {} | {} | {damage:.0} | {low} to {high} | {} |\n",
                known.pest,
                short(growth.least),
                short(growth.most),
                short(growth.generation),
                short(left),
                stopped_by(&known.pest)
            );
            if damage > high {
                faults.push(format!("{} takes {damage:.0} % in {climate}, more than {high}", known.pest));
            }
            if left < 0.1 {
                faults.push(format!("{} dies out in {climate}: {left:.3} per m2", known.pest));
            }
            most = most.max(damage);
        }
        if most < low {
            faults.push(format!("{} takes {most:.1} % at most, less than {low}", known.pest));
        }
    }
    page += SLUG_HEAD;
    for known in library().slug_climates() {
        for climate in &known.climates {
            let model =
                |start: f64| slug_garden::garden(&known.slug, climate, start, YEARS, "class = \"layer\"\nnumber = 4");
            let mut few = model(0.01);
            few.base.slugs[0].params.creeps_in = 0.0;
            let growth = Growth::of(&slug_garden::eves(&few, 1), 1);
            let left = slug_garden::settled(&model(10.0), 1);
            let [low, high] = known.untouched_m2;
            page += &format!(
                "| {} | {climate} | {} to {} | {} | {low} to {high} | where they are crowded the slime of others lowers laying |\n",
                known.slug,
                short(growth.least),
                short(growth.most),
                short(left)
            );
            if !(low..=high).contains(&left) {
                faults.push(format!("{} in {climate}: {left:.1} per m2, counted are {low} to {high}", known.slug));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../docs/growth.md");
    if std::env::var_os("REWRITE").is_some() {
        std::fs::write(path, &page).unwrap();
    }
    let stands = std::fs::read_to_string(path).unwrap_or_default();
    assert!(stands == page, "docs/growth.md is of other numbers: write it anew with REWRITE=1");
}
