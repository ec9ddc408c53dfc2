//! What the group is asked: questions on which the two strategies differ clearly on this draw.
//!
//! `topics` lists what may be asked in the order in which it is best learnt: ground first,
//! then pests, weeds, feed, manure, worms. Every topic is tried on all possible years, then
//! [`pick`] takes the first `MOST` that are clear on the draw that is shown and come out the
//! same in at least half the years; where fewer than `FEWEST` are, clear ones of odd years
//! fill up, then close ones, whose answer is "about the same".

use super::play::SharedDraw;
use super::topic::{Topic, TopicAnswer, cover_lost, left};
use super::{answers, words};
use scenarios::SiteModel;
use sim_engine::measures::Measure;

/// Most questions that fit on the sheet.
const MOST: usize = 5;
/// Fewest questions that make an hour.
const FEWEST: usize = 4;
/// Share of the larger figure by which two strategies must differ to be told apart (a choice of ours).
const CLEAR: f64 = 0.15;
/// Days by which dates must differ to be told apart (a choice of ours).
const CLEAR_D: usize = 21;
/// Cover by which the barest days must differ to be told apart (a choice of ours).
const CLEAR_COVER: f64 = 0.05;

/// A question with its answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What it is about.
    pub topic: Topic,
    /// The question, which gives nothing away.
    pub ask: String,
    /// Boxes to tick; may be empty.
    pub boxes: Vec<String>,
    /// What to write down, each before a line of dots.
    pub blanks: Vec<String>,
    /// The answer on the draw that is shown.
    pub answer: TopicAnswer,
    /// The answer in a few words.
    pub in_words: String,
    /// The two strategies differ clearly on the draw that is shown.
    pub clear: bool,
    /// Possible years in which the answer is the same.
    pub same: usize,
}

/// Points of ground cover lost by which two strategies must differ to be told apart (a choice of ours).
const CLEAR_LOST: f64 = 0.3;

/// Measures that may be asked about, with the least difference worth telling, in the measure's
/// unit (choices of ours: what a keeper would notice).
const MEASURES: &[(Measure, f64)] =
    &[(Measure::WorkSaved, 1.0), (Measure::FeedSaved, 1.0), (Measure::NitrogenWorst, 10.0), (Measure::WormEggs, 0.0)];

/// Everything that may be asked on the draw that is shown, best first.
#[must_use]
pub fn candidates(model: &SiteModel, which: [usize; 2], shown: &SharedDraw) -> Vec<Question> {
    topics(model, shown).into_iter().map(|topic| question(topic, model, which, shown)).collect()
}

/// The questions to ask among `all`, which were tried on `draws` possible years, in their order.
#[must_use]
pub fn pick(all: Vec<Question>, draws: usize) -> Vec<Question> {
    let rank = |question: &Question| question.rank(draws);
    let mut order: Vec<usize> = (0..all.len()).collect();
    order.sort_by_key(|&at| (rank(&all[at]), at));
    let good = all.iter().filter(|question| rank(question) == 0).count();
    let mut taken: Vec<usize> = order.into_iter().take(good.clamp(FEWEST, MOST)).collect();
    taken.sort_unstable();
    all.into_iter().enumerate().filter(|(at, _)| taken.contains(at)).map(|(_, question)| question).collect()
}

/// What may be asked on this draw, best first.
fn topics(model: &SiteModel, shown: &SharedDraw) -> Vec<Topic> {
    let mut topics = vec![Topic::Cover, Topic::Barest];
    if shown.shut_in.first_below(model.limits.cover_line).is_none() {
        topics.push(Topic::Line);
    }
    topics.extend(pest(shown).map(Topic::Pest));
    let said = |measure| shown.strategies.iter().all(|strategy| strategy.measures.get(measure).is_finite());
    let rest = MEASURES.iter().map(|&(measure, _)| measure).filter(|&measure| said(measure));
    topics.extend(rest.map(Topic::More));
    topics
}

/// The pest on which the two strategies differ most, against what is left with the birds shut in.
fn pest(shown: &SharedDraw) -> Option<usize> {
    let apart = |pest: usize| (left(shown, 0, pest) - left(shown, 1, pest)).abs();
    let there = (0..shown.shut_in.pests.len()).filter(|&pest| shown.shut_in.pests[pest] > 0.0);
    there.rev().max_by(|&a, &b| apart(a).total_cmp(&apart(b)))
}

fn question(topic: Topic, model: &SiteModel, which: [usize; 2], shown: &SharedDraw) -> Question {
    let answer = answer(topic, model, shown);
    let (ask, boxes, blanks) = words::asked(topic, model);
    Question {
        topic,
        ask,
        boxes,
        blanks,
        answer,
        in_words: answers::in_words(answer, model, which),
        clear: is_clear(topic, model, shown),
        same: 0,
    }
}

/// The answer to a topic on one draw.
#[must_use]
pub fn answer(topic: Topic, model: &SiteModel, draw: &SharedDraw) -> TopicAnswer {
    let ground = |strategy: usize| &draw.strategies[strategy].ground;
    match topic {
        Topic::More(measure) => {
            let [a, b] = [0, 1].map(|strategy| draw.strategies[strategy].measures.get(measure));
            let least = MEASURES.iter().find(|(m, _)| *m == measure).map_or(0.0, |&(_, least)| least);
            larger(a, b, least)
        }
        Topic::Cover => larger(cover_lost(model, draw, 0), cover_lost(model, draw, 1), CLEAR_LOST),
        Topic::Pest(pest) => larger(left(draw, 1, pest), left(draw, 0, pest), 1.0),
        Topic::Barest => {
            let strategy = usize::from(ground(1).barest().2 < ground(0).barest().2);
            TopicAnswer::Bare(strategy, ground(strategy).barest().0)
        }
        Topic::Line => {
            let keeps = |strategy: usize| ground(strategy).first_below(model.limits.cover_line).is_none();
            TopicAnswer::Keeps(keeps(0), keeps(1))
        }
    }
}

/// The strategy with the larger figure, if they are clearly apart.
fn larger(a: f64, b: f64, least: f64) -> TopicAnswer {
    let apart = (a - b).abs();
    if !(apart > least && apart > CLEAR * a.abs().max(b.abs())) {
        return TopicAnswer::Even;
    }
    TopicAnswer::Plan(usize::from(b > a))
}

/// Whether a group that sees the answer has learnt something.
fn is_clear(topic: Topic, model: &SiteModel, shown: &SharedDraw) -> bool {
    let ground = |strategy: usize| &shown.strategies[strategy].ground;
    match answer(topic, model, shown) {
        TopicAnswer::Plan(_) => true,
        TopicAnswer::Even => false,
        TopicAnswer::Bare(..) => (ground(0).barest().2 - ground(1).barest().2).abs() > CLEAR_COVER,
        TopicAnswer::Keeps(true, true) => false,
        TopicAnswer::Keeps(a, b) => {
            let first =
                |strategy: usize| ground(strategy).first_below(model.limits.cover_line).map_or(0, |(day, _)| day);
            a != b || first(0).abs_diff(first(1)) > CLEAR_D
        }
    }
}

impl Question {
    /// 0 where it is clear and comes out the same in at least half the possible years, 1 where it
    /// is clear in an odd year, 2 where the strategies are close.
    #[must_use]
    pub fn rank(&self, draws: usize) -> u8 {
        match (self.clear, 2 * self.same >= draws) {
            (true, true) => 0,
            (true, false) => 1,
            (false, _) => 2,
        }
    }

    /// Counts a possible year in which the answer is the same.
    pub fn try_on(&mut self, model: &SiteModel, draw: &SharedDraw) {
        if answer(self.topic, model, draw) == self.answer {
            self.same += 1;
        }
    }

    /// Key in documents.
    #[must_use]
    pub fn key(&self) -> String {
        match self.topic {
            Topic::More(measure) => measure.name().to_owned(),
            Topic::Cover => "cover_lost".to_owned(),
            Topic::Barest => "barest_plot".to_owned(),
            Topic::Line => "cover_line".to_owned(),
            Topic::Pest(_) => "pests_left".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn close_figures_are_even_and_clear_ones_name_the_plan() {
        assert_eq!(larger(10.0, 9.0, 0.3), TopicAnswer::Even);
        assert_eq!(larger(3.7, 2.5, 0.3), TopicAnswer::Plan(0));
        assert_eq!(larger(-4.0, 2.0, 1.0), TopicAnswer::Plan(1));
        assert_eq!(larger(0.2, 0.1, 0.3), TopicAnswer::Even);
        assert_eq!(larger(f64::NAN, 1.0, 0.0), TopicAnswer::Even);
    }
}
