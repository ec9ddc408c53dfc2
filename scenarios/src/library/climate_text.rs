//! Writes a climate in the library's form, so that it can be put into a site file
//! under `[library.climate."name"]`.

use sim_engine::weather::generator::{Climate, MonthClimate};
use std::fmt::Write;

/// A key and the value of a month.
type Row = (&'static str, fn(&MonthClimate) -> f64);

/// Lines of a climate: key and the value of each month.
const ROWS: &[Row] = &[
    ("p_wet_after_wet", |month| month.p_wet_after_wet),
    ("p_wet_after_dry", |month| month.p_wet_after_dry),
    ("gamma_shape", |month| month.amount_shape),
    ("gamma_scale_mm", |month| month.amount_scale_mm),
    ("tmin_wet_c", |month| month.wet.tmin_mean_c),
    ("tmin_wet_sd_c", |month| month.wet.tmin_sd_c),
    ("tmax_wet_c", |month| month.wet.tmax_mean_c),
    ("tmax_wet_sd_c", |month| month.wet.tmax_sd_c),
    ("tmin_dry_c", |month| month.dry.tmin_mean_c),
    ("tmin_dry_sd_c", |month| month.dry.tmin_sd_c),
    ("tmax_dry_c", |month| month.dry.tmax_mean_c),
    ("tmax_dry_sd_c", |month| month.dry.tmax_sd_c),
];

/// The climate as TOML under `[TABLE."name"]`, for example `library.climate`; numbers
/// keep every digit, so that it reads back the same.
#[must_use]
pub fn climate_text(table: &str, name: &str, about: &str, latitude_deg: f64, climate: &Climate) -> String {
    let mut text = format!("[{table}.{name:?}]\nabout = {about:?}\nlatitude_hint = {latitude_deg}\n");
    for (key, value) in ROWS {
        let months: Vec<String> = climate.months.iter().map(|month| value(month).to_string()).collect();
        let _ = writeln!(text, "{key} = [{}]", months.join(", "));
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
            let text = climate_text("climate", name, &climate.about, climate.latitude_deg, &climate.climate);
            let again = Library::from_text("again.toml", &text).unwrap();
            assert_eq!(again.climate(name).unwrap().climate, climate.climate);
        }
    }
}
