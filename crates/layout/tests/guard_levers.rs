//! The guard and what else moves before it: levers of lids and rods, place by place in poses that are really turned.

use std::f64::consts::TAU;

use layout::drive::{End, Moves};
use layout::guard::Guard;
use layout::hand::{GuardAxis, Hand};
use layout::lid::Which;
use layout::limits::{Rule, State};
use layout::turned::Pose;
use layout::{Degrees, Finding, Laid, Project, evaluate};

use crate::common::space::{
    Vector, add, cross, dot, led_on, length, less, lifted, scaled, to_side, unit,
};
use crate::common::{Random, finding, lidded_pair, rod, rodded_pair, side_of};
use crate::guard::{Section, across, hand};

/// How near to what places come to the guard a figure must be, mm.
const AGREED: f64 = 1e-3;

/// Half of a lever's width and of its thickness, mm.
const HALF_WIDTH: f64 = 2.5;
const HALF_THICKNESS: f64 = 1.5;

/// How far a place is from the mesh; how deep it is where the hand is, negative.
pub(crate) fn off_guard(hand: &Hand, thickness: f64, place: Vector) -> f64 {
    let section = Section::of(hand, thickness);
    let point = across(hand.guard_axis, place.into());
    let along = match hand.guard_axis {
        GuardAxis::Y => place[1],
        GuardAxis::X => place[0],
    };
    let gap = section.gap(point);
    let within = [
        -gap,
        section.edge.y - point.y,
        section.edge.x - point.x.abs(),
        hand.guard_length / 2.0 - along.abs(),
    ];
    let deep = within.into_iter().fold(f64::INFINITY, f64::min);
    if deep > 0.0 {
        return -deep;
    }
    gap.abs()
        .hypot((along.abs() - hand.guard_length / 2.0).max(0.0))
}

/// The least of something over some ranges: looked at in so many steps of each, and from the best in each step of the
/// first range led on.
fn least<const N: usize>(
    bounds: [[f64; 2]; N],
    counts: [i32; N],
    of: impl Fn([f64; N]) -> f64,
) -> f64 {
    let part = |axis: usize, step: i32| {
        let [low, high] = bounds[axis];
        low + (high - low) * f64::from(step) / f64::from(counts[axis])
    };
    let rest = counts[1..].iter().map(|count| count + 1).product::<i32>();
    let from = |first: i32| {
        let places = (0..rest).map(|mut index| {
            let at = std::array::from_fn(|axis| {
                if axis == 0 {
                    return part(0, first);
                }
                let step = index % (counts[axis] + 1);
                index /= counts[axis] + 1;
                part(axis, step)
            });
            (at, of(at))
        });
        let best = places
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .expect("there are some");
        let steps = std::array::from_fn(|axis| part(axis, 1) - bounds[axis][0]);
        led_on(best, bounds, (steps, 1e-7), &of)
    };
    (0..=counts[0]).map(from).fold(f64::INFINITY, f64::min)
}

/// Holds a figure, `radius` more than that of a middle line, against places: none comes nearer to the guard. `least_of`
/// tells the least of something over all places of what moves.
///
/// Places that are led on come to a stand at creases: where they stay farther off, the place that was found must be one
/// of them and as near as told, or be one of the mesh and as near to one of them.
fn compare(
    project: &Project,
    found: &Finding,
    radius: f64,
    least_of: impl Fn(&dyn Fn(Vector) -> f64) -> f64,
) {
    let off = |place| off_guard(&project.hand, project.plate.thickness, place);
    let value = found.value.expect("it has a figure") + radius;
    let sampled = least_of(&off);
    assert!(value < sampled + AGREED, "{value} {sampled}");
    if value > sampled - AGREED {
        return;
    }
    let at = found.place[0];
    let apart = least_of(&|place| length(less(place, at)));
    let is_one = apart < AGREED && (off(at) - value).abs() < AGREED;
    // What stands in it is deeper there, which no place of it tells.
    let is_of_mesh = off(at).abs() < AGREED && (apart - value.max(0.0)).abs() < AGREED;
    assert!(is_one || is_of_mesh, "{value} {sampled} {at:?} {apart}");
}

/// A pair with lids and one drive.
fn one_lever(moves: Moves) -> Project {
    let mut project = lidded_pair();
    project.drives.truncate(1);
    project.drives[0].moves = moves;
    project
}

/// A guard that what stands as far out as `out` and as far behind as `depth` may meet.
fn near_guard(random: &mut Random, out: f64, depth: f64) -> Hand {
    loop {
        let mut hand = hand(random);
        hand.guard_length = random.between(30.0, 160.0);
        let reach = hand.guard_chord.max(hand.guard_length) / 2.0;
        if reach > out - 15.0 && hand.guard_edge < depth && Guard::of(&hand, 3.0).is_ok() {
            return hand;
        }
    }
}

/// The least of something over a lid's lever: a bar with round ends from its axis at `root`, turned up over a range.
fn least_of_bar(root: Vector, arm: Vector, turns: [f64; 2], of: &dyn Fn(Vector) -> f64) -> f64 {
    let along = unit(arm);
    let across = cross([1.0, 0.0, 0.0], along);
    let at = |turn: f64, from_root: Vector, thick: f64| {
        let [x, y, z] = add(root, lifted(from_root, turn));
        of([x + thick, y, z])
    };
    let thick = [-HALF_THICKNESS, HALF_THICKNESS];
    let wide = [-HALF_WIDTH, HALF_WIDTH];
    let bounds = [turns, [0.0, 1.0], wide, thick];
    let straight = least(bounds, [20, 20, 2, 2], |[turn, share, aside, thick]| {
        at(turn, add(scaled(arm, share), scaled(across, aside)), thick)
    });
    let round = |share: f64| {
        let bounds = [turns, [0.0, TAU], [0.0, HALF_WIDTH], thick];
        least(bounds, [20, 12, 1, 2], |[turn, angle, off, thick]| {
            let (sin, cos) = angle.sin_cos();
            let off = add(scaled(along, off * cos), scaled(across, off * sin));
            at(turn, add(scaled(arm, share), off), thick)
        })
    };
    straight.min(round(0.0)).min(round(1.0))
}

#[test]
fn levers_of_lids_keep_from_the_guard_what_places_on_them_do_in_every_pose() {
    let mut random = Random::new(411);
    let (mut clear, mut fouls) = (0, 0);
    for _ in 0..200 {
        let mut project = one_lever(Moves::Lid {
            eye: 0,
            which: Which::Upper,
        });
        let drive = &mut project.drives[0];
        drive.near = End::Closed;
        drive.tip = [
            random.between(-32.0, -27.0),
            random.between(-20.0, 20.0),
            random.between(-35.0, -12.0),
        ];
        project.hand = near_guard(&mut random, 56.0, 30.0);
        if random.one_in(4) {
            // A face of the lever lies right beside a side of the hand's place.
            let face = 29.0 - project.drives[0].tip[0] - HALF_THICKNESS;
            let across = 2.0 * (face + random.between(-0.01, 0.03));
            let hand = &mut project.hand;
            match hand.guard_axis {
                GuardAxis::Y => hand.guard_chord = across,
                GuardAxis::X => hand.guard_length = across,
            }
            hand.guard_bow = hand.guard_bow.min(hand.guard_chord / 2.0);
        }
        let drive = &project.drives[0];
        let lids = project.parts.lids.unwrap();
        let lid = lids.upper.unwrap();
        let turn = (lid.open.0 - lid.closed.0).to_radians();
        let [x, y] = project.eyes[drive.moves.eye()].centre;
        let root = [x + drive.tip[0], y, 4.0];
        let arm = [0.0, drive.tip[1], drive.tip[2]];
        let part = format!("lever of the {}", drive.name);
        let report = evaluate(&project);
        let found = finding(&report, Rule::GuardClearance, &part);
        let turns = [turn.min(0.0), turn.max(0.0)];
        compare(&project, found, 0.0, |of| {
            least_of_bar(root, arm, turns, of)
        });
        let least = report.figures.hand.guard_clearance_mm.unwrap();
        assert!(least <= found.value.unwrap());
        clear += u32::from(found.state == State::Clear);
        fouls += u32::from(found.state == State::Fouls);
    }
    assert!(clear > 10 && fouls > 10, "{clear} {fouls}");
}

#[test]
fn rods_keep_from_the_guard_what_places_along_them_do_in_every_pose() {
    let mut random = Random::new(412);
    let (mut clear, mut fouls) = (0, 0);
    for _ in 0..200 {
        let mut project = rodded_pair();
        project.drives.clear();
        project.gaze.lift = Degrees(0.0);
        project.gaze.side = Degrees(random.between(5.0, 25.0));
        let tip = [
            0.0,
            random.between(-14.0, 14.0),
            random.between(-40.0, -26.0),
        ];
        project.rods = vec![rod(side_of(0), side_of(1), tip)];
        project.hand = near_guard(&mut random, 30.0, 30.0);
        let laid = Laid::out(&project);
        let linkage = laid.rods[0].as_ref().unwrap();
        let side = project.gaze.side.0.to_radians();
        let bounds = [[-side, side], [0.0, 1.0]];
        let report = evaluate(&project);
        let found = finding(&report, Rule::GuardClearance, &project.rods[0].name);
        let radius = project.rods[0].diameter / 2.0;
        compare(&project, found, radius, |of| {
            least(bounds, [20, 30], |[own, share]| {
                let pose = Pose { own, other: 0.0 };
                let [from, to]: [Vector; 2] = linkage.ends_at(pose).map(Into::into);
                of(add(from, scaled(less(to, from), share)))
            })
        });
        clear += u32::from(found.state == State::Clear);
        fouls += u32::from(found.state == State::Fouls);
    }
    assert!(clear > 10 && fouls > 10, "{clear} {fouls}");
}

/// The least of something over the middle of a gaze's lever, over ranges of side and lift.
fn least_of_stalk(
    [x, y]: [f64; 2],
    tip: Vector,
    [side, lift]: [[f64; 2]; 2],
    of: &dyn Fn(Vector) -> f64,
) -> f64 {
    let ball = 20.0 / dot(tip, tip).sqrt();
    least([side, lift, [ball, 1.0]], [30; 3], |[side, lift, share]| {
        let at = to_side(lifted(scaled(tip, share), lift), side);
        of(add([x, y, 4.0], at))
    })
}

#[test]
fn levers_of_gazes_keep_from_the_guard_what_places_on_them_do_in_every_pose() {
    let mut random = Random::new(413);
    let (mut clear, mut fouls, mut behind) = (0, 0, 0);
    for _ in 0..200 {
        let mut project = one_lever(side_of(0));
        project.gaze.side = Degrees(random.between(5.0, 30.0));
        project.gaze.lift = Degrees(random.between(0.0, 20.0));
        project.gaze.together = random.one_in(2);
        let tip = [
            random.between(-16.0, 16.0),
            random.between(-20.0, 20.0),
            random.between(-38.0, -20.0),
        ];
        project.drives[0].tip = tip;
        project.hand = near_guard(&mut random, 30.0, 30.0);
        let [side, lift] = [project.gaze.side, project.gaze.lift].map(|turn| {
            let most = turn.0.to_radians();
            [-most, most]
        });
        let ranges = if project.gaze.together {
            vec![[side, lift]]
        } else {
            vec![[side, [0.0; 2]], [[0.0; 2], lift]]
        };
        let part = format!("lever of the {}", project.drives[0].name);
        let report = evaluate(&project);
        let found = finding(&report, Rule::GuardClearance, &part);
        let centre = project.eyes[0].centre;
        compare(&project, found, HALF_WIDTH, |of| {
            let least = ranges
                .iter()
                .map(|own| least_of_stalk(centre, tip, *own, of));
            least.fold(f64::INFINITY, f64::min)
        });
        clear += u32::from(found.state == State::Clear);
        fouls += u32::from(found.state == State::Fouls);
        behind += u32::from(found.value.unwrap() < -HALF_WIDTH);
    }
    assert!(
        clear > 10 && fouls > 10 && behind > 3,
        "{clear} {fouls} {behind}"
    );
}

#[test]
fn a_lever_that_rests_is_as_deep_where_the_hand_is_as_the_deepest_place_on_it() {
    let mut random = Random::new(414);
    let (mut within, mut tip) = (0, 0);
    for _ in 0..3000 {
        let mut project = one_lever(side_of(0));
        project.drives[0].tip = [
            random.between(-60.0, 60.0),
            random.between(-60.0, 60.0),
            random.between(-70.0, -20.0),
        ];
        (project.gaze.side, project.gaze.lift) = (Degrees(0.0), Degrees(0.0));
        project.hand = near_guard(&mut random, 60.0, 30.0);
        if random.one_in(3) {
            // All but flat: the arc's centre is up to thousands of kilometres away.
            project.hand.guard_bow = 10_f64.powf(random.between(-6.0, -1.0));
        }
        let [x, y] = project.eyes[0].centre;
        let ball = 20.0 / length(project.drives[0].tip);
        let off = |share: f64| {
            let at = add([x, y, 4.0], scaled(project.drives[0].tip, share));
            off_guard(&project.hand, project.plate.thickness, at)
        };
        let sampled = least([[0.0; 2], [ball, 1.0]], [1, 500], |[_, share]| off(share));
        if sampled >= 0.0 {
            continue;
        }
        let part = format!("lever of the {}", project.drives[0].name);
        let report = evaluate(&project);
        let value = finding(&report, Rule::GuardClearance, &part).value;
        let value = value.unwrap() + HALF_WIDTH;
        // The last steps of what is led on are 6e-6 mm long, and places from far centres blurred by less.
        let deeper = sampled - value;
        assert!((-1e-6..1e-5).contains(&deeper), "{value} {sampled}");
        within += u32::from(sampled < off(1.0) - 1e-3);
        tip += u32::from(sampled == off(1.0));
    }
    assert!(within > 50 && tip > 50, "{within} {tip}");
}
