//! Getting the figures of one possible year into its lane and out again.

use super::real::Real;

/// Something that holds figures by lane; `One` is the same with plain figures.
pub trait StructOfArrays<F: Real>: Sized {
    /// The figures of one lane.
    type One: 'static;

    /// Gathers the figures of each lane; `token` is any number with these lanes.
    fn gather<'a>(token: F, of: impl Fn(usize) -> &'a Self::One + Copy) -> Self;
    /// Lists the figures of a lane.
    fn list(&self, lane: usize, put: &mut impl FnMut(f64));
    /// Reads what [`Self::list`] listed, from rows of all lanes; what is no number comes from `one`.
    fn read(rows: &mut Rows<F>, one: &Self::One) -> Self;
    /// Puts figures into a lane.
    fn set_lane(&mut self, lane: usize, one: &Self::One);
    /// Takes the figures of a lane into `one`.
    fn lane_into(&self, lane: usize, one: &mut Self::One);
}

/// Rows of numbers, one for each lane, read one after the other.
#[derive(Clone, Copy)]
pub struct Rows<'r, F> {
    /// Any number with these lanes.
    pub token: F,
    /// What is still to be read.
    pub left: &'r [f64],
}

impl<F: Real> Rows<'_, F> {
    /// The next row.
    #[inline(always)]
    pub fn take(&mut self) -> F {
        let (row, left) = self.left.split_at(F::LANES);
        self.left = left;
        self.token.load(row)
    }
}

impl<F: Real> StructOfArrays<F> for F {
    type One = f64;

    #[inline(always)]
    fn list(&self, lane: usize, put: &mut impl FnMut(f64)) {
        put(self.lane(lane));
    }
    #[inline(always)]
    fn read(rows: &mut Rows<F>, _: &f64) -> Self {
        rows.take()
    }

    #[inline(always)]
    fn gather<'a>(token: F, of: impl Fn(usize) -> &'a f64 + Copy) -> Self {
        token.by_lane(|lane| *of(lane))
    }
    #[inline(always)]
    fn set_lane(&mut self, lane: usize, one: &f64) {
        Real::set_lane(self, lane, *one);
    }
    #[inline(always)]
    fn lane_into(&self, lane: usize, one: &mut f64) {
        *one = self.lane(lane);
    }
}

impl<F: Real, T: StructOfArrays<F>, const N: usize> StructOfArrays<F> for [T; N] {
    type One = [T::One; N];

    #[inline(always)]
    fn list(&self, lane: usize, put: &mut impl FnMut(f64)) {
        for of_lanes in self {
            of_lanes.list(lane, put);
        }
    }
    #[inline(always)]
    fn read(rows: &mut Rows<F>, one: &Self::One) -> Self {
        core::array::from_fn(|i| T::read(rows, &one[i]))
    }

    #[inline(always)]
    fn gather<'a>(token: F, of: impl Fn(usize) -> &'a Self::One + Copy) -> Self {
        core::array::from_fn(|i| T::gather(token, |lane| &of(lane)[i]))
    }
    #[inline(always)]
    fn set_lane(&mut self, lane: usize, one: &Self::One) {
        for (of_lanes, one) in self.iter_mut().zip(one) {
            of_lanes.set_lane(lane, one);
        }
    }
    #[inline(always)]
    fn lane_into(&self, lane: usize, one: &mut Self::One) {
        for (of_lanes, one) in self.iter().zip(one) {
            of_lanes.lane_into(lane, one);
        }
    }
}

impl<F: Real, T: StructOfArrays<F>> StructOfArrays<F> for Vec<T> {
    type One = Vec<T::One>;

    fn list(&self, lane: usize, put: &mut impl FnMut(f64)) {
        for of_lanes in self {
            of_lanes.list(lane, put);
        }
    }
    fn read(rows: &mut Rows<F>, one: &Self::One) -> Self {
        one.iter().map(|one| T::read(rows, one)).collect()
    }

    fn gather<'a>(token: F, of: impl Fn(usize) -> &'a Self::One + Copy) -> Self {
        (0..of(0).len()).map(|i| T::gather(token, |lane| &of(lane)[i])).collect()
    }
    fn set_lane(&mut self, lane: usize, one: &Self::One) {
        self.iter_mut().zip(one).for_each(|(of_lanes, one)| of_lanes.set_lane(lane, one));
    }
    fn lane_into(&self, lane: usize, one: &mut Self::One) {
        self.iter().zip(one).for_each(|(of_lanes, one)| of_lanes.lane_into(lane, one));
    }
}

/// Implements [`StructOfArrays`] for a struct over its fields; those after `plain` are the same in all
/// lanes and are those of the first.
macro_rules! soa {
    ($name:ident { $( $field:ident ),* $(,)? } $( plain { $( $plain:ident ),* $(,)? } )?) => {
        impl<F: $crate::simd::real::Real> $crate::simd::soa::StructOfArrays<F> for $name<F> {
            type One = $name<f64>;

            #[inline(always)]
            fn list(&self, lane: usize, put: &mut impl FnMut(f64)) {
                $( $crate::simd::soa::StructOfArrays::<F>::list(&self.$field, lane, put); )*
            }
            #[inline(always)]
            fn read(rows: &mut $crate::simd::soa::Rows<F>, one: &$name<f64>) -> Self {
                $name {
                    $( $field: $crate::simd::soa::StructOfArrays::read(rows, &one.$field), )*
                    $( $( $plain: one.$plain.clone(), )* )?
                }
            }
            #[inline(always)]
            fn gather<'a>(token: F, of: impl Fn(usize) -> &'a $name<f64> + Copy) -> Self {
                $name {
                    $( $field: $crate::simd::soa::StructOfArrays::gather(token, |lane| &of(lane).$field), )*
                    $( $( $plain: of(0).$plain.clone(), )* )?
                }
            }
            #[inline(always)]
            fn set_lane(&mut self, lane: usize, one: &$name<f64>) {
                $( $crate::simd::soa::StructOfArrays::<F>::set_lane(&mut self.$field, lane, &one.$field); )*
            }
            #[inline(always)]
            fn lane_into(&self, lane: usize, one: &mut $name<f64>) {
                $( $crate::simd::soa::StructOfArrays::<F>::lane_into(&self.$field, lane, &mut one.$field); )*
            }
        }
    };
}
pub(crate) use soa;
