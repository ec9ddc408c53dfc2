//! A small site built in code: one plot of sward, numbers of the starting set, constant weather.

use jiff::civil::date;
use sim_engine::drivers::Drivers;
use sim_engine::kinds::{CoverNumbers, CoverPlant, PestNumbers, ProcessNumbers, Soil, SoilNumbers};
use sim_engine::site::{Ground, House, Plot, Rules, Site, Yard};
use sim_engine::weather::{DayWeather, Place};

/// A set of numbers, all 0 but for those named; panics at a name the set does not have.
macro_rules! numbers {
    ($set:ty { $( $field:ident: $value:expr ),* $(,)? }) => {{
        let mut numbers = <$set>::from_values(&vec![0.0; <$set>::FIELDS.len()]).unwrap();
        $( numbers.$field = $value; )*
        numbers
    }};
}

/// The plant–bird core: growth and intake, and nothing else that acts on the sward.
pub fn core_cover(growth_rate: f64, capacity: f64) -> CoverNumbers {
    numbers!(CoverNumbers {
        growth_rate: growth_rate,
        capacity: capacity,
        base_temperature: 1.0,
        best_temperature: 19.0,
        ceiling_temperature: 33.0,
        cover_per_mass: 0.011,
        bitten_growth: 1.0,
        recovery_days: 22.0,
        bite_spread: 2.0,
        touch_setback: 0.2,
        preference: 1.0,
        rooting_depth: 0.6,
        depletion_fraction: 0.5,
        shade_tolerance: 0.3,
    })
}

/// Process numbers under which light, water and nitrogen are always ample.
pub fn ample(intake_half: f64) -> ProcessNumbers {
    numbers!(ProcessNumbers {
        light_half: 0.0,
        light_full: 18.0,
        nitrogen_half: 0.0,
        uptake_share: 0.6,
        intake_half: intake_half,
        crop_coefficient_bare: 0.3,
        crop_coefficient_full: 0.97,
        evaporation_bias: 1.0,
        dead_decay: 0.012,
        q10: 2.0,
        settling: 0.04,
        distance_scale: 20.0,
        home_pull: 2.0,
        plot_pull: 0.35,
        feed_energy: 2.8,
        green_energy: 1.53,
        insect_room: 1.0,
        worm_ripen_intercept: 6.0,
        worm_ripen_slope: 0.14,
        worm_q10: 1.6,
        worm_half_life: 60.0,
        worm_half_uptake: 3.0,
        weeding_interval: 21.0,
        soil_lag: 3.0,
        soil_swing: 0.35,
        leaching_depth_water: 135.0,
    })
}

/// A pest of which nothing moves or dies by itself.
pub fn still_pest() -> PestNumbers {
    numbers!(PestNumbers {
        emergence: 500.0,
        emergence_spread: 40.0,
        rise_lead: 100.0,
        egg_to_drop: 300.0,
        summer_soil: 300.0,
        adult_life: 20.0,
        reach_resting: 1.0,
        reach_risen: 1.0,
        season_end: 300.0,
        upper_temperature: 35.0,
    })
}

/// One plot of 100 m² of this cover for `days` days in steps of a day cut in `steps`.
pub fn one_plot(cover: CoverNumbers, process: ProcessNumbers, days: usize, steps: u32) -> Site {
    let soil = numbers!(SoilNumbers {
        field_capacity: 0.25,
        wilting_point: 0.12,
        saturation_room: 45.0,
        drainage_rate: 0.5,
        curve_number_good: 67.0,
        curve_number_bare: 88.0,
        organic_nitrogen: 4500.0,
        nitrogen_supply: 0.4,
        phosphorus: 500.0,
    });
    Site {
        place: Place { latitude_deg: 53.0, elevation_m: 50.0 },
        start: date(2027, 5, 1),
        days,
        steps_per_day: steps,
        process,
        soils: vec![Soil { name: "loam".into(), numbers: soil }],
        covers: vec![CoverPlant { name: "sward".into(), numbers: cover }],
        weeds: vec![],
        creepers: vec![],
        crops: vec![],
        canopies: vec![],
        pests: vec![],
        birds: vec![],
        yard: Yard {
            area_m2: 45.0,
            drained: true,
            cleaned_every_days: None,
            covered: false,
            netted: false,
            shade: 0.0,
        },
        house: House { night_share: 0.45 },
        groups: vec![],
        plots: vec![plot()],
        events: vec![],
        rules: Rules {
            waiting_days_touching: 120,
            waiting_days_other: 90,
            shut_on_mud: false,
            shut_on_frozen: false,
            shut_on_snow: false,
        },
    }
}

fn plot() -> Plot {
    Plot {
        name: "run".into(),
        area_m2: 100.0,
        distance_m: 5.0,
        soil: 0,
        drainage_factor: 1.0,
        rings: 1,
        grounds: vec![Ground { share: 1.0, bed: false, crops: vec![] }],
        cover: 0,
        cover_start: 0.9,
        weeds: vec![],
        creepers: vec![],
        canopy: None,
        canopy_harvest: vec![],
        pests: vec![],
        drip: false,
        guards: vec![],
        care: vec![],
        worm_eggs: 0.0,
    }
}

/// Wet days at the best temperature of [`core_cover`].
pub fn best_days(site: &Site) -> Drivers {
    let day =
        |i: usize| DayWeather::new(site.start.checked_add(jiff::Span::new().days(i as i64)).unwrap(), 19.0, 19.0, 40.0);
    Drivers::new(site, &(0..site.days).map(day).collect::<Vec<_>>())
}
