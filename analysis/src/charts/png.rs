//! Charts in pixels, for those who cannot use SVG.
//!
//! Drawn from the SVG with fonts that come with the program (`analysis/fonts/`), never the
//! machine's own: the same chart gives the same bytes everywhere. Only with the cargo feature
//! `png`, which is on unless it is left out.

use super::Chart;
use rayon::prelude::*;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::fontdb::Database;
use resvg::usvg::{Options, Tree};
use std::sync::Arc;

/// Pixels to a px of the SVG: crisp in a printed page's half width.
const SCALE: f32 = 2.0;
const FAMILY: &str = "DejaVu Sans";
const FONTS: [&[u8]; 2] =
    [include_bytes!("../../fonts/DejaVuSans.ttf"), include_bytes!("../../fonts/DejaVuSans-Bold.ttf")];

/// Why a chart could not be drawn in pixels: a fault of this program, not of the site.
#[derive(Debug, thiserror::Error)]
pub enum PngError {
    /// The SVG could not be read again.
    #[error("the chart \"{0}\" cannot be read back as SVG ({1}); leave --png out and report this")]
    Svg(String, resvg::usvg::Error),
    /// No picture of that size can be made.
    #[error("the chart \"{0}\" is too large for a PNG; leave --png out and report this")]
    Size(String),
    /// The picture could not be packed.
    #[error("the chart \"{0}\" cannot be packed as PNG ({1}); leave --png out and report this")]
    Packing(String, String),
}

/// All charts as PNG, in their order.
///
/// # Errors
/// See [`PngError`].
pub fn all(charts: &[(String, Chart)]) -> Result<Vec<(String, Vec<u8>)>, PngError> {
    let options = options();
    charts.par_iter().map(|(name, chart)| Ok((name.clone(), one(name, chart, &options)?))).collect()
}

fn options() -> Options<'static> {
    let mut fonts = Database::new();
    FONTS.iter().for_each(|font| fonts.load_font_data(font.to_vec()));
    fonts.set_sans_serif_family(FAMILY);
    Options { fontdb: Arc::new(fonts), font_family: FAMILY.to_owned(), ..Options::default() }
}

fn one(name: &str, chart: &Chart, options: &Options<'_>) -> Result<Vec<u8>, PngError> {
    let tree = Tree::from_str(&chart.svg, options).map_err(|error| PngError::Svg(name.to_owned(), error))?;
    let size = tree.size().to_int_size().scale_by(SCALE).ok_or_else(|| PngError::Size(name.to_owned()))?;
    let mut pixels = Pixmap::new(size.width(), size.height()).ok_or_else(|| PngError::Size(name.to_owned()))?;
    resvg::render(&tree, Transform::from_scale(SCALE, SCALE), &mut pixels.as_mut());
    pixels.encode_png().map_err(|error| PngError::Packing(name.to_owned(), error.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charts::canvas::{Type, document};

    fn chart(words: &str) -> Chart {
        let svg = document("A chart", "Alt", 60.0, |pen| pen.text((20.0, 30.0), words, Type::default()));
        Chart { svg, alt: "Alt".to_owned() }
    }

    #[test]
    fn a_chart_is_drawn_twice_its_size_with_its_words() {
        let charts = [("words".to_owned(), chart("° ² é ✗ −1")), ("none".to_owned(), chart(" "))];
        let images = all(&charts).unwrap();
        let sides = |png: &[u8]| [16, 20].map(|at| u32::from_be_bytes(png[at..at + 4].try_into().unwrap()));
        assert!(images[0].1.starts_with(b"\x89PNG"));
        assert_eq!(sides(&images[0].1), [1120, 120]);
        // Words take bytes: without fonts both would be blank paper.
        assert!(images[0].1.len() > images[1].1.len() + 200, "{} {}", images[0].1.len(), images[1].1.len());
    }
}
