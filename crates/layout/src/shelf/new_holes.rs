//! Where a placed plate gets the cable holes that it lacks.

use super::drilling::{Drilled, Drilling};
use super::ground::{Beside, Ground, Hole, HoleOf, Thin};
use super::lacks::{Lack, Without};
use crate::angle::Degrees;
use crate::cable_hole::CableHole;
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
            let thin = thin
                .into_iter()
                .chain(ground.thin_to_plate_holes(hole, drive));
            let thin: Vec<Lack> = thin
                .map(|thin| ground.lack([drive, index], &thin, false))
                .collect();
            lacks.extend(thin);
        }
    }
    (drilling, lacks)
}

impl Ground<'_> {
    /// Orders a hole, or that one which the plate has beside it is widened. Else the web that is short of the
    /// wanted one by most.
    fn made(&mut self, hole: &CableHole, drive: usize) -> Result<Drilling, Thin> {
        let must = |limit: &Limit| limit.least;
        let thin = self.thin_webs(hole, drive, must);
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
        let ways = self.holes[there].shape.joined(hole);
        let wider = ways.into_iter().find(|wider| {
            let webs = self.thin_webs(wider, drive, must);
            webs.iter().all(|thin| thin.beside == Beside::Hole(of))
        });
        let wider = wider.ok_or(thinnest)?;
        self.holes[there].shape = wider;
        let hole = Drilled::WiderHole { hole: index, drive };
        Ok(self.order(hole, &wider))
    }

    /// The webs to the plate's own holes that are thinner than is wanted, though they will do.
    fn thin_to_plate_holes(&self, hole: &CableHole, drive: usize) -> impl Iterator<Item = Thin> {
        let thin = self
            .thin_webs(hole, drive, |limit| limit.wanted)
            .into_iter();
        let passes = move |of: HoleOf| {
            let mut own = self.holes.iter().filter(|own| own.of == of);
            own.any(|own| own.shape.takes(hole))
        };
        thin.filter(move |thin| match thin.beside {
            Beside::Hole(of @ HoleOf::Plate(_)) => !passes(of),
            _ => false,
        })
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
        let there = self.name_of(thin.beside);
        let other = match thin.beside {
            Beside::Hole(HoleOf::Drive(other)) => Some(project.drives[other].name.clone()),
            _ => there.clone(),
        };
        let parts = |other: &str| match thin.beside {
            Beside::Hole(_) => wording::pair(other, name),
            _ => wording::pair(name, other),
        };
        let limit: Limit = project.limits.of(thin.rule, project.plate.thickness);
        Lack {
            part: wording::cable_hole(index, &wording::drive(name)),
            beside: there,
            is_there: !missing,
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
            without: other.map(|other| Without {
                rule: thin.rule,
                parts: parts(&other),
            }),
        }
    }
}
