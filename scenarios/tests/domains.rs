//! Every number has a domain: the library's own numbers lie in it, and whoever states another is told where and what would do.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::library::EntryKind;
use scenarios::{Library, site_file};

const SITE: &str = r#"format = 2
latitude = "52 deg"
run = { start = 2027-03-01 }
weather = { climate = "cool-maritime" }
yard = { area = "40 m2" }
[birds.flock]
class = "layer"
number = 10
[plot.orchard]
area = "100 m2"
soil = "loam"
cover = { plant = "mown grass", start = 0.9 }
canopy = "apple trees"
[[plot.orchard.pest]]
species = "apple sawfly"
start = "8 per m2"
"#;

/// What is said of the site with these lines at its end; nothing if nothing is wrong.
fn said(lines: &str) -> String {
    let library = Library::shipped().unwrap();
    let read = site_file::read_text("a.toml", &format!("{SITE}{lines}"), &library, &|_| Err("none".to_owned()));
    read.map_or_else(|faults| faults.to_string(), |_| String::new())
}

/// The number of an own entry that is like another of the library.
fn own(head: &str, number: &str, [value, low, high]: [&str; 3], unit: &str) -> String {
    format!(
        "[library.{head}.numbers]\n{number} = {{ value = {value}, low = {low}, high = {high}, unit = \"{unit}\", source = \"mine\", kind = \"from memory\" }}\n"
    )
}

#[test]
fn every_number_of_the_library_is_of_its_domain_and_every_domain_has_ends() {
    let library = Library::shipped().unwrap();
    for kind in EntryKind::ALL {
        for field in kind.fields() {
            let (low, high) = (field.domain.low(), field.domain.high());
            assert!(low.is_finite() && high.is_finite() && low < high, "{}.{}", kind.key(), field.name);
        }
    }
    for entry in library.entries() {
        for (field, number) in entry.kind.fields().iter().zip(&entry.params) {
            let within = [number.low, number.value, number.high].map(|value| field.domain.contains(value));
            assert_eq!(within, [true; 3], "{} {}", entry.name, field.name);
        }
    }
}

#[test]
fn a_share_in_points_of_a_hundred_is_told_with_what_was_meant() {
    assert_eq!(said("[unsure]\n\"process.uric_share\" = [0.5, 0.65]\n"), "");
    let told = said("[unsure]\n\"process.uric_share\" = [0.5, 65]\n");
    assert!(told.starts_with("a.toml, line 18, column 30: "), "{told}");
    assert!(told.contains("65 is above 1") && told.contains("A share goes from 0 to 1. Did you mean 0.65?"), "{told}");
    assert!(told.contains(&format!("      | {}^^\n", " ".repeat(29))), "{told}");
    let told = said("[unsure]\n\"plot.orchard.cover.start\" = [0.7, 0.9, 95]\n");
    assert!(told.contains("95 is above 1") && told.contains("Did you mean 0.95?"), "{told}");
    let told = said("[unsure]\n\"house.night_share\" = [0.2, 0.45, 45]\n");
    assert!(told.contains("45 is above 1") && told.contains("Did you mean 0.45?"), "{told}");
}

#[test]
fn low_likely_and_high_of_own_entries_and_ranges_are_held_to_it() {
    for at in 0..3 {
        for (number, unit, fits, wrong, why) in [
            ("counting_from", "d", "60", "400", "400 is no day of the year"),
            ("emergence", "C d", "150", "1e308", "1e308 is above 20000"),
            ("in_soil", "-", "1", "-0.1", "-0.1 is below 0"),
            ("base_temperature", "C", "5", "1e9", "1e9 is above 60"),
            ("search_soil", "m2/bird-day", "0.5", "-1000", "-1000 is below 0"),
        ] {
            let mut range = [fits; 3];
            range[at] = wrong;
            let head = "pest.\"my sawfly\"";
            let like = format!("[library.{head}]\nlike = \"apple sawfly\"\n");
            let told = said(&format!("{like}{}", own(head, number, range, unit)));
            assert!(told.contains(why), "{number}, {at}: {told}");
            let quoted = |value: &str| if unit == "-" { value.to_owned() } else { format!("\"{value} {unit}\"") };
            let [value, low, high] = range.map(quoted);
            let told = said(&format!("[unsure]\n\"pest.apple sawfly.{number}\" = [{low}, {value}, {high}]\n"));
            let why = why.replacen(wrong, quoted(wrong).trim_matches('"'), 1);
            assert!(told.contains(&why), "{number}, {at}: {told}");
        }
    }
    let told = said("[unsure]\n\"pest.apple sawfly.counting_from\" = [\"30 d\", \"400 d\"]\n");
    assert!(told.contains("Days after the winter solstice go from 0 to 366."), "{told}");
    let told = said("[unsure]\n\"plot.orchard.pest.apple sawfly.start\" = [\"1 per m2\", \"1e9 per m2\"]\n");
    assert!(told.contains("is above 10000"), "{told}");
}

#[test]
fn no_draw_can_put_numbers_of_an_entry_out_of_order() {
    let told = said("[unsure]\n\"soil.loam.wilting_point\" = [\"0.05 m3/m3\", \"0.5 m3/m3\"]\n");
    assert!(
        told.contains("soil.loam.wilting_point can be 0.27438 where soil.loam.field_capacity is 0.27031 at one rank"),
        "{told}"
    );
    assert!(told.starts_with("a.toml, line 18, "), "{told}");
    let like = "[library.cover.\"my grass\"]\nlike = \"mown grass\"\n";
    let told = said(&format!("{like}{}", own("cover.\"my grass\"", "best_temperature", ["20", "2", "30"], "C")));
    assert!(told.contains("and must be below it"), "{told}");
}
