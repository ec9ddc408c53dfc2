//! Who listens to a run: recorders hear of every event and every day, and change nothing.

use crate::agenda::Happening;
use crate::birds_day::BirdsDay;
use crate::gates::Opening;
use crate::gates::reason::{Reason, Veto};
use crate::summary::{Gathering, Reference};
use crate::world::World;

/// A day's gates as decided.
#[derive(Clone, Debug)]
pub struct GateDay {
    /// Gates open to the flock.
    pub openings: Vec<Opening>,
    /// Why the strategy proposed what it did.
    pub reason: Reason,
    /// What a rule took out of the proposal.
    pub vetoed: Vec<(usize, Veto)>,
    /// Plots whose gate was set by hand today.
    pub by_hand: Vec<usize>,
    /// The decision turned round, if it was today's.
    pub turned_round: Option<usize>,
    /// Gates opened or shut since yesterday.
    pub moves: usize,
}

/// What a recorder is told at the end of a day.
pub struct DayView<'r, 'w> {
    /// Day of the run.
    pub day: usize,
    /// The world in the evening.
    pub world: &'r World<'w>,
    /// The birds' day.
    pub birds: &'r BirdsDay,
    /// The gates.
    pub gates: &'r GateDay,
    /// What a recorder gathers of the plots has been gathered: see [`FromTheGate::gathering`].
    pub gathered: bool,
}

/// Listens to a run. All methods may do nothing.
pub trait Recorder {
    /// Before the first day.
    fn start(&mut self, _world: &World) {}
    /// An event took effect.
    fn event(&mut self, _day: usize, _happening: Happening) {}
    /// A day is over.
    fn day(&mut self, view: &DayView);
    /// The run is over.
    fn end(&mut self, _world: &World) {}
}

/// A recorder that reads of the ground no more than is kept when possible years run abreast
/// ([`crate::abreast`]): on most days what is seen of each plot ([`World::seen_of`]); before the
/// first day, at the end and on days it names everything but the books, of which there are the
/// nitrogen, the phosphorus of manure, and the cover, weeds and insects eaten.
pub trait FromTheGate: Recorder {
    /// Whether it reads more than is seen of the plots in the evening of a day.
    fn looks_closely(&self, _day: usize) -> bool {
        false
    }

    /// Whether it reads more of the books than manure and what is leached.
    fn reads_books(&self) -> bool {
        false
    }

    /// What it gathers of the plots day by day, if it does. Years that run abreast gather it
    /// together, one a lane, and hand it back before the end; [`DayView::gathered`] tells of it.
    fn gathering(&mut self) -> Option<&mut Gathering> {
        None
    }

    /// The run without birds that the gathering is held against.
    fn held_against(&self) -> Option<&Reference> {
        None
    }
}

/// Of two recorders one may gather; where both would, each has to do it for itself.
impl<A: FromTheGate, B: FromTheGate> FromTheGate for (A, B) {
    fn looks_closely(&self, day: usize) -> bool {
        self.0.looks_closely(day) || self.1.looks_closely(day)
    }
    fn reads_books(&self) -> bool {
        self.0.reads_books() || self.1.reads_books()
    }
    fn gathering(&mut self) -> Option<&mut Gathering> {
        match (self.0.gathering(), self.1.gathering()) {
            (Some(one), None) | (None, Some(one)) => Some(one),
            _ => None,
        }
    }
    fn held_against(&self) -> Option<&Reference> {
        self.0.held_against().or(self.1.held_against())
    }
}
impl<R: FromTheGate> FromTheGate for Option<R> {
    fn looks_closely(&self, day: usize) -> bool {
        self.as_ref().is_some_and(|r| r.looks_closely(day))
    }
    fn reads_books(&self) -> bool {
        self.as_ref().is_some_and(R::reads_books)
    }
    fn gathering(&mut self) -> Option<&mut Gathering> {
        self.as_mut().and_then(R::gathering)
    }
    fn held_against(&self) -> Option<&Reference> {
        self.as_ref().and_then(R::held_against)
    }
}
impl<R: FromTheGate> FromTheGate for &mut R {
    fn looks_closely(&self, day: usize) -> bool {
        (**self).looks_closely(day)
    }
    fn reads_books(&self) -> bool {
        (**self).reads_books()
    }
    fn gathering(&mut self) -> Option<&mut Gathering> {
        (**self).gathering()
    }
    fn held_against(&self) -> Option<&Reference> {
        (**self).held_against()
    }
}

/// Two recorders at once.
impl<A: Recorder, B: Recorder> Recorder for (A, B) {
    fn start(&mut self, world: &World) {
        self.0.start(world);
        self.1.start(world);
    }
    fn event(&mut self, day: usize, happening: Happening) {
        self.0.event(day, happening);
        self.1.event(day, happening);
    }
    fn day(&mut self, view: &DayView) {
        self.0.day(view);
        self.1.day(view);
    }
    fn end(&mut self, world: &World) {
        self.0.end(world);
        self.1.end(world);
    }
}

/// A recorder that may not be wanted.
impl<R: Recorder> Recorder for Option<R> {
    fn start(&mut self, world: &World) {
        self.iter_mut().for_each(|r| r.start(world));
    }
    fn event(&mut self, day: usize, happening: Happening) {
        self.iter_mut().for_each(|r| r.event(day, happening));
    }
    fn day(&mut self, view: &DayView) {
        self.iter_mut().for_each(|r| r.day(view));
    }
    fn end(&mut self, world: &World) {
        self.iter_mut().for_each(|r| r.end(world));
    }
}

impl<R: Recorder> Recorder for &mut R {
    fn start(&mut self, world: &World) {
        (**self).start(world);
    }
    fn event(&mut self, day: usize, happening: Happening) {
        (**self).event(day, happening);
    }
    fn day(&mut self, view: &DayView) {
        (**self).day(view);
    }
    fn end(&mut self, world: &World) {
        (**self).end(world);
    }
}
