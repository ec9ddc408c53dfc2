//! What the commands write: files in their folder, and what documents say they were made from.

use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use crate::sites::{Input, digest};
use analysis::charts::Chart;
use analysis::output::Files;
use analysis::provenance::Provenance;
use analysis::results::{Origin, ResultsFolder, SiteOrigin};
use std::path::PathBuf;

/// Adds every chart as SVG, and beside it as PNG where that is asked for.
///
/// # Errors
/// If a chart cannot be drawn in pixels.
pub fn add_charts(files: &mut Files, charts: &[(String, Chart)], png: bool) -> Result<(), CommandError> {
    for (name, chart) in charts {
        files.add(format!("{name}.svg"), chart.svg.clone());
    }
    if png {
        for (name, image) in images(charts)? {
            files.add(format!("{name}.png"), image);
        }
    }
    Ok(())
}

#[cfg(feature = "png")]
fn images(charts: &[(String, Chart)]) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    analysis::charts::png::all(charts).map_err(|error| CommandError::Other(error.into()))
}

#[cfg(not(feature = "png"))]
fn images(_: &[(String, Chart)]) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    check_png(true).map(|()| Vec::new())
}

/// Refuses `--png` in a program that was built without it, before anything is run.
///
/// # Errors
/// PNG is asked for, and the cargo feature is off.
pub fn check_png(asked: bool) -> Result<(), CommandError> {
    if asked && cfg!(not(feature = "png")) {
        let remedy = "Leave it out, each .svg holds the same picture; or build it in: cargo build --release.";
        return Err(CommandError::argument("--png", "this hensward was built without PNG", remedy));
    }
    Ok(())
}

/// Where files go: `--out`, else `results/<site>/<command>`.
pub fn folder(common: &Common, label: &str, command: &str) -> PathBuf {
    common.out.clone().unwrap_or_else(|| PathBuf::from("results").join(label).join(command.replace(' ', "-")))
}

/// Takes the folder where files go, before any work; `names` will be among them.
///
/// # Errors
/// Why nothing can be written there.
pub fn take(
    common: &Common,
    label: &str,
    command: &str,
    site: &SiteOrigin,
    names: &[&str],
) -> Result<ResultsFolder, CommandError> {
    let origin = Origin { command: command.to_owned(), site: site.clone() };
    Ok(ResultsFolder::open(&folder(common, label, command), &origin, names)?)
}

/// Writes the files, after those that were streamed, and says where all are.
///
/// # Errors
/// The file that could not be written.
pub fn write(files: &Files, folder: &mut ResultsFolder, common: &Common) -> Result<(), CommandError> {
    let names = folder.write(files)?;
    screen::talk(common.quiet, &format!("Written to {}: {}", folder.path().display(), names.join(", ")));
    Ok(())
}

/// What a document was made from.
pub fn provenance(common: &Common, inputs: &[Input]) -> Provenance {
    Provenance::new(common.seed, digest(inputs))
}
