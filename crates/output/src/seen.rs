//! The side from which a drawing shows the plate.

use std::f64::consts::PI;

use layout::geometry::Point;
use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Line, Segment};

/// The side from which a drawing shows the plate. Left and right in names and figures are the
/// audience's all the same.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Seen {
    /// As the audience sees it: x runs to the right.
    #[default]
    Front,
    /// As the maker sees it from behind: mirrored, x runs to the left. Texts are never mirrored.
    Back,
}

impl Seen {
    /// What a drawing from this side is called.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Front => "top view",
            Self::Back => "seen from the back",
        }
    }

    /// Where a drawing shows a place of the plate's frame, mm; a second time it gives the place back.
    pub fn point(self, at: Point) -> Point {
        match self {
            Self::Front => at,
            Self::Back => Point::new(-at.x, at.y),
        }
    }

    /// The direction in which a drawing shows one of the plate's frame, radians.
    pub fn angle(self, angle: f64) -> f64 {
        match self {
            Self::Front => angle,
            Self::Back => PI - angle,
        }
    }

    /// The shape that a drawing shows for an outline, counter-clockwise like every outline.
    pub fn outline(self, outline: &Outline) -> Outline {
        match self {
            Self::Front => outline.clone(),
            // Mirrored, a curve runs the other way round: its pieces are taken from the last.
            Self::Back => Outline {
                segments: outline.segments.iter().rev().map(mirrored).collect(),
            },
        }
    }
}

/// The mirror image of a piece, run through from its end.
fn mirrored(segment: &Segment) -> Segment {
    match segment {
        Segment::Line(line) => Segment::Line(Line {
            start: Seen::Back.point(line.end),
            end: Seen::Back.point(line.start),
        }),
        Segment::Arc(arc) => Segment::Arc(Arc {
            centre: Seen::Back.point(arc.centre),
            start_angle: Seen::Back.angle(arc.start_angle + arc.sweep),
            ..*arc
        }),
    }
}
