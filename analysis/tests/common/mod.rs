//! What tests of documents and reports share: a small site, its comparison, its schemas.

#![allow(dead_code, clippy::unwrap_used)]

pub mod schemas;
pub mod sound;

use analysis::compare::{ComparePlan, Comparison, compare};
use analysis::experiment::Job;
use analysis::json::{compare_csv, text};
use analysis::provenance::{Provenance, input_digest};
use scenarios::{Library, SiteModel};
use serde::Serialize;
use serde::de::DeserializeOwned;
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
    let plan = ComparePlan {
        seed: 7,
        draws,
        which,
        against: 0,
        required_reliability: model.compare.required_reliability,
        indifference_share: model.compare.indifference_share,
    };
    compare(model, &plan, None, &Job::unheard()).unwrap()
}

/// `draws.csv` as text.
pub fn draws_csv(c: &Comparison) -> String {
    let mut csv = Vec::new();
    compare_csv(c, &mut csv).unwrap();
    String::from_utf8(csv).unwrap()
}

/// What documents of these tests say they come from.
pub fn from() -> Provenance {
    Provenance::new(7, input_digest(&[("site", b"a site")]))
}

/// Holds a document against its schema, which must refuse it when spoilt, and sees that it comes
/// back as it was; gives it as a value.
pub fn checked<T: Serialize + DeserializeOwned + PartialEq>(name: &str, document: &T) -> Value {
    let written = text(document).unwrap();
    assert!(serde_json::from_str::<T>(&written).unwrap() == *document, "{name} does not come back as it was");
    let value: Value = serde_json::from_str(&written).unwrap();
    let number = if ["new", "sources", "weather"].contains(&name) { 1 } else { 2 };
    assert_eq!(value["format"], format!("hensward.{name}/{number}"));
    assert_eq!(schemas::faults(&value), Vec::<String>::new());
    schemas::refuses_spoilt(&value);
    value
}
