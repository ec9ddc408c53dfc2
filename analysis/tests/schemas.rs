//! The schemas in `analysis/schemas` say what the types of the documents say.

#![allow(clippy::unwrap_used)]

mod common;

use analysis::json::{
    CarryDocument, CheckDocument, CompareDocument, FormatDocument, LessonDocument, NewDocument, ScoreDocument,
    SeasonDocument, SourcesDocument, SweepDocument, WeatherDocument, text,
};
use common::schemas::folder;
use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{JsonSchema, Schema};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// What each file says of itself.
const COMMENT: &str = "Made from the types of the program by analysis/tests/schemas.rs. Within a format number \
no key vanishes; more may come, and are named here as they do.";

/// File name and text of the schema of a document.
fn made<T: JsonSchema>() -> (String, String) {
    let settings = SchemaSettings::draft2020_12().for_serialize().with_transform(RecursiveTransform(strict));
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    let format = schema.pointer("/properties/format/const").and_then(Value::as_str).unwrap().to_owned();
    let file = format!("{}.schema.json", format.replace('/', "."));
    for (key, value) in [("$id", &*file), ("$comment", COMMENT), ("title", &*format)] {
        schema.insert(key.to_owned(), value.into());
    }
    (file, text(&schema).unwrap())
}

/// Of an object every key is named; a key that may be missing is never `null`; and the widths of
/// numbers, which are no format of JSON Schema, go unsaid.
fn strict(schema: &mut Schema) {
    schema.remove("format");
    let required = schema.get("required").cloned().unwrap_or_default();
    let required = |key: &str| required.as_array().is_some_and(|keys| keys.contains(&key.into()));
    let Some(properties) = schema.get_mut("properties").and_then(Value::as_object_mut) else { return };
    for (_, property) in properties.iter_mut().filter(|(key, _)| !required(key)) {
        let either = property.as_object_mut().unwrap().remove("anyOf").unwrap();
        assert_eq!(either[1], json!({"type": "null"}));
        property["$ref"] = either[0]["$ref"].clone();
    }
    schema.insert("additionalProperties".to_owned(), false.into());
}

/// After a meant change `REWRITE=1 cargo test -p analysis --test schemas` writes them anew. Where a
/// key went or changed, the number of the format must grow.
#[test]
fn the_files_are_what_the_types_say() {
    let made = BTreeMap::from([
        made::<CarryDocument>(),
        made::<CheckDocument>(),
        made::<CompareDocument>(),
        made::<FormatDocument>(),
        made::<LessonDocument>(),
        made::<NewDocument>(),
        made::<ScoreDocument>(),
        made::<SeasonDocument>(),
        made::<SourcesDocument>(),
        made::<SweepDocument>(),
        made::<WeatherDocument>(),
    ]);
    if std::env::var_os("REWRITE").is_some() {
        made.iter().for_each(|(file, text)| std::fs::write(folder().join(file), text).unwrap());
    }
    let there = std::fs::read_dir(folder()).unwrap().map(|entry| {
        let entry = entry.unwrap();
        (entry.file_name().into_string().unwrap(), std::fs::read_to_string(entry.path()).unwrap())
    });
    let there: BTreeMap<String, String> = there.collect();
    assert_eq!(there.keys().collect::<Vec<_>>(), made.keys().collect::<Vec<_>>());
    for (file, text) in &made {
        assert!(there[file] == *text, "{file} differs; if meant: REWRITE=1 cargo test -p analysis --test schemas");
    }
}
