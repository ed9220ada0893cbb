//! What a rod makes its follower do, against levers that are turned by hand.

use approx::assert_abs_diff_eq;
use layout::drive::{Moves, Turn};
use layout::four_bar::FourBar;
use layout::geometry::Vector as Plane;
use layout::lid::Which;
use layout::linkage::Linkage;
use layout::turned::Pose;
use layout::{Degrees, Laid, Project, evaluate};

use crate::common::space::{Vector, add, cross, dot, length, less, lifted, scaled, to_side, unit};
use crate::common::{Random, rod, rodded_pair, side_of};

/// How near a rod must come to its length, mm, and a follower to where it is found.
const CLOSED: f64 = 1e-9;

/// Rods nearer to lying in line with their follower's lever than this, radians, magnify what is rounded.
const ASKEW: f64 = 0.1;

/// A tip that lies outside the ball.
fn tip(random: &mut Random) -> Vector {
    [
        random.between(-15.0, 15.0),
        random.between(-15.0, 15.0),
        random.between(-45.0, -22.0),
    ]
}

/// The pair with its eyes anywhere, and one rod of any kind.
fn random_project(random: &mut Random) -> Project {
    let mut project = rodded_pair();
    for eye in 0..2 {
        let x = [-1.0, 1.0][eye] * random.between(22.0, 40.0);
        project.eyes[eye].centre = [x, random.between(-20.0, 20.0)];
    }
    let moves = match random.below(3) {
        0 => side_of,
        1 => |eye| Moves::Gaze {
            eye,
            turn: Turn::Lift,
        },
        _ => |eye| Moves::Lid {
            eye,
            which: Which::ALL[eye],
        },
    };
    project.rods[0].driver = moves(0);
    project.rods[0].follower = moves(1);
    project.rods[0].driver_tip = tip(random);
    project.rods[0].follower_tip = tip(random);
    project.gaze.side = Degrees(random.between(2.0, 40.0));
    project.gaze.lift = Degrees(random.between(2.0, 40.0));
    project.gaze.together = random.one_in(2);
    let lids = project.parts.lids.as_mut().expect("the pair has lids");
    let upper = lids.upper.as_mut().expect("an upper lid");
    upper.open = Degrees(random.between(5.0, 60.0));
    project
}

fn linkage(project: &Project) -> Result<Linkage, String> {
    let mut rods = Laid::out(project).rods;
    rods.remove(0).map_err(|problem| problem.to_string())
}

/// A rod that follows its driver all the way, and its linkage.
fn following(random: &mut Random) -> (Project, Linkage) {
    loop {
        let project = random_project(random);
        if let Ok(linkage) = linkage(&project)
            && linkage.follows.is_ok()
        {
            return (project, linkage);
        }
    }
}

/// A place of the shut lid's leading edge, or none for a gaze.
fn rest(project: &Project, moves: Moves) -> f64 {
    let lids = project.parts.lids.as_ref().expect("lids");
    match moves {
        Moves::Gaze { .. } => 0.0,
        Moves::Lid { which, .. } => lids.lid(which).expect("it").closed.0.to_radians(),
    }
}

/// From the ball's centre to a tip in a pose.
fn out(project: &Project, moves: Moves, tip: Vector, pose: Pose) -> Vector {
    match moves {
        Moves::Gaze {
            turn: Turn::Side, ..
        } => to_side(lifted(tip, pose.other), pose.own),
        Moves::Gaze {
            turn: Turn::Lift, ..
        } => to_side(lifted(tip, pose.own), pose.other),
        Moves::Lid { which, .. } => lifted(tip, which.sign() * (pose.own - rest(project, moves))),
    }
}

fn centre(project: &Project, eye: usize) -> Vector {
    let [x, y] = project.eyes[eye].centre;
    // The height of the pair's seats.
    [x, y, 4.0]
}

fn driver_tip(project: &Project, pose: Pose) -> Vector {
    let rod = &project.rods[0];
    add(
        centre(project, 0),
        out(project, rod.driver, rod.driver_tip, pose),
    )
}

fn follower_tip(project: &Project, pose: Pose) -> Vector {
    let rod = &project.rods[0];
    add(
        centre(project, 1),
        out(project, rod.follower, rod.follower_tip, pose),
    )
}

/// The rod's length as it was fitted.
fn fitted(project: &Project) -> f64 {
    let rod = &project.rods[0];
    let at = |moves| Pose {
        own: rest(project, moves),
        other: 0.0,
    };
    length(less(
        driver_tip(project, at(rod.driver)),
        follower_tip(project, at(rod.follower)),
    ))
}

/// Poses all over what is used together, in `steps` of the own turn; the corners are among them.
fn poses(linkage: &Linkage, steps: i32) -> impl Iterator<Item = Pose> {
    let ([low, high], most) = (linkage.driver_range, linkage.other);
    let others = if most == 0.0 { 0 } else { steps / 4 };
    let (rest, together) = (linkage.fitted().own, linkage.together);
    (-others..=others).flat_map(move |across| {
        let alone = across != 0 && !together;
        let own = move |step| {
            if alone {
                rest
            } else {
                low + (high - low) * f64::from(step) / f64::from(steps)
            }
        };
        let last = if alone { 0 } else { steps };
        (0..=last).map(move |step| Pose {
            own: own(step),
            other: most * f64::from(across) / f64::from(others.max(1)),
        })
    })
}

#[test]
fn a_rod_keeps_its_length_in_every_pose() {
    let mut random = Random::new(301);
    for _ in 0..300 {
        let (project, linkage) = following(&mut random);
        assert_abs_diff_eq!(linkage.length, fitted(&project), epsilon = CLOSED);
        for pose in poses(&linkage, 40) {
            let own = linkage.at(pose).unwrap().own;
            let other = pose.other;
            let follower = follower_tip(&project, Pose { own, other });
            let now = length(less(driver_tip(&project, pose), follower));
            assert_abs_diff_eq!(now, linkage.length, epsilon = CLOSED);
            let ends = linkage.ends_at(pose).map(Vector::from);
            assert_abs_diff_eq!(length(less(ends[1], follower)), 0.0, epsilon = CLOSED);
        }
    }
}

/// The follower's own turn, found by going from the pose at rest to `pose` in small steps, and at each
/// halving a bracket about where the follower was; None where no bracket is found.
fn followed_by_hand(project: &Project, pose: Pose) -> Option<f64> {
    let rod = &project.rods[0];
    let (from, length_of_rod) = (rest(project, rod.driver), fitted(project));
    let mut own = rest(project, rod.follower);
    for step in 1..=400 {
        let share = f64::from(step) / 400.0;
        let now = Pose {
            own: from + (pose.own - from) * share,
            other: pose.other * share,
        };
        let tip = driver_tip(project, now);
        let too_long = |own| {
            let other = now.other;
            length(less(tip, follower_tip(project, Pose { own, other }))) - length_of_rod
        };
        let half = 0.02;
        let (mut low, mut high) = (own - half, own + half);
        let rises = too_long(high) > 0.0;
        if (too_long(low) > 0.0) == rises {
            return None;
        }
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if (too_long(middle) > 0.0) == rises {
                high = middle;
            } else {
                low = middle;
            }
        }
        own = (low + high) / 2.0;
    }
    Some(own)
}

#[test]
fn the_follower_is_where_it_is_found_by_going_there_step_by_step() {
    let mut random = Random::new(302);
    let mut kinds = [0; 2];
    while kinds.iter().any(|&count| count < 80) {
        let (project, linkage) = following(&mut random);
        if linkage.worst().transmission.value < ASKEW {
            continue;
        }
        let [low, high] = linkage.driver_range;
        for _ in 0..4 {
            let pose = Pose {
                own: random.between(low, high),
                other: linkage.other * random.between(-1.0, 1.0),
            };
            if let Some(own) = followed_by_hand(&project, pose) {
                assert_abs_diff_eq!(linkage.at(pose).unwrap().own, own, epsilon = 1e-8);
                kinds[usize::from(pose.other != 0.0)] += 1;
            }
        }
    }
}

const TOO_SHORT: &str = "The rod “link” is too short to let its driver turn all the way. Make the two levers more \
    alike, or the turn smaller.";
const TOO_LONG: &str = "The rod “link” is too long to let its driver turn all the way. Make the two levers more \
    alike, or the turn smaller.";
const TOO_FAR: &str = "The rod “link” takes what follows it beyond a quarter turn from straight ahead. Use a shorter \
    lever on the driver, or a longer one on the follower.";

#[test]
fn a_rod_that_is_stuck_reaches_no_place_of_its_follower() {
    let mut random = Random::new(303);
    let mut kinds = [0; 3];
    while kinds.iter().any(|&count| count < 20) {
        let project = random_project(&mut random);
        let Some(linkage) = linkage(&project).ok() else {
            continue;
        };
        let Err(stuck) = &linkage.follows else {
            assert!(poses(&linkage, 40).all(|pose| linkage.at(pose).is_some()));
            continue;
        };
        let tip = driver_tip(&project, stuck.at);
        let lengths = (0..3_600).map(|step| {
            let own = f64::from(step).to_radians() / 10.0;
            let other = stuck.at.other;
            length(less(tip, follower_tip(&project, Pose { own, other })))
        });
        match stuck.problem.to_string().as_str() {
            TOO_SHORT => {
                assert!({ lengths }.all(|length| length > linkage.length));
                kinds[0] += 1;
            }
            TOO_LONG => {
                assert!({ lengths }.all(|length| length < linkage.length));
                kinds[1] += 1;
            }
            said => {
                assert_eq!(said, TOO_FAR);
                let own = linkage.at(stuck.at).unwrap().own;
                assert!(own.abs() > 90.0_f64.to_radians(), "{own}");
                kinds[2] += 1;
            }
        }
    }
}

/// The figures of a pose by hand: how far the follower is out of step, its transmission angle, and how far
/// the planar model is off.
fn by_hand(project: &Project, linkage: &Linkage, pose: Pose) -> [f64; 3] {
    let rod = &project.rods[0];
    let own = linkage.at(pose).expect("the rod reaches").own;
    let step = |own, moves| own - rest(project, moves);
    let other = pose.other;
    let follower = follower_tip(project, Pose { own, other });
    // The way the follower's tip goes, by a small difference.
    let small = 1e-6;
    let beside = [-small, small].map(|by| {
        let own = own + by;
        follower_tip(project, Pose { own, other })
    });
    let goes = unit(less(beside[1], beside[0]));
    let along = unit(less(driver_tip(project, pose), follower));
    [
        (step(own, rod.follower) - step(pose.own, rod.driver)).abs(),
        dot(goes, along).abs().min(1.0).asin(),
        (linkage
            .planar_at(pose.own)
            .expect("it reaches in the plane")
            - own)
            .abs(),
    ]
}

#[test]
fn no_pose_is_worse_than_the_figures_say() {
    let mut random = Random::new(304);
    let mut tested = 0;
    while tested < 60 {
        let (project, linkage) = following(&mut random);
        let found = evaluate(&project).figures.rods[0].clone();
        if linkage.worst().transmission.value < ASKEW {
            continue;
        }
        let mut worst = [0.0, f64::INFINITY, 0.0];
        let mut range = [f64::INFINITY, f64::NEG_INFINITY];
        for pose in poses(&linkage, 160) {
            let [difference, transmission, planar] = by_hand(&project, &linkage, pose);
            worst[0] = difference.max(worst[0]);
            worst[1] = transmission.min(worst[1]);
            worst[2] = planar.max(worst[2]);
            let own = linkage.at(pose).unwrap().own;
            range = [range[0].min(own), range[1].max(own)];
        }
        let [difference, transmission, planar] = worst.map(f64::to_degrees);
        // A peak between two samples is higher by a little; the ends of both turns are samples.
        assert_abs_diff_eq!(
            found.rod_length_mm.unwrap(),
            fitted(&project),
            epsilon = 1e-9
        );
        let figure = found.follower_difference_deg.unwrap();
        assert!(
            figure >= difference - 1e-6 && figure < difference + 0.01,
            "{figure} {difference}"
        );
        let figure = found.transmission_least_deg.unwrap();
        assert!(
            figure <= transmission + 1e-4 && figure > transmission - 0.02,
            "{figure} {transmission}"
        );
        let figure = found.planar_difference_deg.unwrap();
        assert!(
            figure >= planar - 1e-6 && figure < planar + 0.01,
            "{figure} {planar}"
        );
        let follows = linkage.follows.clone().unwrap();
        for (end, sampled) in follows.into_iter().zip(range) {
            assert_abs_diff_eq!(end, sampled, epsilon = 1e-4);
        }
        assert!(follows[0] <= range[0] + 1e-9 && follows[1] >= range[1] - 1e-9);
        tested += 1;
    }
}

#[test]
fn without_the_other_turn_the_planar_four_bar_is_exact_and_with_it_it_is_not() {
    let mut random = Random::new(305);
    let mut parts = 0;
    let mut tested = [0; 2];
    while tested.iter().any(|&count| count < 60) {
        let (_, linkage) = following(&mut random);
        if linkage.worst().transmission.value < ASKEW {
            continue;
        }
        let off = linkage.worst().planar_difference.value;
        if linkage.other == 0.0 {
            assert_abs_diff_eq!(off, 0.0, epsilon = CLOSED);
        } else {
            parts += u32::from(off > 1.0_f64.to_radians());
        }
        tested[usize::from(linkage.other > 0.0)] += 1;
    }
    assert!(parts > 20, "{parts}");
}

#[test]
fn the_transmission_angle_in_a_plane_is_that_between_rod_and_lever() {
    let mut random = Random::new(306);
    for _ in 0..60 {
        let mut project = rodded_pair();
        project.gaze.lift = Degrees(0.0);
        let rod = &mut project.rods[0];
        rod.driver_tip = [random.between(-15.0, 15.0), 0.0, -30.0];
        rod.follower_tip = [random.between(-15.0, 15.0), 0.0, -34.0];
        let linkage = linkage(&project).unwrap();
        for pose in poses(&linkage, 10) {
            let [from, to] = linkage.ends_at(pose).map(Vector::from);
            let (rod, lever) = (less(from, to), less(to, centre(&project, 1)));
            let angle = length(cross(rod, lever)).atan2(dot(rod, lever).abs());
            let found = linkage.at(pose).unwrap().transmission;
            assert_abs_diff_eq!(found, angle, epsilon = 1e-7);
        }
    }
}

/// Levers and the line of their axes, of lengths and directions at random.
fn four_bar(random: &mut Random) -> FourBar {
    let mut way = |low, high| {
        let (length, angle) = (random.between(low, high), random.angle());
        Plane::new(angle.cos(), angle.sin()) * length
    };
    FourBar {
        ground: way(40.0, 90.0),
        driver: way(10.0, 40.0),
        follower: way(10.0, 40.0),
    }
}

#[test]
fn levers_that_lie_alike_turn_exactly_alike() {
    let mut random = Random::new(307);
    for _ in 0..200 {
        let mut bar = four_bar(&mut random);
        bar.follower = bar.driver;
        // How far the levers stand across the line of the axes: as they turn toward it, what is rounded grows.
        let across = bar.driver.perp(&bar.ground) / (bar.driver.norm() * bar.ground.norm());
        if across.abs() < 0.8 {
            continue;
        }
        for step in -30..=30 {
            let turn = f64::from(step).to_radians();
            assert_abs_diff_eq!(bar.follower_turn(turn).unwrap(), turn, epsilon = 1e-13);
        }
    }
    // In space, too, and whatever the other turn.
    for _ in 0..100 {
        let mut project = random_project(&mut random);
        let driver = project.rods[0].driver;
        let follower = match driver {
            Moves::Gaze { turn, .. } => Moves::Gaze { eye: 1, turn },
            Moves::Lid { which, .. } => Moves::Lid { eye: 1, which },
        };
        project.rods = vec![rod(driver, follower, tip(&mut random))];
        let linkage = linkage(&project).unwrap();
        let across = linkage.follows.is_ok() && linkage.worst().transmission.value > ASKEW;
        if across {
            assert_abs_diff_eq!(linkage.worst().difference.value, 0.0, epsilon = 1e-12);
        }
    }
}

#[test]
fn the_planar_four_bar_satisfies_freudensteins_equation() {
    // F. Freudenstein, "An Analytical Approach to the Design of Four-Link Mechanisms", Trans. ASME 76
    // (1954), 483–492 (from memory): K1·cos φ − K2·cos θ + K3 = cos(θ − φ) with K1 = d/a, K2 = d/c,
    // K3 = (a² − b² + c² + d²)/(2ac), for the driver a, the rod b, the follower c and the line d of the
    // axes, from which θ and φ are counted.
    let mut random = Random::new(308);
    let mut turned = 0;
    for _ in 0..400 {
        let bar = four_bar(&mut random);
        let [a, c, d] = [bar.driver, bar.follower, bar.ground].map(|way| way.norm());
        let b = bar.length();
        let (k1, k2) = (d / a, d / c);
        let k3 = (a * a - b * b + c * c + d * d) / (2.0 * a * c);
        let from_line = |way: Plane| way.y.atan2(way.x) - bar.ground.y.atan2(bar.ground.x);
        for step in -18..=18 {
            let turn = f64::from(step * 10).to_radians();
            if let Some(follows) = bar.follower_turn(turn) {
                let theta = from_line(bar.driver) + turn;
                let phi = from_line(bar.follower) + follows;
                let left = k1 * phi.cos() - k2 * theta.cos() + k3;
                assert_abs_diff_eq!(left, (theta - phi).cos(), epsilon = 1e-11);
                turned += 1;
            }
        }
        assert_abs_diff_eq!(bar.follower_turn(0.0).unwrap(), 0.0, epsilon = 1e-6);
    }
    assert!(turned > 4_000, "{turned}");
}

#[test]
fn a_rod_between_levers_on_opposite_sides_turns_the_other_way() {
    let mut project = rodded_pair();
    project.gaze.lift = Degrees(0.0);
    project.rods[0].driver_tip = [0.0, 0.0, -30.0];
    project.rods[0].follower_tip = [0.0, 0.0, 30.0];
    let linkage = linkage(&project).unwrap();
    let [low, high] = linkage.driver_range;
    let at = |own| linkage.at(Pose { own, other: 0.0 }).unwrap().own;
    assert!(at(high) < -0.2 && at(low) > 0.2);
    assert!(linkage.worst().difference.value > high);
    assert_eq!(scaled([low, 0.0, 0.0], -1.0)[0], high);
}
