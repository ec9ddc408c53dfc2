//! What every chart shares: the heading and the key.

use super::canvas::{Pen, Type, text_width, wrapped};
use super::theme::{LINE, MARGIN, SOFT_INK, TEXT, TITLE, WIDTH};

/// Room for a key's sample before its words, px.
pub const SAMPLE: f64 = 30.0;
const SAMPLE_GAP: f64 = 7.0;
const ITEM_GAP: f64 = 20.0;
const TITLE_LINE: f64 = 25.0;

/// The title, wrapped, and one line of lesser text below it.
pub struct Heading {
    title: Vec<String>,
    note: Vec<String>,
}

impl Heading {
    /// Wraps a title and a note (may be empty) to the width of the chart.
    #[must_use]
    pub fn new(title: &str, note: &str) -> Self {
        let width = WIDTH - 2.0 * MARGIN;
        Self { title: wrapped(title, width, TITLE, true), note: wrapped(note, width, TEXT, false) }
    }

    /// Height taken, with the space below.
    #[must_use]
    pub fn height(&self) -> f64 {
        MARGIN + self.title.len() as f64 * TITLE_LINE + self.note.len() as f64 * LINE + 8.0
    }

    /// Draws it at the top.
    pub fn draw(&self, pen: &mut Pen<'_>) {
        let mut y = MARGIN + TITLE_LINE / 2.0;
        for line in &self.title {
            pen.text((MARGIN, y), line, Type { size: TITLE, bold: true, ..Type::default() });
            y += TITLE_LINE;
        }
        for line in &self.note {
            pen.text((MARGIN, y - 2.0), line, Type { colour: SOFT_INK, ..Type::default() });
            y += LINE;
        }
    }
}

/// Draws the sample of a key item in a box [`SAMPLE`] px wide, centred on the height given.
pub type KeySample<'a> = Box<dyn Fn(&mut Pen<'_>, f64, f64) + 'a>;

/// A key whose items flow into lines.
#[derive(Default)]
pub struct Key<'a> {
    items: Vec<(String, f64, KeySample<'a>)>,
}

impl<'a> Key<'a> {
    /// Adds an item with a sample of the usual width.
    pub fn add(&mut self, words: &str, sample: impl Fn(&mut Pen<'_>, f64, f64) + 'a) {
        self.add_wide(words, SAMPLE, sample);
    }

    /// Adds an item with a sample `width` px wide.
    pub fn add_wide(&mut self, words: &str, width: f64, sample: impl Fn(&mut Pen<'_>, f64, f64) + 'a) {
        self.items.push((words.to_owned(), width, Box::new(sample)));
    }

    /// Left edge, first line and words, line by line, of each item; words too wide for the page hang below each other.
    fn places(&self) -> Vec<(f64, usize, Vec<String>)> {
        let (mut x, mut line) = (MARGIN, 0);
        let place = |(words, sample, _): &(String, f64, KeySample<'a>)| {
            let beside = sample + SAMPLE_GAP;
            let width = beside + text_width(words, TEXT, false);
            if x > MARGIN && x + width > WIDTH - MARGIN {
                (x, line) = (MARGIN, line + 1);
            }
            let hung = wrapped(words, WIDTH - MARGIN - x - beside, TEXT, false);
            let at = (x, line, hung);
            line += at.2.len() - 1;
            x += width + ITEM_GAP;
            at
        };
        self.items.iter().map(place).collect()
    }

    /// Height taken, with the space below.
    #[must_use]
    pub fn height(&self) -> f64 {
        let lines = |(_, line, words): &(f64, usize, Vec<String>)| line + words.len();
        self.places().last().map_or(MARGIN, |last| lines(last) as f64 * (LINE + 3.0) + MARGIN)
    }

    /// Draws it from the height `top` on.
    pub fn draw(&self, pen: &mut Pen<'_>, top: f64) {
        for ((_, width, sample), (x, line, words)) in self.items.iter().zip(self.places()) {
            let y = |below: usize| top + ((line + below) as f64 + 0.5) * (LINE + 3.0);
            sample(pen, x, y(0));
            for (below, words) in words.iter().enumerate() {
                pen.text((x + width + SAMPLE_GAP, y(below)), words, Type::default());
            }
        }
    }
}
