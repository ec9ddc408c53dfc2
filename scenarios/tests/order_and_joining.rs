//! What a yard is under a housing order, and whom new birds are counted with.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

mod common;

use common::{drivers, plot, run, site, turn};
use scenarios::SiteModel;
use sim_engine::ledger::flows::Flow;

const ORDER: &str = "[[event]]\non = 2027-03-20\nuntil = 2027-04-20\nwhat = \"housing order\"\n";

/// Bird-days in the yard on the days of an order.
fn in_yard_under_order(covered: bool, netted: bool) -> f64 {
    let mut model = site("2027-03-01", 1, 8.0, &format!("{}{ORDER}", plot("meadow", 100.0, 5.0, "")));
    (model.base.yard.covered, model.base.yard.netted) = (covered, netted);
    let drivers = drivers(&model, &model.base, 0);
    let mut days = 0.0;
    run(&model.base, &drivers, &turn(1, 14.0), |view| {
        assert_eq!(view.birds.housed, view.world.housed && !covered && !netted);
        if view.world.housed {
            days += view.birds.yard_bird_days;
        }
    });
    days
}

#[test]
fn under_an_order_birds_are_in_a_roofed_or_netted_yard_and_in_no_other() {
    assert_eq!(in_yard_under_order(false, false), 0.0);
    let netted = in_yard_under_order(false, true);
    assert!(netted > 8.0, "{netted}");
    assert_eq!(in_yard_under_order(true, false), netted);
}

fn with_pullets(join: &str) -> SiteModel {
    let text = format!(
        "{}{}[birds.young]\nclass = \"pullet\"\nnumber = 4\narrive = 2027-05-01\nisolate = {{ plot = \"apart\", days = 30 }}\n{join}",
        plot("meadow", 100.0, 5.0, ""),
        plot("apart", 60.0, 9.0, "")
    );
    site("2027-03-01", 1, 8.0, &text)
}

/// Bird-days on the plot apart, manure nitrogen there and the newcomers' infection, day by day, of
/// groups of so many pullets isolated there together.
fn apart(groups: &[f64]) -> Vec<[f64; 3]> {
    let group = |(i, number): (usize, &f64)| {
        format!(
            "[birds.young{i}]\nclass = \"pullet\"\nnumber = {number}\narrive = 2027-05-01\n\
             isolate = {{ plot = \"apart\", days = 30 }}\n"
        )
    };
    let groups: String = groups.iter().enumerate().map(group).collect();
    let plots = format!("{}{}", plot("meadow", 100.0, 5.0, ""), plot("apart", 60.0, 9.0, ""));
    let model = site("2027-03-01", 1, 8.0, &format!("{plots}{groups}"));
    let drivers = drivers(&model, &model.base, 0);
    let mut days = Vec::new();
    run(&model.base, &drivers, &turn(1, 14.0), |view| {
        let zone = view.world.constants.plots[1].zones.start;
        let infection = view.world.parties.iter().skip(1).find(|party| party.birds > 0.0).map_or(0.0, |p| p.infection);
        days.push([view.world.birds_on[1].bird_days, view.run().flow(zone, Flow::ManureN), infection]);
    });
    days
}

#[test]
fn groups_isolated_together_are_as_one_group() {
    let (one, two) = (apart(&[6.0]), apart(&[2.0, 4.0]));
    assert!(one.iter().any(|[out, ..]| *out > 1.0), "they are out");
    for (day, (one, two)) in one.iter().zip(&two).enumerate() {
        for (a, b) in one.iter().zip(two) {
            assert!((a - b).abs() <= 1e-9 * a.abs(), "day {day}: {one:?} {two:?}");
        }
    }
}

/// Pullets kept apart: in a coop of their own they are on no ground, and what they drop goes to the heap.
#[test]
fn birds_in_a_coop_of_their_own_reach_no_plot() {
    let young = |isolate: &str| {
        let birds = format!("[birds.young]\nclass = \"pullet\"\nnumber = 6\narrive = 2027-05-01\n{isolate}");
        site("2027-03-01", 1, 0.0, &format!("{}{birds}", plot("meadow", 100.0, 5.0, "")))
    };
    // Bird-days outdoors and nitrogen in the heap 30 days after they came, and bird-days of the year.
    let seen = |model: &SiteModel| {
        let drivers = drivers(model, &model.base, 0);
        let (mut out, mut heap, mut of_year, mut day) = (0.0, 0.0, 0.0, 0);
        run(&model.base, &drivers, &turn(1, 14.0), |view| {
            let here = view.birds.yard_bird_days + view.world.birds_on[0].bird_days;
            of_year += here;
            (out, heap) = if day == 90 { (of_year, view.world.heap.n_kg) } else { (out, heap) };
            day += 1;
        });
        [out, heap, of_year]
    };
    let [out, heap, of_year] = seen(&young("isolate = { indoors = true, days = 30 }\n"));
    let [out_of_plot, heap_of_plot, _] = seen(&young("isolate = { plot = \"meadow\", days = 30 }\n"));
    assert_eq!(out, 0.0);
    assert!(out_of_plot > 30.0 && of_year > 300.0, "{out_of_plot} {of_year}");
    assert!(heap > 1.5 * heap_of_plot && heap_of_plot > 0.0, "{heap} {heap_of_plot}");
}

/// Eggs of all birds a day, g, on a day of the run.
fn eggs_on(model: &SiteModel, day: usize) -> f64 {
    let drivers = drivers(model, &model.base, 0);
    let mut eggs = Vec::new();
    run(&model.base, &drivers, &turn(1, 14.0), |view| {
        eggs.push(view.world.parties.iter().map(|party| party.egg_g).sum::<f64>());
    });
    eggs[day]
}

#[test]
fn pullets_that_join_layers_are_layers_after_their_isolation() {
    let layer = with_pullets("").base.birds[0].params.egg_mass;
    let joined = with_pullets("then_join = \"flock\"\n");
    let near = |found: f64, hens: f64| assert!((found - hens * layer).abs() < 1e-9, "{found} is not {hens} x {layer}");
    near(eggs_on(&joined, 70), 8.0);
    near(eggs_on(&joined, 100), 12.0);
    near(eggs_on(&with_pullets(""), 100), 8.0);
}
