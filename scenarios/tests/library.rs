//! What the library promises: every number has value, range, unit, source and kind of
//! evidence, or it is refused; enough of each kind for gardens of both hemispheres; and
//! sources that contradict each other are spanned, not hidden.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::library::{EntryKind, Evidence, entry_text, listed};
use scenarios::{Library, site_file};
use sim_engine::species::Host;
use std::collections::BTreeSet;

fn library() -> Library {
    Library::shipped().unwrap()
}

/// A pest of a site's own: one number of its own, the rest taken over.
const OWN: &str = r#"[library.pest."my moth"]
like = "codling moth"
[library.pest."my moth".numbers]
body_mass = { value = 0.01, low = 0.005, high = 0.02, unit = "g", source = "my scales", kind = "from memory" }
"#;

/// Each part of it, and what is asked for where it is missing.
const PARTS: &[(&str, &str, &str)] = &[
    ("value = 0.01, ", "\"value\"", "value = 1.0"),
    ("low = 0.005, ", "\"low\"", "low = 1.0"),
    ("high = 0.02, ", "\"high\"", "high = 1.0"),
    ("unit = \"g\", ", "\"unit\"", "unit = \"g\""),
    ("source = \"my scales\", ", "\"source\"", "source = \"my notes of 2026\""),
    (", kind = \"from memory\"", "\"kind\"", "kind = \"from memory\""),
];

fn site(own: &str) -> Result<(), String> {
    let text = format!(
        "{own}format = 2\nlatitude = \"50 deg\"\n[run]\nstart = 2027-03-01\n[weather]\nclimate = \"cool-maritime\"\n\
         [yard]\narea = \"20 m2\"\n[birds.flock]\nclass = \"layer\"\nnumber = 4\n[plot.lawn]\narea = \"60 m2\"\n\
         soil = \"loam\"\ncover = {{ plant = \"mown grass\" }}\n"
    );
    // Keys of the root come before tables.
    let at = text.find("format = 2").unwrap();
    let (tables, rest) = text.split_at(at);
    let text = format!("{rest}{tables}");
    let read = site_file::read_text("site.toml", &text, &library(), &|_| Err("none".into()));
    read.map(|_| ()).map_err(|faults| faults.to_string())
}

#[test]
fn a_site_s_own_number_without_unit_range_source_or_kind_is_refused() {
    assert_eq!(site(OWN), Ok(()));
    for (part, missing, remedy) in PARTS {
        assert!(OWN.contains(part), "{part}");
        let said = site(&OWN.replacen(part, "", 1)).unwrap_err();
        for want in
            ["site.toml, line", "number \"body_mass\" has no", missing, "^", "Add a line, for example: ", remedy]
        {
            assert!(said.contains(want), "without {part:?} it does not say {want:?}, but:\n{said}");
        }
    }
}

#[test]
fn a_shipped_number_without_unit_range_source_or_kind_is_refused() {
    let shipped = OWN.replace("library.pest", "pest").replace("like = \"codling moth\"\n", "");
    for (part, missing, remedy) in PARTS {
        let faults = Library::from_text("pests.toml", &shipped.replacen(part, "", 1)).unwrap_err();
        let fault = faults.all().iter().find(|fault| fault.message.contains(missing)).unwrap();
        assert_eq!(fault.place.line, 3, "{fault}");
        assert!(fault.remedy.contains(remedy), "{fault}");
    }
}

#[test]
fn parts_that_say_nothing_or_the_wrong_thing_are_refused() {
    let wrong: &[(&str, &str, &str)] = &[
        ("source = \"my scales\"", "source = \" \"", "source is empty"),
        ("kind = \"from memory\"", "kind = \"from memry\"", "Did you mean \"from memory\"?"),
        ("unit = \"g\"", "unit = \"kg\"", "Give it in \"g\"."),
        ("low = 0.005", "low = 0.5", "Write low <= value <= high."),
        ("value = 0.01", "value = nan", "value is not a finite number"),
        ("body_mass", "body_mas", "Did you mean \"body_mass\"?"),
    ];
    for (from, to, want) in wrong {
        let said = site(&OWN.replacen(from, to, 1)).unwrap_err();
        assert!(said.contains(want) && said.contains("site.toml, line"), "{said}");
    }
}

/// One entry of every kind, written out, pasted into a site file, and read back.
#[test]
fn an_entry_of_every_kind_can_be_pasted_into_a_site() {
    let library = library();
    for kind in EntryKind::ALL {
        let entry = library.entries().filter(|entry| entry.kind == *kind).last().unwrap();
        assert_eq!(site(&entry_text("library", entry)), Ok(()), "{}", entry.name);
    }
    for (name, climate) in library.climates() {
        assert_eq!(site(&scenarios::library::climate_text("library.climate", name, climate)), Ok(()));
    }
}

#[test]
fn a_climate_without_source_or_kind_is_refused() {
    let library = library();
    let climate = library.climate("continental").unwrap();
    let text = scenarios::library::climate_text("library.climate", "valley", climate);
    for (key, remedy) in [("source = ", "source = \"my notes of 2026\""), ("kind = ", "kind = \"from memory\"")] {
        let without: String =
            text.lines().filter(|line| !line.starts_with(key)).map(|line| format!("{line}\n")).collect();
        let said = site(&without).unwrap_err();
        assert!(said.contains(remedy) && said.contains("site.toml, line"), "{said}");
    }
}

#[test]
fn every_shipped_number_is_in_its_range_with_a_source() {
    let library = library();
    for number in listed(&library) {
        let ordered = number.low <= number.value && number.value <= number.high;
        let finite = [number.low, number.value, number.high].iter().all(|figure| figure.is_finite());
        assert!(ordered && finite, "{}", number.name);
        assert!(!number.source.trim().is_empty() && !number.unit.is_empty() && !number.what.is_empty());
        assert!(!number.evidence.word().is_empty(), "{}", number.name);
        let rests_on_nothing = number.source.starts_with("from memory") && number.evidence == Evidence::Paper;
        assert!(!rests_on_nothing, "{} is from memory and calls itself a paper", number.name);
    }
    for entry in library.entries() {
        assert!(entry.about.ends_with('.'), "{} {:?} does not say what it is", entry.kind.key(), entry.name);
    }
    for hazard in library.hazards() {
        assert!(![&hazard.part, &hazard.class, &hazard.source].iter().any(|text| text.trim().is_empty()));
    }
}

/// Numbers that are shares stay shares, and temperatures stand in their order.
#[test]
fn shares_and_temperatures_make_sense() {
    let library = library();
    for entry in library.entries() {
        let number = |name: &str| {
            let at = entry.kind.fields().iter().position(|field| field.name == name)?;
            Some(&entry.params[at])
        };
        let order = [number("base_temperature"), number("best_temperature"), number("ceiling_temperature")];
        if let [Some(base), Some(best), Some(ceiling)] = order {
            assert!(base.high < best.low && best.high < ceiling.low, "{}", entry.name);
        }
        if let (Some(wilting), Some(field)) = (number("wilting_point"), number("field_capacity")) {
            assert!(wilting.value < field.value && wilting.low <= field.low && wilting.high <= field.high);
        }
        for share in ["two_winter_share", "in_soil", "drops_in_fruit", "shade_in_leaf", "harvest_share"] {
            if let Some(number) = number(share) {
                assert!(number.low >= 0.0 && number.high <= 1.0, "{} {share}", entry.name);
            }
        }
    }
}

#[test]
fn there_is_enough_for_any_keeper_s_ground() {
    let library = library();
    let wanted = [
        (EntryKind::Soil, 8),
        (EntryKind::Cover, 8),
        (EntryKind::Weed, 10),
        (EntryKind::Creeper, 5),
        (EntryKind::Pest, 12),
        (EntryKind::Slug, 4),
        (EntryKind::Crop, 24),
        (EntryKind::Canopy, 6),
        (EntryKind::Bird, 6),
        (EntryKind::Process, 1),
    ];
    for (kind, least) in wanted {
        assert!(library.names(kind).count() >= least, "{}", kind.plain());
    }
    // FAO-56 Table 19 has these nine textures.
    for texture in
        ["sand", "loamy sand", "sandy loam", "loam", "silt loam", "silt", "silty clay loam", "silty clay", "clay"]
    {
        assert!(library.get(EntryKind::Soil, texture).is_some(), "{texture}");
    }
    for class in ["layer", "pullet", "bantam", "broiler", "goose", "duck"] {
        assert!(library.get(EntryKind::Bird, class).is_some(), "{class}");
    }
    for climate in ["cool-maritime", "mediterranean", "subtropical"] {
        assert!(library.climate(climate).is_some(), "{climate}");
    }
    assert!(library.climates().count() >= 12);
    for (name, climate) in library.climates() {
        let known = climate.evidence == Evidence::Invented || climate.source.starts_with("normals of ");
        assert!(known && climate.near.as_ref().is_none_or(|near| library.climate(near).is_some()), "{name}");
    }
    assert!(library.hazards().len() >= 17 && library.moderating_view().is_some());
}

/// A pest without a host in the library could never be tried.
#[test]
fn every_pest_finds_its_host() {
    let library = library();
    let crops = library.entries().filter(|entry| entry.kind == EntryKind::Crop);
    let families: BTreeSet<&str> = crops.filter_map(|crop| crop.facts.family.as_deref()).collect();
    for pest in library.entries().filter(|entry| entry.kind == EntryKind::Pest) {
        if let Some(Host::Crops(hosts)) = &pest.facts.host {
            assert!(!hosts.is_empty(), "{}", pest.name);
            for host in hosts {
                assert!(families.contains(host.as_str()), "{}: no crop of the {host}", pest.name);
            }
        }
    }
}

/// Decay, 1/d at 20 C, that frees this share in a year of 10 C, where soil life is half as fast (Q10 = 2).
fn freed_in_a_year(share: f64) -> f64 {
    -(1.0 - share).ln() / (365.0 * 0.5)
}

/// Sources that contradict each other: the range spans both figures, and the entry says so.
#[test]
fn contradicting_sources_are_spanned_and_named() {
    let library = library();
    let all = listed(&library);
    // Number, the two figures, words of its source.
    let spanned: &[(&str, f64, f64, &[&str])] = &[
        ("pest.western cherry fruit fly.emergence", 573.0, 592.0, &["AliNiazee 1979", "Jones et al. 1991"]),
        ("pest.plum curculio.search_soil", 0.0, 1.2, &["1990", "Clark & Gage 1996", "contradict"]),
        ("process.organic_decay", freed_in_a_year(0.4), freed_in_a_year(0.6), &["Nahm 2003", "contradict"]),
        ("weed.fat hen.base_temperature", 3.4, 5.9, &["Guillemin", "Sostarcic", "contradict", "-0.80 and -1.38 MPa"]),
        ("weed.redroot.base_temperature", 8.9, 13.9, &["Guillemin", "Sostarcic", "contradict"]),
        // What was left after six years: 27.5 % undisturbed, 5.9 % cultivated, against 12 and 32 % a year.
        ("weed.chickweed.bank_death", -(1.0_f64 - 0.12).ln(), -(0.275_f64).ln() / 6.0, &["Roberts & Feast 1973"]),
        (
            "weed.chickweed.bank_death_disturbed",
            -(1.0_f64 - 0.32).ln(),
            -(0.059_f64).ln() / 6.0,
            &["Roberts & Feast 1973"],
        ),
        ("pest.cabbage root fly.base_temperature", 4.0, 6.0, &["Collier & Finch 1985", "Finch & Collier 1988"]),
        ("pest.cabbage root fly.emergence", 230.0, 301.0, &["Collier & Finch 1985", "Eckenrode & Chapman 1972"]),
        ("pest.cabbage maggot.counting_from", 11.0, 101.0, &["1 January", "1 April", "contradict"]),
        ("pest.japanese beetle.base_temperature", 10.0, 15.0, &["Magarey", "Minnesota", "contradict"]),
        ("process.heat_threshold", 22.0, 27.0, &["Fahrenheit", "another scale"]),
    ];
    for (name, one, other, words) in spanned {
        let number = all.iter().find(|number| number.name == *name).unwrap();
        // Rates are written with three digits.
        let (low, high) = (number.low - 0.0005, number.high + 0.0005);
        assert!(low <= one.min(*other) && one.max(*other) <= high, "{name}: {low} to {high}");
        for word in *words {
            assert!(number.source.contains(word), "{name} does not say {word:?}, but: {}", number.source);
        }
    }
    let matrix = all.iter().find(|number| number.name == "climate.cool-maritime.b.1.1").unwrap();
    assert!(matrix.source.contains("slips of the pen") && matrix.evidence == Evidence::Paper);
}

/// Every pest of the library is known to live in some climate of it, and no line is of a pest or climate that is not there.
#[test]
fn every_pest_is_known_of_some_climate() {
    let library = library();
    let judged: Vec<&str> = library.pest_climates().iter().map(|known| known.pest.as_str()).collect();
    for pest in library.names(EntryKind::Pest) {
        assert_eq!(judged.iter().filter(|name| **name == pest).count(), 1, "{pest}");
    }
    for known in library.pest_climates() {
        assert!(library.get(EntryKind::Pest, &known.pest).is_some(), "{}", known.pest);
        assert!(!known.climates.is_empty() && !known.source.is_empty());
        for climate in &known.climates {
            assert!(library.climate(climate).is_some(), "{}: {climate}", known.pest);
        }
    }
}
