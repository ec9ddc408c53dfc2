//! The limit of the system on the size of files (`ulimit -f`).

/// From now on a write past the limit fails as any other may; else the system would end us there, with a file
/// half-written.
///
/// # Errors
/// If the system refuses.
pub fn fails_the_write() -> anyhow::Result<()> {
    // Heard and not ignored: programs that we start would ignore it too.
    signal_hook::flag::register(signal_hook::consts::SIGXFSZ, std::sync::Arc::default())?;
    Ok(())
}
