//! Portable elementary functions: the same bits on every x86-64 processor.
//!
//! The hot loop needs `exp` and the normal distribution many times per zone and
//! day. [`exp`] is branch-free and inlines; everything rarer goes to the `libm`
//! crate. Nothing here uses fused multiply-add.

use crate::simd::real::{Mask, Real};

/// 2^(k/32) for k in 0..32, correctly rounded.
pub(crate) const ROOTS_OF_TWO: [f64; 32] = [
    1.0,
    1.0218971486541166,
    1.0442737824274138,
    1.0671404006768237,
    1.0905077326652577,
    1.1143867425958924,
    1.1387886347566916,
    1.1637248587775775,
    1.189207115002721,
    1.215247359980469,
    1.241857812073484,
    1.2690509571917332,
    1.2968395546510096,
    1.3252366431597413,
    1.3542555469368927,
    1.383909881963832,
    core::f64::consts::SQRT_2,
    1.4451808069770467,
    1.4768261459394993,
    1.5091644275934228,
    1.5422108254079407,
    1.5759808451078865,
    1.6104903319492543,
    1.645755478153965,
    1.681792830507429,
    1.718619298122478,
    1.7562521603732995,
    1.7947090750031072,
    1.8340080864093424,
    1.8741676341103,
    1.9152065613971474,
    1.9571441241754002,
];
/// ln 2 / 32 split so that `n * STEP_HIGH` is exact for the `n` that occur (Cody & Waite 1980).
pub(crate) const STEP_HIGH: f64 = 2.166_084_938_653_512e-2;
pub(crate) const STEP_LOW: f64 = 5.963_171_653_970_587e-12;
/// 32 / ln 2.
pub(crate) const STEPS: f64 = 46.166_241_308_446_83;
/// 1.5 * 2^52: added to a number it leaves the nearest integer in the low bits.
pub(crate) const ROUNDER: f64 = 6_755_399_441_055_744.0;

/// e to the `x`; relative error below 1e-14 for |x| < 700, clamped beyond.
///
/// x = n ln 2/32 + r: a power of two, a root of two from the table, and a Taylor
/// polynomial of degree 5 on |r| <= ln 2/64, whose rest is below 3e-15.
#[inline(always)]
#[must_use]
pub fn exp(x: f64) -> f64 {
    let x = x.clamp(-700.0, 700.0);
    let shifted = x * STEPS + ROUNDER;
    let n = shifted - ROUNDER;
    let r = (x - n * STEP_HIGH) - n * STEP_LOW;
    let r2 = r * r;
    let rest = r + r2 * ((0.5 + r * (1.0 / 6.0)) + r2 * (1.0 / 24.0 + r * (1.0 / 120.0)));
    let whole = shifted.to_bits();
    let root = ROOTS_OF_TWO[(whole & 31) as usize];
    // The power of two goes into the exponent.
    let scale = f64::from_bits(root.to_bits().wrapping_add((whole >> 5) << 52));
    scale + scale * rest
}

/// Share lost to a hazard (a rate times a time): `1 - exp(-hazard)`, in 0..1 for hazard >= 0.
#[inline(always)]
#[must_use]
pub fn hazard_to_prob(hazard: f64) -> f64 {
    1.0 - exp(-hazard)
}

/// Standard normal distribution function, absolute error below 8e-8
/// (Abramowitz & Stegun 1964, 26.2.17).
#[inline(always)]
#[must_use]
pub fn normal_cdf<F: Real>(z: F) -> F {
    let x = z.abs();
    let positive = z.above(0.0);
    let far = x.above(8.0);
    let certain = F::select(positive, z.splat(1.0), z.zero());
    if !(!far).any() {
        return certain;
    }
    let t = z.splat(1.0) / (x * 0.231_641_9 + 1.0);
    let poly =
        t * (t * (t * (t * (t * 1.330_274_429 - 1.821_255_978) + 1.781_477_937) - 0.356_563_782) + 0.319_381_530);
    let tail = (x * -0.5 * x).exp() * 0.398_942_280_401_432_7 * poly;
    F::select(far, certain, F::select(positive, tail.one_minus(), tail))
}

/// `x` raised to `p`, for weather and set-up work outside the hot loop.
#[must_use]
pub fn pow(x: f64, p: f64) -> f64 {
    libm::pow(x, p)
}

/// Beta response to temperature (Yan & Hunt 1999, Annals of Botany 84:607), 0 to 1.
#[must_use]
pub fn beta_response(temperature_c: f64, base_c: f64, best_c: f64, ceiling_c: f64) -> f64 {
    if temperature_c <= base_c || temperature_c >= ceiling_c {
        return 0.0;
    }
    let falling = (ceiling_c - temperature_c) / (ceiling_c - best_c);
    let rising = (temperature_c - base_c) / (best_c - base_c);
    let power = (best_c - base_c) / (ceiling_c - best_c);
    falling * exp(power * libm::log(rising))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exp_agrees_with_libm() {
        let mut worst: f64 = 0.0;
        for i in -200_000..200_000 {
            let x = f64::from(i) * 1.7e-3;
            let want = libm::exp(x);
            worst = worst.max((exp(x) - want).abs() / want);
        }
        assert!(worst < 1e-14, "{worst:e}");
    }

    #[test]
    fn exp_of_zero_is_exactly_one() {
        assert_eq!(exp(0.0), 1.0);
        assert_eq!(exp(-0.0), 1.0);
        assert_eq!(hazard_to_prob(0.0), 0.0);
    }

    #[test]
    fn normal_cdf_agrees_with_erf() {
        for i in -800..=800 {
            let z = f64::from(i) * 0.01;
            let want = 0.5 * (1.0 + libm::erf(z / core::f64::consts::SQRT_2));
            assert!((normal_cdf(z) - want).abs() < 8e-8, "z {z}");
        }
    }

    #[test]
    fn beta_response_peaks_at_the_best_temperature() {
        // Yan & Hunt 1999: 1 at the optimum, 0 at the base and the ceiling.
        assert!((beta_response(19.0, 1.0, 19.0, 33.0) - 1.0).abs() < 1e-14);
        assert_eq!(beta_response(1.0, 1.0, 19.0, 33.0), 0.0);
        assert_eq!(beta_response(33.0, 1.0, 19.0, 33.0), 0.0);
        // At 10 C with base 1, best 19, ceiling 33: (23/14) (9/18)^(18/14).
        let want = 23.0 / 14.0 * libm::pow(0.5, 18.0 / 14.0);
        assert!((beta_response(10.0, 1.0, 19.0, 33.0) - want).abs() < 1e-13);
    }
}
