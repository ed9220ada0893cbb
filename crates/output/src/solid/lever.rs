//! Levers, as solids: flat bars that the cables pull.

use std::f64::consts::PI;

use layout::drive::Moves;
use layout::geometry::Point;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Line, Segment};
use layout::geometry::space::Place;
use layout::lever::{THICKNESS, WIDTH};
use layout::lid::Lids;
use layout::rod::RodEnd;
use layout::{Laid, Project};

use super::error::SolidError;
use super::kind::Kind;
use super::slab::{Hole, Slab, Wall};
use super::{Solid, SolidOptions};

/// How much wider the hole in a lever's tip is than its wire, mm: the bent end of the wire turns in
/// it. Own choice.
const WIRE_PLAY: f64 = 0.5;

/// How far the glued foot of a gaze's lever reaches along it from the ball, mm: as much as the lever
/// is thick. Own choice.
const FOOT: f64 = THICKNESS;

/// Every distinct lever once, with how many drives and ends of rods use it.
///
/// A lever lies flat, so that its layers run along the bar and its holes come out round. A lid's lever
/// is a bar as wide as the project says, from the middle of its pivot, which is the origin, along x
/// to its tip, round at the tip and with a round boss about the pivot. A gaze's lever is a stalk along
/// x from the ball, whose centre is the origin, to its tip; its foot is twice as wide as the bar, and
/// follows the ball with room for glue.
///
/// # Errors
/// A [`SolidError`] that names the lever, if the options are out of range, it is too short for its foot,
/// and as [`Slab::solid`]. Drives and rods that cannot work have none: see [`without_lever`].
pub fn levers(
    project: &Project,
    laid: &Laid,
    options: &SolidOptions,
) -> Result<Vec<Solid>, SolidError> {
    options.check()?;
    let (works, _) = users(project, laid);
    let levers = works
        .into_iter()
        .map(|user| Ok((user.slab(project, options)?, user.name)))
        .collect::<Result<Vec<_>, SolidError>>()?;
    let solid = |kind: Kind<Slab>| {
        let solid = kind.part.solid(options)?;
        Ok(Solid {
            name: format!("lever of {}", kind.users()),
            count: kind.count(),
            ..solid
        })
    };
    let kinds = Kind::sort(levers, one_shape).into_iter();
    kinds.map(solid).collect()
}

/// The names of the drives and rods that cannot work, and so have no lever to print.
pub fn without_lever(project: &Project, laid: &Laid) -> Vec<String> {
    users(project, laid).1
}

/// What a lever is for.
struct User {
    name: String,
    /// What it turns.
    moves: Moves,
    /// Its tip, as the project gives it.
    tip: [f64; 3],
    /// Diameter of the wire or rod that is hooked into its tip, mm.
    wire: f64,
}

/// What has a lever, and the names of what cannot work.
fn users(project: &Project, laid: &Laid) -> (Vec<User>, Vec<String>) {
    let (mut works, mut idle) = (Vec::new(), Vec::new());
    for (drive, laid) in project.drives.iter().zip(&laid.drives) {
        let name = drive.name.trim().to_owned();
        if laid.pull.is_ok() {
            works.push(User {
                name,
                moves: drive.moves,
                tip: drive.tip,
                wire: drive.cable.inner_diameter,
            });
        } else {
            idle.push(name);
        }
    }
    for (rod, linkage) in project.rods.iter().zip(&laid.rods) {
        if linkage.is_ok() {
            works.extend(RodEnd::ALL.map(|end| {
                let (moves, tip) = rod.end(end);
                User {
                    name: format!("{}, {}", rod.name.trim(), end.noun()),
                    moves,
                    tip,
                    wire: rod.diameter,
                }
            }));
        } else {
            idle.push(rod.name.trim().to_owned());
        }
    }
    (works, idle)
}

/// Whether two levers are printed alike, whatever they are for.
fn one_shape(a: &Slab, b: &Slab) -> bool {
    let walls = |slab: &Slab| -> Vec<Wall> {
        let walls = slab.holes.iter().map(|hole| hole.wall.clone());
        walls.collect()
    };
    a.outline == b.outline && a.thickness == b.thickness && walls(a) == walls(b)
}

impl User {
    fn slab(&self, project: &Project, options: &SolidOptions) -> Result<Slab, SolidError> {
        let name = format!("lever of {}", self.name);
        let parts = project.parts_of(self.moves.eye());
        let lids = parts.lids.as_ref();
        let width = lids.map_or(WIDTH, |lids| lids.lever_width);
        let hole = |what: &str, x: f64, diameter: f64| Hole {
            name: format!("the {what} of the {name}"),
            wall: Wall::Straight(vec![Disc {
                centre: Point::new(x, 0.0),
                radius: diameter / 2.0,
            }]),
        };
        let wire = |x: f64| hole("wire hole", x, self.wire + WIRE_PLAY);
        let of_lid = matches!(self.moves, Moves::Lid { .. });
        let (outline, holes) = match lids.filter(|_| of_lid) {
            Some(lids) => {
                // The tip's distance from the pivot axis, which lies along x.
                let radius = self.tip[1].hypot(self.tip[2]);
                let pivot = hole("pivot hole", 0.0, lids.pivot_hole);
                (bar(radius, width, boss(lids)), vec![pivot, wire(radius)])
            }
            None => {
                let tip = Place::from(self.tip).coords.norm();
                let ball = parts.ball_diameter / 2.0 + options.glue_gap;
                let stalk = stalk(ball, tip, width).ok_or_else(|| SolidError::no_foot(&name))?;
                (stalk, vec![wire(tip)])
            }
        };
        Ok(Slab {
            name,
            outline,
            thickness: THICKNESS,
            holes,
        })
    }
}

/// Radius of the boss about a lid's pivot, mm: a shell's thickness round the hole.
pub(super) fn boss(lids: &Lids) -> f64 {
    lids.pivot_hole / 2.0 + lids.shell
}

/// A bar along x to its tip with a boss about the origin, mm. It stays within the bar and the boss that
/// are checked against the plate.
fn bar(tip: f64, width: f64, boss: f64) -> Outline {
    let (half, origin) = (width / 2.0, Point::origin());
    let disc = |x: f64, radius: f64| Disc {
        centre: Point::new(x, 0.0),
        radius,
    };
    // A boss that is no wider than the bar is lost in it; one that takes in the tip is all there is.
    if boss <= half {
        return Outline::hull(&[disc(0.0, half), disc(tip, half)]);
    }
    if tip + half <= boss {
        return Outline::hull(&[disc(0.0, boss)]);
    }
    let neck = (half / boss).asin();
    let leaves = boss * neck.cos();
    if tip <= leaves {
        return Outline::hull(&[disc(0.0, boss), disc(tip, half)]);
    }
    let line = |from: f64, to: f64, y: f64| {
        Segment::Line(Line {
            start: Point::new(from, y),
            end: Point::new(to, y),
        })
    };
    Outline {
        segments: vec![
            round(origin, boss, neck, 2.0 * (PI - neck)),
            line(leaves, tip, -half),
            round(Point::new(tip, 0.0), half, -PI / 2.0, PI),
            line(tip, leaves, half),
        ],
    }
}

/// A bar along x from its foot on a ball about the origin to its round tip, mm. None if the tip stands
/// no farther out than the foot reaches, or the ball is too small for the foot.
fn stalk(ball: f64, tip: f64, width: f64) -> Option<Outline> {
    let half = width / 2.0;
    let neck = ball + FOOT;
    if tip <= neck || width >= ball {
        return None;
    }
    let spread = (width / ball).asin();
    let heel = ball * spread.cos();
    let corners = |side: f64| {
        [(heel, width), (neck, width), (neck, half), (tip, half)]
            .map(|(x, y)| Point::new(x, side * y))
    };
    let lines = |points: &[Point]| -> Vec<Segment> {
        let pairs = points.windows(2);
        let line = |pair: &[Point]| {
            Segment::Line(Line {
                start: pair[0],
                end: pair[1],
            })
        };
        pairs.map(line).collect()
    };
    let mut back = corners(1.0);
    back.reverse();
    let mut segments = lines(&corners(-1.0));
    segments.push(round(Point::new(tip, 0.0), half, -PI / 2.0, PI));
    segments.extend(lines(&back));
    segments.push(round(Point::origin(), ball, spread, -2.0 * spread));
    Some(Outline { segments })
}

fn round(centre: Point, radius: f64, start_angle: f64, sweep: f64) -> Segment {
    Segment::Arc(Arc {
        centre,
        radius,
        start_angle,
        sweep,
    })
}
