//! Numbers by the lane: every formula of the ground is written once, for one number or for
//! several possible years side by side.
//!
//! [`Real`] is what a formula needs of a number. `f64` is one; `wide::Lanes` holds one number
//! of each of several possible years in a vector register. Each lane goes through exactly the
//! operations a single `f64` would, in the same order and without fused multiply-add, so a lane
//! ends with the bits of the run alone. Where years part ways (`if`), both ways are
//! computed and [`Real::select`] picks by lane.

#[cfg(not(target_arch = "x86_64"))]
mod no_vectors;
pub mod real;
mod scalar;
pub mod soa;
#[cfg(target_arch = "x86_64")]
mod vectors;

#[cfg(not(target_arch = "x86_64"))]
pub use no_vectors::{lanes, lanes_for, on_vectors};
pub use real::{MOST_LANES, Mask, OnLanes, Real};
#[cfg(target_arch = "x86_64")]
pub use vectors::{lanes, lanes_for, on_vectors};
