//! Reads a climate for the weather generator: twelve months of rain and temperature.

use super::{Evidence, Library, NamedClimate, params as parts};
use crate::quantity::Bound;
use crate::reader::{Item, Reader};
use sim_engine::weather::climate::{Climate, MonthClimate, TemperatureStats};

const CHANCE: Bound = Bound { low: 0.0, high: 1.0, wording: "A chance is 0 to 1." };
const POSITIVE: Bound = Bound { low: 0.001, high: 500.0, wording: "It is above 0 and at most 500." };
const MEAN_C: Bound = Bound { low: -70.0, high: 60.0, wording: "A month's mean temperature is -70 to 60 C." };
const SPREAD_C: Bound = Bound { low: 0.1, high: 20.0, wording: "A spread of temperature is 0.1 to 20 C." };
const WEIGHT: Bound = Bound { low: -2.0, high: 2.0, wording: "A weight is -2 to 2." };
const LATITUDE_DEG: Bound = Bound { low: -65.0, high: 65.0, wording: "A latitude is -65 to 65 degrees." };
/// Most rain of a mean wet day, mm; the wettest months of the wettest places have about 100 (from memory).
const MOST_WET_DAY_MM: f64 = 200.0;
/// A wet day where none is stated: 0.1 mm, the least a rain gauge is read to (WMO-No. 8).
const WET_THRESHOLD_MM: f64 = 0.1;
/// Least difference of the day's extremes where none is stated, C; from memory.
const LEAST_SWING_C: f64 = 0.5;

impl Library {
    /// Takes in the climates of a table.
    pub(crate) fn read_climates(&mut self, root: &Reader<'_>) {
        for item in root.table("climate").map(|table| table.entries()).unwrap_or_default() {
            if let Some(climate) = read(&item) {
                self.climates.insert(item.key.clone(), climate);
            }
        }
    }
}

/// The climate under this key.
fn read(item: &Item<'_>) -> Option<NamedClimate> {
    item.key_is_name("climate");
    let reader = item.table(format!("climate {:?}", item.key))?;
    let about = reader.need("about", "\"mild and wet\"").and_then(|item| item.text());
    let latitude = reader.need("latitude_hint", "52.0").and_then(|item| item.number(&LATITUDE_DEG));
    let near = reader.get("near").and_then(|item| item.text()).map(str::to_owned);
    let source = parts::source(&reader, "source");
    let evidence = parts::evidence(&reader, "kind");
    let ab_origin = ab_origin(&reader);
    let months = months(&reader);
    let a = matrix(&reader, "a").filter(|a| dies_away(&reader, a));
    let b = matrix(&reader, "b");
    let single = |key, otherwise| reader.get(key).map_or(Some(otherwise), |item| item.number(&POSITIVE));
    let wet_threshold_mm = single("wet_threshold_mm", WET_THRESHOLD_MM);
    let least_swing_c = single("least_swing_c", LEAST_SWING_C);
    reader.finish();
    let climate =
        Climate { months: months?, a: a?, b: b?, wet_threshold_mm: wet_threshold_mm?, least_swing_c: least_swing_c? };
    Some(NamedClimate {
        about: about?.to_owned(),
        source: source?,
        evidence: evidence?,
        ab_origin,
        latitude_deg: latitude?,
        near,
        climate,
    })
}

/// Where the matrices come from, if they have an origin of their own; both keys or none.
fn ab_origin(reader: &Reader<'_>) -> Option<(String, Evidence)> {
    if reader.get("ab_source").is_none() && reader.get("ab_kind").is_none() {
        return None;
    }
    let (source, evidence) = (parts::source(reader, "ab_source"), parts::evidence(reader, "ab_kind"));
    Some((source?, evidence?))
}

fn months(reader: &Reader<'_>) -> Option<[MonthClimate; 12]> {
    let after_wet = twelve(reader, "p_wet_after_wet", &CHANCE);
    let after_dry = twelve(reader, "p_wet_after_dry", &CHANCE);
    let shape = twelve(reader, "gamma_shape", &POSITIVE);
    let scale = twelve(reader, "gamma_scale_mm", &POSITIVE).filter(|scale| bearable(reader, shape.as_ref(), scale));
    let wet = temperatures(reader, ["tmin_wet_c", "tmin_wet_sd_c", "tmax_wet_c", "tmax_wet_sd_c"]);
    let dry = temperatures(reader, ["tmin_dry_c", "tmin_dry_sd_c", "tmax_dry_c", "tmax_dry_sd_c"]);
    let (after_wet, after_dry, shape, scale, wet, dry) = (after_wet?, after_dry?, shape?, scale?, wet?, dry?);
    Some(std::array::from_fn(|month| MonthClimate {
        p_wet_after_wet: after_wet[month],
        p_wet_after_dry: after_dry[month],
        amount_shape: shape[month],
        amount_scale_mm: scale[month],
        wet: wet[month],
        dry: dry[month],
    }))
}

/// Whether yesterday's departure of the temperatures dies away: both eigenvalues within the unit circle (Jury's conditions).
fn dies_away(reader: &Reader<'_>, a: &[[f64; 2]; 2]) -> bool {
    let (trace, determinant) = (a[0][0] + a[1][1], a[0][0] * a[1][1] - a[0][1] * a[1][0]);
    let dies = determinant < 1.0 && trace.abs() < 1.0 + determinant;
    if !dies && let Some(item) = reader.get("a") {
        let remedy = "Its eigenvalues are below 1 in size, for example: a = [[0.6, 0.1], [0.1, 0.6]]";
        item.fault("with this a, a warm day is followed by ever warmer ones", remedy);
    }
    dies
}

/// Whether a wet day's mean rain, shape times scale, is one that is met somewhere.
fn bearable(reader: &Reader<'_>, shape: Option<&[f64; 12]>, scale: &[f64; 12]) -> bool {
    let means = shape.map(|shape| shape.iter().zip(scale).map(|(shape, scale)| shape * scale).fold(0.0, f64::max));
    let bears = means.is_none_or(|most| most <= MOST_WET_DAY_MM);
    if !bears && let Some(item) = reader.get("gamma_scale_mm") {
        let message = "gamma_shape times gamma_scale_mm, the mean rain of a wet day, is above 200 mm in a month";
        item.fault(message, "Give smaller figures: the wettest months anywhere have about 100 mm.");
    }
    bears
}

fn temperatures(reader: &Reader<'_>, keys: [&'static str; 4]) -> Option<[TemperatureStats; 12]> {
    let low = twelve(reader, keys[0], &MEAN_C);
    let low_sd = twelve(reader, keys[1], &SPREAD_C);
    let high = twelve(reader, keys[2], &MEAN_C);
    let high_sd = twelve(reader, keys[3], &SPREAD_C);
    let (low, low_sd, high, high_sd) = (low?, low_sd?, high?, high_sd?);
    Some(std::array::from_fn(|month| TemperatureStats {
        tmin_mean_c: low[month],
        tmin_sd_c: low_sd[month],
        tmax_mean_c: high[month],
        tmax_sd_c: high_sd[month],
    }))
}

fn twelve(reader: &Reader<'_>, key: &'static str, bound: &Bound) -> Option<[f64; 12]> {
    params(&reader.need(key, "[12 numbers, January to December]")?, bound)
}

fn matrix(reader: &Reader<'_>, key: &'static str) -> Option<[[f64; 2]; 2]> {
    let item = reader.need(key, "[[0.6, 0.1], [0.1, 0.6]]")?;
    let rows = item.list()?;
    let rows: Vec<[f64; 2]> = rows.iter().filter_map(|row| params(row, &WEIGHT)).collect();
    let read = rows.try_into().ok();
    if read.is_none() {
        item.fault(
            format!("{key} is not two rows of two numbers"),
            format!("For example: {key} = [[0.6, 0.1], [0.1, 0.6]]"),
        );
    }
    read
}

/// A list of exactly so many numbers.
fn params<const N: usize>(item: &Item<'_>, bound: &Bound) -> Option<[f64; N]> {
    let list = item.list()?;
    if list.len() != N {
        item.fault(format!("{} has {} numbers", item.key, list.len()), format!("It should have {N}."));
        return None;
    }
    let params: Vec<f64> = list.iter().filter_map(|number| number.number(bound)).collect();
    params.try_into().ok()
}
