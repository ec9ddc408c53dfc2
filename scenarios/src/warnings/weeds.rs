//! Seed banks and root reserves of unlikely size.

use super::site_view::Weed;
use super::{SiteView, Threshold, Warning, tidy, warning};

/// Seeds per m2 above which a bank is doubted.
const MANY: Threshold =
    Threshold::new(50_000.0, "per m2", "from memory: arable soil has some thousands to some ten thousands");
/// Seeds per m2 below which seedlings were counted, not seeds.
const FEW: Threshold = Threshold::new(30.0, "per m2", "from memory");
/// Seeds in the soil for each seedling that shows; from memory.
const SEEDS_A_SEEDLING: f64 = 20.0;

/// More seeds than soil holds.
pub(super) fn many(weed: &Weed<'_>, name: &str) -> Option<Warning> {
    let seeds = MANY.over(weed.it.1)?;
    let meant = tidy(seeds / weed.plot.area_m2);
    warning(
        format!("{}.seeds", weed.path),
        format!("{} per m2 of {name} seeds", tidy(seeds)),
        format!("a weed seldom has more than {MANY}"),
        format!("Did you mean \"{meant} per m2\"? Was it counted for the whole plot?"),
    )
}

/// So few that seedlings were counted.
pub(super) fn few(weed: &Weed<'_>, name: &str) -> Option<Warning> {
    let seeds = FEW.under(weed.it.1).filter(|seeds| *seeds > 0.0)?;
    let meant = tidy(seeds * SEEDS_A_SEEDLING);
    warning(
        format!("{}.seeds", weed.path),
        format!("{} per m2 of {name} seeds", tidy(seeds)),
        format!("fewer than {FEW} is a plot without that weed"),
        format!("Did you count seedlings? Then \"{meant} per m2\" lie in the soil (from memory)."),
    )
}

/// The same weed twice in a plot.
pub(super) fn twice(weed: &Weed<'_>, name: &str) -> Option<Warning> {
    listed_twice(weed, &weed.plot.weeds, name)
}

fn listed_twice(weed: &Weed<'_>, list: &[(usize, f64)], name: &str) -> Option<Warning> {
    list[..weed.at].iter().find(|(other, _)| *other == weed.it.0)?;
    let what = format!("{name} stands twice in {}", weed.plot.name);
    warning(format!("{}.plant", weed.path), what, "both are counted", "Take one out.")
}

/// The same creeping weed twice in a plot.
pub(super) fn creeping_twice(view: &SiteView<'_>) -> Vec<Warning> {
    let again = |here: &Weed<'_>| listed_twice(here, &here.plot.creepers, &view.site.creepers.get(here.it.0)?.name);
    view.parts("creeping", |plot| &plot.creepers).iter().filter_map(again).collect()
}

/// A root reserve above the room the library gives it.
pub(super) fn reserve(view: &SiteView<'_>) -> Vec<Warning> {
    let too_much = |here: &Weed<'_>| {
        let (creeper, grams) = (view.site.creepers.get(here.it.0)?, here.it.1);
        let room = creeper.params.reserve_room;
        (grams > room).then_some(())?;
        warning(
            format!("{}.reserve", here.path),
            format!("{} g/m2 of roots of {}", tidy(grams), creeper.name),
            format!("a full stand has about {} g/m2 (the library's reserve_room)", tidy(room)),
            format!("Did you mean \"{} g/m2\"? Dry roots, not fresh ones with soil.", tidy(grams / 10.0)),
        )
    };
    view.parts("creeping", |plot| &plot.creepers).iter().filter_map(too_much).collect()
}
