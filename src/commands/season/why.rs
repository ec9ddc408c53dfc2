//! `--why PLOT@DATE`: why a gate stood as it did, and what the other way would have done.

use crate::problem::CommandError;
use analysis::json::{WhyFigures, why_figures};
use analysis::season::Why;
use analysis::table::why_text;
use analysis::units::Units;
use jiff::civil::Date;
use scenarios::SiteModel;
use scenarios::nearest::did_you_mean;
use sim_engine::dates::{date_of, day_of};

const OPTION: &str = "--why";
const FORM: &str = "Write a plot, @ and a day of the run, for example --why kitchen-beds@2027-10-01.";

/// Plot and day of the run.
///
/// # Errors
/// It is not PLOT@DATE, there is no such plot, or the day is not in the run.
pub(super) fn parse(text: &str, model: &SiteModel) -> Result<(usize, usize), CommandError> {
    let Some((plot, date)) = text.rsplit_once('@') else {
        return Err(CommandError::argument(OPTION, format!("\"{text}\" has no @"), FORM));
    };
    let plots = || model.base.plots.iter().map(|plot| plot.name.as_str());
    let at = plots().position(|name| name == plot);
    let at = at.ok_or_else(|| {
        CommandError::argument(OPTION, format!("there is no plot \"{plot}\""), did_you_mean(plot, plots()))
    })?;
    let date: Date = date
        .parse()
        .map_err(|_| CommandError::argument(OPTION, format!("\"{date}\" is not a date that exists"), FORM))?;
    let (start, days) = (model.base.start, model.base.days);
    let Some(day) = day_of(start, days, date) else {
        let last = date_of(start, days.saturating_sub(1));
        let remedy = format!("Take a day from {start} to {last}.");
        return Err(CommandError::argument(OPTION, format!("{date} is not a day of the run"), remedy));
    };
    Ok((at, day))
}

/// The answer in words.
pub(super) fn words(model: &SiteModel, plot: usize, day: usize, why: &Why, units: Units) -> String {
    why_text(&model.base.plots[plot].name, date(model, day), why, units)
}

fn date(model: &SiteModel, day: usize) -> Date {
    date_of(model.base.start, day)
}

/// The answer for the document.
pub(super) fn figures(model: &SiteModel, plot: usize, day: usize, why: &Why) -> WhyFigures {
    why_figures(&model.base.plots[plot].name, date(model, day), why)
}
