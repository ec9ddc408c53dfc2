//! The search against answers known in closed form.

use super::*;
use sim_engine::measures::Measure;

/// A tally of so many draws, of which these shares hold, with this cover.
fn tally(draws: u64, held: &[u64], all_held: u64, cover: f64) -> Tally {
    let mut tally = Tally { draws, held: held.to_vec(), all_held, ..Tally::new(held.len()) };
    for _ in 0..draws {
        tally.measures[Measure::MeanCover as usize].add(cover);
    }
    tally
}

fn plan(limits: usize, draws: u64) -> CarryPlan {
    CarryPlan { strategies: 1, limits, draws, required_reliability: 0.9, present: 14, most: 2000 }
}

/// A limit on nitrogen alone: floor(limit × area ÷ N per bird and year outdoors), for each draw
/// its own N per bird (facts: 0.584 kg a hen, of which some falls in the house).
#[test]
fn a_nitrogen_limit_has_its_closed_form() {
    for (limit_kg_ha, area_ha, per_bird) in [(170.0, 0.0876, 0.584), (170.0, 0.04, 0.32), (60.0, 0.0876, 0.739)] {
        let draws = 40;
        let of_draw = |draw: u64| per_bird * (1.0 + 0.01 * draw as f64);
        let mut attempt = |asks: &[Ask]| {
            let one = |&(_, flock): &Ask| {
                let holds = |draw: &u64| flock as f64 * of_draw(*draw) / area_ha <= limit_kg_ha;
                let held = (0..draws).filter(holds).count() as u64;
                tally(draws, &[held], held, 0.9)
            };
            Ok(asks.iter().map(one).collect())
        };
        let found = carry(&plan(1, draws), &mut attempt).unwrap().remove(0);
        // Nine of ten draws hold: the draw that decides is number 35, counted from 0.
        assert_eq!(found.birds, (limit_kg_ha * area_ha / of_draw(35)).floor() as u64);
        assert_eq!(found.order, [(0, found.birds)]);
        assert!(found.low <= found.birds && found.birds <= found.high && !found.beyond);
        assert_eq!(found.steepest, None);
    }
}

/// Noy-Meir's sward (J. Ecol. 63:459, 1975) at its upper root: the flock at which it is lost is
/// floor of the critical stocking g(K+Vh)²/(4K c), and cover falls fastest there.
#[test]
fn the_critical_stocking_of_noy_meir_is_found() {
    let (growth, capacity, half, intake, area_m2) = (0.06, 300.0, 60.0, 0.028e3, 100.0);
    let critical = growth * (capacity + half) * (capacity + half) / (4.0 * capacity * intake) * area_m2;
    let root = |flock: f64| {
        let q = intake * flock / area_m2;
        let middle = 0.5 * (capacity - half);
        let under = middle * middle + capacity * half - q * capacity / growth;
        if under < 0.0 { 0.0 } else { middle + under.sqrt() }
    };
    let mut attempt = |asks: &[Ask]| {
        let one = |&(_, flock): &Ask| {
            let sward = root(flock as f64);
            let held = if sward > 0.0 { 30 } else { 0 };
            tally(30, &[held], held, sward / capacity)
        };
        Ok(asks.iter().map(one).collect())
    };
    let found = carry(&plan(1, 30), &mut attempt).unwrap().remove(0);
    assert_eq!(found.birds, critical.floor() as u64);
    let steepest = found.steepest.unwrap();
    assert!((steepest - critical).abs() <= 1.0, "{steepest} for {critical}");
}

/// What fails first, and next; nothing more than is needed is tried.
#[test]
fn limits_are_told_in_the_order_they_give_way() {
    let bears = [90, 23, 400, u64::MAX];
    let mut tried = 0;
    let mut attempt = |asks: &[Ask]| {
        tried += asks.len();
        let one = |&(_, flock): &Ask| {
            let held: Vec<u64> = bears.iter().map(|&most| if flock <= most { 20 } else { 1 }).collect();
            let all = *held.iter().min().unwrap();
            tally(20, &held, all, 1.0 / (1.0 + flock as f64))
        };
        Ok(asks.iter().map(one).collect())
    };
    let found = carry(&plan(4, 20), &mut attempt).unwrap().remove(0);
    assert_eq!((found.birds, found.order[0], found.order[1]), (23, (1, 23), (0, 90)));
    assert!(tried < 45, "{tried} flocks were tried");
    // Twenty draws cannot make nine of ten certain.
    assert_eq!(found.low, 0);
}

#[test]
fn ground_that_bears_nothing_or_anything() {
    let never = |all: u64| move |asks: &[Ask]| Ok(asks.iter().map(|_| tally(50, &[all], all, 0.5)).collect());
    let nothing = carry(&plan(1, 50), &mut never(3)).unwrap().remove(0);
    assert_eq!((nothing.birds, nothing.high, nothing.order.clone()), (0, 0, vec![(0, 0)]));
    let anything = carry(&plan(1, 50), &mut never(50)).unwrap().remove(0);
    assert_eq!((anything.birds, anything.beyond), (2000, true));
    assert!(anything.order.is_empty());
}
