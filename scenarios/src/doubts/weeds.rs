//! Seed banks and root reserves of unlikely size.

use super::{Doubt, SiteView, Threshold, tidy};
use sim_engine::site::Plot;

/// Seeds per m2 above which a bank is doubted.
const MANY: Threshold =
    Threshold::new(50_000.0, "per m2", "from memory: arable soil has some thousands to some ten thousands");
/// Seeds per m2 below which seedlings were counted, not seeds.
const FEW: Threshold = Threshold::new(30.0, "per m2", "from memory");
/// Seeds in the soil for each seedling that shows; from memory.
const SEEDS_A_SEEDLING: f64 = 20.0;

fn all<'a>(sight: &'a SiteView<'_>) -> impl Iterator<Item = (&'a Plot, usize, f64, &'a str)> {
    sight.site.plots.iter().flat_map(move |plot| {
        let weeds = plot.weeds.iter().enumerate();
        weeds.filter_map(move |(at, &(weed, seeds))| Some((plot, at, seeds, sight.site.weeds.get(weed)?.name.as_str())))
    })
}

/// More seeds than soil holds.
pub(super) fn many(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(plot, at, seeds, name): (&Plot, usize, f64, &str)| {
        let what = format!("{} per m2 of {name} seeds", tidy(seeds));
        let remedy =
            format!("Did you mean \"{} per m2\"? Was it counted for the whole plot?", tidy(seeds / plot.area_m2));
        Doubt::new(
            format!("plot.{}.weeds.{at}.seeds", plot.name),
            &what,
            &format!("a weed seldom has more than {MANY}"),
            remedy,
        )
    };
    all(sight).filter(|(_, _, seeds, _)| *seeds > MANY.value).map(doubt).collect()
}

/// So few that seedlings were counted.
pub(super) fn few(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(plot, at, seeds, name): (&Plot, usize, f64, &str)| {
        let what = format!("{} per m2 of {name} seeds", tidy(seeds));
        let because = format!("fewer than {FEW} is a plot without that weed");
        let remedy = format!(
            "Did you count seedlings? Then \"{} per m2\" lie in the soil (from memory).",
            tidy(seeds * SEEDS_A_SEEDLING)
        );
        Doubt::new(format!("plot.{}.weeds.{at}.seeds", plot.name), &what, &because, remedy)
    };
    all(sight).filter(|(_, _, seeds, _)| *seeds < FEW.value && *seeds > 0.0).map(doubt).collect()
}

/// The same weed twice in a plot.
pub(super) fn twice(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(plot, at, _, name): (&Plot, usize, f64, &str)| {
        let again = plot.weeds[..at].iter().any(|(other, _)| *other == plot.weeds[at].0);
        again.then(|| {
            let what = format!("{name} stands twice in {}", plot.name);
            Doubt::new(format!("plot.{}.weeds.{at}.plant", plot.name), &what, "both are counted", "Take one out.")
        })
    };
    all(sight).filter_map(doubt).collect()
}

/// A root reserve above the room the library gives it.
pub(super) fn reserve(sight: &SiteView<'_>) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for plot in &sight.site.plots {
        for (at, &(kind, grams)) in plot.creepers.iter().enumerate() {
            let Some(creeper) = sight.site.creepers.get(kind) else { continue };
            let room = creeper.params.reserve_room;
            if grams > room {
                let what = format!("{} g/m2 of roots of {}", tidy(grams), creeper.name);
                let because = format!("a full stand has about {} g/m2 (the library's reserve_room)", tidy(room));
                let remedy =
                    format!("Did you mean \"{} g/m2\"? Dry roots, not fresh ones with soil.", tidy(grams / 10.0));
                doubts.push(Doubt::new(format!("plot.{}.creeping.{at}.reserve", plot.name), &what, &because, remedy));
            }
        }
    }
    doubts
}
