//! Where, which weather, from when, and the yard.

use super::answers::{Answers, YEAR};
use super::prompt::Prompt;
use super::size::{is_of_feet, size_in};
use super::wrong::{Wrong, date, parts};
use scenarios::Library;
use scenarios::nearest::did_you_mean;
use scenarios::quantity::{kinds, number_meant, parse};

pub fn where_prompt() -> Prompt {
    Prompt {
        number: 1,
        ask: "Where is it, and how high?".to_owned(),
        example: "37.5 S, 600 m".to_owned(),
        taken: None,
        more: "The latitude with N or S behind it, one degree is near enough (any map tells it), and the height above \
               the sea; the height may be left out. For example: 52 N, 40 m. Or: 42 N, 750 ft.",
        list: Vec::new(),
    }
}

pub fn take_where(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    let parts = parts(text);
    let (latitude, height) = match parts.as_slice() {
        [latitude] => (*latitude, None),
        [latitude, height] => (*latitude, Some(*height)),
        _ => return Err(Wrong::new(format!("{text:?} has too many parts"), "Write two: 37.5 S, 600 m.")),
    };
    answers.latitude_deg = parse(latitude, &kinds::LATITUDE_DEG)?;
    answers.latitude = latitude.to_owned();
    answers.elevation = height.map(str::to_owned);
    answers.hear_feet(height.is_some_and(is_of_feet));
    Ok(())
}

/// The climates, the nearest by latitude first.
fn climates<'l>(answers: &Answers, library: &'l Library) -> Vec<(&'l str, &'l str)> {
    let mut all: Vec<_> = library.climates().collect();
    let away = |latitude: f64| (latitude.abs() - answers.latitude_deg.abs()).abs();
    all.sort_by(|(_, one), (_, other)| away(one.latitude_deg).total_cmp(&away(other.latitude_deg)));
    let first = |about: &'l str| about.split(':').next().unwrap_or(about);
    all.into_iter().map(|(name, climate)| (name, first(&climate.about))).collect()
}

pub fn weather_prompt(answers: &Answers, library: &Library) -> Prompt {
    Prompt {
        number: 2,
        ask: "Which weather is most like yours?".to_owned(),
        example: "its number or its name".to_owned(),
        taken: None,
        more: "Those of a like latitude come first; take the one whose winters, summers and rain are most like yours. South of the equator the year is turned round by itself. \
               With days of a weather station near you, write station = \"days.csv\" in the file afterwards.",
        list: climates(answers, library).iter().map(|(name, about)| format!("{name}: {about}")).collect(),
    }
}

pub fn take_weather(answers: &mut Answers, library: &Library, text: &str) -> Result<(), Wrong> {
    let climates = climates(answers, library);
    let names = || climates.iter().map(|(name, _)| *name);
    answers.climate = chosen(text, names(), "climate")?.to_owned();
    Ok(())
}

/// The one of a numbered list, by number or name.
pub fn chosen<'n>(text: &str, names: impl Iterator<Item = &'n str>, what: &str) -> Result<&'n str, Wrong> {
    let names: Vec<&str> = names.collect();
    let by_number = text.trim_end_matches('.').parse::<usize>().ok().and_then(|number| number.checked_sub(1));
    let plain = |name: &str| name.to_lowercase().replace('-', " ");
    let by_name = || names.iter().find(|name| plain(name) == plain(text)).copied();
    by_number.and_then(|at| names.get(at).copied()).or_else(by_name).ok_or_else(|| {
        let remedy = format!("{} Or write a number from 1 to {}.", did_you_mean(text, names.clone()), names.len());
        Wrong::new(format!("there is no {what} {text:?}"), remedy)
    })
}

pub fn start_prompt(answers: &Answers) -> Prompt {
    // Late winter of either half of the earth, as in the starters.
    let day = if answers.is_south() { "08-20" } else { "03-01" };
    Prompt {
        number: 3,
        ask: "On which day do you want to begin?".to_owned(),
        example: "late winter, before the first crop".to_owned(),
        taken: Some(format!("{YEAR}-{day}")),
        more: "The program runs three years from that day. Late winter is best: the beds are still empty. Write year, \
               month and day, 2027-08-20, or 20 August 2027.",
        list: Vec::new(),
    }
}

pub fn take_start(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    let day = date(text)?;
    answers.start = if day.len() == "08-20".len() { format!("{YEAR}-{day}") } else { day };
    answers.heard.push(format!("Begins on {}.", answers.start));
    Ok(())
}

pub fn yard_prompt(answers: &Answers) -> Prompt {
    let size = if answers.us_units { "300 sq ft" } else { "30 m2" };
    let taken = format!("{size}, wood chip, cleaned out every 8 weeks");
    Prompt {
        number: 4,
        ask: "How big is the yard where the birds wait while every gate is shut, and what lies on it?".to_owned(),
        example: "5 x 6 m, straw, cleaned out every 4 weeks".to_owned(),
        taken: Some(taken),
        more: "An area (30 m2, 300 sq ft) or two sides (5 x 6 m), and what covers it: wood chip, gravel, sand or straw \
               drain; earth or grass turn to mud; or concrete. Without a word it is earth, never cleaned out. If the \
               birds' house moves with them from plot to plot, add: house on wheels.",
        list: Vec::new(),
    }
}

pub fn take_yard(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    let (wheels, rest): (Vec<&str>, Vec<&str>) = parts(text).into_iter().partition(|part| moves(part));
    answers.house_moves = !wheels.is_empty();
    let (clean, rest): (Vec<&str>, Vec<&str>) = rest.into_iter().partition(|part| is_cleaning(part));
    let words: Vec<&str> = rest.iter().flat_map(|part| part.split_whitespace()).collect();
    let Some((at, area)) = size_in(&words) else {
        // What is no area says so itself.
        parse(rest.first().unwrap_or(&text), &kinds::AREA_M2)?;
        return Err(Wrong::new(format!("{text:?} has no size"), kinds::AREA_M2.would_do()));
    };
    let others = words[..at.start].iter().chain(&words[at.end..]).filter(|word| !["of", "with"].contains(word));
    let surface = others.copied().collect::<Vec<_>>().join(" ").to_lowercase();
    answers.hear_feet(is_of_feet(&area));
    answers.yard_area = area;
    let surface = surface.replace("chips", "chip");
    let bare = ["bare earth", "bare soil", "bare dirt", "bare ground", "bare", "dirt", "soil", "mud"];
    let surface = if bare.contains(&surface.as_str()) { "earth".to_owned() } else { surface };
    answers.yard_surface = Some(surface).filter(|surface| !surface.is_empty());
    answers.yard_cleaned = clean.first().map(|part| interval(part)).filter(|interval| !interval.is_empty());
    let surface = answers.yard_surface.as_deref().unwrap_or("bare earth");
    let cleaned =
        answers.yard_cleaned.as_ref().map_or("never cleaned out".to_owned(), |every| format!("cleaned out {every}"));
    let house = if answers.house_moves { "; the house moves with the flock" } else { "" };
    answers.heard.push(format!("Yard: {}, {surface}, {cleaned}{house}.", answers.yard_area));
    Ok(())
}

/// Words of a house that moves with the flock.
const WHEELS: [&str; 6] = ["wheel", "mobile", "movable", "moveable", "tractor", "moves"];

fn moves(part: &str) -> bool {
    WHEELS.iter().any(|word| part.to_lowercase().contains(word))
}

/// Words of a yard that is cleaned out.
const CLEANED: [&str; 7] = ["clean", "muck", "scrape", "swept", "cleared", "renewed", "emptied"];
const DAYS_A_MONTH: f64 = 30.0;

fn is_cleaning(part: &str) -> bool {
    CLEANED.iter().any(|word| part.to_lowercase().starts_with(word))
}

/// "mucked out every two months" as "every 60 days"; empty where it never is.
fn interval(part: &str) -> String {
    let words: Vec<&str> = part.split_whitespace().skip_while(|word| *word != "every").skip(1).collect();
    match words.as_slice() {
        [] => String::new(),
        [unit] => spaced(1.0, unit),
        [number, unit] => {
            number_meant(number).map_or_else(|| format!("every {number} {unit}"), |number| spaced(number, unit))
        }
        _ => format!("every {}", words.join(" ")),
    }
}

fn spaced(number: f64, unit: &str) -> String {
    if unit.starts_with("month") {
        return format!("every {} days", number * DAYS_A_MONTH);
    }
    let plural = if unit.ends_with('s') { "" } else { "s" };
    format!("every {number} {unit}{plural}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_yard_is_cleaned_in_many_words() {
        for (part, every) in [
            ("cleaned out every 8 weeks", "every 8 weeks"),
            ("mucked out every two months", "every 60 days"),
            ("cleaned out every month", "every 30 days"),
            ("scraped every week", "every 1 weeks"),
            ("cleaned out never", ""),
        ] {
            assert_eq!(interval(part), every, "{part}");
        }
        assert!(is_cleaning("mucked out every two months") && !is_cleaning("wood chip"));
    }
}
