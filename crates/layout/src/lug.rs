//! Lugs: the two brackets of an eye that stand on the plate and carry the lids' pivots.

use std::f64::consts::PI;

use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::geometry::polygon;
use crate::geometry::segment::{Arc, Line, Segment};
use crate::geometry::space::Place;
use crate::geometry::{Gap, Point};
use crate::lid::Lids;
use crate::seat::SeatFit;

/// How far the plate reaches beyond a lug's foot on every side, mm: with less there is no room for
/// the fillet of glue that holds it. Own choice.
pub const FOOT_MARGIN: f64 = 2.0;

/// Lugs of two eyes whose pivots lie nearer to each other than this, mm, are one: nobody drills
/// two holes so near. Own choice.
pub const SHARED: f64 = 0.05;

/// One lug, in the plate's frame, mm: a bar from the plate's front face up to the pivot, with a
/// half-circle about the pivot on top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lug {
    /// Middle of its foot; the pivot lies straight above.
    pub centre: Point,
    /// Thickness along x.
    pub thickness: f64,
    /// Width along y.
    pub width: f64,
    /// Height of the pivot above the front face.
    pub pivot_height: f64,
    /// Diameter of the pivot hole.
    pub hole: f64,
    /// The side of the eye that it stands on: 1 toward +x, −1 toward −x.
    pub side: f64,
}

impl Lug {
    /// The left and the right lug of an eye at `centre`; both lie on the pivot axis.
    pub(crate) fn pair(centre: Point, lids: &Lids, seat: &SeatFit) -> [Self; 2] {
        [-1.0, 1.0].map(|side| Self {
            centre: Point::new(centre.x + side * lids.pivot_spacing / 2.0, centre.y),
            thickness: lids.lug_thickness,
            width: lids.lug_width,
            pivot_height: seat.centre_height,
            hole: lids.pivot_hole,
            side,
        })
    }

    /// x of the face toward the eye.
    pub fn inner_face(&self) -> f64 {
        self.centre.x - self.side * self.thickness / 2.0
    }

    /// x of the face away from the eye.
    pub fn outer_face(&self) -> f64 {
        self.centre.x + self.side * self.thickness / 2.0
    }

    /// What is left round the pivot hole to the lug's edge, mm.
    pub fn hole_to_edge(&self) -> f64 {
        (self.width - self.hole) / 2.0
    }

    /// What is left between the pivot hole and the plate's front face, mm.
    pub fn hole_to_plate(&self) -> f64 {
        self.pivot_height - self.hole / 2.0
    }

    /// Corners of its foot, counter-clockwise.
    pub fn foot(&self) -> [Point; 4] {
        let (x, y) = (self.thickness / 2.0, self.width / 2.0);
        [(x, y), (-x, y), (-x, -y), (x, -y)]
            .map(|(x, y)| Point::new(self.centre.x + x, self.centre.y + y))
    }

    /// Distance of a place from it, mm; 0 inside.
    pub(crate) fn distance(&self, place: Place) -> f64 {
        let along = ((place.x - self.centre.x).abs() - self.thickness / 2.0).max(0.0);
        let (half, y) = (self.width / 2.0, (place.y - self.centre.y).abs());
        let above = place.z - self.pivot_height;
        let across = if above > 0.0 {
            (y.hypot(above) - half).max(0.0)
        } else {
            (y - half).max(0.0).hypot((-place.z).max(0.0))
        };
        along.hypot(across)
    }

    /// Its foot in plan, which is also its whole top view.
    pub fn plan(&self) -> Outline {
        Outline::polygon(&self.foot())
    }

    /// Its shape seen along the pivot axis from −x: (y, z) of the plate's frame, counter-clockwise
    /// with y to the right and z up. Extruded along x by the thickness it is the lug's solid, and
    /// the pivot hole is a circle about (centre.y, `pivot_height`).
    pub fn profile(&self) -> Outline {
        let (y, half, top) = (self.centre.y, self.width / 2.0, self.pivot_height);
        let at = |y, z| Point::new(y, z);
        let line = |start, end| Segment::Line(Line { start, end });
        let round = Segment::Arc(Arc {
            centre: at(y, top),
            radius: half,
            start_angle: 0.0,
            sweep: PI,
        });
        let bar = [
            line(at(y - half, 0.0), at(y + half, 0.0)),
            line(at(y + half, 0.0), at(y + half, top)),
            round,
            line(at(y - half, top), at(y - half, 0.0)),
        ];
        // On a ball whose centre lies in the front face, the half-circle stands on the plate.
        let has_length = |piece: &Segment| (piece.end() - piece.start()).norm() > 0.0;
        Outline {
            segments: bar.into_iter().filter(has_length).collect(),
        }
    }

    /// Whether two lugs are one and the same, which two eyes share.
    pub fn is(&self, other: &Self) -> bool {
        let same = |a: f64, b: f64| (a - b).abs() <= SHARED;
        (self.centre - other.centre).norm() <= SHARED
            && same(self.pivot_height, other.pivot_height)
            && same(self.thickness, other.thickness)
            && same(self.width, other.width)
            && same(self.hole, other.hole)
    }

    /// The discs whose hull is the plate's pad under the lug.
    pub(crate) fn pad(&self) -> [Disc; 4] {
        self.foot().map(|centre| Disc {
            centre,
            radius: FOOT_MARGIN,
        })
    }
}

/// How the lugs of two eyes stand to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Between {
    /// The lugs that face each other are one.
    Shared(Point),
    /// The least gap in plan; negative by the least shift that puts them apart and in order.
    Apart(Gap),
}

impl Between {
    /// Looks at the lugs of two eyes, each left and right. None if a place is no number.
    pub(crate) fn of(a: &[Lug; 2], b: &[Lug; 2]) -> Option<Self> {
        let a_is_left = a[0].centre.x <= b[0].centre.x;
        let [left, right] = if a_is_left { [a, b] } else { [b, a] };
        let facing = (&left[1], &right[0]);
        if facing.0.is(facing.1) {
            return Some(Self::Shared(facing.0.centre));
        }
        let crossed = out_of_order(facing.0, facing.1);
        let pairs = left
            .iter()
            .flat_map(|one| right.iter().map(move |other| (one, other)));
        let gaps = pairs.filter_map(|(one, other)| polygon::gap(&one.foot(), &other.foot()));
        let gap = gaps.chain(crossed).reduce(Gap::or_nearer)?;
        Some(Self::Apart(if a_is_left { gap } else { gap.reversed() }))
    }
}

/// The overlap of the lugs that face each other, by the least shift that puts the left one left of
/// the right one, or one above the other: lugs that have passed through each other stand in each
/// other's eyes. None if they are apart.
fn out_of_order(left: &Lug, right: &Lug) -> Option<Gap> {
    let across = right.outer_face() - left.outer_face();
    let rise = right.centre.y - left.centre.y;
    let along = rise.abs() - (left.width + right.width) / 2.0;
    if across >= 0.0 || along >= 0.0 {
        return None;
    }
    let middle = nalgebra::center(&left.centre, &right.centre);
    let [from, to] = if across >= along {
        [left.outer_face(), right.outer_face()].map(|x| Point::new(x, middle.y))
    } else {
        let up = 1.0_f64.copysign(rise);
        let edges = [
            left.centre.y + up * left.width / 2.0,
            right.centre.y - up * right.width / 2.0,
        ];
        edges.map(|y| Point::new(middle.x, y))
    };
    let distance = across.max(along);
    Some(Gap { distance, from, to })
}
