//! Patterns of wet, frozen and snowed-in ground under birds. Numbers are those of the shipped library.
#![allow(clippy::unwrap_used)]

mod common;

use common::*;
use jiff::civil::{Date, date};
use scenarios::{SiteModel, site_file};
use sim_engine::drivers::Drivers;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::ledger::flows::Flow;

/// Drivers of a draw in whose weather every rain is so many times what it was.
fn rained_on(model: &SiteModel, draw: u64, times: f64) -> Drivers {
    let mut days = weather(model, draw);
    days.iter_mut().for_each(|day| day.rain_mm *= times);
    Drivers::new(&model.base, &days)
}

/// A plot of so many m² on a soil, and ten hens, from a date on.
fn on_soil(soil: &str, area_m2: f64, start: &str, years: u32) -> SiteModel {
    site(start, years, 10.0, &plot("p", area_m2, 5.0, "").replace("\"loam\"", &format!("\"{soil}\"")))
}

/// Ten hens from a date on and these plots, under the weather of another climate at its own latitude.
fn in_climate(climate: &str, start: &str, plots: &str) -> SiteModel {
    let latitude = library().climate(climate).unwrap().latitude_deg;
    let text = format!(
        "format = 2\nlatitude = \"{latitude} deg\"\n[run]\nstart = {start}\nyears = 1\n\
         [weather]\nclimate = \"{climate}\"\n[yard]\narea = \"45 m2\"\n\
         [birds.flock]\nclass = \"layer\"\nnumber = 10\n[rules]\nshut_on = []\n{plots}"
    );
    match site_file::read_text("wet.toml", &text, library(), &|_| Err("no companions".into())) {
        Ok(model) => model,
        Err(faults) => panic!("{faults}"),
    }
}

fn after(day: Date, days: i64) -> Date {
    day.checked_add(jiff::Span::new().days(days)).unwrap()
}

/// Cover lost against no birds, days of whole cover from the stay to 60 days after it, per bird-day and m².
fn cost_of_a_bird_day(model: &SiteModel, drivers: &Drivers, from: Date, days: i64) -> f64 {
    let (to, end) = (after(from, days), after(from, days + 60));
    let stay = dated(&[(date(2027, 1, 1), &[]), (from, &[0]), (to, &[])]);
    let (mut lost, mut bird_days) = (0.0, 0.0);
    let counts = |day: usize| (from..end).contains(&drivers.days[day].date);
    run(&model.base, drivers, &stay, |view| {
        if counts(view.day) {
            lost -= view.world.cover_outside_beds(0);
            bird_days += view.world.birds_on[0].pressure.bird_days;
        }
    });
    no_birds(&model.base, drivers, |view| {
        if counts(view.day) {
            lost += view.world.cover_outside_beds(0);
        }
    });
    lost / bird_days
}

/// Common practice: lawns are lost in winter. A bird-day per m² in December costs a sward more cover than one in May.
#[test]
fn a_bird_day_in_december_costs_more_than_one_in_may() {
    let model = on_soil("loam", 20.0, "2027-01-01", 2);
    for draw in 0..6 {
        let drivers = drivers(&model, &model.base, draw);
        // Fewer bird-days a day in December: at equal ones the stay is longer.
        let may = cost_of_a_bird_day(&model, &drivers, date(2027, 5, 1), 14);
        let december = cost_of_a_bird_day(&model, &drivers, date(2027, 12, 1), 28);
        println!("draw {draw}: a bird-day per m2 costs {may:.2} days of cover in May, {december:.2} in December");
        assert!(december > may);
    }
}

/// Mean cover from October to March of ground that birds are let into on 1 October, by draw.
fn wet_half_year(model: &SiteModel, draws: u64, rain: f64, strategy: &StrategySpec) -> Vec<f64> {
    let of_draw = |draw| {
        let drivers = rained_on(model, draw, rain);
        let (mut sum, mut days) = (0.0, 0.0);
        run(&model.base, &drivers, strategy, |view| {
            if view.day < 182 {
                sum += view.world.cover_outside_beds(0);
                days += 1.0;
            }
        });
        sum / days
    };
    (0..draws).map(of_draw).collect()
}

fn always() -> StrategySpec {
    spec(StrategyKind::Continuous { plot: 0 })
}

/// More rain makes winter ground no greener under birds, on loam and clay.
#[test]
fn more_rain_in_the_wet_half_year_keeps_no_more_cover() {
    for (soil, area_m2) in [("loam", 50.0), ("loam", 100.0), ("clay", 50.0), ("clay", 100.0)] {
        let model = on_soil(soil, area_m2, "2027-10-01", 1);
        let [usual, wet] = [1.0, 1.8].map(|rain| mean(&wet_half_year(&model, 6, rain, &always())));
        println!("{soil}, {area_m2} m2: cover {usual:.3}, with 1.8 times the rain {wet:.3}");
        assert!(wet <= usual);
    }
}

/// Where summers are dry, rain still feeds what birds eat.
#[test]
fn rain_keeps_more_cover_in_a_dry_summer() {
    let model = in_climate("mediterranean", "2027-04-01", &plot("p", 200.0, 5.0, ""));
    for draw in 0..4 {
        let [dry, usual, wet] = [0.5, 1.0, 1.8].map(|rain| {
            let drivers = rained_on(&model, draw, rain);
            let (mut sum, mut days) = (0.0, 0.0);
            run(&model.base, &drivers, &always(), |view| {
                if (60..183).contains(&view.day) {
                    sum += green_cover(&view.run(), 0);
                    days += 1.0;
                }
            });
            sum / days
        });
        println!(
            "draw {draw}: green of June to September {dry:.3}, {usual:.3}, {wet:.3} by 0.5, 1 and 1.8 times the rain"
        );
        assert!(dry < usual && usual < wet);
    }
}

/// Keepers and extension: clay suffers under winter birds where sand bears them. It stays wet longer.
#[test]
fn clay_fares_worse_than_sand_under_winter_birds() {
    let of = |soil| wet_half_year(&on_soil(soil, 100.0, "2027-10-01", 1), 4, 1.0, &always());
    for (draw, (clay, sand)) in of("clay").iter().zip(of("sand")).enumerate() {
        println!("draw {draw}: cover of the wet half-year on clay {clay:.3}, on sand {sand:.3}");
        assert!(*clay < sand - 0.02);
    }
    let soft_days = |soil: &str| {
        let model = on_soil(soil, 100.0, "2027-10-01", 1);
        let drivers = drivers(&model, &model.base, 0);
        let mut soft = 0;
        no_birds(&model.base, &drivers, |view| {
            let here = &view.world.constants.zones[0];
            soft += usize::from(view.ground().zones[0].water > here.available_water + 0.1 * here.saturation_room);
        });
        soft
    };
    let days = ["sand", "loam", "clay"].map(soft_days);
    println!("days a year on which sand, loam and clay are wet: {days:?}");
    assert!(days.is_sorted() && days[2] > 3 * days[0]);
}

/// Off wet ground the sward can keep more cover, clay under winter birds.
#[test]
fn off_wet_ground_can_keep_more_cover() {
    let model = on_soil("clay", 100.0, "2027-10-01", 1);
    let off = StrategyKind::Weather { shade_above_c: None, off_wet_ground: true, otherwise: 0 };
    let (mut on, mut kept) = (Vec::new(), Vec::new());
    for draw in 0..4 {
        let drivers = drivers(&model, &model.base, draw);
        for (which, ends) in [(0, &mut on), (1, &mut kept)] {
            let specs = [always(), spec(off.clone())];
            let mut strategy = sim_engine::gates::build(&model.base, &specs, which);
            let mut watch = End(0.0);
            let options = sim_engine::run::RunOptions::default();
            sim_engine::run::simulate(&model.base, &drivers, strategy.as_mut(), options, &mut watch).unwrap();
            ends.push(watch.0);
        }
    }
    println!("cover at the end of winter on clay: always open {on:.3?}, off wet ground {kept:.3?}");
    assert!(on.iter().zip(&kept).all(|(on, kept)| kept > on));
}

/// Cover at the end of March.
struct End(f64);

impl sim_engine::run::recorder::Recorder for End {
    fn reads_ground(&self, _: usize) -> bool {
        true
    }
    fn day(&mut self, view: &sim_engine::run::recorder::DayView) {
        if view.day == 181 {
            self.0 = view.world.cover_outside_beds(0);
        }
    }
}

/// Under more than 5 mm of snow water birds eat no green, scratch nothing and dig nothing; on frozen ground without snow they
/// scratch nothing.
#[test]
fn snow_and_frost_end_grazing_and_digging() {
    let orchard = "canopy = \"plum trees\"\n[[plot.p.pest]]\nspecies = \"plum sawfly\"\nstart = \"10 per m2\"";
    let model = in_climate("continental", "2027-10-01", &plot("p", 100.0, 5.0, orchard));
    let flows = [Flow::EatenCover, Flow::PestCaught, Flow::EatenInsects];
    let (mut snowed, mut froze, mut caught) = (0, 0, 0.0);
    for draw in 0..4 {
        let drivers = drivers(&model, &model.base, draw);
        let mut before = [0.0; 3];
        let (mut thrown, mut disturbed) = (0.0, 0.0);
        run(&model.base, &drivers, &always(), |view| {
            let (day, zone) = (&drivers.days[view.day], &view.ground().zones[0]);
            let now = flows.map(|flow| view.run().flow(0, flow));
            let out = view.world.birds_on[0].bird_days;
            if day.snow_mm > 5.0 && out > 0.0 {
                snowed += 1;
                assert_eq!(now, before);
                assert!(zone.disturbed <= disturbed && zone.thrown == thrown);
            } else if day.frozen && out > 0.0 {
                froze += 1;
                assert!(zone.disturbed <= disturbed && now[1] == before[1]);
            }
            (before, thrown, disturbed) = (now, zone.thrown, zone.disturbed);
        });
        caught += before[1];
    }
    println!("{snowed} days under snow, {froze} more on frozen ground");
    assert!(snowed > 30 && froze > 10 && caught > 0.0);
}
