//! The guard: the mesh behind the plate that keeps the hand off what moves, bent toward the hand (common
//! practice, no source).

use crate::beside_hand::BesideHand;
use crate::geometry::outline::Outline;
use crate::geometry::space::{self, Bend, Near, Piece, Place, Way};
use crate::geometry::{Point, Vector};
use crate::hand::{GuardAxis, Hand};
use crate::problem::Problem;

/// A bow below this, mm, is none: a micrometre changes nothing, and the arc's radius would lose
/// all its digits.
const FLAT: f64 = 1e-6;

/// How far beside an edge, mm, a direction may pass and still count as within the arc: an end of a range that lies
/// on it must not fall out by rounding.
const ON_EDGE: f64 = 1e-9;

/// How much nearer to the guard a place may lie that is passed over, mm: half of what its clearance is promised to.
pub(crate) const PASSED_OVER: f64 = 5e-4;

/// The guard in the plate's frame: a cylindrical arc about an axis along y or x, centred on
/// the plate's origin, bent away from the plate. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guard {
    /// Direction of its axis.
    pub axis: GuardAxis,
    /// Half of its chord.
    pub half_chord: f64,
    /// Its bow.
    pub bow: f64,
    /// z of its edges.
    pub edge: f64,
    /// Length along its axis.
    pub length: f64,
}

/// The gap from a point to the guard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GuardGap {
    /// Distance, mm; negative for a point that has passed through.
    pub distance: f64,
    /// The point, in the plate's frame.
    pub from: [f64; 3],
    /// The nearest place of the guard.
    pub to: [f64; 3],
}

/// What a point sweeps that turns with an eye: all places at a distance from the ball's centre whose
/// directions from there lie in a range of angles from straight back, to any side, and that lie
/// behind the plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swept {
    /// The ball's centre, in the plate's frame, mm.
    pub centre: [f64; 3],
    /// Distance of the point from there, mm.
    pub reach: f64,
    /// The two ends of the range, radians.
    pub range: [f64; 2],
    /// Depth of the plate's back face below the centre, mm.
    pub behind: f64,
}

impl Swept {
    /// The angles that lie behind the plate, from 0; None if none does.
    fn range_behind(&self) -> Option<[f64; 2]> {
        if self.reach <= self.behind {
            return None;
        }
        let lowest = (self.behind / self.reach).clamp(-1.0, 1.0).acos();
        let (low, high) = (self.range[0].max(0.0), self.range[1].min(lowest));
        (low <= high).then_some([low, high])
    }
}

impl Guard {
    /// The guard behind a plate of `thickness`, mm.
    ///
    /// # Errors
    /// A [`Problem`] if its bow is larger than that of a half-circle over its chord.
    pub fn of(hand: &Hand, thickness: f64) -> Result<Self, Problem> {
        if hand.guard_bow > hand.guard_chord / 2.0 {
            return Err(Problem::new(
                "hand.guard_bow",
                "The guard is bent farther than a half-circle.",
                "Use a bow of at most half of the chord.",
            ));
        }
        Ok(Self {
            axis: hand.guard_axis,
            half_chord: hand.guard_chord / 2.0,
            bow: hand.guard_bow,
            edge: -thickness - hand.guard_edge,
            length: hand.guard_length,
        })
    }

    /// Radius of its arc: (w²/4 + h²)/(2h) for a chord w and a bow h, mm. None of a flat one.
    pub fn radius(&self) -> Option<f64> {
        let (half, bow) = (self.half_chord, self.bow);
        (bow >= FLAT).then(|| (half * half + bow * bow) / (2.0 * bow))
    }

    /// Half of the angle of its arc: 2·atan(2h/w), radians; 0 of a flat one.
    pub fn half_angle(&self) -> f64 {
        2.0 * (self.bow / self.half_chord).atan()
    }

    /// Size of the flat mesh across its axis: 4·R·atan(2h/w), or its chord if it has no bow, mm.
    pub fn flat_length(&self) -> f64 {
        self.radius().map_or(2.0 * self.half_chord, |radius| {
            2.0 * radius * self.half_angle()
        })
    }

    /// Its rectangle seen from the front: chord by length, about the plate's origin.
    pub fn plan(&self) -> Outline {
        let (across, along) = (self.half_chord, self.length / 2.0);
        let (x, y) = match self.axis {
            GuardAxis::Y => (across, along),
            GuardAxis::X => (along, across),
        };
        let corners = [[x, y], [-x, y], [-x, -y], [x, -y]];
        Outline::polygon(&corners.map(Point::from))
    }

    /// How far it reaches along x from the head's middle, mm.
    pub(crate) fn half_along_x(&self) -> f64 {
        match self.axis {
            GuardAxis::Y => self.half_chord,
            GuardAxis::X => self.length / 2.0,
        }
    }

    /// How much its chord and its length lack for its rectangle to hold a disc seen from the front, mm; 0 where
    /// they lack nothing. It stays about the plate's origin, so that it grows to both sides.
    pub fn missing(&self, centre: Point, radius: f64) -> [f64; 2] {
        let (across, along) = match self.axis {
            GuardAxis::Y => (centre.x, centre.y),
            GuardAxis::X => (centre.y, centre.x),
        };
        let lacks = |off: f64, half: f64| 2.0 * (off.abs() + radius - half).max(0.0);
        [
            lacks(across, self.half_chord),
            lacks(along, self.length / 2.0),
        ]
    }

    /// z of its middle, where it stands farthest behind the plate, mm.
    pub fn deepest(&self) -> f64 {
        self.edge - self.bow
    }

    /// z of the guard `across` from its axis, mm; that of its edges beyond them.
    pub fn depth_at(&self, across: f64) -> f64 {
        let across = across.abs().min(self.half_chord);
        self.radius().map_or(self.edge, |radius| {
            self.deepest() + radius - (radius * radius - across * across).max(0.0).sqrt()
        })
    }

    /// The gap from a point of the plate's frame, mm: R − |P − M| where the point's direction from
    /// the arc's centre M lies within its half-angle, else the distance to the nearer edge.
    pub fn gap(&self, point: [f64; 3]) -> GuardGap {
        let (section, along) = self.section(point);
        let (distance, to) = self.gap_in_section(section);
        GuardGap {
            distance,
            from: point,
            to: self.in_frame(to, along),
        }
    }

    /// The least gap of what a `swept` point passes in the section through the ball's centre: an arc
    /// to either side. None if it stays in front of the plate's back face.
    ///
    /// Along an arc the gap is least at its ends, where it is farthest from M, where it is nearest to
    /// an edge, or where it passes a ray from M through an edge.
    pub fn gap_of_arcs(&self, swept: &Swept) -> Option<GuardGap> {
        let [low, high] = swept.range_behind()?;
        let (middle, along) = self.section(swept.centre);
        let on_arc = |angle: f64| middle + Vector::new(angle.sin(), -angle.cos()) * swept.reach;
        let angle_to = |place: Point| (place.x - middle.x).atan2(middle.y - place.y);
        let arc_centre = self.arc_centre();
        let farthest = arc_centre.map(|m| middle + (middle - m));
        let passes = self.edges().into_iter().flat_map(|edge| {
            let ray = arc_centre.map_or(-Vector::y(), |m| edge - m);
            line_meets_circle(edge, ray, middle, swept.reach)
        });
        let turns = farthest.into_iter().chain(self.edges()).chain(passes);
        turns
            .map(angle_to)
            .filter(|angle| (low..=high).contains(&angle.abs()))
            .chain([low, high, -low, -high])
            .map(|angle| self.gap(self.in_frame(on_arc(angle), along)))
            .reduce(GuardGap::or_nearer)
    }

    /// The least gap from what a `swept` point passes to either edge of the guard; negative if the edge
    /// stands in it, by the least shift that frees it. None if it stays in front of the plate's back
    /// face.
    ///
    /// Turned to every side, the point fills, seen along the axis, the part of a disc between two
    /// depths: an edge can stand in that between the two arcs of [`Guard::gap_of_arcs`].
    pub fn gap_to_edges(&self, swept: &Swept) -> Option<GuardGap> {
        let [low, high] = swept.range_behind()?;
        let (middle, along) = self.section(swept.centre);
        let reach = swept.reach;
        let depths = [reach * high.cos(), reach * low.cos()];
        let gap = |edge: Point| {
            let (out, deep) = (edge.x - middle.x, middle.y - edge.y);
            let between = |deep: f64| depths[0] <= deep && deep <= depths[1];
            let faces = depths.into_iter().flat_map(|depth| {
                let half = (reach * reach - depth * depth).max(0.0).sqrt();
                [out.max(-half).min(half), half, -half].map(|out| (out, depth))
            });
            let distance = out.hypot(deep);
            let round = [(out * reach / distance, deep * reach / distance)];
            let round = round.into_iter().filter(|place| between(place.1));
            let nearest = faces.chain(round).map(|(out, deep)| {
                let place = Point::new(middle.x + out, middle.y - deep);
                ((edge - place).norm(), place)
            });
            let (apart, place) = nearest.min_by(|a, b| a.0.total_cmp(&b.0))?;
            let inside = between(deep) && distance <= reach;
            Some(GuardGap {
                distance: if inside { -apart } else { apart },
                from: self.in_frame(place, along),
                to: self.in_frame(edge, along),
            })
        };
        let gaps = self.edges().into_iter().filter_map(gap);
        gaps.reduce(GuardGap::or_nearer)
    }

    /// How far a curve comes where the hand is, a negative distance; None where it does not.
    pub(crate) fn behind(&self, pieces: &[Piece]) -> Option<Near> {
        let range = f64::NEG_INFINITY..0.0;
        space::least_within(pieces, range, PASSED_OVER, &BesideHand(self))
    }

    /// How near a curve comes to the mesh.
    pub(crate) fn mesh_near(&self, pieces: &[Piece]) -> Option<Near> {
        let off = |at: Place, _: f64| self.distance(at.into());
        space::least_within(pieces, 0.0..f64::INFINITY, PASSED_OVER, &off)
    }

    /// Distance from a point to the mesh, whose ends along the axis count, too, mm.
    pub fn distance(&self, point: [f64; 3]) -> f64 {
        let (section, along) = self.section(point);
        let beyond = along.abs() - self.length / 2.0;
        let gap = self.gap_in_section(section).0.abs();
        if beyond > 0.0 { gap.hypot(beyond) } else { gap }
    }

    /// The rim of the mesh: its two edges, and its two ends from edge to edge.
    pub(crate) fn rim(&self) -> [Piece; 4] {
        let half = self.length / 2.0;
        let [one, other] = self.edges();
        let edge = |at: Point| {
            Piece::straight(
                self.in_frame(at, -half).into(),
                self.in_frame(at, half).into(),
            )
        };
        let end = |along: f64| {
            let place = |at: Point| Place::from(self.in_frame(at, along));
            let Some((centre, radius)) = self.arc_centre().zip(self.radius()) else {
                return Piece::straight(place(one), place(other));
            };
            let (sin, cos) = self.half_angle().sin_cos();
            let way = |section: Vector| Way::from(self.in_frame(section.into(), 0.0));
            Piece::Bend(Bend {
                centre: place(centre),
                radius,
                out: way(Vector::new(-sin, -cos)),
                heading: way(Vector::new(cos, -sin)),
                sweep: 2.0 * self.half_angle(),
            })
        };
        [edge(one), edge(other), end(-half), end(half)]
    }

    /// A point in the section across the axis, as (across, z), and its place along the axis.
    pub(crate) fn section(&self, [x, y, z]: [f64; 3]) -> (Point, f64) {
        match self.axis {
            GuardAxis::Y => (Point::new(x, z), y),
            GuardAxis::X => (Point::new(y, z), x),
        }
    }

    fn in_frame(&self, section: Point, along: f64) -> [f64; 3] {
        match self.axis {
            GuardAxis::Y => [section.x, along, section.y],
            GuardAxis::X => [along, section.x, section.y],
        }
    }

    /// Both edges in the section.
    fn edges(&self) -> [Point; 2] {
        [-self.half_chord, self.half_chord].map(|across| Point::new(across, self.edge))
    }

    /// How far a point of the section lies before the round, R − |P − M|, mm; None of a flat guard. With the point's
    /// height u over the deepest place and x across it is (2·R·u − x² − u²)/(R + |P − M|), which keeps its digits where
    /// the guard is all but flat and M far away.
    pub(crate) fn before_round(&self, point: Point) -> Option<f64> {
        let radius = self.radius()?;
        let up = point.y - self.deepest();
        let from_centre = Vector::new(point.x, radius - up).norm();
        Some(((2.0 * radius - up) * up - point.x * point.x) / (radius + from_centre))
    }

    /// The arc's centre M in the section; None of a flat guard.
    pub(crate) fn arc_centre(&self) -> Option<Point> {
        let radius = self.radius()?;
        Some(Point::new(0.0, self.deepest() + radius))
    }

    fn gap_in_section(&self, point: Point) -> (f64, Point) {
        let round = self.arc_centre().zip(self.radius());
        let over = match round.zip(self.before_round(point)) {
            Some(((centre, radius), before)) => {
                let out = point - centre;
                // Seen from the arc's centre, an edge lies as far aside and behind as this:
                let (aside, behind) = (self.half_chord, radius - self.bow);
                let before_edge = aside * -out.y - behind * out.x.abs();
                (before_edge >= -ON_EDGE * out.norm()).then(|| {
                    let direction = out.try_normalize(0.0).unwrap_or(-Vector::y());
                    (before, centre + direction * radius)
                })
            }
            None => (point.x.abs() <= self.half_chord + ON_EDGE)
                .then(|| (point.y - self.edge, Point::new(point.x, self.edge))),
        };
        over.unwrap_or_else(|| {
            let [one, other] = self.edges().map(|edge| ((point - edge).norm(), edge));
            if one.0 <= other.0 { one } else { other }
        })
    }
}

impl GuardGap {
    /// The smaller of two gaps; the first where they are equal.
    #[must_use]
    pub fn or_nearer(self, other: Self) -> Self {
        if other.distance < self.distance {
            other
        } else {
            self
        }
    }
}

/// Where the line through `start` along `along` meets a circle.
fn line_meets_circle(start: Point, along: Vector, centre: Point, radius: f64) -> Vec<Point> {
    let from = start - centre;
    let (a, b) = (along.norm_squared(), from.dot(&along));
    let root = b * b - a * (from.norm_squared() - radius * radius);
    if a <= 0.0 || root < 0.0 {
        return Vec::new();
    }
    [-root.sqrt(), root.sqrt()]
        .map(|root| start + along * ((root - b) / a))
        .into()
}
