//! Several possible years abreast: the same strategy on the same site under different luck,
//! one year in each lane of the processor's vectors.
//!
//! Events, gates, birds and recorders run year by year, as in a run alone. The step of the
//! ground, which is most of the work, runs for all years at once ([`crate::lanes`]). Every year
//! ends with the bits of its run alone. While years run abreast their ground is kept in lanes;
//! a year's own [`World`] holds what is seen of it from the gate, and all of a plot on days when an
//! event works there.

mod day;
mod gathered;
mod ground;
mod shared;

use crate::birds_day::{self, BirdsDay};
use crate::drivers::Drivers;
use crate::flows::{OF_CLOSE_LOOK, OF_SUMMARY};
use crate::gates::spec::StrategySpec;
use crate::gates::{self, Strategy};
use crate::happenings;
use crate::lanes::Real;
use crate::lanes::wide::{Lanes, Vectors};
use crate::recorder::{DayView, FromTheGate};
use crate::season::{Desk, RunOptions, look_over_gates, remember, run};
use crate::site::Site;
use crate::world::{RunError, World};
use gathered::Gathered;
use ground::Ground;
use pulp::x86::{V3, V4};
use pulp::{Simd, WithSimd};
use shared::Shared;

/// A possible year: a site with its unknowns settled and what weather and calendar decide.
///
/// All years of a run must come from one site: they may differ in numbers, not in what is there.
pub type Year<'a> = (&'a Site, &'a Drivers);

/// Possible years made ready to run abreast, under one strategy after the other.
pub struct Abreast {
    years: usize,
    flights: Vec<Shared>,
}

impl Abreast {
    /// Makes years ready.
    #[must_use]
    pub fn new(years: &[Year<'_>]) -> Self {
        let abreast = years.chunks(lanes()).filter(|years| years.len() > 1);
        Self { years: years.len(), flights: abreast.map(|years| Shared::new(years, lanes_for(years.len()))).collect() }
    }

    /// Runs strategy `which` of `strategies` on every year; `recorders` has one for each. The
    /// years are those of [`Abreast::new`], though their flocks may differ.
    ///
    /// # Errors
    /// If a run cannot start: see [`RunError`].
    pub fn run<R: FromTheGate>(
        &self,
        years: &[Year<'_>],
        strategies: &[StrategySpec],
        which: usize,
        options: RunOptions,
        recorders: &mut [R],
    ) -> Result<(), RunError> {
        let (ready, given) = (self.years, years.len());
        if (given, recorders.len()) != (ready, ready) {
            return Err(RunError::OtherYears { ready, given, recorders: recorders.len() });
        }
        let lanes = lanes();
        let mut flights = self.flights.iter();
        for (years, recorders) in years.chunks(lanes).zip(recorders.chunks_mut(lanes)) {
            if let ([(site, drivers)], [recorder]) = (years, &mut *recorders) {
                run(site, drivers, strategies, which, options, recorder)?;
                continue;
            }
            let Some(shared) = flights.next() else { break };
            let closely = recorders.iter().any(FromTheGate::reads_books);
            let mut flight = Flight::new(years, shared, strategies, which, options, recorders)?;
            if closely {
                flight.run::<OF_CLOSE_LOOK>();
            } else {
                flight.run::<OF_SUMMARY>();
            }
        }
        Ok(())
    }
}

/// The fewest lanes this processor has that so many years fit into, or its most.
fn lanes_for(years: usize) -> usize {
    if years <= V3::F64_LANES { lanes().min(V3::F64_LANES) } else { lanes() }
}

/// How many years run abreast on this processor: 8, 4 or 1.
#[must_use]
pub fn lanes() -> usize {
    if V4::try_new().is_some() {
        V4::F64_LANES
    } else if V3::try_new().is_some() {
        V3::F64_LANES
    } else {
        1
    }
}

/// Years on their way.
struct Flight<'f, 'a> {
    shared: &'f Shared,
    worlds: Vec<World<'a>>,
    strategies: Vec<Box<dyn Strategy>>,
    desks: Vec<Desk>,
    reports: Vec<BirdsDay>,
    recorders: Vec<&'f mut dyn FromTheGate>,
    options: RunOptions,
}

impl<'f, 'a> Flight<'f, 'a> {
    fn new<R: FromTheGate>(
        years: &[Year<'a>],
        shared: &'f Shared,
        strategies: &[StrategySpec],
        which: usize,
        options: RunOptions,
        recorders: &'f mut [R],
    ) -> Result<Self, RunError> {
        let world = |&(site, drivers): &Year<'a>| World::new(site, drivers, options.birds, options.hands);
        Ok(Self {
            shared,
            worlds: years.iter().map(world).collect::<Result<_, _>>()?,
            strategies: years.iter().map(|(site, _)| gates::build(site, strategies, which)).collect(),
            desks: years.iter().map(|(site, _)| Desk::new(site)).collect(),
            reports: vec![BirdsDay::default(); years.len()],
            recorders: recorders.iter_mut().map(|recorder| recorder as _).collect(),
            options,
        })
    }

    /// Runs all days on the vectors of this processor, keeping so many flows of the books.
    fn run<const FLOWS: usize>(&mut self) {
        match (V4::try_new(), V3::try_new()) {
            (Some(simd), _) if self.shared.lanes == V4::F64_LANES => {
                Simd::vectorize(simd, Fly::<_, FLOWS> { simd, flight: self });
            }
            (_, Some(simd)) => Simd::vectorize(simd, Fly::<_, FLOWS> { simd, flight: self }),
            // Without vectors there is one lane, and no flight.
            _ => {}
        }
    }

    /// The day up to the birds' going out, year by year.
    fn morning<F: Real>(&mut self, ground: &mut Ground<F>, day: usize) {
        let desks = self.desks.iter_mut().zip(&mut self.strategies);
        let years = self.worlds.iter_mut().zip(&mut self.recorders).zip(desks).zip(&mut self.reports);
        for (lane, (((world, recorder), (desk, strategy)), report)) in years.enumerate() {
            let bring = |world: &mut World, happening| ground.bring(world, lane, happening);
            happenings::run_due_on(world, day, bring, |happening| recorder.event(day, happening));
            ground.put_back(world, lane);
            look_over_gates(world, day);
            desk.decide(world, strategy.as_mut(), day, self.options.turn_round);
            *report = BirdsDay::default();
            birds_day::send_out(world, &desk.gates.openings, report);
        }
    }

    /// The evening, year by year.
    fn evening<F: Real>(&mut self, ground: &Ground<F>, day: usize, gathered: bool) {
        let years = self.worlds.iter_mut().zip(&mut self.recorders).zip(&self.desks).zip(&mut self.reports);
        for (lane, (((world, recorder), desk), report)) in years.enumerate() {
            ground.show(world, lane);
            if recorder.looks_closely(day) {
                ground.show_all(world, lane);
            }
            birds_day::evening(world, day, ground.eaten(lane), report);
            remember(world, day);
            recorder.day(&DayView { day, world, birds: report, gates: &desk.gates, gathered });
        }
    }
}

/// A flight on a processor that has these vectors.
struct Fly<'r, 'f, 'a, S, const FLOWS: usize> {
    simd: S,
    flight: &'r mut Flight<'f, 'a>,
}

impl<S: Vectors, const FLOWS: usize> WithSimd for Fly<'_, '_, '_, S, FLOWS> {
    type Output = ();

    #[inline(always)]
    fn with_simd<T: Simd>(self, _: T) {
        let flight = self.flight;
        let days = flight.worlds[0].site.days;
        let mut ground = Ground::new(Lanes::<S, FLOWS>::zeros(self.simd), &flight.worlds);
        for (world, recorder) in flight.worlds.iter().zip(flight.recorders.iter_mut()) {
            recorder.start(world);
        }
        let mut gathered = Gathered::begin(ground.zero, &mut flight.recorders);
        for day in 0..days {
            ground.dawn(flight.shared, &mut flight.worlds, day);
            flight.morning(&mut ground, day);
            ground.day(flight.shared, &mut flight.worlds, day);
            if let Some(gathered) = &mut gathered {
                gathered.day(&ground, &flight.worlds, &flight.recorders, day);
            }
            flight.evening(&ground, day, gathered.is_some());
        }
        if let Some(gathered) = gathered {
            gathered.hand_back(&mut flight.recorders);
        }
        for (lane, world) in flight.worlds.iter_mut().enumerate() {
            ground.show_all(world, lane);
            flight.recorders[lane].end(world);
        }
    }
}
