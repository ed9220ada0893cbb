//! Proposed slots against every set that there is, and against the rules.

use std::collections::BTreeMap;

use approx::assert_abs_diff_eq;
use geo::{ConvexHull, Distance, Euclidean, Intersects};
use layout::head::AnchorHole;
use layout::limits::State;
use layout::tie::TieSlot;
use layout::ties::{
    self, Candidate, GROWTH, InTheWay, MOST_TIES, Proposal, REACH, SHORT_ENOUGH, SPREAD_ENOUGH,
    Wanted, WhyNot,
};
use layout::{Degrees, Edit, History, Laid, Project, evaluate};

use crate::common::{Random, eye, lidded_pair, pair, star};

const TIE: [f64; 2] = [2.5, 1.0];

fn wanted(count: usize, mirrored: bool) -> Wanted {
    Wanted {
        count,
        tie: TIE,
        mirrored,
    }
}

/// The worst state of each rule but that about the spread.
fn states(project: &Project) -> BTreeMap<&'static str, State> {
    let mut worst = BTreeMap::new();
    for finding in evaluate(project).findings {
        if finding.id != "tie_spread" {
            let state = worst.entry(finding.id).or_insert(State::Clear);
            *state = finding.state.max(*state);
        }
    }
    worst
}

/// Whether a project is clear of every rule that it was clear of, as tight as it was at most, and so on.
fn holds(before: &BTreeMap<&str, State>, project: &Project) -> bool {
    let was = |id: &str| before.get(id).copied().unwrap_or(State::Clear);
    states(project).iter().all(|(id, state)| *state <= was(id))
}

/// What counts, worked out anew: how deep the held places lie in geo's hull, and the least sum of ways over
/// all ways to lead the ties.
fn worth(project: &Project, held: &[geo::Point], slots: &[Candidate]) -> (f64, f64) {
    let slots_of = slots.iter().map(|own| own.slot);
    let corners = slots_of.chain(project.ties.iter().copied()).flat_map(|slot| {
        // Of a slot of 3.2 × 1.7 mm, 0.7 mm round a rectangle.
        let (sin, cos) = slot.angle.0.to_radians().sin_cos();
        let [x, y] = slot.at;
        let corner = move |(along, up): (f64, f64)| geo::coord! { x: x + along * cos - up * sin, y: y + along * sin + up * cos };
        [(0.9, 0.15), (-0.9, 0.15), (-0.9, -0.15), (0.9, -0.15)].map(corner)
    });
    let hull = geo::MultiPoint::from(corners.collect::<Vec<_>>()).convex_hull();
    let room = |at: &geo::Point| {
        let edge = Euclidean.distance(at, hull.exterior());
        0.7 + if hull.intersects(at) { edge } else { -edge }
    };
    let spread = held.iter().map(room).fold(SPREAD_ENOUGH, f64::min);
    let holes: Vec<[f64; 2]> = project
        .head
        .anchor_holes
        .iter()
        .map(|hole| hole.at)
        .collect();
    let used = |hole: usize| project.ties.iter().any(|slot| slot.anchor == Some(hole));
    let free: Vec<usize> = (0..holes.len()).filter(|&hole| !used(hole)).collect();
    let way = |slot: &Candidate, hole: usize| {
        let [x, y] = [0, 1].map(|axis| slot.slot.at[axis] - holes[hole][axis]);
        let way = x.hypot(y);
        if way > REACH {
            return f64::INFINITY;
        }
        way.max(SHORT_ENOUGH)
    };
    let growth: f64 = slots.iter().map(|slot| GROWTH * slot.out).sum();
    let ways = if holes.is_empty() {
        0.0
    } else if free.len() >= slots.len() {
        shortest(slots, &free, &way)
    } else {
        let nearest = |slot| {
            (0..holes.len())
                .map(|hole| way(slot, hole))
                .fold(f64::INFINITY, f64::min)
        };
        slots.iter().map(nearest).sum()
    };
    (spread, growth + ways)
}

fn shortest(slots: &[Candidate], free: &[usize], way: &dyn Fn(&Candidate, usize) -> f64) -> f64 {
    let Some((first, rest)) = slots.split_first() else {
        return 0.0;
    };
    let with = |&hole: &usize| {
        let others: Vec<usize> = free
            .iter()
            .copied()
            .filter(|&other| other != hole)
            .collect();
        way(first, hole) + shortest(rest, &others, way)
    };
    free.iter().map(with).fold(f64::INFINITY, f64::min)
}

/// Every set of `count` candidates at different spots.
fn sets(all: &[Candidate], count: usize) -> Vec<Vec<Candidate>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let mut found = Vec::new();
    for (index, &first) in all.iter().enumerate() {
        for mut rest in sets(&all[index + 1..], count - 1) {
            if rest.iter().all(|other| other.spot != first.spot) {
                rest.insert(0, first);
                found.push(rest);
            }
        }
    }
    found
}

/// A small head with one eye or two, some anchor holes and maybe a locked slot.
fn small(random: &mut Random) -> Project {
    let mut project = pair();
    project.drives.clear();
    let eyes = 1 + random.below(2);
    project.head.outline = if eyes == 1 {
        star(random, 9, 39.0, 46.0)
    } else {
        star(random, 12, 62.0, 68.0)
    };
    project.head.smooth = true;
    project.eyes = match eyes {
        1 => vec![eye(random.point(3.0).into())],
        _ => vec![eye([-25.0, random.between(-5.0, 5.0)]), eye([25.0, 0.0])],
    };
    project.plate.rim = random.between(7.9, 9.0);
    project.head.anchor_holes = (0..random.below(5))
        .map(|_| {
            let (turn, far) = (random.angle(), random.between(42.0, 70.0));
            let at = [far * turn.cos(), far * turn.sin()];
            AnchorHole { at, diameter: 5.0 }
        })
        .collect();
    project.ties.truncate(usize::from(random.one_in(2)));
    for slot in &mut project.ties {
        slot.at = [0.0, random.between(28.0, 34.0)];
        slot.angle = Degrees(0.0);
        slot.locked = true;
        slot.anchor = (!project.head.anchor_holes.is_empty()).then_some(0);
    }
    project
}

#[test]
fn no_set_of_places_is_better_than_the_one_proposed() {
    let mut random = Random::new(81);
    let mut compared = 0;
    for round in 0..24 {
        let project = small(&mut random);
        let laid = Laid::out(&project);
        let count = 1 + round % 3;
        let wanted = wanted(count + project.ties.len(), false);
        let (units, _) = ties::places(&project, &laid, &wanted);
        let mut candidates: Vec<Candidate> = units.into_iter().flatten().collect();
        if count == 3 && candidates.len() > 90 {
            // Too many sets to try them all.
            continue;
        }
        let held: Vec<geo::Point> = project.eyes.iter().map(|eye| eye.centre.into()).collect();
        candidates.sort_by(|a, b| a.slot.at[0].total_cmp(&b.slot.at[0]));
        let mut all: Vec<_> = sets(&candidates, count)
            .into_iter()
            .map(|set| (worth(&project, &held, &set), set))
            .filter(|((_, cost), _)| cost.is_finite())
            .collect();
        all.sort_by(|(a, _), (b, _)| {
            // Spreads that differ by nothing but rounding are equal.
            let spread = |own: f64| -(own * 1e6).round();
            spread(a.0)
                .total_cmp(&spread(b.0))
                .then(a.1.total_cmp(&b.1))
        });
        let before = states(&project);
        let best = all.iter().find(|(_, set)| {
            let slots: Vec<TieSlot> = set.iter().map(|own| own.slot).collect();
            holds(&before, &ties::placed(&project, &slots))
        });
        match (best, ties::propose(&project, &wanted)) {
            (Some(((spread, cost), _)), Ok(proposal)) => {
                assert!(proposal.proven);
                let chosen: Vec<Candidate> = proposal
                    .slots
                    .iter()
                    .map(|slot| {
                        *candidates
                            .iter()
                            .find(|own| own.slot.at == slot.at)
                            .unwrap()
                    })
                    .collect();
                let own = worth(&project, &held, &chosen);
                assert_abs_diff_eq!(own.0, *spread, epsilon = 2e-6);
                assert_abs_diff_eq!(own.1, *cost, epsilon = 1e-5);
                assert_abs_diff_eq!(proposal.spread.min(SPREAD_ENOUGH), *spread, epsilon = 2e-6);
                compared += 1;
            }
            (None, Err(_)) => {}
            (best, proposal) => panic!("{best:?} {proposal:?}"),
        }
    }
    assert!(compared >= 12, "{compared}");
}

#[test]
fn proposed_slots_keep_their_webs_in_100_random_projects() {
    let mut random = Random::new(82);
    let (mut proposed, mut refused) = (0, 0);
    for _ in 0..100 {
        let mut project = if random.one_in(2) {
            lidded_pair()
        } else {
            pair()
        };
        project.drives.clear();
        let corners = 10 + random.below(10);
        project.head.outline = match random.below(3) {
            0 => layout::head::start_outline(
                random.between(130.0, 180.0),
                random.between(100.0, 220.0),
                0.4,
            ),
            _ => star(&mut random, corners, 48.0, 95.0),
        };
        let half = random.between(22.0, 34.0);
        project.eyes = vec![eye([-half, 0.0]), eye([half, random.between(-6.0, 6.0)])];
        project.plate.rim = random.between(0.0, 14.0);
        project.plate.thickness = random.between(2.0, 4.0);
        project.plate.trim_to_head = random.one_in(3);
        if random.one_in(3) {
            project.plate.outline = layout::plate::PlateOutline::HeadInset {
                bottom: random.between(-60.0, -20.0),
                top: random.between(20.0, 60.0),
            };
        }
        if random.one_in(4) {
            project.limits.slot_gap = Some((1.0, random.between(30.0, 60.0)).into());
        }
        let tie = random.pick(&[[2.5, 1.0], [3.6, 1.2], [4.8, 1.3]]);
        let wanted = Wanted {
            count: 2 + random.below(4),
            tie,
            mirrored: random.one_in(2),
        };
        match ties::propose(&project, &wanted) {
            Ok(proposal) => {
                assert_eq!(proposal.slots.len(), wanted.count);
                let next = Edit::PlaceSlots(proposal.slots.clone())
                    .apply(&project)
                    .unwrap();
                let report = evaluate(&next);
                for id in [
                    "slot_edge",
                    "slot_opening",
                    "slot_gap",
                    "hole_slot",
                    "hardware",
                ] {
                    let mut found = report.findings.iter().filter(|found| found.id == id);
                    assert!(
                        found.all(|found| found.state == State::Clear),
                        "{id} {wanted:?}"
                    );
                }
                assert!(holds(&states(&ties::placed(&project, &[])), &next));
                assert_abs_diff_eq!(
                    report.figures.plate.tie_spread_mm.unwrap(),
                    proposal.spread,
                    epsilon = 1e-9
                );
                assert_eq!(ties::propose(&project, &wanted), Ok(proposal));
                proposed += 1;
            }
            Err(why) => {
                let sentence = why.to_string();
                let has_figures = sentence.contains(|c: char| c.is_ascii_digit());
                let names_a_hole = matches!(why, WhyNot::TooFar { .. });
                assert!(sentence.ends_with('.') && has_figures == names_a_hole);
                refused += 1;
            }
        }
    }
    assert!(proposed >= 50 && refused >= 2, "{proposed} {refused}");
}

#[test]
fn as_many_slots_have_room_as_is_said() {
    let mut project = pair();
    project.drives.clear();
    // Just inside the rim of one eye: the wall leaves a pad no room farther out.
    project.eyes.truncate(1);
    project.eyes[0].centre = [0.0, 0.0];
    project.head.outline = layout::head::start_outline(73.0, 73.0, 0.0);
    project.head.anchor_holes.clear();
    project.ties.clear();
    project.plate.rim = 14.0;
    project.plate.thickness = 8.0;
    let ask = |project: &Project, count| ties::propose(project, &wanted(count, false));
    let Err(WhyNot::Fewer { fit, taken }) = ask(&project, MOST_TIES) else {
        panic!("that many slots have room");
    };
    assert_eq!(fit, 0);
    let by: Vec<InTheWay> = taken.iter().map(|own| own.0).collect();
    assert_eq!(by, [InTheWay::Wall, InTheWay::Opening]);
    project.plate.thickness = 3.0;
    project.limits.slot_gap = Some((1.0, 14.0).into());
    let Err(why) = ask(&project, MOST_TIES) else {
        panic!("that many slots have room");
    };
    let WhyNot::Fewer { fit, .. } = why else {
        panic!("{why}");
    };
    assert!((4..MOST_TIES).contains(&fit), "{fit}");
    assert_eq!(ask(&project, fit).unwrap().slots.len(), fit);
    assert_eq!(ask(&project, fit + 1), Err(why));
}

#[test]
fn what_stands_in_the_way_is_told_in_words() {
    let mut project = pair();
    project.drives.clear();
    let why = |project: &Project, count, mirrored| {
        let refused = ties::propose(project, &wanted(count, mirrored));
        refused.expect_err("there is no such set").to_string()
    };
    assert_eq!(
        why(&project, 0, false),
        "As many slots as that are locked already."
    );
    assert_eq!(
        why(&project, 13, false),
        "Slots are not proposed for so many ties."
    );
    project.limits.slot_gap = Some((1.0, 40.0).into());
    assert_eq!(
        why(&project, MOST_TIES, false),
        "There is no room for so many slots along the plate. Most places are too near to what the eyes \
         sweep behind the plate."
    );
    project.ties.iter_mut().for_each(|slot| slot.locked = true);
    assert_eq!(
        why(&project, 4, true),
        "As many slots as that are locked already."
    );
}

#[test]
fn mirrored_slots_lie_in_pairs_and_an_odd_one_on_the_centre_line() {
    let mut project = lidded_pair();
    project.drives.clear();
    for count in [2, 4, 5] {
        if count % 2 == 1 {
            // The odd one has a hole within reach.
            let at = [0.0, 50.0];
            let hole = AnchorHole { at, diameter: 5.0 };
            project.head.anchor_holes.push(hole);
        }
        let Proposal { slots, .. } = ties::propose(&project, &wanted(count, true)).unwrap();
        assert_eq!(slots.len(), count);
        for slot in &slots {
            let [x, y] = slot.at;
            let opposite = slots
                .iter()
                .find(|other| other.at == [-x, y] || (x == 0.0 && other.at == [x, y]));
            let angle = opposite.expect("each slot has a mirror image").angle.0;
            assert_abs_diff_eq!(
                (angle + slot.angle.0).rem_euclid(180.0),
                0.0,
                epsilon = 1e-9
            );
        }
        let middle = slots.iter().filter(|slot| slot.at[0] == 0.0).count();
        assert_eq!(middle, count % 2);
    }
}

#[test]
fn locked_slots_stay_and_taking_a_proposal_is_one_step() {
    let mut project = pair();
    project.drives.clear();
    let mut history = History::new(project, true);
    let lock = |slot, locked| Edit::LockSlot {
        slot,
        locked,
        mirrored: true,
    };
    history.apply(&lock(2, true)).unwrap();
    let locked: Vec<bool> = history
        .project()
        .ties
        .iter()
        .map(|slot| slot.locked)
        .collect();
    assert_eq!(locked, [false, false, true, true]);
    let before = history.project().clone();
    let proposal = ties::propose(&before, &wanted(6, true)).unwrap();
    assert_eq!(proposal.slots.len(), 4);
    history
        .apply(&Edit::PlaceSlots(proposal.slots.clone()))
        .unwrap();
    let ties = &history.project().ties;
    assert_eq!(ties[..2], before.ties[2..]);
    assert_eq!(ties[2..], proposal.slots);
    history.undo();
    assert_eq!(history.project(), &before);
    history.apply(&lock(3, false)).unwrap();
    assert!(history.project().ties.iter().all(|slot| !slot.locked));
}

#[test]
fn ties_have_holes_of_their_own_while_there_are_enough() {
    let mut project = pair();
    project.drives.clear();
    let holes = |project: &Project, count| {
        let slots = ties::propose(project, &wanted(count, false)).unwrap().slots;
        let mut holes: Vec<_> = slots.iter().filter_map(|slot| slot.anchor).collect();
        holes.sort_unstable();
        holes
    };
    assert_eq!(holes(&project, 4), [0, 1, 2, 3]);
    // One locked tie takes a hole, and three are left.
    project.ties[1].locked = true;
    assert_eq!(holes(&project, 4), [0, 2, 3]);
    assert_eq!(holes(&project, 6).len(), 5);
    project.head.anchor_holes.clear();
    project.ties.iter_mut().for_each(|slot| slot.anchor = None);
    assert!(holes(&project, 4).is_empty());
}

#[test]
fn every_tie_reaches_its_anchor_hole_or_the_one_that_is_too_far_is_named() {
    let bramble: Project =
        ron::from_str(include_str!("../../../../demo/bramble.ron")).expect("a demo can be read");
    let way = |project: &Project, slot: &TieSlot| {
        let [x, y] = project.head.anchor_holes[slot.anchor.expect("it is led")].at;
        (x - slot.at[0]).hypot(y - slot.at[1])
    };
    let (mut kept, mut refused) = (0, 0);
    for mirrored in [false, true] {
        for count in [4, 7] {
            match ties::propose(&bramble, &wanted(count, mirrored)) {
                Ok(proposal) => {
                    let mut slots = proposal.slots.iter();
                    assert!(slots.all(|slot| way(&bramble, slot) <= REACH), "{count}");
                    kept += 1;
                }
                Err(WhyNot::TooFar { anchor }) => {
                    assert!(anchor < bramble.head.anchor_holes.len());
                    refused += 1;
                }
                Err(WhyNot::OddTooFar) => {
                    assert!(mirrored && count % 2 == 1);
                    refused += 1;
                }
                Err(_) => {}
            }
        }
    }
    assert!(kept >= 2 && kept + refused >= 3, "{kept} {refused}");

    let mut far = pair();
    far.drives.clear();
    far.head.anchor_holes[2].at = [75.0, -160.0];
    let why = ties::propose(&far, &wanted(4, false)).expect_err("a hole is too far");
    assert!(matches!(why, WhyNot::TooFar { anchor: 2 }), "{why:?}");
    assert_eq!(
        why.to_string(),
        "That many slots have room, but anchor hole 3 is too far from the slot that is left for it."
    );
    // Three ties leave it alone.
    let three = ties::propose(&far, &wanted(3, false)).expect("there is room");
    assert!(three.slots.iter().all(|slot| way(&far, slot) <= REACH));
}
