//! Nothing that a project can hold makes the core stop, and the same project gives the same answer.

use layout::closed_curve::CurveOf;
use layout::edit::Edit;
use layout::eye::Carrier;
use layout::field::{Field, PartsOf};
use layout::limits::{Limit, Rule, State};
use layout::plate::PlateOutline;
use layout::seat::Seat;
use layout::{Degrees, Laid, Project, Report, evaluate, evaluate_laid};

use crate::common::{Random, eye, pair, random_lids};

mod mechanism;
mod rods;

const PROJECTS: usize = 2_000;

const EXTREMES: [f64; 16] = [
    0.0,
    -0.0,
    1.0,
    -1.0,
    40.0,
    1e-300,
    1e-9,
    -1e-9,
    2_000.0,
    -2_000.0,
    1e9,
    1e300,
    -1e300,
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
];

/// Mostly ordinary numbers, so that the odd one out reaches deep.
fn number(random: &mut Random, ordinary: f64) -> f64 {
    match random.below(4) {
        0 => random.pick(&EXTREMES),
        1 => ordinary * random.between(-2.0, 2.0),
        _ => ordinary,
    }
}

fn place(random: &mut Random) -> [f64; 2] {
    let ordinary = random.point(80.0);
    [number(random, ordinary.x), number(random, ordinary.y)]
}

fn outline(random: &mut Random) -> Vec<[f64; 2]> {
    let mut points = match random.below(6) {
        0 => return Vec::new(),
        1 => (0..1 + random.below(2)).map(|_| place(random)).collect(),
        2 => vec![[10.0, 10.0]; 6],
        // Most of these cross themselves.
        3 => (0..3 + random.below(12))
            .map(|_| random.point(90.0).into())
            .collect(),
        4 => (0..3 + random.below(12)).map(|_| place(random)).collect(),
        _ => layout::head::start_outline(
            number(random, 160.0),
            number(random, 200.0),
            number(random, 0.2),
        ),
    };
    if random.one_in(4) {
        let again = random.pick(&points);
        points.push(again);
    }
    points
}

/// Some eyes have lids, of any sizes and turns.
fn hostile_lids(random: &mut Random, project: &mut Project) {
    let mut lids = random_lids(random);
    for field in [
        &mut lids.gap,
        &mut lids.shell,
        &mut lids.pivot_spacing,
        &mut lids.pivot_hole,
        &mut lids.lug_thickness,
        &mut lids.lug_width,
        &mut lids.lever_width,
    ] {
        *field = number(random, *field);
    }
    for lid in [&mut lids.upper, &mut lids.lower].into_iter().flatten() {
        for angle in [&mut lid.open, &mut lid.closed, &mut lid.extent] {
            angle.0 = number(random, angle.0);
        }
    }
    project.parts.lids = random.one_in(2).then_some(lids);
}

fn hostile(random: &mut Random) -> Project {
    let mut project = pair();
    project.head.outline = outline(random);
    project.head.smooth = random.one_in(2);
    hostile_lids(random, &mut project);
    for field in [
        &mut project.hand.guard_chord,
        &mut project.hand.guard_bow,
        &mut project.hand.guard_edge,
        &mut project.hand.guard_length,
        &mut project.hand.thickness_mm,
        &mut project.hand.head_mass_g,
        &mut project.hand.mass_centre[2],
        &mut project.head.wall_thickness,
        &mut project.head.cavity_depth,
        &mut project.head.access,
        &mut project.parts.ball_diameter,
        &mut project.parts.ball_plus,
        &mut project.parts.ring.depth,
        &mut project.parts.ring.thickness,
        &mut project.parts.ring.outer_diameter,
        &mut project.parts.ring.bevel,
        &mut project.gaze.side.0,
        &mut project.gaze.lift.0,
        &mut project.gaze.looks_at,
        &mut project.plate.thickness,
        &mut project.plate.rim,
    ] {
        *field = number(random, *field);
    }
    project.parts.seat = if random.one_in(2) {
        Seat::Plain {
            opening_diameter: number(random, 38.0),
        }
    } else {
        Seat::Spherical {
            centre_height: number(random, 4.0),
            running_clearance: number(random, 0.4),
        }
    };
    project.eyes = (0..random.below(5)).map(|_| eye(place(random))).collect();
    if let Some(first) = project.eyes.first_mut().filter(|_| random.one_in(3)) {
        let mut parts = project.parts.clone();
        parts.ball_diameter = number(random, 30.0);
        first.parts = Some(Box::new(parts));
    }
    for slot in &mut project.ties {
        slot.at = place(random);
        slot.angle = Degrees(number(random, 90.0));
        slot.tie = [number(random, 2.5), number(random, 1.0)];
        slot.anchor = random.pick(&[None, Some(0), Some(usize::MAX)]);
    }
    project.drives = if random.one_in(3) {
        mechanism::hostile(random)
    } else {
        Vec::new()
    };
    project.rods = rods::hostile(random);
    if random.one_in(2) {
        project.plate.outline = PlateOutline::HeadInset {
            bottom: number(random, -40.0),
            top: number(random, 40.0),
        };
    } else if random.one_in(2) {
        project.plate.outline = PlateOutline::Waisted {
            bridge: number(random, 20.0),
            fillet: number(random, 8.0),
        };
    }
    project.plate.trim_to_head = random.one_in(2);
    project.limits.plate_wall = Some(limit(random));
    project.limits.slot_edge = random.one_in(2).then(|| limit(random));
    project
}

fn limit(random: &mut Random) -> Limit {
    Limit {
        least: number(random, 0.0),
        wanted: number(random, 2.0),
    }
}

/// That every place and figure of a report is a finite number.
fn assert_finite(project: &Project, report: &Report) {
    for finding in &report.findings {
        let mut numbers = finding.place.iter().flatten().chain(&finding.value);
        assert!(
            numbers.all(|number| number.is_finite()),
            "{project:?} {finding:?}"
        );
    }
    let figures = format!("{:?}", report.figures);
    assert!(
        !figures.contains("NaN") && !figures.contains("inf"),
        "{figures}"
    );
}

/// A report as text, in which a number that is none equals itself.
fn answer(project: &Project) -> String {
    format!("{:?}", evaluate(project))
}

#[test]
fn hostile_projects_are_answered_and_answered_the_same_twice() {
    let mut random = Random::new(51);
    let mut checked = 0;
    for _ in 0..PROJECTS {
        let project = hostile(&mut random);
        assert_eq!(answer(&project), answer(&project));
        checked += usize::from(project.check().is_ok());
    }
    assert!(checked < PROJECTS / 10, "{checked} are not hostile");
}

#[test]
fn projects_that_can_be_kept_have_finite_figures_and_places() {
    let fields = [
        Field::Access,
        Field::BallDiameter(PartsOf::Shared),
        Field::CentreHeight(PartsOf::Shared),
        Field::RunningClearance(PartsOf::Shared),
        Field::RingDepth(PartsOf::Shared),
        Field::RingThickness(PartsOf::Shared),
        Field::RingDiameter(PartsOf::Shared),
        Field::RingBevel(PartsOf::Shared),
        Field::EyeX(0),
        Field::EyeY(1),
        Field::Side,
        Field::Lift,
        Field::LooksAt,
        Field::PlateThickness,
        Field::PlateRim,
        Field::OutlineX(CurveOf::Head, 3),
        Field::SlotX(0),
        Field::TieWidth(1),
        Field::TieThickness(2),
        Field::LimitWanted(Rule::SlotEdge),
        Field::LimitWanted(Rule::PlateWall),
    ];
    // The ends of what a project may hold, and what lies just within.
    let ends = [
        0.0, 0.01, 1.0, 19.999, 20.0, 40.0, 90.0, 1_000.0, 2_000.0, -2_000.0,
    ];
    let mut random = Random::new(52);
    let mut strange = 0;
    for _ in 0..300 {
        let mut project = pair();
        project.plate.trim_to_head = random.one_in(2);
        if random.one_in(2) {
            project.plate.outline = PlateOutline::HeadInset {
                bottom: -40.0,
                top: 40.0,
            };
        } else if random.one_in(2) {
            project.plate.outline = PlateOutline::Waisted {
                bridge: 20.0,
                fillet: 8.0,
            };
        }
        for _ in 0..6 {
            let edit = Edit::Set(random.pick(&fields), random.pick(&ends));
            if let Ok(changed) = edit.apply(&project) {
                project = changed;
                strange += 1;
            }
        }
        let report = evaluate(&project);
        assert_finite(&project, &report);
    }
    assert!(strange > 600, "{strange}");
}

#[test]
fn a_figure_that_is_no_number_fouls() {
    let mut project = pair();
    project.plate.rim = f64::NAN;
    project.eyes[0].centre = [f64::NAN, 0.0];
    let report = evaluate(&project);
    let rim = report
        .findings
        .iter()
        .find(|finding| finding.id == Rule::Rim.info().id)
        .unwrap();
    assert_eq!((rim.state, rim.value), (State::Fouls, None));
}

#[test]
fn a_ring_that_cannot_be_made_is_a_finding_that_says_why() {
    let mut project = pair();
    project.parts.ring.bevel = 5.0;
    let report = evaluate(&project);
    let shape = report
        .findings
        .iter()
        .find(|finding| finding.id == "ring_shape")
        .unwrap();
    assert_eq!(shape.state, State::Fouls);
    assert_eq!(
        shape.sentence,
        "The bevel is not smaller than the ring is thick. Use a smaller bevel or a thicker ring."
    );
}

#[test]
fn what_is_laid_out_before_gives_the_same_report() {
    let mut random = Random::new(53);
    for _ in 0..200 {
        let project = hostile(&mut random);
        let laid = Laid::out(&project);
        let report = format!("{:?}", evaluate_laid(&project, &laid));
        assert_eq!(report, answer(&project));
    }
}

#[test]
fn edits_with_hostile_numbers_are_refused_or_give_a_project_that_can_be_kept() {
    let mut random = Random::new(54);
    let project = pair();
    let fields = [
        Field::PlateThickness,
        Field::PlateRim,
        Field::EyeX(0),
        Field::OutlineX(CurveOf::Head, 3),
        Field::SlotAngle(0),
        Field::TieWidth(1),
        Field::LimitWanted(Rule::Rim),
        Field::Side,
    ];
    for _ in 0..PROJECTS {
        let value = random.pick(&EXTREMES);
        let edit = match random.below(4) {
            0 => Edit::StartOutline {
                width: value,
                height: random.pick(&EXTREMES),
                squareness: random.pick(&EXTREMES),
            },
            1 => Edit::Spacing {
                eyes: [0, 1],
                distance: value,
            },
            2 => Edit::AddSlot {
                at: [value, 0.0],
                mirrored: true,
            },
            _ => Edit::Set(random.pick(&fields), value),
        };
        if let Ok(changed) = edit.apply(&project) {
            assert_eq!(changed.check(), Ok(()), "{edit:?}");
        }
    }
}

#[test]
fn sections_that_are_not_evaluated_are_reported_as_not_checked() {
    let mut project = pair();
    assert!(
        evaluate(&project)
            .findings
            .iter()
            .all(|f| f.state != State::NotChecked)
    );
    project.eyes[0].carrier = Some(Carrier {
        yaw: Degrees(4.0),
        pitch: Degrees(0.0),
        height: 0.0,
    });
    let report = evaluate(&project);
    let ids: Vec<_> = report
        .findings
        .iter()
        .filter(|finding| finding.state == State::NotChecked)
        .map(|finding| finding.id)
        .collect();
    assert_eq!(ids, ["carriers"]);
}
