//! What sheaths keep from everything, against places every 0.05 mm along them.

use std::f64::consts::TAU;

use approx::assert_abs_diff_eq;
use geo::{Distance, Euclidean};
use layout::drive::{Drive, End, Moves, Turn};
use layout::geometry::Point;
use layout::geometry::space::{Piece, Place};
use layout::lid::{Lids, Which};
use layout::lug::Lug;
use layout::report::DriveFigures;
use layout::route::Route;
use layout::{Degrees, Laid, Project, evaluate, evaluate_laid};

use crate::common::{Random, lidded_pair, random_lids, star};
use crate::guard_levers::off_guard;

/// Distance of the places that are looked at, mm.
const STEP: f64 = 0.05;

/// How near margins must come to what is sampled, mm.
const AGREED: f64 = 0.02;

/// The same at the guard, mm.
const AGREED_AT_GUARD: f64 = 1e-3;

const HEADS: usize = 100;

fn random_drive(random: &mut Random, name: &str, eye: usize, like: &Drive) -> Drive {
    let side = if eye == 0 { -1.0 } else { 1.0 };
    let mut near = |half: f64| random.between(-half, half);
    let mut drive = Drive {
        name: name.to_owned(),
        tip: [side * (30.0 + near(3.0)), -12.0 + near(4.0), near(3.0)],
        exit: [
            side * 45.0 + near(25.0),
            -75.0 + near(25.0),
            -35.0 + near(20.0),
        ],
        moves: Moves::Lid {
            eye,
            which: Which::Upper,
        },
        near: End::Closed,
        ..like.clone()
    };
    if random.one_in(2) {
        drive.moves = Moves::Gaze {
            eye,
            turn: Turn::Side,
        };
        drive.near = random.pick(&[End::Low, End::High]);
        drive.tip = [0.0, random.between(-20.0, 20.0), -30.0];
    }
    drive.cable.sheath_diameter = random.between(1.0, 5.0);
    drive.cable.least_bend_radius = random.between(8.0, 30.0);
    if random.one_in(2) {
        let out = random.point(60.0);
        drive.via.push([out.x, out.y, random.between(-45.0, 25.0)]);
    }
    drive
}

fn random_head(random: &mut Random) -> Project {
    let mut project = lidded_pair();
    let mut lids = random_lids(random);
    lids.upper = project.parts.lids.and_then(|lids| lids.upper);
    project.parts.lids = Some(lids);
    project.head.outline = star(random, 14, 75.0, 120.0);
    project.head.smooth = random.one_in(2);
    project.gaze.side = Degrees(random.between(5.0, 35.0));
    project.hand.guard_edge = random.between(10.0, 30.0);
    let like = project.drives[0].clone();
    let drives = [("a", 0), ("b", 1), ("c", 1)];
    project.drives = drives
        .map(|(name, eye)| random_drive(random, name, eye, &like))
        .into();
    project
}

/// Places every 0.05 mm along a sheath.
fn walk(route: &Route) -> Vec<Place> {
    let pieces = route.pieces.iter();
    let along = pieces.flat_map(|piece| {
        shares(piece, STEP, [0.0, 1.0])
            .into_iter()
            .map(|at| piece.at(at))
    });
    along.collect()
}

/// Shares of a piece's length from one to another, no farther apart than `step`, mm.
fn shares(piece: &Piece, step: f64, [from, to]: [f64; 2]) -> Vec<f64> {
    let count = (piece.length() * (to - from) / step).ceil().max(1.0);
    let steps = std::iter::successors(Some(0.0), move |k| (*k < count).then_some(k + 1.0));
    steps.map(|k| from + (to - from) * k / count).collect()
}

/// The least that a sheath is off something whose distance changes no faster than a place moves: of places every 0.05 mm
/// along it, and where one between two of them could be nearer still, of others a hundred times as close.
fn least_along(route: &Route, off: impl Fn(Place) -> f64) -> f64 {
    let coarse = least(&walk(route), |at| off(*at));
    let pieces = route.pieces.iter();
    let nearer = pieces.flat_map(|piece| {
        let steps = shares(piece, STEP, [0.0, 1.0]);
        let pairs: Vec<[f64; 2]> = steps.windows(2).map(|pair| [pair[0], pair[1]]).collect();
        let near = pairs
            .into_iter()
            .filter(|[from, _]| off(piece.at(*from)) < coarse + STEP);
        let between = near.flat_map(|pair| shares(piece, STEP / 100.0, pair));
        between
            .map(|share| off(piece.at(share)))
            .collect::<Vec<_>>()
    });
    nearer.fold(coarse, f64::min)
}

fn least(places: &[Place], distance: impl FnMut(&Place) -> f64) -> f64 {
    places.iter().map(distance).fold(f64::INFINITY, f64::min)
}

fn compare(found: Option<f64>, distance: f64, radius: f64, what: &str) {
    let found = found.unwrap_or_else(|| panic!("no figure of the {what}"));
    assert!(
        found <= distance - radius + 1e-9 + AGREED,
        "{what}: {found} {distance}"
    );
    assert_abs_diff_eq!(found, distance - radius, epsilon = AGREED);
}

/// Distance from a point to a closed polygon of points, 0 inside, by its edges and turns.
fn to_polygon(corners: &[[f64; 2]], at: [f64; 2]) -> f64 {
    let mut nearest = f64::INFINITY;
    let mut turned = 0.0;
    for (index, a) in corners.iter().enumerate() {
        let b = corners[(index + 1) % corners.len()];
        let (along, to) = ([b[0] - a[0], b[1] - a[1]], [at[0] - a[0], at[1] - a[1]]);
        let squared = along[0] * along[0] + along[1] * along[1];
        let share = ((to[0] * along[0] + to[1] * along[1]) / squared).clamp(0.0, 1.0);
        let off = [to[0] - along[0] * share, to[1] - along[1] * share];
        nearest = nearest.min(off[0].hypot(off[1]));
        let other = [at[0] - b[0], at[1] - b[1]];
        let angle =
            (to[0] * other[1] - to[1] * other[0]).atan2(to[0] * other[0] + to[1] * other[1]);
        turned += angle;
    }
    if turned.abs() > TAU / 2.0 {
        0.0
    } else {
        nearest
    }
}

/// Distance from a place to a ring that is turned by many tilts, each to the place's own side.
fn to_ring(project: &Project, centre: Place, place: Place) -> f64 {
    let ring = project.parts.ring;
    let (radius, back) = (20.0_f64, ring.depth + ring.thickness);
    let bore = |depth: f64| (radius * radius - depth * depth).sqrt();
    let outer = ring.outer_diameter / 2.0;
    let section = [
        [bore(ring.depth), ring.depth],
        [outer - ring.bevel, ring.depth],
        [outer, ring.depth + ring.bevel],
        [outer, back],
        [bore(back), back],
    ];
    let out = place - centre;
    let at = [out.x.hypot(out.y), -out.z];
    let tilt = layout::gaze::tilt(project.gaze.side.radians(), project.gaze.lift.radians());
    let turned = |angle: f64| {
        let (sin, cos) = angle.sin_cos();
        to_polygon(
            &section,
            [at[0] * cos - at[1] * sin, at[1] * cos + at[0] * sin],
        )
    };
    let mut best = (f64::INFINITY, 0.0);
    let mut look = |angle: f64| {
        let here = turned(angle);
        if here < best.0 {
            best = (here, angle);
        }
        best.1
    };
    let (coarse, fine) = (60, 40);
    let mut middle = 0.0;
    for step in -coarse..=coarse {
        middle = look(tilt * f64::from(step) / f64::from(coarse));
    }
    let width = tilt / f64::from(coarse);
    for step in -fine..=fine {
        let angle = middle + width * f64::from(step) / f64::from(fine);
        look(angle.clamp(-tilt, tilt));
    }
    best.0
}

/// Distance from a place to the part of a ball that a lid passes: its half-discs at many angles, and at more and more
/// about the nearest.
fn to_lids(lids: &Lids, centre: Place, place: Place) -> f64 {
    let radius = 20.0 + lids.gap + lids.shell;
    let out = place - centre;
    let mut least = f64::INFINITY;
    for (lid, up) in [(lids.upper, 1.0), (lids.lower, -1.0)] {
        let Some(lid) = lid else { continue };
        let [from, to] = [
            lid.open.radians().min(lid.closed.radians()),
            lid.open.radians().max(lid.closed.radians()) + lid.extent.radians(),
        ];
        let off = |angle: f64| {
            // The half-disc's own plane: along the axis, outward, and square to both.
            let outward = [up * angle.sin(), angle.cos()];
            let along = out.y * outward[0] + out.z * outward[1];
            let square = out.y * outward[1] - out.z * outward[0];
            let in_disc = along.max(0.0);
            let beyond = (out.x.hypot(in_disc) - radius).max(0.0);
            let behind = (-along).max(0.0);
            square.hypot(beyond.hypot(behind))
        };
        let (mut low, mut high, mut steps) = (from, to, 200);
        while high - low > 1e-4 {
            let width = (high - low) / f64::from(steps);
            let angles = (0..=steps).map(|step| low + width * f64::from(step));
            let nearest = angles.min_by(|a, b| off(*a).total_cmp(&off(*b)));
            let nearest = nearest.expect("there are some");
            least = least.min(off(nearest));
            (low, high, steps) = ((nearest - width).max(from), (nearest + width).min(to), 10);
        }
    }
    least
}

/// Distance from a place to a lug: a bar from the plate up to the pivot with a half-circle on top, cut from a slab.
fn to_lug(lug: &Lug, place: Place) -> f64 {
    let (half, y, top) = (lug.width / 2.0, lug.centre.y, lug.pivot_height);
    let round = (0..=400).map(|step| {
        let (sin, cos) = (TAU / 2.0 * f64::from(step) / 400.0).sin_cos();
        Point::new(y + half * cos, top + half * sin)
    });
    let foot = [Point::new(y - half, 0.0), Point::new(y + half, 0.0)];
    let corners: Vec<Point> = foot.into_iter().chain(round).collect();
    let profile = polygon(&corners, Vec::new());
    let level = Euclidean.distance(&geo::Point::new(place.y, place.z), &profile);
    let along = ((place.x - lug.centre.x).abs() - lug.thickness / 2.0).max(0.0);
    along.hypot(level)
}

fn polygon(corners: &[Point], holes: Vec<geo::LineString>) -> geo::Polygon {
    geo::Polygon::new(line(corners), holes)
}

fn line(corners: &[Point]) -> geo::LineString {
    corners.iter().map(|at| (at.x, at.y)).collect()
}

struct Case {
    project: Project,
    laid: Laid,
    figures: Vec<DriveFigures>,
}

fn cases(seed: u64) -> impl Iterator<Item = Case> {
    let mut random = Random::new(seed);
    (0..HEADS).map(move |_| {
        let project = random_head(&mut random);
        let laid = Laid::out(&project);
        let figures = evaluate_laid(&project, &laid).figures.drives;
        Case {
            project,
            laid,
            figures,
        }
    })
}

impl Case {
    /// Every sheath that can be laid: its index, its places and the tube's radius.
    fn sheaths(&self) -> impl Iterator<Item = (usize, Vec<Place>, f64)> + '_ {
        self.laid
            .drives
            .iter()
            .enumerate()
            .filter_map(|(index, drive)| Some((index, walk(drive.sheath()?), drive.sheath_radius)))
    }

    fn centres(&self) -> [Place; 2] {
        [0, 1].map(|eye| {
            let [x, y] = self.project.eyes[eye].centre;
            Place::new(x, y, 4.0)
        })
    }
}

#[test]
fn the_margins_to_balls_and_walls_are_those_of_places_along_the_sheath() {
    let (mut outside, mut tested) = (0, 0);
    for case in cases(161) {
        let wall = polygon(&case.laid.wall, Vec::new());
        for (index, places, radius) in case.sheaths() {
            let figures = &case.figures[index];
            let to_ball = |at: &Place| {
                let off = case.centres().map(|centre| (at - centre).norm());
                off[0].min(off[1]) - 20.0
            };
            compare(
                figures.sheath_ball_mm,
                least(&places, to_ball),
                radius,
                "ball",
            );
            let to_wall = |at: &Place| {
                let point = geo::Point::new(at.x, at.y);
                let edge = Euclidean.distance(&point, wall.exterior());
                if geo::Contains::contains(&wall, &point) {
                    edge
                } else {
                    -edge
                }
            };
            let off_wall = least(&places, to_wall);
            compare(figures.sheath_wall_mm, off_wall, radius, "wall");
            tested += 1;
            outside += u32::from(off_wall < 0.0);
        }
    }
    assert!(tested > 150 && outside > 20, "{outside} of {tested}");
}

#[test]
fn the_margins_to_what_rings_sweep_are_those_of_a_ring_that_is_turned() {
    let mut inside = 0;
    for case in cases(162) {
        for (index, places, radius) in case.sheaths() {
            // Far places do not matter; a tenth of the rest tells which ones to look at closely.
            let off = |at: &Place| {
                let rings = case
                    .centres()
                    .map(|centre| to_ring(&case.project, centre, *at));
                rings[0].min(rings[1])
            };
            let rough: Vec<(usize, f64)> = places
                .iter()
                .enumerate()
                .step_by(20)
                .map(|(place, at)| (place, off(at)))
                .collect();
            let nearest = rough
                .iter()
                .map(|(_, off)| *off)
                .fold(f64::INFINITY, f64::min);
            // No place is nearer than one a millimetre away by more than that.
            let close = rough.iter().filter(|(_, off)| *off <= nearest + 1.0);
            let mut distance = nearest;
            for &(place, _) in close {
                let around = place.saturating_sub(20)..(place + 20).min(places.len());
                distance = distance.min(least(&places[around], off));
            }
            compare(case.figures[index].sheath_ring_mm, distance, radius, "ring");
            inside += u32::from(distance == 0.0);
        }
    }
    assert!(inside > 5, "{inside}");
}

#[test]
fn the_margins_to_lids_are_those_of_lids_that_are_turned() {
    let mut tested = 0;
    for case in cases(163) {
        let lids = case.project.parts.lids.as_ref().unwrap();
        for (index, places, radius) in case.sheaths() {
            let off = |at: &Place| {
                let lids = case.centres().map(|centre| to_lids(lids, centre, *at));
                lids[0].min(lids[1])
            };
            let distance = least(&places, off);
            compare(case.figures[index].sheath_lid_mm, distance, radius, "lids");
            tested += 1;
        }
    }
    assert!(tested > 150);
}

#[test]
fn the_margins_to_plate_and_lugs_leave_the_sheath_s_own_holes_open() {
    let mut through = 0;
    for case in cases(164) {
        let lugs: Vec<Lug> = case
            .laid
            .eyes
            .iter()
            .filter_map(|eye| eye.lugs)
            .flatten()
            .collect();
        for (index, places, radius) in case.sheaths() {
            let drive = &case.laid.drives[index];
            let holes = drive
                .holes
                .iter()
                .map(|hole| line(&hole.outline().flattened()));
            let plate = polygon(&case.laid.plate.flattened(), holes.collect());
            let off = |at: &Place| {
                let beside = Euclidean.distance(&geo::Point::new(at.x, at.y), &plate);
                let of_plate = beside.hypot(at.z.max(-3.0 - at.z).max(0.0));
                let near =
                    |lug: &&Lug| (lug.centre - Point::new(at.x, at.y)).norm() < of_plate + 20.0;
                let lugs = lugs.iter().filter(near).map(|lug| to_lug(lug, *at));
                lugs.fold(of_plate, f64::min)
            };
            let breaks_edge = drive.holes.iter().any(|hole| {
                let [a, b] = hole.ends;
                let edge =
                    |at: Point| Euclidean.distance(&geo::Point::new(at.x, at.y), plate.exterior());
                edge(a).min(edge(b)) < hole.radius
            });
            // Two holes in one are no polygon with holes.
            if !breaks_edge && drive.holes.len() <= 1 {
                compare(
                    case.figures[index].sheath_plate_mm,
                    least(&places, off),
                    radius,
                    "plate",
                );
                through += u32::from(!drive.holes.is_empty());
            }
        }
    }
    assert!(through > 30, "{through}");
}

#[test]
fn the_gaps_between_sheaths_are_those_of_places_along_both() {
    let mut tested = 0;
    for case in cases(165) {
        let sheaths: Vec<_> = case.sheaths().collect();
        for (index, places, radius) in &sheaths {
            let others = sheaths.iter().filter(|(other, ..)| other != index);
            let gaps = others.map(|(_, theirs, their_radius)| {
                let coarse: Vec<&Place> = theirs.iter().step_by(4).collect();
                let off = |at: &Place| {
                    let near = coarse.iter().map(|other| (at - *other).norm_squared());
                    near.fold(f64::INFINITY, f64::min).sqrt()
                };
                // Every 0.2 mm, then every 0.05 mm about the nearest.
                let nearest = places
                    .iter()
                    .step_by(4)
                    .map(off)
                    .fold(f64::INFINITY, f64::min);
                let close: Vec<&Place> = places
                    .iter()
                    .filter(|at| off(at) <= nearest + 0.2)
                    .collect();
                let mut distance = nearest;
                for at in close {
                    distance = distance.min(least(theirs, |other| (at - other).norm()));
                }
                distance - radius - their_radius
            });
            if let Some(gap) = gaps.reduce(f64::min) {
                compare(case.figures[*index].sheath_gap_mm, gap, 0.0, "other sheath");
                tested += 1;
            }
        }
    }
    assert!(tested > 100, "{tested}");
}

#[test]
fn the_margins_to_the_guard_are_those_to_its_mesh_and_behind_it_fouls() {
    let (mut beside, mut behind) = (0, 0);
    for case in cases(166) {
        let (hand, thickness) = (&case.project.hand, case.project.plate.thickness);
        for (index, _, radius) in case.sheaths() {
            let route = case.laid.drives[index].sheath().unwrap();
            let distance = least_along(route, |at| off_guard(hand, thickness, at.into()));
            let found = case.figures[index].sheath_guard_mm.unwrap();
            assert_abs_diff_eq!(found, distance - radius, epsilon = AGREED_AT_GUARD);
            if distance < 0.0 {
                behind += 1;
            } else {
                beside += 1;
            }
        }
    }
    assert!(beside > 100 && behind > 5, "{beside} {behind}");
}

#[test]
fn a_sheath_whose_exit_lies_in_a_ball_fouls() {
    let mut project = lidded_pair();
    project.drives[0].exit = [-29.0, 0.0, 4.0];
    project.drives[0].cable.least_bend_radius = 5.0;
    let report = evaluate(&project);
    let found = report.findings.iter().find(|f| f.id == "sheath_ball");
    let found = found.expect("the sheath can be laid");
    assert_eq!(found.state, layout::State::Fouls);
    assert_abs_diff_eq!(found.value.unwrap(), -21.5, epsilon = AGREED);
}
