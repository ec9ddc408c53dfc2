//! How the gates are opened today, and the few things a practice of one's own needs.

use super::answers::{Answers, Gates, PlotAnswer};
use super::place::chosen;
use super::prompt::Prompt;
use super::wrong::{Wrong, days_of, is_none, parts, without_article};
use scenarios::nearest::did_you_mean;
use scenarios::quantity::{kinds, parse};

/// Where the birds are while no plot is open.
pub const YARD: &str = "yard";

/// Ways to open gates, in a keeper's words.
const WAYS: [(Gates, &str); 5] = [
    (Gates::InTurn, "the plots in turn, two weeks each"),
    (Gates::ByEye, "by the look of the ground: in where it is green, out where it looks bare"),
    (Gates::BetweenCrops, "a vegetable plot between its crops, else home"),
    (Gates::AllOpen, "all open that may be"),
    (Gates::Own, "our own: vegetables between crops, berries in winter, rest where the ground looks worn"),
];

pub fn way_prompt() -> Prompt {
    Prompt {
        number: 9,
        ask: "How do you open the gates today?".to_owned(),
        example: String::new(),
        taken: Some("2".to_owned()),
        more: "It is written as a strategy, with another to compare with. Gates that must be shut (a standing crop, the \
               waiting days before a harvest, mud) stay shut in every one. 3 and 5 ask one or two things more and are \
               written as rules that you can change.",
        list: WAYS.iter().map(|(_, words)| (*words).to_owned()).collect(),
    }
}

pub fn take_way(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    let words = chosen(text, WAYS.iter().map(|(_, words)| *words), "way")?;
    let way = WAYS.iter().find(|(_, known)| *known == words).map_or(Gates::ByEye, |(way, _)| *way);
    if way == Gates::BetweenCrops && !answers.plots.iter().any(PlotAnswer::has_crops) {
        return Err(Wrong::new(
            "no plot has crops",
            "Take another way; or type back until the plots and say what grows.",
        ));
    }
    answers.gates = way;
    Ok(())
}

pub fn home_prompt(answers: &Answers) -> Prompt {
    let likely = answers.plots.iter().find(|plot| !plot.has_crops() && !plot.has_bushes());
    let likely = likely.or_else(|| answers.plots.iter().find(|plot| !plot.has_crops()));
    Prompt {
        number: 9,
        ask: "Where are the birds on an ordinary day, when nothing else is said?".to_owned(),
        example: "a plot, or yard".to_owned(),
        taken: Some(likely.map_or(YARD, |plot| plot.name.as_str()).to_owned()),
        more: "Home: a plot of yours, or the yard. In our own way they leave it while its ground looks worn.",
        list: Vec::new(),
    }
}

pub fn take_home(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    answers.home = if text.eq_ignore_ascii_case(YARD) { YARD.to_owned() } else { plot(answers, text)? };
    Ok(())
}

fn plot(answers: &Answers, text: &str) -> Result<String, Wrong> {
    let name = without_article(text.trim()).to_lowercase().replace(' ', "-");
    let names = answers.names(|_| true);
    if names.contains(&name) {
        return Ok(name);
    }
    Err(Wrong::new(format!("there is no plot {text:?}"), did_you_mean(text, names.iter().map(String::as_str))))
}

pub fn between_prompt() -> Prompt {
    Prompt {
        number: 9,
        ask: "How long in a vegetable plot between two crops, and how many days a year at most?".to_owned(),
        example: String::new(),
        taken: Some("14 days, 42 days".to_owned()),
        more: "Two times: one stay, and all stays of a year in one plot. For example: 2 weeks, 6 weeks.",
        list: Vec::new(),
    }
}

pub fn take_between(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    let both = parts(text);
    let [stay, most] = both.as_slice() else {
        return Err(Wrong::new(format!("{text:?} is not two times"), "Write both, for example: 14 days, 42 days."));
    };
    let most = days_of(most.trim_end_matches(" a year").trim_start_matches("at most "));
    let stay = days_of(stay);
    parse(&stay, &kinds::DAYS)?;
    parse(&most, &kinds::DAYS)?;
    answers.between = (stay, format!("{most} a year"));
    Ok(())
}

pub fn winter_prompt(answers: &Answers) -> Prompt {
    let likely = answers.names(|plot| plot.has_bushes() && plot.name != answers.home).join(", ");
    Prompt {
        number: 9,
        ask: "Which plots are open all winter, from leaf fall to bud break?".to_owned(),
        example: String::new(),
        taken: Some(if likely.is_empty() { "none".to_owned() } else { likely }),
        more: "Plots with trees, bushes or canes that lose their leaves, with commas. None is fine.",
        list: Vec::new(),
    }
}

pub fn take_winter(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    let names = if is_none(text) { Vec::new() } else { parts(text) };
    answers.winter = names.into_iter().map(|name| plot(answers, name)).collect::<Result<_, _>>()?;
    Ok(())
}
