//! Where yard and plots stand on the drawing, in metres: x along the path from the yard's gate, y up.

use sim_engine::site::Site;

/// Room between two plots on one side, as a share of the larger one's side.
const GAP: f64 = 0.15;

/// A plot on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Number of its gate: its place in the site file, from 1.
    pub number: usize,
    /// Name.
    pub name: String,
    /// Distance of its gate from the yard, m: where the gate stands on the path.
    pub gate_m: f64,
    /// Left edge, m; right of the gate where another plot is in the way.
    pub left_m: f64,
    /// Side of the square, m.
    pub side_m: f64,
    /// Above the path, else below.
    pub above: bool,
}

/// The drawing in metres.
#[derive(Clone, Debug, PartialEq)]
pub struct SitePlan {
    /// Side of the yard's square; it lies left of 0.
    pub yard_m: f64,
    /// Plots, nearest gate first.
    pub plots: Vec<Placed>,
}

impl SitePlan {
    /// Places the plots of a site: the nearest gate first, each on the side on which more room is left.
    #[must_use]
    pub fn of(site: &Site) -> Self {
        let mut order: Vec<usize> = (0..site.plots.len()).collect();
        order.sort_by(|&a, &b| site.plots[a].distance_m.total_cmp(&site.plots[b].distance_m));
        let mut taken = [0.0_f64; 2];
        let place = |index: usize| {
            let plot = &site.plots[index];
            let side_m = plot.area_m2.sqrt();
            let below = usize::from(taken[1] < taken[0]);
            let left_m = plot.distance_m.max(taken[below]);
            taken[below] = left_m + side_m * (1.0 + GAP);
            Placed {
                number: index + 1,
                name: plot.name.clone(),
                gate_m: plot.distance_m,
                left_m,
                side_m,
                above: below == 0,
            }
        };
        Self { yard_m: site.yard.area_m2.sqrt(), plots: order.into_iter().map(place).collect() }
    }

    /// Right end of path and plots, m.
    #[must_use]
    pub fn right_m(&self) -> f64 {
        self.plots.iter().map(|plot| (plot.left_m + plot.side_m).max(plot.gate_m)).fold(0.0, f64::max)
    }

    /// How far it reaches above the path and below, m; the yard lies half on either side.
    #[must_use]
    pub fn reach_m(&self) -> [f64; 2] {
        let reach = |above: bool| {
            let sides = self.plots.iter().filter(|plot| plot.above == above).map(|plot| plot.side_m);
            sides.fold(self.yard_m / 2.0, f64::max)
        };
        [reach(true), reach(false)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use scenarios::{Library, site_file};
    use std::path::Path;

    #[test]
    fn plots_are_to_scale_in_order_and_do_not_overlap() {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios/demos/sallowmere/site.toml");
        let site = site_file::read(&demo, &Library::shipped().unwrap()).unwrap().base;
        let plan = SitePlan::of(&site);
        assert_eq!(plan.plots.len(), site.plots.len());
        for placed in &plan.plots {
            let plot = &site.plots[placed.number - 1];
            assert!((placed.side_m.powi(2) - plot.area_m2).abs() < 1e-9 && placed.gate_m == plot.distance_m);
            assert!(placed.left_m >= placed.gate_m);
        }
        assert!(plan.plots.windows(2).all(|pair| pair[0].gate_m <= pair[1].gate_m));
        for above in [true, false] {
            let side: Vec<&Placed> = plan.plots.iter().filter(|plot| plot.above == above).collect();
            assert!(side.windows(2).all(|pair| pair[0].left_m + pair[0].side_m <= pair[1].left_m));
        }
    }
}
