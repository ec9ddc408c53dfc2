//! Numbers as people write them: about three digits, whatever their size.

/// Decimals that show a number of this size in about three digits.
#[must_use]
pub fn decimals_for(size: f64) -> usize {
    match size.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        _ => 2,
    }
}

/// A number whole from 100 on, else in about three digits; no needless zeros, no "-0". Below a tenth, where
/// two decimals show little or nothing of it, it has `decimals_below_tenth`.
#[must_use]
pub fn short_number(value: f64, decimals_below_tenth: usize) -> String {
    let decimals = if value != 0.0 && value.abs() < 0.1 { decimals_below_tenth } else { decimals_for(value) };
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_numbers_have_no_needless_zeros() {
        for (value, want) in [(70.0, "70"), (0.15, "0.15"), (2.5, "2.5"), (1234.5, "1234"), (-0.0, "0"), (0.0, "0")] {
            assert_eq!([2, 4].map(|decimals| short_number(value, decimals)), [want, want]);
        }
    }

    #[test]
    fn below_a_tenth_decimals_are_as_asked() {
        assert_eq!([2, 4].map(|decimals| short_number(0.0123, decimals)), ["0.01", "0.0123"]);
        assert_eq!([2, 4].map(|decimals| short_number(-0.001, decimals)), ["0", "-0.001"]);
    }
}
