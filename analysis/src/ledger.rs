//! The ledger: every stock and flow of every zone, day by day, as CSV.
//!
//! Column names carry the books: `n.stock.mineral[kg/ha]` is a stock, `n.in.manure[kg/ha]`
//! came in on the day, `n.out.leached[kg/ha]` went out. For each currency, the change of
//! its stocks from one day to the next is what came in less what went out, in every row;
//! so a stranger can recompute the audit. `ledger.csv` has a row a day and zone;
//! `ledger_site.csv` a row a day with weather, yard, heap, snow and flock.

use crate::csv_text::safe_cell;
use sim_engine::ledger::flows::{Currency, Flow, FlowSet, SiteFlow, SiteFlows};
use sim_engine::ledger::stocks::{Stock, zone_stocks};
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::run::world::World;
use sim_engine::units::KG_PER_G;
use std::fmt::Write as _;

/// How many digits are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Digits {
    /// Six significant: for reading and charts.
    Short,
    /// Seventeen significant: the very number.
    Exact,
}

/// Writes the ledger of a run into two CSV texts.
pub struct Ledger {
    digits: Digits,
    zones: Sheet,
    site: Sheet,
    /// Flows of every zone until yesterday.
    last: Vec<[f64; Flow::ALL.len()]>,
    last_site: SiteFlows,
}

/// A CSV under construction.
struct Sheet {
    csv: csv::Writer<Vec<u8>>,
    cell: String,
}

impl Ledger {
    /// An empty ledger.
    #[must_use]
    pub fn new(digits: Digits) -> Self {
        let sheet = || Sheet { csv: csv::Writer::from_writer(Vec::new()), cell: String::new() };
        Self { digits, zones: sheet(), site: sheet(), last: Vec::new(), last_site: SiteFlows::default() }
    }

    /// `ledger.csv` and `ledger_site.csv`.
    #[must_use]
    pub fn into_texts(self) -> (Vec<u8>, Vec<u8>) {
        (self.zones.into_text(), self.site.into_text())
    }

    fn zone_row(&mut self, view: &DayView, zone: usize) {
        let (world, run) = (view.world, view.run());
        let here = &world.constants.zones[zone];
        let plot = &world.site.plots[here.plot];
        let ring = (zone - world.constants.plots[here.plot].zones.start) / plot.grounds.len() + 1;
        let sheet = &mut self.zones;
        sheet.word(&world.drivers.days[view.day].date.to_string());
        sheet.word(&plot.name);
        sheet.word(&ring.to_string());
        sheet.word(if here.bed { "bed" } else { "sward" });
        sheet.word(&here.ground.to_string());
        sheet.number(here.area_m2, Digits::Exact);
        for column in zone_columns(&run, zone) {
            sheet.number(column.value, self.digits);
        }
        for amount in zone_stocks(&run, zone) {
            sheet.number(amount, self.digits);
        }
        for (&flow, last) in Flow::ALL.iter().zip(&mut self.last[zone]) {
            let sum = run.flow(zone, flow);
            sheet.number(sum - core::mem::replace(last, sum), self.digits);
        }
        species_row(sheet, &run, zone, self.digits);
        sheet.end();
    }

    fn site_row(&mut self, view: &DayView) {
        let (world, digits) = (view.world, self.digits);
        self.site.word(&world.drivers.days[view.day].date.to_string());
        for column in site_columns(view) {
            self.site.number(column.value, digits);
        }
        for &flow in SiteFlow::ALL {
            let amount = world.site_flows.get(flow) - self.last_site.get(flow);
            self.site.number(amount, digits);
        }
        self.site.end();
        self.last_site = world.site_flows.clone();
    }
}

impl Recorder for Ledger {
    fn flows(&self) -> FlowSet {
        FlowSet::ALL
    }

    fn reads_ground(&self, _: usize) -> bool {
        true
    }

    fn start(&mut self, run: &RunView) {
        self.last = vec![[0.0; Flow::ALL.len()]; run.ground.zones.len()];
        for word in ["date", "plot", "ring", "ground", "bed_number", "area[m2]"] {
            self.zones.word(word);
        }
        for column in zone_columns(run, 0) {
            self.zones.word(&column.header());
        }
        for stock in Stock::ALL {
            self.zones.word(&format!("{}[{}]", stock.name(), stock.currency().unit()));
        }
        for &flow in Flow::ALL {
            self.zones.word(&format!("{}[{}]", flow.name(), flow.currency().unit()));
        }
        species_header(&mut self.zones, run.world);
        self.zones.end();
    }

    fn day(&mut self, view: &DayView) {
        if view.day == 0 {
            self.site.word("date");
            for column in site_columns(view) {
                self.site.word(&column.header());
            }
            for &flow in SiteFlow::ALL {
                self.site.word(&format!("{}[{}]", flow.name(), site_unit(flow.currency())));
            }
            self.site.end();
        }
        for zone in 0..view.ground().zones.len() {
            self.zone_row(view, zone);
        }
        self.site_row(view);
    }
}

/// Writing to memory does not fail, and every row has a cell for every head.
impl Sheet {
    fn word(&mut self, word: &str) {
        self.csv.write_field(safe_cell(word.as_bytes())).unwrap_or_default();
    }

    fn number(&mut self, value: f64, digits: Digits) {
        self.cell.clear();
        match digits {
            Digits::Exact => write!(self.cell, "{value:?}"),
            Digits::Short => short(&mut self.cell, value),
        }
        .unwrap_or_default();
        self.csv.write_field(&self.cell).unwrap_or_default();
    }

    fn blank(&mut self) {
        self.word("");
    }

    fn end(&mut self) {
        self.csv.write_record(None::<&[u8]>).unwrap_or_default();
    }

    fn into_text(self) -> Vec<u8> {
        self.csv.into_inner().unwrap_or_default()
    }
}

/// Six significant digits, without needless zeros, into an empty cell.
fn short(cell: &mut String, value: f64) -> std::fmt::Result {
    if value == 0.0 {
        return cell.write_char('0');
    }
    let decimals = match value.abs() {
        m if !m.is_finite() => return Ok(()),
        m if m >= 1e5 => 0,
        m if m >= 1e4 => 1,
        m if m >= 1e3 => 2,
        m if m >= 1e2 => 3,
        m if m >= 1e1 => 4,
        m if m >= 1.0 => 5,
        m if m >= 1e-3 => 8,
        _ => return write!(cell, "{value:.5e}"),
    };
    write!(cell, "{value:.decimals$}")?;
    if decimals > 0 {
        cell.truncate(cell.trim_end_matches('0').trim_end_matches('.').len());
    }
    Ok(())
}

/// A named figure with its unit.
struct Column {
    name: &'static str,
    unit: &'static str,
    value: f64,
}

impl Column {
    fn header(&self) -> String {
        format!("{}[{}]", self.name, self.unit)
    }
}

fn column(name: &'static str, unit: &'static str, value: f64) -> Column {
    Column { name, unit, value }
}

/// States of a zone that every zone has, besides its stocks.
fn zone_columns(run: &RunView, zone: usize) -> Vec<Column> {
    let z = &run.ground.zones[zone];
    vec![
        column("cover", "share", z.seen_cover),
        column("surface.rested", "share", z.rested),
        column("surface.just_bitten", "share", z.bitten[0]),
        column("surface.recovering_1", "share", z.bitten[1]),
        column("surface.recovering_2", "share", z.bitten[2]),
        column("surface.recovering_3", "share", z.bitten[3]),
        column("crowns", "share", z.crowns),
        column("disturbed", "share", z.disturbed),
        column("firm", "share", z.firm),
        column("soil_thrown_so_far", "kg/m2", z.thrown),
        column("crop_age", "C d", z.crop_age),
        column("crop_harvested_so_far", "g/m2", z.harvested),
        column("crop_lost_to_birds_so_far", "g/m2", z.crop_lost),
        column("worm_eggs.ripening", "index", z.worms.ripening()),
        column("worm_eggs.infective", "index", z.worms.infective()),
    ]
}

/// Weeds, pests and slugs of the site by species: columns every zone row has, blank where absent.
fn species_header(sheet: &mut Sheet, world: &World) {
    for weed in &world.site.weeds {
        for part in ["young[g/m2]", "leafy[g/m2]", "mature[g/m2]", "seeds_deep[1/m2]", "seeds_surface[1/m2]"] {
            sheet.word(&format!("weed.{}.{part}", weed.name));
        }
    }
    for creeper in &world.site.creepers {
        for part in ["shoots[g/m2]", "reserve[g/m2]"] {
            sheet.word(&format!("creeping.{}.{part}", creeper.name));
        }
    }
    for pest in &world.site.pests {
        for part in [
            "degree_days[C d]",
            "overwintered[1/m2]",
            "dropped_this_year[1/m2]",
            "summer_in_soil[1/m2]",
            "adults[1/m2]",
            "above_ground[1/m2]",
            "risen_so_far[1/m2]",
            "flown_in_so_far[1/m2]",
        ] {
            sheet.word(&format!("pest.{}.{part}", pest.name));
        }
    }
    for slug in &world.site.slugs {
        for part in ["eggs[1/m2]", "young[1/m2]", "adults[1/m2]"] {
            sheet.word(&format!("slug.{}.{part}", slug.name));
        }
    }
}

fn species_row(sheet: &mut Sheet, run: &RunView, zone: usize, digits: Digits) {
    let (world, ground) = (run.world, run.ground);
    let here = &world.constants.zones[zone];
    let plot = &world.site.plots[here.plot];
    let mut write = |values: Option<&[f64]>, count: usize| match values {
        Some(values) => values.iter().for_each(|&v| sheet.number(v, digits)),
        None => (0..count).for_each(|_| sheet.blank()),
    };
    for kind in 0..world.site.weeds.len() {
        let at = plot.weeds.iter().position(|&(k, _)| k == kind).map(|i| ground.weeds[here.weeds.start + i]);
        let values = at.map(|w| [w.ages[0], w.ages[1], w.ages[2], w.deep, w.surface]);
        write(values.as_ref().map(<[f64; 5]>::as_slice), 5);
    }
    for kind in 0..world.site.creepers.len() {
        let at = plot.creepers.iter().position(|&(k, _)| k == kind).map(|i| ground.creepers[here.creepers.start + i]);
        let values = at.map(|c| [c.shoots, c.reserve]);
        write(values.as_ref().map(<[f64; 2]>::as_slice), 2);
    }
    for kind in 0..world.site.pests.len() {
        let at = plot.pests.iter().position(|p| p.pest == kind).map(|i| &ground.pests[here.pests.start + i]);
        let values = at.map(|p| {
            let summer = p.summer.iter().sum();
            [p.age, p.overwintered, p.dropped, summer, p.all_adults(), p.young(), p.risen, p.flown_in]
        });
        write(values.as_ref().map(<[f64; 8]>::as_slice), 8);
    }
    for kind in 0..world.site.slugs.len() {
        let at = plot.slugs.iter().position(|&(k, _)| k == kind).map(|i| &ground.slugs[here.slugs.start + i]);
        let values = at.map(|s| [s.eggs.iter().sum(), s.young.iter().sum(), s.adults]);
        write(values.as_ref().map(<[f64; 3]>::as_slice), 3);
    }
}

/// Weather, yard, heap, snow and flock of a day.
fn site_columns(view: &DayView) -> Vec<Column> {
    let (world, birds) = (view.world, view.birds);
    let day = &world.drivers.days[view.day];
    vec![
        column("tmin", "C", day.tmin_c),
        column("tmax", "C", day.tmax_c),
        column("rain_and_snow", "mm", day.rain_mm),
        column("to_ground", "mm", day.ground.liquid_mm),
        column("site.water.stock.snow", "mm", day.snow_mm),
        column("reference_evaporation", "mm", day.ground.et0_mm),
        column("day_length", "h", day.day_length_h),
        column("soil_under_cover", "C", day.soil_c),
        column("frozen", "0/1", f64::from(u8::from(day.frozen))),
        column("heat_hours", "h", day.heat_hours),
        column("housed", "0/1", f64::from(u8::from(birds.housed))),
        column("plots_open", "1", view.gates.openings.len() as f64),
        column("gate_moves", "1", view.gates.moves as f64),
        column("yard_bird_days", "bird-days", birds.yard_bird_days),
        column("plot_bird_days", "bird-days", world.birds_on.iter().map(|o| o.bird_days).sum()),
        column("green_eaten", "kg", birds.green_kg),
        column("insects_eaten", "kg", birds.insects_kg),
        column("feed_saved", "kg", birds.feed_saved_kg),
        column("infection_of_flock", "index", world.parties[0].infection),
        column("yard.worm_eggs", "index", world.yard.worms.infective()),
        column("yard.mud", "0/1", f64::from(u8::from(world.yard.mud))),
        column("site.n.stock.birds", "kg", world.in_birds().n * KG_PER_G),
        column("site.p.stock.birds", "kg", world.in_birds().p * KG_PER_G),
        column("site.n.stock.yard", "kg", world.yard.n_kg),
        column("site.n.stock.heap", "kg", world.heap.n_kg),
        column("site.p.stock.yard", "kg", world.yard.p_kg),
        column("site.p.stock.heap", "kg", world.heap.p_kg),
        column("site.dry_matter.stock.yard", "kg", world.yard.solids_kg),
        column("site.dry_matter.stock.heap", "kg", world.heap.solids_kg),
        column("site.birds.stock.here", "birds", world.birds()),
    ]
}

fn site_unit(currency: Currency) -> &'static str {
    match currency {
        Currency::N | Currency::P | Currency::DryMatter => "kg",
        other => other.unit(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_numbers_keep_six_digits_and_no_needless_zeros() {
        for (value, want) in [
            (0.0, "0"),
            (0.5, "0.5"),
            (123_456.7, "123457"),
            (-0.012_345_6, "-0.0123456"),
            (2.0, "2"),
            (1e-7, "1.00000e-7"),
        ] {
            let mut cell = String::new();
            short(&mut cell, value).unwrap();
            assert_eq!(cell, want);
        }
        let mut cell = String::new();
        short(&mut cell, f64::NAN).unwrap();
        assert_eq!(cell, "");
    }
}
