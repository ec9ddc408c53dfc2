//! Pests with a soil stage: rising by degree-days, adults, larvae above ground, back into
//! the soil; and what birds catch on the way.
//!
//! The hazard of emergence works on survivors: with F the share of spring emergence that is
//! due and c the share that stays a second winter, h = (1−c)(F₁−F₀)/(1−(1−c)F₀). Exactly c
//! of an undisturbed pool is left at the end (the form (F₁−F₀)/(1−F₀)·(1−c) leaves less
//! the longer the tail is resolved). Overwintered pool and this year's drop are two
//! pools; physiological age is 0 outside the season, so that a February stay finds
//! larvae at their winter depth.

use crate::flows::{Flow, Flows};
use crate::kinds::PestNumbers;
use crate::lanes::{Mask, Real};
use crate::math::normal_cdf;
use crate::plot::plan::PestStep;
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
    pub numbers: &'a PestNumbers<F>,
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
    /// Share of the zone birds can reach.
    pub exposed: F,
}

/// Spread beyond which emergence counts as over or not begun, standard deviations.
const TAILS: f64 = 5.0;
/// Share of emergence between which a pest of one generation flies.
const FLIGHT: (f64, f64) = (0.02, 0.98);

/// Share of the pool within reach of birds, by physiological age.
#[inline(always)]
#[must_use]
pub fn reach<F: Real>(day: &PestDay<F>, age: F) -> F {
    let (n, per_spread) = (day.numbers, day.of_step.per_spread);
    let stirring = age.gt(n.emergence - n.rise_lead - n.emergence_spread * TAILS);
    if !stirring.any() {
        return n.reach_resting;
    }
    let since = age - n.emergence;
    let risen = normal_cdf((since + n.rise_lead) * per_spread);
    let risen = risen - normal_cdf(since * per_spread - 3.0);
    F::choose(stirring, n.reach_resting + (n.reach_risen - n.reach_resting) * risen, n.reach_resting)
}

/// Share of spring emergence due at a physiological age.
#[inline(always)]
fn due<F: Real>(day: &PestDay<F>, age: F) -> F {
    let z = (age - day.numbers.emergence) * day.of_step.per_spread;
    let early = z.below(-TAILS);
    if (!early).any() { F::choose(early, z.zero(), normal_cdf(z)) } else { z.zero() }
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
        return prey * search.lost();
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

/// One step of one pest in one zone.
#[inline(always)]
pub fn advance<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) {
    let age = pest.age + day.degree_days;
    let before = pest.emerged_share;
    let counting = day.degree_days.above(0.0);
    let mut now = before;
    let mut hazard = before.zero();
    if counting.any() {
        now = F::choose(counting, due(day, age).max(before), before);
        let more = now.gt(before);
        if more.any() {
            let staying = day.numbers.two_winter_share.rest();
            hazard = (staying * (now - before) / (staying * before).rest()).where_(more);
        }
    }
    let dying = day.of_step.death_soil;
    let start = pest.overwintered + pest.dropped;
    pest.overwintered *= dying.rest();
    pest.dropped *= dying.rest();
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
    let resting = caught(pest.dropped, day.numbers.reach_resting * day.search.soil, day);
    let risen = caught(pest.overwintered, reach(day, age) * day.search.soil, day);
    pest.dropped -= resting;
    pest.overwintered -= risen;
    flows.add(Flow::PestCaught, resting + risen);
}

/// Caught in the soil of the part birds can reach.
#[inline(always)]
fn caught<F: Real>(pool: F, search: F, day: &PestDay<F>) -> F {
    let at_once = pool * day.exposed * search.lost();
    let slow = day.numbers.handling_time.above(0.0);
    if !slow.any() {
        return at_once;
    }
    let handling = day.numbers.handling_time * day.numbers.search_soil;
    let handled = pool.by_lane(|i| rogers(pool.lane(i), search.lane(i), handling.lane(i)));
    F::choose(slow, day.exposed * handled, at_once)
}

/// A summer generation's stage in the soil; returns adults leaving it.
#[inline(always)]
fn summer_generation<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) -> F {
    let rests = day.numbers.resting_from.above(0.0);
    if !rests.any() {
        return day.degree_days.zero();
    }
    if day.search.soil.above(0.0).any() {
        let share = day.exposed * (day.numbers.reach_resting * day.search.soil).lost();
        for stage in &mut pest.summer {
            flows.add(Flow::PestCaught, *stage * share);
            *stage *= share.rest();
        }
    }
    let rate = (day.degree_days * day.of_step.summer_per_degree_day).where_(rests);
    chain(&mut pest.summer, rate, day.of_step.death_soil, rate.zero(), flows)
}

/// Moves a chain of boxes: total exit min(rate + death, 1), of which rate/(rate + death)
/// moves on. Survival and mean stay do not depend on the step. Returns what leaves.
#[inline(always)]
pub fn chain<F: Real>(boxes: &mut [F; PEST_BOXES], rate: F, death: F, entering: F, flows: &mut Flows<F>) -> F {
    let total = rate + death;
    let beyond = total.above(1.0);
    let mut scale = total.of(1.0);
    if beyond.any() {
        scale = F::choose(beyond, scale / total, scale);
    }
    let (moves, dies) = (rate * scale, death * scale);
    let mut arriving = entering;
    let mut dead = total.zero();
    for stage in boxes.iter_mut() {
        let leaving = *stage * moves;
        let dying = *stage * dies;
        dead += dying;
        *stage += arriving - leaving - dying;
        arriving = leaving;
    }
    flows.add(Flow::PestDeath, dead);
    arriving
}

/// Eggs and larvae: laid by adults of the start of the step, leaving for the soil.
#[inline(always)]
fn above_ground<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) {
    let laid = (pest.adults * day.of_step.eggs).where_(day.host);
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
        crowded_out = laid * (laid.of(1.0) / (day.numbers.crowding * crowd + 1.0)).rest();
    }
    flows.add(Flow::EggsLaid, laid);
    flows.add(Flow::PestDeath, crowded_out);
    let rate = day.degree_days * day.of_step.above_per_degree_day;
    let dropping = chain(&mut pest.above, rate, day.of_step.death_above_ground, laid - crowded_out, flows);
    pest.grown_this_season += dropping;
    let mut eaten = dropping.zero();
    if day.search.dropping_day.above(0.0).any() {
        eaten = dropping * day.exposed * day.search.dropping_day.lost();
    }
    flows.add(Flow::PestCaught, eaten);
    let summer = day.numbers.resting_from.above(day.since_solstice);
    let left = dropping - eaten;
    pest.summer[0] += left.where_(summer);
    pest.dropped += left.where_(!summer);
}

/// Adults: risers that got past the birds, flown in, mixed between plots, dying.
#[inline(always)]
fn adults<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, rising: F, flows: &mut Flows<F>) {
    let mut eaten = rising.zero();
    if day.search.emerging_day.above(0.0).any() {
        eaten = rising * day.exposed * day.search.emerging_day.lost();
    }
    let arrived = (day.neighbours * day.of_step.fly_in).where_(flying(pest, day));
    if !(pest.adults + day.mean_adults + rising + arrived).above(0.0).any() {
        return;
    }
    let dying = pest.adults * day.of_step.adult_death;
    // Exchange works on what is left, so that nothing goes below zero.
    let mixed = (day.mean_adults - pest.adults) * day.of_step.mixing;
    let mixed = mixed.max(dying - pest.adults);
    let inward = mixed.above(0.0);
    flows.add(Flow::PestCaught, eaten);
    flows.add(Flow::FlownIn, arrived);
    flows.add(Flow::PestDeath, dying);
    flows.add(Flow::MixedInPests, mixed.where_(inward));
    flows.add(Flow::MixedOutPests, (mixed * -1.0).where_(!inward));
    pest.risen += rising - eaten;
    pest.flown_in += arrived;
    pest.adults += rising - eaten + arrived + mixed - dying;
}

/// Whether adults fly: between the tails of emergence, or to the end of the season for
/// pests with several generations.
#[inline(always)]
fn flying<F: Real>(pest: &PestHere<F>, day: &PestDay<F>) -> F::Mask {
    let begun = day.degree_days.above(0.0) & pest.emerged_share.above(FLIGHT.0);
    begun & (day.numbers.resting_from.above(0.0) | pest.emerged_share.below(FLIGHT.1))
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
pub fn end_season(pest: &mut PestHere, n: &PestNumbers) {
    pest.damage_sum += damage(pest, n);
    pest.seasons += 1.0;
    pest.age = 0.0;
    pest.emerged_share = 0.0;
}

/// Share of the crop damaged by this season's larvae so far; it saturates.
#[must_use]
pub fn damage(pest: &PestHere, n: &PestNumbers) -> f64 {
    (n.damage_per_larva * pest.grown_this_season).lost()
}
