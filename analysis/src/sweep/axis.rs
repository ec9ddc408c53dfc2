//! What `--vary KEY=VALUES` says: a list of values, or a range.

use super::error::SweepError;
use serde::{Deserialize, Serialize};

/// Decimals a value of an axis may have; more would not survive the way through the text.
const MOST_DECIMALS: usize = 9;
/// Most values of one axis.
const MOST_VALUES: u64 = 1_000_000;

/// One varied value and what it may be.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Axis {
    /// As it is called on the command line.
    pub key: String,
    /// Unit, as in the site file; empty if it has none.
    pub unit: String,
    /// Neither the weather nor the ground of an unused site hangs on it.
    pub light: bool,
    /// Only whole numbers make sense.
    pub whole: bool,
    /// What it may be.
    pub values: Values,
}

/// What an axis may be.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Values {
    /// These.
    List(Vec<f64>),
    /// Anything between two ends, for designs that fill space.
    Between(f64, f64),
}

impl Axis {
    /// Number of values; `None` for anything between two ends.
    #[must_use]
    pub fn count(&self) -> Option<u64> {
        match &self.values {
            Values::List(values) => Some(values.len() as u64),
            Values::Between(..) => None,
        }
    }

    /// The value at a share (0 up to 1) of the way.
    #[must_use]
    pub fn at(&self, share: f64) -> f64 {
        match &self.values {
            Values::List(values) => values[((share * values.len() as f64) as usize).min(values.len() - 1)],
            Values::Between(low, high) if self.whole => (low + (share * (high - low + 1.0)).floor()).min(*high),
            Values::Between(low, high) => rounded(low + share * (high - low), high - low),
        }
    }

    /// A value in words: as it was given, or to three figures where it was drawn from between two ends.
    #[must_use]
    pub fn words(&self, value: f64) -> String {
        match &self.values {
            Values::Between(..) if !self.whole => {
                format!("{value:.2e}").parse::<f64>().map_or_else(|_| value.to_string(), |figures| figures.to_string())
            }
            _ => value.to_string(),
        }
    }

    /// Least and greatest value.
    #[must_use]
    pub fn ends(&self) -> (f64, f64) {
        match &self.values {
            Values::List(values) => {
                values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(*v), high.max(*v)))
            }
            Values::Between(low, high) => (*low, *high),
        }
    }
}

/// To a ten-thousandth of the span, so that a value reads well and comes back as it was written.
fn rounded(value: f64, span: f64) -> f64 {
    let mut unit = 1.0;
    let mut decimals = 0;
    while unit * 1e4 > span && decimals < MOST_DECIMALS {
        unit /= 10.0;
        decimals += 1;
    }
    format!("{value:.decimals$}").parse().unwrap_or(value)
}

/// Parses the right side of `--vary`: `3..28/1`, `7,14,21`, `3..10/1,14,21`, or `3..28`.
///
/// # Errors
/// What is no number, an empty or reversed range, a step that is not above 0.
pub fn values(argument: &str, text: &str) -> Result<Values, SweepError> {
    let fault = |message: String, remedy: &str| SweepError::argument(argument, message, remedy);
    const EXAMPLE: &str = "Write a range with its step, 3..28/1, or values with commas, 7,14,21. Without a unit they are in that of the site file; with one: 7d..21d/7d.";
    let mut list: Vec<f64> = Vec::new();
    for part in text.split(',') {
        let Some((from, rest)) = part.split_once("..") else {
            list.push(exact(part).ok_or_else(|| fault(format!("{part:?} is not a number"), EXAMPLE))?.0);
            continue;
        };
        let (to, step) = rest.split_once('/').map_or((rest, None), |(to, step)| (to, Some(step)));
        let number = |text: &str| exact(text).ok_or_else(|| fault(format!("{text:?} is not a number"), EXAMPLE));
        let (low, high) = (number(from)?, number(to)?);
        if high.0 < low.0 {
            let by = step.map_or(String::new(), |step| format!("/{step}"));
            let remedy = format!("Write the smaller end first: {to}..{from}{by}");
            return Err(fault(format!("the range {part} is reversed"), &remedy));
        }
        match step {
            Some(step) => list.extend(stepped(argument, part, [low, high, number(step)?])?),
            None if text == part && high.0 > low.0 => return Ok(Values::Between(low.0, high.0)),
            None if high.0 == low.0 => list.push(low.0),
            None => return Err(fault(format!("the range {part} has no step"), EXAMPLE)),
        }
    }
    let mut sorted = list.clone();
    sorted.sort_by(f64::total_cmp);
    if let Some(again) = sorted.windows(2).find(|pair| pair[0] == pair[1]) {
        return Err(fault(format!("{} stands there twice", again[0]), "Write each value once."));
    }
    Ok(Values::List(list))
}

/// A number as it was written: its value, and its digits as a whole number with so many decimals.
type DecimalNumber = (f64, i64, usize);

fn exact(text: &str) -> Option<DecimalNumber> {
    let text = text.trim();
    let body = text.strip_prefix(['-', '+']).unwrap_or(text);
    if body.is_empty() || !body.chars().all(|c| c.is_ascii_digit() || c == '.') {
        return None;
    }
    let decimals = text.split_once('.').map_or(0, |(_, behind)| behind.len());
    let digits: i64 = text.replace('.', "").parse().ok()?;
    (decimals <= MOST_DECIMALS).then_some((text.parse().ok()?, digits, decimals))
}

/// Values from an end in steps, each the number its decimal text says: 0.1, 0.2, 0.3.
fn stepped(argument: &str, part: &str, [low, high, step]: [DecimalNumber; 3]) -> Result<Vec<f64>, SweepError> {
    let decimals = low.2.max(high.2).max(step.2);
    let scaled = |(_, digits, own): DecimalNumber| digits.checked_mul(10_i64.pow((decimals - own) as u32));
    let too_fine = || SweepError::argument(argument, format!("{part} is too fine to count"), "Take fewer decimals.");
    let (first, last, by) =
        (scaled(low).ok_or_else(too_fine)?, scaled(high).ok_or_else(too_fine)?, scaled(step).ok_or_else(too_fine)?);
    if by <= 0 {
        let message = format!("the step of {part} is not above 0");
        return Err(SweepError::argument(argument, message, "Give a step such as 1: 3..28/1."));
    }
    let count = ((last - first) / by) as u64 + 1;
    if count > MOST_VALUES {
        let message = format!("{part} has {count} values");
        return Err(SweepError::argument(argument, message, "Take a greater step; one value may have a million."));
    }
    let text = |k: u64| decimal(first + k as i64 * by, decimals);
    Ok((0..count).map(|k| text(k).parse().unwrap_or(f64::NAN)).collect())
}

/// A whole number read as one with decimals: (105, 1) is "10.5".
fn decimal(digits: i64, decimals: usize) -> String {
    let sign = if digits < 0 { "-" } else { "" };
    let padded = format!("{:0>width$}", digits.unsigned_abs(), width = decimals + 1);
    let (whole, part) = padded.split_at(padded.len() - decimals);
    format!("{sign}{whole}.{part}0")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(text: &str) -> Vec<f64> {
        match values("--vary", text).unwrap() {
            Values::List(list) => list,
            Values::Between(..) => panic!("{text} is no list"),
        }
    }

    #[test]
    fn ranges_and_lists() {
        assert_eq!(list("4..10/2"), [4.0, 6.0, 8.0, 10.0]);
        assert_eq!(list("4..9/2"), [4.0, 6.0, 8.0]);
        assert_eq!(list("0.1..0.5/0.1"), [0.1, 0.2, 0.3, 0.4, 0.5]);
        assert_eq!(list("-2..1/1.5,7"), [-2.0, -0.5, 1.0, 7.0]);
        assert_eq!(list("5..5"), [5.0]);
        assert_eq!(values("--vary", "3..28").unwrap(), Values::Between(3.0, 28.0));
    }

    #[test]
    fn each_slip_is_named() {
        let why = |text: &str| values("--vary x", text).unwrap_err().to_string();
        assert!(why("28..3/1").contains("reversed") && why("28..3/1").contains("3..28/1"));
        assert!(why("").contains("\"\" is not a number"));
        assert!(why("3..28/0").contains("not above 0"));
        assert!(why("3..9,12").contains("no step"));
        assert!(why("1,2,1").contains("1 stands there twice"));
        assert!(why("2 weeks").contains("\"2 weeks\" is not a number"));
        assert!(why("0..9000000/1").contains("9000001 values"));
        assert!(why("nan").contains("not a number") && why("1e5").contains("not a number"));
    }

    #[test]
    fn a_share_of_the_way_is_a_value_that_reads_well() {
        let axis = |whole, values| Axis { key: "k".into(), unit: String::new(), light: true, whole, values };
        let birds = axis(true, Values::Between(4.0, 6.0));
        assert_eq!([0.0, 0.34, 0.67, 0.999].map(|s| birds.at(s)), [4.0, 5.0, 6.0, 6.0]);
        assert_eq!(axis(false, Values::Between(0.0, 1.0)).at(1.0 / 3.0), 0.3333);
        assert_eq!(axis(false, Values::List(vec![3.0, 9.0])).at(0.5), 9.0);
    }

    #[test]
    fn a_drawn_value_is_told_to_three_figures_and_a_given_one_as_it_is() {
        let axis = |whole, values| Axis { key: "k".into(), unit: String::new(), light: true, whole, values };
        let drawn = axis(false, Values::Between(0.0, 1e4));
        assert_eq!([13.167, 18.0, 0.012_345, 0.0].map(|x| drawn.words(x)), ["13.2", "18", "0.0123", "0"]);
        assert_eq!(axis(true, Values::Between(0.0, 1e4)).words(1234.0), "1234");
        assert_eq!(axis(false, Values::List(vec![13.1675])).words(13.1675), "13.1675");
    }
}
