//! Numbers by the lane: every formula of the ground is written once, for one number or for
//! several possible years side by side.
//!
//! [`Real`] is what a formula needs of a number. `f64` is one; `wide::Lanes` holds one number
//! of each of several possible years in a vector register. Each lane goes through exactly the
//! operations a single `f64` would, in the same order and without fused multiply-add, so a lane
//! ends with the bits of the run alone. Where years part ways (`if`), both ways are
//! computed and [`Real::choose`] picks by lane.

pub mod laned;
#[cfg(not(target_arch = "x86_64"))]
mod none;
pub mod real;
mod scalar;
#[cfg(target_arch = "x86_64")]
mod wide;

#[cfg(not(target_arch = "x86_64"))]
pub use none::{lanes, lanes_for, on_vectors};
pub use real::{MOST_LANES, Mask, OnLanes, Real};
#[cfg(target_arch = "x86_64")]
pub use wide::{lanes, lanes_for, on_vectors};
