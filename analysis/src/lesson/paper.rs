//! How much room words take on a sheet.
//!
//! Heights are CSS px (96 to the inch) and those of `lesson.css`; lines of text are counted with
//! the widths the charts reckon with, made narrower by what Arial is against their wide typeface.

use crate::charts::canvas::wrapped;

/// Width of a sheet: 188 mm.
pub(super) const ACROSS: f64 = 710.0;
/// Width of Arial against that of the charts' typeface (measured on printed pages: 0.79 to 0.85 over 45 lines).
const ARIAL: f64 = 0.87;

/// Height of words of `size` px, `across` px wide, set in lines `line` px high.
pub(super) fn words(text: &str, across: f64, size: f64, line: f64) -> f64 {
    wrapped(text, across, size * ARIAL, false).len() as f64 * line
}
