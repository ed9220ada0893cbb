//! Slots that cable ties pass through.

use nalgebra::{Rotation2, Vector2};
use serde::{Deserialize, Serialize};

use crate::angle::Degrees;
use crate::geometry::bounded::Bounded;
use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::geometry::{Gap, Point, polygon};
use crate::laid::LaidEye;
use crate::lug::Lug;
use crate::problem::{self, Problem};

/// How much longer and wider a slot is than its tie, mm: with less, a tie that was cut askew does
/// not pass. Own choice; it gives the usual slots of 3 × 1.5 mm and more for a 2.5 mm tie.
pub const CLEARANCE: f64 = 0.7;

/// Width and thickness of the smallest usual tie, mm: as catalogues of the 80 N class have it.
pub const USUAL: [f64; 2] = [2.5, 1.0];

/// A strap cannot bend sharper than this many times its own thickness, so its loop stands that
/// high behind the plate. Own choice.
pub const STRAP_BEND: f64 = 2.0;

/// One slot in the plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TieSlot {
    /// Its centre, (x, y) in the plate's frame, mm.
    pub at: [f64; 2],
    /// Direction of its long side, counter-clockwise from +x.
    pub angle: Degrees,
    /// Width and thickness of the tie, mm.
    pub tie: [f64; 2],
    /// Index of the anchor hole that the tie runs to.
    pub anchor: Option<usize>,
    /// Whether it stays as it is when slots are proposed; not, if a file does not say.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub locked: bool,
}

impl TieSlot {
    /// Length and width of the slot, mm.
    pub fn size(&self) -> [f64; 2] {
        self.tie.map(|side| side + CLEARANCE)
    }

    /// Radius of the slot's corners, mm: the clearance, so that a tie's own corners pass, or
    /// half of the short side.
    pub fn corner_radius(&self) -> f64 {
        let [length, width] = self.size();
        CLEARANCE.min(length.min(width) / 2.0)
    }

    /// The centres of the four corner arcs, counter-clockwise, mm. The slot is every point within
    /// [`TieSlot::corner_radius`] of the rectangle that they span.
    pub fn core(&self) -> [Point; 4] {
        let [length, width] = self.size();
        let radius = self.corner_radius();
        let (x, y) = (length / 2.0 - radius, width / 2.0 - radius);
        let turn = Rotation2::new(self.angle.radians());
        let centre = Point::from(self.at);
        [(x, y), (-x, y), (-x, -y), (x, -y)].map(|(x, y)| centre + turn * Vector2::new(x, y))
    }

    /// The slot's discs grown by `margin`, mm; their hull is the slot with that much around it.
    pub fn discs(&self, margin: f64) -> [Disc; 4] {
        let radius = self.corner_radius() + margin;
        self.core().map(|centre| Disc { centre, radius })
    }

    /// The slot's edge, counter-clockwise.
    pub fn outline(&self) -> Outline {
        Outline::hull(&self.discs(0.0))
    }

    /// Half of the slot's diagonal, mm: no part of the strap in it is farther from its centre.
    pub fn half_diagonal(&self) -> f64 {
        let [length, width] = self.size();
        length.hypot(width) / 2.0
    }

    /// The web between it and an opening, mm, negative if they overlap.
    pub(crate) fn gap_to_opening(&self, opening: Disc) -> Option<Gap> {
        let gap = polygon::gap_to_point(&self.core(), opening.centre)?;
        Some(gap.grown(self.corner_radius()).grown_to(opening.radius))
    }

    /// The gap between it and a lug's foot, mm, negative if they overlap.
    pub(crate) fn gap_to_lug(&self, lug: &Lug) -> Option<Gap> {
        let gap = polygon::gap(&self.core(), &lug.foot())?;
        Some(gap.grown(self.corner_radius()))
    }

    /// The web between it and another, mm, negative if they overlap.
    pub(crate) fn gap_to(&self, other: &Self) -> Option<Gap> {
        let gap = polygon::gap(&self.core(), &other.core())?;
        Some(
            gap.grown(self.corner_radius())
                .grown_to(other.corner_radius()),
        )
    }

    /// The web between it and an edge around it, mm, negative if it sticks out.
    pub(crate) fn gap_to_edge(&self, edge: &Bounded) -> Option<Gap> {
        let gap = edge.room_around_polygon(&self.core())?;
        Some(gap.grown(self.corner_radius()))
    }

    /// What its strap, a cylinder behind a plate whose back face lies at height `back`, mm, keeps from
    /// an eye's sweep, and where: beside it in plan, or below its nearest approach to the plate. The larger
    /// of the two distances is a lower bound of the true one. None without a ring.
    pub(crate) fn strap_to_sweep(&self, eye: &LaidEye, back: f64) -> Option<(f64, [[f64; 3]; 2])> {
        let (centre, height) = (Point::from(self.at), STRAP_BEND * self.tie[1]);
        let beside = Gap::between(centre, eye.centre)
            .grown(self.half_diagonal())
            .grown_to(eye.sweep()?.radius);
        let below = eye.clearance()?.0 - height;
        let [from, to] = if below > beside.distance {
            let top = back - height;
            [(centre, top), (centre, top - below)]
        } else {
            [(beside.from, back), (beside.to, back)]
        };
        let place = [from, to].map(|(at, z)| [at.x, at.y, z]);
        Some((beside.distance.max(below), place))
    }

    pub(crate) fn check(&self, at: &str, anchors: usize) -> Result<(), Problem> {
        problem::place(&format!("{at}.at"), self.at)?;
        problem::within(&format!("{at}.angle"), self.angle.0, -360.0..=360.0, "°")?;
        for side in self.tie {
            problem::size(&format!("{at}.tie"), side)?;
        }
        match self.anchor {
            Some(index) if index >= anchors => Err(Problem::new(
                format!("{at}.anchor"),
                format!("`{at}` runs to anchor hole {index}, and the head has {anchors}."),
                if anchors == 0 {
                    "Use `None`, or add an anchor hole.".to_owned()
                } else {
                    format!("Use `None` or an index from 0 to {}.", anchors - 1)
                },
            )),
            _ => Ok(()),
        }
    }
}
