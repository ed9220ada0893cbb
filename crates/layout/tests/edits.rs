//! What each edit changes, and what it leaves alone.

use approx::assert_abs_diff_eq;
use layout::closed_curve::CurveOf;
use layout::drive::{Moves, Turn};
use layout::edit::{Edit, HeadSide};
use layout::field::{Field, PartsOf};
use layout::handle::{Handle, MIRROR_REACH};
use layout::limits::{Limit, Rule};
use layout::plate::PlateOutline;
use layout::seat::Seat;
use layout::{Degrees, Project};

use crate::common::{Random, eye, pair};

fn applied(project: &Project, edit: &Edit) -> Project {
    edit.apply(project)
        .unwrap_or_else(|problem| panic!("{edit:?}: {problem}"))
}

/// Every field there is, for the things that [`full`] holds.
fn every_field() -> Vec<Field> {
    let mut fields = vec![
        Field::WallThickness,
        Field::CavityDepth,
        Field::Access,
        Field::Side,
        Field::Lift,
        Field::LooksAt,
        Field::PlateThickness,
        Field::PlateRim,
        Field::InsetBottom,
        Field::InsetTop,
    ];
    for index in [0, 1] {
        fields.extend([
            Field::OutlineX(CurveOf::Head, index),
            Field::OutlineY(CurveOf::Head, index),
            Field::AnchorX(index),
            Field::AnchorY(index),
            Field::AnchorDiameter(index),
            Field::EyeX(index),
            Field::EyeY(index),
            Field::IrisDiameter(index),
            Field::PupilDiameter(index),
            Field::SlotX(index),
            Field::SlotY(index),
            Field::SlotAngle(index),
            Field::TieWidth(index),
            Field::TieThickness(index),
        ]);
    }
    for of in [PartsOf::Shared, PartsOf::Eye(1)] {
        fields.extend([
            Field::BallDiameter(of),
            Field::BallPlus(of),
            Field::RingDepth(of),
            Field::RingThickness(of),
            Field::RingDiameter(of),
            Field::RingBevel(of),
        ]);
    }
    fields.extend([
        Field::CentreHeight(PartsOf::Shared),
        Field::RunningClearance(PartsOf::Shared),
        Field::OpeningDiameter(PartsOf::Eye(1)),
    ]);
    let limits = Rule::ALL
        .iter()
        .flat_map(|&rule| [Field::LimitLeast(rule), Field::LimitWanted(rule)]);
    fields.extend(limits);
    fields
}

/// A pair that has everything a field can name: an inset plate, and an eye with parts of its own
/// in a plain seat.
fn full() -> Project {
    let mut project = pair();
    project.plate.outline = PlateOutline::HeadInset {
        bottom: -40.0,
        top: 40.0,
    };
    let mut parts = project.parts.clone();
    parts.seat = Seat::Plain {
        opening_diameter: 38.0,
    };
    project.eyes[1].parts = Some(Box::new(parts));
    project
}

/// A value that is near the old one, on the side where the limits stay in order.
fn beside(field: Field, old: f64) -> f64 {
    match field {
        Field::LimitLeast(rule) if rule.info().sense == layout::limits::Sense::AtLeast => {
            old - 0.25
        }
        Field::LimitWanted(rule) if rule.info().sense == layout::limits::Sense::AtMost => {
            old - 0.25
        }
        // A limit that has no least value has none to change.
        _ if old.is_infinite() => old,
        _ => old + 0.25,
    }
}

#[test]
fn every_field_that_is_set_reads_back_and_changes_nothing_else() {
    let project = full();
    for field in every_field() {
        let old = field
            .get(&project)
            .unwrap_or_else(|| panic!("{field:?} is not there"));
        let new = beside(field, old);
        let changed = applied(&project, &Edit::Set(field, new));
        assert_eq!(field.get(&changed), Some(new), "{field:?}");
        for other in every_field() {
            let pair_of_limits = matches!(other, Field::LimitLeast(_) | Field::LimitWanted(_));
            // Webs are wanted as wide as the plate is thick.
            let follows = field == Field::PlateThickness && pair_of_limits;
            if other != field && !follows {
                assert_eq!(
                    other.get(&changed),
                    other.get(&project),
                    "{field:?} {other:?}"
                );
            }
        }
    }
}

#[test]
fn a_field_of_something_that_is_not_there_has_no_value_and_cannot_be_set() {
    let project = pair();
    let absent = [
        Field::EyeX(2),
        Field::OutlineY(CurveOf::Head, 99),
        Field::AnchorDiameter(9),
        Field::SlotAngle(9),
        Field::BallDiameter(PartsOf::Eye(0)),
        Field::OpeningDiameter(PartsOf::Shared),
        Field::InsetTop,
    ];
    for field in absent {
        assert_eq!(field.get(&project), None, "{field:?}");
        assert!(Edit::Set(field, 1.0).apply(&project).is_err(), "{field:?}");
    }
}

/// Whether every place has another at its mirror image.
fn symmetric(places: &[[f64; 2]]) -> bool {
    let opposite = |a: &[f64; 2], b: &[f64; 2]| (a[0] + b[0]).hypot(a[1] - b[1]) < 1e-9;
    places.iter().all(|a| places.iter().any(|b| opposite(a, b)))
}

fn assert_symmetric(project: &Project) {
    let eyes: Vec<_> = project.eyes.iter().map(|eye| eye.centre).collect();
    let slots: Vec<_> = project.ties.iter().map(|slot| slot.at).collect();
    let holes: Vec<_> = project
        .head
        .anchor_holes
        .iter()
        .map(|hole| hole.at)
        .collect();
    for places in [&eyes, &slots, &holes, &project.head.outline] {
        assert!(symmetric(places), "{places:?}");
    }
}

#[test]
fn mirrored_moves_keep_both_sides_alike() {
    let mut random = Random::new(41);
    let mut project = pair();
    assert_symmetric(&project);
    for _ in 0..500 {
        let handle = match random.below(4) {
            0 => Handle::Eye(random.below(2)),
            1 => Handle::Slot(random.below(4)),
            2 => Handle::AnchorHole(random.below(4)),
            _ => Handle::OutlinePoint(CurveOf::Head, random.below(16)),
        };
        let [x, y] = handle.at(&project).unwrap();
        let to = [x + random.between(-0.5, 0.5), y + random.between(-0.5, 0.5)];
        let edit = Edit::Move {
            handle,
            to,
            mirrored: true,
        };
        project = applied(&project, &edit);
        assert_symmetric(&project);
    }
}

#[test]
fn a_single_move_leaves_its_partner_where_it_is() {
    let project = pair();
    let edit = Edit::Move {
        handle: Handle::Eye(0),
        to: [-31.0, 2.0],
        mirrored: false,
    };
    let moved = applied(&project, &edit);
    assert_eq!(moved.eyes[0].centre, [-31.0, 2.0]);
    assert_eq!(moved.eyes[1], project.eyes[1]);
}

#[test]
fn a_mirrored_point_on_the_centre_line_stays_on_it() {
    let project = pair();
    let top = Handle::OutlinePoint(CurveOf::Head, 4);
    let edit = Edit::Move {
        handle: top,
        to: [1.5, 99.0],
        mirrored: true,
    };
    assert_eq!(top.at(&applied(&project, &edit)), Some([0.0, 99.0]));
}

#[test]
fn removing_an_eye_takes_its_drives_along_and_the_others_follow_their_eyes() {
    let mut project = pair();
    project.eyes.push(eye([0.0, 40.0]));
    project.drives[1].moves = Moves::Gaze {
        eye: 2,
        turn: Turn::Lift,
    };
    let edit = Edit::Remove {
        handle: Handle::Eye(0),
        mirrored: false,
    };
    let left = applied(&project, &edit);
    assert_eq!(left.eyes, project.eyes[1..]);
    assert_eq!(left.drives.len(), 1);
    assert_eq!(left.drives[0].name, project.drives[1].name);
    let follows = Moves::Gaze {
        eye: 1,
        turn: Turn::Lift,
    };
    assert_eq!(left.drives[0].moves, follows);
}

#[test]
fn removing_an_anchor_hole_frees_its_slot_and_the_others_keep_their_holes() {
    let project = pair();
    let edit = Edit::Remove {
        handle: Handle::AnchorHole(1),
        mirrored: false,
    };
    let left = applied(&project, &edit);
    let anchors: Vec<_> = left.ties.iter().map(|slot| slot.anchor).collect();
    assert_eq!(anchors, [Some(0), None, Some(1), Some(2)]);
    for (slot, before) in left
        .ties
        .iter()
        .zip(&project.ties)
        .filter(|(slot, _)| slot.anchor.is_some())
    {
        let hole =
            |project: &Project, anchor: Option<usize>| project.head.anchor_holes[anchor.unwrap()];
        assert_eq!(hole(&left, slot.anchor), hole(&project, before.anchor));
    }
}

#[test]
fn a_mirrored_removal_takes_both_of_a_pair_and_no_more() {
    let project = pair();
    for handle in [
        Handle::Slot(0),
        Handle::Slot(1),
        Handle::AnchorHole(3),
        Handle::OutlinePoint(CurveOf::Head, 2),
    ] {
        let left = applied(
            &project,
            &Edit::Remove {
                handle,
                mirrored: true,
            },
        );
        assert_symmetric(&left);
        let gone = |now: usize, before: usize| before - now;
        let all = [
            gone(left.ties.len(), project.ties.len()),
            gone(
                left.head.anchor_holes.len(),
                project.head.anchor_holes.len(),
            ),
            gone(left.head.outline.len(), project.head.outline.len()),
        ];
        assert_eq!(all.iter().sum::<usize>(), 2, "{handle:?}");
    }
}

#[test]
fn the_last_eye_and_the_third_last_outline_point_stay() {
    let mut project = pair();
    let last = Edit::Remove {
        handle: Handle::Eye(0),
        mirrored: true,
    };
    assert_eq!(last.apply(&project).unwrap_err().field, "eyes");
    project.head.outline = vec![[-50.0, -50.0], [50.0, -50.0], [0.0, 60.0]];
    let point = Edit::Remove {
        handle: Handle::OutlinePoint(CurveOf::Head, 0),
        mirrored: false,
    };
    assert_eq!(point.apply(&project).unwrap_err().field, "head.outline");
}

#[test]
fn a_mirrored_outline_is_symmetric_and_keeps_its_side() {
    let mut random = Random::new(42);
    for _ in 0..200 {
        let mut project = pair();
        for point in &mut project.head.outline {
            point[0] += random.between(-4.0, 4.0);
            point[1] += random.between(-4.0, 4.0);
        }
        let (keep, sign) = random.pick(&[(HeadSide::Left, -1.0), (HeadSide::Right, 1.0)]);
        let mirrored = applied(
            &project,
            &Edit::MirrorOutline {
                curve: CurveOf::Head,
                keep,
            },
        );
        let mut put_back = mirrored.clone();
        put_back.head.outline.clone_from(&project.head.outline);
        assert_eq!(put_back, project);
        assert!(
            symmetric(&mirrored.head.outline),
            "{:?}",
            mirrored.head.outline
        );
        // What lies clear of the centre line on that side is still there.
        for point in project.head.outline.iter().filter(|p| p[0] * sign > 0.5) {
            assert!(mirrored.head.outline.contains(point), "{keep:?} {point:?}");
        }
    }
}

#[test]
fn spacing_puts_two_eyes_apart_about_the_point_between_them() {
    let mut project = pair();
    project.eyes[0].centre = [-30.0, 4.0];
    project.eyes[1].centre = [28.0, -2.0];
    let edit = Edit::Spacing {
        eyes: [0, 1],
        distance: 64.0,
    };
    let spaced = applied(&project, &edit);
    let [a, b] = [spaced.eyes[0].at(), spaced.eyes[1].at()];
    assert_abs_diff_eq!((b - a).norm(), 64.0, epsilon = 1e-9);
    assert_abs_diff_eq!(
        nalgebra::center(&a, &b),
        nalgebra::Point2::new(-1.0, 1.0),
        epsilon = 1e-9
    );
    let turned = (b - a).perp(&(project.eyes[1].at() - project.eyes[0].at()));
    assert_abs_diff_eq!(turned, 0.0, epsilon = 1e-9);
}

#[test]
fn an_eye_has_no_spacing_from_itself() {
    let edit = Edit::Spacing {
        eyes: [1, 1],
        distance: 64.0,
    };
    assert!(edit.apply(&pair()).is_err());
}

#[test]
fn added_slots_and_holes_come_in_pairs_unless_they_stand_on_the_centre_line() {
    let project = pair();
    for (at, mirrored, added) in [
        ([50.0, 5.0], true, 2),
        ([0.0, 5.0], true, 1),
        ([50.0, 5.0], false, 1),
    ] {
        let slots = applied(&project, &Edit::AddSlot { at, mirrored });
        assert_eq!(slots.ties.len(), project.ties.len() + added);
        let holes = applied(&project, &Edit::AddAnchorHole { at, mirrored });
        assert_eq!(
            holes.head.anchor_holes.len(),
            project.head.anchor_holes.len() + added
        );
    }
}

#[test]
fn an_outline_point_is_added_after_the_one_named() {
    let project = pair();
    let edit = Edit::AddOutlinePoint {
        curve: CurveOf::Head,
        after: 15,
        at: [81.0, -20.0],
        mirrored: false,
    };
    assert_eq!(applied(&project, &edit).head.outline[16], [81.0, -20.0]);
    let beyond = Edit::AddOutlinePoint {
        curve: CurveOf::Head,
        after: 16,
        at: [81.0, -20.0],
        mirrored: false,
    };
    assert!(beyond.apply(&project).is_err());
}

#[test]
fn a_point_that_is_added_in_mirror_editing_gets_a_partner_as_it_loses_one() {
    for smooth in [false, true] {
        let project = applied(&pair(), &Edit::Smooth(CurveOf::Head, smooth));
        let outline = &project.head.outline;
        let halfway = |after: usize| {
            let (a, b) = (outline[after], outline[(after + 1) % outline.len()]);
            [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0]
        };
        for after in 0..outline.len() {
            let at = halfway(after);
            let edit = Edit::AddOutlinePoint {
                curve: CurveOf::Head,
                after,
                at,
                mirrored: true,
            };
            let more = applied(&project, &edit);
            let on_line = at[0].abs() <= MIRROR_REACH;
            let added = if on_line { 1 } else { 2 };
            assert_eq!(more.head.outline.len(), outline.len() + added, "{at:?}");
            let place = more.head.outline.iter().position(|&point| point == at);
            let handle = Handle::OutlinePoint(CurveOf::Head, place.unwrap());
            let fewer = applied(
                &more,
                &Edit::Remove {
                    handle,
                    mirrored: true,
                },
            );
            assert_eq!(fewer, project);
        }
    }
}

#[test]
fn a_limit_that_is_reset_has_its_starting_value_again() {
    let project = pair();
    let own = applied(&project, &Edit::Set(Field::LimitWanted(Rule::Rim), 4.5));
    assert_eq!(
        own.limits.own(Rule::Rim),
        Some(Limit {
            least: 1.0,
            wanted: 4.5
        })
    );
    assert_eq!(applied(&own, &Edit::ResetLimit(Rule::Rim)), project);
}

#[test]
fn limits_in_the_wrong_order_are_refused() {
    let problem = Edit::Set(Field::LimitLeast(Rule::Rim), 9.0)
        .apply(&pair())
        .unwrap_err();
    assert_eq!(problem.field, "limits.rim");
    assert_eq!(
        problem.sentence,
        "The limit (9, 3) of `rim` asks for less than it must have."
    );
}

#[test]
fn a_crossing_outline_is_refused_with_its_place() {
    let mut project = pair();
    project.head.smooth = false;
    project.head.outline = vec![[-50.0, -50.0], [50.0, 50.0], [50.0, -50.0], [-50.0, 50.0]];
    let problem = project.check().unwrap_err();
    assert_eq!(
        problem.sentence,
        "The head outline crosses itself near (0.0, 0.0)."
    );
}

#[test]
fn a_lid_or_gaze_of_an_eye_that_is_not_there_is_refused() {
    let mut project = pair();
    project.drives[0].moves = Moves::Gaze {
        eye: 5,
        turn: Turn::Side,
    };
    assert_eq!(project.check().unwrap_err().field, "drives[0].moves.eye");
}

#[test]
fn angles_of_a_gaze_are_held_in_degrees() {
    let project = applied(&pair(), &Edit::Set(Field::Side, 30.0));
    assert_eq!(project.gaze.side, Degrees(30.0));
    assert_abs_diff_eq!(
        project.gaze.working_tilt(),
        std::f64::consts::FRAC_PI_6,
        epsilon = 1e-12
    );
}
