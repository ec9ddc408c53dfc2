//! Slugs and snails of a zone: eggs, young and adults, what they eat, what birds take of them.
//!
//! # Formulas
//!
//! ```text
//! eggs    : boxes of 6/hatch a C d;             die by death_egg + death_dry_egg · dry of the soil
//! young   : boxes of 6/growing_up · activity;   die by death_young · life + death_dry · dry, and of frost
//! adults  : from the last box of the young;     die by death_adult · life + death_dry · dry, and of frost
//! life    = death_hidden + (1 − death_hidden) · activity · ageing
//! laid    = eggs_a_day · activity · (1 − dry) · adults / (1 + N/crowding)            per m² a day
//! crept in = creeps_in · activity · edge per area                                   per m² a day, adults
//! caught  = exposed · activity · (1 − exp(−taken · slug_search · bird-days))         of young and adults, share
//! eggs scratched out = exposed · eggs_near · (1 − exp(−scratched))                  share, eaten or left to dry
//! ```
//!
//! N is young and adults per m². Who is out at night still lies near the surface at dawn and dusk, when birds find it; the rest is out
//! of their reach. Days: `day.rs`; activity and dry soil: `activity.rs`; what they eat: `feeding.rs`. Rates a step; boxes: `pests/chain.rs`.
//!
//! # Source
//!
//! Hatching, life by temperature and activity: see `day.rs`. Autumn-hatched *Deroceras reticulatum* grow up in seven months,
//! spring-hatched in five (Northumberland): Hunter 1966, J. Anim. Ecol. What moves in from the side is the smaller part, much comes
//! up from below: Insects 2021, 12:531. Laying falls where they are crowded, by the slime of others: Dan & Bailey 1982, J. Moll.
//! Stud. 48:257 (from memory; snails). Ducks and slugs: no controlled trial was found, in English or German; keepers say that three
//! runner ducks clear a garden in three to four weeks, and ask for 100 m² a duck (common practice, no source). Forms ours.
//!
//! # Limits
//!
//! No bait, no hand-picking, no nematodes; ground beetles and hedgehogs are part of background death and do not grow in number.
//! Nobody creeps from zone to zone or out of a plot. Birds eat of all sizes alike, and are not filled by them.
//!
//! # Parameters
//!
//! ```text
//! SlugParams  hatch [C d], growing_up [d], eggs_a_day [1/d], crowding [1/m2], death_egg [1/d], death_young [1/d],
//!              death_adult [1/d], death_hidden [-], death_dry_egg [1/d], death_dry [1/d], creeps_in [1/m/d], taken [-], eggs_near [-]
//! BirdParams  slug_search [m2/bird-day]
//! ```

mod activity;
mod day;
mod feeding;

pub use day::{SlugDay, SlugWeather};

use crate::ledger::flows::Flow;
use crate::plot::bites::Pressure;
use crate::plot::context::ZoneContext;
use crate::plot::pests::moved;
use crate::simd::Real;
use crate::state::{Creeper, SlugsHere, Weed, Zone};
use activity::Moisture;

/// What the slugs and snails of a zone meet in a step.
#[derive(Clone, Copy)]
pub struct SlugMeetings<'a, F: Real = f64> {
    /// The day of each kind of the site.
    pub days: &'a [SlugDay<F>],
    /// Ground cover at the start of the step, 0 to 1.
    pub cover: F,
    /// Share of the zone birds can reach.
    pub exposed: F,
    /// Birds on the zone in this step.
    pub birds: Option<&'a Pressure<F>>,
}

/// One step of all slugs and snails of a zone.
#[inline(always)]
pub fn step<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    creepers: &mut [Creeper<F>],
    slugs: &mut [SlugsHere<F>],
    meets: &SlugMeetings<F>,
    context: &ZoneContext<F>,
) {
    let moisture = Moisture::of(zone, meets.cover, context);
    let mut wanted = context.zero();
    for (slugs, &(kind, _)) in slugs.iter_mut().zip(&context.plot.slugs) {
        let (params, of_step) = (&context.slugs[kind], &context.constants.slugs[kind]);
        let activity = meets.days[kind].warmth * moisture.out;
        wanted += params.leaf_eaten * activity * feeding::as_adults(slugs) * context.step();
        if let Some(birds) = meets.birds {
            let found = (params.taken * birds.slugs).hazard_to_prob() * activity * meets.exposed;
            let scratched_out = birds.scratched.hazard_to_prob() * params.eggs_near * meets.exposed;
            be_taken(slugs, found, scratched_out, zone);
        }
        live(slugs, zone, &Life { params, of_step, day: &meets.days[kind], activity, dry: moisture.dry }, context);
        slugs.slug_days += slugs.number() * context.step();
    }
    feeding::eat(zone, weeds, creepers, wanted, context);
}

/// Birds take a share of young and adults, and of the eggs.
#[inline(always)]
fn be_taken<F: Real>(slugs: &mut SlugsHere<F>, found: F, scratched_out: F, zone: &mut Zone<F>) {
    let before = slugs.with_eggs();
    slugs.adults *= found.one_minus();
    for young in &mut slugs.young {
        *young *= found.one_minus();
    }
    for eggs in &mut slugs.eggs {
        *eggs *= scratched_out.one_minus();
    }
    zone.flows.add(Flow::SlugsCaught, before - slugs.with_eggs());
}

/// What a kind lives by in a step.
struct Life<'a, F: Real> {
    params: &'a crate::species::SlugParams<F>,
    of_step: &'a crate::plot::constants::SlugStep<F>,
    day: &'a SlugDay<F>,
    activity: F,
    dry: F,
}

/// Lays, hatches, grows up, creeps in and dies.
#[inline(always)]
fn live<F: Real>(slugs: &mut SlugsHere<F>, zone: &mut Zone<F>, life: &Life<F>, context: &ZoneContext<F>) {
    let Life { params, of_step, day, activity, dry } = life;
    let (activity, dry) = (*activity, *dry);
    let laid = of_step.eggs * activity * dry.one_minus() * slugs.adults
        / (slugs.number() / params.crowding + slugs.adults.splat(1.0));
    let crept_in = of_step.creeps_in * activity * context.constants.plots[context.here.plot].edge_per_area;
    let lived = params.death_hidden + params.death_hidden.one_minus() * activity * day.ageing;
    let dies = |active: F| active * lived + of_step.death_dry * dry + day.frost;
    let hatching = of_step.hatch_per_degree_day * day.hatching * context.step();
    let (hatched, dead_eggs) = moved(&mut slugs.eggs, hatching, of_step.death_egg + of_step.death_dry_egg * dry, laid);
    let (grown, dead_young) =
        moved(&mut slugs.young, of_step.growing_up * activity, dies(of_step.death_young), hatched);
    let dead = slugs.adults * dies(of_step.death_adult).clamp_max_one();
    slugs.adults += grown + crept_in - dead;
    zone.flows.add(Flow::SlugEggs, laid);
    zone.flows.add(Flow::SlugsCreptIn, crept_in);
    zone.flows.add(Flow::SlugsDied, dead_eggs + dead_young + dead);
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::ledger::flows::{Currency, Flows};
    use crate::plot::constants::SlugStep;
    use crate::species::{ProcessParams, Slug, SlugParams};
    use crate::state::PEST_BOXES;
    use crate::testing::{Garden, SWARD, garden_site, hazard_to_prob, near, net, same};

    /// Numbers near those of the grey field slug in the library.
    pub(crate) fn field_slug() -> SlugParams {
        SlugParams {
            base_temperature: 4.0,
            best_temperature: 16.0,
            ceiling_temperature: 21.0,
            hatch_base: 6.5,
            hatch: 221.0,
            growing_up: 80.0,
            eggs_a_day: 3.0,
            crowding: 20.0,
            death_egg: 0.01,
            death_young: 0.01,
            death_adult: 0.012,
            death_hidden: 0.3,
            ageing_doubles: 6.0,
            death_dry_egg: 0.03,
            death_dry: 0.004,
            frost_kill: 0.01,
            creeps_in: 0.02,
            leaf_eaten: 0.02,
            taken: 1.0,
            eggs_near: 0.3,
        }
    }

    /// The garden with this slug, on a mild night on which nothing ages.
    fn garden(params: SlugParams) -> Garden {
        let mut site = garden_site();
        site.slugs = vec![Slug { name: "grey field slug".into(), params }];
        site.plots[0].slugs = vec![(0, 10.0)];
        let mut garden = Garden::of(site);
        garden.day.liquid_mm = 0.0;
        let species = &mut garden.constants.species;
        species.process = ProcessParams {
            slug_dry_soil: 0.4,
            slug_wetting: 2.0,
            slug_bare_ground: 0.5,
            slug_taste_grass: 0.2,
            slug_taste_dead: 0.5,
            slug_food_half: 3.0,
            ..species.process.clone()
        };
        species.covers[0].grass_share = 0.7;
        garden
    }

    const MILD: SlugDay = SlugDay { warmth: 1.0, hatching: 6.5, ageing: 1.0, frost: 0.0 };

    /// One step on the sward at field capacity under full cover.
    fn stepped(
        garden: &Garden,
        slugs: SlugsHere,
        day: SlugDay,
        birds: Option<&Pressure>,
        exposed: f64,
    ) -> (SlugsHere, Zone) {
        let mut slugs = [slugs];
        let context = garden.zone_context(SWARD);
        let mut zone = Zone { water: context.here.available_water, cover_mass: 100.0, ..Zone::default() };
        let meets = SlugMeetings { days: &[day], cover: 1.0, exposed, birds };
        step(&mut zone, &mut [], &mut [], &mut slugs, &meets, &context);
        (slugs[0], zone)
    }

    /// On a night of full activity 3 eggs an adult, half of that at 20 a m²; none in dry soil.
    #[test]
    fn adults_lay_by_activity_and_less_where_crowded() {
        let still = SlugParams { death_adult: 0.0, death_egg: 0.0, creeps_in: 0.0, ..field_slug() };
        let lays = |adults: f64, warmth: f64| {
            let slugs = SlugsHere { adults, ..SlugsHere::default() };
            let day = SlugDay { warmth, ..MILD };
            stepped(&garden(still.clone()), slugs, day, None, 1.0).1.flows.get(Flow::SlugEggs)
        };
        same(lays(1e-3, 1.0), 3e-3 / (1.0 + 1e-3 / 20.0));
        same(lays(20.0, 1.0), 3.0 * 20.0 / 2.0);
        same(lays(20.0, 0.5), 0.5 * 3.0 * 20.0 / 2.0);
        assert_eq!(lays(20.0, 0.0), 0.0);
    }

    /// Manetsch 1976: eggs stay 221 C d on average, young 80 days of activity, with survivors (r/(r + m))⁶.
    #[test]
    fn eggs_hatch_and_young_grow_up_in_their_time() {
        let params = SlugParams { death_adult: 0.0, eggs_a_day: 0.0, creeps_in: 0.0, death_young: 0.0, ..field_slug() };
        let garden = garden(params.clone());
        let of_step = SlugStep::new(&params, 1.0);
        let mut slugs = SlugsHere::default();
        slugs.eggs[0] = 100.0;
        let (mut days, mut grown_days) = (0.0, 0.0);
        while days < 600.0 {
            let before = slugs.adults;
            (slugs, _) = stepped(&garden, slugs, MILD, None, 1.0);
            days += 1.0;
            grown_days += days * (slugs.adults - before);
        }
        let rate = of_step.hatch_per_degree_day * 6.5;
        let survive = libm::pow(rate / (rate + 0.01), PEST_BOXES as f64);
        near(slugs.adults, 100.0 * survive, 1e-6);
        // Two steps are taken between the chains.
        near(grown_days / slugs.adults, 6.0 / (rate + 0.01) + 80.0, 2.5);
    }

    /// Half the layer's search finds 1 − e^−½ of those that are out, none in frost; eggs only where birds scratch.
    #[test]
    fn birds_take_those_that_are_out() {
        let still = SlugParams {
            death_adult: 0.0,
            death_egg: 0.0,
            death_young: 0.0,
            creeps_in: 0.0,
            eggs_a_day: 0.0,
            ..field_slug()
        };
        let still = SlugParams { growing_up: 1e12, ..still };
        let asleep = SlugDay { hatching: 0.0, ..MILD };
        let birds = Pressure { slugs: 0.5, scratched: 0.2, ..Pressure::default() };
        let start = SlugsHere { eggs: [2.0; PEST_BOXES], young: [1.0; PEST_BOXES], adults: 4.0, slug_days: 0.0 };
        let after = |params: &SlugParams, warmth: f64, exposed: f64| {
            stepped(&garden(params.clone()), start, SlugDay { warmth, ..asleep }, Some(&birds), exposed)
        };
        for (taken, warmth, exposed) in
            [(1.0, 1.0, 1.0), (0.3, 1.0, 1.0), (1.0, 0.5, 1.0), (1.0, 1.0, 0.8), (1.0, 0.0, 1.0)]
        {
            let (left, zone) = after(&SlugParams { taken, ..still.clone() }, warmth, exposed);
            let kept = 1.0 - warmth * exposed * hazard_to_prob(taken * 0.5);
            let eggs_kept = 1.0 - 0.3 * exposed * hazard_to_prob(0.2);
            near(left.number(), 10.0 * kept, 1e-9);
            near(left.eggs.iter().sum::<f64>(), 12.0 * eggs_kept, 1e-9);
            near(zone.flows.get(Flow::SlugsCaught), 22.0 - left.with_eggs(), 1e-9);
        }
    }

    /// What creeps in over 40 m of edge of 100 m² is spread over them.
    #[test]
    fn adults_creep_in_over_the_edge() {
        let params = SlugParams { death_adult: 0.0, ..field_slug() };
        let site_m2 = garden(params.clone()).site.plots[0].area_m2;
        let (slugs, zone) = stepped(&garden(params), SlugsHere::default(), MILD, None, 1.0);
        same(slugs.adults, 0.02 * 4.0 / site_m2.sqrt());
        same(zone.flows.get(Flow::SlugsCreptIn), slugs.adults);
        assert_eq!(slugs.slug_days, slugs.adults);
    }

    /// A year with everything at work: all that comes or goes is booked, and no age goes below zero.
    #[test]
    fn the_books_of_a_year_hold() {
        let garden = garden(field_slug());
        let birds = Pressure { slugs: 0.05, scratched: 0.02, ..Pressure::default() };
        let mut slugs = SlugsHere::of_all_sizes(10.0);
        let start = slugs.with_eggs();
        same(start, 20.0);
        let mut flows = Flows::default();
        for day in 0..365 {
            let season = libm::sin(f64::from(day) * core::f64::consts::TAU / 365.0);
            let today = SlugDay {
                warmth: 0.5 + 0.5 * season,
                hatching: 6.0 + 6.0 * season,
                ageing: 1.0 + season,
                frost: 0.01 * (1.0 - season),
            };
            let (next, zone) = stepped(&garden, slugs, today, Some(&birds), 0.9);
            slugs = next;
            for flow in [Flow::SlugEggs, Flow::SlugsCreptIn, Flow::SlugsDied, Flow::SlugsCaught] {
                flows.add(flow, zone.flows.get(flow));
            }
            assert!(slugs.eggs.iter().chain(&slugs.young).chain([&slugs.adults]).all(|&number| number >= 0.0));
        }
        near(slugs.with_eggs() - start, net(&flows, Currency::Slugs), 1e-9 * start);
        assert!(flows.get(Flow::SlugsCaught) > 0.0 && flows.get(Flow::SlugEggs) > 0.0);
    }
}
