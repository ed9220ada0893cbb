//! Where a placed plate gets the cable holes that it lacks.

use super::drilling::{Drilled, Drilling, MEASURED};
use super::ground::{Beside, Ground, Hole, HoleOf, Thin};
use super::lacks::{Lack, Without};
use crate::angle::Degrees;
use crate::cable_hole::CableHole;
use crate::geometry::Vector;
use crate::limits::{Limit, Sense, State};
use crate::wording;

/// The cable holes that the drives of a project need with the plate taken over, and that it does not have: those to
/// be made, and what is too thin for the others, or for one that is there.
pub(super) fn cable_holes(ground: &mut Ground) -> (Vec<Drilling>, Vec<Lack>) {
    let (mut drilling, mut lacks) = (Vec::<Drilling>::new(), Vec::new());
    let laid = ground.laid;
    for (drive, laid) in laid.drives.iter().enumerate() {
        for (index, hole) in laid.holes.iter().enumerate() {
            let is_there = ground.holes.iter().any(|there| there.shape.takes(hole));
            let made = (!is_there).then(|| ground.made(hole, drive));
            if let Some(Err(thin)) = made {
                lacks.push(ground.lack([drive, index], &thin, true));
                continue;
            }
            if let Some(Ok(order)) = made {
                let again = order.hole.plate_hole();
                drilling.retain(|own| again.is_none() || own.hole.plate_hole() != again);
                drilling.push(order);
            }
            let thin = ground.thin_to_edge(hole);
            lacks.extend(thin.map(|thin| ground.lack([drive, index], &thin, false)));
        }
    }
    (drilling, lacks)
}

impl Ground<'_> {
    /// Orders a hole, or that one which the plate has beside it is widened. Else the web that is short of the
    /// wanted one by most.
    fn made(&mut self, hole: &CableHole, drive: usize) -> Result<Drilling, Thin> {
        let thin = self.thin_webs(hole, drive);
        let short = |a: &&Thin, b: &&Thin| a.by().total_cmp(&b.by());
        let Some(&thinnest) = thin.iter().max_by(short) else {
            let of = HoleOf::Drive(drive);
            self.holes.push(Hole { shape: *hole, of });
            return Ok(self.order(Drilled::CableHole { drive }, hole));
        };
        let beside = thin.iter().find_map(|thin| match thin.beside {
            Beside::Hole(of @ HoleOf::Plate(index)) => {
                let there = self.holes.iter().position(|other| other.of == of)?;
                Some((index, there))
            }
            _ => None,
        });
        let Some((index, there)) = beside else {
            return Err(thinnest);
        };
        let of = self.holes[there].of;
        let wider = joined(&self.holes[there].shape, hole);
        let webs = self.thin_webs(&wider, drive);
        if webs.iter().any(|thin| thin.beside != Beside::Hole(of)) {
            return Err(thinnest);
        }
        self.holes[there].shape = wider;
        let hole = Drilled::WiderHole { hole: index, drive };
        Ok(self.order(hole, &wider))
    }

    fn order(&self, what: Drilled, hole: &CableHole) -> Drilling {
        let along = hole.ends[1] - hole.ends[0];
        let angle = Degrees::from_radians(along.y.atan2(along.x));
        let at = hole.middle().into();
        Drilling::new(self.placement, what, at, hole.size(), angle)
    }

    /// What a plate is too narrow for: a hole of a drive, that is there or cannot be made.
    fn lack(&self, [drive, index]: [usize; 2], thin: &Thin, missing: bool) -> Lack {
        let project = &self.project;
        let name = &project.drives[drive].name;
        let of_drive = |drive: usize| wording::drive(&project.drives[drive].name);
        let without = match thin.beside {
            Beside::Edge => None,
            Beside::Opening(eye) => Some((project.eye_name(eye), project.eye_name(eye))),
            Beside::Slot(slot) => Some((wording::slot(slot), wording::slot(slot))),
            Beside::Hole(HoleOf::Plate(hole)) => {
                let there = wording::plate_hole(hole);
                Some((there.clone(), there))
            }
            Beside::Hole(HoleOf::Drive(other)) => {
                let there = wording::piece("cable hole", &of_drive(other));
                Some((there, project.drives[other].name.clone()))
            }
        };
        let parts = |other: &str| match thin.beside {
            Beside::Hole(_) => wording::pair(other, name),
            _ => wording::pair(name, other),
        };
        let limit: Limit = project.limits.of(thin.rule, project.plate.thickness);
        Lack {
            part: wording::cable_hole(index, &of_drive(drive)),
            beside: without.as_ref().map(|(there, _)| there.clone()),
            state: if missing {
                State::Fouls
            } else {
                limit.state(thin.gap.distance, Sense::AtLeast)
            },
            web: thin.gap.distance,
            wanted: thin.wanted,
            by: thin.by(),
            place: [thin.gap.from.into(), thin.gap.to.into()],
            at_on_plate: self.placement.back(thin.gap.to.into()),
            without: without.map(|(_, other)| Without {
                rule: thin.rule,
                parts: parts(&other),
            }),
        }
    }
}

/// The shortest slot along the line between the middles of two holes that both lie in, no wider than they are
/// together across it.
pub(super) fn joined(one: &CableHole, other: &CableHole) -> CableHole {
    let lengthwise = |hole: &CableHole| (hole.ends[1] - hole.ends[0]).try_normalize(MEASURED);
    let along = (other.middle() - one.middle()).try_normalize(MEASURED);
    let along = along
        .or_else(|| lengthwise(other))
        .or_else(|| lengthwise(one));
    let along = along.unwrap_or_else(Vector::x);
    let origin = one.middle();
    let discs = [one, other].into_iter().flat_map(|hole| {
        let seen = |end| {
            let off: Vector = end - origin;
            (off.dot(&along), along.perp(&off), hole.radius)
        };
        hole.ends.map(seen)
    });
    let least = |figures: &mut dyn Iterator<Item = f64>| figures.fold(f64::INFINITY, f64::min);
    let low = least(&mut discs.clone().map(|(_, across, radius)| across - radius));
    let high = -least(&mut discs.clone().map(|(_, across, radius)| -across - radius));
    let (middle, radius) = (f64::midpoint(low, high), (high - low) / 2.0);
    // How far before the middle of a round end a disc may lie that touches it from within.
    let before = |across: f64, own: f64| {
        let left = (radius - own).powi(2) - (across - middle).powi(2);
        left.max(0.0).sqrt()
    };
    let start = least(
        &mut discs
            .clone()
            .map(|(at, across, own)| at + before(across, own)),
    );
    let end = -least(&mut discs.map(|(at, across, own)| before(across, own) - at));
    let [start, end] = if start <= end {
        [start, end]
    } else {
        [f64::midpoint(start, end); 2]
    };
    let across = Vector::new(-along.y, along.x);
    CableHole {
        ends: [start, end].map(|at| origin + along * at + across * middle),
        radius,
        lean: 0.0,
    }
}
