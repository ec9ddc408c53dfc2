//! Slugs and snails: too many, in the wrong climate, twice in a plot.

use super::{Part, SiteView, Threshold, Warning, tidy, warning};
use crate::library::EntryKind;

/// Slugs per m2 above which a count is doubted.
const MANY: Threshold = Threshold::new(250.0, "per m2", "from memory: grass holds 20 to 100, the worst fields 200");

/// Of a plot's slugs: index of the kind and number per m2.
type Here<'v> = Part<'v, (usize, f64)>;

/// What is doubted of the slugs and snails of a site.
pub(super) fn all(view: &SiteView<'_>) -> Vec<Warning> {
    let parts = view.parts("slugs", |plot| &plot.slugs);
    parts.iter().flat_map(|here| [many(view, here), elsewhere(view, here), twice(view, here)]).flatten().collect()
}

/// More than ground holds.
fn many(view: &SiteView<'_>, here: &Here<'_>) -> Option<Warning> {
    let (slug, count) = (view.site.slugs.get(here.it.0)?, MANY.over(here.it.1)?);
    let one = tidy(count / here.plot.area_m2);
    warning(
        format!("{}.start", here.path),
        format!("{} per m2 of {} is very many", tidy(count), slug.name),
        format!("more than {MANY} is hardly ever found"),
        format!("Did you mean \"{one} per m2\"? Was the whole plot counted, not one m2?"),
    )
}

/// In a climate that is not known to hold it.
fn elsewhere(view: &SiteView<'_>, here: &Here<'_>) -> Option<Warning> {
    let (slug, (climate, _)) = (view.site.slugs.get(here.it.0)?, view.climate()?);
    // Of a site's own climate or slug nothing is known.
    if view.own.climate(climate).is_some() || view.own.get(EntryKind::Slug, &slug.name).is_some() {
        return None;
    }
    let known = view.library.slug_climates().iter().find(|known| known.slug == slug.name)?;
    (!view.is_or_near(climate, &known.climates)).then_some(())?;
    warning(
        format!("{}.species", here.path),
        format!("{} is not known to live on in the {climate} climate", slug.name),
        format!("it is known of {} ({})", known.climates.join(", "), known.source),
        "Take it out, or take the figures of it for a guess; if you have it here, say so with a count of your own.",
    )
}

/// The same kind twice in a plot.
fn twice(view: &SiteView<'_>, here: &Here<'_>) -> Option<Warning> {
    let slug = view.site.slugs.get(here.it.0)?;
    here.plot.slugs[..here.at].iter().find(|(other, _)| *other == here.it.0)?;
    let what = format!("{} stands twice in {}", slug.name, here.plot.name);
    warning(format!("{}.species", here.path), what, "both are counted", "Take one out.")
}
