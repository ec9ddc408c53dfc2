//! What aims are counted in: hours of the keeper's work, or money as the keeper writes it. Nothing is ever converted but
//! hours at the price the keeper gives for one.

use crate::quantity::units;
use crate::shown_text::acts;

/// What all aims of a site are counted in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum AimUnit {
    /// Hours of the keeper's work.
    #[default]
    Hours,
    /// Money.
    Money(Currency),
}

/// A currency by its word or sign.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Currency {
    /// The word or sign as written.
    pub sign: String,
    /// It stands before the number.
    pub before: bool,
}

/// Letters a currency's word has at most.
const LONGEST_SIGN: usize = 5;

impl AimUnit {
    /// In headers and documents: "h", "EUR".
    #[must_use]
    pub fn short(&self) -> &str {
        match self {
            AimUnit::Hours => "h",
            AimUnit::Money(currency) => &currency.sign,
        }
    }

    /// In headers of what is counted a year: "hours a year", "EUR a year".
    #[must_use]
    pub fn a_year(&self) -> String {
        match self {
            AimUnit::Hours => "hours a year".to_owned(),
            AimUnit::Money(currency) => format!("{} a year", currency.sign),
        }
    }

    /// A printed number with it: "0.30 h", "2.50 EUR", "−€2.50".
    #[must_use]
    pub fn amount(&self, number: &str) -> String {
        match self {
            AimUnit::Money(Currency { sign, before: true }) => match number.strip_prefix(['−', '+']) {
                Some(size) => format!("{}{sign}{size}", &number[..number.len() - size.len()]),
                None => format!("{sign}{number}"),
            },
            other => format!("{number} {}", other.short()),
        }
    }

    /// A printed number of it a year: "3.00 hours a year", "€36.0 a year".
    #[must_use]
    pub fn yearly(&self, number: &str) -> String {
        match self {
            AimUnit::Hours => format!("{number} hours a year"),
            AimUnit::Money(_) => format!("{} a year", self.amount(number)),
        }
    }
}

/// An amount of money, "12 EUR", "€2.50" or "-0.4 kr", with what stands after "per"; `None` for what is no money.
#[must_use]
pub fn parse(text: &str) -> Option<(f64, Currency, Option<&str>)> {
    let (amount, per) = match text.split_once(" per ") {
        Some((amount, per)) => (amount.trim(), Some(per.trim())),
        None => (text.trim(), None),
    };
    let (minus, size) = match amount.strip_prefix(['-', '−']) {
        Some(size) => (true, size),
        None => (false, amount),
    };
    let digit = |c: char| c.is_ascii_digit() || c == '.';
    let from = size.find(digit)?;
    let to = size[from..].find(|c| !digit(c)).map_or(size.len(), |length| from + length);
    let (first, last) = (size[..from].trim(), size[to..].trim());
    let (first, inner_minus) = first.strip_suffix(['-', '−']).map_or((first, false), |sign| (sign.trim(), true));
    let (sign, before) = if last.is_empty() { (first, true) } else { (last, false) };
    if (before && sign.is_empty()) || (!before && !first.is_empty()) || !is_sign(sign) || (minus && inner_minus) {
        return None;
    }
    let value: f64 = size[from..to].parse().ok()?;
    let value = if minus || inner_minus { -value } else { value };
    Some((value, Currency { sign: sign.to_owned(), before }, per))
}

/// A word of one to five letters, or a sign; a unit is none.
fn is_sign(sign: &str) -> bool {
    let good = |c: char| c.is_alphabetic() || (!c.is_ascii() && !c.is_alphanumeric() && !c.is_whitespace()) || c == '$';
    (1..=LONGEST_SIGN).contains(&sign.chars().count())
        && sign.chars().all(good)
        && !sign.contains(acts)
        && units::phrase(sign).is_err()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn money_is_told_from_hours_and_from_other_units() {
        let told =
            |text: &'static str| parse(text).map(|(value, currency, per)| (value, currency.sign, currency.before, per));
        let want = |value, sign: &str, before, per| Some((value, sign.to_owned(), before, per));
        assert_eq!(told("12 EUR"), want(12.0, "EUR", false, None));
        assert_eq!(told("€2.50 per kg"), want(2.5, "€", true, Some("kg")));
        assert_eq!(told("2.50€ per kg"), want(2.5, "€", false, Some("kg")));
        assert_eq!(told("-$0.4 per point"), want(-0.4, "$", true, Some("point")));
        assert_eq!(told("$-0.4 per point"), want(-0.4, "$", true, Some("point")));
        assert_eq!(told("-3 kr per move"), want(-3.0, "kr", false, Some("move")));
        for no in ["0.3 h per kg", "12", "20 min", "2 dollars", "EUR", "R2 D2", "1 h per h", "3 kg"] {
            assert_eq!(told(no), None, "{no}");
        }
    }

    #[test]
    fn amounts_are_shown_as_the_keeper_writes_them() {
        let money = |sign: &str, before| AimUnit::Money(Currency { sign: sign.into(), before });
        let shown = |unit: &AimUnit| [unit.amount("−2.50"), unit.yearly("36.0"), unit.a_year()];
        assert_eq!(shown(&AimUnit::Hours), ["−2.50 h", "36.0 hours a year", "hours a year"]);
        assert_eq!(shown(&money("EUR", false)), ["−2.50 EUR", "36.0 EUR a year", "EUR a year"]);
        assert_eq!(shown(&money("€", true)), ["−€2.50", "€36.0 a year", "€ a year"]);
    }
}
