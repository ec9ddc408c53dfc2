//! Runs looked at closely: the plots add up to what the site's measures say, nitrogen balances,
//! and memory has a bound.

#![allow(clippy::unwrap_used)]

mod common;

use analysis::experiment::ArmId;
use analysis::run_detail::{EVERY_DAYS, NitrogenPath, Quantity, RunDetail, Weekly, detailed_draws};
use common::{compared, site};
use sim_engine::measures::Measure;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1e-9)
}

#[test]
fn plots_add_up_to_the_site() {
    let (model, _) = site(|_| ());
    let c = compared(&model, &["all-open"], 3);
    let area: f64 = model.base.plots.iter().map(|plot| plot.area_m2).sum();
    for run in [ArmId::NoBirds, ArmId::Nothing, ArmId::Strategy(0)] {
        let value = |draw: usize, measure| c.values(run, measure).unwrap()[draw];
        assert_eq!(c.detail(run).len(), 3);
        for (draw, detail) in c.detail(run).iter().enumerate() {
            let sum = |pick: fn(&analysis::run_detail::PlotFigures) -> f64| detail.plots.iter().map(pick).sum::<f64>();
            assert!(near(sum(|p| p.harvest.kept_kg), value(draw, Measure::HarvestKept)));
            assert!(near(sum(|p| p.crop_taken_kg), value(draw, Measure::CropTaken)));
            assert!(near(sum(|p| p.soil_thrown_kg), value(draw, Measure::SoilThrown)));
            let by_area = |way: NitrogenPath| -> f64 {
                let plots = detail.plots.iter().zip(&model.base.plots);
                plots.map(|(figures, plot)| figures.nitrogen.get(way) * plot.area_m2).sum::<f64>() / area
            };
            assert!(near(by_area(NitrogenPath::Leached), value(draw, Measure::NitrogenLeached)));
            // The fullest twelve months have no less than the mean of all.
            assert!(by_area(NitrogenPath::Manure) <= value(draw, Measure::NitrogenLoad) * (1.0 + 1e-9));
        }
    }
}

/// Gates stay shut on beds with a crop, so crops stand on open ground here: they are eaten too.
#[test]
fn what_birds_eat_on_plots_adds_up_to_the_site() {
    let (model, _) = site(|model| {
        for ground in model.base.plots.iter_mut().flat_map(|plot| &mut plot.grounds) {
            ground.bed = false;
            ground.crops.iter_mut().for_each(|crop| crop.harvest = None);
        }
    });
    let c = compared(&model, &["all-open"], 1);
    let value = |measure| c.values(ArmId::Strategy(0), measure).unwrap()[0];
    let plots = &c.detail(ArmId::Strategy(0))[0].plots;
    assert!(plots.iter().any(|plot| plot.crop_taken_kg > 0.0));
    let green: f64 = plots.iter().map(|plot| plot.green_eaten_kg).sum();
    let insects: f64 = plots.iter().map(|plot| plot.insects_eaten_kg).sum();
    assert!(near(green, value(Measure::GreenEaten)), "{green}");
    assert!(near(insects, value(Measure::InsectsEaten)), "{insects}");
}

#[test]
fn nitrogen_in_is_out_and_stored() {
    let (model, _) = site(|_| ());
    let c = compared(&model, &["all-open", "by-eye"], 2);
    for run in [ArmId::NoBirds, ArmId::Strategy(0), ArmId::Strategy(1)] {
        for plot in c.detail(run).iter().flat_map(|detail| &detail.plots) {
            let sum = |ways: &[NitrogenPath]| ways.iter().map(|&way| plot.nitrogen.get(way)).sum::<f64>();
            let (inward, outward) = (sum(&NitrogenPath::IN), sum(&NitrogenPath::OUT) + plot.nitrogen.stored);
            assert!((inward - outward).abs() < 1e-6 * inward.max(1.0), "{inward} {outward}");
        }
    }
}

#[test]
fn without_birds_nobody_comes_and_the_weeks_are_all_there() {
    let (model, _) = site(|_| ());
    let c = compared(&model, &["all-open"], 2);
    for detail in c.detail(ArmId::NoBirds) {
        assert!(detail.plots.iter().all(|plot| plot.stays == 0.0 && plot.shortest_rest_d.is_nan()));
        assert_eq!(detail.weekly.weeks(), model.base.days.div_ceil(EVERY_DAYS));
    }
    let with = c.detail(ArmId::Strategy(0));
    let visited =
        |detail: &RunDetail| detail.plots.iter().filter(|plot| plot.stays > 0.0 && plot.longest_stay_d > 0.0).count();
    assert!(with.iter().map(visited).all(|plots| plots > 3));
    // No bed of lettuce is harvested sooner than the waiting period after the birds.
    let plot = model.base.plots.iter().position(|plot| plot.pests.is_empty()).unwrap();
    assert!(with[0].weekly.at(0, plot, Quantity::Pests).is_nan() && with[0].weekly.at(0, plot, Quantity::Cover) > 1.0);
}

#[test]
fn memory_has_a_bound() {
    let (model, _) = site(|model| {
        let plots = model.base.plots.clone();
        model.base.plots = plots.iter().cycle().take(24).cloned().collect();
        model.base.days = 3 * 366;
    });
    let each = Weekly::bytes(24, model.base.days);
    let draws = detailed_draws(&model, 40);
    assert!(draws * each * 42 <= 64 << 20 && draws > 10, "{draws}");
    let (usual, _) = site(|_| ());
    assert_eq!(detailed_draws(&usual, 12), 200);
}
