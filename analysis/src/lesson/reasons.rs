//! One sentence why, from the diary and the books of the year that is shown.

use super::answers;
use super::play::{SharedDraw, StrategyYear};
use super::topic::Topic;
use super::words::{day_words, letter};
use crate::draw_sampler::Draw;
use crate::units::Units;
use crate::wording::{figure, list};
use scenarios::SiteModel;
use sim_engine::agenda::Event;
use sim_engine::measures::Measure;
use sim_engine::summary::PlotSummary;

/// Days looked back on before a plot's barest day (four weeks).
const LOOK_BACK_D: usize = 28;
/// Days after a pest begins to rise in which birds meet it on the ground (six weeks; common
/// practice, no source).
const RISING_D: usize = 42;

pub(super) fn of(topic: Topic, model: &SiteModel, draw: &Draw, shown: &SharedDraw, units: Units) -> String {
    match topic {
        Topic::Cover => cover(model, shown, units),
        Topic::More(Measure::WorkSaved) => work(model, shown),
        Topic::More(Measure::FeedSaved) => feed(shown, units),
        Topic::More(Measure::NitrogenWorst) => manure(model, shown, units),
        Topic::More(_) => crowding(model, shown, units),
        Topic::Pest(pest) => rising(model, draw, shown, pest),
        Topic::Barest => barest(model, shown),
        Topic::Line => format!(
            "Days below {} %, all plots counted together: A {}, B {}.",
            answers::line(model),
            figure(shown.strategies[0].ground.days_below(model.limits.cover_line), 0),
            figure(shown.strategies[1].ground.days_below(model.limits.cover_line), 0)
        ),
    }
}

/// The plot of which `of` tells the two strategies apart most; of equals the first.
fn most_apart(model: &SiteModel, of: impl Fn(usize, usize) -> f64) -> usize {
    let apart = |plot: usize| model.base.plots[plot].area_m2 * (of(0, plot) - of(1, plot)).abs();
    // Cover of a plot that is all beds is blank.
    let told = (0..model.base.plots.len()).filter(|&plot| !apart(plot).is_nan());
    told.rev().max_by(|&a, &b| apart(a).total_cmp(&apart(b))).unwrap_or(0)
}

fn name(model: &SiteModel, plot: usize) -> &str {
    &model.base.plots[plot].name
}

fn days_open(shown: &SharedDraw, strategy: usize, plot: usize) -> usize {
    let played = &shown.strategies[strategy];
    played.open_days(plot, 0..played.days())
}

fn longest_stay(played: &StrategyYear, plot: usize) -> usize {
    let (mut longest, mut now) = (0, 0);
    for day in 0..played.days() {
        now = if played.is_open(day, plot) { now + 1 } else { 0 };
        longest = longest.max(now);
    }
    longest
}

fn cover(model: &SiteModel, shown: &SharedDraw, units: Units) -> String {
    let plot = most_apart(model, |strategy, plot| shown.strategies[strategy].plots[plot].mean_cover);
    let stay = |strategy: usize| {
        let days = days_open(shown, strategy, plot);
        format!(
            "{days} days under {} (at most {} in a row)",
            letter(strategy),
            longest_stay(&shown.strategies[strategy], plot)
        )
    };
    format!(
        "They differ most on {} ({}): its gate is open {}, {}.",
        name(model, plot),
        units.area(model.base.plots[plot].area_m2),
        stay(0),
        stay(1)
    )
}

fn barest(model: &SiteModel, shown: &SharedDraw) -> String {
    let [a, b] = [0, 1].map(|strategy| shown.strategies[strategy].ground.barest());
    let (plot, day, _) = if b.2 < a.2 { b } else { a };
    let first = (day + 1).saturating_sub(LOOK_BACK_D);
    let open = |strategy: usize| shown.strategies[strategy].open_days(plot, first..day + 1);
    if open(0) + open(1) == 0 {
        return format!(
            "Its gate was shut under both strategies for {} days before: look at season, weather and earlier stays.",
            day + 1 - first
        );
    }
    format!(
        "In the {} days up to then the gate of {} was open {} days under A, {} under B.",
        day + 1 - first,
        name(model, plot),
        open(0),
        open(1)
    )
}

fn rising(model: &SiteModel, draw: &Draw, shown: &SharedDraw, pest: usize) -> String {
    let hosts: Vec<usize> =
        (0..draw.site.plots.len()).filter(|&plot| draw.site.plots[plot].pests.iter().any(|p| p.pest == pest)).collect();
    let names: Vec<&str> = hosts.iter().map(|&plot| name(model, plot)).collect();
    let begins = shown.strategies[0].diary.events.iter().find_map(|&(day, what)| match what {
        Event::EmergenceBegins { pest: which, .. } if which == pest => Some(day),
        _ => None,
    });
    let all_year = |strategy: usize| hosts.iter().map(|&plot| days_open(shown, strategy, plot)).sum::<usize>();
    let soil = format!(
        "It lives in the soil of {}, where birds are {} days in the year under A, {} under B",
        list(&names),
        all_year(0),
        all_year(1)
    );
    let Some(begins) = begins else { return soil + "." };
    let days = begins..(begins + RISING_D).min(shown.shut_in.days());
    let open = |strategy: usize| {
        hosts.iter().map(|&plot| shown.strategies[strategy].open_days(plot, days.clone())).sum::<usize>()
    };
    format!(
        "{soil}; of these, in the six weeks after it begins to leave the soil ({}): {} under A, {} under B.",
        day_words(model.base.start, begins),
        open(0),
        open(1)
    )
}

fn work(model: &SiteModel, shown: &SharedDraw) -> String {
    let an_area = |plot: usize| model.base.plots[plot].area_m2;
    let plot = most_apart(model, |strategy, plot| shown.strategies[strategy].plots[plot].work_h / an_area(plot));
    let of = |strategy: usize| {
        let hours = figure(shown.strategies[strategy].plots[plot].work_h, 1);
        format!("{hours} h and birds are there {} days", days_open(shown, strategy, plot))
    };
    format!("Most of it on {}: it takes {} under A; {} under B.", name(model, plot), of(0), of(1))
}

fn feed(shown: &SharedDraw, units: Units) -> String {
    let of = |strategy: usize| {
        let measures = &shown.strategies[strategy].measures;
        let (green, unit) = units.measure(measures.get(Measure::GreenEaten), "kg");
        let idle = figure(measures.get(Measure::YardDays), 0);
        format!("{} {unit} of green, dry, and no plot is open on {idle} days", figure(green, 0))
    };
    format!("Under A they eat {}; under B {}.", of(0), of(1))
}

fn manure(model: &SiteModel, shown: &SharedDraw, units: Units) -> String {
    let of = |strategy: usize| {
        let plot = highest(&shown.strategies[strategy], |figures| figures.nitrogen);
        let area = units.area(model.base.plots[plot].area_m2);
        format!("{} ({area}, open {} days)", name(model, plot), days_open(shown, strategy, plot))
    };
    format!("Under A it falls on {}, under B on {}.", of(0), of(1))
}

fn crowding(model: &SiteModel, shown: &SharedDraw, units: Units) -> String {
    let of = |strategy: usize| {
        let plot = highest(&shown.strategies[strategy], |figures| figures.bird_days);
        let days = figure(shown.strategies[strategy].plots[plot].bird_days * 10.0, 0);
        let (days, area) = match units {
            Units::Metric => (days, "10 m2"),
            Units::Us => {
                let (each, _) = units.measure(shown.strategies[strategy].plots[plot].bird_days, "1/m2");
                (figure(each * 100.0, 0), "100 ft2")
            }
        };
        format!("{} ({days} hen-days on {area} in the year)", name(model, plot))
    };
    format!("The most used ground is {} under A, {} under B.", of(0), of(1))
}

fn highest(played: &StrategyYear, of: fn(&PlotSummary) -> f64) -> usize {
    let plots = &played.plots;
    (0..plots.len()).rev().max_by(|&a, &b| of(&plots[a]).total_cmp(&of(&plots[b]))).unwrap_or(0)
}
