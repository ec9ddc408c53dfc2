//! What a keeper has answered so far; where nothing was answered yet, something that reads.

/// The year that dates without one are taken of; starters use it too. No result reads the clock.
pub const YEAR: i16 = 2027;

/// The answers. Quantities stand as the keeper wrote them; the reader of site files takes them.
#[derive(Clone, Debug)]
pub struct Answers {
    pub site_name: String,
    pub us_units: bool,
    /// The keeper named the units, so feet in an answer do not change them.
    pub units_said: bool,
    /// What was understood beyond the words of the last answer, to be said back.
    pub heard: Vec<String>,
    pub latitude: String,
    /// The same, degrees north.
    pub latitude_deg: f64,
    pub elevation: Option<String>,
    pub climate: String,
    pub start: String,
    pub yard_area: String,
    pub yard_surface: Option<String>,
    pub yard_cleaned: Option<String>,
    /// The house moves with the flock.
    pub house_moves: bool,
    pub plots: Vec<PlotAnswer>,
    pub soil: String,
    /// What becomes of fallen fruit, by the word of the site file.
    pub fallen: Option<&'static str>,
    /// Why birds may be at home while fruit is picked above them.
    pub above: Option<String>,
    pub flock: Vec<GroupAnswer>,
    pub newcomers: Vec<GroupAnswer>,
    /// They were said with the flock, so they are not asked for.
    pub newcomers_with_flock: bool,
    pub troubles: Vec<Trouble>,
    pub gates: Gates,
    /// A plot's name, or the yard.
    pub home: String,
    /// Plots that are open from leaf fall to bud break.
    pub winter: Vec<String>,
    /// Days in a vegetable plot between crops, and most days of a year.
    pub between: (String, String),
    /// Keys and values of `[limits]`, as they are written there.
    pub limits: Vec<(&'static str, String)>,
    /// Price of an hour of work.
    pub hour: Option<String>,
}

/// A plot.
#[derive(Clone, Debug)]
pub struct PlotAnswer {
    /// The line it was answered in.
    pub line: String,
    pub name: String,
    pub area: String,
    pub distance: Option<String>,
    pub cover: Option<String>,
    pub crops: Vec<CropAnswer>,
    pub canopies: Vec<CanopyAnswer>,
}

/// A first and a last day, "03-15".
pub type Window = (String, String);

/// A crop and its seasons of a year, once they are known.
#[derive(Clone, Debug)]
pub struct CropAnswer {
    pub name: String,
    pub seasons: Vec<CropDates>,
}

/// When a crop stands and is picked.
#[derive(Clone, Debug)]
pub struct CropDates {
    pub in_ground: Window,
    pub picked: Option<Window>,
}

/// Trees, bushes or canes.
#[derive(Clone, Debug)]
pub struct CanopyAnswer {
    pub name: String,
    /// How many there are, if it was said.
    pub count: Option<u32>,
    /// It was said in the plural and without a number.
    pub many: bool,
    pub picked: Option<Window>,
}

/// Where birds are kept apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    Plot(String),
    /// A coop or pen of their own.
    Coop,
}

/// Birds of one class and date.
#[derive(Clone, Debug)]
pub struct GroupAnswer {
    pub class: String,
    pub number: u32,
    pub arrive: Option<String>,
    /// Where and how long they are kept apart.
    pub apart: Option<(Place, String)>,
}

/// A pest or weed, and the plots it is in.
#[derive(Clone, Debug)]
pub struct Trouble {
    pub kind: scenarios::library::EntryKind,
    pub name: String,
    pub plots: Vec<usize>,
}

/// How gates are opened today.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gates {
    InTurn,
    ByEye,
    BetweenCrops,
    AllOpen,
    Own,
}

impl Answers {
    /// Before the first question.
    pub fn of(site_name: String) -> Self {
        Self {
            site_name,
            us_units: false,
            units_said: false,
            heard: Vec::new(),
            latitude: "52 deg".to_owned(),
            latitude_deg: 52.0,
            elevation: None,
            climate: "cool-maritime".to_owned(),
            start: format!("{YEAR}-03-01"),
            yard_area: "30 m2".to_owned(),
            yard_surface: None,
            yard_cleaned: None,
            house_moves: false,
            plots: Vec::new(),
            soil: "loam".to_owned(),
            fallen: None,
            above: None,
            flock: Vec::new(),
            newcomers: Vec::new(),
            newcomers_with_flock: false,
            troubles: Vec::new(),
            gates: Gates::ByEye,
            home: "yard".to_owned(),
            winter: Vec::new(),
            between: ("14 days".to_owned(), "42 days a year".to_owned()),
            limits: Vec::new(),
            hour: None,
        }
    }

    /// The usual space of a bird in the keeper's units.
    pub fn usual_space(&self) -> &'static str {
        if self.us_units { "43 sq ft per bird" } else { "4 m2 per bird" }
    }

    /// Feet in an answer: the screens are in US customary units from now on, unless others were named.
    pub fn hear_feet(&mut self, of_feet: bool) {
        if of_feet && !self.us_units && !self.units_said {
            self.us_units = true;
            self.heard.push("You write feet: all is shown in US units from now on. For metres type metric.".to_owned());
        }
    }

    /// Takes back what hangs on plots and what grows in them; it is asked anew.
    pub fn forget_after_plots(&mut self) {
        self.newcomers.clear();
        self.troubles.clear();
        self.winter.clear();
        "yard".clone_into(&mut self.home);
    }

    /// Whether fruit of trees, bushes or canes is picked anywhere.
    pub fn fruit_is_picked(&self) -> bool {
        self.plots.iter().any(PlotAnswer::bears_fruit)
    }

    /// Whether fruit is picked where the birds are at home.
    pub fn home_bears_fruit(&self) -> bool {
        self.plots.iter().any(|plot| plot.name == self.home && plot.bears_fruit())
    }

    /// Whether it lies south of the equator.
    pub fn is_south(&self) -> bool {
        self.latitude_deg < 0.0
    }

    /// Names of the plots that pass.
    pub fn names(&self, passes: impl Fn(&PlotAnswer) -> bool) -> Vec<String> {
        self.plots.iter().filter(|plot| passes(plot)).map(|plot| plot.name.clone()).collect()
    }
}

impl PlotAnswer {
    /// Whether vegetables stand in it.
    pub fn has_crops(&self) -> bool {
        !self.crops.is_empty()
    }

    /// Whether fruit of trees, bushes or canes is picked in it.
    pub fn bears_fruit(&self) -> bool {
        self.canopies.iter().any(|canopy| canopy.picked.is_some())
    }

    /// Whether bushes, canes or vines stand in it.
    pub fn has_bushes(&self) -> bool {
        let low = ["bush", "cane", "vine"];
        self.canopies.iter().any(|canopy| low.iter().any(|word| canopy.name.contains(word)))
    }
}
