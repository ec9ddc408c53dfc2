//! Smell and neighbours: what nitrogen in the house and a wet yard lead to. A run counts the nitrogen that yard and house
//! lose to the air; what a nose makes of it is told from the site file alone.

use crate::units::Units;
use crate::wording::figure;
use scenarios::SiteModel;
use scenarios::yearly_load;
use sim_engine::site::Yard;

/// A yard that is cleaned out more seldom smells (common practice, no source).
const SELDOM_DAYS: u32 = 56;
const MONTHS: f64 = 12.0;

/// What to heed of smell; nothing where there are no birds.
#[must_use]
pub fn caution(model: &SiteModel, units: Units) -> Option<String> {
    let kg = yearly_load::of_yard_and_house_kg(&model.base) / MONTHS;
    (kg > 0.0).then(|| {
        let amount = figure(units.value(kg, "kg"), 1);
        format!(
            "About {amount} {} of nitrogen a month falls in yard and house. Dry it hardly smells; wet it turns to ammonia, which \
neighbours smell and which harms the lungs of birds. If you smell it at a bird's height, take out the wet bedding and air the house. Keep \
the yard on wood chip or gravel or under a roof, and the heap covered and away from the fence. (Common practice, no source.) Local rules on \
smell and distance come first.",
            units.unit("kg")
        )
    })
}

/// A word where the yard is wet and seldom cleaned out.
#[must_use]
pub fn warning(model: &SiteModel, units: Units) -> Option<String> {
    let yard = &model.base.yard;
    let seldom = yard.cleaned_every_days.is_none_or(|days| days > SELDOM_DAYS);
    let birds = model.base.groups.iter().any(|group| group.number > 0.0);
    (birds && wet(yard) && seldom).then(|| {
        let cleaned = match yard.cleaned_every_days {
            Some(days) => format!("is cleaned out every {days} days"),
            None => "is never cleaned out".to_owned(),
        };
        let kg = units.value(yearly_load::of_yard_and_house_kg(&model.base) / MONTHS, "kg");
        format!(
            "Smell: the yard turns to mud, has no roof and {cleaned}, and about {} {} of nitrogen a month falls there and in the house. \
Expect ammonia in wet weather: put down wood chip or gravel, or clean it out every few weeks.",
            figure(kg, 1),
            units.unit("kg")
        )
    })
}

/// Neither roofed nor drained.
fn wet(yard: &Yard) -> bool {
    !yard.covered && !yard.drained
}

#[cfg(test)]
mod tests {
    use super::*;
    use scenarios::{Library, site_file};
    use std::path::Path;

    #[test]
    fn a_wet_yard_that_is_never_cleaned_is_told_of() {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios/demos/puddlecote/site.toml");
        let mut model = site_file::read(&demo, &Library::shipped().unwrap()).unwrap();
        assert_eq!(warning(&model, Units::Metric), None);
        (model.base.yard.covered, model.base.yard.drained) = (false, false);
        assert_eq!(warning(&model, Units::Metric), None, "it is cleaned out every four weeks");
        model.base.yard.cleaned_every_days = None;
        assert!(warning(&model, Units::Metric).unwrap().contains("never cleaned out"));
        model.base.groups.clear();
        assert_eq!((warning(&model, Units::Metric), caution(&model, Units::Metric)), (None, None));
    }
}
