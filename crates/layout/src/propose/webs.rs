//! The webs that a sheath's holes leave in the plate.

use crate::cable_hole::CableHole;
use crate::geometry::Gap;
use crate::laid::Laid;
use crate::limits::Rule;
use crate::project::Project;
use crate::wording;

/// The least web of a rule between some holes and something else.
#[derive(Clone, Debug)]
pub(super) struct Web {
    pub(super) rule: Rule,
    /// mm.
    pub(super) width: f64,
    /// What is beyond it.
    pub(super) name: String,
}

/// The least web of each rule about some holes of the first of `drives`, holes of the second left out. The plate's edge is left out: it gets
/// a pad where a hole comes near.
pub(super) fn of(
    project: &Project,
    laid: &Laid,
    drives: [Option<usize>; 2],
    holes: &[CableHole],
) -> Vec<Web> {
    let made = holes.iter().filter(|hole| !laid.has_hole_for(hole));
    let made: Vec<&CableHole> = made.collect();
    if made.is_empty() {
        return Vec::new();
    }
    let least = |gap: &dyn Fn(&CableHole) -> Option<Gap>| {
        let widths = made.iter().copied().filter_map(gap).map(|gap| gap.distance);
        widths.reduce(f64::min)
    };
    let openings = laid.eyes.iter().enumerate().filter_map(|(eye, laid)| {
        let opening = laid.opening()?;
        Some(Web {
            rule: Rule::HoleOpening,
            width: least(&|hole| hole.gap_to_opening(opening))?,
            name: wording::about(&project.eye_name(eye), "the opening of the {}"),
        })
    });
    let slots = project.ties.iter().enumerate().filter_map(|(slot, tie)| {
        Some(Web {
            rule: Rule::HoleSlot,
            width: least(&|hole| hole.gap_to_slot(tie))?,
            name: wording::slot(slot),
        })
    });
    let all = project.drives.iter().zip(&laid.drives).enumerate();
    let others = all.filter(|(other, _)| !drives.contains(&Some(*other)));
    let others = others.flat_map(|(index, (drive, _))| {
        let name = wording::about(&drive.name, "a cable hole of the {}");
        let made = laid.holes_made(index);
        made.map(move |(_, hole)| (name.clone(), hole))
    });
    let there = laid.plate_holes.iter().enumerate();
    let there = there.map(|(index, hole)| (wording::plate_hole(index), hole));
    let others = there.chain(others).filter_map(|(name, other)| {
        Some(Web {
            rule: Rule::HoleGap,
            width: least(&|hole| hole.gap_to(other))?,
            name,
        })
    });
    let lugs = laid.lugs().filter_map(|(lug, eye)| {
        Some(Web {
            rule: Rule::LugHole,
            width: least(&|hole| hole.gap_to_lug(lug))?,
            name: wording::about(&project.eye_name(eye), "a lug of the {}"),
        })
    });
    let mut webs = Vec::<Web>::new();
    for web in openings.chain(slots).chain(lugs).chain(others) {
        match webs.iter_mut().find(|least| least.rule == web.rule) {
            Some(least) if least.width <= web.width => {}
            Some(least) => *least = web,
            None => webs.push(web),
        }
    }
    webs
}
