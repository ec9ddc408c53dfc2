//! Spray and bait keep birds out of a plot for the days of the label, whatever the strategy or a hand says.
#![allow(clippy::unwrap_used)]

mod common;

use common::{drivers, library, plot, run, site, turn};
use jiff::civil::{Date, date};
use sim_engine::gates::reason::Veto;
use sim_engine::site::Treatment;

/// Days on which the gate of a meadow that is in turn all the time stands open, of a run from 1 March 2027.
fn shut_days(events: &str, years: u32) -> Vec<(Date, Option<Veto>)> {
    let model = site("2027-03-01", years, 8.0, &format!("{}{events}", plot("meadow", 100.0, 5.0, "")));
    let drivers = drivers(&model, &model.base, 0);
    let mut shut = Vec::new();
    run(&model.base, &drivers, &turn(1, 14.0), |view| {
        if view.gates.openings.is_empty() {
            assert_eq!(view.world.birds_on[0].bird_days, 0.0);
            shut.push((view.world.drivers.days[view.day].date, view.world.observed[0].shut));
        }
    });
    shut
}

fn event(what: &str, on: &str, keep_out: &str) -> String {
    format!("[[event]]\non = {on}\nwhat = \"{what}\"\nplot = \"meadow\"\nkeep_out = \"{keep_out}\"\n")
}

#[test]
fn a_sprayed_plot_is_shut_for_the_days_of_the_label() {
    let shut = shut_days(&event("sprayed", "2027-05-10", "3 weeks"), 1);
    assert_eq!((shut.len(), shut[0].0, shut[20].0), (21, date(2027, 5, 10), date(2027, 5, 30)));
    assert_eq!(shut[0].1, Some(Veto::KeepOut { treatment: Treatment::Sprayed, days: 21 }));
    assert_eq!(shut[20].1, Some(Veto::KeepOut { treatment: Treatment::Sprayed, days: 1 }));
}

/// Of two the longer counts; yearly ones come again; what was done before the run still holds for what is left of it.
#[test]
fn treatments_overlap_come_again_and_last_into_the_run() {
    let both = format!("{}{}", event("sprayed", "2027-05-10", "21 days"), event("bait laid", "2027-05-12", "7 days"));
    assert_eq!(shut_days(&both, 1).len(), 21);
    let yearly = shut_days(&event("bait laid", "\"04-01\"", "10 days"), 2);
    assert_eq!((yearly.len(), yearly[10].0), (20, date(2028, 4, 1)));
    let before = shut_days(&event("bait laid", "2027-02-24", "10 days"), 1);
    assert_eq!((before.len(), before[4].0), (5, date(2027, 3, 5)));
    // Five days are left of the first, and of the last the run has five.
    let yearly_before = shut_days(&event("bait laid", "\"02-24\"", "10 days"), 2);
    assert_eq!((yearly_before.len(), yearly_before[5].0), (20, date(2028, 2, 24)));
}

#[test]
fn no_hand_opens_a_gate_to_bait() {
    let by_hand = "[[event]]\non = 2027-05-11\nuntil = 2027-05-20\nwhat = \"open gate\"\nplot = \"meadow\"\n";
    let shut = shut_days(&format!("{}{by_hand}", event("bait laid", "2027-05-10", "14 days")), 1);
    assert_eq!(shut.len(), 14);
}

#[test]
fn the_days_are_asked_for_and_never_assumed() {
    let head = "format = 2\nlatitude = \"53 deg\"\n[run]\nstart = 2027-03-01\n[weather]\nclimate = \"cool-maritime\"\n\
                [yard]\narea = \"45 m2\"\n[birds.flock]\nclass = \"layer\"\nnumber = 8\n";
    for (event, said) in [
        ("what = \"sprayed\"\nplot = \"meadow\"\n", "keep_out"),
        ("what = \"bait laid\"\nplot = \"meadow\"\nkeep_out = \"0 days\"\n", "1 to 366 days"),
        ("what = \"bait laid\"\nkeep_out = \"5 days\"\n", "plot"),
        ("what = \"sprayed\"\nplot = \"meadow\"\nuntil = 2027-06-01\n", "keep_out, not until"),
    ] {
        let text = format!("{head}{}[[event]]\non = 2027-05-10\n{event}", plot("meadow", 100.0, 5.0, ""));
        let faults = scenarios::site_file::read_text("s.toml", &text, library(), &|_| Err("none".into())).unwrap_err();
        assert!(faults.to_string().contains(said), "{faults}");
    }
}
