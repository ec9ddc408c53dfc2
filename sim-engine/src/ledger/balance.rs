//! The audit: for every currency, start + in − out − end, day by day.
//!
//! Site totals: water in litres (mm × m²), nutrients and dry matter in kg, seeds and pests
//! in numbers, birds. The residual is relative to the larger of the day's throughflow and
//! the stock.

use crate::ledger::flows::{Currency, Flow, SiteFlow};
use crate::ledger::stocks::{Stock, zone_stocks};
use crate::run::recorder::RunView;
use crate::units::{HA_PER_M2, KG_PER_G};

/// One figure per currency, in the order of [`Currency::ALL`].
pub type PerCurrency = [f64; 7];

/// What the site holds now. `day` is the day that just ended; `None` before the first.
#[must_use]
pub fn stocks(run: &RunView, day: Option<usize>) -> PerCurrency {
    let world = run.world;
    let mut sum = [0.0; 7];
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
    let mut sum = [0.0; 7];
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
        Currency::Water | Currency::Seeds | Currency::Birds | Currency::Pests => 1.0,
    }
}

/// Sums in and out since the start of the run, site totals.
#[must_use]
pub fn throughflow(run: &RunView, day: Option<usize>) -> (PerCurrency, PerCurrency) {
    let world = run.world;
    let (mut inward, mut outward) = ([0.0; 7], [0.0; 7]);
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
}

impl Audit {
    /// Of a run without days: nothing was off.
    #[must_use]
    pub fn empty() -> Self {
        let nothing = [0.0; 7];
        Self { stock: nothing, net: nothing, gross: nothing, worst: nothing, whole: nothing, start: nothing }
    }

    /// Begins with the world before its first day.
    #[must_use]
    pub fn start(run: &RunView) -> Self {
        let stock = stocks(run, None);
        Self { stock, net: [0.0; 7], gross: [0.0; 7], worst: [0.0; 7], whole: [0.0; 7], start: stock }
    }

    /// Checks the day that just ended.
    pub fn check(&mut self, run: &RunView, day: usize) {
        let stock = stocks(run, Some(day));
        let (inward, outward) = throughflow(run, Some(day));
        for c in 0..7 {
            let (net, gross) = (inward[c] - outward[c], inward[c] + outward[c]);
            let off = (stock[c] - self.stock[c] - (net - self.net[c])).abs();
            let scale = (gross - self.gross[c]).max(stock[c]).max(f64::MIN_POSITIVE);
            self.worst[c] = self.worst[c].max(off / scale);
            let off = (stock[c] - self.start[c] - net).abs();
            self.whole[c] = off / gross.max(stock[c]).max(f64::MIN_POSITIVE);
            self.net[c] = net;
            self.gross[c] = gross;
        }
        self.stock = stock;
    }

    /// The worst of all.
    #[must_use]
    pub fn worst_of_all(&self) -> f64 {
        self.worst.iter().chain(&self.whole).fold(0.0, |a, &b| a.max(b))
    }
}
