//! Portable elementary functions: the same bits on every x86-64 processor.
//!
//! The hot loop needs `exp` and the normal distribution many times per zone and
//! day. [`exp`] is branch-free and inlines; everything rarer goes to the `libm`
//! crate. Nothing here uses fused multiply-add.

/// ln 2 split so that `n * LN2_HIGH` is exact for the `n` that occur (Cody & Waite 1980).
const LN2_HIGH: f64 = 6.931_471_803_691_238e-1;
const LN2_LOW: f64 = 1.908_214_929_270_587_7e-10;
/// 1.5 * 2^52: adding and subtracting it rounds to the nearest integer.
const ROUNDER: f64 = 6_755_399_441_055_744.0;

/// e to the `x`; relative error below 1e-14 for |x| < 700, clamped beyond.
///
/// Range reduction by powers of two and a Taylor polynomial of degree 12 on
/// |r| <= ln 2 / 2; no branch, so loops over it vectorise.
#[inline(always)]
#[must_use]
pub fn exp(x: f64) -> f64 {
    let x = x.clamp(-700.0, 700.0);
    let n = (x * core::f64::consts::LOG2_E + ROUNDER) - ROUNDER;
    let r = (x - n * LN2_HIGH) - n * LN2_LOW;
    let r2 = r * r;
    // Estrin's scheme: short dependency chains, fixed order of operations.
    let a = 1.0 + r;
    let b = 0.5 + r * (1.0 / 6.0);
    let c = 1.0 / 24.0 + r * (1.0 / 120.0);
    let d = 1.0 / 720.0 + r * (1.0 / 5_040.0);
    let e = 1.0 / 40_320.0 + r * (1.0 / 362_880.0);
    let f = 1.0 / 3_628_800.0 + r * (1.0 / 39_916_800.0);
    let r4 = r2 * r2;
    let low = a + b * r2;
    let mid = c + d * r2;
    let high = e + (f + r2 * (1.0 / 479_001_600.0)) * r2;
    let poly = low + r4 * (mid + r4 * high);
    let scale = f64::from_bits(((n as i64 + 1023) << 52) as u64);
    poly * scale
}

/// Share lost to a hazard (a rate times a time): `1 - exp(-hazard)`, in 0..1 for hazard >= 0.
#[inline(always)]
#[must_use]
pub fn lost(hazard: f64) -> f64 {
    1.0 - exp(-hazard)
}

/// Standard normal distribution function, absolute error below 8e-8
/// (Abramowitz & Stegun 1964, 26.2.17).
#[inline]
#[must_use]
pub fn normal_cdf(z: f64) -> f64 {
    let x = z.abs();
    if x > 8.0 {
        return if z > 0.0 { 1.0 } else { 0.0 };
    }
    let t = 1.0 / (1.0 + 0.231_641_9 * x);
    let poly =
        t * (0.319_381_530 + t * (-0.356_563_782 + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    let tail = 0.398_942_280_401_432_7 * exp(-0.5 * x * x) * poly;
    if z > 0.0 { 1.0 - tail } else { tail }
}

/// `x` raised to `p`, for weather and set-up work outside the hot loop.
#[must_use]
pub fn pow(x: f64, p: f64) -> f64 {
    libm::pow(x, p)
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
        assert_eq!(lost(0.0), 0.0);
    }

    #[test]
    fn normal_cdf_agrees_with_erf() {
        for i in -800..=800 {
            let z = f64::from(i) * 0.01;
            let want = 0.5 * (1.0 + libm::erf(z / core::f64::consts::SQRT_2));
            assert!((normal_cdf(z) - want).abs() < 8e-8, "z {z}");
        }
    }
}
