//! The plate as a solid.

use layout::geometry::hull::Disc;
use layout::seat::Seat;
use layout::{Laid, Project, wording};

use super::error::SolidError;
use super::slab::{Hole, Slab, Wall};
use super::{Solid, SolidOptions};

/// The plate with its seats, slots and cable holes, on its back as [`Slab::solid`] lays it; x and y are the
/// plate's frame.
///
/// # Errors
/// A [`SolidError`] if an eye has no seat, and as [`Slab::solid`].
pub fn plate(project: &Project, laid: &Laid, options: &SolidOptions) -> Result<Solid, SolidError> {
    let openings = (0..laid.eyes.len()).map(|index| opening(project, laid, index));
    let slots = project.ties.iter().enumerate().map(|(index, slot)| {
        Ok(Hole {
            name: wording::slot(index),
            wall: Wall::Straight(slot.discs(0.0).to_vec()),
        })
    });
    let cable_holes = laid.named_cable_holes(project).into_iter();
    let cable_holes = cable_holes.map(|(name, hole)| {
        Ok(Hole {
            name,
            wall: Wall::Straight(hole.discs(0.0).to_vec()),
        })
    });
    let holes = openings.chain(slots).chain(cable_holes);
    let slab = Slab {
        name: "plate".to_owned(),
        outline: laid.plate.clone(),
        thickness: project.plate.thickness,
        holes: holes.collect::<Result<_, _>>()?,
    };
    slab.solid(options)
}

fn opening(project: &Project, laid: &Laid, index: usize) -> Result<Hole, SolidError> {
    let eye = &laid.eyes[index];
    let name = project.eye_name(index);
    let seat = eye.seat.as_ref();
    let seat = seat.map_err(|problem| SolidError::of(&format!("seat for {name}"), problem))?;
    let wall = match project.parts_of(index).seat {
        Seat::Plain { .. } => Wall::Straight(vec![Disc {
            centre: eye.centre,
            radius: seat.opening_front,
        }]),
        Seat::Spherical {
            running_clearance, ..
        } => Wall::Spherical {
            centre: eye.centre,
            height: seat.centre_height,
            radius: seat.ball_radius + running_clearance,
        },
    };
    // A name that ends in a number takes no article.
    let numbered = name.ends_with(|last: char| last.is_ascii_digit());
    let article = if numbered { "" } else { "the " };
    Ok(Hole {
        name: format!("the opening of {article}{name}"),
        wall,
    })
}
