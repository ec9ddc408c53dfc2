//! What a formula needs of a number: one, or one by lane.

use core::fmt::Debug;
use core::ops::{Add, AddAssign, BitAnd, BitOr, Div, Mul, MulAssign, Not, Sub, SubAssign};

/// The most lanes there are.
pub const MOST_LANES: usize = 8;

/// Work that is the same for any number of lanes.
pub trait OnLanes {
    /// What comes of it.
    type Output;

    /// Does it on the lanes of `zero`, which is 0 in each.
    fn on<F: Real>(self, zero: F) -> Self::Output;
}

/// Yes or no, by lane.
pub trait Mask:
    Copy + Debug + BitAnd<Output = Self> + BitOr<Output = Self> + Not<Output = Self> + Send + Sync + 'static
{
    /// Yes in some lane.
    fn any(self) -> bool;
}

/// A number, or one by lane.
pub trait Real:
    Copy
    + Debug
    + PartialEq
    + Send
    + Sync
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
    + AddAssign
    + SubAssign
    + MulAssign
    + 'static
{
    /// Yes or no, by lane.
    type Mask: Mask;
    /// How many lanes.
    const LANES: usize;

    /// `x` in every lane. (Taken from a number at hand, which proves that the processor has
    /// the lanes.)
    #[must_use]
    fn splat(self, x: f64) -> Self;
    /// Yes in the lanes whose bit of `bits` is 1.
    fn mask(self, bits: u8) -> Self::Mask;
    /// The number of a lane. (Of a number where it lies: a vector is not copied to read one of its lanes.)
    fn lane(&self, lane: usize) -> f64;
    /// Sets the number of a lane.
    fn set_lane(&mut self, lane: usize, x: f64);
    /// One number by lane, of any function.
    #[must_use]
    fn by_lane(self, of: impl FnMut(usize) -> f64) -> Self;
    /// The numbers of a row, which has at least as many as there are lanes.
    #[must_use]
    fn load(self, row: &[f64]) -> Self;
    /// The greater; where they do not compare, `other`.
    #[must_use]
    fn max(self, other: Self) -> Self;
    /// The lesser; where they do not compare, `other`.
    #[must_use]
    fn min(self, other: Self) -> Self;
    /// Greater than.
    fn gt(self, other: Self) -> Self::Mask;
    /// At least.
    fn ge(self, other: Self) -> Self::Mask;
    /// `yes` where `mask`, else `no`.
    #[must_use]
    fn select(mask: Self::Mask, yes: Self, no: Self) -> Self;
    /// e to this power: [`crate::math::exp`].
    #[must_use]
    fn exp(self) -> Self;

    /// 0 in every lane.
    #[inline(always)]
    #[must_use]
    fn zero(self) -> Self {
        self.splat(0.0)
    }
    /// The rest to 1: `1 - self`.
    #[inline(always)]
    #[must_use]
    fn one_minus(self) -> Self {
        self.splat(1.0) - self
    }
    /// Greater than a plain number.
    #[inline(always)]
    fn above(self, x: f64) -> Self::Mask {
        self.gt(self.splat(x))
    }
    /// Less than a plain number.
    #[inline(always)]
    fn below(self, x: f64) -> Self::Mask {
        self.splat(x).gt(self)
    }
    /// Not less than 0.
    #[inline(always)]
    #[must_use]
    fn clamp_min_zero(self) -> Self {
        self.max(self.zero())
    }
    /// Not more than 1.
    #[inline(always)]
    #[must_use]
    fn clamp_max_one(self) -> Self {
        self.min(self.splat(1.0))
    }
    /// This where `mask`, else 0.
    #[inline(always)]
    #[must_use]
    fn select_or_zero(self, mask: Self::Mask) -> Self {
        Self::select(mask, self, self.zero())
    }
    /// Share lost to this hazard (a rate times a time): 1 − e^−hazard.
    #[inline(always)]
    #[must_use]
    fn hazard_to_prob(self) -> Self {
        (self * -1.0).exp().one_minus()
    }
    /// Without its sign.
    #[inline(always)]
    #[must_use]
    fn abs(self) -> Self {
        let turned = self * -1.0;
        Self::select(self.below(0.0), turned, self)
    }
}
