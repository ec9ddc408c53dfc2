//! Charts as SVG, each with a text alternative.
//!
//! One file a chart. Every chart is drawn 560 px wide with text of 16 px or more, so
//! that shrunk to a phone of 390 px it still reads at 11 px. The title says the
//! finding; the alternative says the numbers.

pub mod axis;
pub mod bars;
pub mod canvas;
pub mod carry;
pub mod contour;
pub mod fan;
mod field;
pub mod frame;
pub mod gate_calendar;
pub mod labels;
#[cfg(feature = "png")]
pub mod png;
pub mod printed;
pub mod season_strip;
pub mod site_plan;
pub mod stack;
pub mod sweep_front;
pub mod sweep_map;
pub mod sweep_points;
pub mod theme;
pub mod trade_off;
pub mod two_lines;
pub mod worth;

/// A finished chart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chart {
    /// A whole SVG document, also fit to stand inside a page.
    pub svg: String,
    /// What it shows, in words; also in the SVG as `<desc>`.
    pub alt: String,
}

#[cfg(test)]
pub(crate) mod look {
    //! Helpers for tests that check a chart's document.

    use super::Chart;

    /// Checks what every chart owes; writes it for looking at when `CHART_LOOK` names a folder.
    pub fn check(name: &str, chart: &Chart) {
        let svg = &chart.svg;
        assert!(svg.starts_with("<svg ") && svg.ends_with("</svg>\n"));
        assert!(svg.contains("role=\"img\"") && svg.contains("<title>") && svg.contains("<desc>"));
        assert!(!chart.alt.is_empty());
        for fault in ["NaN", "inf", "-0%"] {
            assert!(!svg.contains(fault), "{name} holds {fault}");
        }
        if let Some(folder) = std::env::var_os("CHART_LOOK") {
            std::fs::write(std::path::Path::new(&folder).join(format!("{name}.svg")), svg).unwrap();
        }
    }
}
