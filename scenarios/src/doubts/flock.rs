//! Birds: how many, of which class, from when to when.

use super::{Doubt, SiteView, Threshold, tidy};
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::site::Group;

/// Fewest birds that are a flock.
const FLOCK: Threshold = Threshold::new(3.0, "birds", "common practice, no source");

/// No birds, or too few to be a flock.
pub(super) fn lone(sight: &SiteView<'_>) -> Vec<Doubt> {
    let birds = sight.birds();
    if birds >= FLOCK.value {
        return Vec::new();
    }
    let about = sight.site.groups.first().map_or("birds".to_owned(), |group| format!("birds.{}.number", group.name));
    if birds == 0.0 {
        let remedy = "Add them, for example: [birds.flock] class = \"layer\", number = 8.";
        return vec![Doubt::new(about, "there are no birds", "every strategy then comes out the same", remedy)];
    }
    let what = format!("{} birds in all", tidy(birds));
    vec![Doubt::new(
        about,
        &what,
        &format!("hens live in company, and fewer than {FLOCK} is none"),
        "Correct the number.",
    )]
}

fn days_of(group: &Group, sight: &SiteView<'_>) -> (Date, Date) {
    let end = sight.end();
    let from = group.arrive.unwrap_or(sight.site.start).max(sight.site.start);
    (from, group.leave.unwrap_or(end).min(end))
}

/// Birds that are never there within the run, or came before it.
pub(super) fn outside(sight: &SiteView<'_>) -> Vec<Doubt> {
    let (start, end) = (sight.site.start, sight.end());
    let mut doubts = Vec::new();
    for group in &sight.site.groups {
        let name = &group.name;
        if let Some(arrive) = group.arrive.filter(|day| *day >= end) {
            let what = format!("{name} arrive on {arrive}");
            let remedy = format!("Did you mean {}-{:02}-{:02}?", start.year(), arrive.month(), arrive.day());
            doubts.push(Doubt::new(format!("birds.{name}.arrive"), &what, &format!("the run ends on {end}"), remedy));
        } else if let Some(leave) = group.leave.filter(|day| *day <= start) {
            let what = format!("{name} leave on {leave}");
            let because = format!("the run only begins on {start}");
            doubts.push(Doubt::new(
                format!("birds.{name}.leave"),
                &what,
                &because,
                "Correct the date, or take the group out.",
            ));
        } else if let Some(arrive) = group.arrive.filter(|day| *day < start) {
            let what = format!("{name} arrive on {arrive}");
            let because = format!("the run only begins on {start}");
            let remedy = "Leave arrive away for birds that are there from the start.";
            doubts.push(Doubt::new(format!("birds.{name}.arrive"), &what, &because, remedy));
        }
    }
    doubts
}

/// Days after which a pullet is a laying hen.
const GROWN: Threshold = Threshold::new(120.0, "days", "from memory: pullets of 10 to 18 weeks lay at about 20");

/// Pullets that never come into lay.
pub(super) fn pullets(sight: &SiteView<'_>) -> Vec<Doubt> {
    stay_too_long(sight, "pullet", GROWN, "they would be layers by then and eat and drop as such", |name, until| {
        format!(
            "Add then_join = \"…\" with the name of a group of layers, leave = {until} to [birds.{name}], or write class = \"layer\"."
        )
    })
}

/// Days after which a table bird is ready.
const TABLE: Threshold = Threshold::new(130.0, "days", "from memory: slow-growing birds are killed at 10 to 16 weeks");

/// Table birds that stay for years.
pub(super) fn table_birds(sight: &SiteView<'_>) -> Vec<Doubt> {
    stay_too_long(sight, "broiler", TABLE, "table birds are gone by then", |name, until| {
        format!("Give [birds.{name}] leave = {until}.")
    })
}

fn stay_too_long(
    sight: &SiteView<'_>,
    class: &str,
    line: Threshold,
    why: &str,
    remedy: impl Fn(&str, Date) -> String,
) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for group in &sight.site.groups {
        let is = sight.site.birds.get(group.class).is_some_and(|of| of.name == class);
        let joins = group.joins.and_then(|other| sight.site.groups.get(other));
        let (from, to) = days_of(group, sight);
        let days = from.until(to).map_or(0, |span| span.get_days());
        if is && f64::from(days) > line.value && joins.is_none_or(|other| other.class == group.class) {
            let until = from.saturating_add((line.value as i64).days());
            let what = format!("{} are of class \"{class}\" for {days} days", group.name);
            let because = format!("{why}: after about {line}");
            doubts.push(Doubt::new(format!("birds.{}.class", group.name), &what, &because, remedy(&group.name, until)));
        }
    }
    doubts
}

/// Share of the run without any bird from which the run is doubted.
const AWAY: Threshold = Threshold::new(0.5, "of the run", "from memory");

/// A run most of which has no birds.
pub(super) fn mostly_away(sight: &SiteView<'_>) -> Vec<Doubt> {
    let (start, end) = (sight.site.start, sight.end());
    let days: Vec<(Date, Date)> = sight.site.groups.iter().map(|group| days_of(group, sight)).collect();
    let all = std::iter::successors(Some(start), |day| day.tomorrow().ok()).take_while(|day| *day < end);
    let without = all.filter(|day| !days.iter().any(|(from, to)| day >= from && day < to)).count();
    let Some(first) = sight.site.groups.first().filter(|_| sight.birds() > 0.0) else { return Vec::new() };
    // A group wholly outside the run is another doubt.
    let never = days.iter().all(|(from, to)| from >= to);
    if never || (without as f64) <= AWAY.value * sight.site.days as f64 {
        return Vec::new();
    }
    let what = format!("there are no birds on {without} of {} days", sight.site.days);
    let remedy = "Correct the dates, or make the run as long as the birds stay.";
    vec![Doubt::new(format!("birds.{}.leave", first.name), &what, &format!("that is more than {AWAY}"), remedy)]
}

/// Worm infection against an ordinary flock from which it is doubted.
const WORMY: Threshold = Threshold::new(10.0, "times an ordinary flock", "from memory");

/// A flock full of worms.
pub(super) fn infection(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |group: &Group| {
        let what = format!("infection = {}", tidy(group.infection));
        let because = format!("1 is an ordinary flock, and this is over {WORMY}");
        Doubt::new(
            format!("birds.{}.infection", group.name),
            &what,
            &because,
            "Did you mean infection = 1? Have droppings looked at by a vet.",
        )
    };
    sight.site.groups.iter().filter(|group| group.infection > WORMY.value).map(doubt).collect()
}
