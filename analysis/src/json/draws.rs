//! `draws.csv`: one row a possible year and run, every measure with its unit in the header.

use crate::compare::Comparison;
use crate::csv_text::CsvRows;
use crate::experiment::ArmId;
use crate::outcomes::YearBlock;
use crate::outcomes::columns::SpillError;
use sim_engine::measures::Measure;
use std::io::Write;

/// Why the rows could not be written.
#[derive(Debug, thiserror::Error)]
pub enum DrawsError {
    /// What is not in memory could not be read back.
    #[error(transparent)]
    Spill(#[from] SpillError),
    /// They could not be written.
    #[error(transparent)]
    Write(#[from] std::io::Error),
}

/// Raw rows beside the summary: draw, run, kind of run, aim over birds shut in, measures.
/// A blank measure is an empty cell.
///
/// # Errors
/// See [`DrawsError`].
pub fn compare_csv(c: &Comparison, to: &mut dyn Write) -> Result<(), DrawsError> {
    let mut rows = CsvRows::new(to);
    rows.row(header(c))?;
    let mut before = 0;
    for block in c.kept().by_year() {
        let block = block?;
        for year in 0..block.years() {
            for (run, name, kind, aim) in runs(c, before + year) {
                rows.row(row(before + year, [name, kind], aim, (&block, year, run)))?;
            }
        }
        before += block.years();
    }
    Ok(rows.end()?)
}

/// The runs of a possible year: name, kind, aim.
fn runs(c: &Comparison, year: usize) -> impl Iterator<Item = (ArmId, &str, &str, Option<f64>)> {
    let strategies = c.names.iter().zip(&c.aims).enumerate();
    let strategies = strategies.filter_map(move |(s, (name, aims))| {
        // One that was taken out has the first possible years only.
        aims.get(year).map(|&aim| (ArmId::Strategy(s), name.as_str(), "strategy", Some(aim)))
    });
    strategies.chain([
        (ArmId::ShutIn, "birds shut in", "shut_in", Some(0.0)),
        (ArmId::NoBirds, "no birds", "no_birds", None),
        (ArmId::Nothing, "nothing", "nothing", None),
    ])
}

fn header(c: &Comparison) -> Vec<String> {
    let aim = format!("aim[{}/yr]", c.aim_unit.short());
    let fixed = ["draw", "run", "kind", &aim].map(str::to_owned);
    let measures = Measure::ALL.iter().map(|m| format!("{}[{}]", m.name(), m.unit()));
    fixed.into_iter().chain(measures).collect()
}

fn row(
    draw: usize,
    words: [&str; 2],
    aim: Option<f64>,
    (block, year, run): (&YearBlock, usize, ArmId),
) -> impl Iterator<Item = String> {
    let fixed = std::iter::once((draw + 1).to_string()).chain(words.map(str::to_owned));
    let values = Measure::ALL.iter().map(move |&m| cell(block.get(year, run, m)));
    fixed.chain([aim.map_or_else(String::new, cell)]).chain(values)
}

/// The shortest digits that give the very number back.
fn cell(value: f64) -> String {
    if value.is_finite() { (value + 0.0).to_string() } else { String::new() }
}
