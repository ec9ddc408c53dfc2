//! Numbers of one entry of which one is below the other, whatever a draw makes of them.

/// Of two numbers of an entry, the one that is below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Order {
    /// Name of the lesser.
    pub below: &'static str,
    /// Name of the greater.
    pub above: &'static str,
    /// Whether both may be the same.
    pub or_same: bool,
}

const fn below(below: &'static str, above: &'static str) -> Order {
    Order { below, above, or_same: false }
}

const fn not_above(below: &'static str, above: &'static str) -> Order {
    Order { below, above, or_same: true }
}

/// Of a soil: without room between the points there is no water for plants.
pub const SOIL: &[Order] =
    &[below("wilting_point", "field_capacity"), not_above("curve_number_good", "curve_number_bare")];
/// Of plants and slugs: the curve of growth rises to the best temperature and falls from there.
pub const TEMPERATURES: &[Order] =
    &[below("base_temperature", "best_temperature"), below("best_temperature", "ceiling_temperature")];
/// Of a canopy. Fruit may fall across the turn of the year, so its days have no order.
pub const CANOPY: &[Order] = &[below("leaf_out", "leaf_fall")];
/// Of a pest.
pub const PEST: &[Order] = &[below("base_temperature", "upper_temperature"), below("counting_from", "season_end")];
/// Of the processes.
pub const PROCESS: &[Order] = &[not_above("crop_coefficient_bare", "crop_coefficient_full")];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parameters::Field;
    use crate::species::{
        CanopyParams, CoverParams, CreeperParams, CropParams, PestParams, ProcessParams, SlugParams, SoilParams,
        WeedParams,
    };

    #[test]
    fn every_order_is_of_numbers_of_one_unit_that_the_entry_has() {
        let sets: [(&[Order], &[Field]); 9] = [
            (SOIL, SoilParams::FIELDS),
            (TEMPERATURES, CoverParams::FIELDS),
            (TEMPERATURES, WeedParams::FIELDS),
            (TEMPERATURES, CreeperParams::FIELDS),
            (TEMPERATURES, CropParams::FIELDS),
            (TEMPERATURES, SlugParams::FIELDS),
            (CANOPY, CanopyParams::FIELDS),
            (PEST, PestParams::FIELDS),
            (PROCESS, ProcessParams::FIELDS),
        ];
        for (orders, fields) in sets {
            let unit = |name: &str| fields.iter().find(|field| field.name == name).unwrap().unit;
            assert!(orders.iter().all(|order| unit(order.below) == unit(order.above)));
        }
    }
}
