//! Birds: how many, of which class, from when to when.

use super::site_view::Named;
use super::{SiteView, Threshold, Warning, tidy, warning};
use crate::site_file::dates::shown_day;
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::dates::days_between;
use sim_engine::site::Group;

/// Fewest birds that are a flock.
const FLOCK: Threshold = Threshold::new(3.0, "birds", "common practice, no source");

/// No birds, or too few to be a flock.
pub(super) fn lone(view: &SiteView<'_>) -> Option<Warning> {
    let birds = FLOCK.under(view.birds())?;
    let about = view.site.groups.first().map_or("birds".to_owned(), |group| group.at("number"));
    if birds == 0.0 {
        let remedy = "Add them, for example: [birds.flock] class = \"layer\", number = 8.";
        return warning(about, "there are no birds", "every strategy then comes out the same", remedy);
    }
    let because = format!("hens live in company, and fewer than {FLOCK} is none");
    warning(about, format!("{} birds in all", tidy(birds)), because, "Correct the number.")
}

fn days_of(group: &Group, view: &SiteView<'_>) -> (Date, Date) {
    let end = view.end();
    let from = group.arrive.unwrap_or(view.site.start).max(view.site.start);
    (from, group.leave.unwrap_or(end).min(end))
}

/// Birds that are never there within the run, or came before it.
pub(super) fn outside(view: &SiteView<'_>, group: &Group) -> Option<Warning> {
    let (start, end, name) = (view.site.start, view.end(), &group.name);
    let begins = format!("the run only begins on {start}");
    match (group.arrive, group.leave) {
        (Some(arrive), _) if arrive >= end => {
            let remedy = format!("Did you mean {}-{}?", start.year(), shown_day(arrive));
            warning(
                group.at("arrive"),
                format!("the {name} arrive on {arrive}"),
                format!("the run ends on {end}"),
                remedy,
            )
        }
        (_, Some(leave)) if leave <= start => {
            let remedy = "Correct the date, or take the group out.";
            warning(group.at("leave"), format!("the {name} leave on {leave}"), begins, remedy)
        }
        (Some(arrive), _) if arrive < start => {
            let remedy = "Leave arrive away for birds that are there from the start.";
            warning(group.at("arrive"), format!("the {name} arrive on {arrive}"), begins, remedy)
        }
        _ => None,
    }
}

/// Days after which a pullet is a laying hen.
const GROWN: Threshold = Threshold::new(120.0, "days", "from memory: pullets of 10 to 18 weeks lay at about 20");

/// Pullets that never come into lay.
pub(super) fn pullets(view: &SiteView<'_>, group: &Group) -> Option<Warning> {
    let (days, until) = stays_as(view, group, "pullet", GROWN)?;
    let name = &group.name;
    warning(
        group.at("class"),
        format!("the {name} are of class \"pullet\" for {days} days"),
        format!("they would be layers by then and eat and drop as such: after about {GROWN}"),
        format!(
            "Add then_join = \"…\" with the name of a group of layers, leave = {until} to [birds.{name}], or write class = \"layer\"."
        ),
    )
}

/// Days after which a table bird is ready.
const TABLE: Threshold = Threshold::new(130.0, "days", "from memory: slow-growing birds are killed at 10 to 16 weeks");

/// Table birds that stay for years.
pub(super) fn table_birds(view: &SiteView<'_>, group: &Group) -> Option<Warning> {
    let (days, until) = stays_as(view, group, "broiler", TABLE)?;
    let name = &group.name;
    warning(
        group.at("class"),
        format!("the {name} are of class \"broiler\" for {days} days"),
        format!("table birds are gone by then: after about {TABLE}"),
        format!("Give [birds.{name}] leave = {until}."),
    )
}

/// Days a group is of a class, if they are too many, and the date until which it may be.
fn stays_as(view: &SiteView<'_>, group: &Group, class: &str, line: Threshold) -> Option<(f64, Date)> {
    let is = view.site.birds.get(group.class)?.name == class;
    let joins = group.joins.and_then(|other| view.site.groups.get(other));
    (is && joins.is_none_or(|other| other.class == group.class)).then_some(())?;
    let (from, to) = days_of(group, view);
    let days = line.over(f64::from(days_between(from, to)))?;
    Some((days, from.saturating_add((line.value as i64).days())))
}

/// Share of the run without any bird from which the run is doubted.
const AWAY: Threshold = Threshold::new(0.5, "of the run", "from memory");

/// A run most of which has no birds.
pub(super) fn mostly_away(view: &SiteView<'_>) -> Option<Warning> {
    let (start, end) = (view.site.start, view.end());
    let days: Vec<(Date, Date)> = view.site.groups.iter().map(|group| days_of(group, view)).collect();
    let all = std::iter::successors(Some(start), |day| day.tomorrow().ok()).take_while(|day| *day < end);
    let without = all.filter(|day| !days.iter().any(|(from, to)| day >= from && day < to)).count();
    let first = view.site.groups.first().filter(|_| view.birds() > 0.0)?;
    // A group wholly outside the run is another warning.
    let ever = days.iter().any(|(from, to)| from < to);
    (ever && without as f64 > AWAY.value * view.site.days as f64).then_some(())?;
    let what = format!("there are no birds on {without} of {} days", view.site.days);
    let remedy = "Correct the dates, or make the run as long as the birds stay.";
    warning(first.at("leave"), what, format!("that is more than {AWAY}"), remedy)
}

/// Worm infection against an ordinary flock from which it is doubted.
const WORMY: Threshold = Threshold::new(10.0, "times an ordinary flock", "from memory");

/// A flock full of worms.
pub(super) fn infection(_: &SiteView<'_>, group: &Group) -> Option<Warning> {
    let infection = WORMY.over(group.infection)?;
    warning(
        group.at("infection"),
        format!("infection = {}", tidy(infection)),
        format!("1 is an ordinary flock, and this is over {WORMY}"),
        "Did you mean infection = 1? Have droppings looked at by a vet.",
    )
}
