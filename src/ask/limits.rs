//! What must hold, and what an hour is worth.

use super::answers::Answers;
use super::prompt::Prompt;
use super::wrong::{Wrong, is_none, parts};
use scenarios::nearest::did_you_mean;

const USUAL: &str = "usual";

/// Words of an answer, and the key of `[limits]` each stands for.
const KEYS: &[(&str, &str)] = &[
    ("cover", "least_cover"),
    ("bare", "bare_days"),
    ("space", "space"),
    ("nitrogen", "nitrogen"),
    ("phosphorus", "phosphorus"),
    ("mud", "mud_days"),
];

/// The word before the price of an hour.
const HOUR: &str = "hour";

pub fn prompt(answers: &Answers) -> Prompt {
    let space = answers.usual_space();
    Prompt {
        number: 10,
        ask: format!(
            "What must always hold? Usual: 7 tenths of the ground covered, no plot bare for over 30 days, {space}."
        ),
        example: format!("cover 0.6, bare 30 days, space {space}, hour 12 EUR"),
        taken: Some(USUAL.to_owned()),
        more: "Write only what differs. Cover is a share, 0.6 or 60 %. nitrogen 170 kg/ha per year and mud 20 days may \
               be limited too; \"none\" behind a word does without that limit. hour is the price of an hour of your \
               work, if you want all counted in money.",
        list: Vec::new(),
    }
}

pub fn take(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    (answers.limits, answers.hour) = (Vec::new(), None);
    if text == USUAL || is_none(text) {
        return Ok(());
    }
    for part in parts(text) {
        let (word, value) = part.split_once(' ').unwrap_or((part, ""));
        let (word, value) = (word.to_lowercase(), value.trim());
        if value.is_empty() {
            return Err(Wrong::new(
                format!("{part:?} has no value"),
                format!("For example: {}.", prompt(answers).example),
            ));
        }
        match KEYS.iter().find(|(known, _)| *known == word) {
            Some((_, key)) => answers.limits.push((key, written(value))),
            None if word == HOUR => answers.hour = Some(value.to_owned()),
            None => {
                let words = KEYS.iter().map(|(known, _)| *known).chain([HOUR]);
                return Err(Wrong::new(format!("{word:?} is no limit here"), did_you_mean(&word, words)));
            }
        }
    }
    Ok(())
}

/// A value as a site file writes it: numbers bare, shares of a hundred as shares, the rest in quotes.
fn written(value: &str) -> String {
    if let Some(points) = value.strip_suffix('%').and_then(|points| points.trim().parse::<f64>().ok()) {
        return (points / 100.0).to_string();
    }
    if value.parse::<f64>().is_ok_and(f64::is_finite) {
        value.to_owned()
    } else {
        super::written::values::quoted(value)
    }
}
