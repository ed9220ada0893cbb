//! The webs round holes for cables.

use super::{Rules, nearest};
use crate::cable_hole::CableHole;
use crate::laid::LaidEye;
use crate::limits::{Rule, State};
use crate::tie::TieSlot;
use crate::wording;

impl Rules<'_> {
    /// The holes that a drive gets.
    pub(super) fn drive_holes(&mut self, index: usize) {
        let (project, laid) = (self.project, self.laid);
        let name = &project.drives[index].name;
        for (_, hole) in laid.holes_made(index) {
            let say = |state, part: &str| wording::sentence(Rule::HoleEdge, state, part);
            self.hole_to_edge(name, hole, say);
            self.webs_of_hole(name, hole);
            let gaps = self.holes_from(index + 1);
            let gaps = gaps.filter_map(|(other, drive)| Some((hole.gap_to(other)?, drive)));
            if let Some((gap, drive)) = nearest(gaps) {
                let part = wording::pair(name, &project.drives[drive].name);
                self.find_gap(Rule::HoleGap, part, Some(gap), 0.0);
            }
        }
    }

    /// The holes that the plate has.
    pub(super) fn plate_holes(&mut self) {
        let (project, laid) = (self.project, self.laid);
        for (index, hole) in laid.plate_holes.iter().enumerate() {
            let name = wording::plate_hole(index);
            self.hole_to_edge(&name, hole, wording::plate_hole_edge);
            self.webs_of_hole(&name, hole);
            let later = laid.plate_holes.iter().enumerate().skip(index + 1);
            let later = later.map(|(other, hole)| (hole, wording::plate_hole(other)));
            let made = self.holes_from(0);
            let made = made.map(|(hole, drive)| (hole, project.drives[drive].name.clone()));
            let gaps = later.chain(made);
            let gaps = gaps.filter_map(|(other, what)| Some((hole.gap_to(other)?, what)));
            if let Some((gap, what)) = nearest(gaps) {
                let part = wording::pair(&name, &what);
                self.find_gap(Rule::HoleGap, part, Some(gap), 0.0);
            }
        }
    }

    /// The holes that drives from one on get, each with its drive.
    fn holes_from(&self, first: usize) -> impl Iterator<Item = (&CableHole, usize)> {
        let drives = first..self.laid.drives.len();
        drives.flat_map(|drive| {
            let made = self.laid.holes_made(drive);
            made.map(move |(_, hole)| (hole, drive))
        })
    }

    fn hole_to_edge(
        &mut self,
        name: &str,
        hole: &CableHole,
        say: impl FnOnce(State, &str) -> String,
    ) {
        let plate = self.plate.as_ref();
        let edge = plate.and_then(|plate| plate.room_around_polygon(&hole.ends));
        let edge = edge.map(|gap| gap.grown(hole.radius));
        self.find_gap_saying(Rule::HoleEdge, name.to_owned(), edge, 0.0, say);
    }

    /// The webs to the nearest opening, slot and lug.
    fn webs_of_hole(&mut self, name: &str, hole: &CableHole) {
        let (project, laid) = (self.project, self.laid);
        let to_opening = |(eye, laid): (usize, &LaidEye)| {
            let opening = laid.opening()?;
            Some((hole.gap_to_opening(opening)?, eye))
        };
        let openings = laid.eyes.iter().enumerate().filter_map(to_opening);
        if let Some((gap, eye)) = nearest(openings) {
            let part = wording::pair(name, &project.eye_name(eye));
            self.find_gap(Rule::HoleOpening, part, Some(gap), 0.0);
        }
        let to_slot = |(slot, tie): (usize, &TieSlot)| Some((hole.gap_to_slot(tie)?, slot));
        let slots = project.ties.iter().enumerate().filter_map(to_slot);
        if let Some((gap, slot)) = nearest(slots) {
            let part = wording::pair(name, &wording::slot(slot));
            self.find_gap(Rule::HoleSlot, part, Some(gap), 0.0);
        }
        let gaps = laid.lugs();
        let gaps = gaps.filter_map(|(lug, eye)| Some((hole.gap_to_lug(lug)?, eye)));
        if let Some((gap, eye)) = nearest(gaps) {
            let lug = wording::piece("lug", &project.eye_name(eye));
            let part = wording::pair(name, &lug);
            self.find_gap(Rule::LugHole, part, Some(gap), 0.0);
        }
    }
}
