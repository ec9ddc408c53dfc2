//! Invented strips of one season and of three years.

use super::layout::years;
use super::*;
use crate::charts::look::check;
use jiff::civil::date;

/// Plots visited in turn; cover falls while open and grows back.
fn invented(days: usize, stay: usize) -> StripData {
    let names = ["Long border", "Plum orchard strip", "Kale bed", "Old nettle corner"];
    let mut rows: Vec<StripRow> = names.iter().enumerate().map(|(k, name)| turn_row(name, k, days, stay)).collect();
    rows[2].marks = vec![(70, Mark::CropIn), (158, Mark::Harvest), (161, Mark::Harvest), (200, Mark::CropOut)];
    rows[2].spans = vec![(30, 150, SpanKind::Waiting)];
    rows.insert(
        0,
        StripRow {
            name: "Yard".into(),
            open: vec![true; days],
            spans: vec![(0, 30, SpanKind::Isolation), (20, 62, SpanKind::Housing)],
            ..StripRow::default()
        },
    );
    StripData {
        title: format!("Turning every {stay} days keeps every plot above 40 % cover, bar the nettle corner"),
        start: date(2026, 3, 9),
        rows,
    }
}

fn turn_row(name: &str, k: usize, days: usize, stay: usize) -> StripRow {
    let open: Vec<bool> = (0..days).map(|day| (day / stay) % 4 == k && day > 40).collect();
    let mut cover = 0.9;
    let cover = open
        .iter()
        .enumerate()
        .map(|(day, &open)| {
            let growth = if (day + 60) % 365 > 280 { 0.001 } else { 0.012 };
            cover = if open { cover - 0.03 - 0.01 * k as f64 } else { cover + growth }.clamp(0.03, 0.97);
            if k == 2 && (70..200).contains(&day) { f64::NAN } else { cover }
        })
        .collect();
    StripRow { name: name.into(), cover, open, ..StripRow::default() }
}

#[test]
fn one_year_and_three_years_draw() {
    check("strip-1", &season_strip(&invented(365, 14)));
    check("strip-3", &season_strip(&invented(1_096, 14)));
    check("strip-short", &season_strip(&invented(120, 7)));
}

#[test]
fn an_empty_strip_is_still_a_document() {
    let data = StripData { title: "Nothing yet".into(), start: date(2026, 1, 1), rows: vec![] };
    check("strip-empty", &season_strip(&data));
}

#[test]
fn panels_are_years_also_over_a_leap_day() {
    assert_eq!(years(date(2027, 3, 1), 800), [0..366, 366..731, 731..800]);
}

#[test]
fn the_first_days_keep_what_begins_in_them() {
    let strip = invented(1_096, 14).first_days(170);
    let kale = &strip.rows[3];
    assert_eq!((kale.open.len(), kale.cover.len()), (170, 170));
    assert_eq!(kale.marks, [(70, Mark::CropIn), (158, Mark::Harvest), (161, Mark::Harvest)]);
    assert_eq!(invented(365, 14).first_days(100).rows[3].spans, [(30, 100, SpanKind::Waiting)]);
}

/// The lines' scale begins at a quarter below what they show.
#[test]
fn the_scale_of_cover_shows_differences() {
    let foot = |cover: &[f64]| {
        let row = StripRow { cover: cover.to_vec(), ..StripRow::default() };
        StripData { title: String::new(), start: date(2027, 1, 1), rows: vec![row] }.cover_foot()
    };
    assert_eq!([&[0.9, 0.8][..], &[0.74], &[0.1, f64::NAN], &[]].map(foot), [0.75, 0.5, 0.0, 0.75]);
}

#[test]
fn the_alternative_tells_least_cover_and_open_days() {
    let row = StripRow {
        name: "A".into(),
        cover: vec![0.9, 0.25, 0.4],
        open: vec![true, true, false],
        ..StripRow::default()
    };
    assert_eq!(row_words(&row, date(2026, 5, 1)), "A: gate open on 2 of 3 days, least cover 25 % on 2 May 2026.");
}
