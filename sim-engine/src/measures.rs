//! What a run is judged by: the catalogue of measures.
//!
//! Amounts are per year of the run, so that runs of different length compare.
//! "Shut in" is the run of the same site, luck, flock and hand work in which no gate is opened.
//!
//! A measure names the flows of the books it reads; a run that is judged keeps exactly these.

use crate::ledger::flows::{Flow, FlowSet};

/// Whether more of a measure is good for the keeper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// More is better.
    More,
    /// Less is better.
    Less,
    /// Neither: it describes.
    Neither,
}

macro_rules! measures {
    ($( $variant:ident $name:literal [$unit:literal] $better:ident $decimals:literal $plain:literal
        $(reads [$( $flow:ident ),*])?; )*) => {
        /// A measure of a run.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Measure { $( #[doc = concat!($plain, ". Unit: `", $unit, "`.")] $variant, )* }

        impl Measure {
            /// All measures, in the order of reports.
            pub const ALL: &'static [Measure] = &[ $( Measure::$variant, )* ];

            /// Key in files and scripts.
            #[must_use]
            pub fn name(self) -> &'static str { match self { $( Measure::$variant => $name, )* } }

            /// Unit of its value.
            #[must_use]
            pub fn unit(self) -> &'static str { match self { $( Measure::$variant => $unit, )* } }

            /// The measure in a keeper's words.
            #[must_use]
            pub fn plain(self) -> &'static str { match self { $( Measure::$variant => $plain, )* } }

            /// Which direction serves the keeper.
            #[must_use]
            pub fn better(self) -> Better { match self { $( Measure::$variant => Better::$better, )* } }

            /// The flows it is made of.
            #[must_use]
            pub const fn reads(self) -> FlowSet {
                match self { $( Measure::$variant => FlowSet::of(&[$( $( Flow::$flow, )* )?]), )* }
            }

            /// Decimals worth printing.
            #[must_use]
            pub fn decimals(self) -> usize { match self { $( Measure::$variant => $decimals, )* } }
        }
    };
}

measures! {
    CoverLoss "cover_loss" ["points"] Less 1 "ground cover lost, on the plot that lost most, below what is asked for or there is with the birds shut in";
    PestSuppression "pest_suppression" ["%"] More 1 "fewer pests leaving the plots' own soil than with the birds shut in";
    LeastCover "least_cover" ["share"] More 2 "least ground cover of any plot on any day, where it is barest, because of the birds";
    MeanCover "mean_cover" ["share"] More 2 "mean ground cover";
    DaysUnder "days_under_limit" ["d/yr"] Less 0 "plot-days under the cover limit";
    BareDays "bare_days" ["d"] Less 0 "longest run of days a plot lay under half cover because of the birds";
    WeedCover "weed_cover" ["share"] Less 3 "mean weed cover";
    SeedBank "seed_bank_change" ["%/yr"] Less 0 "change of the weed seed bank";
    WorkSaved "work_saved" ["h/yr"] More 1 "hours of the keeper's work saved against birds shut in";
    Work "work" ["h/yr"] Less 1 "hours of the keeper's work on the plots";
    WorkWeeding "work_weeding" ["h/yr"] Less 1 "of the work: weeding";
    WorkMowing "work_mowing" ["h/yr"] Less 1 "of the work: mowing";
    WorkClearing "work_clearing" ["h/yr"] Less 1 "of the work: clearing beds of what crops leave";
    WorkShovelling "work_shovelling" ["h/yr"] Less 1 "of the work: shovelling soil back onto beds";
    WorkMoving "work_moving" ["h/yr"] Less 1 "of the work: moving the birds";
    WorkOther "work_other" ["h/yr"] Less 1 "of the work: guards, mulch and compost";
    Emerged "emerged" ["1/m2/yr"] Less 2 "pest adults leaving the plots' own soil";
    FlownIn "flown_in" ["1/m2/yr"] Less 2 "pest adults flown in from outside";
    PestDamage "pest_damage" ["%"] Less 1 "crop damage by pests";
    Slugs "slugs" ["1/m2"] Less 1 "slugs and snails of all sizes where they live, mean over the year";
    CropToSlugs "crop_to_slugs" ["kg/yr"] Less 2 "standing crop eaten by slugs and snails, dry" reads [CropEatenBySlugs];
    HarvestKept "harvest_kept" ["kg/yr"] More 1 "harvest kept, fresh";
    HarvestLost "harvest_lost" ["kg/yr"] Less 1 "harvest lost to pests, fresh";
    FruitTaken "fruit_taken" ["kg/yr"] Less 2 "fruit picked by birds, fresh";
    CropTaken "crop_taken" ["kg/yr"] Less 2 "standing crop eaten or scratched out by birds, dry";
    NitrogenLoad "nitrogen_load" ["kg/ha/yr"] Neither 0 "nitrogen of droppings, heap and compost in any 12 months, site mean";
    NitrogenWorst "nitrogen_worst" ["kg/ha/yr"] Less 0 "nitrogen of droppings, heap and compost in any 12 months on the most loaded bed or sward";
    PhosphorusLoad "phosphorus_load" ["kg/ha/yr"] Neither 1 "phosphorus of droppings, heap and compost in any 12 months, site mean";
    NitrogenLeached "nitrogen_leached" ["kg/ha/yr"] Less 0 "nitrogen leached, site mean" reads [LeachedN];
    WormEggs "worm_eggs" ["index"] Less 0 "infective worm eggs where the birds are, yard included (relative)";
    GreenEaten "green_eaten" ["kg/yr"] More 1 "green eaten, dry";
    InsectsEaten "insects_eaten" ["kg/yr"] Neither 2 "insects and worms eaten, dry (useful ones among them)";
    FeedSaved "feed_saved" ["kg/yr"] More 1 "feed saved";
    FeedBought "feed_bought" ["kg/yr"] Less 0 "feed bought";
    Eggs "eggs" ["kg/yr"] Neither 0 "eggs laid";
    CareOfBirds "care_of_birds" ["h/yr"] Less 0 "care of the birds themselves: opening, feeding, eggs, house";
    CleanUp "clean_up" ["%"] More 0 "of crop leftovers, cleared within three weeks";
    SoilThrown "soil_thrown" ["kg/yr"] Less 0 "soil to shovel back onto beds";
    Space "space" ["m2 per bird"] More 1 "outdoor area per bird: the yard, and on days with a gate open the plots of the rotation";
    YardDays "yard_days" ["d/yr"] Less 0 "days with no plot open";
    HousedDays "housed_days" ["d/yr"] Neither 0 "days shut in by order";
    HeatHours "heat_hours" ["h/yr"] Less 0 "hours of heat without shade";
    MudDays "mud_days" ["d/yr"] Less 0 "mud days in the yard";
    GateMoves "gate_moves" ["moves/yr"] Less 0 "gate moves";
}

impl Measure {
    /// The flows that all measures together are made of.
    #[must_use]
    pub fn all_read() -> FlowSet {
        Self::ALL.iter().fold(FlowSet::NONE, |all, measure| all.union(measure.reads()))
    }

    /// Whether there are runs without it: shut in it is measured against itself, and not every site has swards, weeds,
    /// pests, crops to clear up after, or birds.
    #[must_use]
    pub fn may_be_blank(self) -> bool {
        use Measure::{
            BareDays, CleanUp, CoverLoss, CropToSlugs, DaysUnder, Emerged, FlownIn, LeastCover, MeanCover, PestDamage,
            PestSuppression, SeedBank, Slugs, Space, WorkSaved, WormEggs,
        };
        let blank = [CoverLoss, WorkSaved, LeastCover, MeanCover, DaysUnder, BareDays, SeedBank, Emerged, FlownIn];
        blank.contains(&self)
            || [PestDamage, PestSuppression, CleanUp, WormEggs, Space, Slugs, CropToSlugs].contains(&self)
    }

    /// The measure of this name.
    #[must_use]
    pub fn by_name(name: &str) -> Option<Measure> {
        Self::ALL.iter().copied().find(|m| m.name() == name)
    }
}

/// One value per measure; `NaN` where the run has none ("blank").
#[derive(Clone, Debug, PartialEq)]
pub struct Measures(Vec<f64>);

impl Measures {
    /// All blank.
    #[must_use]
    pub fn blank() -> Self {
        Self(vec![f64::NAN; Measure::ALL.len()])
    }

    /// The value of `measure`, `NaN` if blank.
    #[must_use]
    pub fn get(&self, measure: Measure) -> f64 {
        self.0[measure as usize]
    }

    /// Sets the value of `measure`.
    pub fn set(&mut self, measure: Measure, value: f64) {
        self.0[measure as usize] = value;
    }
}
