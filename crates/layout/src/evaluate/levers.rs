//! The rules about what stands beside the levers of lids.

use super::Rules;
use super::lids::lid_sphere;
use crate::drive::Moves;
use crate::laid::LaidEye;
use crate::lever::THICKNESS;
use crate::limits::Rule;
use crate::project::Project;
use crate::wording;

/// The lever of a lid: a slab square to the pivot axis, from the axis to its tip.
struct Slab {
    /// What it is called.
    name: String,
    eye: usize,
    /// x of its middle, in the plate's frame, mm.
    x: f64,
    /// Place of the pivot axis there, mm.
    root: [f64; 3],
    /// How far it reaches from the axis, mm.
    reach: f64,
}

/// What a lever stands beside.
struct Beside {
    /// Distance along the axis, mm; negative where they pass through each other.
    gap: f64,
    /// What it is called.
    what: String,
    /// x of its middle, mm.
    x: f64,
}

impl Rules<'_> {
    /// Levers of lids start on the pivot axis, and so do lids, lugs and other levers: side by side they clear
    /// each other along it or not at all, whatever their turns.
    pub(super) fn levers(&mut self) {
        let levers = self.levers_of_lids();
        for (index, lever) in levers.iter().enumerate() {
            let fixed = self.beside_fixed(lever).into_iter();
            let nearest = fixed.min_by(|a, b| a.gap.total_cmp(&b.gap));
            let others = levers[index + 1..].iter();
            let others = others.filter_map(|other| beside_lever(lever, other));
            for beside in nearest.into_iter().chain(others) {
                let [_, y, z] = lever.root;
                let place = vec![lever.root, [beside.x, y, z]];
                let part = wording::pair(&lever.name, &beside.what);
                self.find(Rule::LeverBeside, part, beside.gap, place);
            }
        }
        self.lever_and_neighbours();
    }

    /// A lever of a lid may swing beside its own lids and lugs and into what another eye has there.
    fn lever_and_neighbours(&mut self) {
        let laid = self.laid;
        for lever in &laid.levers {
            let gap = |(of, other): (usize, &LaidEye)| {
                let (centre, radius) = lid_sphere(other)?;
                let (own, at) = lever.lid_lever(centre)?;
                let gap = lever.distance(centre, f64::INFINITY) - radius;
                (own != of).then_some((gap, of, at))
            };
            let others = laid.eyes.iter().enumerate().filter_map(gap);
            if let Some((gap, of, at)) = others.min_by(|a, b| a.0.total_cmp(&b.0)) {
                let what = if laid.eyes[of].lids.is_some() {
                    "lids"
                } else {
                    "ball"
                };
                let what = wording::piece(what, &self.project.eye_name(of));
                let part = wording::pair(&lever.part(self.project), &what);
                self.find(Rule::LeverBeside, part, gap, vec![at.into()]);
            }
        }
    }

    /// The levers of drives and rods that move lids.
    fn levers_of_lids(&self) -> Vec<Slab> {
        let project = self.project;
        let slab = |(name, moves, tip): (&str, Moves, [f64; 3])| {
            let Moves::Lid { eye, .. } = moves else {
                return None;
            };
            let [x, y, z] = self.laid.eyes.get(eye)?.ball_centre()?;
            Some(Slab {
                name: wording::lever(name),
                eye,
                x: x + tip[0],
                root: [x + tip[0], y, z],
                reach: tip[1].hypot(tip[2]),
            })
        };
        named_levers(project).filter_map(slab).collect()
    }

    /// Its own lids and the lugs that a lever stands beside.
    fn beside_fixed(&self, lever: &Slab) -> Vec<Beside> {
        let mut beside = Vec::new();
        for (index, eye) in self.laid.eyes.iter().enumerate() {
            let name = self.project.eye_name(index);
            if index == lever.eye
                && let Some(lids) = &eye.lids
            {
                let off = (lever.x - eye.centre.x).abs();
                beside.push(Beside {
                    gap: off - lids.outer_radius - THICKNESS / 2.0,
                    what: wording::piece("lids", &name),
                    x: eye.centre.x,
                });
            }
            for lug in eye.lugs.iter().flatten() {
                if (lug.centre.y - lever.root[1]).abs() <= lever.reach + lug.width / 2.0 {
                    let between = (lever.x - lug.centre.x).abs();
                    beside.push(Beside {
                        gap: between - (lug.thickness + THICKNESS) / 2.0,
                        what: wording::piece("lug", &name),
                        x: lug.centre.x,
                    });
                }
            }
        }
        beside
    }
}

/// The levers of all drives, and those at the ends of all rods: the name of what they belong to, what they turn, and
/// their tips.
pub(super) fn named_levers(project: &Project) -> impl Iterator<Item = (&str, Moves, [f64; 3])> {
    let drives = project.drives.iter();
    let drives = drives.map(|drive| (drive.name.as_str(), drive.moves, drive.tip));
    let rods = project.rods.iter().flat_map(|rod| {
        let ends = rod.ends().into_iter();
        ends.map(|(moves, tip)| (rod.name.as_str(), moves, tip))
    });
    drives.chain(rods)
}

/// How two levers stand beside each other; None where neither reaches the other's height.
fn beside_lever(lever: &Slab, other: &Slab) -> Option<Beside> {
    let apart = (other.root[1] - lever.root[1]).abs();
    (apart <= lever.reach + other.reach).then(|| Beside {
        gap: (lever.x - other.x).abs() - THICKNESS,
        what: other.name.clone(),
        x: other.x,
    })
}
