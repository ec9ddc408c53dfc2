//! Everything a zone holds, named once: with the flows ([`flows`](super::flows)) these are the books.

use super::flows::Currency;
use crate::run::recorder::RunView;
use crate::state::{LivePlants, PestHere, SlugsHere, Weed, Zone};

/// A zone as its stocks are read off it.
struct Held<'r> {
    zone: &'r Zone,
    live: LivePlants,
    weeds: &'r [Weed],
    creepers: &'r [crate::state::Creeper],
    pests: &'r [PestHere],
    slugs: &'r [SlugsHere],
}

macro_rules! stocks {
    ($( $stock:ident $currency:ident $name:literal $of:expr; )*) => {
        /// What a zone holds, in the unit of its currency.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        #[allow(missing_docs)]
        pub enum Stock { $( $stock, )* }

        impl Stock {
            /// All stocks, in the order of the ledger.
            pub const ALL: &'static [Stock] = &[ $( Stock::$stock, )* ];

            /// Column name without unit, for example `n.stock.mineral`.
            #[must_use]
            pub fn name(self) -> &'static str { match self { $( Stock::$stock => $name, )* } }

            /// What it is counted in.
            #[must_use]
            pub fn currency(self) -> Currency { match self { $( Stock::$stock => Currency::$currency, )* } }

            fn of(self, held: &Held) -> f64 {
                let of: fn(&Held) -> f64 = match self { $( Stock::$stock => $of, )* };
                of(held)
            }
        }
    };
}

stocks! {
    RootZone Water "water.stock.root_zone" |h| h.zone.water;

    LivePlantsN N "n.stock.live_plants" |h| h.live.n;
    ResidueN N "n.stock.residue" |h| h.zone.residue_n;
    DeadCoverN N "n.stock.dead_cover" |h| h.zone.dead_n;
    FruitN N "n.stock.fruit" |h| h.zone.fruit_n;
    CanopyN N "n.stock.canopy" |h| h.zone.canopy_n;
    FreshN N "n.stock.fresh" |h| h.zone.fresh_n;
    MineralN N "n.stock.mineral" |h| h.zone.mineral_n;
    SlowN N "n.stock.slow" |h| h.zone.slow_n;

    LivePlantsP P "p.stock.live_plants" |h| h.live.p;
    ResidueP P "p.stock.residue" |h| h.zone.residue_p;
    DeadCoverP P "p.stock.dead_cover" |h| h.zone.dead_p;
    FruitP P "p.stock.fruit" |h| h.zone.fruit_p;
    CanopyP P "p.stock.canopy" |h| h.zone.canopy_p;
    FreshP P "p.stock.fresh" |h| h.zone.fresh_p;
    SoilP P "p.stock.soil" |h| h.zone.soil_p;

    Cover DryMatter "dry_matter.stock.cover" |h| h.zone.cover_mass;
    Weeds DryMatter "dry_matter.stock.weeds" |h| h.weeds.iter().map(Weed::mass).sum();
    CreepingWeeds DryMatter "dry_matter.stock.creeping_weeds" |h| h.creepers.iter().map(|c| c.shoots).sum();
    RootReserves DryMatter "dry_matter.stock.root_reserves" |h| h.creepers.iter().map(|c| c.reserve).sum();
    Crop DryMatter "dry_matter.stock.crop" |h| h.zone.crop;
    Residue DryMatter "dry_matter.stock.residue" |h| h.zone.residue;
    DeadCover DryMatter "dry_matter.stock.dead_cover" |h| h.zone.dead;
    Fruit DryMatter "dry_matter.stock.fruit" |h| h.zone.fruit;
    Insects DryMatter "dry_matter.stock.insects" |h| h.zone.insects;

    SeedsDeep Seeds "seeds.stock.deep" |h| h.weeds.iter().map(|w| w.deep).sum();
    SeedsSurface Seeds "seeds.stock.surface" |h| h.weeds.iter().map(|w| w.surface).sum();

    Overwintered Pests "pests.stock.overwintered" |h| of_pests(h, |p| p.overwintered);
    Dropped Pests "pests.stock.dropped_this_year" |h| of_pests(h, |p| p.dropped);
    SummerInSoil Pests "pests.stock.summer_in_soil" |h| of_pests(h, |p| p.summer.iter().sum());
    Adults Pests "pests.stock.adults" |h| of_pests(h, PestHere::all_adults);
    AboveGround Pests "pests.stock.above_ground" |h| of_pests(h, PestHere::young);

    SlugEggs Slugs "slugs.stock.eggs" |h| h.slugs.iter().map(|s| s.eggs.iter().sum::<f64>()).sum();
    YoungSlugs Slugs "slugs.stock.young" |h| h.slugs.iter().map(|s| s.young.iter().sum::<f64>()).sum();
    AdultSlugs Slugs "slugs.stock.adults" |h| h.slugs.iter().map(|s| s.adults).sum();
}

fn of_pests(held: &Held, of: fn(&PestHere) -> f64) -> f64 {
    held.pests.iter().map(of).sum()
}

/// What a zone holds, in the order of [`Stock::ALL`].
#[must_use]
pub fn zone_stocks(run: &RunView, zone: usize) -> [f64; Stock::ALL.len()] {
    let here = &run.world.constants.zones[zone];
    let state = &run.ground.zones[zone];
    let held = Held {
        zone: state,
        live: live_plants(run, zone),
        weeds: &run.ground.weeds[here.weeds.clone()],
        creepers: &run.ground.creepers[here.creepers.clone()],
        pests: &run.ground.pests[here.pests.clone()],
        slugs: &run.ground.slugs[here.slugs.clone()],
    };
    core::array::from_fn(|at| Stock::ALL[at].of(&held))
}

/// Mass and nutrients of the live plants of a zone.
fn live_plants(run: &RunView, zone: usize) -> LivePlants {
    let world = run.world;
    let here = &world.constants.zones[zone];
    let plot = &world.site.plots[here.plot];
    let state = &run.ground.zones[zone];
    let mut live = LivePlants::default();
    live.add_cover(state.cover_mass, &world.site.covers[plot.cover].params);
    for (weed, &(kind, _)) in run.ground.weeds[here.weeds.clone()].iter().zip(&plot.weeds) {
        live.add_weed(weed, &world.site.weeds[kind].params);
    }
    for (creeper, &(kind, _)) in run.ground.creepers[here.creepers.clone()].iter().zip(&plot.creepers) {
        live.add_creeper(creeper, &world.site.creepers[kind].params);
    }
    if let Some(crop) = world.standing[zone] {
        let params = &world.site.crops[plot.grounds[here.ground].crops[crop].crop].params;
        live.add(state.crop, params.nitrogen_content, params.phosphorus_content);
    }
    live
}
