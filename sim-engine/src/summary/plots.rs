//! What is reported of a plot.

use super::flow_for::flow_for;
use crate::ledger::flows::Flow;
use crate::measures::Measure;
use crate::plot::harvest::Harvest;
use crate::run::plot_sums::PlotTotals;
use crate::run::recorder::RunView;

/// What is reported of one plot. Figures of cover are blank (NaN) where it is all beds: it has no sward to keep.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlotSummary {
    /// Least cover outside beds on any day, of the barest ring.
    pub least_cover: f64,
    /// Mean cover outside beds.
    pub mean_cover: f64,
    /// Days per year under the cover limit that birds shut in held.
    pub days_under: f64,
    /// Longest run of bare days that there were not with the birds shut in.
    pub bare_days: f64,
    /// Mean weed cover.
    pub weed_cover: f64,
    /// Days open per year.
    pub days_open: f64,
    /// Bird-days per m² and year.
    pub bird_days: f64,
    /// Nitrogen of droppings, heap and compost on its most loaded ground in any 12 months, kg/ha.
    pub nitrogen: f64,
    /// Phosphorus likewise, kg/ha.
    pub phosphorus: f64,
    /// Nitrogen leached, kg/ha a year.
    pub leached: f64,
    /// Hours of the keeper's work a year, moving the birds left out.
    pub work_h: f64,
    /// Hours a year less than with the birds shut in; none in that run itself.
    pub work_saved_h: f64,
    /// Infective worm eggs at the end, per m², relative to `worm_shed`.
    pub worm_eggs: f64,
    /// Harvests a year, those of which there was anything.
    pub harvests: Vec<HarvestOf>,
}

/// Harvest of a crop or fruit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HarvestOf {
    /// Its place in [`World::harvests`](crate::run::world::World::harvests).
    pub place: usize,
    /// The harvest.
    pub harvest: Harvest,
}

impl PlotSummary {
    /// From what was gathered over `days`, which are so many `years`; `shut_in_h` are the hours of work
    /// with the birds shut in.
    pub(super) fn new(
        run: &RunView,
        plot: usize,
        sums: &PlotTotals,
        shut_in_h: Option<f64>,
        [days, years]: [f64; 2],
    ) -> Self {
        let work_h = super::end::work(run, plot).total();
        let world = run.world;
        let constants = &world.constants.plots[plot];
        let flow = |measure, zone, flow| flow_for(measure, run, zone, flow);
        let load = world.loads.of_plot(plot);
        let of_sward = |figure: f64| if world.site.plots[plot].has_sward() { figure } else { f64::NAN };
        let mut summary = Self {
            nitrogen: load.n,
            phosphorus: load.p,
            least_cover: of_sward(sums.least_cover),
            mean_cover: of_sward(sums.cover / days),
            days_under: of_sward(sums.under / years),
            bare_days: of_sward(sums.most_bare),
            weed_cover: sums.weed / days,
            days_open: sums.open / years,
            bird_days: sums.bird_days / years,
            work_h: work_h / years,
            work_saved_h: shut_in_h.map_or(0.0, |hours| (hours - work_h) / years),
            harvests: harvests(&world.harvests[plot], years),
            ..Self::default()
        };
        for zone in constants.zones.clone() {
            let share = world.constants.zones[zone].area_m2 / constants.area_m2;
            summary.leached += flow(Measure::NitrogenLeached, zone, Flow::LeachedN) * share / years;
            summary.worm_eggs += run.ground.zones[zone].worms.infective() * share;
        }
        summary
    }
}

fn harvests(by_place: &[Harvest], years: f64) -> Vec<HarvestOf> {
    let some = by_place.iter().enumerate().filter(|(_, harvest)| **harvest != Harvest::default());
    some.map(|(place, harvest)| HarvestOf { place, harvest: harvest.times(1.0 / years) }).collect()
}
