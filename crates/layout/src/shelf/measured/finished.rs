//! What the shelf gets of a plate that is measured, and what must be measured first.

use super::{
    Dimension, LidsKind, Measured, MeasuredHole, MeasuredSlot, Openings, OutlineKind, SeatKind,
    apart, bounds, distance,
};
use crate::angle::Degrees;
use crate::problem::{self, Problem};
use crate::shelf::parts::{ShelfLids, ShelfParts, ShelfSeat};
use crate::shelf::plate::{ShelfEye, ShelfPlate, ShelfSlot};
use crate::wording::about;

impl Measured {
    /// The plate for the shelf.
    ///
    /// # Errors
    /// What has to be measured before the shelf can hold it, in words of the dimensions' labels; or what
    /// [`ShelfPlate::check`] refuses.
    pub fn plate(&self) -> Result<ShelfPlate, Problem> {
        self.missing().map_or(Ok(()), Err)?;
        let plate = self.so_far();
        plate.check("plate")?;
        Ok(plate)
    }

    /// The plate as far as it is known, and the openings where they must lie; what the shelf cannot hold
    /// unfinished is left out.
    pub(super) fn so_far(&self) -> ShelfPlate {
        let plate = ShelfPlate {
            name: self.name.clone(),
            parts: ShelfParts {
                ball_diameter: self.ball,
                seat: self.seat(),
                ring: self.ring,
                lids: self.lids(),
            },
            thickness: self.thickness,
            eyes: self.eyes(),
            outline: self.outline_so_far(),
            slots: self.slots.iter().filter_map(MeasuredSlot::slot).collect(),
            cable_holes: { self.cable_holes.iter() }
                .filter_map(MeasuredHole::hole)
                .collect(),
        };
        match plate.centres() {
            Some(_) => plate,
            None => with_origin(plate, self.middle()),
        }
    }

    fn seat(&self) -> Option<ShelfSeat> {
        match self.seat {
            SeatKind::NotKnown => None,
            SeatKind::Plain => Some(ShelfSeat::Plain {
                opening_diameter: self.opening,
            }),
            SeatKind::Spherical => Some(ShelfSeat::Spherical {
                centre_height: self.centre_height,
                running_clearance: self.running_clearance,
            }),
        }
    }

    fn lids(&self) -> Option<ShelfLids> {
        match self.lids {
            LidsKind::NotKnown => None,
            LidsKind::Without => Some(ShelfLids::Without),
            LidsKind::With => Some(ShelfLids::With {
                pivot_spacing: self.pivot_spacing,
                pivot_hole: self.pivot_hole,
                gap: self.lid_gap,
                shell: self.lid_shell,
            }),
        }
    }

    fn eyes(&self) -> Vec<ShelfEye> {
        let given = &self.eyes;
        let as_given = match self.openings {
            Openings::Given => true,
            Openings::One => given.len() == 1,
            Openings::Pair => given.len() == 2 && self.spacing == distance(given),
        };
        if as_given {
            return given.clone();
        }
        let [x, y] = self.middle();
        let at = |index: usize, centre: Option<[f64; 2]>| ShelfEye {
            centre,
            parts: given.get(index).and_then(|eye| eye.parts.clone()),
        };
        if self.openings == Openings::One {
            return vec![at(0, Some([x, y]))];
        }
        let Some(spacing) = self.spacing else {
            return vec![at(0, None), at(1, None)];
        };
        let [across, up] = direction(given).map(|part| part * spacing / 2.0);
        let ends = [[x - across, y - up], [x + across, y + up]];
        vec![at(0, Some(ends[0])), at(1, Some(ends[1]))]
    }

    pub(super) fn outline_so_far(&self) -> Option<Vec<[f64; 2]>> {
        let middle = self.middle();
        let mut corners = match (self.outline, self.size) {
            (OutlineKind::Curve, _) => self.corners.clone()?,
            (OutlineKind::Rectangle, [Some(width), Some(height)]) => {
                let [left, right] = [-1.0, 1.0].map(|side| middle[0] + side * width / 2.0);
                let [low, high] = [-1.0, 1.0].map(|side| middle[1] + side * height / 2.0);
                vec![[left, low], [right, low], [right, high], [left, high]]
            }
            _ => return None,
        };
        let Some([low, _]) = bounds(&corners) else {
            return Some(corners);
        };
        for (axis, from_edge) in self.from_edge.into_iter().enumerate() {
            let by = from_edge.map_or(0.0, |from_edge| middle[axis] - from_edge - low[axis]);
            corners.iter_mut().for_each(|corner| corner[axis] += by);
        }
        Some(corners)
    }

    /// The first thing without which the shelf cannot hold the plate.
    fn missing(&self) -> Option<Problem> {
        let unmeasured = |dimension: Dimension, remedy: &str| {
            let label = dimension.label();
            let part = dimension.part();
            let sentence = about(
                part.as_deref().unwrap_or("plate"),
                &format!("“{label}” of the {{}} is not measured."),
            );
            Problem::new(label, sentence, remedy)
        };
        let is_open = |&dimension: &Dimension| self.get(dimension).is_none();
        if self.name.trim().is_empty() {
            let remedy = "Type one, to know the plate again.";
            return Some(Problem::new("name", "“Name” is empty.", remedy));
        }
        if self.outline == OutlineKind::Rectangle {
            let open = [Dimension::Width, Dimension::Height]
                .into_iter()
                .find(is_open);
            if let Some(open) = open {
                let remedy = "Measure it, or leave the outline not known.";
                return Some(unmeasured(open, remedy));
            }
        }
        if self.outline == OutlineKind::Curve && self.corners.is_none() {
            return Some(Problem::new(
                "outline",
                "“Outline” is to be a curve, and there is none.",
                "Take it from a drawing or from this project, or leave it not known.",
            ));
        }
        let of_holes = (0..self.holes()).find_map(|index| {
            let [across, height, width, length, angle] = Dimension::of_hole(index);
            let must = [across, height, width].into_iter().find(is_open);
            let remedy = "Measure it, or remove the hole.";
            let must = must.map(|open| unmeasured(open, remedy));
            let half = is_open(&angle) && !is_open(&length);
            let remedy = "Measure it, or leave the length open for a round hole.";
            must.or_else(|| half.then(|| unmeasured(angle, remedy)))
        });
        let of_slots = (0..self.slots.len()).find_map(|index| {
            let [across, height, angle, tie @ ..] = Dimension::of_slot(index);
            let open = [across, height, angle].into_iter().find(is_open);
            let remedy = "Measure it, or remove the slot.";
            let of_place = open.map(|open| unmeasured(open, remedy));
            let open: Vec<_> = tie.into_iter().filter(is_open).collect();
            let half = (open.len() == 1).then(|| open[0]);
            let remedy = "Measure both sides of the tie, or leave both open.";
            of_place.or_else(|| half.map(|open| unmeasured(open, remedy)))
        });
        of_slots.or(of_holes)
    }
}

impl MeasuredSlot {
    /// The slot as far as its tie is known; None if its place or its direction is not.
    fn slot(&self) -> Option<ShelfSlot> {
        let [width, thickness] = self.tie;
        Some(ShelfSlot {
            at: [self.at[0]?, self.at[1]?],
            angle: Degrees(self.angle?),
            tie: width
                .zip(thickness)
                .map(|(width, thickness)| [width, thickness]),
        })
    }
}

/// The direction from the first of two openings to the second, of length 1; level where there is none.
fn direction(eyes: &[ShelfEye]) -> [f64; 2] {
    match apart(eyes).map(|apart| (apart, apart[0].hypot(apart[1]))) {
        Some((apart, length)) if length >= problem::SMALLEST => apart.map(|part| part / length),
        _ => [1.0, 0.0],
    }
}

/// The plate in a frame whose origin is what was `origin` in its own; openings without a place stay so.
fn with_origin(mut plate: ShelfPlate, origin: [f64; 2]) -> ShelfPlate {
    let slots = plate.slots.iter_mut().map(|slot| &mut slot.at);
    let holes = plate.cable_holes.iter_mut();
    let holes = holes.flat_map(|hole| &mut hole.ends);
    let outline = plate.outline.iter_mut().flatten();
    for at in outline.chain(slots).chain(holes) {
        *at = [at[0] - origin[0], at[1] - origin[1]];
    }
    plate
}
