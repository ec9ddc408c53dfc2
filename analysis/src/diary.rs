//! The diary: what was done at each gate, and why.

use crate::csv_text::csv_text;
use crate::units::Units;
use crate::wording::list;
use jiff::civil::Date;
use sim_engine::agenda::Event;
use sim_engine::gates::reason::{Reason, Veto};
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::site::{Site, SiteEventKind};

/// One line of the diary.
#[derive(Clone, Debug, PartialEq)]
pub struct DiaryLine {
    /// The day.
    pub date: Date,
    /// The plot; empty for the whole site.
    pub plot: String,
    /// What happened.
    pub what: String,
    /// Why, as files say it.
    pub why: String,
    /// The strategy's reason behind it, if it was one, and whether the gate opened for it.
    pub reason: Option<(Reason, bool)>,
    /// Plots that are open on the day this gate is shut for them.
    pub instead: Vec<String>,
    /// Days of the stay by eye that ends with this gate, and cover on its last day.
    pub stayed: Option<(f64, f64)>,
}

impl DiaryLine {
    /// Why, in the units of the reader.
    #[must_use]
    pub fn why_in(&self, units: Units) -> String {
        match self.reason {
            Some((reason, true)) => why_open(reason, units),
            Some((_, false)) if !self.instead.is_empty() => format!("birds moved to {}", list(&self.instead)),
            Some((Reason::NoneReady, false)) if self.stayed.is_some() => {
                let (days, cover) = self.stayed.unwrap_or_default();
                let days = if days == 1.0 { "1 day".to_owned() } else { format!("{days:.0} days") };
                format!("after {days}, at {:.0} % cover; no other plot looks ready: yard only", 100.0 * cover)
            }
            Some((reason, false)) => why_shut(reason, units),
            None => self.why.clone(),
        }
    }
}

/// How a gate stood on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GateState {
    /// Open to the flock.
    pub open: bool,
    /// Why the strategy asked for what it did that day.
    pub reason: Reason,
    /// The rule that kept it shut, whether it was asked for or not.
    pub rule: Option<Veto>,
    /// The strategy asked for this gate.
    pub asked: bool,
    /// Cover outside beds in the evening; NaN of a plot that is all beds.
    pub cover: f64,
}

/// Keeps the diary of a run.
#[derive(Clone, Debug, Default)]
pub struct Diary {
    /// Lines in order.
    pub lines: Vec<DiaryLine>,
    /// State of every gate, day-major by plot.
    pub states: Vec<GateState>,
    /// Events, by day.
    pub events: Vec<(usize, Event)>,
    dates: Vec<Date>,
    names: Vec<String>,
}

impl Diary {
    /// State of a gate on a day of the run.
    #[must_use]
    pub fn state(&self, day: usize, plot: usize) -> Option<&GateState> {
        self.states.get(day * self.names.len() + plot)
    }

    /// The diary as CSV.
    #[must_use]
    pub fn csv(&self) -> Vec<u8> {
        let mut rows = vec![["date".to_owned(), "plot".into(), "what".into(), "why".into()]];
        rows.extend(self.lines.iter().map(|l| [l.date.to_string(), l.plot.clone(), l.what.clone(), l.why.clone()]));
        csv_text(rows)
    }

    fn gate(&mut self, view: &DayView, plot: usize) {
        let gates = view.gates;
        let open = gates.openings.iter().any(|o| o.plot == plot);
        let vetoed = gates.vetoed.iter().any(|(p, _)| *p == plot);
        let reason = if gates.counterfactual == Some(plot) {
            Reason::Counterfactual
        } else if gates.by_hand.contains(&plot) {
            Reason::ByHand
        } else {
            gates.reason
        };
        let now = GateState {
            open,
            reason,
            rule: view.world.observed[plot].shut,
            asked: open || vetoed,
            cover: view.world.cover_outside_beds(plot),
        };
        let before = view.day.checked_sub(1).and_then(|d| self.state(d, plot).copied());
        self.note_change(view, plot, before, &now);
        self.states.push(now);
    }

    fn note_change(&mut self, view: &DayView, plot: usize, before: Option<GateState>, now: &GateState) {
        let was_open = before.is_some_and(|b| b.open);
        let was_refused = before.is_some_and(|b| b.asked && !b.open);
        let (what, reason) = match (was_open, now.open) {
            (false, true) => ("gate opened", Some((now.reason, true))),
            (true, false) => ("gate shut", now.rule.is_none().then_some((now.reason, false))),
            (false, false) if now.asked && !was_refused => ("asked for, kept shut", None),
            _ => return,
        };
        let date = view.world.drivers.days[view.day].date;
        let rule = now.rule.map_or_else(String::new, |rule| rule.to_string());
        let open = view.gates.openings.iter().map(|opening| self.names[opening.plot].clone());
        let instead = if now.open { Vec::new() } else { open.collect() };
        let stayed = match before.map(|before| before.reason) {
            Some(Reason::Stays { cover, days }) => Some((days, cover)),
            _ => None,
        };
        let mut line =
            DiaryLine { date, plot: self.names[plot].clone(), what: what.into(), why: rule, reason, instead, stayed };
        line.why = line.why_in(Units::Metric);
        self.lines.push(line);
    }
}

impl Recorder for Diary {
    fn start(&mut self, run: &RunView) {
        let world = run.world;
        self.names = world.site.plots.iter().map(|p| p.name.clone()).collect();
        self.dates = world.drivers.days.iter().map(|d| d.date).collect();
        self.states.reserve(world.site.days * world.site.plots.len());
    }

    fn event(&mut self, day: usize, event: Event) {
        self.events.push((day, event));
    }

    fn day(&mut self, view: &DayView) {
        let today = view.day;
        let date = self.dates[today];
        let first = self.events.partition_point(|(day, _)| *day < today);
        // Birds that are there from the start do not arrive.
        let there = |event: &Event| matches!(event, Event::Arrives { group } if today == 0 && view.world.site.groups[*group].arrive.is_none());
        for &(_, event) in self.events[first..].iter().filter(|(_, event)| !there(event)) {
            if let Some((plot, what)) = in_words(view.world.site, event) {
                self.lines.push(DiaryLine {
                    date,
                    plot,
                    what,
                    why: String::new(),
                    reason: None,
                    instead: Vec::new(),
                    stayed: None,
                });
            }
        }
        for plot in 0..self.names.len() {
            self.gate(view, plot);
        }
    }
}

/// Days of rest above which a plot was never used: plots begin rested for ages.
const FOR_AGES_D: f64 = 36_525.0;

/// Why a gate is open, in a keeper's words.
#[must_use]
pub fn why_open(reason: Reason, units: Units) -> String {
    match reason {
        Reason::Entered { cover, rest } if rest > FOR_AGES_D => {
            format!("looks ready: {:.0} % cover, first use", 100.0 * cover)
        }
        other => in_units(other, units),
    }
}

/// A reason in the units of the reader: the engine's own words are metric.
fn in_units(reason: Reason, units: Units) -> String {
    match (reason, units) {
        (Reason::Shade { tmax }, Units::Us) => format!("shade: {} yesterday", units.temperature(tmax)),
        (Reason::PestWindow { degree_days }, Units::Us) => {
            let (what, side) = if degree_days < 0.0 { ("pest due", "to") } else { ("pest leaving the soil", "past") };
            let number = units.degree_days(degree_days.abs());
            format!("{what}: {number} {} {side} half emergence", units.degree_days_name())
        }
        _ => reason.to_string(),
    }
}

/// Why a gate is shut that no rule shuts: reasons speak of the plot that was chosen instead.
#[must_use]
pub fn why_shut(reason: Reason, units: Units) -> String {
    match reason {
        Reason::Turn { day, stay } => format!("another plot's turn, day {day:.0} of {stay:.0} there"),
        Reason::Entered { cover, .. } => format!("moved to another plot, at {:.0} % cover", 100.0 * cover),
        Reason::Stays { cover, days } => {
            format!("the birds stay in another plot: {:.0} % cover there on day {days:.0}", 100.0 * cover)
        }
        Reason::CleanUp { since } => format!("clean-up in another plot, {since:.0} days after its crop ended"),
        Reason::PestWindow { .. } => format!("in another plot: {}", in_units(reason, units)),
        Reason::ForGood => "the birds are always in another plot".to_owned(),
        Reason::Shade { .. } => format!("in another plot for {}", in_units(reason, units)),
        Reason::Dated => "by the list of dates".to_owned(),
        Reason::Rule { .. } => format!("in another plot by {reason}"),
        Reason::Home => "no rule applies to it, and home is another plot".to_owned(),
        other => in_units(other, units),
    }
}

/// What is done to a plot, and how long birds keep out of it.
fn keep_out(site: &Site, event: usize) -> String {
    match site.events.get(event).map(|event| &event.what) {
        Some(SiteEventKind::KeepOut { treatment, days, .. }) => {
            format!("{}: no bird goes in for {days} days", treatment.word())
        }
        _ => String::new(),
    }
}

/// An event in a keeper's words, with its plot; `None` for what only the model needs.
#[must_use]
pub fn in_words(site: &Site, event: Event) -> Option<(String, String)> {
    let plot_name = |plot: usize| site.plots[plot].name.clone();
    let crop_name =
        |plot: usize, ground: usize, crop: usize| &site.crops[site.plots[plot].grounds[ground].crops[crop].crop].name;
    let of_site = |what: String| Some((String::new(), what));
    match event {
        Event::OrderBegins { .. } => of_site("housing order begins: birds stay in".into()),
        Event::OrderEnds => of_site("housing order ends".into()),
        Event::Arrives { group } => of_site(format!("arrival of {}", site.groups[group].name)),
        Event::IsolationEnds { group } => of_site(format!("isolation of {} ends", site.groups[group].name)),
        Event::Leaves { group } => of_site(format!("departure of {}", site.groups[group].name)),
        Event::CropIn { plot, ground, crop } => {
            Some((plot_name(plot), format!("{} goes into the ground", crop_name(plot, ground, crop))))
        }
        Event::HarvestEnds { plot, ground, crop } => {
            Some((plot_name(plot), format!("last harvest of {}", crop_name(plot, ground, crop))))
        }
        Event::CropOut { plot, ground, crop } => {
            Some((plot_name(plot), format!("{} ends", crop_name(plot, ground, crop))))
        }
        Event::HeapSpread { plot, .. } => Some((plot_name(plot), "the heap is spread".into())),
        Event::KeepOut { plot, event } => Some((plot_name(plot), keep_out(site, event))),
        Event::GuardUp { plot, guard } => Some((plot_name(plot), format!("guards go up{}", around(site, plot, guard)))),
        Event::GuardDown { plot, guard } => {
            Some((plot_name(plot), format!("guards come down{}", around(site, plot, guard))))
        }
        Event::NetUp { plot, .. } => Some((plot_name(plot), "nets go up".into())),
        Event::NetDown { plot, .. } => Some((plot_name(plot), "nets come down".into())),
        Event::EmergenceBegins { plot, pest } => {
            Some((plot_name(plot), format!("{} begins to leave the soil", site.pests[pest].name)))
        }
        Event::LeafOut { .. }
        | Event::LeafFall { .. }
        | Event::FruitPicked { .. }
        | Event::CountingStarts { .. }
        | Event::SeasonEnds { .. }
        | Event::HarvestBegins { .. }
        | Event::CareDue { .. }
        | Event::YardCleaned
        | Event::GateSet { .. }
        | Event::GateFree { .. } => None,
    }
}

/// " around leek", of guards that stand around plants.
fn around(site: &Site, plot: usize, guard: usize) -> String {
    let plants = site.plots[plot].guards[guard].plants;
    plants.map_or_else(String::new, |plants| format!(" around {}", site.plant_name(plants)))
}
