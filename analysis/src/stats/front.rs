//! What is not beaten on everything: the front over several objectives.
//!
//! All objectives are to be *small*; turn a gain round by its sign. A point beats
//! another when it is nowhere larger and somewhere smaller, so equal points do
//! not beat each other (Deb et al. 2002, IEEE Transactions on Evolutionary
//! Computation 6:182–197, for the ranks).

/// Whether `a` beats `b`: nowhere larger, somewhere smaller.
#[must_use]
pub fn beats(a: &[f64], b: &[f64]) -> bool {
    a.iter().zip(b).all(|(x, y)| x <= y) && a.iter().zip(b).any(|(x, y)| x < y)
}

/// For each point, whether no other beats it. Points with a NaN are never on the front.
#[must_use]
pub fn not_beaten(points: &[Vec<f64>]) -> Vec<bool> {
    ranks(points).iter().map(|rank| *rank == Some(0)).collect()
}

/// Layer of each point: 0 for the front, 1 for what is the front once that is
/// taken away, and so on; `None` for points with a NaN.
#[must_use]
pub fn ranks(points: &[Vec<f64>]) -> Vec<Option<usize>> {
    let mut ranks = vec![None; points.len()];
    let mut left: Vec<usize> = (0..points.len()).filter(|&i| !points[i].iter().any(|value| value.is_nan())).collect();
    let mut rank = 0;
    while !left.is_empty() {
        let (front, rest): (Vec<usize>, Vec<usize>) =
            left.iter().partition(|&&i| !left.iter().any(|&j| beats(&points[j], &points[i])));
        front.iter().for_each(|&i| ranks[i] = Some(rank));
        left = rest;
        rank += 1;
    }
    ranks
}

/// Places of the points of two objectives that no other beats, by the first objective; equal
/// points all stay. For many points: it sorts once where [`ranks`] compares all pairs.
#[must_use]
pub fn front_of_two(points: &[[f64; 2]]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..points.len()).filter(|&i| !points[i].iter().any(|value| value.is_nan())).collect();
    order.sort_by(|&a, &b| points[a][0].total_cmp(&points[b][0]).then(points[a][1].total_cmp(&points[b][1])));
    let mut last: Option<[f64; 2]> = None;
    order.retain(|&i| {
        let kept = last.is_none_or(|best| points[i][1] < best[1] || points[i] == best);
        if kept {
            last = Some(points[i]);
        }
        kept
    });
    order
}

/// Area beaten by `points` (x, y) up to `reference`; points beyond it count for nothing.
#[must_use]
pub fn area(points: &[[f64; 2]], reference: [f64; 2]) -> f64 {
    let mut inside: Vec<[f64; 2]> =
        points.iter().copied().filter(|p| p[0] < reference[0] && p[1] < reference[1]).collect();
    inside.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let mut lowest = reference[1];
    inside.iter().fold(0.0, |total, point| {
        let gained = (lowest - point[1]).max(0.0) * (reference[0] - point[0]);
        lowest = lowest.min(point[1]);
        total + gained
    })
}

/// Volume beaten by `points` (x, y, z) up to `reference`, by slices along z.
#[must_use]
pub fn volume(points: &[[f64; 3]], reference: [f64; 3]) -> f64 {
    let mut inside: Vec<[f64; 3]> = points.iter().copied().filter(|p| (0..3).all(|k| p[k] < reference[k])).collect();
    inside.sort_by(|a, b| a[2].total_cmp(&b[2]));
    let flat: Vec<[f64; 2]> = inside.iter().map(|p| [p[0], p[1]]).collect();
    (0..inside.len()).fold(0.0, |total, i| {
        let top = inside.get(i + 1).map_or(reference[2], |next| next[2]);
        let height = top - inside[i][2];
        if height > 0.0 { total + height * area(&flat[..=i], [reference[0], reference[1]]) } else { total }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::fixtures::{close, table};

    fn sets() -> Vec<(Vec<f64>, Vec<Vec<f64>>)> {
        let points = table("h_hypervolume_points.csv", &["set", "f1", "f2", "f3", "nds_rank"]);
        table("h_hypervolume_result.csv", &["set", "dim", "ref_each", "hypervolume"])
            .into_iter()
            .map(|result| {
                let own = points.iter().filter(|p| p[0] == result[0]).cloned().collect();
                (result, own)
            })
            .collect()
    }

    /// Hypervolumes by pymoo/moocore (origin in tests/fixtures/README.md).
    #[test]
    fn volumes_agree_with_moocore() {
        for (result, points) in sets() {
            let reference = result[2];
            let got = if result[1] == 2.0 {
                let flat: Vec<[f64; 2]> = points.iter().map(|p| [p[1], p[2]]).collect();
                area(&flat, [reference; 2])
            } else {
                let solid: Vec<[f64; 3]> = points.iter().map(|p| [p[1], p[2], p[3]]).collect();
                volume(&solid, [reference; 3])
            };
            close(got, result[3], 1e-12);
        }
    }

    /// Non-domination ranks by pymoo (origin in tests/fixtures/README.md).
    #[test]
    fn ranks_agree_with_pymoo() {
        for (result, points) in sets() {
            let wide = result[1] as usize;
            let objectives: Vec<Vec<f64>> = points.iter().map(|p| p[1..=wide].to_vec()).collect();
            let want: Vec<Option<usize>> = points.iter().map(|p| Some(p[4] as usize)).collect();
            assert_eq!(ranks(&objectives), want);
        }
    }

    /// The quick front is the front, and the area under it alone is the area of all.
    #[test]
    fn the_front_of_two_is_that_of_all_pairs() {
        for (result, points) in sets().into_iter().filter(|(result, _)| result[1] == 2.0) {
            let flat: Vec<[f64; 2]> = points.iter().map(|p| [p[1], p[2]]).collect();
            let mut got = front_of_two(&flat);
            let on_front: Vec<[f64; 2]> = got.iter().map(|&i| flat[i]).collect();
            close(area(&on_front, [result[2]; 2]), result[3], 1e-12);
            got.sort_unstable();
            let kept = not_beaten(&flat.iter().map(|p| p.to_vec()).collect::<Vec<_>>());
            assert_eq!(got, (0..flat.len()).filter(|&i| kept[i]).collect::<Vec<_>>());
        }
        assert_eq!(front_of_two(&[[1.0, 2.0], [1.0, 2.0], [f64::NAN, 0.0], [2.0, 2.0], [0.0, 9.0]]), [4, 0, 1]);
    }

    #[test]
    fn equal_points_do_not_beat_each_other_and_blanks_stay_off() {
        let points = vec![vec![1.0, 2.0], vec![1.0, 2.0], vec![f64::NAN, 0.0], vec![2.0, 2.0]];
        assert_eq!(not_beaten(&points), [true, true, false, false]);
        assert_eq!(ranks(&points)[3], Some(1));
    }
}
