//! The schema of site files lets pass what is a site, and refuses what is not; the file that is kept is what the program prints.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

use analysis::format::site_schema;
use analysis::json::text;
use jsonschema::Validator;
use serde_json::{Map, Number, Value};
use std::path::{Path, PathBuf};
use toml::de::{DeTable, DeValue};

fn room() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios")
}

fn table(table: &DeTable<'_>) -> Value {
    let entry = |(key, inner): (&toml::Spanned<std::borrow::Cow<'_, str>>, &toml::Spanned<DeValue<'_>>)| {
        (key.get_ref().to_string(), value(inner.get_ref()))
    };
    Value::Object(table.iter().map(entry).collect::<Map<_, _>>())
}

/// A value as editors take it: dates are texts.
fn value(from: &DeValue<'_>) -> Value {
    match from {
        DeValue::String(text) => Value::String(text.to_string()),
        DeValue::Integer(number) => Value::Number(number.as_str().parse::<i64>().unwrap().into()),
        DeValue::Float(number) => Value::Number(Number::from_f64(number.as_str().parse().unwrap()).unwrap()),
        DeValue::Boolean(flag) => Value::Bool(*flag),
        DeValue::Datetime(date) => Value::String(date.to_string()),
        DeValue::Array(members) => Value::Array(members.iter().map(|member| value(member.get_ref())).collect()),
        DeValue::Table(inner) => table(inner),
    }
}

fn json(toml: &str) -> Value {
    table(DeTable::parse(toml).unwrap().get_ref())
}

fn faults(schema: &Validator, toml: &str) -> Vec<String> {
    let site = json(toml);
    schema.iter_errors(&site).map(|error| format!("{}: {error}", error.instance_path())).collect()
}

fn schema() -> Validator {
    jsonschema::validator_for(&site_schema()).unwrap()
}

/// Every site there is: demos, starters, problems, trials and what tests keep.
fn sites() -> Vec<(PathBuf, String)> {
    let mut all = Vec::new();
    let folders =
        ["demos/sallowmere", "demos/emberstair", "demos/puddlecote", "starters", "problems", "hindcasts", "tests/data"];
    for folder in folders {
        for entry in std::fs::read_dir(room().join(folder)).unwrap() {
            let path = entry.unwrap().path();
            let is_toml = path.extension().is_some_and(|ending| ending == "toml");
            let text = if is_toml { std::fs::read_to_string(&path).unwrap() } else { String::new() };
            if text.lines().any(|line| line.starts_with("format = 2")) {
                all.push((path, text));
            }
        }
    }
    all
}

/// After a meant change `REWRITE=1 cargo test -p analysis --test site_schema` writes it anew.
#[test]
fn the_file_beside_the_starters_is_what_the_program_prints() {
    let path = room().join("starters/site.schema.json");
    let made = text(&site_schema()).unwrap();
    if std::env::var_os("REWRITE").is_some() {
        std::fs::write(&path, &made).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == made, "it differs; if meant: REWRITE=1 cargo test -p analysis --test site_schema");
}

#[test]
fn it_is_a_schema() {
    assert!(jsonschema::meta::is_valid(&site_schema()));
}

#[test]
fn every_site_passes() {
    let (schema, sites) = (schema(), sites());
    assert!(sites.len() >= 25, "{}", sites.len());
    for (path, text) in sites {
        assert_eq!(faults(&schema, &text), Vec::<String>::new(), "{}", path.display());
    }
}

#[test]
fn what_is_spoilt_is_refused() {
    let schema = schema();
    let site = std::fs::read_to_string(room().join("starters/orchard.toml")).unwrap();
    for (good, bad) in [
        ("format = 2\n", ""),
        ("format = 2\n", "format = 1\n"),
        ("latitude = \"52 deg\"", "latitude = 52"),
        ("latitude = \"52 deg\"", "latitude = \"north\""),
        ("years = 3", "years = 31"),
        ("years = 3", "years = 2.5"),
        ("years = 3", "yaers = 3"),
        ("start = 2027-03-01", "start = \"03-01\""),
        ("surface = \"wood chip\"", "surface = \"woodchip\""),
        ("area = \"200 m2\"", "area = 200"),
        ("soil = \"loam\"\ncover = { plant = \"rough grass\"", "cover = { plant = \"rough grass\""),
        ("start = 0.9 }", "start = 90 }"),
        ("cover = { plant = \"rough grass\", start = 0.9 }", "cover = \"rough grass\""),
        ("canopy = \"apple trees\"", "canopy = 3"),
        ("fruit_harvest = [\"09-01\", \"10-15\"]", "fruit_harvest = \"09-01\""),
        ("fruit_harvest = [\"09-01\", \"10-15\"]", "guards = [\"08-20\", \"09-20\"]"),
        ("[[plot.vegetables.crop]]\ncrop = \"broad bean\"", "[[plot.vegetables.crop]]\nkrop = \"broad bean\""),
        ("stay = \"14 days\" }", "stay = 14 }"),
        ("by_eye = {", "by_ear = {"),
        ("[yard]", "[yrad]"),
    ] {
        assert!(site.contains(good), "{good}");
        let spoilt = site.replacen(good, bad, 1);
        assert!(!faults(&schema, &spoilt).is_empty(), "{bad}");
    }
}
