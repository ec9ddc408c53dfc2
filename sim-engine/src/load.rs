//! The load of the ground: nitrogen and phosphorus of droppings, heap and compost on every piece of it in twelve months.
//!
//! A piece is a ground of a plot: its sward, or its beds. Mulch is not counted: it feeds the soil slowly and no rule on
//! manure has it. The load is the most of any 365 days in a row, for what harms is too much at once, and a mean over years
//! and a whole plot hides a heap on a small bed. Runs of less than a year have what fell in them.

use crate::site::Site;

/// Days over which a load is summed.
const TWELVE_MONTHS: usize = 365;

/// A nutrient load, kg/ha.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Load {
    /// Nitrogen.
    pub n: f64,
    /// Phosphorus.
    pub p: f64,
}

impl Load {
    fn add(&mut self, other: Load, factor: f64) {
        self.n += other.n * factor;
        self.p += other.p * factor;
    }
}

/// A running sum over the last twelve months, and the most it has been.
#[derive(Clone, Debug, Default)]
struct Window {
    days: Vec<Load>,
    sum: Load,
    most: Load,
}

impl Window {
    fn day(&mut self, day: usize, today: Load) {
        let at = day % TWELVE_MONTHS;
        if at < self.days.len() {
            let gone = core::mem::replace(&mut self.days[at], today);
            self.sum.add(gone, -1.0);
        } else {
            self.days.push(today);
        }
        self.sum.add(today, 1.0);
        self.most.n = self.most.n.max(self.sum.n);
        self.most.p = self.most.p.max(self.sum.p);
    }
}

#[derive(Clone, Debug)]
struct Piece {
    /// Its share of all plots.
    share: f64,
    today: Load,
    window: Window,
}

/// The loads of a site's ground.
#[derive(Clone, Debug)]
pub struct Loads {
    /// By plot and ground.
    pieces: Vec<Vec<Piece>>,
    /// Mean over all plots.
    site: Window,
}

impl Loads {
    /// Of ground that nothing has been brought onto.
    pub(crate) fn new(site: &Site) -> Self {
        let area: f64 = site.plots.iter().map(|plot| plot.area_m2).sum();
        let of_plot = |plot: &crate::site::Plot| {
            let piece = |share: f64| Piece { share, today: Load::default(), window: Window::default() };
            plot.grounds.iter().map(|ground| piece(plot.area_m2 * ground.share / area)).collect()
        };
        Self { pieces: site.plots.iter().map(of_plot).collect(), site: Window::default() }
    }

    /// Droppings fall on all of a plot, beds and sward alike.
    pub(crate) fn dropped(&mut self, plot: usize, load: Load) {
        for piece in &mut self.pieces[plot] {
            piece.today.add(load, 1.0);
        }
    }

    /// Something is brought onto `share` of one ground of a plot.
    pub(crate) fn brought(&mut self, plot: usize, ground: usize, load: Load, share: f64) {
        self.pieces[plot][ground].today.add(load, share);
    }

    /// The day is over.
    pub(crate) fn evening(&mut self, day: usize) {
        let mut mean = Load::default();
        for piece in self.pieces.iter_mut().flatten() {
            let today = core::mem::take(&mut piece.today);
            mean.add(today, piece.share);
            piece.window.day(day, today);
        }
        self.site.day(day, mean);
    }

    /// The most in any twelve months on the most loaded ground of a plot.
    #[must_use]
    pub fn of_plot(&self, plot: usize) -> Load {
        let pieces = self.pieces[plot].iter().map(|piece| piece.window.most);
        pieces.fold(Load::default(), |most, load| Load { n: most.n.max(load.n), p: most.p.max(load.p) })
    }

    /// The most in any twelve months, mean over all plots.
    #[must_use]
    pub fn of_site(&self) -> Load {
        self.site.most
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{near, same, two_plots};

    const N: Load = Load { n: 1.0, p: 0.25 };

    /// A kilogram a day is 365 in a year, and no more in two.
    #[test]
    fn a_load_is_that_of_twelve_months() {
        let mut loads = Loads::new(&two_plots(1));
        for day in 0..730 {
            loads.dropped(1, N);
            loads.evening(day);
        }
        near(loads.of_plot(1).n, 365.0, 1e-9);
        near(loads.of_plot(1).p, 365.0 / 4.0, 1e-9);
        assert_eq!(loads.of_plot(0), Load::default());
        // 50 of 150 m².
        near(loads.of_site().n, 365.0 / 3.0, 1e-9);
    }

    /// A heap on the bed loads the bed, not the sward beside it; two heaps within twelve months add up, later ones do not.
    #[test]
    fn a_heap_loads_the_ground_it_lies_on() {
        for (days_apart, want) in [(300, 500.0), (366, 300.0)] {
            let mut loads = Loads::new(&two_plots(1));
            for day in 0..800 {
                let heap = match day {
                    100 => 300.0,
                    _ if day == 100 + days_apart => 200.0,
                    _ => 0.0,
                };
                loads.brought(0, 1, Load { n: heap, p: 0.0 }, 1.0);
                loads.evening(day);
            }
            near(loads.of_plot(0).n, want, 1e-9);
            // A quarter of 100 m² out of 150.
            near(loads.of_site().n, want / 6.0, 1e-9);
        }
    }

    #[test]
    fn a_short_run_has_what_fell_in_it() {
        let mut loads = Loads::new(&two_plots(1));
        for day in 0..7 {
            loads.dropped(0, N);
            loads.evening(day);
        }
        same(loads.of_plot(0).n, 7.0);
    }
}
