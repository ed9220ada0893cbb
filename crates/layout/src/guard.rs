//! The guard: the bent mesh behind the plate that keeps the hand off what moves.

use crate::geometry::{Point, Vector};
use crate::hand::{GuardAxis, Hand};
use crate::problem::Problem;

/// A bow below this, mm, is none: a micrometre changes nothing, and the arc's radius would lose
/// all its digits.
const FLAT: f64 = 1e-6;

/// How far beyond the guard's half-angle, radians, a direction still counts as within: an end of
/// a range that lies on it must not fall out by rounding.
const ON_EDGE: f64 = 1e-9;

/// The guard in the plate's frame (DESIGN 8): a cylindrical arc about an axis along y or x, centred on
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

    /// The least gap of the zone of a sphere that a point `reach` from a ball's `centre` sweeps: all
    /// places whose direction from there lies between the two angles of `range` from straight back,
    /// radians, to any side, and which are deeper than `behind` (the plate's back face). All mm.
    /// None if it stays in front of that depth.
    ///
    /// In the section across the axis the zone fills what lies between two arcs and two level
    /// chords. The gap is least at the ends of those, where an arc is farthest from M, where one is
    /// nearest to an edge, or where one passes a ray from M through an edge.
    pub fn gap_of_zone(
        &self,
        centre: [f64; 3],
        reach: f64,
        range: [f64; 2],
        behind: f64,
    ) -> Option<GuardGap> {
        if reach <= behind {
            return None;
        }
        let lowest = (behind / reach).clamp(-1.0, 1.0).acos();
        let (low, high) = (range[0].max(0.0), range[1].min(lowest));
        if low > high {
            return None;
        }
        let (middle, along) = self.section(centre);
        let gap = |place: Point| self.gap(self.in_frame(place, along));
        let on_arc = |angle: f64| middle + Vector::new(angle.sin(), -angle.cos()) * reach;
        let angle_to = |place: Point| (place.x - middle.x).atan2(middle.y - place.y);
        let arc_centre = self.arc_centre();
        let farthest = arc_centre.map(|m| middle + (middle - m));
        let (edges, rays) = (self.edges(), self.rays());
        let passes = rays
            .iter()
            .flat_map(|ray| ray.through_circle(middle, reach));
        let turns = farthest.into_iter().chain(edges).chain(passes);
        let arcs = turns
            .map(angle_to)
            .filter(|angle| (low..=high).contains(&angle.abs()))
            .chain([low, high, -low, -high])
            .map(on_arc);
        let chords = [low, high].into_iter().flat_map(|end| {
            let (half, z) = (reach * end.sin(), middle.y - reach * end.cos());
            // Not clamped: that panics where a size is no number.
            let held = |x: f64| middle.x + (x - middle.x).max(-half).min(half);
            let passes = rays.iter().filter_map(move |ray| ray.at_height(z));
            let within = move |x: &f64| (x - middle.x).abs() <= half;
            let nearest = edges.map(|edge| held(edge.x));
            let across = nearest.into_iter().chain(passes.filter(within));
            across.map(move |x| Point::new(x, z))
        });
        arcs.chain(chords).map(gap).reduce(GuardGap::or_nearer)
    }

    /// A point in the section across the axis, as (across, z), and its place along the axis.
    fn section(&self, [x, y, z]: [f64; 3]) -> (Point, f64) {
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

    /// The arc's centre M in the section; None of a flat guard.
    fn arc_centre(&self) -> Option<Point> {
        let radius = self.radius()?;
        Some(Point::new(0.0, self.deepest() + radius))
    }

    fn rays(&self) -> [Ray; 2] {
        let arc_centre = self.arc_centre();
        self.edges().map(|edge| Ray {
            edge,
            along: arc_centre.map_or(-Vector::y(), |m| edge - m),
        })
    }

    fn gap_in_section(&self, point: Point) -> (f64, Point) {
        let over = match self.arc_centre().zip(self.radius()) {
            Some((centre, radius)) => {
                let out = point - centre;
                let within = out.x.atan2(-out.y).abs() <= self.half_angle() + ON_EDGE;
                within.then(|| {
                    let direction = out.try_normalize(0.0).unwrap_or(-Vector::y());
                    (radius - out.norm(), centre + direction * radius)
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

/// A ray from the arc's centre through an edge of the guard, in the section.
struct Ray {
    edge: Point,
    along: Vector,
}

impl Ray {
    /// Where its line meets a circle.
    fn through_circle(&self, centre: Point, radius: f64) -> Vec<Point> {
        let from = self.edge - centre;
        let (a, b) = (self.along.norm_squared(), from.dot(&self.along));
        let root = b * b - a * (from.norm_squared() - radius * radius);
        if a <= 0.0 || root < 0.0 {
            return Vec::new();
        }
        [-root.sqrt(), root.sqrt()]
            .map(|root| self.edge + self.along * ((root - b) / a))
            .into()
    }

    /// Where its line passes a height; None if it is level.
    fn at_height(&self, z: f64) -> Option<f64> {
        let x = self.edge.x + self.along.x * (z - self.edge.y) / self.along.y;
        x.is_finite().then_some(x)
    }
}
