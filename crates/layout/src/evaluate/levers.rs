//! The rules about what stands beside the levers of lids.

use super::Rules;
use crate::drive::Moves;
use crate::lever::THICKNESS;
use crate::limits::Rule;
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

impl Rules<'_> {
    /// Levers of lids start on the pivot axis, and so do lids, lugs and other levers: side by side they clear
    /// each other along it or not at all, whatever their turns.
    pub(super) fn levers(&mut self) {
        let levers = self.levers_of_lids();
        for (index, lever) in levers.iter().enumerate() {
            let beside = self.beside(lever, &levers[index + 1..]).into_iter();
            if let Some((gap, what, x)) = beside.min_by(|a, b| a.0.total_cmp(&b.0)) {
                let [_, y, z] = lever.root;
                let place = vec![lever.root, [x, y, z]];
                let part = wording::pair(&lever.name, &what);
                self.find(Rule::LeverBeside, part, gap, place);
            }
        }
    }

    /// The levers of drives and rods that move lids.
    fn levers_of_lids(&self) -> Vec<Slab> {
        let project = self.project;
        let drives = project.drives.iter();
        let drives = drives.map(|drive| (drive.name.as_str(), drive.moves, drive.tip));
        let rods = project.rods.iter().flat_map(|rod| {
            let ends = rod.ends().into_iter();
            ends.map(|(moves, tip)| (rod.name.as_str(), moves, tip))
        });
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
        drives.chain(rods).filter_map(slab).collect()
    }

    /// How far a lever stands beside its lids, all lugs and `others`, mm, what each is called, and its x.
    fn beside(&self, lever: &Slab, others: &[Slab]) -> Vec<(f64, String, f64)> {
        let mut beside = Vec::new();
        for (index, eye) in self.laid.eyes.iter().enumerate() {
            let name = self.project.eye_name(index);
            if index == lever.eye
                && let Some(lids) = &eye.lids
            {
                let off = (lever.x - eye.centre.x).abs();
                let gap = off - lids.outer_radius - THICKNESS / 2.0;
                beside.push((gap, wording::piece("lids", &name), eye.centre.x));
            }
            for lug in eye.lugs.iter().flatten() {
                if (lug.centre.y - lever.root[1]).abs() <= lever.reach + lug.width / 2.0 {
                    let between = (lever.x - lug.centre.x).abs();
                    let gap = between - (lug.thickness + THICKNESS) / 2.0;
                    beside.push((gap, wording::piece("lug", &name), lug.centre.x));
                }
            }
        }
        for other in others {
            if (other.root[1] - lever.root[1]).abs() <= lever.reach + other.reach {
                let gap = (lever.x - other.x).abs() - THICKNESS;
                beside.push((gap, other.name.clone(), other.x));
            }
        }
        beside
    }
}
