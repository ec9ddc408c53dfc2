//! A climate month by month, in figures a reader can picture.

use crate::table::{TextColumn, TextTable, indented};
use crate::units::Units;
use scenarios::library::NamedClimate;
use sim_engine::weather::MONTH_NAMES;

/// The twelve months as a table for the terminal, and where the figures come from.
pub(super) fn table(named: &NamedClimate, params: usize, units: Units) -> String {
    let (rain, degrees) = if units == Units::Us { ("in", "F") } else { ("mm", "C") };
    let heads = [
        "rain\nafter\nwet".to_owned(),
        "after\ndry\nday".to_owned(),
        format!("wet\nday,\n{rain}"),
        format!("lowest\nwet day,\n{degrees}"),
        "highest".to_owned(),
        format!("lowest\ndry day,\n{degrees}"),
        "highest".to_owned(),
    ];
    let mut columns = vec![(TextColumn::Words, "")];
    columns.extend(heads.iter().map(|head| (TextColumn::Numbers, head.as_str())));
    let mut table = TextTable::new(&columns);
    for (at, month) in MONTH_NAMES.iter().enumerate() {
        table.row(std::iter::once((*month).to_owned()).chain(cells(named, at, units)));
    }
    let mut out = format!("\n{}\n", table.text());
    out += &indented(
        "Chance of rain after a wet and after a dry day; mean rain of a wet day; mean and spread of the day's extremes.",
        2,
    );
    out += &indented(&origin(named), 2);
    out + &indented(&format!("All {params} numbers one by one: --json, or --export."), 2)
}

/// Where a climate's figures come from.
pub(super) fn origin(named: &NamedClimate) -> String {
    let mut out = format!("Source: {} ({}).", named.source, named.evidence.word());
    if let Some((source, evidence)) = &named.ab_origin {
        out += &format!(" Matrices of carry-over and chance: {source} ({}).", evidence.word());
    }
    out
}

/// Chances of rain, rain of a wet day, and the extremes of wet and dry days, mean ± spread.
pub(super) fn cells(named: &NamedClimate, at: usize, units: Units) -> Vec<String> {
    let Some(month) = named.climate.months.get(at) else { return Vec::new() };
    let us = units == Units::Us;
    let (scale, zero) = if us { (1.8, 32.0) } else { (1.0, 0.0) };
    let (rain, _) = units.measure(month.amount_shape * month.amount_scale_mm, "mm");
    let rain = if us { format!("{rain:.2}") } else { format!("{rain:.1}") };
    let mut cells = vec![format!("{:.2}", month.p_wet_after_wet), format!("{:.2}", month.p_wet_after_dry), rain];
    for stats in [&month.wet, &month.dry] {
        for (mean, sd) in [(stats.tmin_mean_c, stats.tmin_sd_c), (stats.tmax_mean_c, stats.tmax_sd_c)] {
            cells.push(format!("{:.1} ± {:.1}", mean * scale + zero, sd * scale));
        }
    }
    cells
}
