//! Heads with a sheath whose route is sought.

use layout::drive::{Drive, End, Moves, Turn};
use layout::geometry::space::Place;
use layout::head;
use layout::lid::Which;
use layout::limits::Rule;
use layout::route::{Route, Start};
use layout::{Degrees, Laid, Project, State, evaluate};

use super::{Random, lidded_pair};

/// The drive whose route is sought.
pub(crate) const SOUGHT: usize = 0;

/// Findings about a sheath that its route can change.
const RULES: [Rule; 15] = [
    Rule::RouteShape,
    Rule::SheathPlate,
    Rule::SheathBall,
    Rule::SheathRing,
    Rule::SheathLid,
    Rule::SheathLever,
    Rule::SheathWall,
    Rule::InFront,
    Rule::SheathGap,
    Rule::GuardClearance,
    Rule::HoleOpening,
    Rule::HoleSlot,
    Rule::HoleEdge,
    Rule::HoleGap,
    Rule::LugHole,
];

/// A head of random size and guard, with two to five cables of random levers, stiffness and exits.
pub(crate) fn random_head(random: &mut Random) -> Project {
    let mut project = lidded_pair();
    let size = [random.between(150.0, 190.0), random.between(180.0, 220.0)];
    project.head.outline = head::start_outline(size[0], size[1], 0.1);
    project.gaze.lift = Degrees(random.between(0.0, 8.0));
    project.hand.guard_chord = random.between(80.0, 110.0);
    project.hand.guard_bow = random.between(10.0, 30.0);
    project.hand.guard_edge = random.between(16.0, 26.0);
    project.hand.guard_length = random.between(50.0, 90.0);
    let like = project.drives[0].clone();
    let count = 2 + random.below(4);
    let drives = (0..count).map(|index| random_drive(random, &format!("cable {index}"), &like));
    project.drives = drives.collect();
    project
}

fn random_drive(random: &mut Random, name: &str, like: &Drive) -> Drive {
    let eye = random.below(2);
    let side = if eye == 0 { -1.0 } else { 1.0 };
    let mut near = |half: f64| random.between(-half, half);
    let mut drive = Drive {
        name: name.to_owned(),
        tip: [side * (31.0 + near(2.0)), -12.0 + near(3.0), near(2.0)],
        exit: [
            side * 45.0 + near(30.0),
            -70.0 + near(20.0),
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
        drive.tip = [0.0, random.between(-20.0, -10.0), -29.0];
    }
    drive.cable.sheath_diameter = random.between(1.0, 4.0);
    drive.cable.least_bend_radius = random.between(10.0, 30.0);
    drive.cable.friction = random.between(0.05, 0.2);
    drive
}

/// Corners anywhere in a head.
pub(crate) fn random_corners(random: &mut Random, count: usize) -> Vec<[f64; 3]> {
    let corners = (0..count).map(|_| {
        let [x, y] = [random.between(-85.0, 85.0), random.between(-100.0, 60.0)];
        [x, y, random.between(-60.0, 40.0)]
    });
    corners.collect()
}

/// The project with other corners for the sought route.
pub(crate) fn led_round(project: &Project, via: &[[f64; 3]]) -> Project {
    let mut project = project.clone();
    project.drives[SOUGHT].via = via.to_vec();
    project
}

/// The sought route round some corners; None without a pull.
pub(crate) fn laid_round(project: &Project, laid: &Laid, via: &[[f64; 3]]) -> Option<Route> {
    let (drive, pull) = (
        &project.drives[SOUGHT],
        laid.drives[SOUGHT].pull.as_ref().ok()?,
    );
    let start = Start {
        stop: pull.stop,
        heading: -pull.along,
        lead: drive.lead,
        radius: drive.cable.least_bend_radius,
    };
    let via: Vec<Place> = via.iter().map(|&at| at.into()).collect();
    Some(Route::lay(&start, &via, drive.exit.into()))
}

/// The worst that is found about the sought route.
pub(crate) fn worst(project: &Project) -> State {
    let name = &project.drives[SOUGHT].name;
    let own = |part: &str| part.split(" and ").any(|one| one == name);
    let report = evaluate(project);
    let about = report.findings.iter().filter(|finding| {
        own(&finding.part) && RULES.iter().any(|rule| rule.info().id == finding.id)
    });
    about
        .map(|finding| finding.state)
        .max()
        .expect("a route has findings")
}

/// A random head whose sought route is clear round some random corners, and that route; `roundabout`
/// ones are not clear straight from lead to exit.
pub(crate) fn planted(random: &mut Random, roundabout: bool) -> (Project, Route) {
    /// Corners that are tried in one head.
    const TRIES: usize = 200;
    loop {
        let project = random_head(random);
        let laid = Laid::out(&project);
        if laid.drives[SOUGHT].pull.is_err() || roundabout && worst(&project) == State::Clear {
            continue;
        }
        for _ in 0..TRIES {
            let count = random.below(4);
            let via = random_corners(random, count);
            let route = laid_round(&project, &laid, &via).filter(Route::is_laid);
            if let Some(route) = route
                && worst(&led_round(&project, &via)) == State::Clear
            {
                return (project, route);
            }
        }
    }
}
