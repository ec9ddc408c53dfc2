//! Lanes in the vector registers of the processor the program finds itself on.

use super::real::{Mask, OnLanes, Real};
use crate::math::{ROOTS_OF_TWO, ROUNDER, STEP_HIGH, STEP_LOW, STEPS};
use core::ops::{Add, AddAssign, BitAnd, BitOr, Div, Mul, MulAssign, Not, Sub, SubAssign};
use pulp::bytemuck::{cast, cast_mut, cast_ref};
use pulp::x86::{V3, V4};
use pulp::{Simd, WithSimd, u64x4, u64x8};

/// How many runs go side by side on this processor: 8, 4 or 1.
#[must_use]
pub fn lanes() -> usize {
    if V4::try_new().is_some() {
        V4::F64_LANES
    } else if V3::try_new().is_some() {
        V3::F64_LANES
    } else {
        1
    }
}

/// The fewest lanes this processor has that so many runs fit into, or its most.
#[must_use]
pub fn lanes_for(runs: usize) -> usize {
    match runs {
        0 | 1 => 1,
        runs if runs <= V3::F64_LANES => lanes().min(V3::F64_LANES),
        _ => lanes(),
    }
}

/// Does the work on vectors of so many lanes; `None` if the processor has none.
pub fn on_vectors<W: OnLanes>(lanes: usize, work: W) -> Option<W::Output> {
    match (V4::try_new(), V3::try_new()) {
        (Some(simd), _) if lanes == V4::F64_LANES => Some(Simd::vectorize(simd, OnVectors { simd, work })),
        (_, Some(simd)) if lanes == V3::F64_LANES => Some(Simd::vectorize(simd, OnVectors { simd, work })),
        _ => None,
    }
}

struct OnVectors<S, W> {
    simd: S,
    work: W,
}

impl<S: Vectors, W: OnLanes> WithSimd for OnVectors<S, W> {
    type Output = W::Output;

    #[inline(always)]
    fn with_simd<T: Simd>(self, _: T) -> W::Output {
        self.work.on(Lanes::zeros(self.simd))
    }
}

/// A processor's vectors of `f64`: what [`pulp`] gives, and a table look-up.
pub trait Vectors: Simd {
    /// Carries the alignment of a vector: one that straddles two lines of the cache costs twice.
    type Aligned: Copy + core::fmt::Debug + Send + Sync;

    /// Numbers of a vector, read.
    fn row(of: &Self::f64s) -> &[f64];
    /// Numbers of a vector, written.
    fn row_mut(of: &mut Self::f64s) -> &mut [f64];
    /// A vector of numbers.
    fn make_row(self, of: impl FnMut(usize) -> f64) -> Self::f64s;
    /// e to the power of a whole number of steps, given as the bits of `x * STEPS + ROUNDER`:
    /// the root of two from the table, scaled by the power of two.
    fn roots(self, whole: Self::u64s) -> Self::f64s;
    /// Yes where the bit is 1.
    fn bits(self, bits: u8) -> Self::m64s;
    /// Yes in some lane.
    fn some(self, mask: Self::m64s) -> bool;
}

/// Aligned as a vector of four numbers.
#[derive(Clone, Copy, Debug)]
#[repr(align(32))]
pub struct AsFour;

/// Aligned as a vector of eight numbers.
#[derive(Clone, Copy, Debug)]
#[repr(align(64))]
pub struct AsEight;

impl Vectors for V3 {
    type Aligned = AsFour;

    #[inline(always)]
    fn row(of: &Self::f64s) -> &[f64] {
        let row: &[f64; 4] = cast_ref(of);
        row
    }
    #[inline(always)]
    fn row_mut(of: &mut Self::f64s) -> &mut [f64] {
        let row: &mut [f64; 4] = cast_mut(of);
        row
    }
    #[inline(always)]
    fn make_row(self, mut of: impl FnMut(usize) -> f64) -> Self::f64s {
        cast([of(0), of(1), of(2), of(3)])
    }
    #[inline(always)]
    fn roots(self, whole: u64x4) -> Self::f64s {
        let at: [u64; 4] = cast(whole);
        let root = |lane: usize| ROOTS_OF_TWO[(at[lane] & 31) as usize];
        let roots: u64x4 = cast([root(0), root(1), root(2), root(3)]);
        let power = self.avx2._mm256_srli_epi64::<5>(cast(whole));
        let power: u64x4 = cast(self.avx2._mm256_slli_epi64::<52>(power));
        cast(self.wrapping_add_u64x4(roots, power))
    }
    #[inline(always)]
    fn bits(self, bits: u8) -> Self::m64s {
        let row: u64x4 = cast([0, 1, 2, 3].map(|lane| u64::from(bits >> lane & 1)));
        self.greater_than_u64s(row, self.splat_u64s(0))
    }
    #[inline(always)]
    fn some(self, mask: Self::m64s) -> bool {
        self.first_true_m64s(mask) < 4
    }
}

impl Vectors for V4 {
    type Aligned = AsEight;

    #[inline(always)]
    fn row(of: &Self::f64s) -> &[f64] {
        let row: &[f64; 8] = cast_ref(of);
        row
    }
    #[inline(always)]
    fn row_mut(of: &mut Self::f64s) -> &mut [f64] {
        let row: &mut [f64; 8] = cast_mut(of);
        row
    }
    #[inline(always)]
    fn make_row(self, mut of: impl FnMut(usize) -> f64) -> Self::f64s {
        cast([of(0), of(1), of(2), of(3), of(4), of(5), of(6), of(7)])
    }
    #[inline(always)]
    fn roots(self, whole: u64x8) -> Self::f64s {
        // The table fills four registers; two look-ups of sixteen, and the fifth bit chooses.
        let [a, b, c, d]: [[f64; 8]; 4] = cast(ROOTS_OF_TWO);
        let at = cast(whole);
        let low = self.avx512f._mm512_permutex2var_pd(cast(a), at, cast(b));
        let high = self.avx512f._mm512_permutex2var_pd(cast(c), at, cast(d));
        let upper = self.avx512f._mm512_test_epi64_mask(at, cast(self.splat_u64s(16)));
        let roots = self.avx512f._mm512_mask_blend_pd(upper, low, high);
        let power = self.avx512f._mm512_slli_epi64::<52>(self.avx512f._mm512_srli_epi64::<5>(at));
        cast(self.avx512f._mm512_add_epi64(cast(roots), power))
    }
    #[inline(always)]
    fn bits(self, bits: u8) -> Self::m64s {
        pulp::b8(bits)
    }
    #[inline(always)]
    fn some(self, mask: Self::m64s) -> bool {
        mask.0 != 0
    }
}

/// One number of each of several possible years.
#[derive(Clone, Copy, Debug)]
pub struct Lanes<S: Vectors> {
    simd: S,
    row: S::f64s,
    _aligned: [S::Aligned; 0],
}

impl<S: Vectors> Lanes<S> {
    /// Lanes of zeros.
    #[inline(always)]
    pub fn zeros(simd: S) -> Self {
        Self { simd, row: simd.splat_f64s(0.0), _aligned: [] }
    }
}

/// Yes or no of each of several possible years.
#[derive(Clone, Copy, Debug)]
pub struct LaneMask<S: Vectors> {
    simd: S,
    row: S::m64s,
}

impl<S: Vectors> Mask for LaneMask<S> {
    #[inline(always)]
    fn any(self) -> bool {
        self.simd.some(self.row)
    }
}

macro_rules! operators {
    ($( $operator:ident $method:ident $of:ident, $assign:ident $assign_method:ident; )*) => { $(
        impl<S: Vectors> $operator for Lanes<S> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                Self { row: self.simd.$of(self.row, other.row), ..self }
            }
        }
        impl<S: Vectors> $operator<f64> for Lanes<S> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: f64) -> Self {
                self.$method(self.splat(other))
            }
        }
        impl<S: Vectors> $assign for Lanes<S> {
            #[inline(always)]
            fn $assign_method(&mut self, other: Self) {
                *self = self.$method(other);
            }
        }
    )* };
}

operators! {
    Add add add_f64s, AddAssign add_assign;
    Sub sub sub_f64s, SubAssign sub_assign;
    Mul mul mul_f64s, MulAssign mul_assign;
}

impl<S: Vectors> Div for Lanes<S> {
    type Output = Self;
    #[inline(always)]
    fn div(self, other: Self) -> Self {
        Self { row: self.simd.div_f64s(self.row, other.row), ..self }
    }
}

impl<S: Vectors> PartialEq for Lanes<S> {
    #[inline(always)]
    fn eq(&self, other: &Self) -> bool {
        S::row(&self.row) == S::row(&other.row)
    }
}

impl<S: Vectors> BitAnd for LaneMask<S> {
    type Output = Self;
    #[inline(always)]
    fn bitand(self, other: Self) -> Self {
        Self { simd: self.simd, row: self.simd.and_m64s(self.row, other.row) }
    }
}

impl<S: Vectors> BitOr for LaneMask<S> {
    type Output = Self;
    #[inline(always)]
    fn bitor(self, other: Self) -> Self {
        Self { simd: self.simd, row: self.simd.or_m64s(self.row, other.row) }
    }
}

impl<S: Vectors> Not for LaneMask<S> {
    type Output = Self;
    #[inline(always)]
    fn not(self) -> Self {
        Self { simd: self.simd, row: self.simd.not_m64s(self.row) }
    }
}

impl<S: Vectors> Real for Lanes<S> {
    type Mask = LaneMask<S>;
    const LANES: usize = S::F64_LANES;

    #[inline(always)]
    fn splat(self, x: f64) -> Self {
        Self { row: self.simd.splat_f64s(x), ..self }
    }
    #[inline(always)]
    fn mask(self, bits: u8) -> LaneMask<S> {
        LaneMask { simd: self.simd, row: self.simd.bits(bits) }
    }
    #[inline(always)]
    fn lane(&self, lane: usize) -> f64 {
        S::row(&self.row)[lane]
    }
    #[inline(always)]
    fn set_lane(&mut self, lane: usize, x: f64) {
        S::row_mut(&mut self.row)[lane] = x;
    }
    #[inline(always)]
    fn by_lane(self, of: impl FnMut(usize) -> f64) -> Self {
        Self { row: self.simd.make_row(of), ..self }
    }
    #[inline(always)]
    fn load(self, row: &[f64]) -> Self {
        let (rows, _) = S::as_simd_f64s(row);
        Self { row: rows[0], ..self }
    }
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        Self { row: self.simd.max_f64s(self.row, other.row), ..self }
    }
    #[inline(always)]
    fn min(self, other: Self) -> Self {
        Self { row: self.simd.min_f64s(self.row, other.row), ..self }
    }
    #[inline(always)]
    fn gt(self, other: Self) -> LaneMask<S> {
        LaneMask { simd: self.simd, row: self.simd.greater_than_f64s(self.row, other.row) }
    }
    #[inline(always)]
    fn ge(self, other: Self) -> LaneMask<S> {
        LaneMask { simd: self.simd, row: self.simd.greater_than_or_equal_f64s(self.row, other.row) }
    }
    #[inline(always)]
    fn select(mask: LaneMask<S>, yes: Self, no: Self) -> Self {
        Self { row: yes.simd.select_f64s(mask.row, yes.row, no.row), ..yes }
    }
    #[inline(always)]
    fn exp(self) -> Self {
        // As `math::exp`, step by step.
        let x = self.max(self.splat(-700.0)).min(self.splat(700.0));
        let shifted = x * STEPS + ROUNDER;
        let n = shifted - ROUNDER;
        let r = (x - n * STEP_HIGH) - n * STEP_LOW;
        let r2 = r * r;
        let rest = r + r2 * ((r * (1.0 / 6.0) + 0.5) + r2 * (r * (1.0 / 120.0) + 1.0 / 24.0));
        let scale = Self { row: self.simd.roots(self.simd.transmute_u64s_f64s(shifted.row)), ..self };
        scale + scale * rest
    }
}
