//! Invented cases.

use super::*;
use crate::charts::look::check;

fn estimate(mean: f64, reach: f64) -> Estimate {
    Estimate { mean, low: mean - reach, high: mean + reach }
}

fn point(name: &str, loss: (f64, f64), down: (f64, f64), holds: bool) -> TradePoint {
    TradePoint {
        name: name.into(),
        cover_loss: estimate(loss.0, loss.1),
        gain: estimate(down.0, down.1),
        kind: PointKind::Strategy,
        holds,
    }
}

fn invented() -> Vec<TradePoint> {
    let mut points = vec![
        point("all open", (27.5, 1.8), (46.0, 4.5), false),
        point("one plot for good", (21.0, 1.4), (31.0, 5.0), false),
        point("turn every 7 days", (12.1, 0.9), (38.5, 3.6), true),
        point("turn every 14 days", (13.6, 1.1), (37.2, 3.9), true),
        point("by eye", (8.2, 0.8), (29.0, 3.0), true),
        point("pest dates", (9.0, 1.0), (42.0, 4.8), true),
        point("between crops", (5.1, 0.5), (17.5, 2.9), true),
        point("birds shut in", (0.0, 0.0), (0.0, 0.0), true),
        point("usual care", (2.2, 0.4), (6.5, 1.2), true),
    ];
    points[7].kind = PointKind::ShutIn;
    points[8].kind = PointKind::UsualCare;
    points
}

#[test]
fn an_invented_site_draws() {
    let points = invented();
    let data = TradeOffData { title: finding(Gain::Pests, &points), gain: Gain::Pests, points };
    check("trade-off", &trade_off(&data));
}

#[test]
fn crowded_and_blank_points_draw() {
    let mut points: Vec<TradePoint> = (0..9)
        .map(|i| {
            let i = f64::from(i);
            point(&format!("turn, {i} birds"), (10.0 + 0.3 * i, 0.5), (30.0 + 0.5 * i, 1.0), true)
        })
        .collect();
    points[3].gain.mean = f64::NAN;
    points[4].gain.low = f64::NEG_INFINITY;
    let data = TradeOffData { title: finding(Gain::Pests, &points), gain: Gain::Pests, points };
    check("trade-off-crowded", &trade_off(&data));
    check("trade-off-empty", &trade_off(&TradeOffData { title: "None".into(), gain: Gain::Hours, points: vec![] }));
}

#[test]
fn the_front_runs_from_birds_shut_in_to_the_hungriest() {
    assert_eq!(front(&invented()), [7, 8, 6, 4, 5, 0]);
}

#[test]
fn findings_name_few_and_count_many() {
    let points = invented();
    assert_eq!(
        finding(Gain::Pests, &points[2..4]),
        "Nothing else gives both more cover and fewer pests than turn every 7 days"
    );
    assert_eq!(
        finding(Gain::Pests, &points),
        "For 4 of 7 strategies, nothing else gives both more cover and fewer pests"
    );
}

#[test]
fn hours_are_drawn_and_said_as_hours() {
    let mut points = invented();
    points[0].gain = estimate(-30.0, 8.0);
    let chart = trade_off(&TradeOffData { title: finding(Gain::Hours, &points[2..4]), gain: Gain::Hours, points });
    check("trade-off-hours", &chart);
    assert!(chart.svg.contains("Work saved, hours a year (below 0: more work)"));
    assert!(chart.alt.starts_with("Nothing else gives both more cover and less work than turn every 7 days. "));
    assert!(
        chart
            .alt
            .contains("all open: cover lost 27.5 points (25.7 to 29.3), work saved −30.0 h a year (−38.0 to −22.0)")
    );
}
