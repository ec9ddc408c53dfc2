//! What the commands read of their arguments alike.

use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use scenarios::SiteModel;
use scenarios::nearest::did_you_mean;

/// Index of a strategy named on the command line.
///
/// # Errors
/// There is none of that name; says which is near.
pub fn strategy(model: &SiteModel, option: &str, name: &str) -> Result<usize, CommandError> {
    model.strategy(name).ok_or_else(|| {
        let remedy = did_you_mean(name, model.strategies.iter().map(|strategy| strategy.name.as_str()));
        CommandError::argument(option, format!("the site has no strategy \"{name}\""), remedy)
    })
}

/// Indices of the strategies named on the command line; all of the site where none is.
///
/// # Errors
/// There is none of a name, or one is named twice.
pub fn strategies(model: &SiteModel, names: &[String]) -> Result<Vec<usize>, CommandError> {
    let which: Vec<usize> = names.iter().map(|name| strategy(model, "--strategy", name)).collect::<Result<_, _>>()?;
    if let Some(again) = (1..which.len()).find(|&at| which[..at].contains(&which[at])) {
        let name = &model.strategies[which[again]].name;
        return Err(CommandError::argument(
            "--strategy",
            format!("\"{name}\" is named twice"),
            "Name each strategy once.",
        ));
    }
    Ok(if which.is_empty() { (0..model.strategies.len()).collect() } else { which })
}

/// Says that a site has unusual values, which only `check` shows one by one.
pub fn mention_warnings(model: &SiteModel, site: &str, common: &Common) {
    let words = match model.warnings.len() {
        0 => return,
        1 => "One thing in the site file is unusual".to_owned(),
        many => format!("{many} things in the site file are unusual"),
    };
    screen::talk(common.quiet, &format!("{words}; to see: hensward check {site}"));
}

/// Parses a share for clap.
///
/// # Errors
/// What is no share, with what would be right.
pub fn share(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(share) if (0.0..=1.0).contains(&share) => Ok(share),
        _ => Err("write a share from 0 to 1, for example 0.9".to_owned()),
    }
}
