//! A rule of a keeper's practice as data: where, when, how long. Names are resolved; times are days.

use crate::gates::open_hours::OpenHours;
use crate::site::When;

/// One rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// Plots it speaks of, indices into the site, at least one, as listed.
    pub plots: Vec<usize>,
    /// Which of them goes first.
    pub which: Which,
    /// What must be so in the plot.
    pub when: Option<Occasion>,
    /// From one day of the year to another, both counted; over New Year too.
    pub between: Option<(YearMark, YearMark)>,
    /// While a pest's degree-days, as a keeper counts them, are between two.
    pub rising: Option<Rising>,
    /// By the look of the ground.
    pub looks: Option<Looks>,
    /// Days on which it keeps silent.
    pub unless: Vec<Unless>,
    /// How long birds stay once they are in; `None`: it is asked anew every morning.
    pub stay: Option<Stay>,
    /// Days a plot must have rested before.
    pub rest_days: Option<f64>,
    /// Most days of a calendar year in one plot under this rule.
    pub most_days: Option<f64>,
    /// Most birds let through.
    pub birds: Option<f64>,
    /// From when to when the gate stands open.
    pub hours: Option<OpenHours>,
    /// May end the stay of a rule further down.
    pub at_once: bool,
}

impl Rule {
    /// In these plots without conditions.
    #[must_use]
    pub fn of(plots: Vec<usize>) -> Self {
        Self {
            plots,
            which: Which::AsListed,
            when: None,
            between: None,
            rising: None,
            looks: None,
            unless: Vec::new(),
            stay: None,
            rest_days: None,
            most_days: None,
            birds: None,
            hours: None,
            at_once: false,
        }
    }

    /// Whether birds that are in stay, so that no rule further up calls them away: else it is asked anew every morning.
    #[must_use]
    pub fn keeps(&self) -> bool {
        self.stay.is_some() || self.looks.is_some()
    }

    /// Whether it waits for a time of the year or of the plot, which comes and goes.
    #[must_use]
    pub fn has_occasion(&self) -> bool {
        self.when.is_some() || self.between.is_some() || self.rising.is_some()
    }
}

/// Which plot of several goes first; of equals the first listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The first listed.
    AsListed,
    /// The one after the last.
    InTurn,
    /// The one rested longest.
    LongestRested,
    /// The one with the best cover where it is barest.
    BestCover,
}

impl Which {
    /// Words of site files.
    pub const WORDS: [(&'static str, Self); 4] = [
        ("as listed", Self::AsListed),
        ("in turn", Self::InTurn),
        ("longest rested", Self::LongestRested),
        ("best cover", Self::BestCover),
    ];
}

/// What must be so in a plot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Occasion {
    /// No crop stands on any of its beds.
    BetweenCrops,
    /// A crop ended here, no longer ago than the rule's stay.
    AfterHarvest,
    /// It is the time in which fruit of its canopies falls.
    FruitOnTheGround,
}

impl Occasion {
    /// Words of site files.
    pub const WORDS: [(&'static str, Self); 3] = [
        ("between crops", Self::BetweenCrops),
        ("after harvest", Self::AfterHarvest),
        ("fruit on the ground", Self::FruitOnTheGround),
    ];
}

/// A day of the year, by the calendar or by what is seen in the plot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum YearMark {
    /// By the calendar.
    Day(When),
    /// The last of its canopies has dropped its leaves.
    LeafFall,
    /// The first of its canopies breaks bud.
    BudBreak,
    /// First day of the first harvest of a calendar year.
    FirstPicking,
    /// Last day of the last harvest of a calendar year.
    LastPicking,
}

impl YearMark {
    /// Words of site files.
    pub const WORDS: [(&'static str, Self); 4] = [
        ("leaf fall", Self::LeafFall),
        ("bud break", Self::BudBreak),
        ("first picking", Self::FirstPicking),
        ("last picking", Self::LastPicking),
    ];
}

/// A pest's window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rising {
    /// Index into `Site::pests`.
    pub pest: usize,
    /// From, degree-days relative to half emergence.
    pub from_dd: f64,
    /// To.
    pub to_dd: f64,
}

/// Cover at the barest, 0 to 1, to go in at or above and to stay at or above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Looks {
    /// Go in.
    pub enter_above: f64,
    /// Leave.
    pub leave_below: f64,
}

/// A day on which a rule keeps silent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unless {
    /// The ground is wet.
    Wet,
    /// It is frozen.
    Frozen,
    /// Snow lies.
    Snow,
    /// Yesterday was hotter, C, and the plot has no shade.
    Hotter(f64),
}

/// How long.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stay {
    /// Days; by area the mean over the rule's plots.
    pub days: f64,
    /// It ends sooner where the rule's conditions do.
    pub at_most: bool,
    /// In proportion to the area of the plot.
    pub by_area: bool,
}
