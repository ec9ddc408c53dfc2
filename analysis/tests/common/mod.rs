//! What tests of documents and reports share: a small site, its comparison, a schema checker.

#![allow(dead_code, clippy::unwrap_used)]

use analysis::compare::{ComparePlan, Comparison, compare};
use analysis::experiment::Job;
use analysis::json::{Provenance, input_digest};
use scenarios::{Library, SiteModel};
use serde_json::Value;
use std::path::{Path, PathBuf};

/// A folder of the repository.
pub fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(name)
}

/// The shipped demo, one year long, with a name that would break a careless page, and an edit.
pub fn site(edit: impl FnOnce(&mut SiteModel)) -> (SiteModel, Library) {
    let library = Library::shipped().unwrap();
    let path = folder("scenarios/demos/sallowmere/site.toml");
    let mut model = scenarios::site_file::read(&path, &library).unwrap_or_else(|faults| panic!("{faults}"));
    model.name = "Hens <b>&\" sward".to_owned();
    model.years = 1;
    model.base.days = 366;
    edit(&mut model);
    (model, library)
}

/// Compares the strategies of these names.
pub fn compared(model: &SiteModel, names: &[&str], draws: usize) -> Comparison {
    let which: Vec<usize> = names.iter().map(|name| model.strategy(name).unwrap()).collect();
    let plan = ComparePlan { seed: 7, draws, which, against: 0, sure: model.compare.sure, worth: model.compare.worth };
    compare(model, &plan, None, &Job::unheard()).unwrap()
}

/// What documents of these tests say they come from.
pub fn from() -> Provenance {
    Provenance::new(7, input_digest(&[("site", b"a site")]))
}

/// A document's schema.
pub fn schema(name: &str) -> Value {
    let path = folder("analysis/schemas").join(format!("hensward.{name}.1.schema.json"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// Faults of a value under a schema (JSON Schema Draft 2020-12, the keywords our schemas use;
/// any other keyword is a fault of the schema).
pub fn faults(schema: &Value, value: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    check(schema, schema, value, "$", &mut faults);
    faults
}

fn check(root: &Value, schema: &Value, value: &Value, at: &str, faults: &mut Vec<String>) {
    for (keyword, wanted) in schema.as_object().unwrap() {
        match keyword.as_str() {
            "$schema" | "$id" | "title" | "description" | "$defs" | "properties" => {}
            "$ref" => {
                let pointer = wanted.as_str().unwrap().trim_start_matches('#');
                check(root, root.pointer(pointer).unwrap(), value, at, faults);
            }
            "required" => {
                for key in wanted.as_array().unwrap() {
                    if value.get(key.as_str().unwrap()).is_none() {
                        faults.push(format!("{at}: {key} is missing"));
                    }
                }
            }
            "additionalProperties" => {
                for (key, inner) in value.as_object().unwrap() {
                    check(root, wanted, inner, &format!("{at}.{key}"), faults);
                }
            }
            "items" => {
                for (i, inner) in value.as_array().unwrap().iter().enumerate() {
                    check(root, wanted, inner, &format!("{at}[{i}]"), faults);
                }
            }
            _ if !holds(keyword, wanted, value) => faults.push(format!("{at}: {keyword} {wanted}, found {value}")),
            _ => {}
        }
    }
    if let (Some(properties), Some(object)) = (schema.get("properties"), value.as_object()) {
        for (key, inner) in properties.as_object().unwrap() {
            if let Some(found) = object.get(key) {
                check(root, inner, found, &format!("{at}.{key}"), faults);
            }
        }
    }
}

fn holds(keyword: &str, wanted: &Value, value: &Value) -> bool {
    let bound = || wanted.as_f64().unwrap();
    match keyword {
        "type" => match wanted {
            Value::Array(types) => types.iter().any(|t| is(t, value)),
            one => is(one, value),
        },
        "const" => wanted == value,
        "enum" => wanted.as_array().unwrap().contains(value),
        "minimum" => value.as_f64().is_none_or(|v| v >= bound()),
        "maximum" => value.as_f64().is_none_or(|v| v <= bound()),
        "minLength" => value.as_str().is_none_or(|s| s.chars().count() as f64 >= bound()),
        "maxLength" => value.as_str().is_none_or(|s| s.chars().count() as f64 <= bound()),
        _ => false,
    }
}

fn is(kind: &Value, value: &Value) -> bool {
    match kind.as_str().unwrap() {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "boolean" => value.is_boolean(),
        "null" => value.is_null(),
        "number" => value.is_number(),
        "integer" => value.is_u64() || value.is_i64(),
        _ => false,
    }
}
