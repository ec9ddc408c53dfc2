//! The format of a site file as a JSON Schema, for editors that check and complete TOML by one.
//!
//! It says what keys there are and what each may be as a value by itself. Units, names of the library and what keys ask of each
//! other it leaves to the program: a site that the schema lets pass may still have faults, and never the other way round.

use scenarios::quantity::Bound;
use scenarios::site_file::format::SITE;
use scenarios::table_format::{KeyFormat, Kind, TableFormat, Taken};
use serde_json::{Map, Value, json};

/// What the schema says of itself.
const COMMENT: &str =
    "Made from the declarations of the program by analysis/tests/site_schema.rs; hensward format --schema prints it.";
/// Numbers from here on are no bound.
const ENDLESS: f64 = 1e300;
/// A date with its year.
const DATE: &str = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$";
/// A date, or a day of every year.
const DAY: &str = "^([0-9]{4}-)?[0-9]{2}-[0-9]{2}$";

/// The schema of a site file.
#[must_use]
pub fn site_schema() -> Value {
    let mut schema = table(&SITE);
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema".into();
    schema["$comment"] = COMMENT.into();
    schema["title"] = "hensward site file".into();
    schema["description"] = "A site file of hensward; more of each key: hensward format KEY.".into();
    schema
}

fn table(format: &TableFormat) -> Value {
    let mut properties: Map<String, Value> =
        format.keys.iter().map(|declared| (declared.key.to_owned(), key(declared))).collect();
    let mut others = json!(false);
    if let Some(rest) = format.rest {
        let one = described(value(&rest.kind), rest.what);
        match rest.known {
            Some(known) => properties.extend(known().into_iter().map(|name| (name.to_owned(), one.clone()))),
            None => others = one,
        }
    }
    let needed: Vec<&str> = format.keys.iter().filter(|key| key.taken == Taken::Required).map(|key| key.key).collect();
    let mut schema = json!({
        "type": "object",
        "description": format.what,
        "properties": properties,
        "additionalProperties": others,
    });
    if !needed.is_empty() {
        schema["required"] = needed.into();
    }
    schema
}

fn key(declared: &KeyFormat) -> Value {
    let taken = match declared.taken {
        Taken::Required => "It must be there.".to_owned(),
        taken => format!("Left out: {}.", taken.words()),
    };
    let may_be = declared.kind.words();
    let text = format!("{} May be: {may_be}. {taken} For example: {}", declared.what, declared.line());
    let mut schema = described(value(&declared.kind), &text);
    match declared.taken {
        Taken::Number(number) if matches!(declared.kind, Kind::Whole(_)) => schema["default"] = (number as i64).into(),
        Taken::Number(number) => schema["default"] = number.into(),
        Taken::Quantity(number, unit) => schema["default"] = format!("{number} {unit}").into(),
        Taken::Required | Taken::Words(_) => {}
    }
    schema
}

fn described(mut schema: Value, text: &str) -> Value {
    schema["description"] = text.into();
    schema
}

fn value(kind: &Kind) -> Value {
    match kind {
        // A quantity begins with its number.
        Kind::Quantity(..) => json!({"type": "string", "pattern": "[0-9]"}),
        Kind::Number(bound) => number("number", bound),
        Kind::Whole(bound) => number("integer", bound),
        Kind::Flag => json!({"type": "boolean"}),
        Kind::Text | Kind::Form(_) | Kind::Entry(_) | Kind::Climate | Kind::Named(_) | Kind::File(_) => {
            json!({"type": "string"})
        }
        Kind::Choice(words) => json!({"enum": words()}),
        Kind::Date => json!({"type": "string", "pattern": DATE}),
        Kind::Day => json!({"type": "string", "pattern": DAY}),
        Kind::Window => json!({"type": "array", "items": value(&Kind::Day), "minItems": 2, "maxItems": 2}),
        Kind::FormatNumber(number) => json!({"const": number}),
        Kind::Table(format) => table(format),
        Kind::Tables(inner) => json!({"type": "object", "additionalProperties": value(inner)}),
        Kind::List(inner) => json!({"type": "array", "items": value(inner)}),
        Kind::Elsewhere(_) => json!({"type": "object"}),
        Kind::Either(kinds) => json!({"anyOf": kinds.iter().map(value).collect::<Vec<_>>()}),
    }
}

fn number(of: &str, bound: &Bound) -> Value {
    let mut schema = json!({"type": of});
    let shown = |end: f64| if end.fract() == 0.0 { json!(end as i64) } else { json!(end) };
    if bound.low > -ENDLESS {
        schema["minimum"] = shown(bound.low);
    }
    if bound.high < ENDLESS {
        schema["maximum"] = shown(bound.high);
    }
    schema
}
