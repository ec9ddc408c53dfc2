//! The table of a comparison.

use super::layout::{TextColumn, TextTable};
use super::wrapping::paragraph;
use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::units::Units;
use crate::verdict::LimitStanding;
use crate::wording::{birds_or_none, figure, held, interval, limits_shut_in, possible_years, work};
use scenarios::SiteModel;
use sim_engine::measures::Measure;

const SHOWN: [Measure; 5] =
    [Measure::WorkSaved, Measure::HarvestKept, Measure::CoverLoss, Measure::PestSuppression, Measure::FeedSaved];

/// The comparison as a table, the references below it, and the verdict.
#[must_use]
pub fn compare_table(model: &SiteModel, c: &Comparison, units: Units) -> String {
    let draws = c.finished;
    let feed = format!("feed\nsaved,\n{}", units.unit(Measure::FeedSaved.unit()));
    let harvest = format!("har-\nvest,\n{}", units.unit(Measure::HarvestKept.unit()));
    let aim = format!("aim, {}/yr\n(95 % interval)", c.aim_unit.short());
    let mut table = TextTable::new(&[
        (TextColumn::Words, "strategy"),
        (TextColumn::Numbers, &aim),
        (TextColumn::Numbers, "limits\nheld in"),
        (TextColumn::Numbers, "work\nsaved,\nh/yr"),
        (TextColumn::Numbers, &harvest),
        (TextColumn::Numbers, "cover\nlost,\npoints"),
        (TextColumn::Numbers, "pests\ndown,\n%"),
        (TextColumn::Numbers, &feed),
    ]);
    for (s, name) in c.names.iter().enumerate() {
        let standing = &c.verdict.standings[s];
        let against = if s == c.plan.against { " *" } else { "" };
        let first = [format!("{name}{against}"), interval(c.aim[s], 1), weakest(standing.weakest())];
        table.row(first.into_iter().chain(SHOWN.iter().map(|&m| mean_text(c, ArmId::Strategy(s), m, units))));
    }
    for (run, name) in [(ArmId::ShutIn, "(birds shut in)"), (ArmId::Nothing, "(nothing: no birds, no care)")] {
        let shut_in = run == ArmId::ShutIn;
        let held =
            if shut_in { weakest(c.limits_shut_in.iter().min_by_key(|limit| limit.held)) } else { String::new() };
        let first = [name.to_owned(), if shut_in { "0.0".to_owned() } else { String::new() }, held];
        table.row(first.into_iter().chain(SHOWN.iter().map(|&m| mean_text(c, run, m, units))));
    }
    let note = format!(
        "* the others are compared with it. Means over {}{}; work, cover and pests against the same birds shut in.",
        if c.counted.iter().any(|&counted| counted < draws) { "at most " } else { "" },
        possible_years(draws)
    );
    let few = few_years(model, draws).map(|text| paragraph(&text)).unwrap_or_default();
    let more = [limits_shut_in(model, c, units), Some(work(model, c, units)), birds_or_none(c, units)];
    let more: String = more.into_iter().flatten().map(|text| format!("\n{}", paragraph(&text))).collect();
    format!("{}{}{few}\n{}{more}", table.text(), paragraph(&note), paragraph(&c.words(units)))
}

/// "9 of 10" of the limit that held least often.
fn weakest(limit: Option<&LimitStanding>) -> String {
    limit.map_or_else(|| "-".to_owned(), |limit| held(limit.held, limit.draws).replace("under ", "<"))
}

fn mean_text(c: &Comparison, run: ArmId, measure: Measure, units: Units) -> String {
    let said = |mean| figure(units.value(mean, measure.unit()), measure.decimals().min(1));
    c.mean(run, measure).map_or_else(|| "-".to_owned(), said)
}

/// A word on how much so few possible years, or so few years of a station, can tell.
#[must_use]
pub fn few_years(model: &SiteModel, draws: usize) -> Option<String> {
    /// Draws under which an interval rests on little; common practice, no source.
    const FEW: usize = 30;
    let station = model.weather.distinct_draws();
    match station {
        Some(years) if draws > years => Some(format!(
            "The station has only {years} whole years: the {draws} possible years use each more than once, so the intervals look surer than they are."
        )),
        _ if draws < FEW => {
            Some(format!("Only {}: the intervals are wide; the usual run is 200.", possible_years(draws)))
        }
        _ => None,
    }
}
