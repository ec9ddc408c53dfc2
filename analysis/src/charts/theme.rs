//! One look for all charts.
//!
//! The series colours were searched for in the OKLCH colour space (Ottosson 2020) so
//! that any two differ by at least 0.12 in OKLab for full colour vision and for
//! simulated protanopia and deuteranopia (Machado et al. 2009), stand 3:1 or more
//! against the paper (WCAG 2.2, 1.4.11) and differ in lightness, for grey print.
//! Marker and dash differ as well, so no meaning rests on colour alone.

/// A colour: red, green, blue.
pub type Rgb = (u8, u8, u8);

/// Width of every chart in px.
pub const WIDTH: f64 = 560.0;
/// Space left free at the edges in px.
pub const MARGIN: f64 = 12.0;
/// Size of all text but titles, px: 11 px on a phone 390 px wide.
pub const TEXT: f64 = 16.0;
/// Size of titles in px.
pub const TITLE: f64 = 19.0;
/// Height of a line of text in px.
pub const LINE: f64 = 21.0;
/// Fonts asked for; what the reader's machine has.
pub const FONTS: &str = "system-ui, sans-serif";

/// Background.
pub const PAPER: Rgb = (255, 255, 255);
/// Text.
pub const INK: Rgb = (32, 34, 38);
/// Lesser text: units, months.
pub const SOFT_INK: Rgb = (85, 88, 96);
/// Grid lines.
pub const GRID: Rgb = (222, 223, 226);
/// Outlines of bands and frames.
pub const EDGE: Rgb = (140, 143, 150);
/// Baselines such as birds shut in and nothing done.
pub const BASELINE: Rgb = (76, 77, 81);

/// Shape of a marker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// ●
    Circle,
    /// ■
    Square,
    /// ▲
    Up,
    /// ▼
    Down,
    /// ◆
    Diamond,
    /// ✚
    Plus,
    /// ✖
    Times,
}

/// How one series looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeriesLook {
    /// Colour of lines and markers.
    pub colour: Rgb,
    /// Marker.
    pub shape: Shape,
    /// Dash and gap lengths in px; empty for an unbroken line.
    pub dash: &'static [f64],
}

const SERIES: [SeriesLook; 7] = [
    SeriesLook { colour: (0x05, 0x28, 0x51), shape: Shape::Circle, dash: &[] },
    SeriesLook { colour: (0xcf, 0x82, 0x30), shape: Shape::Square, dash: &[10.0, 4.0] },
    SeriesLook { colour: (0x3a, 0x6e, 0x00), shape: Shape::Up, dash: &[3.0, 3.0] },
    SeriesLook { colour: (0x3d, 0x90, 0xcc), shape: Shape::Diamond, dash: &[14.0, 3.0, 3.0, 3.0] },
    SeriesLook { colour: (0x9f, 0x6a, 0x79), shape: Shape::Down, dash: &[6.0, 3.0] },
    SeriesLook { colour: (0x38, 0x61, 0xca), shape: Shape::Plus, dash: &[2.0, 5.0] },
    SeriesLook { colour: (0x3f, 0x32, 0x00), shape: Shape::Times, dash: &[12.0, 3.0, 3.0, 3.0, 3.0, 3.0] },
];

/// Look of series number `index`; past the seventh they come round again with the next marker.
#[must_use]
pub fn series(index: usize) -> SeriesLook {
    let count = SERIES.len();
    let shape = SERIES[(index + index / count) % count].shape;
    SeriesLook { shape, ..SERIES[index % count] }
}

/// An open gate: the darkest mark of a season.
pub const GATE_OPEN: Rgb = (0x0b, 0x4a, 0x26);
/// A shut gate.
pub const GATE_SHUT: Rgb = (0xf1, 0xf1, 0xef);
/// Covered ground.
pub const COVERED: Rgb = (0x9c, 0xc0, 0x86);
/// Ground on which a crop stands: pale straw.
pub const CROP_GROUND: Rgb = (0xf3, 0xe4, 0xc2);

/// What something is worth, from least (pale) to most (deep blue), in even steps of lightness
/// in OKLCH (Ottosson 2020), so that grey print keeps the order.
const WORTH: [Rgb; 8] = [
    (0xfd, 0xf1, 0xc0),
    (0xcd, 0xde, 0x94),
    (0x8a, 0xcd, 0x84),
    (0x27, 0xb9, 0x8a),
    (0x00, 0x9e, 0x96),
    (0x00, 0x7d, 0x98),
    (0x00, 0x5b, 0x88),
    (0x23, 0x3c, 0x67),
];

/// Number of steps of the ramp of worth.
pub const WORTH_STEPS: usize = WORTH.len();

/// Colour of a step of the ramp of worth.
#[must_use]
pub fn worth_colour(step: usize) -> Rgb {
    WORTH[step.min(WORTH_STEPS - 1)]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast as WCAG 2.2 defines them.
    fn luminance(colour: Rgb) -> f64 {
        let part = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(colour.0) + 0.7152 * part(colour.1) + 0.0722 * part(colour.2)
    }

    fn contrast(a: Rgb, b: Rgb) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn lines_stand_out_from_paper_and_text_reads() {
        SERIES.iter().for_each(|look| assert!(contrast(look.colour, PAPER) >= 3.0, "{look:?}"));
        for text in [INK, SOFT_INK, BASELINE] {
            assert!(contrast(text, PAPER) >= 4.5);
        }
    }

    #[test]
    fn worth_darkens_step_by_step() {
        assert!(WORTH.windows(2).all(|pair| luminance(pair[0]) > luminance(pair[1]) + 0.015));
    }

    /// Open, covered and shut are told apart in grey print too.
    #[test]
    fn gates_and_cover_differ_in_lightness() {
        assert!(contrast(GATE_OPEN, GATE_SHUT) >= 4.5 && contrast(COVERED, GATE_OPEN) >= 3.0);
        assert!(luminance(GATE_SHUT) > luminance(CROP_GROUND) && luminance(CROP_GROUND) > luminance(COVERED));
    }

    #[test]
    fn the_eighth_series_is_not_the_first() {
        assert_ne!(series(0).shape, series(7).shape);
    }
}
