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
use crate::math::{lost, normal_cdf};
use crate::state::{PEST_BOXES, PestHere};

/// Search of birds for one pest in one zone, area per area.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Search {
    /// In the soil, this step.
    pub soil: f64,
    /// For adults leaving the soil, whole day: who crosses meets the day's birds, whatever the step.
    pub emerging_day: f64,
    /// For larvae dropping, whole day.
    pub dropping_day: f64,
    /// Bird-days per m², this step.
    pub bird_days: f64,
}

/// What a pest's step reads besides its state.
#[derive(Clone, Copy, Debug)]
pub struct PestDay {
    /// Degree-days of the step on this ground; 0 outside the season.
    pub degree_days: f64,
    /// Days since the winter solstice.
    pub since_solstice: f64,
    /// A host stands here.
    pub host: bool,
    /// Adults per m² over all host zones, at the start of the step.
    pub mean_adults: f64,
    /// Adults flying in per day of flight here.
    pub fly_in: f64,
    /// Share of adults that dies in the step.
    pub adults_die: f64,
    /// Share of the zone birds can reach.
    pub exposed: f64,
    /// Step, days.
    pub step: f64,
}

/// Spread beyond which emergence counts as over or not begun, standard deviations.
const TAILS: f64 = 5.0;
/// Share of emergence between which a pest of one generation flies.
const FLIGHT: (f64, f64) = (0.02, 0.98);

/// Share of the pool within reach of birds, by physiological age.
#[inline]
#[must_use]
pub fn reach(n: &PestNumbers, age: f64) -> f64 {
    let sd = n.emergence_spread;
    if age <= n.emergence - n.rise_lead - TAILS * sd {
        return n.reach_resting;
    }
    let risen = normal_cdf((age - n.emergence + n.rise_lead) / sd) - normal_cdf((age - n.emergence - 3.0 * sd) / sd);
    n.reach_resting + (n.reach_risen - n.reach_resting) * risen
}

/// Share of spring emergence due at a physiological age.
#[inline]
fn due(n: &PestNumbers, age: f64) -> f64 {
    let z = (age - n.emergence) / n.emergence_spread;
    if z < -TAILS { 0.0 } else { normal_cdf(z) }
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
        return prey * lost(search);
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
#[inline]
pub fn advance(pest: &mut PestHere, n: &PestNumbers, day: &PestDay, search: &Search, flows: &mut Flows) {
    let age = pest.age + day.degree_days;
    let before = pest.emerged_share;
    let now = if day.degree_days > 0.0 { due(n, age).max(before) } else { before };
    let staying = 1.0 - n.two_winter_share;
    let hazard = if now > before { staying * (now - before) / (1.0 - staying * before) } else { 0.0 };
    let rising = soil(pest, n, day, search, age, hazard, flows);
    let summer = summer_generation(pest, n, day, search, flows);
    pest.age = age;
    pest.emerged_share = now;
    above_ground(pest, n, day, search, flows);
    adults(pest, n, day, search, rising + summer, flows);
}

/// Deaths, birds and emergence in the two soil pools; returns adults leaving the soil.
#[inline]
fn soil(
    pest: &mut PestHere,
    n: &PestNumbers,
    day: &PestDay,
    search: &Search,
    age: f64,
    hazard: f64,
    flows: &mut Flows,
) -> f64 {
    let dying = (n.death_soil * day.step).min(1.0);
    let start = pest.overwintered + pest.dropped;
    pest.overwintered *= 1.0 - dying;
    pest.dropped *= 1.0 - dying;
    flows.add(Flow::PestDeath, start * dying);
    if search.soil > 0.0 {
        let resting = caught(pest.dropped, n.reach_resting * search.soil, n, day);
        let risen = caught(pest.overwintered, reach(n, age) * search.soil, n, day);
        pest.dropped -= resting;
        pest.overwintered -= risen;
        flows.add(Flow::PestCaught, resting + risen);
    }
    let emerging = pest.overwintered * hazard;
    pest.overwintered -= emerging;
    emerging
}

/// Caught in the soil of the part birds can reach.
#[inline]
fn caught(pool: f64, search: f64, n: &PestNumbers, day: &PestDay) -> f64 {
    if n.handling_time > 0.0 {
        day.exposed * rogers(pool, search, n.handling_time * n.search_soil)
    } else {
        pool * day.exposed * lost(search)
    }
}

/// A summer generation's stage in the soil; returns adults leaving it.
#[inline]
fn summer_generation(pest: &mut PestHere, n: &PestNumbers, day: &PestDay, search: &Search, flows: &mut Flows) -> f64 {
    if n.resting_from <= 0.0 {
        return 0.0;
    }
    if search.soil > 0.0 {
        let share = day.exposed * lost(n.reach_resting * search.soil);
        for stage in &mut pest.summer {
            flows.add(Flow::PestCaught, *stage * share);
            *stage *= 1.0 - share;
        }
    }
    let rate = PEST_BOXES as f64 * day.degree_days / n.summer_soil;
    chain(&mut pest.summer, rate, n.death_soil * day.step, 0.0, flows)
}

/// Moves a chain of boxes: total exit min(rate + death, 1), of which rate/(rate + death)
/// moves on. Survival and mean stay do not depend on the step. Returns what leaves.
#[inline]
pub fn chain(boxes: &mut [f64; PEST_BOXES], rate: f64, death: f64, entering: f64, flows: &mut Flows) -> f64 {
    let total = rate + death;
    if total <= 0.0 {
        boxes[0] += entering;
        return 0.0;
    }
    let exit = total.min(1.0);
    let (moves, dies) = (exit * rate / total, exit * death / total);
    let mut arriving = entering;
    let mut dead = 0.0;
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
#[inline]
fn above_ground(pest: &mut PestHere, n: &PestNumbers, day: &PestDay, search: &Search, flows: &mut Flows) {
    let laid = if day.host { pest.adults * n.eggs_per_adult / n.adult_life * day.step } else { 0.0 };
    let crowd: f64 = pest.above.iter().sum::<f64>() + laid;
    if crowd <= 0.0 {
        return;
    }
    let crowded_out = laid * (1.0 - 1.0 / (1.0 + n.crowding * crowd));
    flows.add(Flow::EggsLaid, laid);
    flows.add(Flow::PestDeath, crowded_out);
    let rate = PEST_BOXES as f64 * day.degree_days / n.egg_to_drop;
    let dropping = chain(&mut pest.above, rate, n.death_above_ground * day.step, laid - crowded_out, flows);
    pest.grown_this_season += dropping;
    let eaten = if search.dropping_day > 0.0 { dropping * day.exposed * lost(search.dropping_day) } else { 0.0 };
    flows.add(Flow::PestCaught, eaten);
    if day.since_solstice < n.resting_from {
        pest.summer[0] += dropping - eaten;
    } else {
        pest.dropped += dropping - eaten;
    }
}

/// Adults: risers that got past the birds, flown in, mixed between plots, dying.
#[inline]
fn adults(pest: &mut PestHere, n: &PestNumbers, day: &PestDay, search: &Search, rising: f64, flows: &mut Flows) {
    let eaten = if search.emerging_day > 0.0 { rising * day.exposed * lost(search.emerging_day) } else { 0.0 };
    let arrived = if flying(pest, n, day) { day.fly_in * n.fly_in * day.step } else { 0.0 };
    let mut dying = 0.0;
    let mut mixed = 0.0;
    if pest.adults > 0.0 || day.mean_adults > 0.0 {
        dying = pest.adults * day.adults_die;
        // Exchange works on what is left, so that nothing goes below zero.
        mixed = (day.mean_adults - pest.adults) * (n.mixing * day.step).min(1.0);
        mixed = mixed.max(dying - pest.adults);
    }
    flows.add(Flow::PestCaught, eaten);
    flows.add(Flow::FlownIn, arrived);
    flows.add(Flow::PestDeath, dying);
    if mixed > 0.0 {
        flows.add(Flow::MixedInPests, mixed)
    } else {
        flows.add(Flow::MixedOutPests, -mixed)
    }
    pest.risen += rising - eaten;
    pest.flown_in += arrived;
    pest.adults += rising - eaten + arrived + mixed - dying;
}

/// Whether adults fly: between the tails of emergence, or to the end of the season for
/// pests with several generations.
#[inline]
fn flying(pest: &PestHere, n: &PestNumbers, day: &PestDay) -> bool {
    day.degree_days > 0.0 && pest.emerged_share > FLIGHT.0 && (n.resting_from > 0.0 || pest.emerged_share < FLIGHT.1)
}

/// Counting starts: this year's drop joins the overwintered pool.
pub fn start_season(pest: &mut PestHere) {
    pest.overwintered += pest.dropped + pest.summer.iter().sum::<f64>();
    pest.dropped = 0.0;
    pest.summer = [0.0; PEST_BOXES];
    pest.grown_this_season = 0.0;
    pest.age = 0.0;
    pest.emerged_share = 0.0;
    pest.announced = false;
    pest.in_season = true;
}

/// The end of the season: physiological age is 0 until counting starts again.
pub fn end_season(pest: &mut PestHere, n: &PestNumbers) {
    if pest.in_season {
        pest.damage_sum += damage(pest, n);
        pest.seasons += 1.0;
    }
    pest.in_season = false;
    pest.age = 0.0;
    pest.emerged_share = 0.0;
}

/// Share of the crop damaged by this season's larvae so far; it saturates.
#[must_use]
pub fn damage(pest: &PestHere, n: &PestNumbers) -> f64 {
    lost(n.damage_per_larva * pest.grown_this_season)
}
