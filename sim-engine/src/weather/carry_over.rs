//! How temperature carries over from one day to the next: the matrices A and B.
//!
//! From the residuals of lowest and highest temperature, A = M₁ M₀⁻¹ and
//! B Bᵀ = M₀ - A M₁ᵀ, where M₀ holds their correlations on one day and M₁ those of
//! today (rows) with yesterday (columns) (Matalas 1967; Richardson 1981).

/// Two by two: lowest, highest temperature.
pub(super) type Matrix = [[f64; 2]; 2];

/// Carry-over A and weight B from the residuals (Matalas 1967).
pub(super) fn carry_over(residuals: &[[f64; 2]]) -> (Matrix, Matrix) {
    matrices(correlation(residuals, 0)[0][1], correlation(residuals, 1))
}

/// The same from the correlations: of the two on one day, and of today's (rows) with yesterday's.
pub(super) fn matrices(same_day: f64, m1: Matrix) -> (Matrix, Matrix) {
    let determinant = 1.0 - same_day * same_day;
    if determinant <= 0.0 {
        // Lowest and highest move as one: each keeps to its own past.
        let lag = m1[0][0];
        return ([[lag, 0.0], [lag, 0.0]], [[(1.0 - lag * lag).sqrt(), 0.0]; 2]);
    }
    let a = m1.map(|[p, q]| [(p - q * same_day) / determinant, (q - p * same_day) / determinant]);
    let bbt = |i: usize, j: usize| {
        let m0 = if i == j { 1.0 } else { same_day };
        m0 - a[i][0] * m1[j][0] - a[i][1] * m1[j][1]
    };
    (a, lower_root(bbt(0, 0), bbt(1, 0), bbt(1, 1)))
}

/// Lower triangle whose product with its transpose is a symmetric matrix (Cholesky); parts
/// that rounding or a short series made negative are taken as zero.
fn lower_root(first: f64, beside: f64, second: f64) -> Matrix {
    let top = first.max(0.0).sqrt();
    let left = if top > 0.0 { beside / top } else { 0.0 };
    [[top, 0.0], [left, (second - left * left).max(0.0).sqrt()]]
}

/// Correlations of today's residuals (rows) with those `lag` days before (columns); 0 for
/// a residual that never varies.
pub(super) fn correlation(residuals: &[[f64; 2]], lag: usize) -> Matrix {
    let (today, before) = (&residuals[lag..], &residuals[..residuals.len() - lag]);
    core::array::from_fn(|i| core::array::from_fn(|j| pearson(today, i, before, j)))
}

fn pearson(x: &[[f64; 2]], i: usize, y: &[[f64; 2]], j: usize) -> f64 {
    let n = x.len() as f64;
    let (mean_x, mean_y) = (x.iter().map(|v| v[i]).sum::<f64>() / n, y.iter().map(|v| v[j]).sum::<f64>() / n);
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for (a, b) in x.iter().zip(y) {
        let (dx, dy) = (a[i] - mean_x, b[j] - mean_y);
        xx += dx * dx;
        yy += dy * dy;
        xy += dx * dy;
    }
    if xx > 0.0 && yy > 0.0 { xy / (xx * yy).sqrt() } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::near;

    /// A M0 = M1 and B Bt = M0 - A M1t, with the correlations of highest and lowest temperature of
    /// Richardson & Wright 1984 (from memory).
    #[test]
    fn matrices_solve_their_equations() {
        let (same, m1) = (0.633, [[0.621, 0.445], [0.563, 0.674]]);
        let (a, b) = matrices(same, m1);
        let m0 = [[1.0, same], [same, 1.0]];
        for i in 0..2 {
            for j in 0..2 {
                near(a[i][0] * m0[0][j] + a[i][1] * m0[1][j], m1[i][j], 1e-12);
                let carried = a[i][0] * m1[j][0] + a[i][1] * m1[j][1];
                let chance = b[i][0] * b[j][0] + b[i][1] * b[j][1];
                near(chance + carried, m0[i][j], 1e-12);
            }
        }
    }

    #[test]
    fn temperatures_that_move_as_one() {
        let (a, b) = matrices(1.0, [[0.6, 0.6], [0.6, 0.6]]);
        assert_eq!((a, b), ([[0.6, 0.0], [0.6, 0.0]], [[0.8, 0.0], [0.8, 0.0]]));
    }

    #[test]
    fn what_never_varies_has_no_correlation() {
        assert_eq!(correlation(&[[1.0, 0.0], [2.0, 0.0], [3.0, 0.0]], 0), [[1.0, 0.0], [0.0, 0.0]]);
    }
}
