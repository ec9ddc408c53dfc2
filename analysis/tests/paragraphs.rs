//! The paragraphs below a comparison: the keeper's own work, and birds or none.
#![allow(clippy::unwrap_used)]

mod common;

use analysis::experiment::ArmId;
use analysis::units::Units;
use analysis::wording::{birds_or_none, work};
use common::{compared, site};
use sim_engine::measures::Measure;

/// Numbers in the first brackets of a text, and the one before them.
fn total_and_parts(text: &str) -> (f64, f64) {
    let (before, rest) = text.split_once('(').unwrap();
    let (parts, _) = rest.split_once(')').unwrap();
    let number = |word: &str| word.trim_end_matches([',', ';']).parse::<f64>().ok();
    (before.split_whitespace().rev().find_map(number).unwrap(), parts.split_whitespace().filter_map(number).sum())
}

#[test]
fn the_kinds_of_work_add_up_to_its_hours() {
    let (model, _) = site(|_| ());
    let c = compared(&model, &["what-we-do-now", "by-eye"], 8);
    let words = work(&model, &c, Units::Metric);
    for part in words.split("; under") {
        let (total, parts) = total_and_parts(part);
        assert!(total > 1.0 && (total - parts).abs() <= 0.3, "{words}");
    }
    assert!(words.contains(&c.names[c.leading()]) && words.contains("moving birds"), "{words}");
}

/// Beds of so few weeds are told; beds that ask for 10 to 60 h on 100 m² are not.
#[test]
fn weeding_far_from_what_is_usual_is_told() {
    let with_time = |factor: f64| {
        let (model, _) = site(|model| {
            // Seldom weeded and quickly, or long: the hours of a pass are a known number here.
            model.unknowns.retain(|unknown| !unknown.name.contains("weeding_time"));
            model.base.process.weeding_time_clean *= factor;
            model.base.process.weeding_time_weedy *= factor;
        });
        let c = compared(&model, &["by-eye"], 8);
        work(&model, &c, Units::Metric)
    };
    assert!(with_time(1.0).contains("That is little: on beds of that size growers and trials counted from 11 to 66 h"));
    assert!(!with_time(5.0).contains("11 to 66 h"));
    assert!(with_time(100.0).contains("That is much: on beds of that size growers and trials counted from 11 to 66 h"));
}

#[test]
fn a_site_without_birds_is_not_asked_whether_it_wants_them() {
    let (with, _) = site(|_| ());
    let (without, _) = site(|model| model.base.groups.iter_mut().for_each(|group| group.number = 0.0));
    let c = compared(&with, &["by-eye"], 4);
    let words = birds_or_none(&c, Units::Metric).unwrap();
    let eggs = c.figure(ArmId::ShutIn, Measure::Eggs).unwrap().mean.mean;
    assert!(words.contains(&format!("lays {eggs:.0} kg of eggs")), "{words}");
    assert_eq!(birds_or_none(&compared(&without, &["by-eye"], 4), Units::Metric), None);
}
