//! Small beds behind one gate, written together as an area: "6 beds of 4 x 8 ft".

use super::{QuantityError, kinds, number_meant, parse};

/// How such an area is written.
pub const BEDS_EXAMPLE: &str = "6 beds of 4 x 8 ft";

/// The words between the number of the beds and the size of one.
const OF: &[&str] = &["raised beds of", "raised bed of", "beds of", "bed of"];

/// The area of so many beds alike, m²; `None` where the text does not speak of beds.
///
/// ```
/// use scenarios::quantity::{beds_area, kinds, parse};
/// assert_eq!(beds_area("2 beds of 1 x 3 m"), Some(Ok(6.0)));
/// assert_eq!(beds_area("64 m2"), None);
/// ```
#[must_use]
pub fn beds_area(text: &str) -> Option<Result<f64, QuantityError>> {
    let (number, of) = OF.iter().find_map(|of| text.split_once(of))?;
    Some(counted(number.trim()).and_then(|number| Ok(number * parse(of, &kinds::AREA_M2).map_err(with_example)?)))
}

fn with_example(error: QuantityError) -> QuantityError {
    QuantityError { remedy: format!("Say how big one bed is, for example \"{BEDS_EXAMPLE}\"."), ..error }
}

/// A whole number of beds, in digits or words.
fn counted(text: &str) -> Result<f64, QuantityError> {
    let number = text.parse().ok().or_else(|| number_meant(text));
    number.filter(|number: &f64| *number >= 1.0 && number.fract() == 0.0).ok_or_else(|| {
        let remedy = format!("Write a whole number of them, for example \"{BEDS_EXAMPLE}\".");
        QuantityError { message: format!("{text:?} is not a number of beds"), remedy }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beds_alike_are_put_together() {
        let area = |text: &str| beds_area(text).unwrap();
        let foot_m2 = 0.3048 * 0.3048;
        for text in ["6 beds of 4 x 8 ft", "six raised beds of 4 ft x 8 ft", "6 beds of 32 sq ft"] {
            assert!((area(text).unwrap() - 192.0 * foot_m2).abs() < 1e-9, "{text}");
        }
        assert_eq!(area("some beds of 4 x 8 ft").unwrap_err().message, "\"some\" is not a number of beds");
        assert_eq!(area("1.5 beds of 4 x 8 ft").unwrap_err().message, "\"1.5\" is not a number of beds");
        let no_unit = area("6 beds of 4 x 8").unwrap_err();
        assert_eq!(no_unit.message, "\"4 x 8\" has no unit");
        assert!(no_unit.remedy.contains(BEDS_EXAMPLE));
        assert!(beds_area("4 x 8 ft").is_none());
    }
}
