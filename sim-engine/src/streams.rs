//! Random streams: one per (seed, draw, purpose), and the samplers used on them.
//!
//! Why a stream per purpose: a draw added in one process must not shift the numbers
//! another process sees, or two strategies compared on "the same year" would not
//! be. The generator is ChaCha with 8 rounds; its 256-bit key is the seed, the draw
//! and a 128-bit hash of the purpose side by side, so different seeds or draws
//! can never share a stream.
//!
//! The samplers go through the `libm` crate and not the platform's mathematics
//! library, so the same key gives the same bits on every x86-64 processor.

use core::f64::consts::TAU;
use rand::{Rng, SeedableRng, rngs::ChaCha8Rng};

/// FNV-1a, 128 bits: offset basis and prime (Fowler, Noll & Vo; from memory).
const FNV_BASIS: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
const FNV_PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
/// 2 to the minus 53: the spacing of the uniform numbers.
const UNIFORM_STEP: f64 = 1.0 / 9_007_199_254_740_992.0;

/// The random stream of one purpose within one draw.
///
/// `purpose` is a fixed name such as `"weather.rain-days"`. Making a stream
/// touches no other.
#[must_use]
pub fn stream(seed: u64, draw: u64, purpose: &str) -> ChaCha8Rng {
    let mut key = [0_u8; 32];
    key[..8].copy_from_slice(&seed.to_le_bytes());
    key[8..16].copy_from_slice(&draw.to_le_bytes());
    key[16..].copy_from_slice(&purpose_hash(purpose).to_le_bytes());
    ChaCha8Rng::from_seed(key)
}

fn purpose_hash(purpose: &str) -> u128 {
    purpose.bytes().fold(FNV_BASIS, |hash, byte| (hash ^ u128::from(byte)).wrapping_mul(FNV_PRIME))
}

/// Uniform in [0, 1), all 53 bits of it; takes one 64-bit number from the stream.
#[inline]
pub fn uniform<R: Rng + ?Sized>(rng: &mut R) -> f64 {
    (rng.next_u64() >> 11) as f64 * UNIFORM_STEP
}

/// Standard normal deviate (Box & Muller 1958); always takes two numbers, so that what
/// follows in the stream does not depend on the values drawn.
pub fn standard_normal<R: Rng + ?Sized>(rng: &mut R) -> f64 {
    let radius = (-2.0 * libm::log(1.0 - uniform(rng))).sqrt();
    radius * libm::cos(TAU * uniform(rng))
}

/// Gamma deviate with mean `shape * scale` (Marsaglia & Tsang 2000).
///
/// Both arguments above 0; `scale` carries the unit. A shape below 1 is boosted by
/// one and scaled back with a uniform to the power 1/shape, as the paper gives.
pub fn gamma<R: Rng + ?Sized>(rng: &mut R, shape: f64, scale: f64) -> f64 {
    if shape < 1.0 {
        let boost = libm::pow(1.0 - uniform(rng), 1.0 / shape);
        return gamma(rng, shape + 1.0, scale) * boost;
    }
    let d = shape - 1.0 / 3.0;
    let c = 1.0 / (9.0 * d).sqrt();
    loop {
        let x = standard_normal(rng);
        let base = 1.0 + c * x;
        let v = base * base * base;
        if v > 0.0 && libm::log(1.0 - uniform(rng)) < 0.5 * x * x + d * (1.0 - v + libm::log(v)) {
            return d * v * scale;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand_distr::Distribution;
    use statrs::distribution::{ContinuousCDF, Gamma, Normal};
    use std::collections::BTreeSet;

    /// Kolmogorov–Smirnov statistic times the root of n: 1.95 is passed by chance once in a thousand.
    fn ks(mut sample: Vec<f64>, cdf: impl Fn(f64) -> f64) -> f64 {
        sample.sort_by(f64::total_cmp);
        let n = sample.len() as f64;
        let worst = sample.iter().enumerate().fold(0.0_f64, |worst, (i, &x)| {
            let at = cdf(x);
            worst.max((at - i as f64 / n).abs()).max(((i + 1) as f64 / n - at).abs())
        });
        worst * n.sqrt()
    }

    fn moments(sample: &[f64]) -> (f64, f64) {
        let n = sample.len() as f64;
        let mean = sample.iter().sum::<f64>() / n;
        (mean, sample.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / n)
    }

    /// Published FNV-1a 128-bit test vectors (as in Go's hash/fnv tests; from memory).
    #[test]
    fn purpose_hash_is_fnv_1a_128() {
        assert_eq!(purpose_hash(""), FNV_BASIS);
        assert_eq!(purpose_hash("a"), 0xd228_cb69_6f1a_8caf_7891_2b70_4e4a_8964);
        assert_eq!(purpose_hash("abc"), 0xa68d_622c_ec8b_5822_836d_bc79_77af_7f3b);
    }

    #[test]
    fn streams_of_near_keys_all_differ() {
        let mut firsts = BTreeSet::new();
        for seed in 0..20 {
            for draw in 0..20 {
                for purpose in ["", "a", "b", "ab", "ba", "weather.rain-days", "weather.rain-amounts"] {
                    firsts.insert(stream(seed, draw, purpose).next_u64());
                }
            }
        }
        assert_eq!(firsts.len(), 20 * 20 * 7);
    }

    /// Pinned on the first build: a change here changes every result a user has.
    #[test]
    fn values_are_stable() {
        let rng = &mut stream(7, 3, "test");
        let got = [
            rng.next_u64(),
            uniform(rng).to_bits(),
            standard_normal(rng).to_bits(),
            gamma(rng, 0.75, 10.0).to_bits(),
            gamma(rng, 2.5, 1.0).to_bits(),
        ];
        let pinned = [
            8_125_897_329_232_889_812,
            4_604_396_841_416_402_141,
            13_834_538_523_405_065_621,
            4_621_678_091_197_305_012,
            4_610_176_265_666_393_650,
        ];
        assert_eq!(got, pinned);
    }

    #[test]
    fn uniform_is_uniform() {
        let rng = &mut stream(1, 0, "uniform");
        let sample: Vec<f64> = (0..100_000).map(|_| uniform(rng)).collect();
        assert!(sample.iter().all(|u| (0.0..1.0).contains(u)));
        assert!(ks(sample, |x| x) < 1.95);
    }

    #[test]
    fn normal_is_normal() {
        let rng = &mut stream(1, 0, "normal");
        let sample: Vec<f64> = (0..100_000).map(|_| standard_normal(rng)).collect();
        let (mean, variance) = moments(&sample);
        assert!(mean.abs() < 4.0 / 100_000_f64.sqrt(), "{mean}");
        assert!((variance - 1.0).abs() < 4.0 * (2.0 / 100_000_f64).sqrt(), "{variance}");
        let normal = Normal::standard();
        assert!(ks(sample, |x| normal.cdf(x)) < 1.95);
    }

    /// Distribution functions from statrs; the mean is shape * scale, the variance shape * scale².
    #[test]
    fn gamma_is_gamma() {
        for (shape, scale) in [(0.3, 4.0), (0.75, 10.0), (1.0, 2.0), (3.2, 0.5), (40.0, 1.0)] {
            let rng = &mut stream(1, 0, "gamma");
            let sample: Vec<f64> = (0..100_000).map(|_| gamma(rng, shape, scale)).collect();
            let (mean, variance) = moments(&sample);
            let sd = (shape * scale * scale).sqrt();
            assert!((mean - shape * scale).abs() < 4.0 * sd / 100_000_f64.sqrt());
            let kurtosis = 2.0 + 6.0 / shape;
            assert!((variance / (sd * sd) - 1.0).abs() < 4.0 * (kurtosis / 100_000.0_f64).sqrt());
            let law = Gamma::new(shape, 1.0 / scale).unwrap();
            let at = ks(sample, |x| law.cdf(x));
            assert!(at < 1.95, "shape {shape}: {at}");
        }
    }

    /// A second, independent sampler: rand_distr's gamma has the same median within sampling error.
    #[test]
    fn gamma_agrees_with_rand_distr() {
        let rng = &mut stream(2, 0, "gamma");
        let theirs = rand_distr::Gamma::new(0.75, 10.0).unwrap();
        let n = 200_000;
        let below = |x: f64| f64::from(u8::from(x < 4.5417));
        let ours = (0..n).map(|_| below(gamma(rng, 0.75, 10.0))).sum::<f64>() / f64::from(n);
        let other = (0..n).map(|_| below(theirs.sample(rng))).sum::<f64>() / f64::from(n);
        assert!((ours - 0.5).abs() < 0.0045, "{ours}");
        assert!((other - ours).abs() < 0.0063, "{other} {ours}");
    }
}
