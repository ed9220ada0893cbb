//! What levers and rods pass on their way, as bodies in space, and how far a place lies from them.

use std::f64::consts::{FRAC_PI_2, PI};

use crate::drive::{Moves, Turn};
use crate::geometry::Point;
use crate::geometry::outline::Outline;
use crate::geometry::space::{self, Bend, Near, Off, Piece, Place, Way};
use crate::laid::LaidEye;
use crate::lever::{THICKNESS, WIDTH};
use crate::linkage::Linkage;
use crate::project::Project;
use crate::ranges::Ranges;
use crate::rod::Rod;
use crate::rod_sweep::RodSweep;
use crate::turned::{Pose, Turned};
use crate::turning::{BothTurns, Turning};
use crate::wording;

/// What a lever or a rod belongs to, by its index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Owner {
    Drive(usize),
    Rod(usize),
}

/// A lever or a rod on its way. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct LeverSweep {
    pub(crate) owner: Owner,
    /// What turns each of its ends that moves, and where that end is at rest: one of a lever, two of a rod.
    ends: Vec<(Moves, [f64; 3])>,
    /// What all of it lies within `farthest` from.
    centre: Place,
    farthest: f64,
    shape: Shape,
}

#[derive(Clone, Debug, PartialEq)]
enum Shape {
    /// A flat bar that turns in its own plane, square to `axis`.
    Bar { turn: Turning, half_width: f64 },
    /// A round stalk that turns about each of some axes, and between these where both turns are used together.
    Stalk {
        turns: Vec<Turning>,
        both: Option<BothTurns>,
        radius: f64,
    },
    /// A round rod.
    Rod(RodSweep),
}

impl LeverSweep {
    /// Whether one of its ends is at a tip that turns a part.
    pub(crate) fn ends_at(&self, moves: Moves, tip: [f64; 3]) -> bool {
        let mut ends = self.ends.iter();
        ends.any(|(own, at)| own.is_of_same_part(moves) && *at == tip)
    }

    /// Whether it ends at a tip of a rod, or is a rod itself.
    pub(crate) fn is_of_rod(&self, rod: &Rod) -> bool {
        let mut tips = rod.ends().into_iter();
        self.is_rod() || tips.any(|(moves, tip)| self.ends_at(moves, tip))
    }

    /// Whether it turns along with an eye.
    pub(crate) fn is_on(&self, eye: usize) -> bool {
        let is_gaze = |moves: Moves| matches!(moves, Moves::Gaze { .. }) && moves.eye() == eye;
        self.ends.iter().any(|(moves, _)| is_gaze(*moves))
    }

    /// Whether it turns along with what a rod ties.
    pub(crate) fn turns_along(&self, rod: &Rod) -> bool {
        let ends = rod.ends();
        let mut parts = self.ends.iter().map(|(moves, _)| *moves);
        parts.any(|moves| ends.iter().any(|(own, _)| own.is_of_same_part(moves)))
    }

    /// The eye of the lid that it is the lever of, and where the middle of the lever comes nearest to a place; None
    /// of anything else.
    pub(crate) fn lid_lever(&self, place: Place) -> Option<(usize, Place)> {
        let Shape::Bar { turn, .. } = &self.shape else {
            return None;
        };
        let (moves, _) = self.ends.first()?;
        Some((moves.eye(), turn.nearest(place)))
    }

    /// What it is called as a part.
    pub(crate) fn part(&self, project: &Project) -> String {
        match self.owner {
            Owner::Drive(drive) => wording::lever(&project.drives[drive].name),
            Owner::Rod(rod) if self.is_rod() => project.rods[rod].name.clone(),
            Owner::Rod(rod) => wording::lever(&project.rods[rod].name),
        }
    }

    /// The same in a sentence.
    pub(crate) fn name(&self, project: &Project) -> String {
        let part = self.part(project);
        if self.is_rod() {
            wording::about(&part, "the {}")
        } else {
            format!("the {part}")
        }
    }

    /// If it is a rod, the rod's index and its places on its way.
    pub(crate) fn rod(&self) -> Option<(usize, &RodSweep)> {
        match (self.owner, &self.shape) {
            (Owner::Rod(index), Shape::Rod(sweep)) => Some((index, sweep)),
            _ => None,
        }
    }

    fn is_rod(&self) -> bool {
        self.rod().is_some()
    }

    /// The edge round what the lever of a lid passes, in the plane of its middle, and the lever's axis: outward along
    /// one side of its first place, and back along the other side of its last one. Its inner corner is left out where
    /// the lever turns by more than a half turn. None of anything else.
    pub(crate) fn edge_of_bar(&self) -> Option<(Vec<Piece>, Way)> {
        let Shape::Bar { turn, half_width } = &self.shape else {
            return None;
        };
        let (axis, centre, swept) = (turn.axis, turn.centre, 2.0 * turn.half);
        let [first, last] = turn.ends.map(|end| centre + end);
        let [first_out, last_out] = turn.ends.map(|end| end.try_normalize(0.0));
        let (first_out, last_out) = (first_out?, last_out?);
        let arc = |centre: Place, radius: f64, out: Way, sweep: f64| {
            let heading = axis.cross(&out);
            Piece::Bend(Bend {
                centre,
                radius,
                out,
                heading,
                sweep,
            })
        };
        let (ahead, behind) = (axis.cross(&last_out), -axis.cross(&first_out));
        let beside = |place: Place, side: Way| place + side * *half_width;
        let length = turn.ends[0].norm();
        let round = [
            Piece::straight(beside(centre, behind), beside(first, behind)),
            arc(first, *half_width, behind, FRAC_PI_2),
            arc(centre, length + half_width, first_out, swept),
            arc(last, *half_width, last_out, FRAC_PI_2),
            Piece::straight(beside(last, ahead), beside(centre, ahead)),
        ];
        let root = (swept < PI).then(|| arc(centre, *half_width, ahead, PI - swept));
        Some((round.into_iter().chain(root).collect(), axis))
    }

    /// What the lever of a lid takes in plan over its turn, and the index of its eye; None of anything else.
    pub(crate) fn plan_of_bar(&self) -> Option<(usize, Outline)> {
        let (edge, _) = self.edge_of_bar()?;
        let (moves, _) = self.ends.first()?;
        let heights = |toward: Way| edge.iter().map(move |piece| piece.farthest(toward).y);
        let low = heights(-Way::y()).fold(f64::INFINITY, f64::min);
        let high = heights(Way::y()).fold(f64::NEG_INFINITY, f64::max);
        let x = edge.first()?.at(0.0).x;
        let (left, right) = (x - THICKNESS / 2.0, x + THICKNESS / 2.0);
        let corners = [[right, low], [right, high], [left, high], [left, low]];
        Some((moves.eye(), Outline::polygon(&corners.map(Point::from))))
    }

    /// A ball that all of it lies within: its centre and radius.
    pub(crate) fn within(&self) -> (Place, f64) {
        (self.centre, self.farthest)
    }

    /// How deep a place can lie in it, mm: all along its middle it is as deep.
    fn deepest(&self) -> f64 {
        match &self.shape {
            Shape::Bar { half_width, .. } => half_width.min(THICKNESS / 2.0),
            Shape::Stalk { radius, .. } => *radius,
            Shape::Rod(sweep) => sweep.radius,
        }
    }

    /// Where a curve comes nearest to it and how near, if nearer than `below`, mm; a place that is nearer by no more
    /// than `passed_over`, mm, may be passed over.
    pub(crate) fn near(&self, pieces: &[Piece], below: f64, passed_over: f64) -> Option<Near> {
        space::least_within(pieces, -self.deepest()..below, passed_over, self)
    }

    /// Distance of a place from it; 0 or less inside. Told a `best`, it may answer less than a distance above
    /// that, but no less than the best.
    pub(crate) fn distance(&self, place: Place, best: f64) -> f64 {
        let far = (place - self.centre).norm() - self.farthest;
        if far >= best {
            return far;
        }
        match &self.shape {
            Shape::Bar { turn, half_width } => {
                let beside = turn.beside(place);
                let level = place - turn.axis * beside;
                let off = turn.distance(level) - half_width;
                let beyond = beside.abs() - THICKNESS / 2.0;
                beyond.max(0.0).hypot(off.max(0.0)) + beyond.max(off).min(0.0)
            }
            Shape::Stalk {
                turns,
                both,
                radius,
            } => {
                let between = both.and_then(|both| both.distance(place - self.centre));
                let nearest = turns.iter().map(|turn| turn.distance(place));
                nearest.chain(between).fold(f64::INFINITY, f64::min) - radius
            }
            Shape::Rod(sweep) => sweep.distance(place, best),
        }
    }
}

impl Off for LeverSweep {
    fn off(&self, place: Place, best: f64) -> f64 {
        self.distance(place, best)
    }

    /// All but a bar are as far from a place as their middle line, less a radius. In a bar a place is as deep as it
    /// is behind the nearer face, or less.
    fn at_least(&self, piece: &Piece, shares: [f64; 2], ends: [f64; 2]) -> f64 {
        let deepest = self.deepest();
        let Shape::Bar { turn, .. } = &self.shape else {
            return space::least_between(piece, shares, ends.map(|end| end + deepest)) - deepest;
        };
        let usual = space::least_between(piece, shares, ends);
        if usual > 0.0 {
            return usual;
        }
        let beside = shares.map(|share| turn.beside(piece.at(share)));
        let behind_face = space::least_of_line(beside) - piece.rise(shares) - THICKNESS / 2.0;
        usual.max(behind_face.min(0.0))
    }
}

/// The levers of all drives and rods that can turn something, and the rods.
pub(crate) fn of_project(
    project: &Project,
    eyes: &[LaidEye],
    rods: &[Option<&Linkage>],
    ranges: &Ranges,
) -> Vec<LeverSweep> {
    let lever = |owner, moves: Moves, tip: [f64; 3]| {
        let eye = eyes.get(moves.eye())?;
        let turned = Turned::of(project, moves)?;
        let range = ranges.of(project, moves)?;
        let centre = Place::from(eye.ball_centre()?);
        let shape = match moves {
            Moves::Lid { .. } => bar(project, moves, turned, centre, tip.into(), range),
            Moves::Gaze { eye: index, .. } => {
                let radius = eye.seat.as_ref().ok()?.ball_radius;
                stalk(project, index, centre, tip.into(), radius, ranges)?
            }
        };
        let beside = match &shape {
            Shape::Bar { half_width, .. } => half_width + THICKNESS / 2.0,
            Shape::Stalk { radius, .. } => *radius,
            Shape::Rod(sweep) => sweep.radius,
        };
        Some(LeverSweep {
            owner,
            ends: vec![(moves, tip)],
            centre,
            farthest: Way::from(tip).norm() + beside,
            shape,
        })
    };
    let drives = project.drives.iter().enumerate();
    let of_drives =
        drives.filter_map(|(index, drive)| lever(Owner::Drive(index), drive.moves, drive.tip));
    let with_rods = project.rods.iter().zip(rods).enumerate();
    let of_rods = with_rods.filter_map(|(index, (rod, linkage))| Some((index, rod, (*linkage)?)));
    let of_rods = of_rods.flat_map(|(index, rod, linkage)| {
        let ends = rod.ends().into_iter();
        let levers = ends.filter_map(move |(moves, tip)| lever(Owner::Rod(index), moves, tip));
        let sweep = RodSweep::of(linkage, rod.diameter / 2.0);
        let (centre, farthest) = sweep.within();
        levers.chain([LeverSweep {
            owner: Owner::Rod(index),
            ends: rod.ends().into(),
            centre,
            farthest,
            shape: Shape::Rod(sweep),
        }])
    });
    of_drives.chain(of_rods).collect()
}

/// The stalks on an eye, those of cables and rods, as it looks straight ahead.
pub(crate) fn stalks_at_rest(project: &Project, of: usize, eye: &LaidEye) -> Vec<LeverSweep> {
    let (Some(centre), Ok(seat)) = (eye.ball_centre(), &eye.seat) else {
        return Vec::new();
    };
    let centre = Place::from(centre);
    let stalk = |(owner, moves, at): (Owner, Moves, [f64; 3])| {
        let turns_it = matches!(moves, Moves::Gaze { eye, .. } if eye == of);
        let tip = Way::from(at);
        let from = (seat.ball_radius / tip.norm()).min(1.0);
        turns_it.then(|| LeverSweep {
            owner,
            ends: vec![(moves, at)],
            centre,
            farthest: tip.norm() + WIDTH / 2.0,
            shape: Shape::Stalk {
                turns: vec![Turning::new(centre, Way::y(), tip, from, [0.0; 2])],
                both: None,
                radius: WIDTH / 2.0,
            },
        })
    };
    let drives = project.drives.iter().enumerate();
    let drives = drives.map(|(index, drive)| (Owner::Drive(index), drive.moves, drive.tip));
    let rods = project.rods.iter().enumerate().flat_map(|(index, rod)| {
        let ends = rod.ends().into_iter();
        ends.map(move |(moves, tip)| (Owner::Rod(index), moves, tip))
    });
    drives.chain(rods).filter_map(stalk).collect()
}

/// The lever of a lid: from the pivot axis beside the lid to its tip.
fn bar(
    project: &Project,
    moves: Moves,
    turned: Turned,
    centre: Place,
    tip: Way,
    range: [f64; 2],
) -> Shape {
    let lids = project.parts_of(moves.eye()).lids.as_ref();
    let rest = turned.rest();
    let [from, to] = range.map(|end| end - rest.own);
    Shape::Bar {
        turn: Turning::new(
            centre + Way::x() * tip.x,
            turned.axis(rest),
            Way::new(0.0, tip.y, tip.z),
            0.0,
            [from.min(to), from.max(to)],
        ),
        half_width: lids.map_or(WIDTH, |lids| lids.lever_width) / 2.0,
    }
}

/// The stalk of a gaze: from the ball outward. It turns to the side at each of some lifts where both are used
/// together; else to the side, and up and down.
fn stalk(
    project: &Project,
    eye: usize,
    centre: Place,
    tip: Way,
    ball: f64,
    ranges: &Ranges,
) -> Option<Shape> {
    let [side, lift] = [Turn::Side, Turn::Lift];
    let of = |turn| ranges.of(project, Moves::Gaze { eye, turn });
    let ([left, right], [down, up]) = (of(side)?, of(lift)?);
    // Every turned tip is as far out as the tip at rest.
    let from = (ball / tip.norm()).min(1.0);
    let turning = |axis, tip, range| Turning::new(centre, axis, tip, from, range);
    let posed = |own, other| Turned::Lift.turn(Pose { own, other }, tip);
    let together = project.gaze.together;
    let turns = if together {
        let to_side = |lift| turning(Way::y(), posed(lift, 0.0), [left, right]);
        let lifted = |side: f64| {
            let pose = Pose {
                own: 0.0,
                other: side,
            };
            turning(Turned::Lift.axis(pose), posed(0.0, side), [down, up])
        };
        vec![to_side(down), to_side(up), lifted(left), lifted(right)]
    } else {
        vec![
            turning(Way::y(), tip, [left, right]),
            turning(-Way::x(), tip, [down, up]),
        ]
    };
    let both = together.then_some(BothTurns {
        tip,
        from,
        side: [left, right],
        lift: [down, up],
    });
    Some(Shape::Stalk {
        turns,
        both,
        radius: WIDTH / 2.0,
    })
}
