//! Pests with a soil stage: rising by degree-days, adults, larvae above ground, back into the soil; and what birds
//! catch on the way.
//!
//! # Formulas
//!
//! ```text
//! F(age)   = Φ((age − emergence) / emergence_spread)            share of spring emergence due, 0 before −5 spreads
//! hazard   = (1 − c) · (F₁ − F₀) / (1 − (1 − c) · F₀)           of the overwintered pool in a step; c: two_winter_share
//! reach    = reach_resting + (reach_risen − reach_resting)
//!            · [Φ((age − emergence + rise_lead) / spread) − Φ((age − emergence) / spread − 3)]
//! dies in the soil = pool · death_soil                          a day, of both pools and of a summer generation
//! caught in the soil = pool · exposed · (1 − exp(−reach · searched)),  or Rogers where handling_time is above 0
//! Rogers   : Ne = N₀ · (1 − exp(handling · Ne − reach · searched))      handling = handling_time · search_soil
//! caught at a crossing = rising or dropping · exposed · (1 − exp(−searched))
//! laid     = adults · eggs_per_adult / adult_life · s           per m² a day, where a host stands; s: share of the ground its hosts have
//! crowded out = laid · (1 − 1 / (1 + crowding · (all above ground + laid) / s))
//! boxes    : six above ground (egg_to_drop), six of a summer generation in the soil (summer_soil); of each box
//!            r + m leaves in a step, r/(r + m) of it to the next: r = 6 · degree-days / stage, m = death rate. Where r + m
//!            is above 1, g = 2, 3 or 6 boxes go as one: min((r + m)/g, 1) leaves, (r/(r + m))ᵍ of it g boxes on
//! adults  += risen + flown in + mixing · open · (mean of all host zones − adults) − adults · (1 − exp(−(1/adult_life + death_adult)))
//! damage   = 1 − exp(−damage_per_larva · larvae grown this season / s)   share of the crop, or of the hosts' fruit
//! ```
//!
//! Age is degree-days since counting started, C d, 0 out of season; Φ the normal distribution. Adults fly in, `fly_in` per
//! m² and day times the neighbours and the share of the zone that is open, under no net, while F is between 0.02 and 0.98,
//! or to the end of the season where there are several generations. Larvae that drop before `resting_from` are a summer generation; from then on they stay for the winter.
//!
//! # Source
//!
//! Degree-days to emergence: per species in the library, among others Collier & Finch 1985, Jones et al. 1989 and 1991,
//! Zijp & Blommers 1997. Boxes: distributed delay, Manetsch 1976. Random search: Nicholson and Bailey (from memory); with
//! handling time: Rogers 1972. Normal emergence, the hazard on survivors, reach by age, crowding, mixing and damage: forms
//! ours, calibrated.
//!
//! # Limits
//!
//! A pest of several canopies finds them by their share of the ground: where its hosts have half of it, half of the
//! eggs are laid. Under a net nothing flies in or out, and what rises there stays: the mean of the host zones is that of
//! their open shares; adults of a zone partly netted are one lot. Depth is a share within reach, not a profile. Boxes moved in steps spread a stage less than the delay they stand for:
//! its variance is 6(1 − r)/r² steps², not 6/r². No stage is shorter than a step. Both sexes are one. No parasites, no other prey, no moisture.
//!
//! # Parameters
//!
//! ```text
//! PestParams  emergence [C d], emergence_spread [C d], rise_lead [C d], two_winter_share [-], reach_resting [-],
//!              reach_risen [-], search_soil [m2/bird-day], handling_time [bird-day], crowding [m2],
//!              resting_from [d], damage_per_larva [m2]
//!              by the step (constants/species.rs): adult_life [d], death_adult [1/d], death_soil [1/d],
//!              death_above_ground [1/d], eggs_per_adult [1], egg_to_drop [C d], summer_soil [C d], fly_in [1/m2/d],
//!              mixing [1/d]
//! ```

use crate::ledger::flows::{Flow, Flows};
use crate::math::normal_cdf;
use crate::plot::constants::PestStep;
use crate::simd::{Mask, Real};
use crate::species::PestParams;
use crate::state::{PEST_BOXES, PestHere};

/// Search of birds for one pest in one zone, area per area.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Search<F = f64> {
    /// In the soil, this step.
    pub soil: F,
    /// For adults leaving the soil, whole day: who crosses meets the day's birds, whatever the step.
    pub emerging_day: F,
    /// For larvae dropping, whole day.
    pub dropping_day: F,
}

/// What a pest's step reads besides its state.
#[derive(Clone, Copy, Debug)]
pub struct PestDay<'a, F: Real = f64> {
    /// Its numbers.
    pub params: &'a PestParams<F>,
    /// What of them is resolved for a step.
    pub of_step: &'a PestStep<F>,
    /// How birds search for it.
    pub search: Search<F>,
    /// Degree-days of the step on this ground; 0 outside the season.
    pub degree_days: F,
    /// Days since the winter solstice.
    pub since_solstice: f64,
    /// A host stands here.
    pub host: F::Mask,
    /// Adults per m² over all host zones, at the start of the step.
    pub mean_adults: F,
    /// Adults that fly in here, against 'few' = 1.
    pub neighbours: F,
    /// Share of the ground its hosts have.
    pub host_share: F,
    /// Share of the zone birds can reach.
    pub exposed: F,
    /// Share of the zone that is under no net.
    pub open: F,
}

/// Spread beyond which emergence counts as over or not begun, standard deviations.
const TAILS: f64 = 5.0;
/// Share of emergence between which a pest of one generation flies.
const FLIGHT: (f64, f64) = (0.02, 0.98);

/// Share of the pool within reach of birds, by physiological age.
#[inline(always)]
#[must_use]
pub fn reach<F: Real>(day: &PestDay<F>, age: F) -> F {
    let (params, per_spread) = (day.params, day.of_step.per_spread);
    let stirring = age.gt(params.emergence - params.rise_lead - params.emergence_spread * TAILS);
    if !stirring.any() {
        return params.reach_resting;
    }
    let since = age - params.emergence;
    let risen = normal_cdf((since + params.rise_lead) * per_spread);
    let risen = risen - normal_cdf(since * per_spread - 3.0);
    F::select(
        stirring,
        params.reach_resting + (params.reach_risen - params.reach_resting) * risen,
        params.reach_resting,
    )
}

/// Share of spring emergence due at a physiological age.
#[inline(always)]
fn due<F: Real>(day: &PestDay<F>, age: F) -> F {
    let z = (age - day.params.emergence) * day.of_step.per_spread;
    let early = z.below(-TAILS);
    if (!early).any() { F::select(early, z.zero(), normal_cdf(z)) } else { z.zero() }
}

/// Rogers' random predator equation (1972): prey eaten of `prey` by search `search`
/// (attack × predator time) with handling time `handling` per prey (in units of search).
///
/// Solves Ne = N₀ (1 − exp(handling·Ne − search)) by Newton's method from the
/// no-handling end; monotone, so it converges from there.
#[must_use]
pub fn rogers(prey: f64, search: f64, handling: f64) -> f64 {
    if prey <= 0.0 || search <= 0.0 {
        return 0.0;
    }
    if handling <= 0.0 {
        return prey * search.hazard_to_prob();
    }
    // In x = search − handling·Ne: x + handling·N₀·(1 − e^−x) = search, left side rising and concave.
    let load = handling * prey;
    let mut x = search / (1.0 + load);
    for _ in 0..60 {
        let e = libm::exp(-x);
        let next = x - (x + load * (1.0 - e) - search) / (1.0 + load * e);
        let done = (next - x).abs() <= 1e-15 * x.abs();
        x = next;
        if done {
            break;
        }
    }
    prey * -libm::expm1(-x)
}

/// Share of spring emergence that is over at `age`, and the hazard at which the pool rises until then.
#[inline(always)]
fn rising<F: Real>(pest: &PestHere<F>, day: &PestDay<F>, age: F) -> (F, F) {
    let before = pest.emerged_share;
    let counting = day.degree_days.above(0.0);
    let (mut now, mut hazard) = (before, before.zero());
    if counting.any() {
        now = F::select(counting, due(day, age).max(before), before);
        let more = now.gt(before);
        if more.any() {
            let staying = day.params.two_winter_share.one_minus();
            hazard = (staying * (now - before) / (staying * before).one_minus()).select_or_zero(more);
        }
    }
    (now, hazard)
}

/// One step of one pest in one zone.
#[inline(always)]
pub fn advance<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) {
    let age = pest.age + day.degree_days;
    let (now, hazard) = rising(pest, day, age);
    let dying = day.of_step.death_soil;
    let start = pest.overwintered + pest.dropped;
    pest.overwintered *= dying.one_minus();
    pest.dropped *= dying.one_minus();
    flows.add(Flow::PestDeath, start * dying);
    if day.search.soil.above(0.0).any() {
        search_soil(pest, day, age, flows);
    }
    let emerging = pest.overwintered * hazard;
    pest.overwintered -= emerging;
    let summer = summer_generation(pest, day, flows);
    pest.age = age;
    pest.emerged_share = now;
    above_ground(pest, day, flows);
    adults(pest, day, emerging + summer, flows);
}

/// Birds search the two soil pools.
#[inline(always)]
fn search_soil<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, age: F, flows: &mut Flows<F>) {
    let resting = caught(pest.dropped, day.params.reach_resting * day.search.soil, day);
    let risen = caught(pest.overwintered, reach(day, age) * day.search.soil, day);
    pest.dropped -= resting;
    pest.overwintered -= risen;
    flows.add(Flow::PestCaught, resting + risen);
}

/// Caught in the soil of the part birds can reach.
#[inline(always)]
fn caught<F: Real>(pool: F, search: F, day: &PestDay<F>) -> F {
    let at_once = pool * day.exposed * search.hazard_to_prob();
    let slow = day.params.handling_time.above(0.0);
    if !slow.any() {
        return at_once;
    }
    let handling = day.params.handling_time * day.params.search_soil;
    let handled = pool.by_lane(|i| rogers(pool.lane(i), search.lane(i), handling.lane(i)));
    F::select(slow, day.exposed * handled, at_once)
}

/// A summer generation's stage in the soil; returns adults leaving it.
#[inline(always)]
fn summer_generation<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) -> F {
    let rests = day.params.resting_from.above(0.0);
    if !rests.any() {
        return day.degree_days.zero();
    }
    if day.search.soil.above(0.0).any() {
        let share = day.exposed * (day.params.reach_resting * day.search.soil).hazard_to_prob();
        for stage in &mut pest.summer {
            flows.add(Flow::PestCaught, *stage * share);
            *stage *= share.one_minus();
        }
    }
    let rate = (day.degree_days * day.of_step.summer_per_degree_day).select_or_zero(rests);
    chain(&mut pest.summer, rate, day.of_step.death_soil, rate.zero(), flows)
}

/// Moves a chain of boxes: total exit rate + death, of which rate/(rate + death) moves on. Survival and mean stay do
/// not depend on the step, down to a stay of one step. Returns what leaves.
#[inline(always)]
pub fn chain<F: Real>(boxes: &mut [F; PEST_BOXES], rate: F, death: F, entering: F, flows: &mut Flows<F>) -> F {
    let mut dead = rate.zero();
    let mut arriving = entering;
    if (rate + death).above(1.0).any() {
        for lane in 0..F::LANES {
            let mut of_lane = boxes.map(|stage| stage.lane(lane));
            let moved = chain_in_groups(&mut of_lane, rate.lane(lane), death.lane(lane), entering.lane(lane));
            boxes.iter_mut().zip(of_lane).for_each(|(stage, x)| stage.set_lane(lane, x));
            arriving.set_lane(lane, moved.0);
            dead.set_lane(lane, moved.1);
        }
    } else {
        for stage in boxes.iter_mut() {
            let leaving = *stage * rate;
            let dying = *stage * death;
            dead += dying;
            *stage += arriving - leaving - dying;
            arriving = leaving;
        }
    }
    flows.add(Flow::PestDeath, dead);
    arriving
}

/// As [`chain`] for a stay shorter than the boxes have steps: as many boxes go as one as keep the mean stay.
/// Returns what leaves and what dies.
fn chain_in_groups(boxes: &mut [f64; PEST_BOXES], rate: f64, death: f64, entering: f64) -> (f64, f64) {
    let total = rate + death;
    // Divisors of six, so that whole groups make up the chain.
    let group = [1, 2, 3].into_iter().find(|&group| total <= group as f64).unwrap_or(PEST_BOXES);
    let (mut moves, mut dies) = (rate, death);
    if group > 1 {
        let survive = (1..group).fold(rate / total, |share, _| share * (rate / total));
        let leave = (total / group as f64).min(1.0);
        (moves, dies) = (leave * survive, leave * (1.0 - survive));
    }
    let before = *boxes;
    let (mut out, mut dead) = (0.0, 0.0);
    for (at, stage) in boxes.iter_mut().enumerate() {
        let leaving = before[at] * moves;
        let dying = before[at] * dies;
        dead += dying;
        let arriving = match at.checked_sub(group) {
            Some(from) => before[from] * moves,
            None if at == 0 => entering,
            None => 0.0,
        };
        *stage += arriving - leaving - dying;
        if at + group >= PEST_BOXES {
            out += leaving;
        }
    }
    (out, dead)
}

/// Eggs and larvae: laid by adults of the start of the step, leaving for the soil.
#[inline(always)]
fn above_ground<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) {
    let laid = (pest.adults * day.of_step.eggs * day.host_share).select_or_zero(day.host);
    let mut crowd = laid.zero();
    for stage in &pest.above {
        crowd += *stage;
    }
    crowd += laid;
    if !crowd.above(0.0).any() {
        return;
    }
    let mut crowded_out = laid.zero();
    if laid.above(0.0).any() {
        crowded_out = laid * (laid.splat(1.0) / (day.params.crowding * crowd / day.host_share + 1.0)).one_minus();
    }
    flows.add(Flow::EggsLaid, laid);
    flows.add(Flow::PestDeath, crowded_out);
    let rate = day.degree_days * day.of_step.above_per_degree_day;
    let dropping = chain(&mut pest.above, rate, day.of_step.death_above_ground, laid - crowded_out, flows);
    pest.grown_this_season += dropping;
    let mut eaten = dropping.zero();
    if day.search.dropping_day.above(0.0).any() {
        eaten = dropping * day.exposed * day.search.dropping_day.hazard_to_prob();
    }
    flows.add(Flow::PestCaught, eaten);
    let summer = day.params.resting_from.above(day.since_solstice);
    let left = dropping - eaten;
    pest.summer[0] += left.select_or_zero(summer);
    pest.dropped += left.select_or_zero(!summer);
}

/// Adults: risers that got past the birds, flown in, mixed between plots, dying.
#[inline(always)]
fn adults<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, rising: F, flows: &mut Flows<F>) {
    let mut eaten = rising.zero();
    if day.search.emerging_day.above(0.0).any() {
        eaten = rising * day.exposed * day.search.emerging_day.hazard_to_prob();
    }
    let arrived = (day.neighbours * day.of_step.fly_in * day.open).select_or_zero(flying(pest, day));
    if !(pest.adults + day.mean_adults + rising + arrived).above(0.0).any() {
        return;
    }
    let dying = pest.adults * day.of_step.adult_death;
    // Exchange works on what is left, so that nothing goes below zero.
    let mixed = (day.mean_adults - pest.adults) * day.of_step.mixing * day.open;
    let mixed = mixed.max(dying - pest.adults);
    let inward = mixed.above(0.0);
    flows.add(Flow::PestCaught, eaten);
    flows.add(Flow::FlownIn, arrived);
    flows.add(Flow::PestDeath, dying);
    flows.add(Flow::MixedInPests, mixed.select_or_zero(inward));
    flows.add(Flow::MixedOutPests, (mixed * -1.0).select_or_zero(!inward));
    pest.risen += rising - eaten;
    pest.flown_in += arrived;
    pest.adults += rising - eaten + arrived + mixed - dying;
}

/// Whether adults fly: between the tails of emergence, or to the end of the season for
/// pests with several generations.
#[inline(always)]
fn flying<F: Real>(pest: &PestHere<F>, day: &PestDay<F>) -> F::Mask {
    let begun = day.degree_days.above(0.0) & pest.emerged_share.above(FLIGHT.0);
    begun & (day.params.resting_from.above(0.0) | pest.emerged_share.below(FLIGHT.1))
}

/// Counting starts: this year's drop joins the overwintered pool.
pub fn start_season(pest: &mut PestHere) {
    pest.overwintered += pest.dropped + pest.summer.iter().sum::<f64>();
    pest.dropped = 0.0;
    pest.summer = [0.0; PEST_BOXES];
    pest.grown_this_season = 0.0;
    pest.age = 0.0;
    pest.emerged_share = 0.0;
}

/// The end of the season: physiological age is 0 until counting starts again.
pub fn end_season(pest: &mut PestHere, params: &PestParams, host_share: f64) {
    pest.damage_sum += damage(pest, params, host_share);
    pest.seasons += 1.0;
    pest.age = 0.0;
    pest.emerged_share = 0.0;
}

/// Share of the crop, or of the fruit of its hosts on this share of the ground, damaged by this season's larvae so far;
/// it saturates.
#[must_use]
pub fn damage(pest: &PestHere, params: &PestParams, host_share: f64) -> f64 {
    (params.damage_per_larva * pest.grown_this_season / host_share).hazard_to_prob()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::{Currency, Flows};
    use crate::testing::{hazard_to_prob, near, net, same, sawfly};

    /// A sawfly that neither dies nor moves by itself, so that one process at a time is seen.
    fn undying() -> PestParams {
        PestParams { death_soil: 0.0, death_above_ground: 0.0, mixing: 0.0, fly_in: 0.0, ..sawfly() }
    }

    /// A day in April on which nothing is searched for, on open ground with a host.
    fn day<'a>(params: &'a PestParams, of_step: &'a PestStep) -> PestDay<'a> {
        PestDay {
            params,
            of_step,
            search: Search::default(),
            degree_days: 0.0,
            since_solstice: 120.0,
            host: true,
            mean_adults: 0.0,
            neighbours: 0.0,
            host_share: 1.0,
            exposed: 1.0,
            open: 1.0,
        }
    }

    fn in_soil(overwintered: f64) -> PestHere {
        PestHere { overwintered, ..PestHere::default() }
    }

    /// A pool followed to this age in steps of so many degree-days, each as `of_day` has it.
    fn followed(pest: &mut PestHere, params: &PestParams, degree_days: f64, to_age: f64, search: Search) -> Flows {
        let (of_step, mut flows) = (PestStep::new(params, 1.0), Flows::default());
        while pest.age < to_age - 1e-9 {
            advance(pest, &PestDay { degree_days, search, ..day(params, &of_step) }, &mut flows);
        }
        flows
    }

    /// Closed form of the hazard on survivors: of 1000, c = 0.1 is left exactly, however fine the tail is followed.
    #[test]
    fn exactly_the_second_winters_share_stays() {
        for degree_days in [1.0, 7.0, 60.0] {
            let mut pest = in_soil(1000.0);
            followed(&mut pest, &undying(), degree_days, 900.0, Search::default());
            near(pest.overwintered, 100.0, 1e-9);
            near(pest.risen, 900.0, 1e-9);
            same(pest.emerged_share, 1.0);
        }
    }

    /// Normal in degree-days: 0.158655, half and 0.841345 of it at one spread before, at, and after `emergence`.
    #[test]
    fn emergence_follows_the_normal_curve_of_degree_days() {
        for (age, want) in [(130.0, 0.158_655), (160.0, 0.5), (190.0, 0.841_345)] {
            let mut pest = in_soil(1000.0);
            followed(&mut pest, &undying(), 10.0, age, Search::default());
            near(pest.risen / 900.0, want, 1e-6);
            near(pest.emerged_share, want, 1e-6);
        }
        // Five spreads before, none is due.
        let params = undying();
        let of_step = PestStep::new(&params, 1.0);
        assert_eq!(due(&day(&params, &of_step), 9.9), 0.0);
        assert!(due(&day(&params, &of_step), 10.1) > 0.0);
    }

    /// The hazard asks who is left: half a pool taken at half emergence leaves half of c.
    #[test]
    fn emergence_works_on_survivors() {
        let mut pest = in_soil(1000.0);
        followed(&mut pest, &undying(), 10.0, 160.0, Search::default());
        pest.overwintered *= 0.5;
        followed(&mut pest, &undying(), 10.0, 900.0, Search::default());
        near(pest.overwintered, 50.0, 1e-9);
    }

    /// No degree-days (too cold, or no season): none rises, whatever was due.
    #[test]
    fn without_degree_days_nothing_rises() {
        let (params, mut flows) = (undying(), Flows::default());
        let mut pest = PestHere { age: 155.0, emerged_share: 0.3, ..in_soil(1000.0) };
        let before = pest;
        advance(&mut pest, &day(&params, &PestStep::new(&params, 1.0)), &mut flows);
        assert_eq!(pest, before);
        // Emergence never goes back, should the pool be ahead of its curve.
        pest.emerged_share = 0.9;
        advance(&mut pest, &PestDay { degree_days: 1.0, ..day(&params, &PestStep::new(&params, 1.0)) }, &mut flows);
        assert_eq!((pest.emerged_share, pest.overwintered), (0.9, 1000.0));
    }

    /// Birds take 1 − exp(−searched) of the adults that leave the soil, of the part guards leave open; with no birds none.
    #[test]
    fn birds_catch_adults_leaving_the_soil() {
        let params = PestParams { two_winter_share: 0.0, ..undying() };
        for (emerging_day, exposed) in [(0.7, 1.0), (0.7, 0.25), (0.0, 1.0)] {
            let mut pest = PestHere { age: 155.0, ..in_soil(100.0) };
            let (of_step, mut flows) = (PestStep::new(&params, 1.0), Flows::default());
            let search = Search { emerging_day, ..Search::default() };
            advance(&mut pest, &PestDay { degree_days: 5.0, search, exposed, ..day(&params, &of_step) }, &mut flows);
            near(pest.overwintered, 50.0, 1e-5);
            let rising = 100.0 - pest.overwintered;
            same(flows.get(Flow::PestCaught), rising * exposed * hazard_to_prob(emerging_day));
            same(pest.risen, rising * (1.0 - exposed * hazard_to_prob(emerging_day)));
            same(pest.adults, pest.risen);
        }
    }

    /// At rest deep down; half-way up at `emergence − rise_lead`; all risen between; half-way gone 3 spreads after it.
    #[test]
    fn pupae_are_within_reach_when_they_have_risen() {
        let params = PestParams { rise_lead: 300.0, emergence: 500.0, ..sawfly() };
        let of_step = PestStep::new(&params, 1.0);
        let share = |age: f64| (reach(&day(&params, &of_step), age) - 0.04) / (0.52 - 0.04);
        for (age, want) in
            [(200.0, 0.5), (230.0, 0.841_345), (400.0, 1.0), (590.0, 0.5), (560.0, 0.841_345), (900.0, 0.0)]
        {
            near(share(age), want, 1e-6);
        }
        // Stirring begins five spreads before.
        assert_eq!((share(0.0), share(49.9)), (0.0, 0.0));
        assert!(share(50.1) > 0.0);
    }

    /// Random search of what lies within reach: this year's drop at rest, the overwintered by its age; the rest is safe.
    #[test]
    fn birds_find_in_the_soil_what_lies_within_reach() {
        let params = undying();
        let of_step = PestStep::new(&params, 1.0);
        let search = Search { soil: 2.0, ..Search::default() };
        let (mut pest, mut flows) = (PestHere { dropped: 40.0, ..in_soil(100.0) }, Flows::default());
        let before = PestDay { degree_days: 70.0, search, exposed: 0.5, ..day(&params, &of_step) };
        advance(&mut pest, &before, &mut flows);
        let half_risen = 0.04 + 0.48 * 0.5;
        same(pest.dropped, 40.0 * (1.0 - 0.5 * hazard_to_prob(0.04 * 2.0)));
        let found = 1.0 - 0.5 * hazard_to_prob(half_risen * 2.0);
        // At 70 of 160 degree-days three spreads are to go: 0.00135 of the 0.9 rise that day.
        near(pest.overwintered, 100.0 * found * (1.0 - 0.9 * 0.001_349_9), 1e-3);
        let taken = 100.0 * (1.0 - found) + 40.0 - pest.dropped;
        near(flows.get(Flow::PestCaught), taken, 1e-3);
        near(140.0 - pest.total(), flows.get(Flow::PestCaught), 1e-9);
    }

    /// Rogers' equation holds for what it returns, and is random search where handling takes no time.
    #[test]
    fn rogers_solves_his_equation() {
        for (prey, search, handling) in
            [(50.0, 0.5, 0.01), (0.5, 0.5, 0.1), (200.0, 1.0, 0.01), (5.0, 3.0, 0.2), (1e3, 8.0, 0.5)]
        {
            let eaten = rogers(prey, search, handling);
            near(eaten, prey * hazard_to_prob(search - handling * eaten), 1e-9 * prey);
            assert!(eaten > 0.0 && eaten < rogers(prey, search, 0.0));
        }
        same(rogers(50.0, 0.7, 0.0), 50.0 * hazard_to_prob(0.7));
        near(rogers(50.0, 0.7, 1e-9), 50.0 * hazard_to_prob(0.7), 1e-5);
        assert_eq!((rogers(0.0, 1.0, 0.1), rogers(10.0, 0.0, 0.1)), (0.0, 0.0));
        // Rogers 1972 by Lambert's W: N₀ 50, a 0.5, h 0.02, P 1: 14.826629, in the soil within reach, half of it under guards.
        let params = PestParams { handling_time: 0.02, search_soil: 0.5, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        near(caught(50.0, 0.5, &PestDay { exposed: 0.5, ..day(&params, &of_step) }), 0.5 * 14.826_629, 1e-6);
    }

    /// What dies in the soil dies in both pools alike.
    #[test]
    fn the_soil_takes_its_share_of_both_pools() {
        let params = PestParams { death_soil: 0.004, ..undying() };
        let (mut pest, mut flows) = (PestHere { dropped: 50.0, ..in_soil(100.0) }, Flows::default());
        advance(&mut pest, &day(&params, &PestStep::new(&params, 1.0)), &mut flows);
        same(pest.overwintered, 99.6);
        same(pest.dropped, 49.8);
        same(flows.get(Flow::PestDeath), 0.6);
    }

    /// A pulse of 1 through six boxes at rate r with death m (Manetsch 1976): mean 6/r, survivors (r/(r + m))⁶.
    #[test]
    fn boxes_delay_by_their_mean_and_let_survivors_through() {
        for (rate, death) in [
            (0.3, 0.0),
            (0.3, 0.02),
            (0.9, 0.3),
            (1.5, 0.0),
            (1.5, 0.2),
            (2.0, 0.5),
            (3.0, 0.0),
            (4.0, 0.5),
            (6.0, 0.0),
        ] {
            let (mut boxes, mut flows) = ([0.0; PEST_BOXES], Flows::default());
            let (mut out, mut time) = (0.0, 0.0);
            for step in 0..3000 {
                let leaving = chain(&mut boxes, rate, death, if step == 0 { 1.0 } else { 0.0 }, &mut flows);
                assert!(boxes.iter().all(|&stage| stage >= -1e-15));
                out += leaving;
                time += leaving * f64::from(step);
            }
            let survival = libm::pow(rate / (rate + death), 6.0);
            near(out, survival, 1e-12);
            near(flows.get(Flow::PestDeath), 1.0 - survival, 1e-12);
            near(time / out, 6.0 / (rate + death), 1e-9);
        }
        // Beyond 1 two boxes go as one: of 0.9 and 0.6, 0.75 leaves, 0.6² of it two boxes on.
        let (mut boxes, mut flows) = ([10.0, 0.0, 0.0, 0.0, 0.0, 5.0], Flows::default());
        same(chain(&mut boxes, 0.9, 0.6, 2.0, &mut flows), 5.0 * 0.75 * 0.36);
        for (stage, want) in boxes.iter().zip([4.5, 0.0, 2.7, 0.0, 0.0, 1.25]) {
            near(*stage, want, 1e-12);
        }
        same(flows.get(Flow::PestDeath), 15.0 * 0.75 * 0.64);
        // A stay of less than a step is a step.
        let mut boxes = [1.0; PEST_BOXES];
        same(chain(&mut boxes, 9.0, 0.0, 0.0, &mut Flows::default()), 6.0);
        assert_eq!(boxes, [0.0; PEST_BOXES]);
    }

    /// Eggs of a full life spread over it; they need a host, and crowd each other out by 1/(1 + a · all).
    #[test]
    fn adults_lay_on_their_host_and_eggs_crowd() {
        let params = undying();
        let of_step = PestStep::new(&params, 1.0);
        let laid = |day: &PestDay, adults: f64, crowd: f64| {
            let mut pest = PestHere { adults, ..PestHere::default() };
            pest.above[3] = crowd;
            let mut flows = Flows::default();
            above_ground(&mut pest, day, &mut flows);
            (flows.get(Flow::EggsLaid), flows.get(Flow::PestDeath), pest.above[0])
        };
        let (eggs, crowded, in_first) = laid(&day(&params, &of_step), 4.0, 20.0);
        same(eggs, 4.0 * 25.0 / 10.0);
        same(in_first, 10.0 / (1.0 + 0.04 * 30.0));
        same(crowded, 10.0 - in_first);
        assert_eq!(laid(&PestDay { host: false, ..day(&params, &of_step) }, 4.0, 20.0), (0.0, 0.0, 0.0));
        // A few eggs on bare leaves are laid and crowd too.
        let (eggs, crowded, in_first) = laid(&day(&params, &of_step), 0.1, 0.0);
        same(eggs, 0.25);
        same(in_first, 0.25 / 1.01);
        same(crowded, 0.25 - in_first);
    }

    /// Larvae leave the last box by degree-days; birds meet them dropping; then they stay for the winter.
    #[test]
    fn grown_larvae_drop_and_birds_meet_them() {
        let params = PestParams { death_above_ground: 0.035, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        for (dropping_day, exposed) in [(0.5, 1.0), (0.5, 0.25), (0.0, 1.0)] {
            let (mut pest, mut flows) = (PestHere::default(), Flows::default());
            pest.above[5] = 100.0;
            let search = Search { dropping_day, ..Search::default() };
            advance(&mut pest, &PestDay { degree_days: 13.0, search, exposed, ..day(&params, &of_step) }, &mut flows);
            let dropping = 100.0 * 13.0 * 6.0 / 260.0;
            let caught = dropping * exposed * hazard_to_prob(dropping_day);
            same(pest.above[5], 100.0 - dropping - 3.5);
            same(pest.grown_this_season, dropping);
            same(pest.dropped, dropping - caught);
            same(flows.get(Flow::PestCaught), caught);
            assert_eq!(pest.summer, [0.0; PEST_BOXES]);
        }
    }

    /// Before `resting_from` (day 242) they are a summer generation that rises the same year, from then on they rest.
    #[test]
    fn larvae_of_summer_rise_again_the_same_year() {
        let params = PestParams { resting_from: 242.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        for (since_solstice, summer, dropped) in [(241.0, 30.0, 0.0), (242.0, 0.0, 30.0), (250.0, 0.0, 30.0)] {
            let (mut pest, mut flows) = (PestHere::default(), Flows::default());
            pest.above[5] = 100.0;
            advance(&mut pest, &PestDay { degree_days: 13.0, since_solstice, ..day(&params, &of_step) }, &mut flows);
            same(pest.summer[0], summer);
            same(pest.dropped, dropped);
        }
        // 300 degree-days in the soil, six boxes: 15 move a pool by 0.3 of a box; adults that leave have risen.
        let (mut pest, mut flows) = (PestHere::default(), Flows::default());
        pest.summer = [0.0, 0.0, 0.0, 0.0, 20.0, 50.0];
        advance(&mut pest, &PestDay { degree_days: 15.0, since_solstice: 200.0, ..day(&params, &of_step) }, &mut flows);
        same(pest.summer[4], 14.0);
        same(pest.summer[5], 41.0);
        same(pest.risen, 15.0);
        // A pest of one generation has no such stage.
        let one = undying();
        let (mut pest, mut flows) = (PestHere::default(), Flows::default());
        pest.summer[5] = 50.0;
        assert_eq!(
            summer_generation(&mut pest, &PestDay { degree_days: 15.0, ..day(&one, &of_step) }, &mut flows),
            0.0
        );
    }

    /// The summer generation lies at rest: birds find 1 − exp(−reach at rest · searched) of it; the soil kills its share.
    #[test]
    fn birds_search_the_summer_generation_too() {
        let params = PestParams { resting_from: 242.0, death_soil: 0.01, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let (mut pest, mut flows) = (PestHere::default(), Flows::default());
        pest.summer = [10.0; PEST_BOXES];
        let search = Search { soil: 0.5, ..Search::default() };
        summer_generation(&mut pest, &PestDay { search, exposed: 0.5, ..day(&params, &of_step) }, &mut flows);
        let found = 0.5 * hazard_to_prob(0.04 * 0.5);
        same(flows.get(Flow::PestCaught), 60.0 * found);
        same(flows.get(Flow::PestDeath), 60.0 * (1.0 - found) * 0.01);
        pest.summer.iter().for_each(|stage| same(*stage, 10.0 * (1.0 - found) * 0.99));
    }

    /// Mean life 10 d and 0.02 a day to weather: exp(−0.12) live on.
    #[test]
    fn adults_die_by_age_and_weather() {
        let params = undying();
        let (mut pest, mut flows) = (PestHere { adults: 40.0, ..PestHere::default() }, Flows::default());
        adults(&mut pest, &day(&params, &PestStep::new(&params, 1.0)), 3.0, &mut flows);
        same(pest.adults, 40.0 * (1.0 - hazard_to_prob(0.12)) + 3.0);
        same(flows.get(Flow::PestDeath), 40.0 * hazard_to_prob(0.12));
        same(pest.risen, 3.0);
    }

    /// Exchange draws zones together and makes no adults; where all leave, none is left over or owed.
    #[test]
    fn adults_mix_between_plots() {
        let params = PestParams { mixing: 0.05, adult_life: 1e12, death_adult: 0.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let moved = |here: f64| {
            let (mut pest, mut flows) = (PestHere { adults: here, ..PestHere::default() }, Flows::default());
            adults(&mut pest, &PestDay { mean_adults: 6.0, ..day(&params, &of_step) }, 0.0, &mut flows);
            near(pest.adults - here, net(&flows, Currency::Pests), 1e-9);
            (pest.adults, flows.get(Flow::MixedInPests), flows.get(Flow::MixedOutPests))
        };
        let ((many, none_in, out), (few, inward, none_out)) = (moved(10.0), moved(2.0));
        near(many, 9.8, 1e-9);
        near(few, 2.2, 1e-9);
        near(out, 0.2, 1e-9);
        near(inward, 0.2, 1e-9);
        assert_eq!((none_in, none_out), (0.0, 0.0));
        assert!(moved(0.0).0 > 0.29);
        let params = PestParams { mixing: 1.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let (mut pest, mut flows) = (PestHere { adults: 10.0, ..PestHere::default() }, Flows::default());
        adults(&mut pest, &day(&params, &of_step), 0.0, &mut flows);
        near(pest.adults, 0.0, 1e-12);
        near(flows.get(Flow::MixedOutPests), 10.0 * (1.0 - hazard_to_prob(0.12)), 1e-9);
    }

    /// Half under a net, half of those come that would: nothing of a net is left open by a share of 1.
    #[test]
    fn adults_do_not_pass_a_net() {
        let params = PestParams { fly_in: 0.008, mixing: 0.05, adult_life: 1e12, death_adult: 0.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let moved = |open: f64| {
            let (mut pest, mut flows) =
                (PestHere { adults: 10.0, emerged_share: 0.5, ..PestHere::default() }, Flows::default());
            let day = PestDay { open, degree_days: 4.0, neighbours: 10.0, mean_adults: 6.0, ..day(&params, &of_step) };
            adults(&mut pest, &day, 3.0, &mut flows);
            (pest.flown_in, flows.get(Flow::MixedOutPests), pest.adults)
        };
        let ((all, out, _), (half, half_out, _), (none, none_out, stay)) = (moved(1.0), moved(0.5), moved(0.0));
        same(all, 0.08);
        same(half, 0.04);
        near(out, 0.2, 1e-9);
        near(half_out, 0.1, 1e-9);
        assert_eq!((none, none_out), (0.0, 0.0));
        near(stay, 13.0, 1e-9);
    }

    /// On hosts over a quarter of the ground a quarter of the eggs is laid, as dense as elsewhere: as much of their fruit
    /// is spoilt.
    #[test]
    fn a_pest_goes_by_the_share_of_its_hosts() {
        let params = undying();
        let of_step = PestStep::new(&params, 1.0);
        let grown = |host_share: f64| {
            let (mut pest, mut flows) = (PestHere { adults: 8.0, ..PestHere::default() }, Flows::default());
            for _ in 0..60 {
                above_ground(
                    &mut pest,
                    &PestDay { degree_days: 8.0, host_share, ..day(&params, &of_step) },
                    &mut flows,
                );
            }
            (pest.dropped, damage(&pest, &params, host_share))
        };
        let (whole, quarter) = (grown(1.0), grown(0.25));
        assert!(whole.0 > 0.0 && whole.1 > 0.0);
        near(quarter.0, 0.25 * whole.0, 1e-9 * whole.0);
        near(quarter.1, whole.1, 1e-9);
    }

    /// Neighbours' adults come while the pest flies: between the tails, or to the season's end with more generations.
    #[test]
    fn adults_fly_in_while_the_pest_flies() {
        let one = PestParams { fly_in: 0.008, ..undying() };
        let several = PestParams { resting_from: 242.0, ..one.clone() };
        let flown = |params: &PestParams, emerged_share: f64, degree_days: f64| {
            let (mut pest, mut flows) = (PestHere { emerged_share, ..PestHere::default() }, Flows::default());
            let of_step = PestStep::new(params, 1.0);
            adults(&mut pest, &PestDay { degree_days, neighbours: 10.0, ..day(params, &of_step) }, 0.0, &mut flows);
            assert_eq!((pest.flown_in, flows.get(Flow::FlownIn)), (pest.adults, pest.adults));
            pest.adults
        };
        same(flown(&one, 0.5, 4.0), 0.08);
        same(flown(&several, 0.99, 4.0), 0.08);
        same(flown(&one, 0.03, 0.5), 0.08);
        for (params, emerged, degree_days) in
            [(&one, 0.99, 4.0), (&one, 0.01, 4.0), (&several, 0.01, 4.0), (&one, 0.5, 0.0)]
        {
            assert_eq!(flown(params, emerged, degree_days), 0.0);
        }
    }

    /// When counting starts, last year's drop and what is left of its summer are this year's pool, and all counts from 0.
    #[test]
    fn the_seasons_turn_this_years_drop_into_next_years_pool() {
        let params = sawfly();
        let mut pest =
            PestHere { dropped: 30.0, grown_this_season: 50.0, age: 400.0, emerged_share: 1.0, ..in_soil(5.0) };
        pest.summer = [1.0; PEST_BOXES];
        let total = pest.total();
        end_season(&mut pest, &params, 1.0);
        assert_eq!((pest.age, pest.emerged_share, pest.seasons), (0.0, 0.0, 1.0));
        same(pest.damage_sum, hazard_to_prob(0.01 * 50.0));
        start_season(&mut pest);
        assert_eq!((pest.overwintered, pest.dropped, pest.summer), (41.0, 0.0, [0.0; PEST_BOXES]));
        assert_eq!(pest.grown_this_season, 0.0);
        assert_eq!((pest.age, pest.emerged_share), (0.0, 0.0));
        same(pest.total(), total);
        // Counting that starts with the run, late in the season, starts at 0 too.
        let mut late = PestHere { age: 400.0, emerged_share: 0.7, ..PestHere::default() };
        start_season(&mut late);
        assert_eq!((late.age, late.emerged_share), (0.0, 0.0));
    }

    /// Damage saturates: none without larvae, half at ln 2/0.01 of them, never all.
    #[test]
    fn damage_saturates() {
        let params = sawfly();
        let of = |larvae: f64| damage(&PestHere { grown_this_season: larvae, ..PestHere::default() }, &params, 1.0);
        assert_eq!(of(0.0), 0.0);
        near(of(69.314_718), 0.5, 1e-8);
        assert!(of(1e4) <= 1.0);
    }

    /// A year under birds with everything at work: every pest that comes or goes is booked, and no pool goes below zero.
    #[test]
    fn the_books_of_a_year_hold() {
        for resting_from in [0.0, 150.0] {
            let params = PestParams { resting_from, ..sawfly() };
            let (of_step, mut flows) = (PestStep::new(&params, 1.0), Flows::default());
            let mut pest = PestHere { dropped: 3.0, ..in_soil(40.0) };
            let start = pest.total();
            let search = Search { soil: 0.3, emerging_day: 0.1, dropping_day: 0.2 };
            for since_solstice in 101..182 {
                let mean_adults = if since_solstice < 140 { 1.0 } else { 0.1 };
                let day = PestDay {
                    search,
                    degree_days: 8.0,
                    since_solstice: f64::from(since_solstice),
                    mean_adults,
                    neighbours: 1.0,
                    exposed: 0.8,
                    ..day(&params, &of_step)
                };
                advance(&mut pest, &day, &mut flows);
                let pools = [pest.overwintered, pest.dropped, pest.adults];
                assert!(pools.iter().chain(&pest.above).chain(&pest.summer).all(|&pool| pool >= 0.0));
            }
            near(pest.total() - start, net(&flows, Currency::Pests), 1e-9 * start);
            assert!(flows.get(Flow::EggsLaid) > 0.0 && flows.get(Flow::PestCaught) > 0.0);
        }
    }
}
