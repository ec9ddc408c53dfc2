//! Lines of equal value through a grid of cells: marching squares with straight
//! interpolation between cell centres (Lorensen & Cline 1987 in two dimensions, from memory).

/// Values on a grid, row by row.
#[derive(Clone, Copy, Debug)]
pub struct Grid<'g> {
    /// Values; a NaN counts as below every level.
    pub values: &'g [f64],
    /// Values in a row.
    pub columns: usize,
    /// Rows.
    pub rows: usize,
}

/// A point in units of cells, from the centre of the first.
pub type Point = (f64, f64);

/// Lines along which the grid crosses `level`, joined end to end.
#[must_use]
pub fn contour(grid: &Grid<'_>, level: f64) -> Vec<Vec<Point>> {
    let mut pieces = Vec::new();
    for row in 0..grid.rows.saturating_sub(1) {
        for column in 0..grid.columns.saturating_sub(1) {
            pieces.extend(square(grid, column, row, level));
        }
    }
    joined(pieces)
}

/// Where the edges of one square of four centres cross the level, in pairs.
fn square(grid: &Grid<'_>, column: usize, row: usize, level: f64) -> Vec<(Point, Point)> {
    let corners = [(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)];
    let value = |(c, r): (usize, usize)| {
        let value = grid.values[r * grid.columns + c];
        if value.is_nan() { f64::NEG_INFINITY } else { value }
    };
    let mut crossings: Vec<Point> = Vec::with_capacity(4);
    for side in 0..4 {
        let (from, to) = (corners[side], corners[(side + 1) % 4]);
        let (a, b) = (value(from), value(to));
        if (a >= level) != (b >= level) {
            let share = if (b - a).is_finite() { (level - a) / (b - a) } else { 0.5 };
            let along = |x: usize, y: usize| x as f64 + (y as f64 - x as f64) * share;
            crossings.push((along(from.0, to.0), along(from.1, to.1)));
        }
    }
    match crossings.as_slice() {
        [a, b] => vec![(*a, *b)],
        // A saddle: the middle decides which corners belong together.
        [a, b, c, d] => {
            let middle = corners.iter().map(|&corner| value(corner)).fold(0.0, |sum, v| sum + v) / 4.0;
            let first_in = value(corners[0]) >= level;
            if (middle >= level) == first_in { vec![(*a, *b), (*c, *d)] } else { vec![(*d, *a), (*b, *c)] }
        }
        _ => Vec::new(),
    }
}

/// Pieces joined where their ends meet.
fn joined(mut pieces: Vec<(Point, Point)>) -> Vec<Vec<Point>> {
    let meets = |a: Point, b: Point| (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9;
    let mut lines = Vec::new();
    while let Some((from, to)) = pieces.pop() {
        let mut line = std::collections::VecDeque::from([from, to]);
        loop {
            let (first, last) = (line[0], line[line.len() - 1]);
            let Some(place) =
                pieces.iter().position(|&(a, b)| [a, b].iter().any(|&p| meets(p, first) || meets(p, last)))
            else {
                break;
            };
            let (a, b) = pieces.swap_remove(place);
            if meets(a, last) {
                line.push_back(b);
            } else if meets(b, last) {
                line.push_back(a);
            } else if meets(a, first) {
                line.push_front(b);
            } else {
                line.push_front(a);
            }
        }
        lines.push(line.into());
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A slope crossed half way, by hand.
    #[test]
    fn a_slope_is_crossed_in_one_straight_line() {
        let values = [0.0, 1.0, 2.0, 0.0, 1.0, 2.0, 0.0, 1.0, 2.0];
        let lines = contour(&Grid { values: &values, columns: 3, rows: 3 }, 1.5);
        assert_eq!(lines.len(), 1);
        assert_eq!(lines[0].len(), 3);
        assert!(lines[0].iter().all(|point| point.0 == 1.5));
    }

    #[test]
    fn a_peak_is_walked_round_and_a_saddle_is_parted() {
        let peak = [0.0, 0.0, 0.0, 0.0, 2.0, 0.0, 0.0, 0.0, 0.0];
        let lines = contour(&Grid { values: &peak, columns: 3, rows: 3 }, 1.0);
        assert_eq!((lines.len(), lines[0].len()), (1, 5));
        assert_eq!(lines[0].first(), lines[0].last());
        let saddle = [1.0, 0.0, 0.0, 1.0];
        assert_eq!(contour(&Grid { values: &saddle, columns: 2, rows: 2 }, 0.4).len(), 2);
        assert!(contour(&Grid { values: &[f64::NAN; 4], columns: 2, rows: 2 }, 0.4).is_empty());
    }
}
