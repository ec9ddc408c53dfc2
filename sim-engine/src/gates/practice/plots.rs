//! One rule with its plots: whether birds may go in there today, and whether they may stay.

use super::rule::{Occasion, Rule, Unless, Which};
use super::tally::Silent;
use super::year_mark::{Comes, going_on};
use crate::dates::{days_between, days_since_solstice};
use crate::gates::strategy::{Observation, PlotObservation};
use crate::plot::constants::Season;
use crate::site::Site;
use jiff::civil::Date;

/// A plot of a rule.
#[derive(Clone, Debug)]
struct Here {
    plot: usize,
    /// Days of a stay in it.
    stay_days: f64,
    window: Option<(Comes, Comes)>,
    fruit_falls: Vec<Season<f64>>,
    /// Days of this year under this rule.
    used_days: f64,
    /// Its stay has been, and its occasion has not been over since.
    stayed: bool,
}

/// A rule with its plots.
#[derive(Clone, Debug)]
pub(super) struct RulePlots {
    pub rule: Rule,
    latitude_deg: f64,
    plots: Vec<Here>,
    /// Place in the list whose turn it is.
    turn: usize,
}

impl RulePlots {
    pub fn new(rule: &Rule, site: &Site) -> Self {
        let areas: Vec<f64> = rule.plots.iter().map(|&plot| site.plots[plot].area_m2).collect();
        let mean = areas.iter().sum::<f64>() / areas.len() as f64;
        let stay_days = |area: f64| match rule.stay {
            Some(stay) if stay.by_area => (stay.days * area / mean).round().max(1.0),
            Some(stay) => stay.days.round().max(1.0),
            None => f64::INFINITY,
        };
        let here = |(&plot, &area): (&usize, &f64)| {
            let canopies = site.plots[plot].canopies.iter().filter_map(|on| site.canopies.get(on.canopy));
            let falls = canopies.filter(|canopy| canopy.params.fruit_fall > 0.0);
            let window =
                |(from, to)| (Comes::of(from, site, &site.plots[plot]), Comes::of(to, site, &site.plots[plot]));
            Here {
                plot,
                stay_days: stay_days(area),
                window: rule.between.map(window),
                fruit_falls: falls.map(|c| Season { from: c.params.fruit_from, until: c.params.fruit_to }).collect(),
                used_days: 0.0,
                stayed: false,
            }
        };
        let plots = rule.plots.iter().zip(&areas).map(here).collect();
        Self { rule: rule.clone(), latitude_deg: site.place.latitude_deg, plots, turn: 0 }
    }

    pub fn plot(&self, place: usize) -> usize {
        self.plots[place].plot
    }

    pub fn stay_days(&self, place: usize) -> f64 {
        self.plots[place].stay_days
    }

    /// A new year begins.
    pub fn new_year(&mut self) {
        self.plots.iter_mut().for_each(|here| here.used_days = 0.0);
    }

    /// Forgets a stay once its occasion is over.
    pub fn look(&mut self, seen: &Observation) {
        for place in 0..self.plots.len() {
            if self.plots[place].stayed && self.occasion(place, seen).is_err() {
                self.plots[place].stayed = false;
            }
        }
    }

    /// A day in a plot under this rule.
    pub fn count(&mut self, place: usize) {
        self.plots[place].used_days += 1.0;
        self.turn = place;
    }

    /// The birds have left of the stay's own accord; `full`: all its days were over.
    pub fn left(&mut self, place: usize, full: bool) {
        self.turn = (place + 1) % self.plots.len();
        if full && self.rule.rest_days.is_none() && self.rule.has_occasion() {
            self.plots[place].stayed = true;
        }
    }

    /// The place in its list of the plot to go into today, or why none, and the plot that came nearest.
    pub fn begin(&self, seen: &Observation) -> Result<usize, (Silent, usize)> {
        let (mut best, mut nearest): (Option<usize>, Option<(Silent, usize)>) = (None, None);
        for step in 0..self.plots.len() {
            let place = if self.rule.which == Which::InTurn { (self.turn + step) % self.plots.len() } else { step };
            match self.may_begin(place, seen) {
                Ok(()) if best.is_none_or(|best| self.goes_before(place, best, seen)) => best = Some(place),
                Ok(()) => {}
                Err(why) if nearest.is_none_or(|(so_far, _)| why > so_far) => nearest = Some((why, self.plot(place))),
                Err(_) => {}
            }
        }
        best.ok_or(nearest.unwrap_or((Silent::Shut, 0)))
    }

    fn goes_before(&self, place: usize, other: usize, seen: &Observation) -> bool {
        let [here, there] = [place, other].map(|place| &seen.plots[self.plot(place)]);
        match self.rule.which {
            Which::AsListed | Which::InTurn => false,
            Which::LongestRested => here.days_at_rest > there.days_at_rest,
            Which::BestCover => here.cover > there.cover,
        }
    }

    fn may_begin(&self, place: usize, seen: &Observation) -> Result<(), Silent> {
        let (here, rule) = (&self.plots[place], &self.rule);
        let ground = &seen.plots[here.plot];
        self.occasion(place, seen)?;
        allow(!here.stayed, Silent::Stayed)?;
        allow(rule.most_days.is_none_or(|most| here.used_days < most), Silent::Most)?;
        allow(rule.rest_days.is_none_or(|rest| ground.days_at_rest >= rest), Silent::Rest)?;
        allow(rule.looks.is_none_or(|looks| ground.cover >= looks.enter_above), Silent::Looks)?;
        self.today(ground, seen)
    }

    /// Whether birds that went in on a day may be there today too, and if not why.
    pub fn may_go_on(&self, place: usize, since: Date, seen: &Observation) -> Result<(), Silent> {
        let (here, rule) = (&self.plots[place], &self.rule);
        let ground = &seen.plots[here.plot];
        allow(f64::from(days_between(since, seen.date)) < here.stay_days, Silent::Stayed)?;
        if rule.stay.is_none_or(|stay| stay.at_most) {
            self.occasion(place, seen)?;
        }
        allow(rule.most_days.is_none_or(|most| here.used_days < most), Silent::Most)?;
        allow(rule.looks.is_none_or(|looks| ground.cover >= looks.leave_below), Silent::Looks)?;
        self.today(ground, seen)
    }

    /// What may keep birds out for a day: the weather, and hard rules.
    fn today(&self, ground: &PlotObservation, seen: &Observation) -> Result<(), Silent> {
        let against = |unless: &Unless| match *unless {
            Unless::Wet => ground.wet,
            Unless::Frozen => seen.frozen,
            Unless::Snow => seen.snow,
            Unless::Hotter(limit) => seen.yesterday_tmax_c > limit && ground.shade <= 0.0,
        };
        allow(!self.rule.unless.iter().any(against), Silent::Weather)?;
        allow(ground.shut.is_none(), Silent::Shut)
    }

    /// Whether it is the time of the rule in a plot.
    fn occasion(&self, place: usize, seen: &Observation) -> Result<(), Silent> {
        let (here, rule) = (&self.plots[place], &self.rule);
        let ground = &seen.plots[here.plot];
        let in_window = |(from, to): &(Comes, Comes)| going_on(from, to, seen.date, self.latitude_deg);
        allow(here.window.as_ref().is_none_or(in_window), Silent::Season)?;
        if let Some(rising) = rule.rising {
            let counted = seen.pest_degree_days.get(rising.pest).copied().flatten();
            allow(counted.is_some_and(|dd| dd >= rising.from_dd && dd <= rising.to_dd), Silent::Pest)?;
        }
        let due = match rule.when {
            None => true,
            Some(Occasion::BetweenCrops) => !ground.crop_standing,
            Some(Occasion::AfterHarvest) => ground.days_since_crop < here.stay_days,
            Some(Occasion::FruitOnTheGround) => {
                let day = f64::from(days_since_solstice(seen.date, self.latitude_deg));
                here.fruit_falls.iter().any(|season| season.on(day))
            }
        };
        allow(due, Silent::Occasion)
    }
}

fn allow(holds: bool, else_why: Silent) -> Result<(), Silent> {
    if holds { Ok(()) } else { Err(else_why) }
}
