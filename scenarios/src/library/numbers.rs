//! Reads one number of an entry.

use super::{Evidence, Number};
use crate::quantity::Bound;
use crate::reader::{Item, Reader};
use sim_engine::parameters::Field;

/// Any finite number: the ranges stand in the library itself.
const FINITE: Bound = Bound { low: f64::MIN, high: f64::MAX, wording: "Write a finite number." };

/// The number of a field; in the shipped library every part must be stated.
pub(super) fn read(item: &Item<'_>, field: &Field, strict: bool) -> Option<Number> {
    let reader = item.table(format!("number {:?}", field.name))?;
    let value = reader.need("value", "1.0").and_then(|item| item.number(&FINITE));
    let low = end(&reader, "low", strict, value);
    let high = end(&reader, "high", strict, value);
    check_unit(&reader, field, strict);
    let evidence = evidence(&reader, strict);
    let source = text(&reader, "source", strict, "the keeper");
    let tie = reader.get("tie").and_then(|item| item.text()).map(str::to_owned);
    reader.finish();
    let number = Number { value: value?, low: low?, high: high?, source: source?, evidence: evidence?, tie };
    if number.low > number.value || number.value > number.high {
        item.fault(format!("{}: low, value and high are not in order", field.name), "Write low <= value <= high.");
        return None;
    }
    Some(number)
}

fn end(reader: &Reader<'_>, key: &'static str, strict: bool, value: Option<f64>) -> Option<f64> {
    let item = if strict { reader.need(key, "1.0") } else { reader.get(key) };
    match item {
        Some(item) => item.number(&FINITE),
        None if strict => None,
        None => value,
    }
}

fn check_unit(reader: &Reader<'_>, field: &Field, strict: bool) {
    let item = if strict { reader.need("unit", &format!("{:?}", field.unit)) } else { reader.get("unit") };
    if let Some(item) = item
        && let Some(unit) = item.text()
        && unit != field.unit
    {
        item.fault(format!("{} is in {unit:?}", field.name), format!("Give it in {:?}.", field.unit));
    }
}

fn evidence(reader: &Reader<'_>, strict: bool) -> Option<Evidence> {
    let item = if strict { reader.need("kind", "\"paper\"") } else { reader.get("kind") };
    match item {
        Some(item) => item.choice(Evidence::WORDS),
        None if strict => None,
        None => Some(Evidence::FromMemory),
    }
}

fn text(reader: &Reader<'_>, key: &'static str, strict: bool, otherwise: &str) -> Option<String> {
    let item = if strict { reader.need(key, "\"…\"") } else { reader.get(key) };
    match item {
        Some(item) => item.text().map(str::to_owned),
        None if strict => None,
        None => Some(otherwise.to_owned()),
    }
}
