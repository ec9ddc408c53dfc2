//! Holds documents against their schemas.

#![allow(dead_code, clippy::unwrap_used)]

use jsonschema::Validator;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// The folder of the schemas, for tests of this room and of the program.
pub fn folder() -> PathBuf {
    let mut rooms = Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().map(|room| room.join("analysis/schemas"));
    rooms.find(|folder| folder.is_dir()).unwrap()
}

/// The schema of a format, for example `hensward.check/2`.
pub fn schema(format: &str) -> Validator {
    let path = folder().join(format!("{}.schema.json", format.replace('/', ".")));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    jsonschema::validator_for(&serde_json::from_str(&text).unwrap()).unwrap()
}

/// Faults of a document under the schema of the format it names, each with its place.
pub fn faults(document: &Value) -> Vec<String> {
    let schema = schema(document["format"].as_str().unwrap());
    schema.iter_errors(document).map(|error| format!("{}: {error}", error.instance_path())).collect()
}

/// Keys a document may go without.
const MAY_MISS: [&str; 4] = ["run", "until_sure", "weather", "why"];

/// Spoils each key at the top of a document in turn: each time its schema must say so.
#[track_caller]
pub fn refuses_spoilt(document: &Value) {
    let schema = schema(document["format"].as_str().unwrap());
    let spoilt = |what: &str, spoil: &dyn Fn(&mut serde_json::Map<String, Value>)| {
        let mut value = document.clone();
        spoil(value.as_object_mut().unwrap());
        assert!(!schema.is_valid(&value), "{}: {what} is let pass", document["format"]);
    };
    for key in document.as_object().unwrap().keys() {
        if !MAY_MISS.contains(&key.as_str()) {
            spoilt(&format!("a missing {key}"), &|object| _ = object.remove(key));
        }
        // Nothing in a document is a list of lists.
        spoilt(&format!("a wrong type of {key}"), &|object| _ = object.insert(key.clone(), json!([[]])));
    }
    spoilt("a key too many", &|object| _ = object.insert("extra".to_owned(), json!(1)));
    spoilt("a seed below 0", &|object| _ = object.insert("seed".to_owned(), json!(-1)));
}
