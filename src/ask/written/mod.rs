//! The answers as a site file, with comments for who opens it.

mod plots;
mod strategies;
pub mod values;

use super::answers::{Answers, GroupAnswer, Place};
use super::birds::day_written;
use analysis::format::rarely_known;
use scenarios::reader::as_name;
use values::{key, quoted};

/// Class of young birds, which come into lay with the flock.
const YOUNG: &str = "pullet";

/// Most characters of a site's name.
const LONGEST_NAME: usize = 80;

const HEAD: &str = "\
#:schema ./site.schema.json
# A site made of ten answers. What follows a # is for people; the program skips it.
#
# Change what stands after the = signs as you like, then run `hensward check` on this folder: it says
# back what it understood, what it took where you said nothing, and what looks unusual.
# Lines that begin with # and look like the others are there to be filled in: take the # away.
# `hensward format` tells every key.
format = 2
";

/// The site file.
pub fn site(answers: &Answers) -> String {
    let parts = [
        HEAD.to_owned(),
        place(answers),
        yard(answers),
        plots::plots(answers),
        birds(answers),
        strategies::strategies(answers),
        judged(answers),
        rarely_known(),
    ];
    parts.concat()
}

fn place(answers: &Answers) -> String {
    let name: String = as_name(&answers.site_name).chars().take(LONGEST_NAME).collect();
    let units = if answers.us_units {
        "units = \"us\"                      # screens and reports; or \"metric\"\n"
    } else {
        ""
    };
    let elevation = answers.elevation.as_ref();
    let elevation = elevation.map_or(String::new(), |height| format!("elevation = {}\n", quoted(height)));
    let (latitude, climate, start) = (quoted(&answers.latitude), quoted(&answers.climate), &answers.start);
    format!(
        "name = {}\n{units}\n# 1. Where it is.\nlatitude = {latitude}\n{elevation}\n# 2. The weather most like yours; or days of a station: station = \"days.csv\"\n[weather]\nclimate = {climate}\n\n# 3. When it begins.\n[run]\nstart = {start}\nyears = 3\n",
        quoted(&name)
    )
}

fn yard(answers: &Answers) -> String {
    let surface = answers.yard_surface.as_ref().map_or_else(
        || "# surface = \"wood chip\"        # not said, so earth was taken\n".to_owned(),
        |surface| format!("surface = {}\n", quoted(surface)),
    );
    let area = quoted(&answers.yard_area);
    let cleaned = answers.yard_cleaned.as_ref().map_or_else(
        || "# cleaned_out = \"every 8 weeks\"   # if what lies there goes to the heap\n".to_owned(),
        |every| format!("cleaned_out = {}\n", quoted(every)),
    );
    format!(
        "\n# 4. The yard, where the birds wait while every gate is shut.\n[yard]\narea = {area}\n{surface}{cleaned}# shade = 0.3                     # share in the shade on a summer's day\n"
    )
}

fn birds(answers: &Answers) -> String {
    let mut text = "\n# 6. The birds.\n".to_owned();
    if answers.house_moves {
        text += "[house]\nmobile = true                     # it moves with the flock\n";
    }
    let mut names: Vec<String> = Vec::new();
    for group in answers.flock.iter().chain(&answers.newcomers) {
        let name = group_name(group, &names);
        text += &one_group(group, &name, answers);
        names.push(name);
    }
    text
}

/// A name that no group has yet.
fn group_name(group: &GroupAnswer, taken: &[String]) -> String {
    let stem = match group.arrive {
        Some(_) => "newcomers".to_owned(),
        None if taken.is_empty() => "flock".to_owned(),
        None => group.class.replace(' ', "-"),
    };
    let mut names = std::iter::once(stem.clone()).chain((2..).map(|number| format!("{stem}-{number}")));
    names.find(|name| !taken.contains(name)).unwrap_or(stem)
}

fn one_group(group: &GroupAnswer, name: &str, answers: &Answers) -> String {
    let mut text = format!("[birds.{}]\nclass = {}\nnumber = {}\n", key(name), quoted(&group.class), group.number);
    if let Some(day) = &group.arrive {
        text += &format!("arrive = {}\n", day_written(day));
    }
    if let Some((place, time)) = &group.apart {
        let place = match place {
            Place::Plot(plot) => format!("plot = {}", quoted(plot)),
            Place::Coop => "indoors = true".to_owned(),
        };
        text += &format!("isolate = {{ {place}, days = {} }}\n", quoted(time));
        // The first group is the flock: those of its class join it.
        let joins = answers.flock.first().is_some_and(|flock| flock.class == group.class || group.class == YOUNG);
        text += if joins { "then_join = \"flock\"\n" } else { "" };
    }
    text
}

fn judged(answers: &Answers) -> String {
    let mut text =
        "\n# 10. What must hold; it is counted in how many of the possible years it does.\n[limits]\n".to_owned();
    for (key, usual) in [("least_cover", "0.7"), ("bare_days", "30"), ("space", quoted(answers.usual_space()).as_str())]
    {
        if answers.limits.iter().all(|(said, _)| *said != key) {
            text += &format!("# {key} = {usual}   # not said, so this is taken\n");
        }
    }
    answers.limits.iter().for_each(|(key, value)| text += &format!("{key} = {value}\n"));
    if let Some(hour) = &answers.hour {
        text += &format!("\n[prices]                           # all worth in money\nhour = {}\n", quoted(hour));
    }
    text
}
