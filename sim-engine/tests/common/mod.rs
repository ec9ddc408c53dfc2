//! Small sites built in code, numbers of the starting set, constant weather: for the tests in
//! this folder, and as `crate::testing` for those beside the formulas in `src`.
#![allow(dead_code, unused_imports)] // Either uses its own part.

use jiff::civil::date;
use sim_engine::drivers::{Drivers, GroundDay, PlantDay};
use sim_engine::ledger::flows::{Currency, Flow, Flows};
use sim_engine::plot::constants::SiteConstants;
use sim_engine::plot::context::{StandingCrop, ZoneContext, ZoneRates};
use sim_engine::site::{CropPlan, Ground, HardRules, House, Plot, PlotCanopy, PlotPest, Site, When, Yard};
use sim_engine::species::{
    BirdClass, BirdParams, Canopy, CanopyParams, CoverParams, CoverPlant, CreeperParams, CreeperPlant, CropParams,
    CropPlant, Host, KeepersCount, Pest, PestParams, ProcessParams, Soil, SoilParams, Thermometer, WeedParams,
    WeedPlant,
};
use sim_engine::weather::{DayWeather, Place};

/// Fails unless `got` is within `tolerance` of `want`.
#[track_caller]
pub fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "got {got}, want {want} within {tolerance:e}");
}

/// Fails unless `got` is `want` but for rounding.
#[track_caller]
pub fn same(got: f64, want: f64) {
    near(got, want, 1e-12 * want.abs().max(1.0));
}

/// Share lost to a hazard, by the standard library.
pub fn hazard_to_prob(hazard: f64) -> f64 {
    -(-hazard).exp_m1()
}

/// A set of numbers, all 0 but for those named; panics at a name the set does not have.
macro_rules! params {
    ($set:ty { $( $field:ident: $value:expr ),* $(,)? }) => {{
        let mut params = <$set>::from_values(&vec![0.0; <$set>::FIELDS.len()]).unwrap();
        $( params.$field = $value; )*
        params
    }};
}

pub(crate) use params;

/// The plant–bird core: growth and intake, and nothing else that acts on the sward.
pub fn core_cover(growth_rate: f64, capacity: f64) -> CoverParams {
    params!(CoverParams {
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
pub fn ample(intake_half: f64) -> ProcessParams {
    params!(ProcessParams {
        scratch_depth_turf: 2.0,
        scratch_depth_bed: 5.0,
        light_half: 0.0,
        light_full: 18.0,
        nitrogen_half: 0.0,
        uptake_share: 0.6,
        fixing_half: 60.0,
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
        weeding_kill_young: 0.95,
        weeding_kill_leafy: 0.85,
        weeding_kill_mature: 0.75,
        weeding_kill_shoots: 0.8,
        soil_lag: 3.0,
        soil_swing: 0.35,
        leaching_depth_water: 135.0,
        firm_deficit: 10.0,
        turf_scratching: 1.0,
        turf_opening: 1.0,
        snow_hides: 5.0,
    })
}

/// A pest of which nothing moves or dies by itself.
pub fn still_pest() -> PestParams {
    params!(PestParams {
        emergence: 500.0,
        emergence_spread: 40.0,
        egg_to_drop: 300.0,
        summer_soil: 300.0,
        adult_life: 20.0,
        depth: 5.0,
        depth_spread: 0.5,
        depth_active: 5.0,
        down_below: 100.0,
        in_soil: 1.0,
        fruit_stay: 4.0,
        season_end: 300.0,
        upper_temperature: 35.0,
        death_cold: 0.0,
        cold_below: 0.0,
    })
}

/// One plot of 100 m² of this cover for `days` days in steps of a day cut in `steps`.
pub fn one_plot(cover: CoverParams, process: ProcessParams, days: usize, steps: u32) -> Site {
    let soil = params!(SoilParams {
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
        place: Place { latitude_deg: 53.0, elevation_m: 50.0, above_weather_m: 0.0 },
        start: date(2027, 5, 1),
        days,
        steps_per_day: steps,
        process,
        soils: vec![Soil { name: "loam".into(), params: soil }],
        covers: vec![CoverPlant { name: "sward".into(), params: cover }],
        weeds: vec![],
        creepers: vec![],
        crops: vec![],
        canopies: vec![],
        pests: vec![],
        slugs: vec![],
        birds: vec![],
        yard: Yard {
            area_m2: 45.0,
            drained: true,
            cleaned_every_days: None,
            covered: false,
            netted: false,
            shade: 0.0,
        },
        house: House { night_share: 0.45, mobile: false },
        groups: vec![],
        plots: vec![plot()],
        events: vec![],
        rules: HardRules {
            waiting_days_touching: 120,
            waiting_days_other: 90,
            own_waits: Vec::new(),
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
        canopies: vec![],
        pests: vec![],
        slugs: vec![],
        drip: false,
        guards: vec![],
        nets: vec![],
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

/// Zones of the [`Garden`]: its sward, and its bed.
pub const SWARD: usize = 0;
pub const BED: usize = 1;

/// One plot of sward and a bed under trees with one of each plant and a pest of the trees, to try a
/// process on one of its zones by hand; the numbers are round ones near those of the library.
/// Nothing falls, grows, ages, decays or flies on its day but what a test sets.
pub struct Garden {
    pub site: Site,
    pub drivers: Drivers,
    pub constants: SiteConstants,
    pub day: GroundDay,
    pub plants: Vec<PlantDay>,
}

impl Garden {
    pub fn new() -> Self {
        Self::of(garden_site())
    }

    pub fn of(site: Site) -> Self {
        let drivers = best_days(&site);
        let constants = SiteConstants::new(&site);
        let plants = vec![PlantDay::default(); drivers.growers().len()];
        let day = GroundDay {
            dead_keep: 1.0,
            fruit_keep: 1.0,
            fresh_keep: 1.0,
            worm_keep: 1.0,
            worm_keep_hardy: 1.0,
            bare_of_snow: 1.0,
            diggable: 1.0,
            ..GroundDay::default()
        };
        Self { site, drivers, constants, day, plants }
    }

    /// The surroundings of a zone on which no crop stands.
    pub fn zone_context(&self, zone: usize) -> ZoneContext<'_> {
        let index = self.constants.zones[zone].plot;
        let plot = &self.site.plots[index];
        let of_plot = ZoneContext::of_plot(&self.day, &self.constants, plot, index, 0.0, &self.plants, &self.drivers);
        ZoneContext { here: &self.constants.zones[zone], ..of_plot }
    }

    /// Those of the bed while its crop stands.
    pub fn with_crop(&self) -> ZoneContext<'_> {
        let day = self.plants[self.drivers.slots[0].crop(0)];
        let crop = StandingCrop { params: &self.constants.species.crops[0], day, stands: true };
        ZoneContext { crop: Some(crop), ..self.zone_context(BED) }
    }
}

/// Neither short of water nor of nitrogen, rested, in steps of a day; nothing stands but what a test sets.
pub fn at_ease() -> ZoneRates {
    ZoneRates {
        water_factor: 1.0,
        nitrogen_factor: 1.0,
        rooting: 1.0,
        conditions: 1.0,
        rested: 1.0,
        ..ZoneRates::default()
    }
}

/// What of a currency crossed the border of a zone: in less out.
pub fn net(flows: &Flows, currency: Currency) -> f64 {
    let of_currency = Flow::ALL.iter().filter(|flow| flow.currency() == currency);
    of_currency.map(|flow| flow.sign() * flows.get(*flow)).sum()
}

/// The site of the [`Garden`].
pub fn garden_site() -> Site {
    let process = ProcessParams {
        nitrogen_half: 4.0,
        fruit_decay: 0.05,
        residue_fall: 0.008,
        dead_cover_per_mass: 0.004,
        humus_share: 0.3,
        mix_in: 0.05,
        soil_thrown: 0.4,
        firm_loosening: 0.015,
        seed_deepening: 0.02,
        insect_renewal: 0.08,
        insect_room: 0.4,
        feed_phosphorus: 0.006,
        feed_dry_matter: 0.88,
        feed_undigested: 0.27,
        green_undigested: 0.7,
        insect_nitrogen: 0.1,
        insect_phosphorus: 0.009,
        egg_nitrogen: 0.0193,
        egg_phosphorus: 0.002,
        body_nitrogen: 0.029,
        body_phosphorus: 0.006,
        uric_share: 0.65,
        volatilised: 0.35,
        rain_nitrogen: 0.03,
        nitrate_share: 0.9,
        weed_visible: 0.018,
        ..ample(60.0)
    };
    let mut site = one_plot(garden_cover(), process, 1, 1);
    site.weeds = vec![WeedPlant { name: "chickweed".into(), params: garden_weed() }];
    site.creepers = vec![CreeperPlant { name: "couch grass".into(), params: garden_creeper() }];
    site.crops = vec![garden_crop()];
    site.canopies = vec![Canopy { name: "plum trees".into(), evergreen: false, params: garden_canopy() }];
    let count = KeepersCount::of(&sawfly());
    site.pests = vec![Pest {
        name: "sawfly".into(),
        thermometer: Thermometer::Soil,
        host: Host::Canopy,
        params: sawfly(),
        count,
    }];
    let yearly = |month| When::Yearly { month, day: 1 };
    let in_bed =
        CropPlan { crop: 0, from: yearly(4), to: yearly(8), ends_when_ripe: false, harvest: None, cleared: false };
    let plot = &mut site.plots[0];
    plot.grounds =
        vec![Ground { share: 0.75, bed: false, crops: vec![] }, Ground { share: 0.25, bed: true, crops: vec![in_bed] }];
    plot.weeds = vec![(0, 1000.0)];
    plot.creepers = vec![(0, 50.0)];
    plot.canopies = vec![PlotCanopy { canopy: 0, share: 1.0, harvest: vec![] }];
    plot.pests = vec![PlotPest { pest: 0, start_per_m2: 4.0, neighbours: 1.0, hosts: vec![0] }];
    site
}

/// The garden in two rings, with a fly of its crop, and behind it 50 m² all of bed without trees.
pub fn two_plots(steps_per_day: u32) -> Site {
    let mut site = garden_site();
    site.steps_per_day = steps_per_day;
    site.pests.push(Pest {
        name: "fly".into(),
        thermometer: Thermometer::Air,
        host: Host::Crops(vec!["daisy family".into(), "cabbage family".into()]),
        params: sawfly(),
        count: KeepersCount::of(&sawfly()),
    });
    let fly = PlotPest { pest: 1, start_per_m2: 1.0, neighbours: 3.0, hosts: vec![] };
    let garden = &mut site.plots[0];
    garden.rings = 2;
    garden.pests.push(fly.clone());
    let in_bed = CropPlan { ends_when_ripe: true, ..garden.grounds[1].crops[0].clone() };
    let mut far = garden.clone();
    far.area_m2 = 50.0;
    far.distance_m = 40.0;
    far.rings = 1;
    far.grounds = vec![Ground { share: 1.0, bed: true, crops: vec![in_bed] }];
    far.weeds = vec![(0, 10.0), (0, 20.0)];
    far.creepers = vec![];
    far.canopies = vec![];
    far.pests = vec![fly];
    far.drainage_factor = 0.5;
    site.plots.push(far);
    site
}

fn garden_cover() -> CoverParams {
    CoverParams {
        out_of_reach: 20.0,
        bitten_growth: 0.2,
        touch_setback: 0.3,
        crown_regrowth: 0.5,
        crown_scratch_loss: 0.03,
        crown_death: 0.002,
        crown_recovery: 0.02,
        scratch_loss: 0.04,
        nitrogen_content: 0.025,
        phosphorus_content: 0.0032,
        ..core_cover(0.06, 300.0)
    }
}

fn garden_weed() -> WeedParams {
    params!(WeedParams {
        growth_rate: 0.15,
        base_temperature: 4.0,
        best_temperature: 22.0,
        ceiling_temperature: 36.0,
        cover_per_mass: 0.018,
        emergence_rate: 5e-5,
        emergence_disturbance: 1.5,
        emergence_cover: 2.0,
        seedling_mass: 0.01,
        bank_death: 0.128,
        bank_death_disturbed: 0.386,
        surface_share: 0.05,
        days_to_mature: 900.0,
        seeds_per_mass: 3.0,
        lost_before_bank: 0.65,
        seed_mass: 4e-4,
        seeds_blown_in: 10.0,
        death_mature: 0.03,
        out_of_reach: 6.0,
        preference: 2.0,
        scratch_loss_young: 0.9,
        scratch_loss: 0.5,
        crowding: 0.3,
        nitrogen_content: 0.03,
        phosphorus_content: 0.004,
        yield_loss_per_mass: 0.005,
    })
}

fn garden_creeper() -> CreeperParams {
    params!(CreeperParams {
        growth_rate: 0.12,
        base_temperature: 2.0,
        best_temperature: 21.0,
        ceiling_temperature: 34.0,
        cover_per_mass: 0.012,
        shooting_rate: 0.02,
        reserve_share: 0.35,
        reserve_room: 300.0,
        out_of_reach: 5.0,
        preference: 0.8,
        scratch_loss: 0.08,
        crowding: 0.6,
        nitrogen_content: 0.022,
        phosphorus_content: 0.003,
        yield_loss_per_mass: 0.004,
    })
}

fn garden_crop() -> CropPlant {
    let params = params!(CropParams {
        growth_rate: 0.15,
        capacity: 350.0,
        base_temperature: 4.0,
        best_temperature: 18.0,
        ceiling_temperature: 30.0,
        cover_per_mass: 0.012,
        planted_mass: 3.0,
        days_to_ripe: 600.0,
        harvest_share: 0.8,
        preference: 1.5,
        residue_preference: 0.5,
        scratch_loss: 0.3,
        residue_scratch_loss: 0.26,
        nitrogen_content: 0.028,
        phosphorus_content: 0.0035,
        greatest_yield_loss: 0.75,
        rooting_depth: 0.4,
        depletion_fraction: 0.3,
    });
    CropPlant { name: "lettuce".into(), family: "daisy family".into(), touches_soil: true, params }
}

fn garden_canopy() -> CanopyParams {
    params!(CanopyParams {
        shade_in_leaf: 0.55,
        shade_bare: 0.2,
        leaf_out: 111.0,
        leaf_fall: 317.0,
        leaf_litter: 180.0,
        fruit_from: 215.0,
        fruit_to: 270.0,
        fruit_fall: 40.0,
        water_use: 0.2,
        nitrogen_content: 0.012,
        phosphorus_content: 0.0015,
        wood_nitrogen: 15.0,
        wood_phosphorus: 1.5,
    })
}

/// A pest of trees with one generation, numbers near those of apple sawfly in the library.
pub fn sawfly() -> PestParams {
    PestParams {
        base_temperature: 4.0,
        counting_from: 101.0,
        emergence: 160.0,
        emergence_spread: 30.0,
        egg_to_drop: 260.0,
        season_end: 182.0,
        two_winter_share: 0.1,
        adult_life: 10.0,
        eggs_per_adult: 25.0,
        crowding: 0.04,
        death_above_ground: 0.035,
        death_adult: 0.02,
        death_soil: 0.004,
        fly_in: 0.008,
        mixing: 0.05,
        depth: 5.0,
        depth_spread: 0.5,
        search_soil: 1.2,
        search_emerging: 0.4,
        search_dropping: 1.0,
        body_mass: 0.006,
        damage_per_larva: 0.01,
        ..still_pest()
    }
}

/// A class of bird with numbers near those of a layer in the library.
pub fn layer() -> BirdClass {
    let params = params!(BirdParams {
        body_mass: 1.8,
        maintenance: 1.0,
        egg_mass: 50.0,
        green_intake: 28.0,
        grass_taste: 1.0,
        broadleaf_taste: 1.0,
        fruit_taste: 1.0,
        scratching: 1.8,
        insect_search: 8.0,
        seed_search: 0.5,
        slug_search: 1.0,
        protein_share: 0.16,
        ranging_share: 0.95,
        treading: 0.5,
        space_rule: 4.0,
    });
    BirdClass { name: "layer".into(), params }
}
