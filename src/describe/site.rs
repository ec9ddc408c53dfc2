//! Place, run, weather, yard, house, birds and rules.

use super::plot_dates::{spoken, spoken_date};
use super::words::{kept_apart, surface};
use crate::text::{TextPage, counted};
use analysis::units::{Units, short};
use analysis::wording::{list, longest_of_countries};
use scenarios::SiteModel;
use scenarios::library::WaitingRule;
use scenarios::weather_source::WeatherSource;
use scenarios::yearly_load::{self, FIELD_YARDSTICK_KG_HA, HOLDING_YARDSTICK_KG_HA};
use sim_engine::site::Group;

/// Tells them.
pub(super) fn tell(page: &mut TextPage, model: &SiteModel, units: Units) {
    let site = &model.base;
    page.heading(&model.name);
    let side = if site.place.latitude_deg < 0.0 { "south" } else { "north" };
    page.point(&format!(
        "{} degrees {side}, {} above the sea.",
        short(site.place.latitude_deg.abs()),
        units.length(site.place.elevation_m)
    ));
    page.point(&format!(
        "The run starts on {} and lasts {} ({} days), tried on {}.",
        spoken_date(site.start),
        counted(model.years as usize, "year", "years"),
        site.days,
        counted(model.draws as usize, "possible year", "possible years"),
    ));
    page.point(&weather(&model.weather));
    if site.place.above_weather_m != 0.0 {
        let side = if site.place.above_weather_m > 0.0 { "higher" } else { "lower" };
        page.point(&format!(
            "The site lies {} {side} than its weather was measured: temperatures change by {} C a km.",
            units.length(site.place.above_weather_m.abs()),
            short(site.process.lapse_rate)
        ));
    }
    page.point(&yard(model, units));
    let to =
        if site.house.mobile { "all lies on the plot where it stands with the flock" } else { "all goes to the heap" };
    page.point(&format!(
        "House: {} % of the droppings fall there at night; what birds drop there by day comes to it, and {to}.",
        short(100.0 * site.house.night_share)
    ));
    for group in &site.groups {
        page.point(&birds(model, group));
    }
    page.point(&rules(model));
    page.point(&nitrogen(model, units));
}

/// Nitrogen of a likely year beside the law's yardsticks.
fn nitrogen(model: &SiteModel, units: Units) -> String {
    let site = &model.base;
    let kg_ha = |load: f64| units.plain(load.round(), "kg/ha");
    let pieces = yearly_load::of_pieces(site);
    let most = pieces.iter().max_by(|a, b| a.all().total_cmp(&b.all()));
    let most = most.map_or(String::new(), |piece| {
        format!(
            " Most goes on {}{}, about {} in 12 months with heap and compost; the yardstick for manure spread on any hectare in 12 months is {}.",
            if piece.beds { "the beds of " } else { "" },
            site.plots[piece.plot].name,
            kg_ha(piece.all()),
            kg_ha(FIELD_YARDSTICK_KG_HA)
        )
    });
    format!(
        "Nitrogen: the birds drop about {} a year, {} over plots and yard; the yardstick for a whole holding in a calendar year, droppings counted, is {}.{most} They are the law's for farms, not for every keeper.",
        units.plain(yearly_load::dropped_kg(site), "kg"),
        kg_ha(yearly_load::of_holding(site)),
        kg_ha(HOLDING_YARDSTICK_KG_HA),
    )
}

fn weather(source: &WeatherSource) -> String {
    match source {
        WeatherSource::Climate { name, .. } => format!("Weather: new years of the climate \"{name}\"."),
        WeatherSource::Fitted { file, fitted, days, filled } => format!(
            "Weather: new years in the manner of {file} ({} days{}).{}",
            days.len(),
            gaps(*filled),
            fitted.notes.iter().map(|note| format!(" {note}")).collect::<String>()
        ),
        WeatherSource::Years { file, years, filled } => format!(
            "Weather: the {} of {file} as they were{}, so only {}.",
            counted(years.count(), "whole year", "whole years"),
            gaps(*filled),
            counted(years.count(), "possible year", "possible years")
        ),
    }
}

fn gaps(filled: usize) -> String {
    if filled == 0 { String::new() } else { format!(", {filled} of them filled in") }
}

fn yard(model: &SiteModel, units: Units) -> String {
    let yard = &model.base.yard;
    let mut words = vec![format!("Yard: {} {}", units.area(yard.area_m2), surface(yard.drained))];
    words.push(match yard.cleaned_every_days {
        Some(days) => format!("cleaned out every {days} days"),
        None => "never cleaned out".to_owned(),
    });
    words.push(if yard.covered { "roofed".to_owned() } else { "not roofed".to_owned() });
    if yard.netted {
        words.push("netted".to_owned());
    }
    if yard.shade > 0.0 {
        words.push(format!("{} % in shade", short(100.0 * yard.shade)));
    }
    format!("{}.", words.join(", "))
}

fn birds(model: &SiteModel, group: &Group) -> String {
    let site = &model.base;
    let class = site.birds.get(group.class).map_or("birds", |class| class.name.as_str());
    let mut words = format!("Birds, {}: {} of class {class}", group.name, short(group.number));
    match group.arrive {
        Some(date) => words.push_str(&format!(", arriving on {}", spoken_date(date))),
        None => words.push_str(", there from the start"),
    }
    words.push_str(&kept_apart(model, group));
    if let Some(other) = group.joins.and_then(|other| site.groups.get(other)) {
        words.push_str(&format!(", then with {} and counted as those", other.name));
    }
    if let Some(date) = group.leave {
        words.push_str(&format!(", leaving on {}", spoken_date(date)));
    }
    words + "."
}

/// The hard rules: they shut a gate whatever the strategy wants.
fn rules(model: &SiteModel) -> String {
    let rules = &model.base.rules;
    let grounds = [("mud", rules.shut_on_mud), ("frozen ground", rules.shut_on_frozen), ("snow", rules.shut_on_snow)];
    let ground: Vec<&str> = grounds.iter().filter(|(_, shut)| *shut).map(|(name, _)| *name).collect();
    let longest = longest_of_countries(model);
    let of = |rule: &WaitingRule| {
        format!(" Waiting periods by {}{longest}: {} ({}; {}).", rule.country, rule.rule, rule.clause, rule.status)
    };
    let country: String = model.rules_that_count().into_iter().map(of).collect();
    let reason = model.waiting_rule_reason.as_ref().map_or_else(String::new, |reason| {
        format!(" The waiting periods are shorter than the rule; the reason given: \"{reason}\".")
    });
    format!(
        "A gate stays shut, whatever a strategy wants: under a housing order; on a crop without guards; in the waiting period before a harvest ({} days where the edible part touches the soil, else {}); where birds are in isolation; on {}.{country}{reason}",
        rules.waiting_days_touching,
        rules.waiting_days_other,
        if ground.is_empty() { "no kind of ground".to_owned() } else { list(&ground) },
    )
}

/// "from A to B", for care and guards.
pub(super) fn between(from: sim_engine::site::When, to: sim_engine::site::When) -> String {
    format!("from {} to {}", spoken(from), spoken(to))
}
