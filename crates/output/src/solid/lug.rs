//! The lugs that carry the lids, as solids.

use layout::geometry::Point;
use layout::geometry::hull::Disc;
use layout::lug::Lug;
use layout::{Laid, Project};

use super::error::SolidError;
use super::kind::Kind;
use super::slab::{Hole, Slab, Wall};
use super::{Solid, SolidOptions};

/// Every distinct lug once, with how many are needed: a lug that two eyes share counts once.
///
/// A lug lies on its side, the pivot along z: its layers then run along the bar, which bends across
/// them, and its pivot hole comes out round. x is the plate's y and y its z, both from the middle of
/// the foot.
///
/// # Errors
/// As [`Slab::solid`], such as for a pivot hole that breaks the edge.
pub fn lugs(
    project: &Project,
    laid: &Laid,
    options: &SolidOptions,
) -> Result<Vec<Solid>, SolidError> {
    options.check()?;
    let mut standing: Vec<(Lug, String)> = Vec::new();
    for (index, eye) in laid.eyes.iter().enumerate() {
        for lug in eye.lugs.into_iter().flatten() {
            if !standing.iter().any(|(other, _)| other.is(&lug)) {
                standing.push((lug, project.eye_name(index)));
            }
        }
    }
    let solid = |kind: Kind<Lug>| {
        let solid = slab(&kind.part, kind.name("lug")).solid(options)?;
        Ok(Solid {
            count: kind.count(),
            ..solid
        })
    };
    let kinds = Kind::sort(standing, one_shape).into_iter();
    kinds.map(solid).collect()
}

/// Whether two lugs are printed alike, wherever they stand.
fn one_shape(a: &Lug, b: &Lug) -> bool {
    let placed = Lug {
        centre: a.centre,
        side: a.side,
        ..*b
    };
    placed == *a
}

fn slab(lug: &Lug, name: String) -> Slab {
    let lug = Lug {
        centre: Point::origin(),
        ..*lug
    };
    let pivot = Disc {
        centre: Point::new(0.0, lug.pivot_height),
        radius: lug.hole / 2.0,
    };
    Slab {
        outline: lug.profile(),
        thickness: lug.thickness,
        holes: vec![Hole {
            name: format!("the pivot hole of the {name}"),
            wall: Wall::Straight(vec![pivot]),
        }],
        name,
    }
}
