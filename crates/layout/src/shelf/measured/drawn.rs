//! An outline that comes from a drawing, with the openings that are drawn in it.

use super::{Measured, Openings, OutlineKind, distance};
use crate::geometry::hull::Disc;
use crate::problem::Problem;
use crate::shelf::made::middle;
use crate::shelf::matching::FITTED;
use crate::shelf::plate::ShelfEye;

/// How wide the widest of the other holes may be, as a share of the openings, so that there is no doubt which
/// are the openings. Own choice: slots and cable holes are far smaller.
const CLEARLY_SMALLER: f64 = 0.75;

impl Measured {
    /// Gives the plate an outline of a drawing. Where the `holes` in it leave no doubt which of them are the
    /// openings, these become the plate's, as they lie in the outline, with their spacing and the diameter that a
    /// plain seat has; their middle stays where it was. Else the outline is taken as
    /// [`take_corners`](Self::take_corners) does, and the openings stay as they are. Says whether they were taken;
    /// `holes` and corners in one frame, mm.
    ///
    /// # Errors
    /// The corners make no outline; all then stays as it was.
    pub fn take_drawing(&mut self, corners: &[[f64; 2]], holes: &[Disc]) -> Result<bool, Problem> {
        let count = match self.openings {
            Openings::One => 1,
            Openings::Pair => 2,
            Openings::Given => 0,
        };
        let Some(mut openings) = openings_among(holes, count) else {
            return self.take_corners(corners).map(|()| false);
        };
        openings.sort_by(|a, b| a.centre.x.total_cmp(&b.centre.x));
        let (to, from) = (
            self.middle(),
            middle(openings.iter().map(|own| own.centre.into())),
        );
        let by = [to[0] - from[0], to[1] - from[1]];
        let eyes = openings.iter().enumerate().map(|(index, own)| ShelfEye {
            centre: Some([own.centre.x + by[0], own.centre.y + by[1]]),
            parts: self.eyes.get(index).and_then(|eye| eye.parts.clone()),
        });
        let eyes: Vec<ShelfEye> = eyes.collect();
        let diameters = openings.iter().map(|own| 2.0 * own.radius);
        let diameter = diameters.sum::<f64>() / openings.len() as f64;
        let corners = corners.iter().map(|[x, y]| [x + by[0], y + by[1]]);
        self.become_checked(Self {
            spacing: distance(&eyes).or(self.spacing),
            opening: Some(diameter),
            eyes,
            outline: OutlineKind::Curve,
            corners: Some(corners.collect()),
            from_edge: [None; 2],
            ..self.clone()
        })?;
        Ok(true)
    }
}

/// The holes that are the openings of a plate that has so many: the largest, if they are alike and all others
/// clearly smaller. A hole whose middle lies in a larger one is a part of that. None in doubt.
fn openings_among(holes: &[Disc], count: usize) -> Option<Vec<Disc>> {
    let mut sorted = holes.to_vec();
    sorted.sort_by(|a, b| b.radius.total_cmp(&a.radius));
    let mut apart: Vec<Disc> = Vec::new();
    for hole in sorted {
        let in_one = |other: &Disc| (other.centre - hole.centre).norm() < other.radius;
        if !apart.iter().any(in_one) {
            apart.push(hole);
        }
    }
    let openings = apart.get(..count)?;
    let (largest, least) = (openings.first()?, openings.last()?);
    let alike = 2.0 * (largest.radius - least.radius) <= FITTED;
    let next = apart.get(count);
    let alone = next.is_none_or(|next| next.radius <= CLEARLY_SMALLER * least.radius);
    (alike && alone).then(|| openings.to_vec())
}
