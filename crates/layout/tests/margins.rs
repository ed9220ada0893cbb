//! Every margin against a distance found another way.
//!
//! The other side takes the shapes from the model's numbers where they are simple (discs, slots,
//! a straight wall) and as very fine polygons where they are not, and measures with geo, or by
//! cutting the curve into ever smaller pieces wherever the answer may still lie.

use std::f64::consts::TAU;
use std::sync::LazyLock;

use approx::assert_abs_diff_eq;
use geo::{BoundingRect, Contains, Distance, Euclidean, Intersects};
use layout::evaluate_laid;
use layout::geometry::Point;
use layout::geometry::segment::Segment;
use layout::limits::Rule;
use layout::plate::PlateOutline;
use layout::seat::Seat;
use layout::tie::TieSlot;
use layout::{Degrees, Finding, Laid, Project, Report};

use crate::common::{Random, eye, pair, star};

const PROJECTS: usize = 240;

/// What two margins may differ by, mm.
const EXACT: f64 = 1e-6;

/// How far the fine polygon of an outline may lie from it, mm.
const FINE: f64 = 1e-7;

/// What a depth that was searched for may differ by, mm.
const SEARCHED: f64 = 1e-4;

struct Case {
    project: Project,
    laid: Laid,
    report: Report,
    /// The plate as a very fine polygon.
    plate: geo::Polygon,
    wall: geo::Polygon,
}

fn to_geo(points: impl IntoIterator<Item = Point>) -> geo::Polygon {
    let ring: geo::LineString = points
        .into_iter()
        .map(|p| geo::coord! { x: p.x, y: p.y })
        .collect();
    geo::Polygon::new(ring, Vec::new())
}

fn fine(segments: &[Segment]) -> geo::Polygon {
    let points = segments.iter().flat_map(|segment| match *segment {
        Segment::Line(line) => vec![line.start],
        Segment::Arc(arc) => {
            // A chord over the angle a lies r·a²/8 from its arc.
            let step = (8.0 * FINE / arc.radius.max(FINE)).sqrt();
            let mut points = vec![arc.start()];
            let mut turned = step;
            while turned < arc.sweep.abs() {
                points.push(arc.at(arc.start_angle + turned * arc.sweep.signum()));
                turned += step;
            }
            points
        }
    });
    to_geo(points)
}

/// A random project: one to four eyes, some with parts of their own, up to five slots, heads of
/// every shape, all styles of plate; many of them foul.
fn random_project(random: &mut Random) -> Project {
    let mut project = pair();
    let corners = 8 + random.below(20);
    project.head.outline = match random.below(3) {
        0 => layout::head::start_outline(
            random.between(90.0, 180.0),
            random.between(90.0, 220.0),
            0.4,
        ),
        1 => star(random, corners, 60.0, 95.0),
        _ => star(random, corners, 35.0, 95.0),
    };
    project.head.smooth = random.one_in(2);
    project.drives.clear();
    let count = 1 + random.below(4);
    project.eyes = (0..count).map(|_| eye(random.point(55.0).into())).collect();
    if random.one_in(3) {
        let mut parts = project.parts.clone();
        parts.ball_diameter = 30.0;
        parts.seat = Seat::Plain {
            opening_diameter: 27.0,
        };
        parts.ring.depth = 11.0;
        parts.ring.outer_diameter = 29.5;
        project.eyes[0].parts = Some(Box::new(parts));
    }
    project.ties = (0..random.below(6))
        .map(|_| TieSlot {
            at: random.point(70.0).into(),
            angle: Degrees(random.between(-180.0, 180.0)),
            tie: random.pick(&[[2.5, 1.0], [4.8, 1.3], [30.0, 12.0]]),
            anchor: None,
        })
        .collect();
    project.gaze.lift = Degrees(random.between(0.0, 25.0));
    project.plate.rim = random.between(0.0, 14.0);
    if random.one_in(3) {
        project.plate.outline = PlateOutline::HeadInset {
            bottom: random.between(-60.0, -20.0),
            top: random.between(20.0, 60.0),
        };
    }
    project.plate.trim_to_head = random.one_in(3);
    project
}

fn cases() -> impl Iterator<Item = &'static Case> {
    static CASES: LazyLock<Vec<Case>> = LazyLock::new(|| {
        let mut random = Random::new(31);
        (0..PROJECTS)
            .map(|_| case(random_project(&mut random)))
            .collect()
    });
    CASES.iter()
}

fn case(project: Project) -> Case {
    let laid = Laid::out(&project);
    Case {
        report: evaluate_laid(&project, &laid),
        plate: fine(&laid.plate.segments),
        wall: to_geo(laid.wall.iter().copied()),
        project,
        laid,
    }
}

impl Case {
    fn of(&self, rule: Rule) -> Vec<&Finding> {
        let id = rule.info().id;
        self.report.findings.iter().filter(|f| f.id == id).collect()
    }

    fn values(&self, rule: Rule) -> Vec<f64> {
        self.of(rule).iter().filter_map(|f| f.value).collect()
    }

    /// Radius of the opening of an eye, and of its ring's sweep (see `ring.rs`), mm.
    fn radii(&self, eye: usize) -> Option<[f64; 2]> {
        let figures = &self.report.figures.eyes[eye];
        let opening = figures.opening_front_mm?.max(figures.opening_back_mm?);
        Some([opening, figures.sweep_reach_mm?])
    }

    fn centres(&self) -> Vec<geo::Point> {
        self.project
            .eyes
            .iter()
            .map(|eye| eye.centre.into())
            .collect()
    }

    fn cores(&self) -> Vec<Rounded> {
        self.project.ties.iter().map(Rounded::of).collect()
    }
}

/// A slot: everything within `radius` of a rectangle.
struct Rounded {
    core: geo::Polygon,
    radius: f64,
}

impl Rounded {
    /// From what the model says of a slot: a tie of width and thickness, a clearance of 0.7 mm on
    /// both, corners as round as the clearance.
    fn of(slot: &TieSlot) -> Self {
        let clearance = 0.7;
        let [length, width] = slot.tie.map(|side| side + clearance);
        let radius = f64::min(clearance, width.min(length) / 2.0);
        let (x, y) = (length / 2.0 - radius, width / 2.0 - radius);
        let (sin, cos) = slot.angle.0.to_radians().sin_cos();
        let corners = [[x, y], [-x, y], [-x, -y], [x, -y]].map(|[x, y]| {
            Point::new(
                slot.at[0] + x * cos - y * sin,
                slot.at[1] + x * sin + y * cos,
            )
        });
        Self {
            core: to_geo(corners),
            radius,
        }
    }

    fn corners(&self) -> impl Iterator<Item = geo::Point> + '_ {
        self.core.exterior().points().take(4)
    }
}

/// Distance from a point inside to a polygon's edge; negative from outside.
fn room(polygon: &geo::Polygon, point: geo::Point) -> f64 {
    let distance = Euclidean.distance(&point, polygon.exterior());
    if polygon.contains(&point) {
        distance
    } else {
        -distance
    }
}

/// The least `room` along a curve between two places on it, mm from its start, found by halving
/// every stretch that may still hold it.
fn least_room(wall: &geo::Polygon, curve: &impl Fn(f64) -> Point, ends: [f64; 2], best: &mut f64) {
    let [from, to] = ends;
    let middle = (from + to) / 2.0;
    let at = curve(middle);
    let here = room(wall, geo::Point::new(at.x, at.y));
    *best = best.min(here);
    // No point of the stretch is farther than half its length from its middle.
    let half = (to - from) / 2.0;
    if here - half < *best - SEARCHED / 2.0 {
        least_room(wall, curve, [from, middle], best);
        least_room(wall, curve, [middle, to], best);
    }
}

/// The least `room` of a whole piece.
fn least_room_on(wall: &geo::Polygon, piece: &Segment, best: &mut f64) {
    match *piece {
        Segment::Line(line) => {
            let length = (line.end - line.start).norm();
            let curve = |at: f64| line.start + (line.end - line.start) * (at / length);
            if length > 0.0 {
                least_room(wall, &curve, [0.0, length], best);
            }
        }
        Segment::Arc(arc) => {
            let curve = |at: f64| arc.at(arc.start_angle + at / arc.radius * arc.sweep.signum());
            least_room(wall, &curve, [0.0, arc.radius * arc.sweep.abs()], best);
        }
    }
}

/// How deep two rounded rectangles overlap: the least shift, over all directions, that parts them.
fn overlap(a: &Rounded, b: &Rounded) -> f64 {
    let reach = |slot: &Rounded, x: f64, y: f64| {
        let out = slot.corners().map(|p| p.x() * x + p.y() * y);
        out.fold(f64::NEG_INFINITY, f64::max) + slot.radius
    };
    let depth = |angle: f64| {
        let (y, x) = angle.sin_cos();
        reach(a, x, y) + reach(b, -x, -y)
    };
    let steps = 3_600;
    let step = TAU / f64::from(steps);
    let coarse = (0..steps)
        .map(|i| step * f64::from(i))
        .min_by(|a, b| depth(*a).total_cmp(&depth(*b)));
    let about = coarse.expect("there are steps");
    let finer = (-1_000..=1_000).map(|i| depth(about + step * f64::from(i) / 1_000.0));
    finer.fold(f64::INFINITY, f64::min)
}

fn assert_all_near(found: &[f64], expected: &[f64], within: f64) {
    assert_eq!(found.len(), expected.len(), "{found:?} {expected:?}");
    for (found, expected) in found.iter().zip(expected) {
        assert_abs_diff_eq!(found, expected, epsilon = within);
    }
}

#[test]
fn the_random_projects_hold_clear_and_fouling_margins_of_every_kind() {
    use Rule::{
        BallGap, Hardware, OpeningLigament, PlateWall, Rim, SlotEdge, SlotGap, SlotOpening,
        SweepGap, SweepWall,
    };
    for rule in [
        BallGap,
        SweepGap,
        OpeningLigament,
        Rim,
        SlotEdge,
        SlotOpening,
        SlotGap,
        PlateWall,
        SweepWall,
        Hardware,
    ] {
        let values: Vec<f64> = cases().flat_map(|case| case.values(rule)).collect();
        let fouls = values.iter().filter(|&&value| value < 0.0).count();
        assert!(
            fouls >= 10 && values.len() - fouls >= 10,
            "{rule:?}: {fouls} of {}",
            values.len()
        );
    }
}

#[test]
fn gaps_between_balls_sweeps_and_openings_are_those_of_spheres_and_circles() {
    for case in cases() {
        let centres = case.centres();
        for pair in &case.report.figures.pairs {
            let spacing = Euclidean.distance(&centres[pair.a], &centres[pair.b]);
            let eyes = [pair.a, pair.b];
            let [one, other] =
                eyes.map(|eye| case.radii(eye).expect("every seat and ring can be made"));
            assert_abs_diff_eq!(pair.spacing_mm.unwrap(), spacing, epsilon = EXACT);
            assert_abs_diff_eq!(
                pair.opening_ligament_mm.unwrap(),
                spacing - one[0] - other[0],
                epsilon = EXACT
            );
            assert_abs_diff_eq!(
                pair.sweep_gap_mm.unwrap(),
                spacing - one[1] - other[1],
                epsilon = EXACT
            );
            // Balls of different seats stand at different heights.
            let [low, high] =
                eyes.map(|eye| case.report.figures.eyes[eye].centre_height_mm.unwrap());
            let balls = eyes.map(|eye| case.project.parts_of(eye).ball_diameter / 2.0);
            let apart = spacing.hypot(high - low) - balls[0] - balls[1];
            assert_abs_diff_eq!(pair.ball_gap_mm.unwrap(), apart, epsilon = EXACT);
        }
    }
}

#[test]
fn the_rim_is_the_distance_from_an_opening_to_the_edge() {
    for case in cases() {
        let expected: Vec<f64> = case
            .centres()
            .into_iter()
            .enumerate()
            .filter_map(|(eye, centre)| Some(room(&case.plate, centre) - case.radii(eye)?[0]))
            .collect();
        let expected = if case.laid.plate.is_empty() {
            Vec::new()
        } else {
            expected
        };
        assert_all_near(&case.values(Rule::Rim), &expected, EXACT);
        let least = expected.iter().copied().reduce(f64::min);
        assert_eq!(case.report.figures.plate.rim_mm.is_some(), least.is_some());
    }
}

#[test]
fn a_slot_keeps_from_the_edge_what_geo_measures() {
    for case in cases().filter(|case| !case.laid.plate.is_empty()) {
        let found = case.values(Rule::SlotEdge);
        assert_eq!(found.len(), case.project.ties.len());
        for (found, slot) in found.iter().zip(case.cores()) {
            if case.plate.contains(&slot.core) {
                let apart = Euclidean.distance(slot.core.exterior(), case.plate.exterior());
                assert_abs_diff_eq!(*found, apart - slot.radius, epsilon = EXACT);
            } else {
                let outs = slot.corners().map(|corner| room(&case.plate, corner));
                let out = outs.fold(0.0, f64::min);
                assert_abs_diff_eq!(*found, out - slot.radius, epsilon = EXACT);
            }
        }
    }
}

#[test]
fn a_slot_keeps_from_the_nearest_opening_what_geo_measures() {
    for case in cases() {
        let found = case.values(Rule::SlotOpening);
        assert_eq!(found.len(), case.project.ties.len());
        for (found, slot) in found.iter().zip(case.cores()) {
            let to_eye = |(eye, centre): (usize, geo::Point)| {
                let opening = case.radii(eye).expect("every seat and ring can be made")[0];
                -room(&slot.core, centre) - slot.radius - opening
            };
            let expected = case.centres().into_iter().enumerate().map(to_eye);
            let expected = expected.fold(f64::INFINITY, f64::min);
            assert_abs_diff_eq!(*found, expected, epsilon = EXACT);
        }
    }
}

#[test]
fn slots_keep_from_each_other_what_geo_measures_and_overlap_as_deep_as_they_must_move() {
    let gap = |a: &Rounded, b: &Rounded| {
        if a.core.intersects(&b.core) {
            -overlap(a, b)
        } else {
            Euclidean.distance(&a.core, &b.core) - a.radius - b.radius
        }
    };
    for case in cases() {
        let slots = case.cores();
        let expected: Vec<f64> = (0..slots.len())
            .filter_map(|one| {
                let later = slots[one + 1..].iter().map(|other| gap(&slots[one], other));
                later.reduce(f64::min)
            })
            .collect();
        let found = case.values(Rule::SlotGap);
        assert_all_near(&found, &expected, 1e-3);
        for (found, expected) in found.iter().zip(&expected) {
            if *expected > 0.0 {
                assert_abs_diff_eq!(found, expected, epsilon = EXACT);
            }
        }
    }
}

#[test]
fn a_slot_inside_another_fouls_it() {
    let mut project = pair();
    project.ties[0].tie = [40.0, 20.0];
    project.ties[1].at = project.ties[0].at;
    project.ties.truncate(2);
    let case = case(project);
    let slots = case.cores();
    let [found] = case.values(Rule::SlotGap)[..] else {
        panic!("one pair of slots has one gap");
    };
    assert_abs_diff_eq!(found, -overlap(&slots[0], &slots[1]), epsilon = 1e-3);
}

#[test]
fn a_sweep_keeps_from_the_wall_what_geo_measures() {
    for case in cases() {
        let expected: Vec<f64> = case
            .centres()
            .into_iter()
            .enumerate()
            .filter_map(|(eye, centre)| Some(room(&case.wall, centre) - case.radii(eye)?[1]))
            .collect();
        assert_all_near(&case.values(Rule::SweepWall), &expected, EXACT);
    }
}

#[test]
fn a_plate_inside_the_head_keeps_from_the_wall_what_geo_measures() {
    let mut inside = 0;
    for case in cases().filter(|case| case.wall.contains(&case.plate)) {
        let apart = Euclidean.distance(case.plate.exterior(), case.wall.exterior());
        assert_all_near(&case.values(Rule::PlateWall), &[apart], EXACT);
        inside += 1;
    }
    assert!(inside >= 40, "{inside}");
}

#[test]
fn a_plate_that_leaves_the_head_sticks_out_as_far_as_its_farthest_point() {
    let mut out = 0;
    for case in
        cases().filter(|case| !case.laid.plate.is_empty() && !case.wall.contains(&case.plate))
    {
        let starts = case.laid.plate.segments.iter().map(|piece| {
            let start = piece.start();
            room(&case.wall, geo::Point::new(start.x, start.y))
        });
        let mut deepest = starts.fold(f64::INFINITY, f64::min);
        for piece in &case.laid.plate.segments {
            least_room_on(&case.wall, piece, &mut deepest);
        }
        assert_all_near(&case.values(Rule::PlateWall), &[deepest], SEARCHED);
        out += 1;
    }
    assert!(out >= 40, "{out}");
}

#[test]
fn an_inset_plate_keeps_the_wanted_distance_from_every_wall() {
    let mut random = Random::new(32);
    for round in 0..60 {
        let mut project = pair();
        project.head.outline = star(&mut random, 12 + round / 3, 50.0, 95.0);
        project.head.smooth = round % 2 == 0;
        project.ties.clear();
        project.plate.outline = PlateOutline::HeadInset {
            bottom: -40.0,
            top: 40.0,
        };
        let case = case(project);
        let wanted = Rule::PlateWall.info();
        for found in case.of(Rule::PlateWall) {
            assert_eq!(found.state.word(), "clear", "{wanted:?} {found:?}");
        }
    }
}

#[test]
fn width_and_height_are_those_of_the_box_around_the_plate() {
    for case in cases().filter(|case| !case.laid.plate.is_empty()) {
        let figures = &case.report.figures.plate;
        let bounds = case.plate.bounding_rect().expect("the plate is not empty");
        assert_abs_diff_eq!(
            figures.plate_width_mm.unwrap(),
            bounds.width(),
            epsilon = EXACT
        );
        assert_abs_diff_eq!(
            figures.plate_height_mm.unwrap(),
            bounds.height(),
            epsilon = EXACT
        );
    }
}

#[test]
fn the_plate_area_is_that_of_the_outline_less_openings_and_slots() {
    let case = case(pair());
    let outline = geo::Area::unsigned_area(&case.plate);
    let openings: f64 = (0..2)
        .map(|eye| {
            TAU / 2.0
                * case.report.figures.eyes[eye]
                    .opening_front_mm
                    .unwrap()
                    .powi(2)
        })
        .sum();
    // A rectangle of 3.2 × 1.7 mm less its four corners, rounded by 0.7 mm.
    let slot = 3.2 * 1.7 - (4.0 - TAU / 2.0) * 0.7 * 0.7;
    let expected = outline - openings - 4.0 * slot;
    assert_abs_diff_eq!(
        case.report.figures.plate.plate_area_mm2.unwrap(),
        expected,
        epsilon = 1e-3
    );
}

#[test]
fn a_strap_clears_a_sweep_beside_it_or_behind_it() {
    for case in cases() {
        let found = case.values(Rule::Hardware);
        assert_eq!(found.len(), case.project.ties.len());
        for (found, slot) in found.iter().zip(&case.project.ties) {
            let [length, width] = slot.tie.map(|side| side + 0.7);
            let to_eye = |(eye, centre): (usize, geo::Point)| {
                let reach = case.radii(eye).expect("every seat and ring can be made")[1];
                let apart: f64 = Euclidean.distance(&centre, &geo::Point::from(slot.at));
                let beside = apart - reach - length.hypot(width) / 2.0;
                let clearance = case.report.figures.eyes[eye]
                    .ring_clearance_mm
                    .expect("a ring has a clearance");
                beside.max(clearance - 2.0 * slot.tie[1])
            };
            let expected = case.centres().into_iter().enumerate().map(to_eye);
            assert_abs_diff_eq!(
                *found,
                expected.fold(f64::INFINITY, f64::min),
                epsilon = EXACT
            );
        }
    }
}

#[test]
fn the_two_places_of_a_margin_are_as_far_apart_as_it_says() {
    for case in cases() {
        for finding in &case.report.findings {
            let (Some(value), [from, to]) = (finding.value, &finding.place[..]) else {
                continue;
            };
            let apart = (nalgebra::Point3::from(*to) - nalgebra::Point3::from(*from)).norm();
            assert_abs_diff_eq!(apart, value.abs(), epsilon = 1e-9);
        }
    }
}

#[test]
fn the_two_places_of_a_margin_lie_on_its_two_shapes() {
    let at = |place: [f64; 3]| geo::Point::new(place[0], place[1]);
    let off = |polygon: &geo::Polygon, place| Euclidean.distance(&at(place), polygon.exterior());
    for case in cases() {
        let centres = case.centres();
        let from_circle = |place, radius: usize| {
            let off = |(eye, centre): (usize, &geo::Point)| {
                let radius = case.radii(eye).expect("every seat and ring can be made")[radius];
                (Euclidean.distance(&at(place), centre) - radius).abs()
            };
            centres
                .iter()
                .enumerate()
                .map(off)
                .fold(f64::INFINITY, f64::min)
        };
        let from_slot = |place| {
            let off = |slot: &Rounded| {
                let room = room(&slot.core, at(place));
                (-room - slot.radius).abs()
            };
            case.cores().iter().map(off).fold(f64::INFINITY, f64::min)
        };
        for finding in &case.report.findings {
            let [from, to] = finding.place[..] else {
                continue;
            };
            let off = match finding.id {
                "rim" => from_circle(from, 0).max(off(&case.plate, to)),
                "sweep_wall" => from_circle(from, 1).max(off(&case.wall, to)),
                "opening_ligament" => from_circle(from, 0).max(from_circle(to, 0)),
                "sweep_gap" => from_circle(from, 1).max(from_circle(to, 1)),
                "slot_edge" => from_slot(from).max(off(&case.plate, to)),
                "slot_opening" => from_slot(from).max(from_circle(to, 0)),
                "slot_gap" => from_slot(from).max(from_slot(to)),
                "plate_wall" => off(&case.plate, from).max(off(&case.wall, to)),
                _ => continue,
            };
            // Where a slot sticks out of a concave plate, its farthest point is only nearly known.
            if finding.id == "slot_edge" && finding.value < Some(0.0) {
                continue;
            }
            assert!(off < EXACT, "{off} {finding:?}");
        }
    }
}
