//! What can be read and is yet doubtful: "unusual, because". A theme is a file; each
//! warning in it is one function, registered below, with the threshold it goes by.

mod aims;
mod care;
mod crops;
pub(crate) mod crowding;
mod events;
mod flock;
mod fruit;
mod ground;
mod guards;
mod harm;
mod isolation;
mod limits;
mod load;
mod outside;
mod pests;
mod place;
mod places;
mod room;
mod run;
mod site_view;
mod size;
mod slugs;
mod stays;
mod strategies;
mod typical;
mod waiting;
mod warning;
mod weeds;
mod windows;
mod yard;

use crate::diagnose::FaultPage;
pub(crate) use places::Places;
use sim_engine::gates::spec::StrategySpec;
use sim_engine::site::{Care, Group, Plot, PlotPest, SiteEvent};
use sim_engine::species::Pest;
pub(crate) use site_view::SiteView;
use site_view::{Part, StandingCropPlan, Weed};
pub(crate) use typical::{Typical, dates};
use warning::{Threshold, Warning, tidy, warning};

/// Where a warning looks: at the site as a whole, or at each of its parts in the order of the file.
enum Look {
    Site(fn(&SiteView<'_>) -> Option<Warning>),
    Several(fn(&SiteView<'_>) -> Vec<Warning>),
    OfPlot(fn(&SiteView<'_>, &Plot) -> Option<Warning>),
    OfCrop(fn(&SiteView<'_>, &StandingCropPlan<'_>) -> Option<Warning>),
    OfPest(fn(&SiteView<'_>, &Part<'_, PlotPest>, &Pest) -> Option<Warning>),
    OfWeed(fn(&Weed<'_>, &str) -> Option<Warning>),
    OfCare(fn(&Part<'_, Care>) -> Option<Warning>),
    OfGroup(fn(&SiteView<'_>, &Group) -> Option<Warning>),
    OfEvent(fn(&SiteView<'_>, usize, &SiteEvent) -> Option<Warning>),
    OfStrategy(fn(&SiteView<'_>, &StrategySpec) -> Option<Warning>),
}

impl Look {
    fn warnings(&self, view: &SiteView<'_>) -> Vec<Warning> {
        let site = view.site;
        match self {
            Look::Site(of) => of(view).into_iter().collect(),
            Look::Several(of) => of(view),
            Look::OfPlot(of) => site.plots.iter().filter_map(|plot| of(view, plot)).collect(),
            Look::OfCrop(of) => view.crops().iter().filter_map(|crop| of(view, crop)).collect(),
            Look::OfPest(of) => {
                let pests = view.parts("pest", |plot| &plot.pests);
                pests.iter().filter_map(|pest| of(view, pest, site.pests.get(pest.it.pest)?)).collect()
            }
            Look::OfWeed(of) => {
                let weeds = view.parts("weeds", |plot| &plot.weeds);
                weeds.iter().filter_map(|weed| of(weed, &site.weeds.get(weed.it.0)?.name)).collect()
            }
            Look::OfCare(of) => view.parts("care", |plot| &plot.care).iter().filter_map(of).collect(),
            Look::OfGroup(of) => site.groups.iter().filter_map(|group| of(view, group)).collect(),
            Look::OfEvent(of) => site.events.iter().enumerate().filter_map(|(at, event)| of(view, at, event)).collect(),
            Look::OfStrategy(of) => view.model.strategies.iter().filter_map(|one| of(view, one)).collect(),
        }
    }
}

const WARNINGS: &[Look] = &[
    Look::Site(place::hemisphere),
    Look::Site(place::station_turned),
    Look::Site(place::offset),
    Look::Site(place::high),
    Look::Site(place::tropics),
    Look::Site(place::climate),
    Look::Site(run::few_draws),
    Look::Site(run::long_past),
    Look::Site(run::one_year),
    Look::Site(run::mid_crop),
    Look::Site(run::after_emergence),
    Look::OfPlot(size::square_feet),
    Look::OfPlot(size::slip),
    Look::OfPlot(size::tiny),
    Look::OfPlot(size::far),
    Look::OfPlot(size::sliver),
    Look::Site(room::tight),
    Look::Site(room::limit),
    Look::OfPlot(ground::drainage),
    Look::OfPlot(ground::shade),
    Look::OfPlot(ground::drip),
    Look::Site(yard::larger),
    Look::Site(yard::tiny),
    Look::Site(yard::roof),
    Look::Site(yard::never_cleaned),
    Look::Site(yard::night_share),
    Look::Site(flock::lone),
    Look::OfGroup(flock::outside),
    Look::OfGroup(flock::pullets),
    Look::OfGroup(flock::table_birds),
    Look::Site(flock::mostly_away),
    Look::OfGroup(flock::infection),
    Look::OfGroup(isolation::none),
    Look::OfGroup(isolation::short),
    Look::Several(isolation::among_crops),
    Look::OfCrop(crops::too_short),
    Look::OfCrop(crops::too_long),
    Look::OfCrop(crops::frost),
    Look::OfCrop(crops::at_once),
    Look::OfCrop(crops::no_harvest),
    Look::OfCrop(crops::touches_soil),
    Look::Several(fruit::season),
    Look::Several(fruit::windfalls),
    Look::OfPlot(guards::small),
    Look::OfCrop(guards::late),
    Look::OfPlot(waiting::always_shut),
    Look::Several(waiting::dates),
    Look::OfEvent(waiting::by_hand),
    Look::Several(waiting::none),
    Look::OfEvent(waiting::heap),
    Look::OfPest(pests::many),
    Look::OfPest(pests::hostless),
    Look::OfPest(pests::other_fruit),
    Look::OfPest(pests::elsewhere),
    Look::OfPest(pests::never),
    Look::OfPest(pests::nothing),
    Look::OfPest(pests::twice),
    Look::OfWeed(weeds::many),
    Look::OfWeed(weeds::few),
    Look::OfWeed(weeds::twice),
    Look::Several(weeds::creeping_twice),
    Look::Several(weeds::reserve),
    Look::Several(slugs::all),
    Look::Several(harm::plants),
    Look::OfCrop(harm::residue),
    Look::Several(care::twice),
    Look::OfCare(care::mow),
    Look::OfCare(care::often),
    Look::OfCare(care::effort),
    Look::OfCare(care::mulch),
    Look::OfCare(care::nitrogen),
    Look::Several(load::ground),
    Look::OfStrategy(stays::one_plot),
    Look::OfStrategy(stays::named_twice),
    Look::OfStrategy(stays::long),
    Look::OfStrategy(stays::turn),
    Look::OfStrategy(stays::rest),
    Look::OfStrategy(stays::shut),
    Look::OfStrategy(strategies::hours),
    Look::OfStrategy(strategies::birds),
    Look::OfStrategy(strategies::narrow),
    Look::OfStrategy(strategies::under_limit),
    Look::OfStrategy(strategies::heat),
    Look::OfStrategy(strategies::no_shade),
    Look::OfStrategy(windows::counted),
    Look::OfStrategy(windows::never),
    Look::OfStrategy(outside::pests),
    Look::OfStrategy(outside::dates),
    Look::OfEvent(outside::events),
    Look::OfEvent(events::order_end),
    Look::OfEvent(events::twice),
    Look::OfPlot(limits::cover_start),
    Look::Site(limits::cover_high),
    Look::Site(limits::required_reliability),
    Look::Several(aims::sign),
    Look::Site(aims::size),
    Look::Site(aims::none),
];

/// Notes every warning at the place of the value it is about, and birds kept apart where a harvest keeps birds out as an
/// error.
pub(crate) fn look(view: &SiteView<'_>, page: FaultPage<'_>) {
    for refused in isolation::before_a_harvest(view) {
        page.error(view.places.find(&refused.about), refused.message, refused.remedy);
    }
    for warning in WARNINGS.iter().flat_map(|look| look.warnings(view)) {
        page.unusual(view.places.find(&warning.about), warning.message, warning.remedy);
    }
}
