//! Invented cases.

use super::*;
use crate::charts::look::check;
use jiff::civil::date;

fn invented(days: usize) -> FanData {
    let panel = |name: &str, phase: f64| {
        let middle = |day: usize| 62.0 + 26.0 * ((day as f64 / 58.0) + phase).sin();
        let column = |shift: f64| -> Vec<f64> {
            let grown = |day: usize| shift * (1.0 + day as f64 / 400.0).min(2.0);
            (0..days).map(|day| (middle(day) + grown(day)).clamp(0.0, 100.0)).collect()
        };
        FanPanel {
            name: name.into(),
            p05: column(-14.0),
            p25: column(-5.0),
            median: column(0.0),
            p75: column(4.0),
            p95: column(10.0),
            references: vec![(0..days).map(|day| 88.0 + 8.0 * (day as f64 / 58.0).cos()).collect()],
            limit: Some(60.0),
        }
    };
    FanData {
        title: "Cover recovers each summer, but the orchard strip falls under the limit by autumn".into(),
        quantity: "ground cover, %".into(),
        start: date(2026, 3, 9),
        panels: vec![panel("Long border", 0.0), panel("Plum orchard strip", 1.2), panel("Old nettle corner", 2.4)],
        every_days: 1,
        limit: "limit: 60 %".into(),
        references: vec!["no birds, median".into()],
    }
}

#[test]
fn one_and_three_years_draw() {
    check("fan-1", &fan(&invented(365)));
    check("fan-3", &fan(&invented(1_096)));
}

#[test]
fn blanks_break_the_band_and_empty_draws() {
    let mut data = invented(200);
    (50..80).for_each(|day| data.panels[0].median[day] = f64::NAN);
    assert_eq!(present_runs(&data.panels[0].median), [0..50, 80..200]);
    data.panels[1] = FanPanel { name: "Nothing".into(), ..FanPanel::default() };
    check("fan-blank", &fan(&data));
    data.panels.clear();
    check("fan-empty", &fan(&data));
}

#[test]
fn panels_may_have_scales_of_their_own_and_weeks_for_steps() {
    let mut data = invented(52);
    data.quantity.clear();
    data.every_days = 7;
    data.panels[2].limit = None;
    data.panels[2].references.push(vec![400.0; 52]);
    data.references.push("what we do now, median".into());
    let scales: Vec<f64> = data.panels.iter().map(|panel| up(&data, panel, 1.0, 0.0).high).collect();
    assert_eq!(scales, [100.0, 100.0, 400.0]);
    let chart = fan(&data);
    // The last of 52 weeks begins on day 357 after 9 March 2026.
    assert!(chart.svg.contains("2027") && chart.alt.contains("highest on"), "{}", chart.alt);
    check("fan-own-scales", &chart);
}
