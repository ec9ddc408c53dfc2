//! The audit: for every currency, start + in − out − end, day by day.
//!
//! Site totals: water in litres (mm × m²), nutrients and dry matter in kg, seeds and pests
//! in numbers, birds. The residual is relative to the larger of the day's throughflow and
//! the stock. Beyond [`MOST_OFF`] it is a fault, told with its currency, its day and the zone that is off most.

use crate::ledger::flows::{Currency, Flow, SiteFlow};
use crate::ledger::stocks::{Stock, zone_stocks};
use crate::run::recorder::RunView;
use crate::units::{HA_PER_M2, KG_PER_G};

/// Greatest relative residual of a day that rounding can explain (ours: rounding alone stays below 1e-9).
pub const MOST_OFF: f64 = 1e-6;
/// Residual below which a day is not looked at, against all that has flowed so far: rounding of the sums.
const ROUNDING: f64 = 1e-12;

/// Books that do not balance.
#[derive(Clone, Debug, PartialEq)]
pub struct AuditFault {
    /// What is unaccounted for.
    pub currency: Currency,
    /// The first day on which it is.
    pub day: usize,
    /// The zone that is off most that day; `None` where yard, heap, snow or flock is.
    pub zone: Option<usize>,
    /// How much, relative to what is there or flows.
    pub relative: f64,
}

/// One figure per currency, in the order of [`Currency::ALL`].
pub type PerCurrency = [f64; Currency::ALL.len()];

/// What the site holds now. `day` is the day that just ended; `None` before the first.
#[must_use]
pub fn stocks(run: &RunView, day: Option<usize>) -> PerCurrency {
    let world = run.world;
    let mut sum = [0.0; Currency::ALL.len()];
    for zone in 0..run.ground.zones.len() {
        let area = world.constants.zones[zone].area_m2;
        let stock = zone_stock(run, zone);
        for (currency, total) in Currency::ALL.iter().zip(&mut sum) {
            *total += stock[*currency as usize] * area * to_site_unit(*currency);
        }
    }
    let snow = day.map_or(0.0, |d| world.drivers.days[d].snow_mm);
    sum[Currency::Water as usize] += snow * world.plots_area_m2();
    sum[Currency::N as usize] += world.yard.n_kg + world.heap.n_kg + world.in_birds().n * KG_PER_G;
    sum[Currency::P as usize] += world.yard.p_kg + world.heap.p_kg + world.in_birds().p * KG_PER_G;
    sum[Currency::DryMatter as usize] += world.yard.solids_kg + world.heap.solids_kg;
    sum[Currency::Birds as usize] = world.birds();
    sum
}

/// What one zone holds, in the units of [`Currency::unit`].
#[must_use]
pub fn zone_stock(run: &RunView, zone: usize) -> PerCurrency {
    let mut sum = [0.0; Currency::ALL.len()];
    for (stock, amount) in Stock::ALL.iter().zip(zone_stocks(run, zone)) {
        sum[stock.currency() as usize] += amount;
    }
    sum
}

/// Site total per m² of a zone figure.
fn to_site_unit(currency: Currency) -> f64 {
    match currency {
        Currency::N | Currency::P => HA_PER_M2,
        Currency::DryMatter => KG_PER_G,
        Currency::Water | Currency::Seeds | Currency::Birds | Currency::Pests | Currency::Slugs => 1.0,
    }
}

/// Sums in and out since the start of the run, site totals.
#[must_use]
pub fn throughflow(run: &RunView, day: Option<usize>) -> (PerCurrency, PerCurrency) {
    let world = run.world;
    let (mut inward, mut outward) = ([0.0; Currency::ALL.len()], [0.0; Currency::ALL.len()]);
    let mut book = |currency: Currency, sign: f64, amount: f64| {
        let side = if sign > 0.0 { &mut inward } else { &mut outward };
        side[currency as usize] += amount;
    };
    for (zone, here) in world.constants.zones.iter().enumerate() {
        for &flow in Flow::ALL {
            let currency = flow.currency();
            book(currency, flow.sign(), run.flow(zone, flow) * here.area_m2 * to_site_unit(currency));
        }
    }
    for &flow in SiteFlow::ALL {
        book(flow.currency(), flow.sign(), world.site_flows.get(flow));
    }
    // Snow: what fell on every square metre, and what of it reached the ground.
    let area = world.plots_area_m2();
    let days = &world.drivers.days[..day.map_or(0, |d| d + 1)];
    let (fell, reached) = days.iter().fold((0.0, 0.0), |(f, r), d| (f + d.rain_mm, r + d.ground.liquid_mm));
    book(Currency::Water, 1.0, fell * area);
    book(Currency::Water, -1.0, reached * area);
    (inward, outward)
}

/// Checks a run day by day.
#[derive(Clone, Debug, PartialEq)]
pub struct Audit {
    stock: PerCurrency,
    net: PerCurrency,
    gross: PerCurrency,
    /// Worst relative residual of any day so far, by currency.
    pub worst: PerCurrency,
    /// Residual over the whole run so far, by currency.
    pub whole: PerCurrency,
    start: PerCurrency,
    /// Of each zone: stock less what came in net, in the evening before.
    zones: Vec<PerCurrency>,
    /// The first day that was off.
    fault: Option<AuditFault>,
}

impl Audit {
    /// Of a run without days: nothing was off.
    #[must_use]
    pub fn empty() -> Self {
        let nothing = [0.0; Currency::ALL.len()];
        Self {
            stock: nothing,
            net: nothing,
            gross: nothing,
            worst: nothing,
            whole: nothing,
            start: nothing,
            zones: Vec::new(),
            fault: None,
        }
    }

    /// Begins with the world before its first day.
    #[must_use]
    pub fn start(run: &RunView) -> Self {
        let stock = stocks(run, None);
        Self { stock, start: stock, zones: of_zones(run), ..Self::empty() }
    }

    /// Checks the day that just ended.
    pub fn check(&mut self, run: &RunView, day: usize) {
        let stock = stocks(run, Some(day));
        let (inward, outward) = throughflow(run, Some(day));
        for c in 0..7 {
            let (net, gross) = (inward[c] - outward[c], inward[c] + outward[c]);
            let off = (stock[c] - self.stock[c] - (net - self.net[c])).abs();
            let scale = (gross - self.gross[c]).max(stock[c]).max(f64::MIN_POSITIVE);
            let relative = if off.is_nan() { f64::INFINITY } else { off / scale };
            self.worst[c] = self.worst[c].max(relative);
            // Of what is no number nothing is known, least of all that it balances.
            let balances = off <= MOST_OFF * scale || off <= ROUNDING * gross;
            if !balances && self.fault.is_none() {
                let zone = self.zone_off(run, c, off);
                self.fault = Some(AuditFault { currency: Currency::ALL[c], day, zone, relative });
            }
            let off = (stock[c] - self.start[c] - net).abs();
            self.whole[c] = off / gross.max(stock[c]).max(f64::MIN_POSITIVE);
            self.net[c] = net;
            self.gross[c] = gross;
        }
        self.stock = stock;
        self.zones = of_zones(run);
    }

    /// The zone that is off most today, if that is more than half of the `off` there is.
    fn zone_off(&self, run: &RunView, c: usize, off: f64) -> Option<usize> {
        let unit = to_site_unit(Currency::ALL[c]);
        let by_zone = of_zones(run).into_iter().zip(&self.zones).zip(&run.world.constants.zones);
        let residuals = by_zone.map(|((now, before), here)| ((now[c] - before[c]) * here.area_m2 * unit).abs());
        let most = residuals.enumerate().max_by(|a, b| a.1.total_cmp(&b.1));
        most.filter(|(_, residual)| *residual > 0.5 * off).map(|(zone, _)| zone)
    }

    /// The first day on which the books were off by more than rounding.
    #[must_use]
    pub fn fault(&self) -> Option<&AuditFault> {
        self.fault.as_ref()
    }

    /// The worst of all.
    #[must_use]
    pub fn worst_of_all(&self) -> f64 {
        self.worst.iter().chain(&self.whole).fold(0.0, |a, &b| a.max(b))
    }
}

/// Stock of every zone less what came into it net since the start: what stays the same while all is booked.
fn of_zones(run: &RunView) -> Vec<PerCurrency> {
    let of_zone = |zone: usize| {
        let mut sum = zone_stock(run, zone);
        for &flow in Flow::ALL {
            sum[flow.currency() as usize] -= flow.sign() * run.flow(zone, flow);
        }
        sum
    };
    (0..run.world.constants.zones.len()).map(of_zone).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::FlowSet;
    use crate::run::RunOptions;
    use crate::run::start::start;
    use crate::run::world::World;
    use crate::state::GroundState;
    use crate::testing::{best_days, two_plots};

    /// Grams that vanish from the last zone are found there; kilograms that vanish from the heap, in no zone.
    #[test]
    fn what_is_not_booked_is_found_where_it_is() {
        let site = two_plots(1);
        let drivers = best_days(&site);
        let (mut world, mut ground) = start(&site, &drivers, RunOptions::default(), FlowSet::ALL).unwrap();
        world.heap.n_kg = 2.0;
        let last = ground.zones.len() - 1;
        let mut audit = Audit::start(&RunView::new(&world, &ground, FlowSet::ALL));
        let look = |audit: &mut Audit, world: &World, ground: &GroundState| {
            audit.check(&RunView::new(world, ground, FlowSet::ALL), 0);
        };
        let mut sound = audit.clone();
        look(&mut sound, &world, &ground);
        assert_eq!(sound.fault(), None);
        ground.zones[last].residue += 1.0;
        let mut stolen = audit.clone();
        look(&mut stolen, &world, &ground);
        let fault = stolen.fault().unwrap();
        assert_eq!((fault.currency, fault.day, fault.zone), (Currency::DryMatter, 0, Some(last)));
        assert!(fault.relative > MOST_OFF);
        ground.zones[last].residue -= 1.0;
        world.heap.n_kg -= 0.1;
        look(&mut audit, &world, &ground);
        let fault = audit.fault().unwrap();
        assert_eq!((fault.currency, fault.zone), (Currency::N, None));
    }
}
