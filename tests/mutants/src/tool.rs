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
    if said(Command::new(&tool).arg("--version")).is_ok_and(|text| text.trim().ends_with(version)) {
        return said(Command::new(tool).args(["mutants", "--workspace", "--list", "--json"]).current_dir(root));
    }
    let mut cargo = Command::new(cargo());
    cargo.args(["install", "cargo-mutants", "--locked", "--version", version, "--root"]).arg(&folder);
    said(&mut cargo)?;
    list(root, scratch, version)
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
