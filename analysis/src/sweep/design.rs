//! Which cells a sweep has: every combination, or points that fill the space evenly.

use super::axis::Axis;
use serde::{Deserialize, Serialize};
use sim_engine::streams::{stream, uniform};

/// Bits of a Sobol point.
const BITS: u32 = 32;

/// Most points of a design: they are laid out in memory.
pub const MOST_POINTS: u64 = 10_000_000;

/// How cells are laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Design {
    /// Every combination; the last axis runs fastest.
    Grid,
    /// Sobol points, shifted digit by digit by the seed.
    Sobol {
        /// Points.
        points: u64,
    },
    /// Latin hypercube: each axis cut into as many slices as there are points, one point in each.
    Latin {
        /// Points.
        points: u64,
    },
}

impl Design {
    /// Whether points of it can be laid out for so many axes.
    #[must_use]
    pub fn fits(self, axes: usize) -> bool {
        match self {
            Self::Grid => true,
            Self::Sobol { points } => points <= MOST_POINTS && axes <= MOST_SOBOL_AXES,
            Self::Latin { points } => points <= MOST_POINTS,
        }
    }

    /// How many cells there are; `None` if more than can be counted.
    #[must_use]
    pub fn count(self, axes: &[Axis]) -> Option<u64> {
        match self {
            Self::Grid => axes.iter().try_fold(1_u64, |all, axis| all.checked_mul(axis.count().unwrap_or(1))),
            Self::Sobol { points } | Self::Latin { points } => Some(points),
        }
    }
}

/// The cells of a sweep: a value for each axis.
#[derive(Clone, Debug)]
pub struct Cells {
    axes: Vec<Axis>,
    design: Design,
    /// Where the points lie, shares of the way, by axis (Latin) or the shift (Sobol).
    slices: Vec<Vec<f64>>,
    shifts: Vec<u32>,
}

impl Cells {
    /// Lays out the cells.
    #[must_use]
    pub fn new(axes: &[Axis], design: Design, seed: u64) -> Self {
        let shift =
            |axis: &Axis| (uniform(&mut stream(seed, 0, &format!("sweep.sobol.{}", axis.key))) * 2f64.powi(32)) as u32;
        let slices = match design {
            Design::Latin { points } => axes.iter().map(|axis| latin(seed, &axis.key, points)).collect(),
            _ => Vec::new(),
        };
        let shifts = match design {
            Design::Sobol { .. } => axes.iter().map(shift).collect(),
            _ => Vec::new(),
        };
        Self { axes: axes.to_vec(), design, slices, shifts }
    }

    /// Values of a cell, by axis.
    #[must_use]
    pub fn values(&self, cell: u64) -> Vec<f64> {
        match self.design {
            Design::Grid => self.combination(cell),
            Design::Sobol { .. } => {
                self.shares(|axis| f64::from(sobol(axis, cell) ^ self.shifts[axis]) / 2f64.powi(32))
            }
            Design::Latin { .. } => self.shares(|axis| self.slices[axis][cell as usize]),
        }
    }

    fn shares(&self, share: impl Fn(usize) -> f64) -> Vec<f64> {
        self.axes.iter().enumerate().map(|(position, axis)| axis.at(share(position))).collect()
    }

    fn combination(&self, cell: u64) -> Vec<f64> {
        let mut rest = cell;
        let mut values: Vec<f64> = self
            .axes
            .iter()
            .rev()
            .map(|axis| {
                let count = axis.count().unwrap_or(1);
                let place = rest % count;
                rest /= count;
                axis.at((place as f64 + 0.5) / count as f64)
            })
            .collect();
        values.reverse();
        values
    }
}

/// A Latin hypercube's axis (McKay, Beckman & Conover 1979, Technometrics 21:239): a random
/// point in each of `points` slices, the slices in random order.
fn latin(seed: u64, key: &str, points: u64) -> Vec<f64> {
    let mut numbers = stream(seed, 0, &format!("sweep.latin.{key}"));
    let mut slices: Vec<u64> = (0..points).collect();
    for at in (1..slices.len()).rev() {
        let other = (uniform(&mut numbers) * (at + 1) as f64) as usize;
        slices.swap(at, other.min(at));
    }
    slices.into_iter().map(|slice| (slice as f64 + uniform(&mut numbers)) / points as f64).collect()
}

/// Direction numbers of Sobol's sequence from the second axis on: degree of the primitive
/// polynomial, its inner coefficients, first numbers (Joe & Kuo 2008, SIAM J. Sci. Comput.
/// 30:2635, table new-joe-kuo-6, its first lines).
const DIRECTIONS: [(u32, u32, &[u32]); 9] = [
    (1, 0, &[1]),
    (2, 1, &[1, 3]),
    (3, 1, &[1, 3, 1]),
    (3, 2, &[1, 1, 1]),
    (4, 1, &[1, 1, 3, 3]),
    (4, 4, &[1, 3, 5, 13]),
    (5, 2, &[1, 1, 5, 5, 17]),
    (5, 4, &[1, 1, 5, 5, 5]),
    (5, 7, &[1, 1, 7, 11, 19]),
];

/// Most axes of a Sobol design.
pub const MOST_SOBOL_AXES: usize = DIRECTIONS.len() + 1;

/// Coordinate `axis` of Sobol point `index` in units of 2⁻³², in Gray-code order
/// (Antonov & Saleev 1979).
#[must_use]
pub fn sobol(axis: usize, index: u64) -> u32 {
    let gray = index ^ (index >> 1);
    let numbers = directions(axis);
    (0..BITS).filter(|bit| gray >> bit & 1 == 1).fold(0, |point, bit| point ^ numbers[bit as usize])
}

fn directions(axis: usize) -> [u32; BITS as usize] {
    let mut numbers = [0_u32; BITS as usize];
    if axis == 0 {
        (0..BITS).for_each(|bit| numbers[bit as usize] = 1 << (BITS - 1 - bit));
        return numbers;
    }
    let (degree, inner, first) = DIRECTIONS[axis - 1];
    let degree = degree as usize;
    for bit in 0..BITS as usize {
        numbers[bit] = if bit < degree {
            first[bit] << (BITS as usize - 1 - bit)
        } else {
            let back = numbers[bit - degree];
            let start = back ^ (back >> degree);
            (1..degree)
                .filter(|k| inner >> (degree - 1 - k) & 1 == 1)
                .fold(start, |number, k| number ^ numbers[bit - k])
        };
    }
    numbers
}

#[cfg(test)]
mod tests {
    use super::super::axis::Values;
    use super::*;

    fn axis(key: &str, values: Values) -> Axis {
        Axis { key: key.into(), unit: String::new(), light: true, whole: false, values }
    }

    #[test]
    fn a_grid_has_every_combination_once() {
        let axes = [axis("a", Values::List(vec![1.0, 2.0])), axis("b", Values::List(vec![5.0, 6.0, 7.0]))];
        let cells = Cells::new(&axes, Design::Grid, 1);
        assert_eq!(Design::Grid.count(&cells.axes), Some(6));
        assert_eq!(cells.values(0), [1.0, 5.0]);
        assert_eq!(cells.values(2), [1.0, 7.0]);
        assert_eq!(cells.values(5), [2.0, 7.0]);
        let long = [axis("a", Values::List(vec![0.0; 1 << 20])), axis("b", Values::List(vec![0.0; 1 << 20]))];
        let long: Vec<Axis> = long.iter().cycle().take(4).cloned().collect();
        assert_eq!(Design::Grid.count(&long), None);
    }

    /// First points by hand in Gray-code order (Joe & Kuo's notes on Sobol sequences print the same).
    #[test]
    fn sobol_points_are_the_published_ones() {
        let point = |index| [0, 1, 2].map(|axis| f64::from(sobol(axis, index)) / 2f64.powi(32));
        assert_eq!(point(0), [0.0, 0.0, 0.0]);
        assert_eq!(point(1), [0.5, 0.5, 0.5]);
        assert_eq!(point(2), [0.75, 0.25, 0.25]);
        assert_eq!(point(3), [0.25, 0.75, 0.75]);
        assert_eq!(point(4), [0.375, 0.375, 0.625]);
        assert_eq!(point(5), [0.875, 0.875, 0.125]);
    }

    /// Each axis alone: of the first 2^k points one lies in each of 2^k slices. Each pair: balanced quarters.
    #[test]
    fn sobol_points_fill_evenly() {
        for axis in 0..MOST_SOBOL_AXES {
            let mut slices: Vec<u32> = (0..64).map(|index| sobol(axis, index) >> 26).collect();
            slices.sort_unstable();
            assert_eq!(slices, (0..64).collect::<Vec<_>>(), "axis {axis}");
            for other in 0..axis {
                let upper = |index| sobol(axis, index) >> 31 & sobol(other, index) >> 31;
                assert_eq!((0..64).map(upper).sum::<u32>(), 16, "axes {axis} and {other}");
            }
        }
    }

    #[test]
    fn a_latin_hypercube_has_one_point_a_slice() {
        let axes = [axis("a", Values::Between(0.0, 1e6)), axis("b", Values::Between(0.0, 1e6))];
        let cells = Cells::new(&axes, Design::Latin { points: 50 }, 3);
        for along in 0..2 {
            let mut slices: Vec<u64> = (0..50).map(|cell| (cells.values(cell)[along] / 2e4) as u64).collect();
            slices.sort_unstable();
            assert_eq!(slices, (0..50).collect::<Vec<_>>());
        }
        assert_ne!(cells.values(0), Cells::new(&axes, Design::Latin { points: 50 }, 4).values(0));
    }
}
