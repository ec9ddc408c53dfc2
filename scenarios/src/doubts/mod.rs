//! What can be read and is yet doubtful: "unusual, because". Each doubt is a file
//! with one function, registered below.

mod isolation;
mod numbers;
mod outside;
mod room;
mod waiting;
mod water;

use crate::diagnose::Page;
use crate::model::SiteModel;
use std::ops::Range;

/// A doubt: the name of the value it is about, what is unusual, what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Doubt {
    /// Name of the value, for example `plot.orchard.area`.
    pub about: String,
    /// What is unusual and why.
    pub message: String,
    /// What to do.
    pub remedy: String,
}

const DOUBTS: &[fn(&SiteModel) -> Vec<Doubt>] = &[
    numbers::pests,
    numbers::areas,
    room::tight,
    waiting::always_shut,
    waiting::dates,
    waiting::by_hand,
    isolation::among_crops,
    outside::events,
    outside::pests,
    water::dry_drip,
];

/// Notes every doubt at the place of the value it is about.
pub(crate) fn look(model: &SiteModel, page: Page<'_>, spots: &[(String, Range<usize>)]) {
    for doubt in DOUBTS.iter().flat_map(|doubt| doubt(model)) {
        let spot = spots.iter().find(|(name, _)| *name == doubt.about);
        page.unusual(spot.map_or(0..0, |(_, span)| span.clone()), doubt.message, doubt.remedy);
    }
}
