//! The rules about slots and the ties in them.

use super::{Rules, nearest};
use crate::laid::LaidEye;
use crate::limits::Rule;
use crate::report::TieFigures;
use crate::tie::TieSlot;
use crate::ties::length::TieLength;
use crate::ties::spread;
use crate::wording;

impl Rules<'_> {
    /// The webs round each slot.
    pub(super) fn slots(&mut self) {
        for (index, slot) in self.project.ties.iter().enumerate() {
            let name = wording::slot(index);
            let plate = self.plate.as_ref();
            let edge = plate.and_then(|plate| slot.gap_to_edge(plate));
            self.find_gap(Rule::SlotEdge, name.clone(), edge, 0.0);

            let to_opening =
                |(eye, laid): (usize, &LaidEye)| Some((slot.gap_to_opening(laid.opening()?)?, eye));
            let openings = self.laid.eyes.iter().enumerate().filter_map(to_opening);
            if let Some((gap, eye)) = nearest(openings) {
                let part = wording::pair(&name, &self.project.eye_name(eye));
                self.find_gap(Rule::SlotOpening, part, Some(gap), 0.0);
            }

            let gaps = self.laid.lugs();
            let gaps = gaps.filter_map(|(lug, eye)| Some((slot.gap_to_lug(lug)?, eye)));
            if let Some((gap, eye)) = nearest(gaps) {
                let lug = wording::piece("lug", &self.project.eye_name(eye));
                let part = wording::pair(&name, &lug);
                self.find_gap(Rule::LugSlot, part, Some(gap), 0.0);
            }

            let to_slot = |(other, theirs): (usize, &TieSlot)| Some((slot.gap_to(theirs)?, other));
            let later = self.project.ties.iter().enumerate().skip(index + 1);
            if let Some((gap, other)) = nearest(later.filter_map(to_slot)) {
                let part = wording::pair(&name, &wording::slot(other));
                self.find_gap(Rule::SlotGap, part, Some(gap), 0.0);
            }

            let length = TieLength::of(self.project, slot);
            self.figures.ties.push(TieFigures {
                run_mm: length.map(|length| length.run),
                tie_needed_mm: length.map(|length| length.needed),
                tie_length_mm: length.and_then(|length| length.usual),
            });
        }
    }

    /// Straps stand behind the plate and must clear every sweep.
    pub(super) fn straps(&mut self) {
        let back = self.back();
        for (index, slot) in self.project.ties.iter().enumerate() {
            let to_sweep = |(eye, laid): (usize, &LaidEye)| {
                let (gap, place) = slot.strap_to_sweep(laid, back)?;
                Some((gap, place, eye))
            };
            let sweeps = self.laid.eyes.iter().enumerate().filter_map(to_sweep);
            if let Some((gap, place, eye)) = sweeps.min_by(|a, b| a.0.total_cmp(&b.0)) {
                let part = wording::pair(&wording::tie(index), &self.project.eye_name(eye));
                self.find(Rule::Hardware, part, gap, place.into());
            }
        }
    }

    /// What the plate carries should lie among its slots.
    pub(super) fn tie_spread(&mut self) {
        let held = spread::held(self.project, self.laid);
        let rooms = held.into_iter().filter_map(|held| {
            let room = spread::room(&self.project.ties, held.at)?;
            Some((room, held.name))
        });
        if let Some((room, name)) = nearest(rooms) {
            self.figures.plate.tie_spread_mm =
                self.find_gap(Rule::TieSpread, name, Some(room), 0.0);
        }
    }
}
