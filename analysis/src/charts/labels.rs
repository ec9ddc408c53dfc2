//! Places labels beside markers without overlap, greedily.
//!
//! Each label tries places round its marker, near ones first, and takes the one that
//! covers least of what is already there. Common practice, no source.

use super::theme::{LINE, MARGIN, WIDTH};

/// A box: left, top, right, foot in px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub foot: f64,
}

impl Area {
    fn shared(&self, other: &Self) -> f64 {
        let width = self.right.min(other.right) - self.left.max(other.left);
        let height = self.foot.min(other.foot) - self.top.max(other.top);
        if width > 0.0 && height > 0.0 { width * height } else { 0.0 }
    }

    fn outside(&self, frame: &Self) -> f64 {
        let size = (self.right - self.left) * (self.foot - self.top);
        size - self.shared(frame)
    }

    /// Nearest point of the box to `point`.
    #[must_use]
    pub fn nearest(&self, point: (f64, f64)) -> (f64, f64) {
        (point.0.clamp(self.left, self.right), point.1.clamp(self.top, self.foot))
    }
}

/// Places a label of each width beside its point; `taken` is what must not be covered,
/// `frame` where labels may stand. Boxes come in the order of the points.
#[must_use]
pub fn place(points: &[(f64, f64)], widths: &[f64], taken: &[Area], frame: Area) -> Vec<Area> {
    let mut taken = taken.to_vec();
    // Crowded points choose first; equal ones in the order given.
    let mut order: Vec<usize> = (0..points.len()).collect();
    order.sort_by(|&a, &b| crowding(points, b).total_cmp(&crowding(points, a)));
    let nowhere = Area { left: MARGIN, top: 0.0, right: WIDTH, foot: LINE };
    let mut placed = vec![nowhere; points.len()];
    for i in order {
        let best = candidates(points[i], widths[i])
            .into_iter()
            .map(|(area, far)| {
                let crossed = crossed(points, i, &area) * CROSSING;
                (cost(&area, far, &taken, &frame) + crossed, area)
            })
            .reduce(|best, next| if next.0 < best.0 { next } else { best });
        if let Some((_, area)) = best {
            placed[i] = area;
            taken.push(area);
        }
    }
    placed
}

/// Cost of a leader that runs through another marker: more than a far label.
const CROSSING: f64 = 60.0;
/// A leader nearer than this to another marker seems to belong to it, px.
const TOO_NEAR: f64 = 10.0;

/// How much of the leader from point `i` to its box runs by other markers, in eighths.
fn crossed(points: &[(f64, f64)], i: usize, area: &Area) -> f64 {
    let (from, to) = (points[i], area.nearest(points[i]));
    let along = (1..=8).map(|k| {
        let share = f64::from(k) / 8.0;
        (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share)
    });
    let near = |at: &(f64, f64)| {
        points.iter().enumerate().any(|(j, p)| j != i && (p.0 - at.0).abs() < TOO_NEAR && (p.1 - at.1).abs() < TOO_NEAR)
    };
    along.filter(near).count() as f64
}

fn crowding(points: &[(f64, f64)], i: usize) -> f64 {
    points
        .iter()
        .enumerate()
        .filter(|&(j, _)| j != i)
        .map(|(_, p)| 1.0 / (1.0 + (p.0 - points[i].0).abs() + (p.1 - points[i].1).abs()))
        .fold(0.0, |total, near| total + near)
}

fn cost(area: &Area, far: f64, taken: &[Area], frame: &Area) -> f64 {
    let covered = taken.iter().map(|other| area.shared(other)).fold(0.0, |a, b| a + b);
    covered * 4.0 + area.outside(frame) * 20.0 + far * 1.5
}

/// Boxes round a point with their distance, at four distances and fourteen directions.
fn candidates((x, y): (f64, f64), width: f64) -> Vec<(Area, f64)> {
    // Shift of the box in shares of its width and height, and of the distance.
    const SIDES: [(f64, f64, f64, f64); 14] = [
        (0.0, -0.5, 1.0, 0.0),
        (0.0, -1.0, 0.7, -0.7),
        (0.0, 0.0, 0.7, 0.7),
        (0.0, -1.0, 1.0, -0.2),
        (-1.0, -1.0, -1.0, -0.2),
        (-1.0, -0.5, -1.0, 0.0),
        (-1.0, -1.0, -0.7, -0.7),
        (-1.0, 0.0, -0.7, 0.7),
        (-0.5, -1.0, 0.0, -1.0),
        (-0.5, 0.0, 0.0, 1.0),
        (-0.2, -1.0, 0.3, -1.0),
        (-0.2, 0.0, 0.3, 1.0),
        (-0.8, -1.0, -0.3, -1.0),
        (-0.8, 0.0, -0.3, 1.0),
    ];
    let height = LINE - 3.0;
    [11.0, 24.0, 42.0, 66.0]
        .into_iter()
        .flat_map(|far| {
            SIDES.map(|(across, down, right, below)| {
                let left = x + across * width + right * far;
                let top = y + down * height + below * far;
                (Area { left, top, right: left + width, foot: top + height }, far)
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Area = Area { left: 0.0, top: 0.0, right: 500.0, foot: 400.0 };

    #[test]
    fn close_points_get_labels_apart_and_inside() {
        let points = [(200.0, 200.0), (206.0, 203.0), (203.0, 208.0), (490.0, 10.0), (210.0, 196.0)];
        let placed = place(&points, &[120.0; 5], &[], FRAME);
        for (i, area) in placed.iter().enumerate() {
            assert_eq!(area.outside(&FRAME), 0.0, "{i}");
            assert!(placed[i + 1..].iter().all(|other| area.shared(other) == 0.0), "{i}");
        }
    }
}
