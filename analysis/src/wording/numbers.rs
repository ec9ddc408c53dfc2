//! Numbers, shares and units as they are printed, the same in tables and pages.

use crate::stats::Estimate;
use crate::units::Units;
use sim_engine::measures::Measure;

/// What stands for a blank.
pub const BLANK: &str = "–";

/// A number with so many decimals, a true minus sign and never "−0".
#[must_use]
pub fn number(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let nought = text.chars().all(|c| "-0.".contains(c));
    text.replace('-', if nought { "" } else { "−" })
}

/// The same; "–" for a blank.
#[must_use]
pub fn figure(value: f64, decimals: usize) -> String {
    if value.is_finite() { number(value, decimals) } else { BLANK.to_owned() }
}

/// The same with its sign: "+3.1", "−0.4", "0.0".
#[must_use]
pub fn signed(value: f64, decimals: usize) -> String {
    let text = figure(value, decimals);
    let nought = text.chars().all(|c| "0.".contains(c));
    if value > 0.0 && !nought { format!("+{text}") } else { text }
}

/// "12.3 (10.1 to 14.5)"; without the interval where it is unknown.
#[must_use]
pub fn interval(e: Estimate, decimals: usize) -> String {
    with_range(figure(e.mean, decimals), e, decimals, figure)
}

/// "+2.2 (−0.3 to +4.7)".
#[must_use]
pub fn signed_interval(e: Estimate, decimals: usize) -> String {
    with_range(signed(e.mean, decimals), e, decimals, signed)
}

fn with_range(mean: String, e: Estimate, decimals: usize, write: fn(f64, usize) -> String) -> String {
    if e.low.is_finite() && e.high.is_finite() && e.low < e.high {
        format!("{mean} ({} to {})", write(e.low, decimals), write(e.high, decimals))
    } else {
        mean
    }
}

/// "9 of 10", rounded down so that it never says more than was counted; "7 of 8" of a few.
#[must_use]
pub fn held(held: usize, draws: usize) -> String {
    const FEW: usize = 10;
    if draws <= FEW {
        return format!("{held} of {draws}");
    }
    match held * 10 / draws {
        0 if held > 0 => "under 1 of 10".to_owned(),
        tenths => format!("{tenths} of 10"),
    }
}

/// A metric unit of the catalogue as a page prints it: "m²", "per m²", "per bird".
#[must_use]
pub fn unit(unit: &str, units: Units) -> String {
    match units.unit(unit).as_str() {
        "1/m2/yr" => "per m² a year".to_owned(),
        "1/ft2/yr" => "per ft² a year".to_owned(),
        "points" => "points of cover".to_owned(),
        "share" => "of the ground".to_owned(),
        "d" => "days".to_owned(),
        "index" => "relative".to_owned(),
        other => typeset(&other.replace("d/yr", "days a year").replace("/yr", " a year")),
    }
}

/// Text with "m²", and no number parted from its per cent sign or area.
#[must_use]
pub fn typeset(text: &str) -> String {
    let squared = text.replace("m2", "m²").replace("ft2", "ft²");
    squared.replace(" %", "\u{a0}%").replace(" m²", "\u{a0}m²").replace(" ft²", "\u{a0}ft²")
}

/// "12 %".
#[must_use]
pub fn percent(hundredths: f64) -> String {
    format!("{} %", figure(hundredths, 0))
}

/// A value of a measure as printed: in the reader's units, with the decimals it needs.
#[must_use]
pub fn measured(value: f64, measure: Measure, units: Units) -> String {
    let unit = measure.unit();
    figure(units.value(value, unit), units.decimals(measure.decimals(), unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_never_say_more_than_was_counted() {
        assert_eq!(held(199, 200), "9 of 10");
        assert_eq!(held(200, 200), "10 of 10");
        assert_eq!(held(1, 200), "under 1 of 10");
        assert_eq!(held(0, 200), "0 of 10");
        assert_eq!(held(7, 8), "7 of 8");
    }

    #[test]
    fn signs_and_blanks() {
        assert_eq!(signed(3.21, 1), "+3.2");
        assert_eq!(signed(0.01, 1), "0.0");
        assert_eq!(figure(f64::NAN, 1), "–");
        assert_eq!(number(-0.001, 1), "0.0");
        let one_draw = Estimate { mean: 2.0, low: f64::NEG_INFINITY, high: f64::INFINITY };
        assert_eq!(interval(one_draw, 1), "2.0");
    }
}
