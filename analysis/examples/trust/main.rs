//! Makes the tables of `docs/trust.md`: plays every published trial that a site file can put, holds it against what was
//! published, and puts the lines between the page's markers.
//!
//! `cargo run --release -p analysis --example trust -- tuned` plays those the model was tuned to and leaves all other lines
//! as they are; `-- all` plays those set aside too, which is done once the numbers stand.

mod hindcasts;

use hindcasts::play::{DRAWS, Library, play};
use hindcasts::rows::{Kind, ROWS};
use hindcasts::{PAGE, folder, page};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let all = match std::env::args().nth(1).as_deref() {
        Some("tuned") => false,
        Some("all") => true,
        _ => return Err("say which rows to play: tuned, or all with those set aside".into()),
    };
    let library = Library::shipped()?;
    let path = folder().join(PAGE);
    let before = std::fs::read_to_string(&path)?;
    let mut lines = Vec::with_capacity(ROWS.len());
    for row in ROWS {
        let line = if all || row.kind == Kind::Tuned {
            page::line(row, Some(&play(row, &library, DRAWS)?))
        } else {
            page::line_of(&before, row.id).unwrap_or_else(|| page::line(row, None))
        };
        eprintln!("{line}");
        lines.push(line);
    }
    std::fs::write(&path, page::with_lines(&before, &lines)?)?;
    Ok(())
}
