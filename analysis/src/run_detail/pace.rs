//! Stays, rests, and how long a crop's residue lies.

use sim_engine::run::recorder::DayView;

/// Share of a crop's residue that may be left when it counts as gone (common practice, no
/// source). The measure `clean_up` is something else: the share gone within three weeks.
const GONE_BELOW: f64 = 0.1;

/// What is kept in mind of a plot's days.
#[derive(Clone, Debug)]
pub(super) struct Pace {
    pub stays: f64,
    pub longest_stay: f64,
    pub shortest_rest: f64,
    stay: f64,
    last_in: Option<usize>,
    /// Day a crop ended, and its residue that evening once known, kg.
    pending: Option<(usize, f64)>,
    /// Days until residue was gone, in sum, and how often it got there.
    gone_after: (f64, f64),
}

impl Pace {
    /// Before the first day.
    pub fn start() -> Self {
        Self {
            stays: 0.0,
            longest_stay: 0.0,
            shortest_rest: f64::NAN,
            stay: 0.0,
            last_in: None,
            pending: None,
            gone_after: (0.0, 0.0),
        }
    }

    pub fn crop_ended(&mut self, day: usize) {
        self.pending = Some((day, f64::NAN));
    }

    pub fn day(&mut self, view: &DayView, plot: usize) {
        if view.world.birds_on[plot].bird_days > 0.0 {
            self.birds_in(view.day);
        } else {
            self.stay = 0.0;
        }
        if let Some((ended, left)) = self.pending {
            self.pending = self.look_for_residue(view, plot, ended, left);
        }
    }

    fn birds_in(&mut self, day: usize) {
        if self.stay == 0.0 {
            self.stays += 1.0;
            if let Some(last) = self.last_in {
                // f64::min takes the number where the other is NaN.
                self.shortest_rest = self.shortest_rest.min((day - last - 1) as f64);
            }
        }
        self.stay += 1.0;
        self.longest_stay = self.longest_stay.max(self.stay);
        self.last_in = Some(day);
    }

    /// Looks whether the residue is gone; what is still to be looked at.
    fn look_for_residue(&mut self, view: &DayView, plot: usize, ended: usize, left: f64) -> Option<(usize, f64)> {
        let now = view.world.condition_of(plot).residue_kg;
        if left.is_nan() {
            return (now > 0.0).then_some((ended, now));
        }
        if now <= GONE_BELOW * left {
            self.gone_after.0 += (view.day - ended) as f64;
            self.gone_after.1 += 1.0;
            return None;
        }
        (!view.world.plots[plot].crop_standing).then_some((ended, left))
    }

    /// Mean days until residue was gone, where it got there.
    pub fn residue_gone_d(&self) -> f64 {
        if self.gone_after.1 > 0.0 { self.gone_after.0 / self.gone_after.1 } else { f64::NAN }
    }
}
