//! Projects to try: an ordinary pair, and what can be varied about it.

use layout::drive::{Cable, Drive, End, Moves, Turn};
use layout::eye::Eye;
use layout::gaze::{Gaze, SeatedBy};
use layout::hand::{GuardAxis, Hand};
use layout::head::{self, AnchorHole, Head};
use layout::lid::{Lid, Lids, Which};
use layout::limits::{Limits, Rule};
use layout::parts::Parts;
use layout::plate::{Plate, PlateOutline};
use layout::project::VERSION;
use layout::ring::Ring;
use layout::rod::Rod;
use layout::seat::Seat;
use layout::tie::TieSlot;
use layout::title_block::TitleBlock;
use layout::{Degrees, Finding, Project, Report};

use super::Random;

/// An eye at a place, with the project's parts.
pub(crate) fn eye(centre: [f64; 2]) -> Eye {
    Eye {
        centre,
        iris_diameter: 18.0,
        pupil_diameter: 8.0,
        parts: None,
        carrier: None,
    }
}

/// The same place on the right and on the left.
fn both_sides([x, y]: [f64; 2]) -> [[f64; 2]; 2] {
    [[x, y], [-x, y]]
}

/// A pair of 40 mm eyes in an ordinary head: four tied slots, and a drive for each eye.
pub(crate) fn pair() -> Project {
    let slot = |index, at| TieSlot {
        at,
        angle: Degrees(90.0),
        tie: [2.5, 1.0],
        anchor: Some(index),
        locked: false,
    };
    let drive = |name: &str, moves| Drive {
        name: name.to_owned(),
        moves,
        tip: [0.0, 0.0, -30.0],
        near: End::High,
        standoff: 3.0,
        stop: None,
        lead: 15.0,
        cable: Cable {
            inner_diameter: 0.3,
            sheath_diameter: 3.0,
            modulus_gpa: 206.0,
            friction: 0.12,
            least_bend_radius: 30.0,
        },
        via: Vec::new(),
        exit: [-14.0, -74.0, -34.0],
        torque_nmm: 20.0,
        returns: None,
        locked: false,
    };
    let upper = Which::Upper;
    Project {
        version: VERSION,
        name: "pair".to_owned(),
        head: Head {
            outline: head::start_outline(164.0, 196.0, 0.1),
            smooth: true,
            wall_thickness: 3.0,
            cavity_depth: 95.0,
            access: 120.0,
            anchor_holes: [[73.0, 30.0], [72.0, -40.0]]
                .into_iter()
                .flat_map(both_sides)
                .map(|at| AnchorHole { at, diameter: 5.0 })
                .collect(),
        },
        parts: Parts {
            name: "40 mm ball".to_owned(),
            ball_diameter: 40.0,
            ball_plus: 0.6,
            seat: Seat::Spherical {
                centre_height: 4.0,
                running_clearance: 0.4,
            },
            ring: Ring {
                depth: 15.6,
                thickness: 2.4,
                outer_diameter: 40.5,
                bevel: 1.8,
            },
            lids: None,
            eye_mass_g: None,
        },
        eyes: vec![eye([-29.0, 0.0]), eye([29.0, 0.0])],
        gaze: Gaze {
            side: Degrees(22.0),
            lift: Degrees(0.0),
            together: true,
            looks_at: 600.0,
        },
        seated_by: SeatedBy::Elastic { pull_n: 0.5 },
        plate: Plate {
            thickness: 3.0,
            rim: 10.0,
            outline: PlateOutline::Band,
            trim_to_head: false,
            padded: true,
            cable_holes: Vec::new(),
        },
        ties: [[62.0, 16.0], [62.0, -24.0]]
            .into_iter()
            .flat_map(both_sides)
            .enumerate()
            .map(|(index, at)| slot(index, at))
            .collect(),
        drives: vec![
            drive(
                "left gaze",
                Moves::Gaze {
                    eye: 0,
                    turn: Turn::Side,
                },
            ),
            drive(
                "right lid",
                Moves::Lid {
                    eye: 1,
                    which: upper,
                },
            ),
        ],
        rods: Vec::new(),
        hand: Hand {
            guard_chord: 100.0,
            guard_bow: 24.0,
            guard_edge: 18.0,
            guard_length: 70.0,
            guard_axis: GuardAxis::Y,
            thickness_mm: 38.0,
            head_mass_g: 420.0,
            mass_centre: [0.0, 5.0, 20.0],
        },
        limits: Limits::default(),
        tracing: None,
        draft: None,
        workshop: None,
        title_block: TitleBlock::default(),
    }
}

/// A closed curve of `count` points about the origin whose distances from it lie between `near`
/// and `far`: counter-clockwise, never crossing itself, and mostly concave.
pub(crate) fn star(random: &mut Random, count: usize, near: f64, far: f64) -> Vec<[f64; 2]> {
    around(count, |_| random.between(near, far))
}

/// A closed curve of `count` points at even turns about the origin, counter-clockwise.
pub(crate) fn around(count: usize, mut distance: impl FnMut(usize) -> f64) -> Vec<[f64; 2]> {
    (0..count)
        .map(|index| {
            let turn = std::f64::consts::TAU * index as f64 / count as f64;
            let distance = distance(index);
            [distance * turn.cos(), distance * turn.sin()]
        })
        .collect()
}

/// The pair with two lids on each eye.
pub(crate) fn lidded_pair() -> Project {
    let lid = |open, extent| Lid {
        open: Degrees(open),
        closed: Degrees(-0.5),
        extent: Degrees(extent),
    };
    let mut project = pair();
    project.parts.lids = Some(Lids {
        gap: 0.8,
        shell: 1.6,
        pivot_spacing: 52.0,
        pivot_hole: 3.2,
        lug_thickness: 3.0,
        lug_width: 10.0,
        lever_width: 5.0,
        upper: Some(lid(33.0, 63.0)),
        lower: Some(lid(36.0, 60.0)),
    });
    project
}

/// Lids of all sizes and turns that can be made, not all of which clear.
pub(crate) fn random_lids(random: &mut Random) -> Lids {
    let lid = |random: &mut Random| {
        let closed = random.between(-30.0, 20.0);
        Lid {
            open: Degrees(random.between(closed, 80.0)),
            closed: Degrees(closed),
            extent: Degrees(random.between(5.0, 100.0)),
        }
    };
    Lids {
        gap: random.between(0.2, 2.0),
        shell: random.between(0.5, 3.0),
        pivot_spacing: random.between(44.0, 58.0),
        pivot_hole: random.between(1.0, 6.0),
        lug_thickness: random.between(1.0, 5.0),
        lug_width: random.between(4.0, 16.0),
        lever_width: 5.0,
        upper: (!random.one_in(4)).then(|| lid(random)),
        lower: (!random.one_in(4)).then(|| lid(random)),
    }
}

/// The finding of a rule about a part.
pub(crate) fn finding<'a>(report: &'a Report, rule: Rule, part: &str) -> &'a Finding {
    let id = rule.info().id;
    let found = |finding: &&Finding| finding.id == id && finding.part == part;
    let finding = report.findings.iter().find(found);
    finding.unwrap_or_else(|| panic!("there is no {id} of the {part}"))
}

/// A rod between the two eyes of the pair, between tips of both that lie alike.
pub(crate) fn rod(driver: Moves, follower: Moves, tip: [f64; 3]) -> Rod {
    Rod {
        name: "link".to_owned(),
        driver,
        follower,
        driver_tip: tip,
        follower_tip: tip,
        diameter: 1.2,
    }
}

/// The side turn of an eye.
pub(crate) fn side_of(eye: usize) -> Moves {
    let turn = Turn::Side;
    Moves::Gaze { eye, turn }
}

/// The lidded pair with a rod from the left eye's side turn to the right one's.
pub(crate) fn rodded_pair() -> Project {
    let mut project = lidded_pair();
    project.rods = vec![rod(side_of(0), side_of(1), [0.0, 0.0, -30.0])];
    project
}

/// Four eyes in a row, each taken along by the one before.
pub(crate) fn chained_eyes() -> Project {
    let mut project = pair();
    project.eyes = [-75.0, -25.0, 25.0, 75.0].map(|x| eye([x, 0.0])).into();
    project.drives.truncate(1);
    let tip = [0.0, 0.0, -30.0];
    // Not in the order in which they move each other.
    project.rods = [(2, 3), (0, 1), (1, 2)]
        .map(|(driver, follower)| rod(side_of(driver), side_of(follower), tip))
        .into();
    project
}
