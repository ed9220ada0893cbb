//! A plate that exists only as an object, as a maker measures it: whatever is not measured stays open.

mod dimension;
mod drawn;
mod finished;
mod holes;

pub use dimension::Dimension;

use serde::{Deserialize, Serialize};

use self::holes::MeasuredHole;
use super::made::middle;
use super::parts::{ShelfLids, ShelfRing, ShelfSeat};
use super::plate::{ShelfEye, ShelfPlate, ShelfSlot};
use crate::problem::Problem;
use crate::project::Project;
use crate::ties::upward;

/// A plate on the way to the shelf. Lengths in mm, angles in degrees. What was typed for another kind of
/// opening, lids or outline than the present one is kept, in case that comes back.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measured {
    /// What the maker calls it.
    pub name: String,
    /// How many openings it has.
    pub openings: Openings,
    /// The openings' wall.
    pub seat: SeatKind,
    /// Whether it is made for lids.
    pub lids: LidsKind,
    /// How its outline is given.
    pub outline: OutlineKind,
    spacing: Option<f64>,
    ball: Option<f64>,
    opening: Option<f64>,
    centre_height: Option<f64>,
    running_clearance: Option<f64>,
    ring: ShelfRing,
    pivot_spacing: Option<f64>,
    pivot_hole: Option<f64>,
    lid_gap: Option<f64>,
    lid_shell: Option<f64>,
    thickness: Option<f64>,
    /// Width and height of a rectangle.
    size: [Option<f64>; 2],
    /// The corners of a curve, in the plate's frame.
    corners: Option<Vec<[f64; 2]>>,
    /// From the outline's left and lower edge to the middle of the openings, where that was measured: the
    /// outline is moved until it is so.
    from_edge: [Option<f64>; 2],
    slots: Vec<MeasuredSlot>,
    /// The openings that the plate came with.
    eyes: Vec<ShelfEye>,
    cable_holes: Vec<MeasuredHole>,
}

/// How many openings a plate has that is measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Openings {
    /// A single one.
    One,
    /// Two, level unless the plate came with others.
    #[default]
    Pair,
    /// Those that the plate came with, more than two.
    Given,
}

/// What is known of the openings' wall.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum SeatKind {
    /// Nothing.
    #[default]
    NotKnown,
    /// It is a cylinder.
    Plain,
    /// It follows the ball.
    Spherical,
}

/// What is known of a plate's lids.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum LidsKind {
    /// Nothing.
    #[default]
    NotKnown,
    /// It carries none.
    Without,
    /// It carries some.
    With,
}

/// How a plate's outline is given.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum OutlineKind {
    /// Not at all.
    #[default]
    NotKnown,
    /// By width and height of a rectangle.
    Rectangle,
    /// By its corners, from a drawing or a project.
    Curve,
}

/// A slot, its centre in the plate's frame.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct MeasuredSlot {
    at: [Option<f64>; 2],
    angle: Option<f64>,
    tie: [Option<f64>; 2],
}

impl Measured {
    /// What is known of a plate of the shelf.
    pub fn of(plate: &ShelfPlate) -> Self {
        let parts = &plate.parts;
        let mut measured = Self {
            name: plate.name.clone(),
            openings: match plate.eyes.len() {
                1 => Openings::One,
                2 => Openings::Pair,
                _ => Openings::Given,
            },
            spacing: distance(&plate.eyes),
            ball: parts.ball_diameter,
            ring: parts.ring,
            thickness: plate.thickness,
            slots: plate.slots.iter().map(MeasuredSlot::of).collect(),
            eyes: plate.eyes.clone(),
            cable_holes: plate.cable_holes.iter().map(MeasuredHole::of).collect(),
            ..Self::default()
        };
        if let Some(corners) = &plate.outline {
            measured.outline = OutlineKind::Curve;
            measured.corners = Some(corners.clone());
        }
        match parts.seat {
            None => {}
            Some(ShelfSeat::Plain { opening_diameter }) => {
                measured.seat = SeatKind::Plain;
                measured.opening = opening_diameter;
            }
            Some(ShelfSeat::Spherical {
                centre_height,
                running_clearance,
            }) => {
                measured.seat = SeatKind::Spherical;
                measured.centre_height = centre_height;
                measured.running_clearance = running_clearance;
            }
        }
        match parts.lids {
            None => {}
            Some(ShelfLids::Without) => measured.lids = LidsKind::Without,
            Some(ShelfLids::With {
                pivot_spacing,
                pivot_hole,
                gap,
                shell,
            }) => {
                measured.lids = LidsKind::With;
                measured.pivot_spacing = pivot_spacing;
                measured.pivot_hole = pivot_hole;
                measured.lid_gap = gap;
                measured.lid_shell = shell;
            }
        }
        measured
    }

    /// The value of a dimension; None if it was not measured. The distances from the outline's edges have
    /// one whenever the outline is known.
    pub fn get(&self, dimension: Dimension) -> Option<f64> {
        let middle = self.middle();
        let kept = |dimension| *self.clone().kept(dimension)?;
        let from_edge = |axis: usize| Some(middle[axis] - self.bounds()?[0][axis]);
        match dimension {
            Dimension::FromLeft => kept(dimension).or_else(|| from_edge(0)),
            Dimension::FromBelow => kept(dimension).or_else(|| from_edge(1)),
            Dimension::SlotAcross(_) | Dimension::HoleAcross(_) => {
                Some(kept(dimension)? - middle[0])
            }
            Dimension::SlotHeight(_) | Dimension::HoleHeight(_) => {
                Some(kept(dimension)? - middle[1])
            }
            _ => kept(dimension),
        }
    }

    /// Notes the value of a dimension, or that it is not known. While the distances from the outline's
    /// edges are not, the openings lie in the middle of a rectangle, and in a curve as it was taken.
    ///
    /// # Errors
    /// The [`Problem`] of a value that no plate can have, which speaks of the dimension by its label; all then
    /// stays as it was.
    pub fn set(&mut self, dimension: Dimension, value: Option<f64>) -> Result<(), Problem> {
        let label = dimension.label();
        let named = |problem: Problem| Problem {
            field: label.to_owned(),
            ..problem.called(&format!("“{label}”"))
        };
        if let Some(value) = value {
            dimension.check(value).map_err(named)?;
        }
        let (mut next, middle) = (self.clone(), self.middle());
        if let Some(kept) = next.kept(dimension) {
            *kept = match dimension {
                Dimension::SlotAcross(_) | Dimension::HoleAcross(_) => {
                    value.map(|value| value + middle[0])
                }
                Dimension::SlotHeight(_) | Dimension::HoleHeight(_) => {
                    value.map(|value| value + middle[1])
                }
                _ => value,
            };
        }
        self.become_checked(next).map_err(named)
    }

    /// Gives the plate another name.
    ///
    /// # Errors
    /// The name is too long; the old one then stays.
    pub fn rename(&mut self, name: String) -> Result<(), Problem> {
        self.become_checked(Self {
            name,
            ..self.clone()
        })
    }

    /// Takes another state over, if what is known of it can be.
    fn become_checked(&mut self, next: Self) -> Result<(), Problem> {
        next.check()?;
        *self = next;
        Ok(())
    }

    /// Whether what is known of it can be, though the rest is still to be measured.
    ///
    /// # Errors
    /// The first [`Problem`] found, in the order of the fields of [`ShelfPlate`].
    pub fn check(&self) -> Result<(), Problem> {
        self.so_far().check_figures("plate")
    }

    /// Lower left and upper right corner of the box around the outline, in the plate's frame; None if the
    /// outline is not known.
    pub fn bounds(&self) -> Option<[[f64; 2]; 2]> {
        bounds(&self.outline_so_far()?)
    }

    /// Gives the plate an outline whose place among the openings is not known: their middle comes to lie in
    /// that of its box.
    ///
    /// # Errors
    /// The corners make no outline; the old one then stays.
    pub fn take_corners(&mut self, corners: &[[f64; 2]]) -> Result<(), Problem> {
        let Some([low, high]) = bounds(corners) else {
            return self.take_moved(corners, [0.0; 2]);
        };
        let middle = self.middle();
        let by = [0, 1].map(|axis| middle[axis] - (low[axis] + high[axis]) / 2.0);
        self.take_moved(corners, by)
    }

    /// Gives the plate the outline that a project lays out, about its openings as it lies about the
    /// project's eyes.
    ///
    /// # Errors
    /// The project lays no outline out; the old one then stays.
    pub fn take_outline_of(&mut self, project: &Project) -> Result<(), Problem> {
        let corners = ShelfPlate::of(project).outline.ok_or_else(|| {
            Problem::new(
                "plate.outline",
                "The plate of this project has no outline.",
                "Lay it out first.",
            )
        })?;
        self.take_moved(&corners, self.middle())
    }

    fn take_moved(&mut self, corners: &[[f64; 2]], by: [f64; 2]) -> Result<(), Problem> {
        let moved = corners.iter().map(|[x, y]| [x + by[0], y + by[1]]);
        self.become_checked(Self {
            outline: OutlineKind::Curve,
            corners: Some(moved.collect()),
            from_edge: [None; 2],
            ..self.clone()
        })
    }

    /// How many slots it has.
    pub fn slots(&self) -> usize {
        self.slots.len()
    }

    /// Adds a slot of which nothing is known.
    pub fn add_slot(&mut self) {
        self.slots.push(MeasuredSlot::default());
    }

    /// Adds the mirror image of a slot, by the upright line through the openings' middle.
    pub fn mirror_slot(&mut self, index: usize) {
        let Some(slot) = self.slots.get(index).copied() else {
            return;
        };
        let axis = self.middle()[0];
        self.slots.push(MeasuredSlot {
            at: [slot.at[0].map(|x| 2.0 * axis - x), slot.at[1]],
            angle: slot.angle.map(|angle| upward(-angle).0),
            ..slot
        });
    }

    /// Takes a slot away.
    pub fn remove_slot(&mut self, index: usize) {
        if index < self.slots.len() {
            self.slots.remove(index);
        }
    }

    /// Where a dimension is kept; None of a slot or a hole that is not there.
    fn kept(&mut self, dimension: Dimension) -> Option<&mut Option<f64>> {
        Some(match dimension {
            Dimension::Spacing => &mut self.spacing,
            Dimension::Ball => &mut self.ball,
            Dimension::Opening => &mut self.opening,
            Dimension::CentreHeight => &mut self.centre_height,
            Dimension::RunningClearance => &mut self.running_clearance,
            Dimension::RingDepth => &mut self.ring.depth,
            Dimension::RingThickness => &mut self.ring.thickness,
            Dimension::RingDiameter => &mut self.ring.outer_diameter,
            Dimension::RingBevel => &mut self.ring.bevel,
            Dimension::PivotSpacing => &mut self.pivot_spacing,
            Dimension::PivotHole => &mut self.pivot_hole,
            Dimension::LidGap => &mut self.lid_gap,
            Dimension::LidShell => &mut self.lid_shell,
            Dimension::Thickness => &mut self.thickness,
            Dimension::Width => &mut self.size[0],
            Dimension::Height => &mut self.size[1],
            Dimension::FromLeft => &mut self.from_edge[0],
            Dimension::FromBelow => &mut self.from_edge[1],
            Dimension::SlotAcross(slot) => &mut self.slots.get_mut(slot)?.at[0],
            Dimension::SlotHeight(slot) => &mut self.slots.get_mut(slot)?.at[1],
            Dimension::SlotAngle(slot) => &mut self.slots.get_mut(slot)?.angle,
            Dimension::TieWidth(slot) => &mut self.slots.get_mut(slot)?.tie[0],
            Dimension::TieThickness(slot) => &mut self.slots.get_mut(slot)?.tie[1],
            Dimension::HoleAcross(hole) => &mut self.cable_holes.get_mut(hole)?.at[0],
            Dimension::HoleHeight(hole) => &mut self.cable_holes.get_mut(hole)?.at[1],
            Dimension::HoleWidth(hole) => &mut self.cable_holes.get_mut(hole)?.width,
            Dimension::HoleLength(hole) => &mut self.cable_holes.get_mut(hole)?.length,
            Dimension::HoleAngle(hole) => &mut self.cable_holes.get_mut(hole)?.angle,
        })
    }

    /// The middle of the openings, in the plate's frame: a spacing that is measured leaves it where it is.
    fn middle(&self) -> [f64; 2] {
        let places: Vec<_> = self.eyes.iter().filter_map(|eye| eye.centre).collect();
        middle(places.into_iter())
    }
}

impl MeasuredSlot {
    fn of(slot: &ShelfSlot) -> Self {
        let tie = slot.tie.map(|tie| tie.map(Some));
        Self {
            at: slot.at.map(Some),
            angle: Some(slot.angle.0),
            tie: tie.unwrap_or_default(),
        }
    }
}

/// From the centre of the first of two openings to that of the second; None of other numbers of them, or
/// where they have no places.
fn apart(eyes: &[ShelfEye]) -> Option<[f64; 2]> {
    let [a, b] = eyes else {
        return None;
    };
    let (a, b) = (a.centre?, b.centre?);
    Some([b[0] - a[0], b[1] - a[1]])
}

/// The distance between the centres of two openings.
fn distance(eyes: &[ShelfEye]) -> Option<f64> {
    apart(eyes).map(|[x, y]| x.hypot(y))
}

/// Lower left and upper right corner of the box around some places; None if there are none.
fn bounds(places: &[[f64; 2]]) -> Option<[[f64; 2]; 2]> {
    let mut boxes = places.iter().map(|&at| [at; 2]);
    let first = boxes.next()?;
    Some(boxes.fold(first, |[low, high], [at, _]| {
        [
            [low[0].min(at[0]), low[1].min(at[1])],
            [high[0].max(at[0]), high[1].max(at[1])],
        ]
    }))
}
