//! When crops stand and are picked, and when fruit is.

use super::answers::{Answers, CropDates, Window};
use super::prompt::Prompt;
use super::wrong::{Wrong, is_none, window};

/// Crop without dates yet: it goes into the file as a comment.
const LATER: &str = "later";
const NOT_PICKED: &str = "not picked";

/// Dates that show the form, north and south of the equator: tomatoes and apples, common practice, no source. None
/// is taken unless the keeper types it.
const CROP_FORMS: [&str; 2] = ["05-15 to 10-05, picked 07-20 to 10-05", "11-15 to 04-05, picked 01-20 to 04-05"];
const FRUIT_FORMS: [&str; 2] = ["08-20 to 10-20", "02-20 to 04-20"];

pub fn crop_prompt(answers: &Answers, plot: usize, at: usize) -> Prompt {
    let crop = &answers.plots[plot].crops[at];
    let known = answers.plots[..plot].iter().flat_map(|plot| &plot.crops).filter(|other| other.name == crop.name);
    let known = known.filter(|other| !other.seasons.is_empty()).map(|other| all_written(&other.seasons)).next_back();
    let more = "First and last day in the ground, then first and last day you pick, as months and days or with the \
                month's name; they may run over New Year. While the crop stands, and for the waiting days before a \
                harvest, the gate stays shut. Two crops of it a year: both, with a semicolon between. No \
                bird is kept away from a crop without dates: \"later\" leaves lines in the file for you to fill in.";
    Prompt {
        number: 7,
        ask: format!("{} in {}: from when to when in the ground, and picked?", crop.name, answers.plots[plot].name),
        example: CROP_FORMS[usize::from(answers.is_south())].to_owned(),
        taken: known,
        more,
        list: Vec::new(),
    }
}

fn all_written(seasons: &[CropDates]) -> String {
    seasons.iter().map(written).collect::<Vec<_>>().join("; ")
}

fn written(dates: &CropDates) -> String {
    let span = |(from, to): &Window| format!("{from} to {to}");
    let picked = dates.picked.as_ref().map_or(String::new(), |picked| format!(", picked {}", span(picked)));
    format!("{}{picked}", span(&dates.in_ground))
}

pub fn take_crop(answers: &mut Answers, plot: usize, at: usize, text: &str) -> Result<(), Wrong> {
    let seasons = text.split(';').map(str::trim).filter(|season| !season.is_empty());
    let seasons = if text == LATER { Ok(Vec::new()) } else { seasons.map(crop_dates).collect() };
    let seasons: Vec<CropDates> = seasons?;
    let crop = &mut answers.plots[plot].crops[at];
    for season in &seasons {
        let never = if season.picked.is_none() { ", never picked" } else { "" };
        answers.heard.push(format!("{}: in the ground {}{never}.", crop.name, written(season)));
    }
    crop.seasons = seasons;
    Ok(())
}

/// Words before the days of picking.
const PICKED: [&str; 12] = [
    "picked",
    "harvested",
    "harvest",
    "picking",
    "pick",
    "dug",
    "pulled",
    "lifted",
    "cut",
    "gathered",
    "taken",
    "eaten",
];

fn crop_dates(text: &str) -> Result<CropDates, Wrong> {
    let (ground, picked) = match PICKED.iter().find_map(|word| text.split_once(word)) {
        Some((ground, picked)) => (ground, Some(window(picked)?)),
        None => (text, None),
    };
    let ground = ground.trim().trim_start_matches("in the ground").trim_end_matches(',');
    Ok(CropDates { in_ground: window(ground)?, picked })
}

pub fn fruit_prompt(answers: &Answers, plot: usize, at: usize) -> Prompt {
    let canopy = &answers.plots[plot].canopies[at];
    Prompt {
        number: 7,
        ask: format!("{} in {}: first and last day you pick?", canopy.name, answers.plots[plot].name),
        example: FRUIT_FORMS[usize::from(answers.is_south())].to_owned(),
        taken: Some(NOT_PICKED.to_owned()),
        more: "For the waiting days before the harvest the gate stays shut. If no fruit is eaten, or the plants are \
               too young, just press Enter.",
        list: Vec::new(),
    }
}

pub fn take_fruit(answers: &mut Answers, plot: usize, at: usize, text: &str) -> Result<(), Wrong> {
    let nothing = text == NOT_PICKED || is_none(text);
    let picked = if nothing { None } else { Some(window(text)?) };
    let canopy = &mut answers.plots[plot].canopies[at];
    let said = picked.as_ref().map_or("not picked".to_owned(), |(from, to)| format!("picked {from} to {to}"));
    answers.heard.push(format!("{}: {said}.", canopy.name));
    canopy.picked = picked;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_of_a_crop_in_one_line() {
        let dates = crop_dates("1 Oct to 10 Feb, picked 10 Dec to 10 Feb").unwrap();
        assert_eq!(written(&dates), "10-01 to 02-10, picked 12-10 to 02-10");
        assert_eq!(written(&crop_dates("04-01 to 07-20").unwrap()), "04-01 to 07-20");
        assert_eq!(
            written(&crop_dates("1 May to 1 Oct, dug 1 Sep to 1 Oct").unwrap()),
            "05-01 to 10-01, picked 09-01 to 10-01"
        );
        assert_eq!(written(&crop_dates("all year, picked all year").unwrap()), "01-01 to 12-31, picked 01-01 to 12-31");
        // A word that is not known must not cost the harvest.
        assert!(crop_dates("1 May to 1 Oct, reaped 1 Sep to 1 Oct").is_err());
        assert!(crop_dates("spring to autumn").is_err());
    }
}
