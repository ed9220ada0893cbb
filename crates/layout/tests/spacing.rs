//! The spacing window against spacings that are all tried.

use approx::assert_abs_diff_eq;
use layout::drive::Moves;
use layout::limits::{Rule, State};
use layout::plate::PlateOutline;
use layout::spacing::{self, Search, SpacingWindow, Span};
use layout::{Edit, Project, evaluate};

use crate::common::{Random, eye, lidded_pair, pair, star};

/// Distance between spacings that are tried, mm, and how near ends must come.
const STEP: f64 = 0.01;

/// A pair in any head, with any slots, and no drives.
fn random_pair(random: &mut Random) -> Project {
    let mut project = if random.one_in(2) {
        pair()
    } else {
        lidded_pair()
    };
    project.drives.clear();
    let half = random.between(24.0, 34.0);
    let height = random.between(-10.0, 10.0);
    project.eyes = vec![eye([-half, height]), eye([half, height])];
    let corners = 8 + random.below(12);
    if random.one_in(2) {
        project.head.outline = star(random, corners, 70.0, 95.0);
        project.head.smooth = random.one_in(2);
    }
    for slot in &mut project.ties {
        slot.at[0] += random.between(-14.0, 4.0);
        slot.at[1] += random.between(-8.0, 8.0);
    }
    project.plate.rim = random.between(4.0, 12.0);
    if random.one_in(3) {
        project.plate.outline = PlateOutline::HeadInset {
            bottom: random.between(-60.0, -25.0),
            top: random.between(25.0, 60.0),
        };
    }
    project
}

/// The states of every rule at one spacing: whether it holds and whether it is clear.
fn states(project: &Project, at: f64) -> Vec<[bool; 2]> {
    let eyes = [0, 1];
    let moved = spacing::spaced(project, eyes, at).expect("it has a pair");
    let findings = evaluate(&moved).findings;
    let of = |rule: &Rule| {
        let own = findings.iter().filter(|found| found.id == rule.info().id);
        let worst = own.map(|found| found.state).max().unwrap_or(State::Clear);
        [worst != State::Fouls, worst < State::Tight]
    };
    Rule::ALL.iter().map(of).collect()
}

fn contains(spans: &[Span], at: f64) -> bool {
    spans.iter().any(|span| span.contains(at))
}

fn near_an_end(spans: &[Span], at: f64) -> bool {
    let near = |end: f64| (end - at).abs() <= STEP;
    spans.iter().any(|span| near(span.low) || near(span.high))
}

/// Tries spacings from one to another, `step` apart, and compares; returns how many states it compared.
fn assert_as_tried(
    project: &Project,
    window: &SpacingWindow,
    [from, to]: [f64; 2],
    step: f64,
) -> u32 {
    let (mut at, mut compared) = (from, 0);
    while at <= to {
        for (rule, tried) in Rule::ALL.iter().zip(states(project, at)) {
            let own = window.rules.iter().find(|own| own.rule == *rule);
            let Some(own) = own else {
                let fouls = window.always_foul.contains(rule);
                assert_eq!(tried[0], !fouls, "{rule:?} at {at}");
                continue;
            };
            for (spans, tried) in [&own.holds, &own.clear].into_iter().zip(tried) {
                if !near_an_end(spans, at) {
                    assert_eq!(contains(spans, at), tried, "{rule:?} at {at}: {spans:?}");
                    compared += 1;
                }
            }
        }
        at += step;
    }
    compared
}

#[test]
fn every_rule_holds_and_is_clear_between_its_ends_and_nowhere_else() {
    /// How far beyond each end every hundredth of a millimetre is tried, mm.
    const BEYOND: f64 = 0.03;
    /// Distance between the spacings that are tried all over, mm: not that of any grid.
    const ALL_OVER: f64 = 0.73;
    let mut random = Random::new(151);
    let mut ends = 0;
    for _ in 0..3 {
        let project = random_pair(&mut random);
        let window = spacing::window(&project, [0, 1]).unwrap();
        let Span { low, high } = window.range;
        assert_as_tried(&project, &window, [low, high], ALL_OVER);
        for own in &window.rules {
            for span in own.holds.iter().chain(&own.clear) {
                for end in [span.low, span.high] {
                    let near = [(end - BEYOND).max(low), (end + BEYOND).min(high)];
                    ends += u32::from(assert_as_tried(&project, &window, near, STEP) > 0);
                }
            }
        }
    }
    assert!(ends > 60, "{ends}");
}

#[test]
fn the_ends_of_the_window_are_where_rules_of_drives_and_rods_begin_to_foul() {
    for text in [
        include_str!("../../../demo/bramble.ron"),
        include_str!("../../../demo/old-tarn.ron"),
    ] {
        let project: Project = ron::from_str(text).unwrap();
        let eyes = spacing::pair(&project).unwrap();
        assert_eq!(eyes, [0, 1]);
        let window = spacing::window(&project, eyes).unwrap();
        let now = window.now().expect("a sample fits");
        for end in [now.low, now.high] {
            assert!(!window.governing(end).is_empty(), "{now:?}");
            let beyond = assert_as_tried(&project, &window, [end - 0.1, end + 0.1], STEP);
            assert!(beyond > 150, "{beyond}");
        }
        assert!(now.contains(window.present) && now.contains(window.middle().unwrap()));
        assert_eq!(window.broken(), []);
        assert_eq!(window.contradiction(), []);
    }
}

#[test]
fn a_window_that_is_looked_for_in_many_stretches_is_the_same() {
    let mut random = Random::new(152);
    for round in 0..6 {
        let mut project = random_pair(&mut random);
        if round % 2 == 1 {
            project.drives = lidded_pair().drives;
        }
        let whole = spacing::window(&project, [0, 1]);
        assert!(
            whole
                .as_ref()
                .is_some_and(|window| !window.rules.is_empty())
        );
        let search = Search::of(&project, [0, 1]).unwrap();
        for count in [0, 2, 3, 16, 10_000] {
            let stretches = search.stretches(count);
            assert!(stretches.len() > 1 || count == 0, "{count}");
            let looked = stretches.iter().map(|stretch| search.look_over(stretch));
            assert_eq!(whole, Some(search.window(looked.collect())), "{count}");
        }
    }
}

#[test]
fn slots_and_drives_move_with_their_eye_and_pull_as_they_did() {
    let mut project = lidded_pair();
    let middle = [0.0, 50.0];
    project.ties[0].at = middle;
    let before = evaluate(&project);
    let moved = spacing::spaced(&project, [1, 0], 70.0).unwrap();
    // From ±29 to ±35, whichever eye is named first; a slot that both eyes are as near to stays.
    let eyes: Vec<_> = moved.eyes.iter().map(|eye| eye.centre).collect();
    assert_eq!(eyes, [[-35.0, 0.0], [35.0, 0.0]]);
    for (slot, was) in moved.ties.iter().zip(&project.ties) {
        let shift = if was.at == middle {
            0.0
        } else {
            6.0_f64.copysign(was.at[0])
        };
        assert_abs_diff_eq!(slot.at[0], was.at[0] + shift, epsilon = 1e-12);
        assert_eq!(slot.at[1], was.at[1]);
    }
    let after = evaluate(&moved);
    let drives = moved.drives.iter().zip(&project.drives);
    for (index, (drive, was)) in drives.enumerate() {
        let shift = if drive.moves.eye() == 0 { -6.0 } else { 6.0 };
        assert_abs_diff_eq!(drive.exit[0], was.exit[0] + shift, epsilon = 1e-12);
        assert_eq!(
            (drive.tip, drive.exit[1], drive.exit[2]),
            (was.tip, was.exit[1], was.exit[2])
        );
        let [a, b] = [&before, &after].map(|report| &report.figures.drives[index]);
        for (a, b) in [
            (a.stroke_mm, b.stroke_mm),
            (a.pull_error_deg, b.pull_error_deg),
            (a.sheath_mm, b.sheath_mm),
            (a.hand_force_n, b.hand_force_n),
        ] {
            assert_eq!(a.is_some(), b.is_some());
            assert_abs_diff_eq!(a.unwrap_or(0.0), b.unwrap_or(0.0), epsilon = 1e-9);
        }
    }
    assert!(after.figures.drives[0].stroke_mm.is_some());
    assert!(matches!(moved.drives[1].moves, Moves::Lid { eye: 1, .. }));
    let typed = Edit::Spacing {
        eyes: [1, 0],
        distance: 70.0,
    };
    assert_eq!(typed.apply(&project).unwrap(), moved);
}

#[test]
fn eyes_that_share_a_lug_may_stand_where_lugs_would_meet() {
    let mut project = lidded_pair();
    project.drives.clear();
    project.ties.clear();
    let pivots = project.parts.lids.unwrap().pivot_spacing;
    let window = spacing::window(&project, [0, 1]).unwrap();
    let lugs = window.rules.iter().find(|own| own.rule == Rule::LugGap);
    let [shared, apart] = lugs.expect("lugs meet somewhere").holds[..] else {
        panic!("{lugs:?}");
    };
    // One lug is made of two that lie within 0.05 mm; else they stand apart from a lug's thickness on.
    assert_abs_diff_eq!(shared.low, pivots - 0.05, epsilon = 1e-3);
    assert_abs_diff_eq!(shared.high, pivots + 0.05, epsilon = 1e-3);
    assert_abs_diff_eq!(apart.low, pivots + 3.0, epsilon = 1e-3);
    // Seen from where the lugs stand apart, the shared lug is another window.
    let now = window.now().unwrap();
    assert_eq!(now.low, apart.low.max(now.low));
    assert!(window.holds.iter().any(|span| span.contains(pivots)));
}

#[test]
fn rules_that_contradict_each_other_are_named_and_no_others() {
    let mut project = pair();
    project.drives.clear();
    project.ties.clear();
    // Balls of 40 mm stand 1 mm apart from a spacing of 41 mm on; a plate of 2 × 30 mm about the eyes
    // fits between walls that are 90 mm apart up to 30 mm.
    project.plate.rim = 8.0;
    project.head.smooth = false;
    project.head.outline = vec![[45.0, 90.0], [-45.0, 90.0], [-45.0, -90.0], [45.0, -90.0]];
    let window = spacing::window(&project, [0, 1]).unwrap();
    assert_eq!((window.now(), window.holds.as_slice()), (None, &[][..]));
    let rules = window.contradiction();
    assert_eq!(rules.len(), 2, "{rules:?}");
    let spans = |rule: &Rule| {
        let own = window.rules.iter().find(|own| own.rule == *rule);
        own.expect("what contradicts has spans").holds.clone()
    };
    for one in spans(&rules[0]) {
        let others = spans(&rules[1]);
        assert!(
            others
                .iter()
                .all(|other| one.low > other.high || other.low > one.high)
        );
    }
    let walls = [Rule::PlateWall, Rule::SweepWall];
    assert!(rules.iter().any(|rule| walls.contains(rule)), "{rules:?}");
}

#[test]
fn what_no_spacing_mends_is_told_and_left_out() {
    let mut project = pair();
    project.drives.clear();
    project.head.cavity_depth = 20.0;
    let window = spacing::window(&project, [0, 1]).unwrap();
    assert!(
        window.always_foul.contains(&Rule::HandRoom),
        "{:?}",
        window.always_foul
    );
    assert!(window.now().is_some());
    // It fouls where the eyes are, too, though they stand in their window.
    assert!(window.fouling.contains(&Rule::HandRoom));
    assert_eq!(window.broken(), []);
}

#[test]
fn what_no_spacing_makes_clear_is_told_apart_from_what_fouls() {
    let mut project = pair();
    project.drives.clear();
    // No ring leaves 50 mm, and no plate stands 80 mm off the wall: the first never changes, the second does.
    project.limits.ring_clearance = Some((0.0, 50.0).into());
    project.limits.plate_wall = Some((0.0, 80.0).into());
    // A guard that covers the rings however far they stand apart.
    project.hand.guard_chord = 200.0;
    project.limits.guard_wall = Some((-200.0, -200.0).into());
    let window = spacing::window(&project, [0, 1]).unwrap();
    assert_eq!(window.always_foul, []);
    for rule in [Rule::RingClearance, Rule::PlateWall] {
        assert!(window.never_clear.contains(&rule), "{window:?}");
    }
    let changes = |rule| window.rules.iter().any(|own| own.rule == rule);
    assert!(changes(Rule::PlateWall) && !changes(Rule::RingClearance));
    // What is called clear lies where all holds, the wall included.
    assert!(!window.clear.is_empty());
    for clear in &window.clear {
        let mut holds = window.holds.iter();
        assert!(holds.any(|holds| holds.contains(clear.low) && holds.contains(clear.high)));
    }
    for own in &window.rules {
        let never = window.never_clear.contains(&own.rule);
        assert_eq!(own.clear.is_empty(), never, "{:?}", own.rule);
    }
}

#[test]
fn a_middle_is_as_round_as_its_stretch_has_room_for() {
    for (low, high, middle) in [
        (50.013, 60.0, 55.0),
        (52.2, 52.3, 52.25),
        (52.2004, 52.2006, 52.2005),
        (57.94, 58.08, 58.0),
    ] {
        let span = Span { low, high };
        assert_abs_diff_eq!(span.round_middle(), middle, epsilon = 1e-9);
    }
    // Two eyes that share a lug stand in the middle of where they may.
    let mut project = lidded_pair();
    project.drives.clear();
    project.ties.clear();
    project.limits.plate_wall = Some((-1e3, -1e3).into());
    let lids = project.parts.lids.as_mut().unwrap();
    lids.pivot_spacing = 52.25;
    let project = spacing::spaced(&project, [0, 1], 52.26).unwrap();
    let window = spacing::window(&project, [0, 1]).unwrap();
    let middle = window.middle().unwrap();
    assert_abs_diff_eq!(middle, 52.25, epsilon = 1e-9);
    let lugs = Rule::ALL.iter().position(|rule| *rule == Rule::LugGap);
    assert!(states(&project, middle)[lugs.unwrap()][0]);
}

#[test]
fn at_an_end_evaluate_says_whether_the_eyes_stand_in_their_window() {
    let mut project = pair();
    project.drives.clear();
    let mut window = spacing::window(&project, [0, 1]).unwrap();
    let now = window.now().unwrap();
    let [mut held, mut broken] = [0, 0];
    for off in [-0.0004, -0.0002, 0.0, 0.0002, 0.0004] {
        for end in [now.low, now.high] {
            let moved = spacing::spaced(&project, [0, 1], end + off).unwrap();
            let report = evaluate(&moved);
            window.stand(end + off, &report);
            let fouls = report.worst() == State::Fouls;
            assert_eq!(window.now(), (!fouls).then_some(now), "{end} + {off}");
            assert_eq!(window.broken().is_empty(), !fouls);
            let found = spacing::window(&moved, [0, 1]).unwrap();
            assert_eq!(found.now().is_none(), fouls, "{end} + {off}");
            held += u32::from(!fouls);
            broken += u32::from(fouls);
        }
    }
    assert!(held > 0 && broken > 0, "{held} {broken}");
}

#[test]
fn rules_that_matter_come_before_those_that_are_near() {
    let mut random = Random::new(157);
    let (mut inside, mut outside) = (0, 0);
    for _ in 0..4 {
        let project = random_pair(&mut random);
        for at in [30.0, 55.0] {
            let project = spacing::spaced(&project, [0, 1], at).unwrap();
            let window = spacing::window(&project, [0, 1]).unwrap();
            let mut setting = window.contradiction();
            if let Some(span) = window.now().or_else(|| window.nearest()) {
                setting.extend(window.governing(span.low));
                setting.extend(window.governing(span.high));
            }
            let ranked: Vec<Rule> = window.ranked().iter().map(|own| own.rule).collect();
            assert_eq!(ranked.len(), window.rules.len());
            let broken = window.broken();
            let set = ranked
                .iter()
                .take_while(|rule| setting.contains(rule))
                .count();
            let rest = &ranked[set..];
            let not_held = rest.iter().take_while(|rule| broken.contains(rule)).count();
            let matters = |rule: &Rule| setting.contains(rule) || broken.contains(rule);
            assert!(rest.iter().all(|rule| !setting.contains(rule)));
            assert!(!rest[not_held..].iter().any(matters));
            assert!(set > 0, "{window:?}");
            inside += u32::from(window.now().is_some());
            outside += u32::from(window.now().is_none());
        }
    }
    assert!(inside > 0 && outside > 0, "{inside} {outside}");
}

#[test]
fn an_eye_alone_has_no_window() {
    let mut project = pair();
    assert_eq!(spacing::window(&project, [1, 1]), None);
    assert_eq!(spacing::window(&project, [0, 2]), None);
    project.eyes.truncate(1);
    project.drives.clear();
    assert_eq!(spacing::pair(&project), None);
}

#[test]
fn a_face_in_fifths_has_its_eyes_two_fifths_of_its_width_apart() {
    let mut project = pair();
    project.head.smooth = false;
    project.head.outline = vec![[72.0, 90.0], [-72.0, 90.0], [-72.0, -90.0], [72.0, -90.0]];
    // 2 × 72 mm between walls of 3 mm.
    assert_eq!(spacing::face_width(&project, [0, 1]), Some(150.0));
    let guides = spacing::guides(&project, [0, 1]);
    assert_eq!(guides.len(), 1);
    // Five equal fifths put the middles of the second and the fourth two fifths apart.
    assert_abs_diff_eq!(
        guides[0].spacing,
        150.0 * (3.5 - 1.5) / 5.0,
        epsilon = 1e-12
    );
    // People's eyes stand farther apart than that: interpupillary over bizygomatic breadth, mean 0.449 of
    // men and 0.462 of women (ANSUR II, Gordon et al., Natick/TR-15/007, 2014; computed per person). Means
    // of the two breadths alone: 64.02 of 142.62 mm and 61.71 of 133.77 mm.
    for (breadth, face, mean) in [(64.02, 142.62, 0.449), (61.71, 133.77, 0.462)] {
        assert_abs_diff_eq!(breadth / face, mean, epsilon = 1e-3);
        assert!(spacing::FIFTHS < mean);
    }
    let mut workshop = layout::workshop::Workshop::unknown(0.4);
    workshop.spacing_ratio = Some(0.46);
    project.workshop = Some(workshop);
    let guides = spacing::guides(&project, [0, 1]);
    assert_abs_diff_eq!(guides[1].spacing, 69.0, epsilon = 1e-12);
    // An outline that lies beside the eyes has no width there.
    project.eyes[0].centre[1] = 200.0;
    project.eyes[1].centre[1] = 200.0;
    assert_eq!(spacing::guides(&project, [0, 1]), []);
}
