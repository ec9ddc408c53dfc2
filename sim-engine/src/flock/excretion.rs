//! What birds drop: what they ate less what they keep in eggs and growth.
//!
//! # Formulas
//!
//! ```text
//! feed      = need / feed_energy − feed saved                                              g a day, as fed
//! nitrogen  = feed · protein_share / 6.25 + N found − egg_nitrogen · eggs − body_nitrogen · gain          g a day
//! phosphorus = feed · feed_phosphorus + P found − egg_phosphorus · eggs − body_phosphorus · gain          g a day
//! solids    = (feed · feed_dry_matter + other + insects) · feed_undigested + green · green_undigested     g a day
//! N found   = Σ eaten · nitrogen content of plants, residue, fruit and seed + insects · insect_nitrogen   g a day
//! ```
//!
//! What is eaten today is dropped tomorrow. Of a party's feed the protein is the mean of its classes, weighted by their need.
//! Birds never keep more than they ate: on less, eggs and growth hold what there was.
//!
//! # Source
//!
//! Mass balance. Nitrogen in crude protein 1/6.25: convention of feed analysis. Nitrogen of egg and body, phosphorus of feed
//! and egg: from memory; shares in the library. Held against excretion stated for classes: Environment Agency, ceilings for
//! intensive poultry (layer 2.19, duck 2.19, broiler 1.64 g N a day); Nitrates Action Programme Regulations of Northern
//! Ireland 2018, Table 1c.
//!
//! # Limits
//!
//! Moult, ageing and spilt feed are not in it. Birds arrive empty: they drop nothing on their first day.
//!
//! # Parameters
//!
//! ```text
//! BirdParams     protein_share [-]
//! ProcessParams  feed_energy [kcal/g], feed_phosphorus [-], feed_dry_matter [-], feed_undigested [-], green_undigested [-],
//!                insect_nitrogen [g/g], insect_phosphorus [g/g], egg_nitrogen [g/g], egg_phosphorus [g/g],
//!                body_nitrogen [g/g], body_phosphorus [g/g]
//! ```

use crate::plot::bites::Intake;
use crate::species::ProcessParams;

/// Protein for one of nitrogen, by convention of feed analysis.
const PROTEIN_PER_NITROGEN: f64 = 6.25;

/// Droppings, g.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Droppings {
    /// Nitrogen.
    pub n: f64,
    /// Phosphorus.
    pub p: f64,
    /// Dry matter.
    pub solids: f64,
}

impl Droppings {
    /// These and others.
    #[must_use]
    pub fn plus(&self, others: &Self) -> Self {
        Self { n: self.n + others.n, p: self.p + others.p, solids: self.solids + others.solids }
    }

    /// A share of them, or several of them.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        Self { n: self.n * factor, p: self.p * factor, solids: self.solids * factor }
    }
}

/// A nutrient of birds on a day, g: from bought feed, found on the ground, kept in eggs and growth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Nutrient {
    /// In bought feed.
    pub feed: f64,
    /// In what the ground gave.
    pub found: f64,
    /// In eggs.
    pub eggs: f64,
    /// In growth.
    pub gained: f64,
}

impl Nutrient {
    /// With what is kept held to what was eaten.
    fn balanced(feed: f64, found: f64, eggs: f64, gain: f64) -> Self {
        let kept = eggs + gain;
        let share = if kept > feed + found { (feed + found) / kept } else { 1.0 };
        Self { feed, found, eggs: eggs * share, gained: gain * share }
    }

    /// What is dropped.
    #[must_use]
    pub fn dropped(&self) -> f64 {
        (self.feed + self.found - self.eggs - self.gained).max(0.0)
    }
}

/// What birds ate and kept on a day.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Balance {
    /// Nitrogen.
    pub n: Nutrient,
    /// Phosphorus.
    pub p: Nutrient,
    /// Dry matter dropped, g.
    pub solids: f64,
}

impl Balance {
    /// Of `feed_g` of bought feed with this share of protein, what was found, kg, and eggs and gain of the day, g.
    #[must_use]
    pub fn new(feed_g: f64, protein_share: f64, found: &Intake, egg_g: f64, gain_g: f64, p: &ProcessParams) -> Self {
        let (green, other) = (1000.0 * found.green, 1000.0 * found.other);
        let (insects, plant_n, plant_p) = (1000.0 * found.insects, 1000.0 * found.plant_n, 1000.0 * found.plant_p);
        Self {
            n: Nutrient::balanced(
                feed_g * protein_share / PROTEIN_PER_NITROGEN,
                plant_n + insects * p.insect_nitrogen,
                p.egg_nitrogen * egg_g,
                p.body_nitrogen * gain_g,
            ),
            p: Nutrient::balanced(
                feed_g * p.feed_phosphorus,
                plant_p + insects * p.insect_phosphorus,
                p.egg_phosphorus * egg_g,
                p.body_phosphorus * gain_g,
            ),
            solids: (feed_g * p.feed_dry_matter + other + insects) * p.feed_undigested + green * p.green_undigested,
        }
    }

    /// What the birds will drop.
    #[must_use]
    pub fn droppings(&self) -> Droppings {
        Droppings { n: self.n.dropped(), p: self.p.dropped(), solids: self.solids }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{garden_site, near, same};

    const NOTHING: Intake = Intake { green: 0.0, other: 0.0, insects: 0.0, plant_n: 0.0, plant_p: 0.0 };

    /// 115 g of feed of 16.5 % protein hold 3.04 g N, 48 g of egg 0.93: 2.11 g a day are left, worked by hand.
    #[test]
    fn a_layer_drops_what_eggs_do_not_hold() {
        let p = garden_site().process;
        let layer = Balance::new(115.0, 0.165, &NOTHING, 48.0, 0.0, &p);
        near(layer.n.feed, 3.036, 1e-9);
        near(layer.n.eggs, 0.9264, 1e-9);
        near(layer.droppings().n, 2.1096, 1e-9);
        near(layer.droppings().p, 115.0 * 0.006 - 48.0 * 0.002, 1e-9);
        near(layer.droppings().solids, 115.0 * 0.88 * 0.27, 1e-9);
    }

    /// Of what is found all that is not kept comes back, whatever it is.
    #[test]
    fn what_is_found_comes_back() {
        let p = garden_site().process;
        let found = Intake { green: 0.02, other: 0.005, insects: 0.001, plant_n: 0.6e-3, plant_p: 0.07e-3 };
        let (fed, ranging) =
            (Balance::new(100.0, 0.16, &NOTHING, 40.0, 3.0, &p), Balance::new(100.0, 0.16, &found, 40.0, 3.0, &p));
        near(ranging.droppings().n - fed.droppings().n, 0.6 + p.insect_nitrogen, 1e-9);
        near(ranging.droppings().p - fed.droppings().p, 0.07 + p.insect_phosphorus, 1e-9);
        near(ranging.solids - fed.solids, 6.0 * 0.27 + 20.0 * 0.7, 1e-9);
    }

    /// Birds that eat less than eggs and growth would hold keep all of it and drop none.
    #[test]
    fn none_keeps_more_than_it_ate() {
        let p = garden_site().process;
        let starved = Balance::new(10.0, 0.16, &NOTHING, 48.0, 10.0, &p);
        same(starved.n.eggs + starved.n.gained, starved.n.feed);
        assert_eq!(starved.droppings().n, 0.0);
        same(starved.n.eggs / starved.n.gained, 48.0 * 0.0193 / (10.0 * 0.029));
    }
}
