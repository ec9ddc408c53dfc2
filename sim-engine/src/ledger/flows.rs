//! Everything that crosses the border of a zone, named once.
//!
//! Together with the stocks these are the books: for each currency, stock at
//! the end = stock at the start + what came in − what went out. Nutrients and
//! dry matter that birds eat leave the ground; what they drop comes in. Between the two they are in the birds, whose
//! books are among those of the site.

use crate::simd::Real;
use crate::simd::soa::{Rows, StructOfArrays};

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
    /// Slugs and snails of all ages, per m².
    Slugs,
}

impl Currency {
    /// All, in the order of reports.
    pub const ALL: [Currency; 8] = [
        Currency::Water,
        Currency::N,
        Currency::P,
        Currency::DryMatter,
        Currency::Seeds,
        Currency::Birds,
        Currency::Pests,
        Currency::Slugs,
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
            Currency::Slugs => "slugs",
        }
    }

    /// Unit of stocks and flows in a zone.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Currency::Water => "mm",
            Currency::N | Currency::P => "kg/ha",
            Currency::DryMatter => "g/m2",
            Currency::Seeds | Currency::Pests | Currency::Slugs => "1/m2",
            Currency::Birds => "birds",
        }
    }
}

macro_rules! flows {
    ($(#[$meta:meta])* $flow:ident { $( $variant:ident $currency:ident $sign:literal $name:literal; )* }) => {
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
    };
}

flows! {
    /// A flow into (+1) or out of (−1) a zone, in the unit of its currency.
    Flow {
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
    CanopyN N 1.0 "n.in.canopy_reserves";
    HeapN N 1.0 "n.in.heap";
    BroughtN N 1.0 "n.in.compost_and_mulch";
    VolatilisedN N -1.0 "n.out.volatilised";
    LeachedN N -1.0 "n.out.leached";
    DenitrifiedN N -1.0 "n.out.denitrified";
    HarvestN N -1.0 "n.out.harvest";
    ClearedN N -1.0 "n.out.cleared";
    EatenN N -1.0 "n.out.eaten";
    WoodN N -1.0 "n.out.wood";
    SeedN N -1.0 "n.out.seed";

    ManureP P 1.0 "p.in.manure";
    PlantedP P 1.0 "p.in.planted";
    SeedlingP P 1.0 "p.in.seedlings";
    CanopyP P 1.0 "p.in.canopy_reserves";
    HeapP P 1.0 "p.in.heap";
    BroughtP P 1.0 "p.in.compost_and_mulch";
    SupplyP P 1.0 "p.in.weathering";
    HarvestP P -1.0 "p.out.harvest";
    ClearedP P -1.0 "p.out.cleared";
    EatenP P -1.0 "p.out.eaten";
    WoodP P -1.0 "p.out.wood";
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
    LeafEatenBySlugs DryMatter -1.0 "dry_matter.out.leaf_eaten_by_slugs";
    CropEatenBySlugs DryMatter -1.0 "dry_matter.out.crop_eaten_by_slugs";
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

    SlugEggs Slugs 1.0 "slugs.in.eggs";
    SlugsCreptIn Slugs 1.0 "slugs.in.crept_in";
    SlugsDied Slugs -1.0 "slugs.out.died";
    SlugsCaught Slugs -1.0 "slugs.out.caught_by_birds";
    }
}

flows! {
    /// A flow into (+1) or out of (−1) yard, heap and birds: kg of nutrients
    /// and dry matter, birds. What birds drop goes out of them, and in where it falls.
    SiteFlow {
    FeedN N 1.0 "site.n.in.feed";
    FoundN N 1.0 "site.n.in.found_by_birds";
    EggsN N -1.0 "site.n.out.eggs";
    GainN N -1.0 "site.n.out.growth_of_birds";
    LeftN N -1.0 "site.n.out.left_with_birds";
    DroppedN N -1.0 "site.n.out.dropped";
    FeedP P 1.0 "site.p.in.feed";
    FoundP P 1.0 "site.p.in.found_by_birds";
    EggsP P -1.0 "site.p.out.eggs";
    GainP P -1.0 "site.p.out.growth_of_birds";
    LeftP P -1.0 "site.p.out.left_with_birds";
    DroppedP P -1.0 "site.p.out.dropped";
    YardN N 1.0 "site.n.in.yard_droppings";
    HouseN N 1.0 "site.n.in.house_droppings";
    ClearedN N 1.0 "site.n.in.cleared";
    HeapAirN N -1.0 "site.n.out.heap_to_air";
    YardWashN N -1.0 "site.n.out.yard_washed_off";
    SpreadN N -1.0 "site.n.out.spread";
    YardP P 1.0 "site.p.in.yard_droppings";
    HouseP P 1.0 "site.p.in.house_droppings";
    ClearedP P 1.0 "site.p.in.cleared";
    YardWashP P -1.0 "site.p.out.yard_washed_off";
    SpreadP P -1.0 "site.p.out.spread";
    YardSolids DryMatter 1.0 "site.dry_matter.in.yard_droppings";
    HouseSolids DryMatter 1.0 "site.dry_matter.in.house_droppings";
    ClearedSolids DryMatter 1.0 "site.dry_matter.in.cleared";
    HeapDecay DryMatter -1.0 "site.dry_matter.out.heap_decay";
    YardWashSolids DryMatter -1.0 "site.dry_matter.out.yard_washed_off";
    SpreadSolids DryMatter -1.0 "site.dry_matter.out.spread";
    Arrived Birds 1.0 "site.birds.in.arrived";
    Left Birds -1.0 "site.birds.out.left";
    }
}

/// Sums since the start of the run, one for each [`SiteFlow`].
#[derive(Clone, Debug, PartialEq)]
pub struct SiteFlows([f64; SiteFlow::ALL.len()]);

impl Default for SiteFlows {
    fn default() -> Self {
        Self([0.0; SiteFlow::ALL.len()])
    }
}

impl SiteFlows {
    /// Adds `amount` to `flow`.
    pub fn add(&mut self, flow: SiteFlow, amount: f64) {
        self.0[flow as usize] += amount;
    }

    /// The sum of `flow` since the start of the run.
    #[must_use]
    pub fn get(&self, flow: SiteFlow) -> f64 {
        self.0[flow as usize]
    }
}

/// A set of flows of the zones: those a recorder reads, those a run keeps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct FlowSet(u128);

impl FlowSet {
    /// No flow.
    pub const NONE: Self = Self(0);
    /// Every flow.
    pub const ALL: Self = Self::of(Flow::ALL);

    /// These flows.
    #[must_use]
    pub const fn of(flows: &[Flow]) -> Self {
        // One bit a flow; more flows than bits would not compile.
        const { assert!(Flow::ALL.len() <= u128::BITS as usize) };
        let (mut bits, mut at) = (0, 0);
        while at < flows.len() {
            bits |= 1 << flows[at] as u128;
            at += 1;
        }
        Self(bits)
    }

    /// The flows of both.
    #[must_use]
    pub const fn union(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether `flow` is one of them.
    #[inline(always)]
    #[must_use]
    pub const fn has(self, flow: Flow) -> bool {
        self.0 >> flow as u128 & 1 == 1
    }

    /// The first of them that `other` has not.
    #[must_use]
    pub fn first_not_in(self, other: Self) -> Option<Flow> {
        Self(self.0 & !other.0).iter().next()
    }

    /// Its flows, in the order of the ledger.
    #[inline(always)]
    pub fn iter(self) -> impl Iterator<Item = Flow> {
        let mut left = self.0;
        core::iter::from_fn(move || {
            let flow = Flow::ALL.get(left.trailing_zeros() as usize).copied();
            left &= left.wrapping_sub(1);
            flow
        })
    }
}

/// The flows of a zone since the start of the run, of one run or by lane. Only those are summed
/// that the recorders of the run read: to add to another does nothing, and to read it is a fault.
#[derive(Clone, Debug, PartialEq)]
pub struct Flows<F = f64> {
    kept: FlowSet,
    sums: [F; Flow::ALL.len()],
}

impl<F: Default> Default for Flows<F> {
    /// Nothing has flowed; all flows are kept.
    fn default() -> Self {
        Self { kept: FlowSet::ALL, sums: core::array::from_fn(|_| F::default()) }
    }
}

impl Flows {
    /// Nothing has flowed; these flows are kept.
    #[must_use]
    pub fn keeping(kept: FlowSet) -> Self {
        Self { kept, sums: [0.0; Flow::ALL.len()] }
    }

    /// The sum of `flow` since the start of the run, in the unit of its currency.
    ///
    /// # Panics
    /// If the run does not keep `flow`, because no recorder named it among those it reads.
    #[must_use]
    pub fn get(&self, flow: Flow) -> f64 {
        assert!(self.kept.has(flow), "the run does not keep the flow {}: no recorder named it", flow.name());
        self.sums[flow as usize]
    }

    /// The flows that are kept.
    #[must_use]
    pub fn kept(&self) -> FlowSet {
        self.kept
    }
}

impl<F: Real> Flows<F> {
    /// Adds `amount` to `flow`, if it is kept.
    #[inline(always)]
    pub fn add(&mut self, flow: Flow, amount: F) {
        if self.kept.has(flow) {
            self.sums[flow as usize] += amount;
        }
    }
}

impl<F: Real> StructOfArrays<F> for Flows<F> {
    type One = Flows;

    fn list(&self, lane: usize, put: &mut impl FnMut(f64)) {
        self.sums.list(lane, put);
    }
    fn read(rows: &mut Rows<F>, one: &Flows) -> Self {
        Self { kept: one.kept, sums: StructOfArrays::read(rows, &one.sums) }
    }
    fn gather<'a>(token: F, of: impl Fn(usize) -> &'a Flows + Copy) -> Self {
        Self { kept: of(0).kept, sums: StructOfArrays::gather(token, |lane| &of(lane).sums) }
    }
    fn set_lane(&mut self, lane: usize, one: &Flows) {
        for flow in self.kept.iter() {
            Real::set_lane(&mut self.sums[flow as usize], lane, one.sums[flow as usize]);
        }
    }
    fn lane_into(&self, lane: usize, one: &mut Flows) {
        one.kept = self.kept;
        for flow in self.kept.iter() {
            one.sums[flow as usize] = self.sums[flow as usize].lane(lane);
        }
    }
}
