//! Writes a climate in the library's form, so that it can be put into a site file
//! under `[library.climate."name"]`.

use super::NamedClimate;
use super::entry_text::quoted;
use sim_engine::weather::climate::MonthClimate;
use std::fmt::Write;

/// One line of a climate: twelve values, January first.
pub(super) struct MonthRow {
    /// Key in files.
    pub key: &'static str,
    /// Unit.
    pub unit: &'static str,
    /// What it means, in a sentence.
    pub what: &'static str,
    /// The value of a month.
    pub value: fn(&MonthClimate) -> f64,
}

const fn row(key: &'static str, unit: &'static str, what: &'static str, value: fn(&MonthClimate) -> f64) -> MonthRow {
    MonthRow { key, unit, what, value }
}

/// The lines of a climate.
pub(super) const ROWS: &[MonthRow] = &[
    row("p_wet_after_wet", "-", "Chance of rain the day after a wet day.", |month| month.p_wet_after_wet),
    row("p_wet_after_dry", "-", "Chance of rain the day after a dry day.", |month| month.p_wet_after_dry),
    row("gamma_shape", "-", "Shape of the spread of rain on wet days.", |month| month.amount_shape),
    row("gamma_scale_mm", "mm", "Scale of rain on wet days; shape times scale is their mean.", |m| m.amount_scale_mm),
    row("tmin_wet_c", "C", "Mean lowest temperature of wet days.", |month| month.wet.tmin_mean_c),
    row("tmin_wet_sd_c", "C", "Spread of it.", |month| month.wet.tmin_sd_c),
    row("tmax_wet_c", "C", "Mean highest temperature of wet days.", |month| month.wet.tmax_mean_c),
    row("tmax_wet_sd_c", "C", "Spread of it.", |month| month.wet.tmax_sd_c),
    row("tmin_dry_c", "C", "Mean lowest temperature of dry days.", |month| month.dry.tmin_mean_c),
    row("tmin_dry_sd_c", "C", "Spread of it.", |month| month.dry.tmin_sd_c),
    row("tmax_dry_c", "C", "Mean highest temperature of dry days.", |month| month.dry.tmax_mean_c),
    row("tmax_dry_sd_c", "C", "Spread of it.", |month| month.dry.tmax_sd_c),
];

/// The climate as TOML under `[TABLE."name"]`, for example `library.climate`; numbers
/// keep every digit, so that it reads back the same.
#[must_use]
pub fn climate_text(table: &str, name: &str, named: &NamedClimate) -> String {
    let climate = &named.climate;
    let mut text = format!("[{table}.{}]\nabout = {}\n", quoted(name), quoted(&named.about));
    let _ = writeln!(text, "latitude_hint = {}", named.latitude_deg);
    if let Some(near) = &named.near {
        let _ = writeln!(text, "near = {}", quoted(near));
    }
    let _ = writeln!(text, "source = {}\nkind = \"{}\"", quoted(&named.source), named.evidence.word());
    if let Some((source, evidence)) = &named.ab_origin {
        let _ = writeln!(text, "ab_source = {}\nab_kind = \"{}\"", quoted(source), evidence.word());
    }
    for row in ROWS {
        let months: Vec<String> = climate.months.iter().map(|month| (row.value)(month).to_string()).collect();
        let _ = writeln!(text, "{} = [{}]", row.key, months.join(", "));
    }
    for (key, [first, second]) in [("a", climate.a), ("b", climate.b)] {
        let _ = writeln!(text, "{key} = [[{}, {}], [{}, {}]]", first[0], first[1], second[0], second[1]);
    }
    let _ = writeln!(text, "wet_threshold_mm = {}", climate.wet_threshold_mm);
    let _ = writeln!(text, "least_swing_c = {}", climate.least_swing_c);
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::Library;

    #[test]
    fn what_is_written_reads_back_the_same() {
        let library = Library::shipped().unwrap();
        for (name, climate) in library.climates() {
            let text = climate_text("climate", name, climate);
            let again = Library::from_text("again.toml", &text).unwrap();
            assert_eq!(again.climate(name).unwrap(), climate);
        }
    }
}
