//! Several strategies in order: the first that has an answer wins.

use super::practice::tally::PracticeTally;
use super::strategy::{CloneStrategy, Observation, Proposal, Strategy};

/// Layers, the first on top.
#[derive(Clone)]
pub struct Layered {
    layers: Vec<Box<dyn CloneStrategy>>,
}

impl Layered {
    pub(super) fn new(layers: Vec<Box<dyn CloneStrategy>>) -> Self {
        Self { layers }
    }
}

impl Strategy for Layered {
    fn practices(&self, tell: &mut dyn FnMut(&PracticeTally)) {
        self.layers.iter().for_each(|layer| layer.practices(tell));
    }

    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        self.layers.iter_mut().any(|layer| layer.propose(observation, proposal))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::by_eye::ByEye;
    use crate::gates::continuous::Continuous;
    use crate::gates::strategy::testing::{ask, plots};
    use jiff::civil::date;

    #[test]
    fn the_first_with_an_answer_wins() {
        let never = ByEye::new(2.0, 0.75, 14.0, 28.0);
        let mut layered = Layered::new(vec![Box::new(never), Box::new(Continuous::new(1))]);
        assert_eq!(ask(&mut layered, &plots::<2>(), date(2027, 5, 1)), Some(vec![1]));
    }
}
