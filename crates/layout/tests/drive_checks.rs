//! What a drive is refused for, and in what words.

use layout::drive::{self, Drive, Moves, Turn};
use layout::limits::Rule;
use layout::{Degrees, Edit, Problem, Project, evaluate};

use crate::common::{finding, lidded_pair, pair};

/// Why a change to the first drive of the pair is refused.
fn refused(change: impl FnOnce(&mut Drive)) -> Problem {
    let mut project = pair();
    change(&mut project.drives[0]);
    project.check().expect_err("it is refused")
}

fn assert_says(problem: &Problem, field: &str, sentences: &str) {
    assert_eq!(
        (problem.field.as_str(), problem.to_string().as_str()),
        (field, sentences)
    );
}

#[test]
fn a_wire_as_thick_as_its_sheath_is_refused() {
    for wire in [3.0, 3.5] {
        assert_says(
            &refused(|drive| drive.cable.inner_diameter = wire),
            "drives[0].cable.inner_diameter",
            &format!(
                "The wire, {wire} mm, is at least as thick as its sheath, 3 mm. \
                 Use a thinner wire, or a thicker sheath first."
            ),
        );
    }
    let mut project = pair();
    project.drives[0].cable.inner_diameter = 2.99;
    assert_eq!(project.check(), Ok(()));
}

#[test]
fn a_drive_without_a_name_is_refused() {
    for name in ["", "  "] {
        assert_says(
            &refused(|drive| drive.name = name.to_owned()),
            "drives[0].name",
            "A drive has no name. Give it one of its own.",
        );
    }
}

#[test]
fn two_drives_of_one_name_are_refused() {
    let sentences = "Two drives are called “right lid”. Give each a name of its own.";
    for name in ["right lid", " right lid "] {
        let problem = refused(|drive| drive.name = name.to_owned());
        assert_says(&problem, "drives[1].name", sentences);
    }
    let project = pair();
    let twin = Edit::AddDrive {
        drive: project.drives[1].clone(),
        mirrored: false,
    };
    assert_says(
        &twin.apply(&project).unwrap_err(),
        "drives[2].name",
        sentences,
    );
}

#[test]
fn a_fresh_drive_has_the_usual_name_or_the_first_number_that_is_free() {
    let mut project: Project = pair();
    let moves = project.drives[1].moves;
    let usual = Drive::fresh(&project, moves).name;
    let twin = |name: String| Drive {
        name,
        ..pair().drives[1].clone()
    };
    let mirrored = false;
    for expected in [usual.clone(), format!("{usual} 2"), format!("{usual} 3")] {
        let name = Drive::fresh(&project, moves).name;
        assert_eq!(name, expected);
        let drive = twin(name);
        project = Edit::AddDrive { drive, mirrored }.apply(&project).unwrap();
    }
    let index = 3;
    project = Edit::RemoveDrive { index, mirrored }
        .apply(&project)
        .unwrap();
    assert_eq!(Drive::fresh(&project, moves).name, format!("{usual} 2"));
}

#[test]
fn places_of_a_drive_are_called_by_what_they_are() {
    let beyond = "is 3000 mm. Use a number from -2000 to 2000 mm.";
    let far = [0.0, 3_000.0, 0.0];
    assert_says(
        &refused(|drive| drive.tip = far),
        "drives[0].tip",
        &format!("The lever tip of the drive “left gaze” {beyond}"),
    );
    assert_says(
        &refused(|drive| drive.exit = far),
        "drives[0].exit",
        &format!("The exit of the drive “left gaze” {beyond}"),
    );
    assert_says(
        &refused(|drive| drive.stop = Some(far)),
        "drives[0].stop",
        &format!("The sheath stop of the drive “left gaze” {beyond}"),
    );
    assert_says(
        &refused(|drive| drive.via = vec![[0.0; 3], far]),
        "drives[0].via[1]",
        &format!("Route point 2 of the drive “left gaze” {beyond}"),
    );
    assert_says(
        &refused(|drive| drive.via = vec![[0.0; 3]; drive::MOST_CORNERS + 1]),
        "drives[0].via",
        "The route of the drive “left gaze” has more than 32 points. Remove some.",
    );
}

#[test]
fn a_drive_of_no_eye_is_called_by_its_name() {
    let turn = Turn::Side;
    assert_says(
        &refused(|drive| drive.moves = Moves::Gaze { eye: 5, turn }),
        "drives[0].moves.eye",
        "The drive “left gaze” moves an eye that is not there. \
         Let it move another; in a file, eyes count from 0 to 1.",
    );
}

#[test]
fn what_cannot_work_is_called_by_its_name_in_findings_too() {
    let mut project = lidded_pair();
    let lids = project.parts.lids.as_mut().unwrap();
    lids.lower.as_mut().unwrap().extent = Degrees(0.0);
    // Parts of an eye's own are a field of that eye.
    let own = project.parts.clone();
    project.eyes[0].parts = Some(Box::new(own));
    let report = evaluate(&project);
    assert_eq!(
        finding(&report, Rule::DriveShape, "right lid").sentence,
        "The drive “right lid” has a near end that its turn does not have. \
         Use open or closed for a lid, low or high for a gaze."
    );
    assert_eq!(
        finding(&report, Rule::LidShape, "lower lid of the left eye").sentence,
        "The lower lid of the left eye reaches over no angle: there is nothing of it. Give it an extent."
    );
    let laid = layout::Laid::out(&project);
    let field = |eye: usize| {
        let lids = laid.eyes[eye].lids.as_ref().unwrap();
        let lower = lids.lower.as_ref().unwrap();
        lower.as_ref().unwrap_err().field.clone()
    };
    assert_eq!(
        [field(0), field(1)],
        ["eyes[0].parts.lids.lower.extent", "parts.lids.lower.extent"]
    );
}

#[test]
fn a_lever_that_comes_to_stand_in_line_with_its_wire_has_no_arm_and_no_force() {
    let mut project = pair();
    let side = |moves: Moves| {
        matches!(
            moves,
            Moves::Gaze {
                turn: Turn::Side,
                ..
            }
        )
    };
    let index = { project.drives.iter() }.position(|drive| side(drive.moves));
    let index = index.expect("a drive turns an eye to the side");
    // At a quarter turn to both sides both ends of the lever lie on the cable line.
    project.gaze.side = Degrees(90.0);
    assert_eq!(project.check(), Ok(()));
    let report = evaluate(&project);
    let figures = &report.figures.drives[index];
    assert_eq!(figures.arm_share, Some(0.0));
    assert_eq!((figures.lever_force_n, figures.hand_force_n), (None, None));
    let force = { report.findings.iter() }
        .find(|own| own.id == "hand_force" && own.part == project.drives[index].name);
    assert!(force.is_none_or(|own| own.value.is_none()), "{force:?}");
}
