//! What the commands write: files in their folder, and what documents say they were made from.

use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use crate::sites::{Input, digest};
use analysis::charts::Chart;
use analysis::output::Files;
use analysis::provenance::Provenance;
use std::path::{Path, PathBuf};

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
    common.out.clone().unwrap_or_else(|| PathBuf::from("results").join(label).join(command))
}

/// Writes the files and says where they are.
///
/// # Errors
/// The file that could not be written.
pub fn write(files: &Files, common: &Common, label: &str, command: &str) -> Result<(), CommandError> {
    let folder = folder(common, label, command);
    files.write(&folder)?;
    say_written(&folder, files.names(), common);
    Ok(())
}

/// A file that is written bit by bit.
pub struct Streamed<'w> {
    /// Its name within the folder.
    pub name: &'w str,
    /// Writes it to its path.
    pub write: &'w dyn Fn(&Path) -> Result<(), CommandError>,
}

/// Writes the files and one more, and says where they are.
///
/// # Errors
/// The file that could not be written.
pub fn write_with(
    files: &Files,
    last: &Streamed<'_>,
    common: &Common,
    label: &str,
    command: &str,
) -> Result<(), CommandError> {
    let folder = folder(common, label, command);
    files.write(&folder)?;
    (last.write)(&folder.join(last.name))?;
    say_written(&folder, files.names().chain([last.name]), common);
    Ok(())
}

fn say_written<'n>(folder: &Path, names: impl Iterator<Item = &'n str>, common: &Common) {
    let names: Vec<&str> = names.collect();
    screen::talk(common.quiet, &format!("Written to {}: {}", folder.display(), names.join(", ")));
}

/// What a document was made from.
pub fn provenance(common: &Common, inputs: &[Input]) -> Provenance {
    Provenance::new(common.seed, digest(inputs))
}
