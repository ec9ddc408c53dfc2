//! Everything that crosses the border of a zone, named once.
//!
//! Together with the stocks these are the books: for each currency, stock at
//! the end = stock at the start + what came in − what went out. Nutrients and
//! dry matter that birds eat leave the ground; what they drop comes in.

use crate::lanes::Real;
use crate::lanes::laned::{Laned, Rows};
use core::fmt::Debug;

/// What is kept books of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Currency {
    /// mm.
    Water,
    /// Nitrogen, kg/ha.
    N,
    /// Phosphorus, kg/ha.
    P,
    /// Plant and animal dry matter on the ground, g/m².
    DryMatter,
    /// Seeds in the bank, per m².
    Seeds,
    /// Number of birds on the site.
    Birds,
    /// Pests of all species and stages, per m².
    Pests,
}

impl Currency {
    /// All, in the order of reports.
    pub const ALL: [Currency; 7] = [
        Currency::Water,
        Currency::N,
        Currency::P,
        Currency::DryMatter,
        Currency::Seeds,
        Currency::Birds,
        Currency::Pests,
    ];

    /// Key in files and scripts.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Currency::Water => "water",
            Currency::N => "n",
            Currency::P => "p",
            Currency::DryMatter => "dry_matter",
            Currency::Seeds => "seeds",
            Currency::Birds => "birds",
            Currency::Pests => "pests",
        }
    }

    /// Unit of stocks and flows in a zone.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Currency::Water => "mm",
            Currency::N | Currency::P => "kg/ha",
            Currency::DryMatter => "g/m2",
            Currency::Seeds | Currency::Pests => "1/m2",
            Currency::Birds => "birds",
        }
    }
}

macro_rules! books {
    ($(#[$meta:meta])* $flow:ident, $sums:ident { $( $variant:ident $currency:ident $sign:literal $name:literal; )* }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        #[allow(missing_docs)]
        pub enum $flow { $( $variant, )* }

        impl $flow {
            /// All flows, in the order of the ledger.
            pub const ALL: &'static [$flow] = &[ $( $flow::$variant, )* ];

            /// Column name without unit, for example `n.out.leached`.
            #[must_use]
            pub fn name(self) -> &'static str { match self { $( $flow::$variant => $name, )* } }

            /// What it is counted in.
            #[must_use]
            pub fn currency(self) -> Currency { match self { $( $flow::$variant => Currency::$currency, )* } }

            /// +1 in, −1 out.
            #[must_use]
            pub fn sign(self) -> f64 { match self { $( $flow::$variant => $sign, )* } }
        }

        /// Sums since the start of the run, one per flow.
        #[derive(Clone, Debug, PartialEq)]
        pub struct $sums([f64; $flow::ALL.len()]);

        impl Default for $sums {
            fn default() -> Self {
                Self([0.0; $flow::ALL.len()])
            }
        }

        impl $sums {
            /// Adds `amount` to `flow`.
            #[inline(always)]
            pub fn add(&mut self, flow: $flow, amount: f64) {
                self.0[flow as usize] += amount;
            }

            /// The sum of `flow` since the start of the run.
            #[inline(always)]
            #[must_use]
            pub fn get(&self, flow: $flow) -> f64 {
                self.0[flow as usize]
            }
        }
    };
}

books! {
    /// A flow into (+1) or out of (−1) a zone, in the unit of its currency.
    Flow, Flows {
    Liquid Water 1.0 "water.in.rain_and_melt";
    Irrigation Water 1.0 "water.in.irrigation";
    Runoff Water -1.0 "water.out.runoff";
    Evaporation Water -1.0 "water.out.evaporation";
    Drainage Water -1.0 "water.out.drainage";

    ManureN N 1.0 "n.in.manure";
    RainN N 1.0 "n.in.rain";
    FixedN N 1.0 "n.in.fixed";
    PlantedN N 1.0 "n.in.planted";
    SeedlingN N 1.0 "n.in.seedlings";
    CanopyN N 1.0 "n.in.canopy_fall";
    HeapN N 1.0 "n.in.heap";
    BroughtN N 1.0 "n.in.compost_and_mulch";
    VolatilisedN N -1.0 "n.out.volatilised";
    LeachedN N -1.0 "n.out.leached";
    DenitrifiedN N -1.0 "n.out.denitrified";
    HarvestN N -1.0 "n.out.harvest";
    ClearedN N -1.0 "n.out.cleared";
    EatenN N -1.0 "n.out.eaten";
    SeedN N -1.0 "n.out.seed";

    ManureP P 1.0 "p.in.manure";
    PlantedP P 1.0 "p.in.planted";
    SeedlingP P 1.0 "p.in.seedlings";
    CanopyP P 1.0 "p.in.canopy_fall";
    HeapP P 1.0 "p.in.heap";
    BroughtP P 1.0 "p.in.compost_and_mulch";
    SupplyP P 1.0 "p.in.weathering";
    HarvestP P -1.0 "p.out.harvest";
    ClearedP P -1.0 "p.out.cleared";
    EatenP P -1.0 "p.out.eaten";
    SeedP P -1.0 "p.out.seed";

    Growth DryMatter 1.0 "dry_matter.in.growth";
    Planted DryMatter 1.0 "dry_matter.in.planted";
    Seedlings DryMatter 1.0 "dry_matter.in.seedlings";
    CanopyFall DryMatter 1.0 "dry_matter.in.canopy_fall";
    Brought DryMatter 1.0 "dry_matter.in.compost_and_mulch";
    InsectsUp DryMatter 1.0 "dry_matter.in.insects";
    EatenCover DryMatter -1.0 "dry_matter.out.eaten_cover";
    EatenWeeds DryMatter -1.0 "dry_matter.out.eaten_weeds";
    EatenCrop DryMatter -1.0 "dry_matter.out.eaten_crop";
    EatenResidue DryMatter -1.0 "dry_matter.out.eaten_residue";
    EatenFruit DryMatter -1.0 "dry_matter.out.eaten_fruit";
    EatenInsects DryMatter -1.0 "dry_matter.out.eaten_insects";
    Decayed DryMatter -1.0 "dry_matter.out.decayed";
    MixedIn DryMatter -1.0 "dry_matter.out.mixed_or_dug_in";
    Harvested DryMatter -1.0 "dry_matter.out.harvest";
    Cleared DryMatter -1.0 "dry_matter.out.cleared";
    SeedMass DryMatter -1.0 "dry_matter.out.seed";
    Upkeep DryMatter -1.0 "dry_matter.out.reserve_upkeep";
    InsectsGone DryMatter -1.0 "dry_matter.out.insects_gone";

    Shed Seeds 1.0 "seeds.in.shed";
    BlownIn Seeds 1.0 "seeds.in.blown_in";
    Emerged Seeds -1.0 "seeds.out.emerged";
    SeedDeath Seeds -1.0 "seeds.out.died";
    SeedsEaten Seeds -1.0 "seeds.out.eaten";

    EggsLaid Pests 1.0 "pests.in.eggs";
    FlownIn Pests 1.0 "pests.in.flown_in";
    MixedInPests Pests 1.0 "pests.in.from_other_plots";
    MixedOutPests Pests -1.0 "pests.out.to_other_plots";
    PestDeath Pests -1.0 "pests.out.died";
    PestCaught Pests -1.0 "pests.out.caught_by_birds";
    }
}

books! {
    /// A flow into (+1) or out of (−1) yard, heap and flock: kg of nutrients
    /// and dry matter, birds.
    SiteFlow, SiteFlows {
    YardN N 1.0 "site.n.in.yard_droppings";
    HouseN N 1.0 "site.n.in.house_droppings";
    HeapAirN N -1.0 "site.n.out.heap_to_air";
    YardWashN N -1.0 "site.n.out.yard_washed_off";
    SpreadN N -1.0 "site.n.out.spread";
    YardP P 1.0 "site.p.in.yard_droppings";
    HouseP P 1.0 "site.p.in.house_droppings";
    YardWashP P -1.0 "site.p.out.yard_washed_off";
    SpreadP P -1.0 "site.p.out.spread";
    YardSolids DryMatter 1.0 "site.dry_matter.in.yard_droppings";
    HouseSolids DryMatter 1.0 "site.dry_matter.in.house_droppings";
    HeapDecay DryMatter -1.0 "site.dry_matter.out.heap_decay";
    YardWashSolids DryMatter -1.0 "site.dry_matter.out.yard_washed_off";
    SpreadSolids DryMatter -1.0 "site.dry_matter.out.spread";
    Arrived Birds 1.0 "site.birds.in.arrived";
    Left Birds -1.0 "site.birds.out.left";
    }
}

/// What keeps the books of a zone.
pub trait Books<F: Real>: Laned<F, One = Flows> + Clone + Debug + PartialEq {
    /// Adds `amount` to `flow`.
    fn add(&mut self, flow: Flow, amount: F);
}

impl Books<f64> for Flows {
    #[inline(always)]
    fn add(&mut self, flow: Flow, amount: f64) {
        self.0[flow as usize] += amount;
    }
}

impl Laned<f64> for Flows {
    type One = Flows;

    fn list(&self, _: usize, put: &mut impl FnMut(f64)) {
        self.0.iter().for_each(|&sum| put(sum));
    }
    fn read(_: &mut Rows<f64>, one: &Flows) -> Self {
        one.clone()
    }
    fn gather<'a>(_: f64, of: impl Fn(usize) -> &'a Flows + Copy) -> Self {
        of(0).clone()
    }
    fn set_lane(&mut self, _: usize, one: &Flows) {
        self.clone_from(one);
    }
    fn lane_into(&self, _: usize, one: &mut Flows) {
        one.clone_from(self);
    }
}

/// The first `N` of the flows that run between events and that a report of a run reads, by lane.
/// The others are not kept there; those that run at events alone stand in the books of each year
/// itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeptFlows<F, const N: usize>([F; N]);

/// So many of the kept flows a summary reads.
pub const OF_SUMMARY: usize = 3;
/// So many a close look reads.
pub const OF_CLOSE_LOOK: usize = KEPT.len();

const KEPT: [Flow; 14] = [
    Flow::ManureN,
    Flow::ManureP,
    Flow::LeachedN,
    Flow::RainN,
    Flow::FixedN,
    Flow::SeedlingN,
    Flow::CanopyN,
    Flow::EatenN,
    Flow::SeedN,
    Flow::VolatilisedN,
    Flow::DenitrifiedN,
    Flow::EatenCover,
    Flow::EatenWeeds,
    Flow::EatenInsects,
];

impl<F: Real, const N: usize> Books<F> for KeptFlows<F, N> {
    #[inline(always)]
    fn add(&mut self, flow: Flow, amount: F) {
        // `flow` is known where this is compiled in, so that nothing of the search is left.
        for (kept, sum) in KEPT.iter().zip(&mut self.0) {
            if *kept as usize == flow as usize {
                *sum += amount;
            }
        }
    }
}

impl<F: Real, const N: usize> Laned<F> for KeptFlows<F, N> {
    type One = Flows;

    fn list(&self, lane: usize, put: &mut impl FnMut(f64)) {
        self.0.list(lane, put);
    }
    fn read(rows: &mut Rows<F>, _: &Flows) -> Self {
        Self(Laned::read(rows, &[0.0; N]))
    }
    fn gather<'a>(proof: F, of: impl Fn(usize) -> &'a Flows + Copy) -> Self {
        Self(core::array::from_fn(|i| proof.by_lane(|lane| of(lane).get(KEPT[i]))))
    }
    fn set_lane(&mut self, lane: usize, one: &Flows) {
        for (flow, sum) in KEPT.iter().zip(&mut self.0) {
            Real::set_lane(sum, lane, one.get(*flow));
        }
    }
    fn lane_into(&self, lane: usize, one: &mut Flows) {
        for (flow, sum) in KEPT.iter().zip(&self.0) {
            one.0[*flow as usize] = sum.lane(lane);
        }
    }
}
