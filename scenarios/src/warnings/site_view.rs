//! What the warnings look at: the site as understood, the library, the typical year.

use super::places::Places;
use super::typical::Typical;
use crate::library::{Entry, EntryKind, Library};
use crate::model::SiteModel;
use crate::site_file::dates::shown;
use crate::weather_source::WeatherSource;
use jiff::civil::Date;
use sim_engine::dates::{date_of, spans};
use sim_engine::gates::spec::StrategySpec;
use sim_engine::measures::Measure;
use sim_engine::site::{CropPlan, Group, Plot, PlotCanopy, Site};
use sim_engine::species::Canopy;

/// What the warnings look at.
pub(crate) struct SiteView<'a> {
    pub model: &'a SiteModel,
    pub site: &'a Site,
    pub library: &'a Library,
    /// Entries and climates the site defines itself.
    pub own: &'a Library,
    /// The site's weather in a typical year.
    pub typical: Typical,
    /// Paths of crops in the file, by plot, name and first day.
    pub crop_paths: &'a [(String, String)],
    /// Where values stand in the file, and the file.
    pub places: Places,
    pub text: &'a str,
}

/// A crop in its plot, with its path in the file.
pub(crate) struct StandingCropPlan<'a> {
    pub plot: &'a Plot,
    pub plan: &'a CropPlan,
    pub name: &'a str,
    pub path: String,
}

/// A part of a plot: its place in the plot's list, and its path in the file.
pub(crate) struct Part<'a, T> {
    pub plot: &'a Plot,
    pub at: usize,
    pub it: &'a T,
    pub path: String,
}

/// A weed of a plot, annual or creeping: which, and seeds or roots at the start.
pub(crate) type Weed<'a> = Part<'a, (usize, f64)>;

/// What stands in the file under a name of its own.
pub(crate) trait Named {
    /// The path of a key of it.
    fn at(&self, key: &str) -> String;
}

impl Named for Plot {
    fn at(&self, key: &str) -> String {
        format!("plot.{}.{key}", self.name)
    }
}

impl Named for Group {
    fn at(&self, key: &str) -> String {
        format!("birds.{}.{key}", self.name)
    }
}

impl Named for StrategySpec {
    fn at(&self, key: &str) -> String {
        format!("strategy.{}.{key}", self.name)
    }
}

/// The path of a key of a strategy's kind.
pub(super) fn setting(strategy: &StrategySpec, key: &str) -> String {
    strategy.at(&format!("{}.{key}", strategy.kind.word()))
}

impl<'a> SiteView<'a> {
    /// The entry of this name: the site's own first.
    pub fn entry(&self, kind: EntryKind, name: &str) -> Option<&'a Entry> {
        self.own.get(kind, name).or_else(|| self.library.get(kind, name))
    }

    /// Whether a quantity of the file is written in feet, yards, acres or the like.
    pub fn in_us_units(&self, path: &str) -> bool {
        let written = self.text.get(self.places.find(path)).unwrap_or_default();
        ["ft", "feet", "foot", "yd", "yard", "ac"].iter().any(|unit| written.contains(unit))
    }

    /// First day after the run.
    pub fn end(&self) -> Date {
        date_of(self.site.start, self.site.days)
    }

    /// Most birds there may be.
    pub fn birds(&self) -> f64 {
        self.site.groups.iter().map(|group| group.number).sum()
    }

    /// All plots together, m2.
    pub fn plots_m2(&self) -> f64 {
        self.site.plots.iter().map(|plot| plot.area_m2).sum()
    }

    /// Every crop of every plot.
    pub fn crops(&self) -> Vec<StandingCropPlan<'a>> {
        self.site.plots.iter().flat_map(|plot| self.crops_of(plot)).collect()
    }

    /// The canopies of a plot.
    pub fn canopies_of<'p>(&self, plot: &'p Plot) -> impl Iterator<Item = (&'p PlotCanopy, &'a Canopy)> + use<'p, 'a>
    where
        'a: 'p,
    {
        let site = self.site;
        plot.canopies.iter().filter_map(move |here| Some((here, site.canopies.get(here.canopy)?)))
    }

    /// The crops of a plot.
    pub fn crops_of<'p>(&self, plot: &'p Plot) -> Vec<StandingCropPlan<'p>>
    where
        'a: 'p,
    {
        let standing = |plan: &'p CropPlan| {
            let name = self.site.crops.get(plan.crop).map_or("", |crop| crop.name.as_str());
            let known = format!("{}.{name}.{}", plot.name, shown(plan.from));
            let path = self.crop_paths.iter().find(|(key, _)| *key == known).map(|(_, path)| path.clone());
            StandingCropPlan { plot, plan, name, path: path.unwrap_or_else(|| plot.at("crop")) }
        };
        plot.grounds.iter().flat_map(|ground| &ground.crops).map(standing).collect()
    }

    /// The parts of every plot that stand in a list under a key.
    pub fn parts<T>(&self, key: &str, of: fn(&Plot) -> &[T]) -> Vec<Part<'a, T>> {
        let parts = |plot: &'a Plot| {
            let listed = of(plot).iter().enumerate();
            listed.map(move |(at, it)| Part { plot, at, it, path: plot.at(&format!("{key}.{at}")) })
        };
        self.site.plots.iter().flat_map(parts).collect()
    }

    /// The bound of a limit, if the site has it.
    pub fn limit(&self, measure: Measure) -> Option<f64> {
        self.model.limits.all.iter().find(|limit| limit.measure == measure).map(|limit| limit.bound)
    }

    /// Name of the library's or site's climate in use, and the latitude it is made for.
    pub fn climate(&self) -> Option<(&str, f64)> {
        let WeatherSource::Climate { name, .. } = &self.model.weather else { return None };
        let climate = self.own.climate(name).or_else(|| self.library.climate(name))?;
        Some((name, climate.latitude_deg))
    }

    /// Whether a climate is one of these, or near one of them.
    pub fn is_or_near(&self, climate: &str, climates: &[String]) -> bool {
        let near = self.library.climate(climate).and_then(|of| of.near.as_deref());
        climates.iter().any(|name| name == climate || Some(name.as_str()) == near)
    }

    /// Share of the plot under beds.
    pub fn beds(plot: &Plot) -> f64 {
        plot.grounds.iter().filter(|ground| ground.bed).map(|ground| ground.share).sum()
    }
}

impl StandingCropPlan<'_> {
    /// Whether the crop is in the ground on any of these days.
    pub fn stands(&self, from: Date, to: Date) -> bool {
        let times = spans((self.plan.from, self.plan.to), from, to);
        times.iter().any(|(first, last)| *first <= to && *last >= from)
    }
}
