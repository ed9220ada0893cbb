//! Rods against balls, rings and the plate, place by place in poses that are really turned.

use layout::drive::End;
use layout::limits::{Rule, State};
use layout::ring::RingFit;
use layout::turned::Pose;
use layout::{Degrees, Laid, Project, evaluate};

use crate::common::space::{Vector, add, dot, length, less, lifted, scaled, to_side};
use crate::common::{Random, finding, rod, rodded_pair, side_of};

/// Poses of each turn that are looked at.
const POSES: i32 = 24;

/// Places along a rod, and places round a ring.
const PLACES: i32 = 240;

/// How far apart the two ways of looking may be, mm: places of a ring lie half a millimetre apart.
const ROUGH: f64 = 0.15;

fn spread(low: f64, high: f64) -> impl Iterator<Item = f64> {
    (0..=POSES).map(move |pose| low + (high - low) * f64::from(pose) / f64::from(POSES))
}

/// A pair whose eyes turn to the side by a rod, its tips anywhere behind the balls.
fn random_project(random: &mut Random) -> Project {
    let mut project = rodded_pair();
    project.drives.clear();
    project.gaze.side = Degrees(random.between(5.0, 20.0));
    project.gaze.lift = Degrees(random.between(0.0, 12.0));
    project.gaze.together = random.below(2) == 0;
    let mut tip = || {
        [
            random.between(-14.0, 14.0),
            random.between(-14.0, 14.0),
            random.between(-34.0, -20.5),
        ]
    };
    let [driver, follower] = [tip(), tip()];
    project.rods[0].driver_tip = driver;
    project.rods[0].follower_tip = follower;
    project
}

/// Places on a ring at rest, from the ball's centre: round its edges, and across its flat sides.
fn ring_places(ring: &RingFit) -> Vec<Vector> {
    let round = |radius: f64, depth: f64| {
        (0..PLACES).map(move |place| {
            let (sin, cos) =
                (std::f64::consts::TAU * f64::from(place) / f64::from(PLACES)).sin_cos();
            [radius * cos, radius * sin, -depth]
        })
    };
    let corners = ring.profile.iter().zip(ring.profile.iter().cycle().skip(1));
    corners
        .flat_map(|(from, to)| {
            (0..10).map(move |step| {
                let share = f64::from(step) / 10.0;
                let between = |a: f64, b: f64| a + (b - a) * share;
                (
                    between(from.radius, to.radius),
                    between(from.depth, to.depth),
                )
            })
        })
        .flat_map(|(radius, depth)| round(radius, depth))
        .collect()
}

/// Distance of a place from the straight way between two others.
fn off_rod(place: Vector, [from, to]: [Vector; 2]) -> f64 {
    let along = less(to, from);
    let share = dot(less(place, from), along) / dot(along, along);
    let share = share.clamp(0.0, 1.0);
    length(less(place, add(from, scaled(along, share))))
}

/// How near the rod's middle line comes to the balls, the plate and the rings; infinite where its linkage does
/// not go round.
fn nearest(project: &Project, laid: &Laid) -> f64 {
    let Ok(linkage) = &laid.rods[0] else {
        return f64::INFINITY;
    };
    let [side, lift] = [project.gaze.side, project.gaze.lift].map(|turn| turn.0.to_radians());
    let mut least = f64::INFINITY;
    let poses: Vec<[f64; 2]> = if project.gaze.together {
        let across = |lift| spread(-side, side).map(move |own| [own, lift]);
        spread(-lift, lift).flat_map(across).collect()
    } else {
        let across = spread(-side, side).map(|own| [own, 0.0]);
        across
            .chain(spread(-lift, lift).map(|lift| [0.0, lift]))
            .collect()
    };
    for [own, other] in poses {
        let pose = Pose { own, other };
        let Some(followed) = linkage.at(pose) else {
            return f64::INFINITY;
        };
        let ends: [Vector; 2] = linkage.ends_at(pose).map(Into::into);
        for place in 0..=PLACES {
            let at = add(
                ends[0],
                scaled(less(ends[1], ends[0]), f64::from(place) / f64::from(PLACES)),
            );
            if laid.plate.contains([at[0], at[1]].into()) {
                least = least.min((-project.plate.thickness - at[2]).max(at[2]).max(0.0));
            }
        }
        for (eye, turn) in [(0, own), (1, followed.own)] {
            let eye = &laid.eyes[eye];
            let (centre, ring) = (
                eye.ball_centre().expect("a centre"),
                eye.ring.as_ref().expect("a ring"),
            );
            least = least.min(off_rod(centre, ends) - ring.seat.ball_radius);
            for place in ring_places(ring) {
                let turned = to_side(lifted(place, other), turn);
                least = least.min(off_rod(add(centre, turned), ends));
            }
        }
    }
    least
}

#[test]
fn rods_keep_off_balls_rings_and_plate_by_what_is_found() {
    let mut random = Random::new(311);
    let mut seen = [0; 2];
    for _ in 0..24 {
        let project = random_project(&mut random);
        let laid = Laid::out(&project);
        let found = evaluate(&project).figures.rods[0].rod_clear_mm;
        let expected = nearest(&project, &laid);
        let Some(found) = found.map(|margin| margin + project.rods[0].diameter / 2.0) else {
            assert_eq!(expected, f64::INFINITY);
            continue;
        };
        // Of a rod in a ring the places say only that it is near: they lie on the ring's skin.
        if found > 1.0 {
            assert!((found - expected).abs() < ROUGH, "{found} {expected}");
            seen[0] += 1;
        } else {
            assert!(expected < 1.0 + ROUGH, "{found} {expected}");
            seen[1] += 1;
        }
    }
    assert!(seen[0] > 2 && seen[1] > 2, "{seen:?}");
}

#[test]
fn a_rod_close_behind_its_balls_runs_into_their_turned_rings_and_one_far_behind_is_clear() {
    let found = |depth: f64| {
        let mut project = rodded_pair();
        project.drives.clear();
        project.rods = vec![rod(side_of(0), side_of(1), [0.0, 0.0, depth])];
        let name = project.rods[0].name.clone();
        let found = finding(&evaluate(&project), Rule::RodClear, &name).clone();
        (found.state, found.sentence, found.place.len())
    };
    let clear = "The link keeps clear of all that it passes.".to_owned();
    assert_eq!(found(-45.0), (State::Clear, clear, 1));
    // Both balls are as near.
    let (state, sentence, places) = found(-21.0);
    assert_eq!((state, places), (State::Fouls, 1));
    assert!(
        sentence.starts_with("The link runs into the ball of the "),
        "{sentence}"
    );
}

#[test]
fn a_rod_keeps_from_stalks_that_turn_along_with_it_and_from_the_wall() {
    let mut project = rodded_pair();
    project.gaze.lift = Degrees(0.0);
    project.rods = vec![rod(side_of(0), side_of(1), [0.0, 0.0, -45.0])];
    project.drives.truncate(1);
    project.drives[0].moves = side_of(0);
    project.drives[0].near = End::High;
    let found = |project: &Project| {
        let name = &project.rods[0].name;
        let found = finding(&evaluate(project), Rule::RodClear, name).clone();
        (found.value.unwrap(), found.sentence)
    };
    project.drives[0].tip = [0.0, 12.0, -45.0];
    let (value, sentence) = found(&project);
    let name = format!("the lever of the {}", project.drives[0].name);
    // The rod's end lies so far beside the stalk's ray, less what lies round both; turned, a place of the rod near its
    // end comes a little nearer.
    let beside = 45.0 * 12.0_f64.atan2(45.0).sin() - 0.6 - 2.5;
    assert!((beside - 0.1..beside).contains(&value), "{value} {beside}");
    assert!(sentence.starts_with("The link keeps clear"), "{sentence}");
    // A stalk that ends beside the rod's own tip stands in the rod, which leads to the right.
    project.drives[0].tip = [8.0, 0.0, -45.0];
    let (value, sentence) = found(&project);
    assert!(
        value < 0.0 && sentence.ends_with(&format!("{name}.")),
        "{value} {sentence}"
    );
    // A rod that reaches beyond a narrow head.
    project.drives.clear();
    project.head.smooth = false;
    project.head.outline = vec![[28.0, 90.0], [-64.0, 90.0], [-64.0, -90.0], [28.0, -90.0]];
    let (value, sentence) = found(&project);
    assert!(
        value < 0.0 && sentence.ends_with("the head's wall."),
        "{value} {sentence}"
    );
}
