//! How often each rule of a practice spoke, and what kept it silent.

use crate::gates::reason::Veto;

/// What kept a rule silent on a morning on which it was asked, in the order in which it is looked at: of several plots
/// the one that came furthest counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Silent {
    /// Outside its days of the year.
    Season,
    /// Outside the pest's window.
    Pest,
    /// Not what `when` asks for.
    Occasion,
    /// Its stay has been, and its occasion has not been over since.
    Stayed,
    /// Its days of this year are used up.
    Most,
    /// The plot has not rested long enough.
    Rest,
    /// The ground does not look so.
    Looks,
    /// The weather: `unless`.
    Weather,
    /// A hard rule keeps the gate shut.
    Shut,
}

impl Silent {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::Season,
        Self::Pest,
        Self::Occasion,
        Self::Stayed,
        Self::Most,
        Self::Rest,
        Self::Looks,
        Self::Weather,
        Self::Shut,
    ];

    /// Whether it was not the time of the rule: it waits.
    #[must_use]
    pub fn waits(self) -> bool {
        matches!(self, Self::Occasion | Self::Season | Self::Pest)
    }
}

/// Mornings of a practice.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PracticeTally {
    /// By rule.
    pub rules: Vec<RuleTally>,
    /// Mornings on which no rule had an answer.
    pub home_mornings: u32,
}

impl PracticeTally {
    /// Of a practice of so many rules, before the first morning.
    #[must_use]
    pub fn of(rules: usize) -> Self {
        Self { rules: vec![RuleTally::default(); rules], home_mornings: 0 }
    }

    /// Mornings on which it was asked.
    #[must_use]
    pub fn mornings(&self) -> u32 {
        self.home_mornings + self.rules.iter().map(|rule| rule.spoke).sum::<u32>()
    }

    /// Takes the mornings of another run in.
    pub fn add(&mut self, other: &Self) {
        self.rules.iter_mut().zip(&other.rules).for_each(|(sum, more)| sum.add(more));
        self.home_mornings += other.home_mornings;
    }
}

/// Mornings of one rule.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RuleTally {
    /// It opened a gate.
    pub spoke: u32,
    /// Of those, by plot, in the order in which each was first opened.
    pub spoke_in: Vec<(usize, u32)>,
    /// It was asked and had no answer, by why.
    pub silent: [u32; Silent::ALL.len()],
    /// Of those on which only a hard rule stood against it, by which.
    pub shut_by: Vec<(&'static str, u32)>,
}

impl RuleTally {
    /// Mornings on which it was asked.
    #[must_use]
    pub fn asked(&self) -> u32 {
        self.spoke + self.silent.iter().sum::<u32>()
    }

    /// What stood against it most often, on mornings that were its time where there were any, else what it waited for to the
    /// last; and the hard rule, where that was it.
    #[must_use]
    pub fn mostly(&self) -> Option<(Silent, Option<&'static str>)> {
        let was = |waits: bool| {
            Silent::ALL.into_iter().filter(move |why| why.waits() == waits && self.silent[*why as usize] > 0)
        };
        let most = was(false).max_by_key(|why| self.silent[*why as usize]).or_else(|| was(true).max())?;
        let by = self.shut_by.iter().max_by_key(|(_, days)| *days).map(|(word, _)| *word);
        Some((most, by.filter(|_| most == Silent::Shut)))
    }

    /// Mornings on which it was asked and that were its time.
    #[must_use]
    pub fn timely(&self) -> u32 {
        let waited = Silent::ALL.into_iter().filter(|why| why.waits()).map(|why| self.silent[why as usize]);
        self.asked() - waited.sum::<u32>()
    }

    pub(super) fn opened(&mut self, plot: usize) {
        self.spoke += 1;
        count(&mut self.spoke_in, plot, 1);
    }

    pub(super) fn was_silent(&mut self, why: Silent, shut_by: Option<Veto>) {
        self.silent[why as usize] += 1;
        if let Some(veto) = shut_by.filter(|_| why == Silent::Shut) {
            count(&mut self.shut_by, veto.word(), 1);
        }
    }

    /// Takes the mornings of another run in.
    pub fn add(&mut self, other: &Self) {
        self.spoke += other.spoke;
        self.silent.iter_mut().zip(other.silent).for_each(|(sum, more)| *sum += more);
        other.spoke_in.iter().for_each(|(plot, more)| count(&mut self.spoke_in, *plot, *more));
        other.shut_by.iter().for_each(|(word, more)| count(&mut self.shut_by, *word, *more));
    }
}

/// Adds mornings to those of a key.
fn count<K: PartialEq>(list: &mut Vec<(K, u32)>, key: K, mornings: u32) {
    match list.iter_mut().find(|(known, _)| *known == key) {
        Some((_, so_far)) => *so_far += mornings,
        None => list.push((key, mornings)),
    }
}
