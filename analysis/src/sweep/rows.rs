//! What is told of a sweep: one row a cell and strategy, and what stands out among them.

use super::columns::{columns, record};
use super::merge::Whole;
use super::part::Block;
use super::row::SweepRow;
use super::tally::Tally;
use super::{SweepError, SweepPlan};
use crate::csv_text::safe_cell;
use crate::output::OutputError;
use crate::stats::front::{area, front_of_two};
use sim_engine::measures::Measure;
use std::io::Write;
use std::path::Path;

/// A sweep told.
#[derive(Clone, Debug)]
pub struct SweepView {
    /// The plan.
    pub plan: SweepPlan,
    /// Number of cells.
    pub cells: u64,
    /// One row a cell and strategy, by cell, then by strategy.
    pub rows: Vec<SweepRow>,
    /// What is set against the cover lost: pests kept down, or work saved where the site has no pests.
    pub bought: Measure,
    /// Places of the rows no other beats on both, by cover lost.
    pub front: Vec<usize>,
    /// Corner the front is measured from: the most cover lost and the least bought of all rows.
    pub corner: [f64; 2],
    /// Area between the front and the corner, in the product of both units.
    pub hypervolume: f64,
}

/// Goes through all rows of a whole run, by cell, then by strategy; what the cover buys is left blank.
///
/// # Errors
/// What `each` says, or a part that was changed meanwhile.
pub fn each_row(
    whole: &Whole,
    each: &mut dyn FnMut(SweepRow, &Tally) -> Result<(), SweepError>,
) -> Result<(), SweepError> {
    let cells = whole.plan.cells();
    whole.blocks(&mut |block: &Block| {
        for (cell, tallies) in (block.first..).zip(&block.cells) {
            let values = cells.values(cell);
            for (strategy, tally) in tallies.iter().enumerate() {
                each(SweepRow::of(&whole.plan, (cell, strategy), &values, tally), tally)?;
            }
        }
        Ok(())
    })
}

/// Goes through a whole run once: writes its table to `path` and keeps what is told.
///
/// # Errors
/// The table cannot be written, or a part was changed meanwhile.
pub fn tell(whole: &Whole, table: &mut dyn Write, path: &Path) -> Result<SweepView, SweepError> {
    let plan = &whole.plan;
    let mut csv = csv::Writer::from_writer(table);
    let fail = |error: csv::Error| {
        let cause = match error.into_kind() {
            csv::ErrorKind::Io(cause) => cause,
            other => std::io::Error::other(format!("{other:?}")),
        };
        SweepError::Output(OutputError { path: path.to_owned(), cause })
    };
    csv.write_record(columns(plan).iter().map(|column| &column.name)).map_err(fail)?;
    let (mut rows, mut pests) = (Vec::new(), false);
    each_row(whole, &mut |row, tally| {
        let cells: Vec<String> = record(plan, &row, tally).iter().map(ToString::to_string).collect();
        csv.write_record(cells.iter().map(|cell| safe_cell(cell.as_bytes()))).map_err(fail)?;
        pests |= !tally.of(Measure::PestSuppression).mean().is_nan();
        rows.push((row, tally.of(Measure::PestSuppression).mean(), tally.of(Measure::WorkSaved).mean()));
        Ok(())
    })?;
    csv.flush().map_err(|error| fail(error.into()))?;
    drop(csv);
    let bought = if pests { Measure::PestSuppression } else { Measure::WorkSaved };
    let take = |(row, kept_down, saved): (SweepRow, f64, f64)| SweepRow {
        bought: if pests { kept_down } else { saved },
        ..row
    };
    let cells = plan.cell_count().unwrap_or(0);
    Ok(stand_out(plan, cells, rows.into_iter().map(take).collect(), bought))
}

fn stand_out(plan: &SweepPlan, cells: u64, rows: Vec<SweepRow>, bought: Measure) -> SweepView {
    // Small is good to the front.
    let points: Vec<[f64; 2]> = rows.iter().map(|row| [row.cover_loss.mean, -row.bought]).collect();
    let front = front_of_two(&points);
    let known = || points.iter().filter(|point| !point.iter().any(|value| value.is_nan()));
    let worst = |along: usize| known().map(|point| point[along]).fold(f64::NEG_INFINITY, f64::max);
    let corner = [worst(0), worst(1)];
    let on_front: Vec<[f64; 2]> = front.iter().map(|&place| points[place]).collect();
    let hypervolume = area(&on_front, corner);
    SweepView { plan: plan.clone(), cells, rows, bought, front, corner: [corner[0], -corner[1]], hypervolume }
}

impl SweepView {
    /// Place of the row with the highest mean aim among those of a strategy that hold.
    #[must_use]
    pub fn best(&self, strategy: usize) -> Option<usize> {
        let own = (0..self.rows.len()).filter(|&place| self.rows[place].strategy == strategy && self.rows[place].holds);
        // Equal aims: the cell that comes first.
        own.reduce(|best, next| if self.rows[next].aim.mean > self.rows[best].aim.mean { next } else { best })
    }

    /// Cells in which a strategy holds.
    #[must_use]
    pub fn holding(&self, strategy: usize) -> usize {
        self.rows.iter().filter(|row| row.strategy == strategy && row.holds).count()
    }
}
