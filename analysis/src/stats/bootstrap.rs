//! How sure is it that the best stays best? Draws are drawn again with
//! replacement (Efron 1979, The Annals of Statistics 7:1–26), the whole rule is
//! applied afresh, and the times the same strategy wins are counted.
//!
//! What is drawn again is what counts as one: whole blocks of draws where there are enough of
//! them ([`super::blocks`]), the last with what it has.

use super::blocks::unit;
use rand::Rng;
use sim_engine::streams::stream;

/// Places of `draws` draws, picked block by block with replacement, for bootstrap number `number`.
///
/// Each bootstrap has its own random stream, so any one can be redone alone. Where the last
/// block is a part there may be a few more or fewer places than draws.
#[must_use]
pub fn resample(seed: u64, number: u64, draws: usize) -> Vec<usize> {
    let mut random = stream(seed, number, "bootstrap");
    let unit = unit(draws);
    let blocks = draws.div_ceil(unit);
    let picked = (0..blocks).map(|_| unit * place(random.next_u32(), blocks));
    picked.flat_map(|first| first..(first + unit).min(draws)).collect()
}

/// Scales 32 random bits to 0..many; uneven by less than many / 2^32.
fn place(bits: u32, many: usize) -> usize {
    ((u64::from(bits) * many as u64) >> 32) as usize
}

/// Share of `bootstraps` in which `chosen` is among the winners.
///
/// `winners` applies the rule to the resampled places and gives the indices of
/// all that win; a win shared by k counts 1/k. No bootstraps or draws: NaN.
pub fn share_staying(
    seed: u64,
    bootstraps: usize,
    draws: usize,
    chosen: usize,
    winners: impl Fn(&[usize]) -> Vec<usize>,
) -> f64 {
    if draws == 0 {
        return f64::NAN;
    }
    let wins = (0..bootstraps as u64).fold(0.0, |wins, number| {
        let won = winners(&resample(seed, number, draws));
        if won.contains(&chosen) { wins + 1.0 / won.len() as f64 } else { wins }
    });
    wins / bootstraps as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_number_gives_the_same_places() {
        assert_eq!(resample(3, 8, 41), resample(3, 8, 41));
        assert_ne!(resample(3, 8, 41), resample(3, 9, 41));
        assert!(resample(3, 8, 41).iter().all(|&place| place < 41));
    }

    #[test]
    fn every_draw_is_as_likely() {
        let mut seen = [0_u32; 5];
        for number in 0..4_000 {
            resample(1, number, 5).iter().for_each(|&place| seen[place] += 1);
        }
        // 20,000 picks: 4,000 each, standard deviation 57; five of them is generous.
        assert!(seen.iter().all(|&count| count.abs_diff(4_000) < 285), "{seen:?}");
    }

    /// Enough draws: whole blocks, the last with the two it has.
    #[test]
    fn blocks_stay_together() {
        let places = resample(1, 0, 42);
        let starts: Vec<usize> = places.iter().copied().filter(|place| place % 4 == 0).collect();
        let whole: Vec<usize> = starts.iter().flat_map(|&first| first..(first + 4).min(42)).collect();
        assert_eq!((places, starts.len()), (whole, 11));
    }

    #[test]
    fn ties_are_shared() {
        assert_eq!(share_staying(1, 50, 4, 0, |_| vec![0, 1]), 0.5);
        assert_eq!(share_staying(1, 50, 4, 0, |_| vec![]), 0.0);
        assert!(share_staying(1, 50, 0, 0, |_| vec![0]).is_nan());
    }

    /// All bits are shared out evenly, in order.
    #[test]
    fn bits_scale_to_places() {
        assert_eq!([0, 1 << 31, u32::MAX].map(|bits| place(bits, 10)), [0, 5, 9]);
        assert_eq!([0, 1 << 30, 3 << 30].map(|bits| place(bits, 4)), [0, 1, 3]);
        assert_eq!(place(u32::MAX, 1), 0);
    }

    /// The share is that of the winners that hold the chosen one, here the draws that come first.
    #[test]
    fn the_share_counts_the_wins() {
        let first = |places: &[usize]| vec![places[0]];
        let shares: f64 = (0..4).map(|chosen| share_staying(1, 400, 4, chosen, first)).sum();
        assert!((shares - 1.0).abs() < 1e-12);
        // One in four of 400: standard deviation 0.022, five of them is generous.
        assert!((share_staying(1, 400, 4, 2, first) - 0.25).abs() < 0.11);
    }
}
