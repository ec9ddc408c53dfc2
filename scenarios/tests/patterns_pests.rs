//! Patterns of pests with a soil stage.
#![allow(clippy::unwrap_used)]

mod common;

use common::*;
use jiff::civil::Date;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};

/// Adults risen from plot 0 by the end of each day, per m², first year.
fn risen(model: &scenarios::SiteModel, draw: u64, strategy: &StrategySpec) -> (Vec<f64>, f64) {
    let drivers = drivers(model, &model.base, draw);
    let (mut days, mut bird_days) = (Vec::new(), 0.0);
    run(&model.base, &drivers, strategy, |view| {
        days.push(over_plot(&view.run(), 0, |z| view.ground().pests[view.world.constants.zones[z].pests.start].risen));
        bird_days += view.world.birds_on[0].bird_days / view.world.site.plots[0].area_m2;
    });
    (days, bird_days)
}

/// Open plot 0 for a fortnight about `centre` (day of the run), else the yard.
fn fortnight(start: Date, centre: i64) -> StrategySpec {
    let day = |n: i64| start.checked_add(jiff::Span::new().days(n)).unwrap();
    dated(&[(start, &[]), (day(centre - 7), &[0]), (day(centre + 7), &[])])
}

/// Pattern 5: a stay in the emergence window cuts that year's emergence several times more than
/// the same bird-days 40 days before or 14 days after. Not above what trials report: 0–40 %
/// (KBS 1990, preliminary: 25–40 % less damage; the others found less or nothing).
#[test]
fn a_stay_in_the_window_counts_several_times_more() {
    for (species, canopy) in [
        ("apple sawfly", "apple trees"),
        ("european cherry fruit fly", "cherry trees"),
        ("plum sawfly", "plum trees"),
        ("western cherry fruit fly", "cherry trees"),
    ] {
        let pest = format!(
            "canopy = \"{canopy}\"\n[[plot.orchard.pest]]\nspecies = \"{species}\"\nstart = \"10 per m2\"\nneighbours = \"none\""
        );
        let model = site("2027-01-01", 1, 14.0, &plot("orchard", 140.0, 12.0, &pest));
        let shifts = [-60, -40, -21, -14, -7, 0, 7, 14, 21];
        let mut cuts = vec![Vec::new(); shifts.len()];
        let mut used = Vec::new();
        for draw in 0..6 {
            let (alone, _) = risen(&model, draw, &spec(StrategyKind::AllShut));
            let total = *alone.last().unwrap();
            let peak = alone.iter().position(|&r| r > 0.5 * total).unwrap() as i64;
            for (shift, cut) in shifts.iter().zip(&mut cuts) {
                let (with, bird_days) = risen(&model, draw, &fortnight(model.base.start, peak + shift));
                cut.push(1.0 - with.last().unwrap() / total);
                if *shift == -7 {
                    used.push(bird_days);
                }
            }
        }
        print!("{species}: {:.2} bird-days/m2;", mean(&used));
        for (shift, cut) in shifts.iter().zip(&cuts) {
            print!(" {shift:+} d {:.0} %", 100.0 * mean(cut));
        }
        println!();
        let at = |shift: i64| mean(&cuts[shifts.iter().position(|&s| s == shift).unwrap()]);
        assert!((0.2..0.4).contains(&at(-7)), "{species}");
        assert!(at(-7) > 4.0 * at(-40) && at(-7) > 4.0 * at(14), "{species}");
        assert!(at(-60) < 0.08 && at(21) < 0.02, "{species}");
    }
}
