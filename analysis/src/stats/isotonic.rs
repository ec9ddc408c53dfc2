//! The nearest curve that never rises: isotonic regression by pooling adjacent violators
//! (Ayer et al. 1955, Annals of Mathematical Statistics 26:641).

/// Of values in order with their weights, the never-rising curve with the least sum of
/// weighted squares between them. Weights are above nought.
#[must_use]
pub fn falling(values: &[f64], weights: &[f64]) -> Vec<f64> {
    // Pools of neighbours: mean, weight, how many.
    let mut pools: Vec<(f64, f64, usize)> = Vec::with_capacity(values.len());
    for (&value, &weight) in values.iter().zip(weights) {
        let mut pool = (value, weight, 1);
        while let Some(&(mean, before, count)) = pools.last() {
            if mean >= pool.0 {
                break;
            }
            pools.pop();
            let both = before + pool.1;
            pool = ((mean * before + pool.0 * pool.1) / both, both, count + pool.2);
        }
        pools.push(pool);
    }
    pools.into_iter().flat_map(|(mean, _, count)| std::iter::repeat_n(mean, count)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: neighbours that rise are pooled to their mean, again if the pool rises on the one before.
    #[test]
    fn pools_by_hand() {
        let even = |values: &[f64]| falling(values, &vec![1.0; values.len()]);
        assert_eq!(even(&[3.0, 1.0, 2.0, 0.0]), [3.0, 1.5, 1.5, 0.0]);
        assert_eq!(even(&[1.0, 2.0, 3.0]), [2.0, 2.0, 2.0]);
        assert_eq!(even(&[5.0, 4.0, 4.0]), [5.0, 4.0, 4.0]);
        assert_eq!(even(&[4.0, 2.0, 5.0, 3.0, 6.0]), [4.0, 4.0, 4.0, 4.0, 4.0]);
        assert_eq!(falling(&[1.0, 4.0], &[3.0, 1.0]), [1.75, 1.75]);
        assert!(even(&[]).is_empty());
    }
}
