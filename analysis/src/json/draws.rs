//! `draws.csv`: one row a possible year and run, every measure with its unit in the header.

use crate::compare::Comparison;
use crate::csv_text::csv_text;
use sim_engine::measures::{Measure, Measures};

/// Raw rows beside the summary: draw, run, kind of run, aim over birds shut in, measures.
/// A blank measure is an empty cell.
#[must_use]
pub fn compare_csv(c: &Comparison) -> Vec<u8> {
    let mut rows = vec![header(c)];
    for (i, outcome) in c.outcomes.iter().enumerate() {
        for (s, name) in c.names.iter().enumerate().filter(|&(s, _)| i < c.counted[s]) {
            rows.push(row(i, name, "strategy", Some(c.aims[s][i]), &outcome.strategies[s].measures));
        }
        rows.push(row(i, "birds shut in", "shut_in", Some(0.0), &outcome.shut_in.measures));
        rows.push(row(i, "no birds", "no_birds", None, &outcome.no_birds.measures));
        rows.push(row(i, "nothing", "nothing", None, &outcome.nothing.measures));
    }
    csv_text(rows)
}

fn header(c: &Comparison) -> Vec<String> {
    let aim = format!("aim[{}/yr]", c.aim_unit.short());
    let fixed = ["draw", "run", "kind", &aim].map(str::to_owned);
    let measures = Measure::ALL.iter().map(|m| format!("{}[{}]", m.name(), m.unit()));
    fixed.into_iter().chain(measures).collect()
}

fn row(index: usize, name: &str, kind: &str, aim: Option<f64>, measures: &Measures) -> Vec<String> {
    let fixed = [(index + 1).to_string(), name.to_owned(), kind.to_owned(), aim.map_or_else(String::new, cell)];
    let values = Measure::ALL.iter().map(|&m| cell(measures.get(m)));
    fixed.into_iter().chain(values).collect()
}

/// The shortest digits that give the very number back.
fn cell(value: f64) -> String {
    if value.is_finite() { (value + 0.0).to_string() } else { String::new() }
}
