//! The bare wire of a drive, against levers that turn with it.

use layout::drive::{Drive, End, Moves, Turn};
use layout::limits::Rule;
use layout::{Degrees, Laid, Project, State, evaluate};

use crate::common::space::{Vector, add, dot, less, lifted, off_segment, scaled, to_side};
use crate::common::{Random, finding, lidded_pair};

/// Radius of the pair's balls, the height of their centres and the radius of a stalk, mm.
const BALL: f64 = 20.0;
const HEIGHT: f64 = 4.0;
const STALK: f64 = 2.5;

/// Poses of each turn, and places of a wire, that are looked at.
const POSES: i32 = 40;
const PLACES: i32 = 60;

/// An eye with a cable for its side turn and one for its lift.
fn crossed(random: &mut Random) -> Project {
    let mut project = lidded_pair();
    project.gaze.side = Degrees(random.between(5.0, 25.0));
    project.gaze.lift = Degrees(random.between(5.0, 20.0));
    project.gaze.together = random.one_in(2);
    // So much is wanted that the finding names what is nearest.
    project.limits.wire_clear = Some((0.0, 900.0).into());
    let like = project.drives[0].clone();
    let drives = [("side", Turn::Side), ("lift", Turn::Lift)].map(|(name, turn)| Drive {
        name: name.to_owned(),
        moves: Moves::Gaze { eye: 0, turn },
        near: random.pick(&[End::Low, End::High]),
        tip: [
            random.between(-9.0, 9.0),
            random.between(-9.0, 9.0),
            random.between(-36.0, -28.0),
        ],
        standoff: random.between(2.0, 8.0),
        ..like.clone()
    });
    project.drives = drives.into();
    project
}

/// From `−most` to `most`, radians.
fn spread(most: f64) -> impl Iterator<Item = f64> {
    (-POSES..=POSES).map(move |pose| most * f64::from(pose) / f64::from(POSES))
}

/// How near the wire of one drive comes to the lever of the other in all poses of the eye, mm.
fn to_other_lever(project: &Project, laid: &Laid, drive: usize) -> Option<f64> {
    let stop: Vector = laid.drives[drive].pull.as_ref().ok()?.stop.into();
    let [x, y] = project.eyes[0].centre;
    let stop = less(stop, [x, y, HEIGHT]);
    let [own, other] = [drive, 1 - drive].map(|drive| project.drives[drive].tip);
    let start = scaled(other, BALL / dot(other, other).sqrt());
    let [side, lift] = [project.gaze.side, project.gaze.lift].map(|turn| turn.0.to_radians());
    let mut least = f64::INFINITY;
    for side in spread(side) {
        for lift in spread(lift) {
            if !project.gaze.together && side != 0.0 && lift != 0.0 {
                continue;
            }
            let [tip, start, end] = [own, start, other].map(|at| to_side(lifted(at, lift), side));
            for place in 0..=PLACES {
                let share = f64::from(place) / f64::from(PLACES);
                let at = add(stop, scaled(less(tip, stop), share));
                least = least.min(off_segment(at, start, end) - STALK);
            }
        }
    }
    Some(least - project.drives[drive].cable.inner_diameter / 2.0)
}

#[test]
fn a_bare_wire_keeps_from_the_eye_s_other_lever_what_it_does_in_every_pose() {
    let mut random = Random::new(181);
    let (mut named, mut fouls, mut apart) = (0, 0, 0);
    for _ in 0..120 {
        let project = crossed(&mut random);
        let laid = Laid::out(&project);
        let report = evaluate(&project);
        for (index, other) in [(0, "lift"), (1, "side")] {
            let Some(least) = to_other_lever(&project, &laid, index) else {
                continue;
            };
            let found = finding(&report, Rule::WireClear, &project.drives[index].name);
            let value = found.value.expect("a margin");
            assert_eq!(report.figures.drives[index].wire_clear_mm, Some(value));
            assert!(value < least + 0.02, "{value} {least} {found:?}");
            if found
                .sentence
                .contains(&format!("the lever of the {other}"))
            {
                // Where they cross, places and poses that are spread miss the deepest of it.
                let missed = if value < -1.0 { STALK } else { 0.05 };
                assert!(least - value < missed, "{value} {least} {project:?}");
                named += 1;
                fouls += u32::from(found.state == State::Fouls);
                apart += u32::from(!project.gaze.together);
            }
        }
    }
    assert!(
        named > 40 && fouls > 10 && apart > 10,
        "{named} {fouls} {apart}"
    );
}

#[test]
fn a_bare_wire_that_runs_into_its_own_eye_s_ring_is_told_and_its_own_lever_is_not() {
    let mut project = lidded_pair();
    let mut drive = project.drives[0].clone();
    drive.moves = Moves::Gaze {
        eye: 0,
        turn: Turn::Side,
    };
    drive.near = End::High;
    drive.tip = [0.0, 0.0, -30.0];
    project.drives = vec![drive];
    let of = |project: &Project| {
        let report = evaluate(project);
        finding(&report, Rule::WireClear, &project.drives[0].name).clone()
    };
    // Its own lever and what stands at its tip leave the wire alone.
    let straight = of(&project);
    assert_eq!(straight.state, State::Clear, "{straight:?}");
    // From a stop before the plate, the wire passes the ring.
    let [x, y] = project.eyes[0].centre;
    project.drives[0].stop = Some([x + 24.0, y, 6.0]);
    let through = of(&project);
    assert_eq!(through.state, State::Fouls, "{through:?}");
    assert!(through.sentence.starts_with("The bare wire of the "));
}
