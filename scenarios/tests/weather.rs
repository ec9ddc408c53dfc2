//! A site on a station's weather: new years in its manner, or its own years.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use jiff::civil::date;
use scenarios::weather_source::WeatherSource;
use scenarios::{Library, SiteModel, site_file};
use std::fmt::Write;
use std::time::Instant;

/// Six invented years as a station file, one January day missing.
fn station(library: &Library) -> String {
    let climate = &library.climate("cool-maritime").unwrap().climate;
    let mut text = "date,tmin[C],tmax[C],rain[mm]\n".to_owned();
    for day in climate.draw(7, 0, date(2018, 1, 1), 2191).iter().filter(|day| day.date != date(2020, 1, 9)) {
        writeln!(text, "{},{:.1},{:.1},{:.1}", day.date, day.tmin_c, day.tmax_c, day.rain_mm).unwrap();
    }
    text
}

fn read(weather: &str) -> Result<SiteModel, String> {
    let library = Library::shipped().unwrap();
    let text = include_str!("data/wrenfold.toml").replace("climate = \"cool-maritime\"", weather);
    let (days, gates) = (station(&library), include_str!("data/gates.csv").to_owned());
    let begun = Instant::now();
    let read = site_file::read_text("wrenfold.toml", &text, &library, &|name| {
        Ok(if name == "days.csv" { days.clone() } else { gates.clone() })
    });
    println!("{:.2} ms with a station", begun.elapsed().as_secs_f64() * 1000.0);
    read.map_err(|faults| faults.to_string())
}

#[test]
fn new_years_in_the_manner_of_the_station() {
    let model = read("station = \"days.csv\"\nfill_gaps = \"2 days\"").unwrap();
    let WeatherSource::Fitted { filled, days, .. } = &model.weather else { panic!() };
    assert_eq!((*filled, days.len()), (1, 2191));
    assert_eq!(model.weather.distinct_draws(), None);
    assert_eq!(model.weather.draw(1, 0, model.base.start, model.base.days).len(), 1096);
}

#[test]
fn its_own_years() {
    let model = read("station = \"days.csv\"\nuse = \"years\"\nfill_gaps = \"2 days\"").unwrap();
    assert_eq!(model.weather.distinct_draws(), Some(5));
    assert_eq!(model.weather.draw(1, 0, model.base.start, 10)[0].date, model.base.start);
}

#[test]
fn a_gap_is_not_filled_unasked() {
    let found = read("station = \"days.csv\"").unwrap_err();
    assert!(found.starts_with("days.csv, line 740, column 1: 2020-01-09 is missing"), "{found}");
}

#[test]
fn one_source_only() {
    let found = read("climate = \"continental\"\nstation = \"days.csv\"").unwrap_err();
    assert!(found.contains("weather has both a climate and a station"), "{found}");
}
