//! Does a fitted generator make years like the station's?
//!
//! For every month: rain days, rain sum, mean lowest and highest temperature; for the whole
//! year: rain sum, lengths of wet and dry spells, and extremes that the fit never looks at
//! (wettest day, longest dry spell, frost nights, hottest day). Each is taken year by year, for
//! the station's whole years and for many generated ones, and the two means compared by a z test
//! whose standard error comes from the spread between *generated* years (a station has too few).
//! p-values are two-sided. Over all rows together: Bonferroni, the smallest p times the number
//! of rows, which holds although the rows are not independent. Since the climate was fitted to
//! the same days, monthly rows agree better than chance; a small p shows what the method cannot
//! carry. Monthly rain sums of few years are skewed: take single p-values near 0.01 with salt.

use super::DayWeather;
use super::climate::Climate;
use super::station::month_name;
use super::years::{Years, YearsError};
use jiff::civil::Date;

/// Days drawn per year asked for: enough for that many whole years.
const YEAR_D: usize = 366;
/// First year of the generated series; any will do.
const FIRST_YEAR: i16 = 2001;

/// One comparison of station and generator.
#[derive(Clone, Debug, PartialEq)]
pub struct AgreementRow {
    /// Month, 1 to 12, or none for the whole year.
    pub month: Option<u8>,
    /// What is compared, with its unit, in words.
    pub what: &'static str,
    /// Mean of the station's whole years.
    pub station: f64,
    /// Mean of the generated years.
    pub generated: f64,
    /// Standard error of the difference.
    pub standard_error: f64,
    /// Two-sided probability of a difference this large if the station were a draw of the generator.
    pub p_value: f64,
}

impl AgreementRow {
    /// "January", …, or "whole year".
    #[must_use]
    pub fn when(&self) -> &'static str {
        self.month.map_or("whole year", |month| month_name(usize::from(month) - 1))
    }
}

/// All comparisons, and one p-value over them.
#[derive(Clone, Debug, PartialEq)]
pub struct Agreement {
    /// Whole years of the station compared.
    pub station_years: usize,
    /// Generated years compared.
    pub generated_years: usize,
    /// The comparisons.
    pub rows: Vec<AgreementRow>,
    /// Smallest p-value times the number of rows, at most 1 (Bonferroni).
    pub combined_p: f64,
}

/// Compares a climate with a station's days over `years` generated years (200 is a good number; at least 2).
///
/// # Errors
/// A faulty series or one without a whole year.
pub fn agreement(
    climate: &Climate,
    station_days: &[DayWeather],
    seed: u64,
    years: usize,
) -> Result<Agreement, YearsError> {
    let (month, day) = first_of_year(station_days);
    let station = Years::cut(station_days, month, day)?;
    let start = Date::new(FIRST_YEAR, month, day).unwrap_or(Date::constant(FIRST_YEAR, 1, 1));
    let drawn = climate.draw(seed, 0, start, years.max(2) * YEAR_D);
    let generated = Years::whole(&drawn, month, day)?;
    let wet_mm = climate.wet_threshold_mm;
    let rows: Vec<_> = measures().map(|measure| compare(&measure, station.all(), generated.all(), wet_mm)).collect();
    let least = rows.iter().map(|row| row.p_value).fold(1.0, f64::min);
    Ok(Agreement {
        station_years: station.count(),
        generated_years: generated.count(),
        combined_p: (least * rows.len() as f64).min(1.0),
        rows,
    })
}

/// Years are counted from the first day of the station; from 1 March if that is a 29 February.
fn first_of_year(days: &[DayWeather]) -> (i8, i8) {
    match days.first().map(|d| (d.date.month(), d.date.day())) {
        Some((2, 29)) => (3, 1),
        Some(first) => first,
        None => (1, 1),
    }
}

/// A number taken from the days of one month, or year, given the least rain of a wet day.
type Take = fn(&[&DayWeather], f64) -> f64;

struct AgreementMeasure {
    month: Option<u8>,
    what: &'static str,
    take: Take,
}

fn measures() -> impl Iterator<Item = AgreementMeasure> {
    let monthly: [(&'static str, Take); 4] = [
        ("rain days", rain_days),
        ("rain sum, mm", rain_sum),
        ("mean lowest temperature, °C", |days, _| mean(days.iter().map(|d| d.tmin_c))),
        ("mean highest temperature, °C", |days, _| mean(days.iter().map(|d| d.tmax_c))),
    ];
    let yearly: [(&'static str, Take); 7] = [
        ("rain sum, mm", rain_sum),
        ("mean wet spell, days", |days, wet| mean(spells(days, wet, true))),
        ("mean dry spell, days", |days, wet| mean(spells(days, wet, false))),
        ("longest dry spell, days", |days, wet| spells(days, wet, false).fold(0.0, f64::max)),
        ("wettest day, mm", |days, _| days.iter().fold(0.0, |most, d| d.rain_mm.max(most))),
        ("frost nights", |days, _| days.iter().filter(|d| d.tmin_c < 0.0).count() as f64),
        ("hottest day, °C", |days, _| days.iter().fold(f64::MIN, |most, d| d.tmax_c.max(most))),
    ];
    let by_month = monthly
        .into_iter()
        .flat_map(|(what, take)| (1..=12).map(move |month| AgreementMeasure { month: Some(month), what, take }));
    by_month.chain(yearly.into_iter().map(|(what, take)| AgreementMeasure { month: None, what, take }))
}

fn rain_days(days: &[&DayWeather], wet_mm: f64) -> f64 {
    days.iter().filter(|d| d.rain_mm >= wet_mm).count() as f64
}

fn rain_sum(days: &[&DayWeather], _wet_mm: f64) -> f64 {
    days.iter().map(|d| d.rain_mm).sum()
}

/// Lengths in days of the wet (or dry) spells of a year; those cut by its ends count as they are.
fn spells<'a>(days: &'a [&DayWeather], wet_mm: f64, wet: bool) -> impl Iterator<Item = f64> + 'a {
    let is_wet = move |d: &DayWeather| d.rain_mm >= wet_mm;
    days.chunk_by(move |a, b| is_wet(a) == is_wet(b))
        .filter(move |run| is_wet(run[0]) == wet)
        .map(|run| run.len() as f64)
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (n, sum) = values.fold((0.0, 0.0), |(n, sum), v| (n + 1.0, sum + v));
    if n > 0.0 { sum / n } else { 0.0 }
}

fn compare(
    measure: &AgreementMeasure,
    station: &[Vec<DayWeather>],
    generated: &[Vec<DayWeather>],
    wet_mm: f64,
) -> AgreementRow {
    let per_year = |years: &[Vec<DayWeather>]| -> Vec<f64> {
        years.iter().map(|year| (measure.take)(&days_in(year, measure.month), wet_mm)).collect()
    };
    let (ours, theirs) = (per_year(generated), per_year(station));
    let (generated, station) = (mean(ours.iter().copied()), mean(theirs.iter().copied()));
    let squares: f64 = ours.iter().map(|v| (v - generated) * (v - generated)).sum();
    let (n, m) = (ours.len() as f64, theirs.len() as f64);
    let standard_error = (squares / (n - 1.0) * (1.0 / n + 1.0 / m)).sqrt();
    let p_value = two_sided_p(station - generated, standard_error);
    AgreementRow { month: measure.month, what: measure.what, station, generated, standard_error, p_value }
}

fn days_in(year: &[DayWeather], month: Option<u8>) -> Vec<&DayWeather> {
    let wanted = |d: &&DayWeather| month.is_none_or(|m| d.date.month().unsigned_abs() == m);
    year.iter().filter(wanted).collect()
}

fn two_sided_p(difference: f64, standard_error: f64) -> f64 {
    if standard_error > 0.0 {
        return libm::erfc((difference / standard_error).abs() / core::f64::consts::SQRT_2);
    }
    // Nothing varies: the values agree or they do not.
    f64::from(u8::from(difference.abs() < 1e-9))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::fit::fit;
    use crate::weather::generator::tests::even_climate;
    use crate::weather::testing::{near, seattle};
    use jiff::civil::date;

    /// The generator fitted to Seattle 2012–2015 makes years like them (prints every p-value).
    #[test]
    fn seattle_years_are_like_the_station() {
        let days = seattle();
        let climate = fit(&days).unwrap().climate;
        let result = agreement(&climate, &days, 1, 200).unwrap();
        for row in &result.rows {
            println!(
                "{:>10} {:<30} station {:8.2} generated {:8.2} ± {:6.2} p {:.3}",
                row.when(),
                row.what,
                row.station,
                row.generated,
                row.standard_error,
                row.p_value
            );
        }
        println!("Bonferroni over {} rows: p {:.3}", result.rows.len(), result.combined_p);
        assert_eq!((result.station_years, result.rows.len()), (4, 55));
        assert!(result.generated_years >= 200);
        assert!(result.combined_p > 0.05, "{}", result.combined_p);
    }

    /// A station drawn from another climate is found out.
    #[test]
    fn a_wrong_climate_is_found_out() {
        let mut wetter = even_climate();
        for month in &mut wetter.months {
            month.p_wet_after_dry = 0.35;
        }
        let station = wetter.draw(9, 0, date(2011, 1, 1), 10 * 366);
        assert!(agreement(&even_climate(), &station, 1, 100).unwrap().combined_p < 1e-3);
    }

    /// Stations that really are draws of the climate: the combined p is below 0.05 in about one of twenty
    /// or fewer (40 of them; more than 6 has a chance below 1 %).
    #[test]
    fn a_right_climate_is_rarely_doubted() {
        let climate = even_climate();
        let doubted = (0..40).filter(|&draw| {
            let station = climate.draw(77, draw + 1, date(2011, 1, 1), 6 * 366);
            agreement(&climate, &station, 5, 100).unwrap().combined_p < 0.05
        });
        assert!(doubted.count() <= 6);
    }

    #[test]
    fn two_sided_p_of_the_normal() {
        near(two_sided_p(1.959_964, 1.0), 0.05, 1e-6);
        near(two_sided_p(-1.0, 0.0), 0.0, 0.0);
        near(two_sided_p(0.0, 0.0), 1.0, 0.0);
    }

    fn days(from: Date, rain_and_low: &[(f64, f64)]) -> Vec<DayWeather> {
        let day = |(i, &(rain, low)): (usize, &(f64, f64))| {
            DayWeather::new(from.checked_add(jiff::Span::new().days(i as i64)).unwrap(), low, low + 10.0, rain)
        };
        rain_and_low.iter().enumerate().map(day).collect()
    }

    /// Ten days by hand, wet from 0.2 mm on: spells of wet days 2, 1 and 2, of dry ones 1, 3 and 1.
    #[test]
    fn what_is_compared_is_what_its_words_say() {
        let rain = [1.0, 0.2, 0.1, 3.0, 0.0, 0.0, 0.0, 5.0, 0.7, 0.0];
        let low = [2.0, 1.0, 0.0, -1.0, -2.0, 3.0, 4.0, 9.0, 1.0, 1.0];
        let year = days(date(2021, 1, 28), &rain.into_iter().zip(low).collect::<Vec<_>>());
        let value = |month: Option<u8>, what: &str| {
            let measure = measures().find(|m| m.month == month && m.what == what).unwrap();
            (measure.take)(&days_in(&year, month), 0.2)
        };
        near(value(None, "rain sum, mm"), 10.0, 1e-12);
        near(value(None, "mean wet spell, days"), 5.0 / 3.0, 1e-12);
        near(value(None, "mean dry spell, days"), 5.0 / 3.0, 1e-12);
        near(value(None, "longest dry spell, days"), 3.0, 0.0);
        near(value(None, "wettest day, mm"), 5.0, 0.0);
        near(value(None, "frost nights"), 2.0, 0.0);
        near(value(None, "hottest day, °C"), 19.0, 0.0);
        near(value(Some(1), "rain days"), 3.0, 0.0);
        near(value(Some(2), "rain days"), 2.0, 0.0);
        near(value(Some(1), "rain sum, mm"), 4.3, 1e-12);
        near(value(Some(1), "mean lowest temperature, °C"), 0.5, 1e-12);
        near(value(Some(2), "mean highest temperature, °C"), 10.0 + 16.0 / 6.0, 1e-12);
        near(value(Some(3), "rain days"), 0.0, 0.0);
        near(mean(std::iter::empty()), 0.0, 0.0);
    }

    /// z of two means whose common variance comes from the generated years: theirs are 1, 3 and 5
    /// (mean 3, variance 4), the station's 4 and 6: 2 over the root of 4 (1/3 + 1/2).
    #[test]
    fn a_row_is_a_z_test_by_hand() {
        let year = |rain: f64| days(date(2021, 1, 1), &[(rain, 5.0)]);
        let measure = measures().find(|m| m.month.is_none() && m.what == "rain sum, mm").unwrap();
        let row = compare(&measure, &[year(4.0), year(6.0)], &[year(1.0), year(3.0), year(5.0)], 0.1);
        near(row.station, 5.0, 1e-12);
        near(row.generated, 3.0, 1e-12);
        near(row.standard_error, (10.0_f64 / 3.0).sqrt(), 1e-12);
        // P(|z| > 1.0954) = 0.2733.
        near(row.p_value, 0.2733, 1e-4);
        assert_eq!(row.when(), "whole year");
        assert_eq!(AgreementRow { month: Some(1), ..row.clone() }.when(), "January");
        assert_eq!(AgreementRow { month: Some(12), ..row }.when(), "December");
    }

    #[test]
    fn years_begin_where_the_station_does_but_never_on_a_leap_day() {
        let first = |date| first_of_year(&days(date, &[(0.0, 5.0)]));
        assert_eq!((first(date(2021, 7, 9)), first(date(2024, 2, 29)), first_of_year(&[])), ((7, 9), (3, 1), (1, 1)));
    }

    /// Bonferroni: the smallest p times the number of rows, at most 1.
    #[test]
    fn rows_together_are_the_smallest_times_how_many() {
        let climate = even_climate();
        let result = agreement(&climate, &climate.draw(3, 9, date(2011, 1, 1), 4 * 366), 5, 20).unwrap();
        let least = result.rows.iter().map(|row| row.p_value).fold(f64::MAX, f64::min);
        near(result.combined_p, (55.0 * least).min(1.0), 1e-12);
        assert!((20..=21).contains(&result.generated_years));
    }
}
