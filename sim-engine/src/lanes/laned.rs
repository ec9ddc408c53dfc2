//! Getting the figures of one possible year into its lane and out again.

use super::Real;

/// Something that holds figures by lane; `One` is the same with plain figures.
pub trait Laned<F: Real>: Sized {
    /// The figures of one lane.
    type One;

    /// The same figures in every lane; `proof` is any number with these lanes.
    fn filled(proof: F, one: &Self::One) -> Self;
    /// Puts figures into a lane.
    fn set_lane(&mut self, lane: usize, one: &Self::One);
    /// Takes the figures of a lane into `one`.
    fn lane_into(&self, lane: usize, one: &mut Self::One);
}

impl<F: Real> Laned<F> for F {
    type One = f64;

    #[inline(always)]
    fn filled(proof: F, one: &f64) -> Self {
        proof.of(*one)
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

impl<F: Real, T: Laned<F>, const N: usize> Laned<F> for [T; N] {
    type One = [T::One; N];

    #[inline(always)]
    fn filled(proof: F, one: &Self::One) -> Self {
        core::array::from_fn(|i| T::filled(proof, &one[i]))
    }
    #[inline(always)]
    fn set_lane(&mut self, lane: usize, one: &Self::One) {
        self.iter_mut().zip(one).for_each(|(of_lanes, one)| of_lanes.set_lane(lane, one));
    }
    #[inline(always)]
    fn lane_into(&self, lane: usize, one: &mut Self::One) {
        self.iter().zip(one).for_each(|(of_lanes, one)| of_lanes.lane_into(lane, one));
    }
}

impl<F: Real, T: Laned<F>> Laned<F> for Vec<T> {
    type One = Vec<T::One>;

    fn filled(proof: F, one: &Self::One) -> Self {
        one.iter().map(|one| T::filled(proof, one)).collect()
    }
    fn set_lane(&mut self, lane: usize, one: &Self::One) {
        self.iter_mut().zip(one).for_each(|(of_lanes, one)| of_lanes.set_lane(lane, one));
    }
    fn lane_into(&self, lane: usize, one: &mut Self::One) {
        self.iter().zip(one).for_each(|(of_lanes, one)| of_lanes.lane_into(lane, one));
    }
}

/// Gathers one thing of each possible year into lanes; lanes past the last repeat it.
pub fn gather<'a, F: Real, T: Laned<F>>(proof: F, lanes: usize, of: impl Fn(usize) -> &'a T::One) -> T
where
    T::One: 'a,
{
    let mut gathered = T::filled(proof, of(0));
    for lane in 1..lanes {
        gathered.set_lane(lane, of(lane));
    }
    gathered
}

/// Implements [`Laned`] for a struct over its fields; those after `plain` are the same in all
/// lanes and stay as they were first filled in.
macro_rules! laned {
    ($name:ident { $( $field:ident ),* $(,)? } $( plain { $( $plain:ident ),* $(,)? } )?) => {
        impl<F: $crate::lanes::Real> $crate::lanes::laned::Laned<F> for $name<F> {
            type One = $name<f64>;

            #[inline(always)]
            fn filled(proof: F, one: &$name<f64>) -> Self {
                $name {
                    $( $field: $crate::lanes::laned::Laned::filled(proof, &one.$field), )*
                    $( $( $plain: one.$plain.clone(), )* )?
                }
            }
            #[inline(always)]
            fn set_lane(&mut self, lane: usize, one: &$name<f64>) {
                $( $crate::lanes::laned::Laned::<F>::set_lane(&mut self.$field, lane, &one.$field); )*
            }
            #[inline(always)]
            fn lane_into(&self, lane: usize, one: &mut $name<f64>) {
                $( $crate::lanes::laned::Laned::<F>::lane_into(&self.$field, lane, &mut one.$field); )*
            }
        }
    };
}
pub(crate) use laned;
