//! A gate strategy as data: what the site file says, with names resolved.

use jiff::civil::Date;

/// A named strategy.
#[derive(Clone, Debug, PartialEq)]
pub struct StrategySpec {
    /// Name in the site file.
    pub name: String,
    /// What it does.
    pub kind: StrategyKind,
    /// Hours a gate stays open on a day; `None`: from dawn to dusk.
    pub hours: Option<f64>,
    /// Most birds let through; `None`: the flock.
    pub birds: Option<f64>,
}

/// The kinds. Plots and pests are indices into the site; `otherwise` and the
/// layers are indices into the site's strategies (never in a circle).
#[derive(Clone, Debug, PartialEq)]
pub enum StrategyKind {
    /// No birds out of the yard: the no-birds run shuts every gate.
    AllShut,
    /// Every gate open every day.
    AllOpen,
    /// One plot for good.
    Continuous {
        /// The plot.
        plot: usize,
    },
    /// Plots in turn.
    FixedTurn {
        /// The turn.
        order: Vec<usize>,
        /// Mean stay, days.
        stay_days: f64,
        /// Stays in proportion to area.
        by_area: bool,
    },
    /// By the look of the ground.
    ByEye {
        /// Cover at which a plot may be entered, 0 to 1.
        enter_above: f64,
        /// Cover at which it is left.
        leave_below: f64,
        /// Days.
        longest_stay_days: f64,
        /// Days.
        shortest_rest_days: f64,
    },
    /// A clean-up stay where a crop just ended, else another strategy.
    BetweenCrops {
        /// Days of the clean-up stay.
        stay_days: f64,
        /// Else this.
        otherwise: usize,
    },
    /// In a plot while a pest's degree-days are in a window around its emergence.
    PestDate {
        /// The plot.
        plot: usize,
        /// Index into `Site::pests`.
        pest: usize,
        /// From, degree-days relative to half emergence.
        from_dd: f64,
        /// To, degree-days relative to half emergence.
        to_dd: f64,
        /// Else this.
        otherwise: usize,
    },
    /// Shade on hot days, off wet ground, else another.
    Weather {
        /// Yesterday's highest temperature above which shade is sought, C.
        shade_above_c: Option<f64>,
        /// Stay in the yard when the ground is wet.
        off_wet_ground: bool,
        /// Else this.
        otherwise: usize,
    },
    /// Dates from a list; each holds until the next.
    Dated {
        /// In order of date.
        openings: Vec<DatedOpening>,
    },
    /// The first that has an answer wins.
    Layered {
        /// In order of precedence.
        layers: Vec<usize>,
    },
}

/// From this date on, this gate.
#[derive(Clone, Debug, PartialEq)]
pub struct DatedOpening {
    /// First day.
    pub date: Date,
    /// The plots open from then on; empty: the yard only.
    pub plots: Vec<usize>,
    /// Hours open.
    pub hours: Option<f64>,
    /// Most birds let through.
    pub birds: Option<f64>,
}
