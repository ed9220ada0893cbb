//! The smallest head round a plate: against the rules themselves, and against geo, which shares no code
//! with it and takes its shapes from the model's numbers.

use std::collections::BTreeSet;

use geo::algorithm::buffer::{BufferStyle, LineJoin};
use geo::{
    Area, BooleanOps, Buffer, Contains, ConvexHull, Distance, Euclidean, Length, MultiPolygon,
    Point, Polygon,
};
use layout::closed_curve::CurveOf;
use layout::drive::Moves;
use layout::edit::Edit;
use layout::field::{Field, PartsOf};
use layout::geometry::outline::Outline;
use layout::geometry::segment::Segment;
use layout::hand::GuardAxis;
use layout::lid::{Lids, Which};
use layout::limits::{Limit, Rule};
use layout::plate::PlateOutline;
use layout::smallest_head::{CLOSING, SmallestHead, kept, smallest_head};
use layout::{Degrees, Finding, Laid, Project, Report, State, evaluate, evaluate_laid};

use crate::common::space::lifted;
use crate::common::{Random, around, eye, lidded_pair, pair, random_lids};

/// The rules that keep something from the wall which stands where the plate puts it.
const COUNTED: [Rule; 5] = [
    Rule::PlateWall,
    Rule::SweepWall,
    Rule::LidWall,
    Rule::LugWall,
    Rule::GuardWall,
];

fn demos() -> [Project; 5] {
    [
        include_str!("../../../demo/bramble.ron"),
        include_str!("../../../demo/dame-sorrel.ron"),
        include_str!("../../../demo/nettle.ron"),
        include_str!("../../../demo/old-tarn.ron"),
        include_str!("../../../demo/wimple.ron"),
    ]
    .map(|text| ron::from_str(text).expect("a demo can be read"))
}

/// One to four eyes with lids and guards of all sizes, every style of plate, and limits of all kinds.
fn random_project(random: &mut Random) -> Project {
    let mut project = lidded_pair();
    project.parts.lids = (!random.one_in(4)).then(|| random_lids(random));
    let count = 1 + random.below(4);
    project.eyes = (0..count).map(|_| eye(random.point(60.0).into())).collect();
    project.drives.clear();
    project.ties.truncate(random.below(5));
    for slot in &mut project.ties {
        slot.at = random.point(70.0).into();
        slot.angle = Degrees(random.between(-180.0, 180.0));
    }
    project.gaze.lift = Degrees(random.between(0.0, 20.0));
    project.plate.rim = random.between(0.0, 14.0);
    project.plate.trim_to_head = random.one_in(3);
    project.plate.outline = match random.below(4) {
        0 => PlateOutline::Band,
        1 => PlateOutline::Waisted {
            bridge: random.between(5.0, 40.0),
            fillet: random.between(0.0, 15.0),
        },
        2 => PlateOutline::HeadInset {
            bottom: random.between(-60.0, -20.0),
            top: random.between(20.0, 60.0),
        },
        _ => PlateOutline::Drawn {
            outline: around(5 + random.below(20), |_| random.between(20.0, 80.0)),
            smooth: random.one_in(2),
        },
    };
    project.hand.guard_chord = random.between(60.0, 150.0);
    project.hand.guard_length = random.between(30.0, 140.0);
    project.hand.guard_axis = random.pick(&[GuardAxis::X, GuardAxis::Y]);
    let limit = |random: &mut Random| {
        let wanted = random.pick(&[0.0, 2.0, 3.5]);
        let least = 0.0;
        (!random.one_in(3)).then_some(Limit { least, wanted })
    };
    project.limits.plate_wall = limit(random);
    project.limits.sweep_wall = limit(random);
    project.limits.lid_wall = limit(random);
    project.limits.lug_wall = limit(random);
    project.limits.guard_wall = limit(random);
    project.check().expect("it can be kept");
    project
}

fn found(project: &Project) -> (Laid, SmallestHead) {
    let laid = Laid::out(project);
    let head = smallest_head(project, &laid).expect("there is a head");
    (laid, head)
}

/// The project in the head that was found for it.
fn taken(project: &Project, head: &SmallestHead) -> Project {
    let edit = Edit::Outline {
        curve: CurveOf::Head,
        points: head.points.clone(),
        smooth: false,
    };
    edit.apply(project).expect("the outline is one")
}

fn demos_and_random() -> impl Iterator<Item = Project> {
    let mut random = Random::new(71);
    let random = (0..100).map(move |_| random_project(&mut random));
    demos().into_iter().chain(random)
}

fn wall_findings(report: &Report) -> impl Iterator<Item = &Finding> {
    let counted = COUNTED.map(|rule| rule.info().id);
    let findings = report.findings.iter();
    findings.filter(move |finding| counted.contains(&finding.id))
}

/// How many findings there are to be: both lugs of an eye share one, and so do its lids and their levers.
fn kept_things(project: &Project, laid: &Laid) -> usize {
    let of_rules = kept(project, laid);
    let count = |rule| of_rules.iter().filter(|one| one.rule == rule).count();
    let lidded = laid.eyes.iter().filter(|eye| eye.lids.is_some()).count();
    of_rules.len() - count(Rule::LugWall) / 2 - (count(Rule::LidWall) - lidded)
}

/// What the levers of an eye's lids take in plan by their cables: boxes from the lowest place that a tip or the axis
/// has to the highest.
fn levers_of_lids(project: &Project, eye: usize, lids: &Lids) -> Vec<MultiPolygon> {
    /// Poses that are looked at.
    const POSES: i32 = 1_000;
    let mut boxes = Vec::new();
    for drive in &project.drives {
        let Moves::Lid { which, .. } = drive.moves else {
            continue;
        };
        let Some(lid) = lids.lid(which).filter(|_| drive.moves.eye() == eye) else {
            continue;
        };
        let up = if which == Which::Upper { 1.0 } else { -1.0 };
        let turn = (lid.open.0 - lid.closed.0).to_radians();
        let heights = (0..=POSES).map(|pose| {
            let turned = up * turn * f64::from(pose) / f64::from(POSES);
            lifted(drive.tip, turned)[1]
        });
        let (low, high) = heights.fold((0.0_f64, 0.0_f64), |(low, high), y| {
            (low.min(y), high.max(y))
        });
        let [x, y] = project.eyes[eye].centre;
        let middle = [x + drive.tip[0], y + (low + high) / 2.0];
        boxes.push(box_around(middle, [3.0, high - low + lids.lever_width]));
    }
    boxes
}

/// What is found not to be clear of the wall.
fn not_clear(project: &Project) -> Vec<(&'static str, Option<f64>)> {
    let report = evaluate(project);
    let bad = wall_findings(&report).filter(|finding| finding.state != State::Clear);
    bad.map(|finding| (finding.id, finding.value)).collect()
}

#[test]
fn in_the_smallest_head_every_wall_rule_is_clear() {
    let mut unclear_before = 0;
    for (index, project) in demos_and_random().enumerate() {
        let (_, head) = found(&project);
        let before = evaluate(&project);
        unclear_before += usize::from(wall_findings(&before).any(|one| one.state != State::Clear));
        let after = evaluate(&taken(&project, &head));
        for finding in wall_findings(&after) {
            assert_eq!(finding.state, State::Clear, "{index}: {finding:?}");
        }
        // Nothing was lost on the way, such as a plate that follows the head.
        assert_eq!(
            wall_findings(&after).count(),
            kept_things(&project, &Laid::out(&project)),
            "{index}"
        );
    }
    assert!(unclear_before > 50, "{unclear_before}");
}

#[test]
fn every_rule_about_the_wall_counts_but_that_for_sheaths() {
    let project = lidded_pair();
    let counted: BTreeSet<Rule> = kept(&project, &Laid::out(&project))
        .iter()
        .map(|one| one.rule)
        .collect();
    let mut all: BTreeSet<Rule> = Rule::ALL
        .iter()
        .copied()
        .filter(|rule| rule.info().id.ends_with("_wall"))
        .collect();
    assert!(all.remove(&Rule::SheathWall));
    assert_eq!(counted, all);
    assert_eq!(counted, BTreeSet::from(COUNTED));
}

/// Turn of one chord where geo rounds a corner, radians: on a radius of 40 mm it misses 5 micrometres.
const FINE: f64 = 0.03;

fn buffered(shape: &MultiPolygon, by: f64) -> MultiPolygon {
    shape.buffer_with_style(BufferStyle::new(by).line_join(LineJoin::Round(FINE)))
}

fn disc([x, y]: [f64; 2], radius: f64) -> MultiPolygon {
    let round = around(720, |_| radius).into_iter();
    polygon(&round.map(|[a, b]| [x + a, y + b]).collect::<Vec<_>>())
}

fn box_around([x, y]: [f64; 2], [width, height]: [f64; 2]) -> MultiPolygon {
    let corner = |a: f64, b: f64| [x + a * width / 2.0, y + b * height / 2.0];
    polygon(&[
        corner(-1.0, -1.0),
        corner(1.0, -1.0),
        corner(1.0, 1.0),
        corner(-1.0, 1.0),
    ])
}

fn polygon(points: &[[f64; 2]]) -> MultiPolygon {
    let ring: geo::LineString = points.iter().map(|&[x, y]| (x, y)).collect();
    Polygon::new(ring, Vec::new()).into()
}

fn fine(outline: &Outline) -> MultiPolygon {
    let corners = outline.flattened_within(1e-3);
    polygon(&corners.into_iter().map(Into::into).collect::<Vec<_>>())
}

/// What must be inside, grown by what is wanted and by `more`, mm, from the model's own numbers; only the
/// plate is the layout's.
fn union_by_geo(project: &Project, laid: &Laid, more: f64) -> MultiPolygon {
    let wanted = |rule| project.limits.of(rule, project.plate.thickness).wanted + more;
    let report = evaluate_laid(project, laid);
    let mut all = buffered(&fine(&laid.plate), wanted(Rule::PlateWall));
    let mut add = |shape: MultiPolygon, rule| {
        all = all.union(&buffered(&shape, wanted(rule)));
    };
    for (index, eye) in project.eyes.iter().enumerate() {
        if let Some(reach) = report.figures.eyes[index].sweep_reach_mm {
            add(disc(eye.centre, reach), Rule::SweepWall);
        }
        let parts = project.parts_of(index);
        let lids = parts
            .lids
            .filter(|lids| lids.upper.or(lids.lower).is_some());
        if let Some(lids) = lids {
            let radius = parts.ball_diameter / 2.0 + lids.gap + lids.shell;
            add(disc(eye.centre, radius), Rule::LidWall);
            for lever in levers_of_lids(project, index, &lids) {
                add(lever, Rule::LidWall);
            }
            for side in [-0.5, 0.5] {
                let middle = [eye.centre[0] + side * lids.pivot_spacing, eye.centre[1]];
                let foot = box_around(middle, [lids.lug_thickness, lids.lug_width]);
                add(foot, Rule::LugWall);
            }
        }
    }
    let hand = &project.hand;
    let size = match hand.guard_axis {
        GuardAxis::Y => [hand.guard_chord, hand.guard_length],
        GuardAxis::X => [hand.guard_length, hand.guard_chord],
    };
    add(box_around([0.0; 2], size), Rule::GuardWall);
    all
}

/// The union closed by geo, without holes; its hull where it stays in pieces.
fn closed_by_geo(union: &MultiPolygon) -> (Polygon, bool) {
    let grown: MultiPolygon = { buffered(union, CLOSING).0.into_iter() }
        .map(|piece| Polygon::new(piece.exterior().clone(), Vec::new()))
        .collect();
    match <[Polygon; 1]>::try_from(buffered(&grown, -CLOSING).0) {
        Ok([whole]) => (whole, true),
        Err(_) => (union.convex_hull(), false),
    }
}

/// Whether the wall holds all of a shape.
fn leaves_nothing_of(wall: &MultiPolygon, shape: &MultiPolygon) -> bool {
    let corners = shape.iter().flat_map(|piece| piece.exterior().points());
    { corners }.all(|at| wall.contains(&at)) && shape.difference(wall).unsigned_area() < 1e-6
}

/// The corners of a wall, and the middles of its edges.
fn walked(wall: &MultiPolygon) -> impl Iterator<Item = Point> {
    let edges = wall.iter().flat_map(|piece| piece.exterior().lines());
    edges.flat_map(|edge| {
        [
            edge.start_point(),
            (edge.start_point() + edge.end_point()) / 2.0,
        ]
    })
}

#[test]
fn the_smallest_head_holds_geos_union_and_is_no_larger_than_geos_closing_of_it() {
    /// What the layout keeps more than is wanted, mm (its own choice). It goes with the union, since a little
    /// more there can close a mouth.
    const SPARE: f64 = 0.05;
    /// How far points may lie outside the curve, mm (its own choice), and a little for the chords of geo.
    const OFF: f64 = 0.1 + 0.01;
    let (mut rounded, mut hulls) = (0, 0);
    for (index, project) in demos_and_random().take(45).enumerate() {
        let (laid, head) = found(&project);
        let union = union_by_geo(&project, &laid, 0.0);
        let points = polygon(&head.points);
        assert!(leaves_nothing_of(&points, &union), "{index}");
        let (closing, in_one) = closed_by_geo(&union_by_geo(&project, &laid, SPARE));
        for at in walked(&points) {
            let off = Euclidean.distance(&at, &closing);
            assert!(off < OFF, "{index}: {off} at {at:?}");
        }
        let (least, area) = (closing.unsigned_area(), points.unsigned_area());
        let around = Euclidean.length(points.0[0].exterior());
        assert!(area < least + OFF * around, "{index}");
        // The curve itself is geo's but for chords.
        let more = head.outline.area() - least;
        assert!(!in_one || more.abs() < 1.0, "{index}: {more}");
        hulls += usize::from(!in_one);
        rounded += usize::from(closing.unsigned_area() > union.unsigned_area() + 1.0);
    }
    assert!(rounded > 30, "{rounded}");
    assert!(hulls < 5, "{hulls}");
}

#[test]
fn the_curve_is_closed_and_its_inward_bends_have_the_closing_radius() {
    let mut inward = 0;
    for project in demos_and_random() {
        let (_, head) = found(&project);
        let pieces = &head.outline.segments;
        for (one, next) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
            assert!((one.end() - next.start()).norm() < 1e-5);
            if let Segment::Arc(arc) = one
                && arc.sweep < 0.0
            {
                inward += 1;
                assert!((arc.radius - CLOSING).abs() < 1e-3, "{}", arc.radius);
            }
        }
    }
    assert!(inward > 100, "{inward}");
}

/// What there is to say of a plate that no head can be built round.
fn refused(project: &Project) -> String {
    let laid = Laid::out(project);
    let problem = smallest_head(project, &laid).expect_err("there is no head");
    problem.to_string()
}

#[test]
fn without_a_plate_there_is_a_sentence_instead() {
    let mut project = pair();
    project.plate.outline = PlateOutline::HeadInset {
        bottom: 500.0,
        top: 510.0,
    };
    project.ties.clear();
    assert_eq!(
        refused(&project),
        "There is no plate to build a head round. Change the outline's style or range, or seat an eye."
    );
    // A clearance of a metre to every side, farther than any head reaches.
    let mut project = pair();
    project.eyes[0].centre = [-1_900.0, 0.0];
    project.limits.plate_wall = Some(Limit::from((0.0, 1_000.0)));
    assert_eq!(
        refused(&project),
        "No head can be built round this plate and what stands on it. Look for a size or a wanted clearance \
         that is far too large."
    );
}

#[test]
fn what_cannot_be_made_does_not_count_and_what_can_still_does() {
    let rules = |project: &Project| {
        let kept = kept(project, &found(project).0);
        kept.iter().map(|one| one.rule).collect::<Vec<_>>()
    };
    // No lids: plate, two rings, guard.
    let mut project = pair();
    let plain = [
        Rule::PlateWall,
        Rule::SweepWall,
        Rule::SweepWall,
        Rule::GuardWall,
    ];
    assert_eq!(rules(&project), plain);
    // A bevel wider than the ring is thick.
    project.parts.ring.bevel = 5.0;
    assert_eq!(rules(&project), [Rule::PlateWall, Rule::GuardWall]);
    // Bent beyond a half-circle.
    project.hand.guard_bow = project.hand.guard_chord;
    assert_eq!(rules(&project), [Rule::PlateWall]);
    assert_eq!(not_clear(&taken(&project, &found(&project).1)), []);
}

#[test]
fn three_eyes_and_eyes_far_apart_get_one_wall() {
    let bridge = PlateOutline::Waisted {
        bridge: 6.0,
        fillet: 0.0,
    };
    for centres in [
        vec![[-29.0, 0.0], [29.0, 0.0], [0.0, 52.0]],
        vec![[-400.0, 30.0], [420.0, -10.0]],
        vec![[-300.0, 0.0], [0.0, 500.0], [300.0, 0.0]],
    ] {
        for outline in [PlateOutline::Band, bridge.clone()] {
            let mut project = lidded_pair();
            project.eyes = centres.iter().map(|&centre| eye(centre)).collect();
            project.drives.clear();
            project.ties.clear();
            project.plate.outline = outline;
            let (_, head) = found(&project);
            assert_eq!(not_clear(&taken(&project, &head)), [], "{centres:?}");
        }
    }
}

#[test]
fn what_stands_apart_gets_a_wall_round_its_hull() {
    let mut project = pair();
    project.eyes = vec![eye([300.0, 0.0])];
    project.drives.clear();
    project.ties.clear();
    let (laid, head) = found(&project);
    // The guard stays about the origin, far from the plate.
    let union = union_by_geo(&project, &laid, 0.0);
    assert_eq!(union.0.len(), 2);
    let points = polygon(&head.points);
    assert!(leaves_nothing_of(&points, &union));
    let hull = union.convex_hull();
    assert!(walked(&points).all(|at| Euclidean.distance(&at, &hull) < 0.2));
    assert_eq!(not_clear(&taken(&project, &head)), []);
}

#[test]
fn at_the_ends_of_what_a_project_holds_there_is_a_head_that_holds_or_a_sentence() {
    let fields = [
        Field::BallDiameter(PartsOf::Shared),
        Field::CentreHeight(PartsOf::Shared),
        Field::RingDiameter(PartsOf::Shared),
        Field::EyeX(0),
        Field::EyeY(1),
        Field::PlateThickness,
        Field::PlateRim,
        Field::SlotX(0),
        Field::TieWidth(1),
        Field::LimitWanted(Rule::SlotEdge),
        Field::LimitWanted(Rule::PlateWall),
        Field::LimitWanted(Rule::LugWall),
    ];
    let ends = [0.0, 0.01, 1.0, 20.0, 90.0, 1_000.0, 2_000.0, -2_000.0];
    let mut random = Random::new(72);
    let mut heads = 0;
    for _ in 0..150 {
        let mut project = lidded_pair();
        for _ in 0..4 {
            let edit = Edit::Set(random.pick(&fields), random.pick(&ends));
            project = edit.apply(&project).unwrap_or(project);
        }
        if let Ok(head) = smallest_head(&project, &Laid::out(&project)) {
            heads += 1;
            assert_eq!(not_clear(&taken(&project, &head)), [], "{project:?}");
        }
    }
    assert!(heads > 50, "{heads}");
}

#[test]
fn the_same_project_gets_the_same_head_and_its_head_gets_it_again() {
    let mut random = Random::new(73);
    for _ in 0..20 {
        let mut project = random_project(&mut random);
        project.plate.outline = PlateOutline::Band;
        project.plate.trim_to_head = false;
        let (_, head) = found(&project);
        assert_eq!(found(&project).1, head);
        // The wall itself does not count.
        assert_eq!(found(&taken(&project, &head)).1, head);
    }
}
