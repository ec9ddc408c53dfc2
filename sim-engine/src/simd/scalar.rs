//! One lane: a plain number.

use super::real::{Mask, Real};

impl Mask for bool {
    #[inline(always)]
    fn any(self) -> bool {
        self
    }
}

impl Real for f64 {
    type Mask = bool;
    const LANES: usize = 1;

    #[inline(always)]
    fn splat(self, x: f64) -> Self {
        x
    }
    #[inline(always)]
    fn mask(self, bits: u8) -> bool {
        bits & 1 == 1
    }
    #[inline(always)]
    fn lane(&self, _: usize) -> f64 {
        *self
    }
    #[inline(always)]
    fn set_lane(&mut self, _: usize, x: f64) {
        *self = x;
    }
    #[inline(always)]
    fn by_lane(self, mut of: impl FnMut(usize) -> f64) -> Self {
        of(0)
    }
    #[inline(always)]
    fn load(self, row: &[f64]) -> Self {
        row[0]
    }
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        if self > other { self } else { other }
    }
    #[inline(always)]
    fn min(self, other: Self) -> Self {
        if self < other { self } else { other }
    }
    #[inline(always)]
    fn gt(self, other: Self) -> bool {
        self > other
    }
    #[inline(always)]
    fn ge(self, other: Self) -> bool {
        self >= other
    }
    #[inline(always)]
    fn select(mask: bool, yes: Self, no: Self) -> Self {
        if mask { yes } else { no }
    }
    #[inline(always)]
    fn exp(self) -> Self {
        crate::math::exp(self)
    }
}
