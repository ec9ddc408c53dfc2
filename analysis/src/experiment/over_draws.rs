//! Many draws over the threads, in parts of as many as run side by side.

use crate::draw_sampler::{Draw, DrawSampler};
use rayon::prelude::*;
use scenarios::SiteModel;
use sim_engine::run::world::RunError;
use sim_engine::simd::lanes;
use sim_engine::weather::DayWeather;
use std::ops::Range;

/// Draws of a range, numbered from 1 (the first of the range `0..n` is draw 1).
#[must_use]
pub fn draws_of(model: &SiteModel, seed: u64, weather: Option<&[DayWeather]>, range: Range<usize>) -> Vec<Draw> {
    let sampler = DrawSampler { seed };
    range.map(|i| sampler.draw_under(model, i as u64 + 1, weather)).collect()
}

/// Works on the parts of a range of draws, and collects in the order of draws, so that nothing
/// depends on threads.
///
/// # Errors
/// The first of the parts' errors.
pub fn over_draws<T: Send>(
    range: Range<usize>,
    work: impl Fn(Range<usize>) -> Result<Vec<T>, RunError> + Sync + Send,
) -> Result<Vec<T>, RunError> {
    let parts: Vec<Result<Vec<T>, RunError>> = parts(range).into_par_iter().map(&work).collect();
    let mut all = Vec::new();
    for part in parts {
        all.extend(part?);
    }
    Ok(all)
}

/// As many as run side by side, or fewer where only then all threads have work.
fn parts(range: Range<usize>) -> Vec<Range<usize>> {
    let size = range.len().div_ceil(rayon::current_num_threads()).clamp(1, lanes());
    range.clone().step_by(size).map(|first| first..(first + size).min(range.end)).collect()
}
