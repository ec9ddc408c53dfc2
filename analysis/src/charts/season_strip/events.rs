//! Events and stretches of days on a strip: words and looks.

use super::super::canvas::{Pen, Stroke};
use super::super::theme::{INK, Rgb, SOFT_INK, Shape, series};

/// Half the size of an event's marker, px.
pub(super) const MARK_RADIUS: f64 = 5.5;

/// An event on a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// Crop sown or planted.
    CropIn,
    /// A harvest.
    Harvest,
    /// First harvest the waiting period allows.
    EarliestHarvest,
    /// Crop ends.
    CropOut,
    /// Anything else worth a look.
    Note,
}

impl Mark {
    pub(super) const ALL: [Self; 5] = [Self::CropIn, Self::Harvest, Self::EarliestHarvest, Self::CropOut, Self::Note];

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::CropIn => "crop in",
            Self::Harvest => "harvest",
            Self::EarliestHarvest => "earliest harvest",
            Self::CropOut => "crop out",
            Self::Note => "see diary",
        }
    }

    fn look(self) -> (Shape, Rgb, bool) {
        match self {
            Self::CropIn => (Shape::Up, series(2).colour, true),
            Self::Harvest => (Shape::Circle, series(1).colour, true),
            Self::EarliestHarvest => (Shape::Diamond, series(0).colour, false),
            Self::CropOut => (Shape::Down, series(4).colour, true),
            Self::Note => (Shape::Square, INK, false),
        }
    }

    pub(super) fn draw(self, pen: &mut Pen<'_>, x: f64, y: f64) {
        let (shape, colour, filled) = self.look();
        pen.marker((x, y), shape, MARK_RADIUS, colour, filled);
    }
}

/// A stretch of days.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SpanKind {
    /// New birds kept apart.
    Isolation,
    /// Birds housed by order.
    Housing,
    /// Raw manure to harvest.
    Waiting,
    /// Sprayed, or bait lies out.
    Treated,
}

impl SpanKind {
    pub(super) const ALL: [Self; 4] = [Self::Waiting, Self::Isolation, Self::Housing, Self::Treated];

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Isolation => "isolation",
            Self::Housing => "housed by order",
            Self::Waiting => "waiting period",
            Self::Treated => "sprayed or bait laid",
        }
    }

    pub(super) fn draw(self, pen: &mut Pen<'_>, left: f64, right: f64, y: f64) {
        let (top, size) = ((left, y - 3.0), ((right - left).max(1.5), 6.0));
        match self {
            Self::Housing => pen.rect(top, size, SOFT_INK, 1.0),
            Self::Treated => pen.frame(top, size, Stroke::plain(SOFT_INK, 1.8)),
            Self::Isolation => {
                pen.hatch(top, size, 5.0, Stroke::plain(series(4).colour, 1.4));
                pen.frame(top, size, Stroke::plain(series(4).colour, 0.8));
            }
            Self::Waiting => {
                let line = Stroke::plain(series(3).colour, 1.6);
                pen.line(&[(left, y), (right, y)], Stroke { dash: &[5.0, 3.0], ..line });
                for end in [left, right] {
                    pen.line(&[(end, y - 3.5), (end, y + 3.5)], line);
                }
            }
        }
    }
}
