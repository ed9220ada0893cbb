//! What a sheath must keep from, each with how far from it a place is: measured once, for the rules and
//! for proposed routes.

use crate::beside_hand::BesideHand;
use crate::cable_hole::CableHole;
use crate::drive::Drive;
use crate::geometry::Point;
use crate::geometry::bounded::Bounded;
use crate::geometry::space::{self, Near, Off, Piece, Place};
use crate::guard::Guard;
use crate::laid::{Laid, LaidEye};
use crate::laid_drive::{self, LaidDrive};
use crate::lever_sweep::LeverSweep;
use crate::limits::Rule;
use crate::lug::Lug;
use crate::project::Project;
use crate::route::Route;
use crate::sweep::{LidSweep, RingSweep};
use crate::wording;

/// One thing that a sheath must keep from.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Obstacle<'a> {
    pub(crate) body: Body<'a>,
    /// The index of the eye or the drive that it belongs to; 0 for what there is only one of.
    pub(crate) of: usize,
}

/// Its shape, in the plate's frame, mm.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Body<'a> {
    /// The plate with the drive's own holes in it; its openings, slots and other holes count as filled.
    Plate {
        outline: &'a Bounded,
        holes: &'a [CableHole],
        thickness: f64,
    },
    Ball {
        centre: Place,
        radius: f64,
    },
    Ring {
        sweep: RingSweep,
        /// How far it reaches from the ball's centre.
        farthest: f64,
    },
    Lid(LidSweep),
    /// A lug, which stands on the plate.
    Lug(Lug),
    /// The head's wall, as upright as at the plate.
    Wall(&'a Bounded),
    /// The guard's mesh, round whose ends and edges a sheath may go.
    Mesh(&'a Guard),
    /// The place of the hand behind the guard: the sheath's centre line must keep out of it.
    Hand(&'a Guard),
    Sheath {
        route: &'a Route,
        radius: f64,
    },
    /// A lever or a rod on its way.
    Lever(&'a LeverSweep),
    /// The lever that the cable of the sheath itself pulls, and rods at its tip, on their way: the sheath's stop
    /// stands right before it, and its lead leads away from it; what comes behind must keep from it.
    OwnLever(&'a LeverSweep),
    /// All that lies in front of the plate's front face, in the audience's sight: no rule keeps a sheath's
    /// lead out of it.
    Face,
    /// The plane that a pair of sheaths mirror each other in: `side` is the one that this sheath is to stay on,
    /// 1 toward +x.
    Mirror {
        side: f64,
    },
}

/// The balls, ring sweeps, lid sweeps and lugs of all eyes.
pub(crate) fn of_eyes(project: &Project, laid: &Laid) -> Vec<Obstacle<'static>> {
    let of_eye = |(of, eye): (usize, &LaidEye)| {
        let centre = eye.ball_centre().map(Place::from);
        let ball = centre.zip(eye.seat.as_ref().ok()).map(|(centre, seat)| {
            let radius = seat.ball_radius;
            Body::Ball { centre, radius }
        });
        let ring = ring(eye, eye.working_tilt);
        let lids = laid_drive::lid_sweeps(project, of, eye, &laid.ranges).into_iter();
        ball.into_iter()
            .chain(ring)
            .chain(lids.map(Body::Lid))
            .chain(eye.lugs.into_iter().flatten().map(Body::Lug))
            .map(move |body| Obstacle { body, of })
            .collect::<Vec<_>>()
    };
    laid.eyes.iter().enumerate().flat_map(of_eye).collect()
}

/// The ring of an eye in its pose at rest.
pub(crate) fn ring_at_rest(of: usize, eye: &LaidEye) -> Option<Obstacle<'static>> {
    let body = ring(eye, 0.0)?;
    Some(Obstacle { body, of })
}

/// What the ring of an eye sweeps up to a tilt, radians.
fn ring(eye: &LaidEye, tilt: f64) -> Option<Body<'static>> {
    let (centre, ring) = eye.ball_centre().zip(eye.ring.as_ref().ok())?;
    let sweep = RingSweep::of(ring, centre.into(), tilt);
    let farthest = sweep.farthest();
    Some(Body::Ring { sweep, farthest })
}

/// All levers and rods on their way, as the sheath of a drive is to keep from them.
pub(crate) fn levers<'a>(laid: &'a Laid, drive: &Drive) -> impl Iterator<Item = Obstacle<'a>> {
    laid.levers.iter().map(|lever| {
        Obstacle::only(if lever.ends_at(drive.moves, drive.tip) {
            Body::OwnLever(lever)
        } else {
            Body::Lever(lever)
        })
    })
}

/// The nearest of some obstacles to those pieces of a centre line that are to keep from each, with the gap.
pub(crate) fn nearest<'o, 'a: 'o, 'p>(
    obstacles: impl IntoIterator<Item = &'o Obstacle<'a>>,
    pieces_of: impl Fn(&Obstacle<'a>) -> &'p [Piece],
) -> Option<(Near, &'o Obstacle<'a>)> {
    let mut by_bound: Vec<(f64, &Obstacle)> = { obstacles.into_iter() }
        .map(|obstacle| (obstacle.at_least(pieces_of(obstacle)), obstacle))
        .collect();
    by_bound.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let mut best = None::<(Near, &Obstacle)>;
    for (at_least, obstacle) in by_bound {
        let below = best.map_or(f64::INFINITY, |(near, _)| near.distance);
        if at_least >= below {
            break;
        }
        if let Some(near) = obstacle.near(pieces_of(obstacle), below) {
            best = Some((near, obstacle));
        }
    }
    best
}

/// Those of some obstacles that can be the nearest to what lies about a place and no farther than `reach` from it, mm.
pub(crate) fn near_place<'a>(
    obstacles: impl Iterator<Item = Obstacle<'a>>,
    place: Place,
    reach: f64,
) -> Vec<Obstacle<'a>> {
    let mut least = f64::INFINITY;
    let off: Vec<(f64, Obstacle)> = obstacles
        .map(|obstacle| {
            let off = obstacle.distance(place, least + reach);
            least = least.min(off);
            (off, obstacle)
        })
        .collect();
    let near = off.into_iter().filter(|(off, _)| off - reach <= least);
    near.map(|(_, obstacle)| obstacle).collect()
}

impl<'a> Obstacle<'a> {
    /// One of a kind.
    pub(crate) fn only(body: Body<'a>) -> Self {
        Self { body, of: 0 }
    }

    /// The sheath of a drive, if it can be laid.
    pub(crate) fn sheath(of: usize, laid: &'a LaidDrive) -> Option<Self> {
        let (route, radius) = (laid.sheath()?, laid.sheath_radius);
        let body = Body::Sheath { route, radius };
        Some(Self { body, of })
    }

    /// The same with other holes in it, if it is the plate.
    pub(crate) fn with_holes<'h>(&self, holes: &'h [CableHole]) -> Obstacle<'h>
    where
        'a: 'h,
    {
        let body = match self.body {
            Body::Plate {
                outline, thickness, ..
            } => Body::Plate {
                outline,
                holes,
                thickness,
            },
            body => body,
        };
        Obstacle { body, of: self.of }
    }

    /// Those pieces of a sheath's way that are to keep from it.
    pub(crate) fn pieces_of<'r>(&self, route: &'r Route) -> &'r [Piece] {
        match self.body {
            Body::OwnLever(_) => route.behind_lead(),
            _ => &route.pieces,
        }
    }

    /// The rule that says how far a sheath keeps from it.
    pub(crate) fn rule(&self) -> Rule {
        match self.body {
            Body::Plate { .. } | Body::Lug(_) => Rule::SheathPlate,
            Body::Ball { .. } => Rule::SheathBall,
            Body::Ring { .. } => Rule::SheathRing,
            Body::Lid(_) => Rule::SheathLid,
            Body::Wall(_) => Rule::SheathWall,
            Body::Mesh(_) | Body::Hand(_) => Rule::GuardClearance,
            Body::Sheath { .. } | Body::Mirror { .. } => Rule::SheathGap,
            Body::Lever(_) | Body::OwnLever(_) => Rule::SheathLever,
            Body::Face => Rule::InFront,
        }
    }

    /// Distance of a place from it, mm. Inside it is 0, or negative by how deep the place lies in a
    /// ball, a sheath or the place of the hand, or beyond the wall. Told a `best`, it may answer less
    /// than a distance above that, but no less than the best.
    pub(crate) fn distance(&self, place: Place, best: f64) -> f64 {
        self.distance_by(place, best, |outline, at| outline.room_around(at).distance)
    }

    /// The same with another way of finding the room around a point in plate or wall, mm.
    pub(crate) fn distance_by(
        &self,
        place: Place,
        best: f64,
        room: impl Fn(&Bounded, Point) -> f64,
    ) -> f64 {
        let point = Point::new(place.x, place.y);
        match &self.body {
            &Body::Plate {
                outline,
                holes,
                thickness,
            } => {
                let upright = place.z.max(-thickness - place.z).max(0.0);
                if upright < best {
                    let in_holes = holes.iter().map(|hole| hole.room_around(point));
                    let beside = in_holes.fold(-room(outline, point), f64::max);
                    upright.hypot(beside.max(0.0))
                } else {
                    upright
                }
            }
            &Body::Ball { centre, radius } => (place - centre).norm() - radius,
            &Body::Ring { sweep, farthest } => {
                let far = (place - sweep.centre).norm() - farthest;
                if far < best {
                    sweep.distance(place)
                } else {
                    far
                }
            }
            Body::Lid(sweep) => {
                let far = (place - sweep.centre).norm() - sweep.radius;
                if far < best {
                    sweep.distance(place)
                } else {
                    far
                }
            }
            Body::Lug(lug) => lug.distance(place),
            Body::Wall(wall) => room(wall, point),
            Body::Mesh(guard) => guard.distance(place.into()),
            Body::Hand(guard) => BesideHand(guard).off(place, best),
            &Body::Sheath { route, radius } => route
                .nearest(place)
                .map_or(f64::INFINITY, |near| near.distance - radius),
            Body::Lever(lever) | Body::OwnLever(lever) => lever.distance(place, best),
            Body::Face => -place.z,
            Body::Mirror { side } => side * place.x,
        }
    }

    /// A bound that its distance from the centre line of a sheath does not come below, mm: from a ball round
    /// the whole of it, where it has one.
    pub(crate) fn at_least(&self, pieces: &[Piece]) -> f64 {
        let (centre, radius) = match &self.body {
            &Body::Ball { centre, radius } => (centre, radius),
            Body::Ring { sweep, farthest } => (sweep.centre, *farthest),
            Body::Lid(sweep) => (sweep.centre, sweep.radius),
            Body::Lever(lever) | Body::OwnLever(lever) => lever.within(),
            _ => return f64::NEG_INFINITY,
        };
        space::nearest(pieces, centre).map_or(f64::INFINITY, |near| near.distance - radius)
    }

    /// Where the centre line of a sheath comes nearest to it and how near, if it comes nearer than
    /// `below`, mm.
    pub(crate) fn near(&self, pieces: &[Piece], below: f64) -> Option<Near> {
        let off = |at: Place, best: f64| self.distance(at, best);
        let within =
            |least: f64| space::least_within(pieces, least..below, space::PASSED_OVER, &off);
        match self.body {
            Body::Ball { centre, radius } => {
                let near = space::nearest(pieces, centre)?;
                let distance = near.distance - radius;
                (distance < below).then_some(Near { distance, ..near })
            }
            Body::Plate { .. }
            | Body::Mesh(_)
            | Body::Ring { .. }
            | Body::Lid(_)
            | Body::Lug(_) => within(0.0),
            Body::Sheath { route, radius } => {
                let below = below + radius;
                let near = space::nearest_pieces(pieces, &route.pieces, below)?;
                let distance = near.distance - radius;
                Some(Near { distance, ..near })
            }
            Body::Lever(lever) | Body::OwnLever(lever) => {
                lever.near(pieces, below, space::PASSED_OVER)
            }
            Body::Hand(guard) => {
                let range = f64::NEG_INFINITY..below;
                space::least_within(pieces, range, space::PASSED_OVER, &BesideHand(guard))
            }
            Body::Wall(_) | Body::Face | Body::Mirror { .. } => within(f64::NEG_INFINITY),
        }
    }

    /// What it is called.
    pub(crate) fn name(&self, project: &Project) -> String {
        let eye = |pattern: &str| wording::about(&project.eye_name(self.of), pattern);
        match self.body {
            Body::Plate { .. } => "the plate".to_owned(),
            Body::Ball { .. } => eye("the ball of the {}"),
            Body::Ring { .. } => eye("the ring of the {}"),
            Body::Lid(_) => eye("the lids of the {}"),
            Body::Lug(_) => eye("a lug of the {}"),
            Body::Wall(_) => "the head's wall".to_owned(),
            Body::Mesh(_) | Body::Hand(_) => "the guard".to_owned(),
            Body::Lever(lever) | Body::OwnLever(lever) => lever.name(project),
            Body::Face => "the plate, which it must stay behind,".to_owned(),
            Body::Mirror { .. } => "its own mirror image".to_owned(),
            Body::Sheath { .. } => {
                wording::about(&project.drives[self.of].name, "the sheath of the {}")
            }
        }
    }
}
