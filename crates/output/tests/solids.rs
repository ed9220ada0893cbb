//! Plate, rings and fit gauge as solids, against the shapes that they stand for.

use std::collections::HashMap;
use std::f64::consts::PI;

use layout::geometry::Point;
use layout::ring::RingFit;
use layout::seat::Seat;
use layout::{Laid, Project};
use nalgebra::Point3;
use output::solid::{Mesh, Solid, SolidOptions, fit_gauge, plate, rings, solids};

use crate::projects::{Case, Dice, demo, demos, random};

/// What the default options promise, and a rounding, mm.
const STRAYS: f64 = SolidOptions::CHORD_ERROR + 1e-6;

fn all() -> impl Iterator<Item = Project> {
    let mut dice = Dice(71);
    let more = std::iter::repeat_with(move || random(&mut dice)).take(60);
    demos().into_iter().map(|demo| demo.project).chain(more)
}

/// Those of [`all`] whose plate can be made, with it.
fn plates() -> impl Iterator<Item = (Project, Laid, Solid)> {
    all().filter_map(|project| {
        let laid = Laid::out(&project);
        let plate = plate(&project, &laid, &SolidOptions::default()).ok()?;
        Some((project, laid, plate))
    })
}

/// Every edge belongs to two facets, which run along it in opposite directions; no facet is flat.
fn assert_closed(mesh: &Mesh, name: &str) {
    let mut runs: HashMap<[usize; 2], usize> = HashMap::new();
    for &[a, b, c] in &mesh.triangles {
        assert!(a != b && b != c && c != a, "{name}");
        for run in [[a, b], [b, c], [c, a]] {
            *runs.entry(run).or_default() += 1;
        }
    }
    let paired = |[a, b]: [usize; 2], count: usize| count == 1 && runs.get(&[b, a]) == Some(&1);
    assert!(
        runs.iter().all(|(run, count)| paired(*run, *count)),
        "{name}"
    );
    for [a, b, c] in mesh.facets() {
        assert!((b - a).cross(&(c - a)).norm() > 1e-9, "{name}");
    }
    assert!(mesh.volume() > 0.0, "{name} faces outward");
    let used: std::collections::HashSet<usize> = mesh.triangles.iter().flatten().copied().collect();
    assert_eq!(used.len(), mesh.vertices.len(), "{name} has loose corners");
}

/// Volume of a zone of a sphere between two distances from its centre, mm³.
fn zone(radius: f64, from: f64, to: f64) -> f64 {
    PI * (radius * radius * (to - from) - (to.powi(3) - from.powi(3)) / 3.0)
}

/// Some 10,000 points on a mesh, as many on every facet.
fn sampled(mesh: &Mesh) -> Vec<Point3<f64>> {
    let each = 10_000 / mesh.triangles.len() + 1;
    let mut state = 1_u64;
    let mut share = || {
        // Numbers of a linear congruential generator (Knuth's MMIX constants, from memory).
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    let mut points = Vec::new();
    for [a, b, c] in mesh.facets() {
        for _ in 0..each {
            let (mut u, mut v) = (share(), share());
            if u + v > 1.0 {
                (u, v) = (1.0 - u, 1.0 - v);
            }
            points.push(a + (b - a) * u + (c - a) * v);
        }
    }
    points
}

#[test]
fn every_solid_is_closed_and_faces_outward_and_rests_on_the_bed() {
    let mut count = 0;
    for project in all() {
        let laid = Laid::out(&project);
        let Ok(made) = solids(&project, &laid, &SolidOptions::default()) else {
            continue;
        };
        for solid in made {
            assert_closed(solid.mesh(), solid.name());
            let [low, _] = solid.mesh().bounds().unwrap();
            assert_eq!(low.z, 0.0);
            count += 1;
        }
    }
    assert!(count > 30, "{count}");
}

#[test]
fn a_plate_has_the_volume_of_its_outline_less_seats_and_slots() {
    for (project, laid, plate) in plates() {
        let thickness = project.plate.thickness;
        let seats = (0..project.eyes.len()).map(|index| {
            let ball = project.parts_of(index).ball_diameter / 2.0;
            match project.parts_of(index).seat {
                Seat::Plain { opening_diameter } => {
                    PI * opening_diameter * opening_diameter / 4.0 * thickness
                }
                Seat::Spherical {
                    centre_height,
                    running_clearance,
                } => zone(
                    ball + running_clearance,
                    centre_height,
                    centre_height + thickness,
                ),
            }
        });
        let slots = laid.slots.iter().map(|slot| slot.area() * thickness);
        let expected = laid.plate.area() * thickness - seats.chain(slots).sum::<f64>();
        let share = plate.mesh().volume() / expected;
        assert!((share - 1.0).abs() < 1e-3, "{}: {share}", project.name);
    }
}

/// How far a point of a plate's wall lies off the nearest wall that there should be, mm.
fn off_walls(at: Point3<f64>, project: &Project, laid: &Laid) -> f64 {
    let plan = Point::new(at.x, at.y);
    let edges = std::iter::once(&laid.plate).chain(&laid.slots);
    let straight = edges.filter_map(|edge| Some(edge.room_around(plan)?.distance.abs()));
    let seats = (0..project.eyes.len()).map(|index| {
        let parts = project.parts_of(index);
        let (centre, ball) = (laid.eyes[index].centre, parts.ball_diameter / 2.0);
        match parts.seat {
            Seat::Plain { opening_diameter } => {
                ((plan - centre).norm() - opening_diameter / 2.0).abs()
            }
            Seat::Spherical {
                centre_height,
                running_clearance,
            } => {
                let height = project.plate.thickness + centre_height;
                let middle = Point3::new(centre.x, centre.y, height);
                ((at - middle).norm() - ball - running_clearance).abs()
            }
        }
    });
    straight.chain(seats).fold(f64::INFINITY, f64::min)
}

#[test]
fn every_point_of_a_plate_lies_on_a_face_or_on_the_wall_of_its_edge_a_seat_or_a_slot() {
    for (project, laid, plate) in plates().take(30) {
        let top = project.plate.thickness;
        for at in sampled(plate.mesh()) {
            let plan = Point::new(at.x, at.y);
            if at.z.abs() < 1e-9 || (at.z - top).abs() < 1e-9 {
                let room = laid.plate.room_around(plan).unwrap().distance;
                assert!(
                    room > -STRAYS,
                    "{}: {at} lies beyond the edge",
                    project.name
                );
                for eye in &laid.eyes {
                    let seat = eye.seat.as_ref().unwrap();
                    let opening = if at.z > top / 2.0 {
                        seat.opening_front
                    } else {
                        seat.opening_back
                    };
                    let away = (plan - eye.centre).norm();
                    assert!(
                        away > opening - 2.0 * STRAYS,
                        "{}: {at} lies in an opening",
                        project.name
                    );
                }
            } else {
                let off = off_walls(at, &project, &laid);
                assert!(off < STRAYS, "{}: {at} is {off} mm off", project.name);
            }
        }
    }
}

/// How far a point of a ring, which lies on its back, is off its nearest surface, mm.
fn off_ring(at: Point3<f64>, ring: &RingFit, options: &SolidOptions) -> f64 {
    let [front, edge, outer, back, _] = ring.profile;
    let (radius, depth) = (at.x.hypot(at.y), back.depth - at.z);
    let bore = radius.hypot(depth) - ring.seat.ball_radius - options.glue_gap;
    let bevel = (radius - edge.radius - (depth - front.depth)) / std::f64::consts::SQRT_2;
    let faces = [
        depth - front.depth,
        depth - back.depth,
        radius - outer.radius,
    ];
    let all = faces.into_iter().chain([bore, bevel]);
    all.map(f64::abs).fold(f64::INFINITY, f64::min)
}

#[test]
fn every_point_of_a_ring_lies_on_its_bore_bevel_edge_or_faces_and_its_volume_is_theirs() {
    let options = SolidOptions::default();
    for project in all() {
        let laid = Laid::out(&project);
        let Ok(made) = rings(&project, &laid, &options) else {
            continue;
        };
        let first = laid.eyes[0].ring.as_ref().unwrap();
        for at in sampled(made[0].mesh()) {
            let off = off_ring(at, first, &options);
            assert!(off < STRAYS, "{}: {at} is {off} mm off", project.name);
        }
        // The ball's own zone, and the glue around it.
        let [front, .., back] = [first.profile[0], first.profile[3]];
        let ball = first.seat.ball_radius;
        let glue = zone(ball + options.glue_gap, front.depth, back.depth)
            - zone(ball, front.depth, back.depth);
        let share = made[0].mesh().volume() / (first.volume() - glue);
        assert!((share - 1.0).abs() < 1e-3, "{}: {share}", project.name);
        let count: usize = made.iter().map(Solid::count).sum();
        assert_eq!(count, project.eyes.len());
    }
}

#[test]
fn a_hole_allowance_widens_holes_and_a_finer_chord_comes_nearer() {
    let project = demo("bramble").project;
    let laid = Laid::out(&project);
    let make = |options: SolidOptions| plate(&project, &laid, &options).unwrap();
    let plain = make(SolidOptions::default());
    let wider = make(SolidOptions {
        hole_allowance: 0.4,
        ..SolidOptions::default()
    });
    assert!(wider.mesh().volume() < plain.mesh().volume() - 50.0);
    let fine = make(SolidOptions {
        chord_error: 0.005,
        ..SolidOptions::default()
    });
    assert!(fine.mesh().triangles.len() > plain.mesh().triangles.len());
    let refused = plate(
        &project,
        &laid,
        &SolidOptions {
            chord_error: 0.0,
            ..SolidOptions::default()
        },
    );
    assert_eq!(refused.unwrap_err().to_string(), "`chord_error` is 0 mm.");
}

#[test]
fn an_opening_that_breaks_the_edge_is_refused_by_name() {
    let mut project = demo("bramble").project;
    project.plate.rim = 0.0;
    project.ties.clear();
    let laid = Laid::out(&project);
    let error = plate(&project, &laid, &SolidOptions::default()).unwrap_err();
    assert_eq!(
        error.to_string(),
        "The opening of left eye breaks the edge of the plate."
    );
    assert_eq!(
        error.remedy(),
        "Move it inward, or let the plate reach farther there."
    );
}

#[test]
fn the_fit_gauge_is_closed_and_tries_growing_steps_each_with_its_dots() {
    for Case { name, project, .. } in demos() {
        let gauge = fit_gauge(&project);
        let solid = gauge.slab.solid(&SolidOptions::default()).unwrap();
        assert_closed(solid.mesh(), &name);
        for row in &gauge.rows {
            assert!(row.values.is_sorted() && row.values[0] < row.values[4]);
        }
        // Five of each row, and 1 + 2 + … + 5 dots beside them.
        assert_eq!(gauge.slab.holes.len(), gauge.rows.len() * (5 + 15));
    }
}
