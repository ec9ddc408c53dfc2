//! Reads one number of an entry.

use super::{AGAINST, Evidence, Number};
use crate::nearest::did_you_mean;
use crate::reader::{Item, Reader};
use sim_engine::parameters::Field;

/// The number of a field. Every part must be stated, by a site as by the shipped library:
/// a number without range, unit and source cannot be judged.
pub(super) fn read(item: &Item<'_>, field: &Field, fields: &[Field]) -> Option<Number> {
    let reader = item.table(format!("number {:?}", field.name))?;
    let figure = |key| reader.need(key, "1.0").and_then(|item| item.number_of(field.domain, field.unit));
    let (value, low, high) = (figure("value"), figure("low"), figure("high"));
    check_unit(&reader, field);
    let source = source(&reader, "source");
    let evidence = evidence(&reader, "kind");
    let tie = reader.get("tie").and_then(|item| tie(&item, fields));
    reader.finish();
    let number =
        Number { value: value?, low: low?, high: high?, source: source?, evidence: evidence?, tie, taken_from: None };
    if number.low > number.value || number.value > number.high {
        item.fault(format!("{}: low, value and high are not in order", field.name), "Write low <= value <= high.");
        return None;
    }
    Some(number)
}

/// A tie; one against another number names a number that entries of this kind have.
fn tie(item: &Item<'_>, fields: &[Field]) -> Option<String> {
    let tie = item.text()?;
    if let Some(of) = tie.strip_prefix(AGAINST)
        && !fields.iter().any(|field| field.name == of)
    {
        let names = fields.iter().map(|field| field.name);
        item.fault(format!("there is no number {of:?} to be drawn against"), did_you_mean(of, names));
    }
    Some(tie.to_owned())
}

fn check_unit(reader: &Reader<'_>, field: &Field) {
    if let Some(item) = reader.need("unit", &format!("{:?}", field.unit))
        && let Some(unit) = item.text()
        && unit != field.unit
    {
        item.fault(format!("{} is in {unit:?}", field.name), format!("Give it in {:?}.", field.unit));
    }
}

/// Where figures come from; it must say something.
pub(super) fn source(reader: &Reader<'_>, key: &'static str) -> Option<String> {
    let item = reader.need(key, "\"my notes of 2026\"")?;
    let text = item.text()?;
    if text.trim().is_empty() {
        item.fault(format!("{key} is empty"), "Say where the figure comes from, or \"from memory\".");
        return None;
    }
    Some(text.to_owned())
}

/// How figures are known.
pub(super) fn evidence(reader: &Reader<'_>, key: &'static str) -> Option<Evidence> {
    reader.need(key, "\"from memory\"").and_then(|item| item.choice(Evidence::WORDS))
}
