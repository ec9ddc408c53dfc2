//! Events and stretches of days on a strip: words and looks.

use super::super::canvas::{Pen, Stroke};
use super::super::theme::{CROP_GROUND, EDGE, INK, PAPER, Rgb, SOFT_INK, Shape, series};

/// Half the size of an event's marker, px.
pub(super) const MARK_RADIUS: f64 = 5.0;

/// An event on a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// Crop sown or planted.
    CropIn,
    /// A harvest.
    Harvest,
    /// Crop ends.
    CropOut,
    /// The heap is spread.
    HeapSpread,
}

impl Mark {
    pub(super) const ALL: [Self; 4] = [Self::CropIn, Self::Harvest, Self::CropOut, Self::HeapSpread];

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::CropIn => "crop in",
            Self::Harvest => "picking begins",
            Self::CropOut => "crop out",
            Self::HeapSpread => "heap spread",
        }
    }

    fn look(self) -> (Shape, Rgb, bool) {
        match self {
            Self::CropIn => (Shape::Up, series(2).colour, true),
            Self::Harvest => (Shape::Circle, series(1).colour, true),
            Self::CropOut => (Shape::Down, series(4).colour, true),
            Self::HeapSpread => (Shape::Square, INK, false),
        }
    }

    /// On a paper-coloured ground of its own: it may stand on an open gate's bar.
    pub(super) fn draw(self, pen: &mut Pen<'_>, x: f64, y: f64) {
        let (shape, colour, filled) = self.look();
        pen.marker((x, y), Shape::Circle, MARK_RADIUS + 2.0, PAPER, true);
        pen.marker((x, y), shape, MARK_RADIUS, colour, filled);
    }
}

/// A stretch of days.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SpanKind {
    /// A crop stands unguarded.
    Crop,
    /// Raw manure to harvest.
    Waiting,
    /// New birds kept apart.
    Isolation,
    /// Birds housed by order.
    Housing,
    /// Sprayed, or bait lies out.
    Treated,
    /// Part of the plot stands under guards that birds cannot pass.
    Guarded,
    /// Part of it stands under a fine net.
    Netted,
}

impl SpanKind {
    pub(super) const ALL: [Self; 7] =
        [Self::Crop, Self::Waiting, Self::Isolation, Self::Housing, Self::Treated, Self::Guarded, Self::Netted];

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Crop => "a crop stands",
            Self::Waiting => "waiting before picking",
            Self::Isolation => "new birds kept apart",
            Self::Housing => "housed by order",
            Self::Treated => "sprayed or bait laid",
            Self::Guarded => "part under guards",
            Self::Netted => "part under nets",
        }
    }

    /// Whether it is drawn below the gate's bar, since the gate may be open all the same.
    pub(super) fn below(self) -> bool {
        matches!(self, Self::Guarded | Self::Netted)
    }

    /// Draws it over a box.
    pub(super) fn draw(self, pen: &mut Pen<'_>, at: (f64, f64), size: (f64, f64)) {
        let size = (size.0.max(1.5), size.1);
        let isolation = series(4).colour;
        match self {
            Self::Crop => pen.rect(at, size, CROP_GROUND, 1.0),
            Self::Waiting => pen.hatch(at, size, 6.0, Stroke::plain(series(3).colour, 1.2)),
            Self::Isolation => {
                pen.rect(at, size, isolation, 0.35);
                pen.frame(at, size, Stroke::plain(isolation, 1.6));
            }
            Self::Housing => pen.rect(at, size, EDGE, 0.75),
            Self::Treated => {
                pen.hatch(at, size, 3.0, Stroke::plain(SOFT_INK, 1.0));
                pen.frame(at, size, Stroke::plain(SOFT_INK, 1.0));
            }
            Self::Guarded | Self::Netted => {
                let y = at.1 + size.1 / 2.0;
                let dash: &[f64] = if self == Self::Guarded { &[] } else { &[3.0, 3.0] };
                pen.line(&[(at.0, y), (at.0 + size.0, y)], Stroke { dash, ..Stroke::plain(series(1).colour, 2.4) });
            }
        }
    }
}
