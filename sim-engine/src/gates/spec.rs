//! A gate strategy as data: what the site file says, with names resolved.

use crate::gates::open_hours::OpenHours;
use crate::gates::practice::rule::Rule;
use core::slice;
use jiff::civil::Date;

/// A named strategy.
#[derive(Clone, Debug, PartialEq)]
pub struct StrategySpec {
    /// Name in the site file.
    pub name: String,
    /// What it does.
    pub kind: StrategyKind,
    /// From when to when a gate stands open on a day; `None`: from dawn to dusk.
    pub hours: Option<OpenHours>,
    /// Most birds let through; `None`: the flock.
    pub birds: Option<f64>,
}

/// Declares the kinds: each with its word in site files and its settings.
macro_rules! kinds {
    ($(#[$meta:meta])* $name:ident {
        $( $(#[$doc:meta])* $kind:ident $word:literal
            $({ $( $(#[$field_doc:meta])* $field:ident: $type:ty, )* })?; )*
    }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq)]
        pub enum $name {
            $( $(#[$doc])* $kind $({ $( $(#[$field_doc])* $field: $type, )* })?, )*
        }

        impl $name {
            /// The words of all kinds.
            pub const WORDS: [&'static str; [$( $word, )*].len()] = [$( $word, )*];

            /// Its word in site files.
            #[must_use]
            pub fn word(&self) -> &'static str { match self { $( $name::$kind { .. } => $word, )* } }
        }
    };
}

kinds! {
    /// The kinds. Plots and pests are indices into the site; `otherwise` and the
    /// layers are indices into the site's strategies (never in a circle).
    StrategyKind {
        /// Every gate shut: birds stay in the yard.
        AllShut "all_shut";
        /// Every gate open every day.
        AllOpen "all_open";
        /// Always the same plot.
        Continuous "continuous" {
            /// The plot.
            plot: usize,
        };
        /// Plots in turn.
        FixedTurn "fixed_turn" {
            /// The turn.
            order: Vec<usize>,
            /// Mean stay, days.
            stay_days: f64,
            /// Stays in proportion to area.
            by_area: bool,
        };
        /// By the look of the ground.
        ByEye "by_eye" {
            /// Cover at which a plot may be entered, 0 to 1.
            enter_above: f64,
            /// Cover at which it is left.
            leave_below: f64,
            /// Days.
            longest_stay_days: f64,
            /// Days.
            shortest_rest_days: f64,
        };
        /// A clean-up stay where a crop just ended, else another strategy.
        BetweenCrops "between_crops" {
            /// Days of the clean-up stay.
            stay_days: f64,
            /// Else this.
            otherwise: usize,
        };
        /// In a plot while a pest's degree-days are in a window around its emergence.
        PestDate "pest_date" {
            /// Where, for which pest, and when.
            window: PestWindow,
            /// Else this.
            otherwise: usize,
        };
        /// Shade on hot days, off wet ground, else another.
        Weather "weather" {
            /// Yesterday's highest temperature above which shade is sought, C.
            shade_above_c: Option<f64>,
            /// Stay in the yard when the ground is wet.
            off_wet_ground: bool,
            /// Else this.
            otherwise: usize,
        };
        /// Dates from a list; each holds until the next.
        Dated "dated" {
            /// In order of date.
            openings: Vec<DatedOpening>,
        };
        /// The first that has an answer wins.
        Layered "layered" {
            /// In order of precedence.
            layers: Vec<usize>,
        };
        /// A keeper's practice: rules read from the top each morning.
        Practice "rule" {
            /// Where the birds are when no rule applies; `None`: in the yard.
            home: Option<usize>,
            /// The rules, the first on top.
            rules: Vec<Rule>,
        };
    }
}

/// What every kind is asked. Without `_`, so that a new kind has to answer; keys are those of its
/// table in site files.
impl StrategyKind {
    /// The strategies it calls upon.
    #[must_use]
    pub fn calls(&self) -> &[usize] {
        match self {
            Self::BetweenCrops { otherwise, .. }
            | Self::PestDate { otherwise, .. }
            | Self::Weather { otherwise, .. } => slice::from_ref(otherwise),
            Self::Layered { layers } => layers,
            Self::AllShut
            | Self::AllOpen
            | Self::Continuous { .. }
            | Self::FixedTurn { .. }
            | Self::ByEye { .. }
            | Self::Dated { .. }
            | Self::Practice { .. } => &[],
        }
    }

    /// The plots it is built on, after their key; `None` where it takes whichever plot suits the
    /// day. (Plots of a list of dates stand in [`Self::dates`].)
    #[must_use]
    pub fn plots(&self) -> Option<(&'static str, &[usize])> {
        match self {
            Self::Continuous { plot } => Some(("plot", slice::from_ref(plot))),
            Self::FixedTurn { order, .. } => Some(("order", order)),
            Self::PestDate { window, .. } => Some(("plot", slice::from_ref(&window.plot))),
            Self::AllShut
            | Self::AllOpen
            | Self::ByEye { .. }
            | Self::BetweenCrops { .. }
            | Self::Weather { .. }
            | Self::Dated { .. }
            | Self::Layered { .. }
            | Self::Practice { .. } => None,
        }
    }

    /// Days it stays in a plot, after their key; `None` where it counts none.
    #[must_use]
    pub fn stay_days(&self) -> Option<(&'static str, f64)> {
        match self {
            Self::FixedTurn { stay_days, .. } | Self::BetweenCrops { stay_days, .. } => Some(("stay", *stay_days)),
            Self::ByEye { longest_stay_days, .. } => Some(("longest_stay", *longest_stay_days)),
            Self::AllShut
            | Self::AllOpen
            | Self::Continuous { .. }
            | Self::PestDate { .. }
            | Self::Weather { .. }
            | Self::Dated { .. }
            | Self::Layered { .. }
            | Self::Practice { .. } => None,
        }
    }

    /// Days it leaves a plot to rest between two stays, after the key they come from; `None` where
    /// it plans no rest.
    #[must_use]
    pub fn rest_days(&self) -> Option<(&'static str, f64)> {
        match self {
            Self::FixedTurn { order, stay_days, .. } => {
                (order.len() > 1).then(|| ("stay", (order.len() - 1) as f64 * stay_days))
            }
            Self::ByEye { shortest_rest_days, .. } => Some(("shortest_rest", *shortest_rest_days)),
            Self::AllShut
            | Self::AllOpen
            | Self::Continuous { .. }
            | Self::BetweenCrops { .. }
            | Self::PestDate { .. }
            | Self::Weather { .. }
            | Self::Dated { .. }
            | Self::Layered { .. }
            | Self::Practice { .. } => None,
        }
    }

    /// The dates it goes by, where it is a list of dates.
    #[must_use]
    pub fn dates(&self) -> Option<&[DatedOpening]> {
        match self {
            Self::Dated { openings } => Some(openings),
            Self::AllShut
            | Self::AllOpen
            | Self::Continuous { .. }
            | Self::FixedTurn { .. }
            | Self::ByEye { .. }
            | Self::BetweenCrops { .. }
            | Self::PestDate { .. }
            | Self::Weather { .. }
            | Self::Layered { .. }
            | Self::Practice { .. } => None,
        }
    }

    /// The window of a pest's degree-days it goes by.
    #[must_use]
    pub fn pest_window(&self) -> Option<&PestWindow> {
        match self {
            Self::PestDate { window, .. } => Some(window),
            Self::AllShut
            | Self::AllOpen
            | Self::Continuous { .. }
            | Self::FixedTurn { .. }
            | Self::ByEye { .. }
            | Self::BetweenCrops { .. }
            | Self::Weather { .. }
            | Self::Dated { .. }
            | Self::Layered { .. }
            | Self::Practice { .. } => None,
        }
    }
}

/// A plot while a pest's degree-days, counted from half its emergence, are between two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PestWindow {
    /// The plot.
    pub plot: usize,
    /// Index into `Site::pests`.
    pub pest: usize,
    /// From, degree-days relative to half emergence.
    pub from_dd: f64,
    /// To, degree-days relative to half emergence.
    pub to_dd: f64,
}

/// From this date on, this gate.
#[derive(Clone, Debug, PartialEq)]
pub struct DatedOpening {
    /// First day.
    pub date: Date,
    /// The plots open from then on; empty: the yard only.
    pub plots: Vec<usize>,
    /// From when to when they stand open; `None`: dawn to dusk.
    pub hours: Option<OpenHours>,
    /// Most birds let through.
    pub birds: Option<f64>,
}
