//! What the audience would see of a drive in front of the plate.

use approx::assert_abs_diff_eq;
use layout::drive::{End, Moves};
use layout::geometry::space::{Piece, Place};
use layout::lid::Which;
use layout::limits::{Rule, State};
use layout::route::{Route, Start};
use layout::{Finding, Project, evaluate};

use crate::common::{Random, finding, lidded_pair};

fn found(project: &Project, drive: usize) -> Finding {
    assert_eq!(project.check(), Ok(()));
    let report = evaluate(project);
    finding(&report, Rule::InFront, &project.drives[drive].name).clone()
}

/// The pair with a lever beside the right eye's lugs, whose sheath leaves behind the plate.
fn with_lid_drive() -> Project {
    let mut project = lidded_pair();
    let drive = &mut project.drives[1];
    drive.moves = Moves::Lid {
        eye: 1,
        which: Which::Upper,
    };
    (drive.tip, drive.near) = ([29.5, -12.0, 0.0], End::Closed);
    drive.exit = [52.0, -62.0, -30.0];
    project
}

#[test]
fn a_lid_s_lever_stands_in_front_and_its_sheath_leaves_behind() {
    let found = found(&with_lid_drive(), 1);
    assert_eq!(
        (found.state, found.sentence.as_str()),
        (
            State::Clear,
            "The sheath of the right lid leaves behind the plate."
        )
    );
    assert_abs_diff_eq!(found.value.unwrap(), -30.0, epsilon = 1e-6);
}

#[test]
fn a_sheath_that_leaves_in_front_of_the_plate_is_seen() {
    let mut project = with_lid_drive();
    project.drives[1].exit = [60.0, -62.0, 5.0];
    let found = found(&project, 1);
    assert_eq!(
        (found.state, found.sentence.as_str()),
        (
            State::Tight,
            "The sheath of the right lid comes out in front of the plate, where the audience sees it. \
             Lead it out behind the plate."
        )
    );
    assert_abs_diff_eq!(found.value.unwrap(), 5.0, epsilon = 1e-6);
    assert_eq!(found.place.len(), 1);
}

#[test]
fn a_sheath_that_comes_out_again_on_its_way_is_seen() {
    let mut project = with_lid_drive();
    let drive = &mut project.drives[1];
    drive.cable.least_bend_radius = 5.0;
    drive.via = vec![
        [50.0, -40.0, -40.0],
        [50.0, -60.0, 30.0],
        [50.0, -90.0, -40.0],
    ];
    drive.exit = [50.0, -130.0, -40.0];
    let found = found(&project, 1);
    assert_eq!(found.state, State::Tight);
    let height = found.value.unwrap();
    // The corner at 30 mm is cut by its bend.
    assert!((10.0..30.0).contains(&height), "{height}");
}

#[test]
fn a_gaze_s_lever_in_front_of_the_plate_is_seen() {
    let mut project = lidded_pair();
    project.drives[0].tip = [0.0, -6.0, 24.0];
    let found = found(&project, 0);
    assert_eq!(
        (found.state, found.sentence.as_str()),
        (
            State::Tight,
            "The lever of the left gaze stands in front of the plate, where the audience sees it. \
             Put its tip behind the plate."
        )
    );
    // The ball's centre lies 4 mm before the plate.
    assert_abs_diff_eq!(found.value.unwrap(), 28.0, epsilon = 1e-9);
}

#[test]
fn a_route_s_place_farthest_forward_is_the_highest_that_a_walk_along_it_meets() {
    let mut random = Random::new(125);
    let mut again = 0;
    for _ in 0..500 {
        let mut place = |half: f64| {
            Place::new(
                random.between(-half, half),
                random.between(-half, half),
                random.between(-half, half),
            )
        };
        let heading = place(1.0).coords.normalize();
        let (stop, via, exit) = (place(30.0), vec![place(90.0), place(90.0)], place(120.0));
        let start = Start {
            stop,
            heading,
            lead: 10.0,
            radius: 8.0,
        };
        let route = Route::lay(&start, &via, exit);
        // The lead comes first.
        let mut highest = None::<f64>;
        for piece in route.pieces.iter().skip(1) {
            for step in 0..=2_000 {
                let z = piece.at(f64::from(step) / 2_000.0).z;
                highest = Some(highest.map_or(z, |best| best.max(z)));
            }
        }
        let last = route
            .pieces
            .last()
            .map(|piece: &Piece| piece.at(1.0).z)
            .unwrap();
        let expected = highest.filter(|z| *z > 0.0).unwrap_or(last);
        let found = route.farthest_forward().unwrap().z;
        assert_abs_diff_eq!(found, expected, epsilon = 1e-3);
        assert!(found >= expected - 1e-9);
        again += u32::from(highest.is_some_and(|z| z > last.max(0.0) + 1.0));
    }
    assert!(again > 50, "{again}");
}
