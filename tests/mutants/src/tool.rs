//! cargo-mutants: it says which mutants there are.

use anyhow::{Context, Result, ensure};
use std::path::Path;
use std::process::{Command, Stdio};

/// Lists the mutants of the workspace as JSON. The tool is installed below `scratch` if it is not
/// there.
///
/// # Errors
/// A tool that cannot be installed or run.
pub fn list(root: &Path, scratch: &Path, version: &str) -> Result<String> {
    let folder = scratch.join("tools");
    let tool = folder.join("bin/cargo-mutants");
    let has = said(Command::new(&tool).args(["mutants", "--version"]));
    if !has.is_ok_and(|text| text.trim().ends_with(version)) {
        let install = ["install", "cargo-mutants", "--locked", "--version", version, "--force", "--root"];
        said(Command::new(cargo()).args(install).arg(&folder))?;
    }
    said(Command::new(tool).args(["mutants", "--workspace", "--list", "--json"]).current_dir(root))
}

/// Cargo, as whoever started us calls it.
#[must_use]
pub fn cargo() -> std::ffi::OsString {
    std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into())
}

fn said(command: &mut Command) -> Result<String> {
    let output = command.stderr(Stdio::inherit()).output().with_context(|| format!("{command:?}"))?;
    ensure!(output.status.success(), "{command:?} ended with {}", output.status);
    Ok(String::from_utf8(output.stdout)?)
}
