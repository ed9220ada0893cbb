//! The retaining rings as solids.

use layout::geometry::Point;
use layout::ring::{ProfilePoint, RingFit};
use layout::{Laid, Project};

use super::chords::{self, Chords};
use super::error::SolidError;
use super::kind::Kind;
use super::mesh::{Loop, Mesh, SHORTEST_EDGE};
use super::{Solid, SolidOptions};

/// Every distinct ring once, with the number of eyes that use it.
///
/// A ring lies on its back, about the z axis: its bore follows the ball and is widest at the front, and
/// the bevel breaks the front edge, so that nothing overhangs.
///
/// # Errors
/// A [`SolidError`] that names the eye, if the options are out of range, an eye has no ring, or glue
/// gap and hole allowance leave no front face or no bore.
pub fn rings(
    project: &Project,
    laid: &Laid,
    options: &SolidOptions,
) -> Result<Vec<Solid>, SolidError> {
    options.check()?;
    let mut rings = Vec::with_capacity(laid.eyes.len());
    for (index, eye) in laid.eyes.iter().enumerate() {
        let name = project.eye_name(index);
        let ring = eye.ring.as_ref();
        let ring = ring.map_err(|problem| SolidError::of(&format!("ring for {name}"), problem))?;
        rings.push((ring, name));
    }
    let solid = |kind: Kind<&RingFit>| {
        let name = kind.name("ring");
        Ok(Solid {
            mesh: mesh(kind.part, options, &name)?,
            name,
            count: kind.count(),
        })
    };
    let kinds = Kind::sort(rings, |a, b| one_shape(a, b)).into_iter();
    kinds.map(solid).collect()
}

/// Whether two rings are printed alike, whatever plates they turn behind.
fn one_shape(a: &RingFit, b: &RingFit) -> bool {
    a.profile == b.profile && a.seat.ball_radius == b.seat.ball_radius
}

/// A ring, turned from its meridian.
fn mesh(ring: &RingFit, options: &SolidOptions, name: &str) -> Result<Mesh, SolidError> {
    let chords = Chords::within(options.chord_error);
    let count = chords.around(ring.profile[2].radius);
    let meridian = meridian(ring, options, chords);
    let narrowest = meridian.iter().map(|&(radius, _)| radius);
    let narrowest = narrowest.fold(f64::INFINITY, f64::min);
    if narrowest * std::f64::consts::TAU / (count as f64) < SHORTEST_EDGE {
        return Err(SolidError::closes(&format!("the bore of the {name}")));
    }
    // The bore begins where the front face ends.
    let (edge, bore) = (ring.profile[1].radius, meridian[0].0);
    if edge - bore < SHORTEST_EDGE {
        return Err(SolidError::no_front_face(name));
    }
    let mut mesh = Mesh::default();
    let turn = |&(radius, z): &(f64, f64)| {
        mesh.add_loop(chords::circle(Point::origin(), radius, count), z)
    };
    let loops: Vec<Loop> = meridian.iter().map(turn).collect();
    for (index, line) in loops.iter().enumerate() {
        mesh.wall(line, &loops[(index + 1) % loops.len()]);
    }
    Ok(mesh)
}

/// The meridian as (radius, height), mm, counter-clockwise from the front of the bore: down the bore,
/// and by way of back, outer edge and bevel to the front face.
fn meridian(ring: &RingFit, options: &SolidOptions, chords: Chords) -> Vec<(f64, f64)> {
    let [front, edge, outer, back, _] = ring.profile;
    let allowance = options.hole_allowance / 2.0;
    let sphere = ring.seat.ball_radius + options.glue_gap;
    let thickness = back.depth - front.depth;
    let bore = chords.zone(sphere, front.depth, thickness).into_iter();
    let bore = bore.map(|level| (level.radius + allowance, thickness - level.behind));
    let rim =
        [back, outer, edge].map(|ProfilePoint { radius, depth }| (radius, back.depth - depth));
    let mut meridian: Vec<(f64, f64)> = bore.chain(rim).collect();
    // Without a bevel, or with one of nearly the whole edge, two corners are one.
    meridian.dedup_by(|a, b| (a.0 - b.0).hypot(a.1 - b.1) < SHORTEST_EDGE);
    meridian
}
