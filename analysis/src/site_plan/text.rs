//! The drawing in letters, for a terminal: a letter is twice as high as it is wide.

use super::layout::{Placed, SitePlan};

/// Letters across, with a margin left in 80.
const WIDTH: usize = 76;
/// Lines above and below the path together at most.
const HEIGHT: usize = 14;
/// Letters a box is wide at the least, so that its number fits.
const LEAST: usize = 4;

/// A field of letters.
struct Field {
    rows: Vec<Vec<char>>,
}

impl Field {
    fn put(&mut self, (x, y): (usize, usize), letter: char) {
        if let Some(place) = self.rows.get_mut(y).and_then(|row| row.get_mut(x)) {
            *place = letter;
        }
    }

    fn words(&mut self, (x, y): (usize, usize), words: &str) {
        words.chars().enumerate().for_each(|(at, letter)| self.put((x + at, y), letter));
    }

    /// A box from its top left corner, so many letters wide and lines high.
    fn frame(&mut self, (x, y): (usize, usize), (width, height): (usize, usize)) {
        let (right, foot) = (x + width - 1, y + height - 1);
        for at in x..=right {
            self.put((at, y), '-');
            self.put((at, foot), '-');
        }
        for at in y..=foot {
            self.put((x, at), '|');
            self.put((right, at), '|');
        }
        for corner in [(x, y), (right, y), (x, foot), (right, foot)] {
            self.put(corner, '+');
        }
    }
}

/// The drawing, ending in a line that gives its scale in the unit of `length`.
#[must_use]
pub fn drawn(plan: &SitePlan, length: impl Fn(f64) -> String) -> String {
    let [above_m, below_m] = plan.reach_m();
    let across = (plan.yard_m + plan.right_m()) / (WIDTH - LEAST) as f64;
    let upright = (above_m + below_m) / (2 * HEIGHT) as f64;
    let letter_m = across.max(upright).max(0.1);
    let lines = |metres: f64| ((metres / letter_m / 2.0).round() as usize).max(3);
    let letters = |metres: f64| (metres / letter_m).round() as usize;
    let path = [above_m, below_m].map(lines)[0];
    let mut field = Field { rows: vec![vec![' '; WIDTH + 2]; path + 1 + lines(below_m)] };
    let yard = (letters(plan.yard_m).max(LEAST + 2), lines(plan.yard_m));
    let end = yard.0 + letters(plan.right_m());
    (yard.0..end.min(WIDTH)).for_each(|x| field.put((x, path), '.'));
    for plot in &plan.plots {
        one(&mut field, plot, (yard.0, path), (&letters, &lines));
    }
    field.frame((0, path.saturating_sub(yard.1 / 2)), yard);
    field.words((1, path), "yard");
    let rows = field.rows.iter().map(|row| format!("  {}", row.iter().collect::<String>().trim_end()));
    let drawn = rows.collect::<Vec<_>>().join("\n");
    let ten_m = (10.0 * letter_m).round().max(1.0);
    let bar = "=".repeat(letters(ten_m).max(1));
    format!(
        "{}\n  {bar} is {}. Gates on the dotted path; areas and distances to scale.\n",
        drawn.trim_end(),
        length(ten_m)
    )
}

/// A plot's box with its number in it, and its gate on the path.
fn one(
    field: &mut Field,
    plot: &Placed,
    (yard, path): (usize, usize),
    (letters, lines): (&impl Fn(f64) -> usize, &impl Fn(f64) -> usize),
) {
    let size = (letters(plot.side_m).max(LEAST), lines(plot.side_m));
    let left = (yard + letters(plot.left_m)).min(WIDTH - size.0.min(WIDTH));
    let top = if plot.above { path.saturating_sub(size.1) } else { path + 1 };
    field.frame((left, top), size);
    field.words((left + 1, top + size.1 / 2), &plot.number.to_string());
    // A number of two figures would cover its neighbour.
    let gate = char::from_digit(plot.number as u32, 10).unwrap_or('o');
    field.put((yard + letters(plot.gate_m), path), gate);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn placed(number: usize, gate_m: f64, side_m: f64, above: bool) -> Placed {
        Placed { number, name: String::new(), gate_m, left_m: gate_m, side_m, above }
    }

    #[test]
    fn a_drawing_fits_the_terminal_and_shows_every_gate() {
        let near = placed(1, 5.0, 8.0, true);
        let far = placed(2, 40.0, 16.0, false);
        let plan = SitePlan { yard_m: 4.0, plots: vec![near, far] };
        let text = drawn(&plan, |m| format!("{m} m"));
        let widest = text.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= 80 && text.lines().count() <= HEIGHT + 6, "{text}");
        let path = text.lines().find(|line| line.contains("yard")).unwrap();
        assert!(path.contains('1') && path.contains('2'), "{text}");
        assert!(text.contains("yard") && text.contains("|1") && text.contains("|2"), "{text}");
    }

    /// A field of a hectare beside a bed: nothing is drawn outside, nothing lost.
    #[test]
    fn any_sizes_are_drawn() {
        for (side, gate) in [(100.0, 500.0), (2.0, 0.0), (1000.0, 1.0)] {
            let plan = SitePlan { yard_m: 2.0, plots: vec![placed(1, 0.0, 2.0, true), placed(2, gate, side, false)] };
            let text = drawn(&plan, |m| format!("{m} m"));
            assert!(text.lines().all(|line| line.chars().count() <= 90), "{text}");
            assert!(text.contains("yard"), "{text}");
        }
    }
}
