//! How near rods come to each other, in poses that go together.

use crate::drive::Moves;
use crate::geometry::space::{Near, Place, Straight};
use crate::laid::Laid;
use crate::lever_sweep::LeverSweep;
use crate::linkage::Linkage;
use crate::project::Project;
use crate::rod::{self, Rod};
use crate::rod_sweep::RodSweep;
use crate::search::Search;
use crate::turned::Pose;

/// What a rod comes nearest to, from its middle line, and what that is called; None where nothing is near it.
type Nearest = Option<(Near, String)>;

/// Takes for each rod another one for what it comes nearest to, if that comes nearer.
///
/// A rod that gets stuck counts for none; nor do two that share a joint, where they hang in one hole.
pub(super) fn find_nearer(project: &Project, laid: &Laid, nearest: &mut [Nearest]) {
    let working = |lever| Working::of(project, laid, lever);
    let rods: Vec<Working> = laid.levers.iter().filter_map(working).collect();
    for (number, one) in rods.iter().enumerate() {
        for other in &rods[number + 1..] {
            let pair = [(one, other), (other, one)];
            let below = pair.map(|(own, theirs)| {
                let near = nearest[own.index].as_ref();
                near.map_or(f64::INFINITY, |(near, _)| near.distance) + theirs.sweep.radius
            });
            if one.joins(other) || one.sweep.at_least(other.sweep) >= below[0].max(below[1]) {
                continue;
            }
            let Some(places) = nearest_places(project, laid, one, other) else {
                continue;
            };
            let distance = (places[1] - places[0]).norm();
            for (((own, theirs), below), at) in pair.into_iter().zip(below).zip(places) {
                if distance < below {
                    let distance = distance - theirs.sweep.radius;
                    nearest[own.index] = Some((Near { distance, at }, theirs.name.clone()));
                }
            }
        }
    }
}

/// A rod that can move its follower over its driver's whole turn.
struct Working<'a> {
    index: usize,
    rod: &'a Rod,
    linkage: &'a Linkage,
    sweep: &'a RodSweep,
    name: String,
}

impl<'a> Working<'a> {
    /// None of what is no rod, or of one that gets stuck.
    fn of(project: &'a Project, laid: &'a Laid, lever: &'a LeverSweep) -> Option<Self> {
        let (index, sweep) = lever.rod()?;
        let linkage = laid.rods.get(index)?.as_ref().ok()?;
        linkage.follows.as_ref().ok()?;
        Some(Self {
            index,
            rod: project.rods.get(index)?,
            linkage,
            sweep,
            name: lever.name(project),
        })
    }

    /// Whether both end at the same tip.
    fn joins(&self, other: &Self) -> bool {
        let theirs = other.rod.ends();
        let mut own = self.rod.ends().into_iter();
        own.any(|(part, tip)| {
            let mut theirs = theirs.iter();
            theirs.any(|(other, at)| other.is_of_same_part(part) && *at == tip)
        })
    }

    /// Whether both turn the gaze of an eye, by different turns of it.
    fn crosses(&self, other: &Self) -> bool {
        let mut own = self.rod.ends().into_iter();
        own.any(|(part, _)| {
            let mut theirs = other.rod.ends().into_iter();
            theirs.any(|(other, _)| other.is_of_same_part(part) && other != part)
        })
    }
}

/// Where the middle lines of two rods come nearest to each other.
fn nearest_places(
    project: &Project,
    laid: &Laid,
    one: &Working,
    other: &Working,
) -> Option<[Place; 2]> {
    let linkages = [one.linkage, other.linkage];
    let drivers = [one.rod.driver, other.rod.driver];
    if let Some((part, ranges)) = common_part(project, laid, drivers) {
        // What turns the one turns the other, by rods between them or as it stands.
        let poses = |[own, other]: [f64; 2]| {
            let pose = Pose { own, other };
            let [one, two] = drivers.map(|driver| driven(project, laid, driver, part, pose));
            Some([one?, two?])
        };
        return nearest_in(&ranges, linkages, poses);
    }
    if one.crosses(other) {
        // One takes the eyes to the side and the other up: the turn of each is the other turn of the other one.
        let [own, theirs] = linkages.map(|linkage| linkage.driver_range);
        let ranges = if project.gaze.together {
            vec![[own, theirs]]
        } else {
            vec![[own, [0.0; 2]], [[0.0; 2], theirs]]
        };
        let pose = |own, other| Pose { own, other };
        return nearest_in(&ranges, linkages, |[a, b]| Some([pose(a, b), pose(b, a)]));
    }
    one.sweep.nearest_places(other.sweep)
}

/// What turns both of two parts, if that is the same or one follows the other by rods, the last of a chain first;
/// and the ranges of its poses.
fn common_part(
    project: &Project,
    laid: &Laid,
    [one, other]: [Moves; 2],
) -> Option<(Moves, Vec<[[f64; 2]; 2]>)> {
    let rods = &project.rods;
    let is_common = |part: &Moves| rod::chain(rods, other).any(|theirs| theirs == *part);
    let part = rod::chain(rods, one).find(is_common)?;
    let mut moved = rods.iter().zip(&laid.rods);
    let linkage = moved.find_map(|(rod, linkage)| {
        let linkage = linkage.as_ref().ok()?;
        (rod.driver == part).then_some(linkage)
    })?;
    Some((part, linkage.ranges()))
}

/// The pose of what drives a rod as another part, which drives it by a chain of rods or is it, stands in one.
fn driven(
    project: &Project,
    laid: &Laid,
    driver: Moves,
    by: Moves,
    mut pose: Pose,
) -> Option<Pose> {
    let chain = rod::chain(&project.rods, driver).take_while(|part| *part != by);
    for part in chain.collect::<Vec<_>>().into_iter().rev() {
        let mut rods = project.rods.iter().zip(&laid.rods);
        let (_, linkage) = rods.find(|(rod, _)| rod.follower == part)?;
        pose.own = linkage.as_ref().ok()?.at(pose)?.own;
    }
    Some(pose)
}

/// Where two rods come nearest to each other in ranges of two turns, which tell the poses of both.
fn nearest_in(
    ranges: &[[[f64; 2]; 2]],
    [one, other]: [&Linkage; 2],
    poses: impl Fn([f64; 2]) -> Option<[Pose; 2]>,
) -> Option<[Place; 2]> {
    let places = |turns| {
        let [own, theirs] = poses(turns)?;
        let straight = |[start, end]: [Place; 2]| Straight { start, end };
        let [own, theirs] = [one.ends_reached(own)?, other.ends_reached(theirs)?].map(straight);
        Some(own.nearest_places(&theirs))
    };
    let off = |[own, theirs]: [Place; 2]| (theirs - own).norm();
    let nearest = ranges.iter().filter_map(|&ranges| {
        let search = Search::over(ranges, |turns| places(turns).map(off));
        let (turns, _) = search.largest(|off| off.map_or(f64::NEG_INFINITY, |off| -off));
        places(turns)
    });
    nearest.min_by(|a, b| off(*a).total_cmp(&off(*b)))
}
