//! The questions in their order: which there are hangs on the answers so far.

use super::answers::{Answers, Gates, PlotAnswer};
use super::prompt::Prompt;
use super::wrong::Wrong;
use super::{birds, dates, fruit, gates, grows, limits, place, plots, troubles};
use scenarios::Library;

/// One question. Numbers are places among the plots, and among what grows in one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    Where,
    Weather,
    Start,
    Yard,
    Plot(usize),
    Soil,
    Flock,
    Newcomers,
    Grows(usize),
    Crop(usize, usize),
    Fruit(usize, usize),
    Fallen,
    Troubles,
    Way,
    Home,
    Above,
    Between,
    Winter,
    Limits,
}

/// All questions after these answers.
pub fn steps(answers: &Answers) -> Vec<Step> {
    let mut steps = vec![Step::Where, Step::Weather, Step::Start, Step::Yard];
    steps.extend((0..=answers.plots.len()).map(Step::Plot));
    steps.extend([Step::Soil, Step::Flock]);
    steps.extend((!answers.newcomers_with_flock).then_some(Step::Newcomers));
    for (at, plot) in answers.plots.iter().enumerate() {
        steps.push(Step::Grows(at));
        steps.extend((0..plot.crops.len()).map(|crop| Step::Crop(at, crop)));
        steps.extend((0..plot.canopies.len()).map(|canopy| Step::Fruit(at, canopy)));
    }
    steps.extend(answers.fruit_is_picked().then_some(Step::Fallen));
    steps.extend([Step::Troubles, Step::Way]);
    if matches!(answers.gates, Gates::BetweenCrops | Gates::Own) {
        steps.push(Step::Home);
        steps.extend(answers.home_bears_fruit().then_some(Step::Above));
        steps.extend(answers.plots.iter().any(PlotAnswer::has_crops).then_some(Step::Between));
    }
    let trees = answers.plots.iter().any(|plot| !plot.canopies.is_empty());
    steps.extend((answers.gates == Gates::Own && trees).then_some(Step::Winter));
    steps.push(Step::Limits);
    steps
}

impl Step {
    /// The question.
    pub fn prompt(self, answers: &Answers, library: &Library) -> Prompt {
        match self {
            Step::Where => place::where_prompt(),
            Step::Weather => place::weather_prompt(answers, library),
            Step::Start => place::start_prompt(answers),
            Step::Yard => place::yard_prompt(answers),
            Step::Plot(at) => plots::plot_prompt(answers, at),
            Step::Soil => plots::soil_prompt(),
            Step::Flock => birds::flock_prompt(),
            Step::Newcomers => birds::newcomers_prompt(answers),
            Step::Grows(at) => grows::prompt(answers, at),
            Step::Crop(plot, at) => dates::crop_prompt(answers, plot, at),
            Step::Fruit(plot, at) => dates::fruit_prompt(answers, plot, at),
            Step::Fallen => fruit::fallen_prompt(),
            Step::Troubles => troubles::prompt(answers, library),
            Step::Way => gates::way_prompt(),
            Step::Home => gates::home_prompt(answers),
            Step::Above => fruit::above_prompt(answers),
            Step::Between => gates::between_prompt(),
            Step::Winter => gates::winter_prompt(answers),
            Step::Limits => limits::prompt(answers),
        }
    }

    /// Takes an answer.
    ///
    /// # Errors
    /// What of it is wrong; whether the file then reads is not looked at here.
    pub fn take(self, answers: &mut Answers, library: &Library, text: &str) -> Result<(), Wrong> {
        match self {
            Step::Where => place::take_where(answers, text),
            Step::Weather => place::take_weather(answers, library, text),
            Step::Start => place::take_start(answers, text),
            Step::Yard => place::take_yard(answers, text),
            Step::Plot(at) => plots::take_plot(answers, at, text),
            Step::Soil => {
                answers.soil = text.to_owned();
                Ok(())
            }
            Step::Flock => birds::take_flock(answers, library, text),
            Step::Newcomers => birds::take_newcomers(answers, library, text),
            Step::Grows(at) => grows::take(answers, library, at, text),
            Step::Crop(plot, at) => dates::take_crop(answers, plot, at, text),
            Step::Fruit(plot, at) => dates::take_fruit(answers, plot, at, text),
            Step::Fallen => fruit::take_fallen(answers, text),
            Step::Troubles => troubles::take(answers, library, text),
            Step::Way => gates::take_way(answers, text),
            Step::Home => gates::take_home(answers, text),
            Step::Above => fruit::take_above(answers, text),
            Step::Between => gates::take_between(answers, text),
            Step::Winter => gates::take_winter(answers, text),
            Step::Limits => limits::take(answers, text),
        }
    }
}
