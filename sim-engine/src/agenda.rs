//! The agenda: what is due, in a total order.
//!
//! Events leave by (day, phase, number): first the day, then the phase in the order of
//! [`Phase`], then the order in which they were put in. An event may put in others,
//! for its own day (a later phase or number) or for any later day.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// The order of a day's events.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Phase {
    /// Housing orders begin and end.
    Orders,
    /// Birds arrive, leave isolation, leave.
    Birds,
    /// Leaf-out, leaf-fall, turns of the pests' seasons.
    Nature,
    /// Harvests.
    Harvest,
    /// Crops out of the ground.
    CropsOut,
    /// Crops into the ground.
    CropsIn,
    /// Hoeing, mowing, clearing, mulch, compost, the heap, spray and bait, cleaning the yard.
    Care,
    /// Guards and nets up and down.
    Guards,
    /// Gates set by hand.
    Gates,
    /// What is only noted.
    Notes,
}

/// What happens. Indices are into the site.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Event {
    /// A housing order begins.
    OrderBegins {
        /// Index of the site event.
        event: usize,
    },
    /// It ends: this is the first free day.
    OrderEnds,
    /// A group arrives.
    Arrives {
        /// Group.
        group: usize,
    },
    /// A group's isolation ends.
    IsolationEnds {
        /// Group.
        group: usize,
    },
    /// A group leaves the site.
    Leaves {
        /// Group.
        group: usize,
    },
    /// A canopy of the plot comes into leaf.
    LeafOut {
        /// Plot.
        plot: usize,
        /// Canopy of the plot.
        canopy: usize,
    },
    /// The leaves of a canopy of the plot fall.
    LeafFall {
        /// Plot.
        plot: usize,
        /// Canopy of the plot.
        canopy: usize,
    },
    /// The last of a canopy's fruit: the year's fruit is picked.
    FruitPicked {
        /// Plot.
        plot: usize,
        /// Canopy of the plot.
        canopy: usize,
    },
    /// A pest's degree-days begin to count.
    CountingStarts {
        /// Pest.
        pest: usize,
    },
    /// A pest's season ends.
    SeasonEnds {
        /// Pest.
        pest: usize,
    },
    /// A pest begins to rise in a plot.
    EmergenceBegins {
        /// Plot.
        plot: usize,
        /// Pest.
        pest: usize,
    },
    /// A crop goes into the ground.
    CropIn {
        /// Plot.
        plot: usize,
        /// Ground of the plot.
        ground: usize,
        /// Crop of the ground.
        crop: usize,
    },
    /// The first harvest day.
    HarvestBegins {
        /// Plot.
        plot: usize,
    },
    /// The last harvest day: the yield is taken.
    HarvestEnds {
        /// Plot.
        plot: usize,
        /// Ground of the plot.
        ground: usize,
        /// Crop of the ground.
        crop: usize,
    },
    /// A crop leaves the ground.
    CropOut {
        /// Plot.
        plot: usize,
        /// Ground of the plot.
        ground: usize,
        /// Crop of the ground.
        crop: usize,
    },
    /// Hand work.
    CareDue {
        /// Plot.
        plot: usize,
        /// Entry of the plot's care.
        care: usize,
    },
    /// The heap is spread.
    HeapSpread {
        /// Plot.
        plot: usize,
        /// Index of the site event.
        event: usize,
    },
    /// The yard is cleaned out to the heap.
    YardCleaned,
    /// A guard goes up or comes down.
    GuardUp {
        /// Plot.
        plot: usize,
        /// Entry of the plot's guards.
        guard: usize,
    },
    /// A guard comes down.
    GuardDown {
        /// Plot.
        plot: usize,
        /// Entry of the plot's guards.
        guard: usize,
    },
    /// A net goes up.
    NetUp {
        /// Plot.
        plot: usize,
        /// Entry of the plot's nets.
        net: usize,
    },
    /// A net comes down.
    NetDown {
        /// Plot.
        plot: usize,
        /// Entry of the plot's nets.
        net: usize,
    },
    /// Something that harms birds comes onto a plot.
    KeepOut {
        /// Plot.
        plot: usize,
        /// Index of the site event.
        event: usize,
    },
    /// A gate is set by hand from this day.
    GateSet {
        /// Plot.
        plot: usize,
        /// Index of the site event.
        event: usize,
    },
    /// The gate is the strategy's again.
    GateFree {
        /// Plot.
        plot: usize,
    },
}

impl Event {
    /// When in its day it happens.
    #[must_use]
    pub fn phase(self) -> Phase {
        match self {
            Self::OrderBegins { .. } | Self::OrderEnds => Phase::Orders,
            Self::Arrives { .. } | Self::IsolationEnds { .. } | Self::Leaves { .. } => Phase::Birds,
            Self::LeafOut { .. } | Self::LeafFall { .. } => Phase::Nature,
            Self::CountingStarts { .. } | Self::SeasonEnds { .. } => Phase::Nature,
            Self::HarvestBegins { .. } | Self::HarvestEnds { .. } | Self::FruitPicked { .. } => Phase::Harvest,
            Self::CropOut { .. } => Phase::CropsOut,
            Self::CropIn { .. } => Phase::CropsIn,
            Self::CareDue { .. } | Self::HeapSpread { .. } | Self::YardCleaned | Self::KeepOut { .. } => Phase::Care,
            Self::GuardUp { .. } | Self::GuardDown { .. } => Phase::Guards,
            Self::NetUp { .. } | Self::NetDown { .. } => Phase::Guards,
            Self::GateSet { .. } | Self::GateFree { .. } => Phase::Gates,
            Self::EmergenceBegins { .. } => Phase::Notes,
        }
    }
}

/// An event with its place in the order.
#[derive(Clone, Copy, Debug)]
struct AgendaEntry {
    key: (usize, Phase, u64),
    event: Event,
}

impl PartialEq for AgendaEntry {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}
impl Eq for AgendaEntry {}
impl PartialOrd for AgendaEntry {
    fn partial_cmp(&self, other: &Self) -> Option<core::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for AgendaEntry {
    fn cmp(&self, other: &Self) -> core::cmp::Ordering {
        self.key.cmp(&other.key)
    }
}

/// Events to come.
#[derive(Clone, Debug, Default)]
pub struct Agenda {
    heap: BinaryHeap<Reverse<AgendaEntry>>,
    next_number: u64,
}

impl Agenda {
    /// Puts an event in for a day of the run (0 is the first).
    pub fn put(&mut self, day: usize, event: Event) {
        let key = (day, event.phase(), self.next_number);
        self.next_number += 1;
        self.heap.push(Reverse(AgendaEntry { key, event }));
    }

    /// The next event due on `day` or before, if any.
    pub fn take_due(&mut self, day: usize) -> Option<Event> {
        let due = self.heap.peek().is_some_and(|Reverse(e)| e.key.0 <= day);
        if due { self.heap.pop().map(|Reverse(e)| e.event) } else { None }
    }

    /// Room for `more` events without allocating.
    pub fn reserve(&mut self, more: usize) {
        self.heap.reserve(more);
    }

    /// Events to come.
    #[must_use]
    pub fn len(&self) -> usize {
        self.heap.len()
    }

    /// Whether nothing is to come.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.heap.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn events_leave_by_day_then_phase_then_number() {
        let mut agenda = Agenda::default();
        agenda.put(3, Event::YardCleaned);
        agenda.put(2, Event::CropIn { plot: 0, ground: 0, crop: 0 });
        agenda.put(2, Event::CropOut { plot: 0, ground: 0, crop: 0 });
        agenda.put(2, Event::CropIn { plot: 1, ground: 0, crop: 0 });
        agenda.put(2, Event::OrderEnds);
        let mut order = Vec::new();
        while let Some(h) = agenda.take_due(2) {
            order.push(h);
        }
        assert_eq!(
            order,
            vec![
                Event::OrderEnds,
                Event::CropOut { plot: 0, ground: 0, crop: 0 },
                Event::CropIn { plot: 0, ground: 0, crop: 0 },
                Event::CropIn { plot: 1, ground: 0, crop: 0 },
            ]
        );
        assert_eq!(agenda.len(), 1);
        assert_eq!(agenda.take_due(3), Some(Event::YardCleaned));
    }

    #[test]
    fn an_event_put_in_while_taking_leaves_the_same_day() {
        let mut agenda = Agenda::default();
        agenda.put(1, Event::CropOut { plot: 0, ground: 0, crop: 0 });
        assert!(agenda.take_due(1).is_some());
        agenda.put(1, Event::YardCleaned);
        assert_eq!(agenda.take_due(1), Some(Event::YardCleaned));
        assert_eq!(agenda.take_due(1), None);
    }
}
