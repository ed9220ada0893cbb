//! A plate that is kept where the eyes are, since something fouls at the place of the largest margin.

use super::fit::{Fit, Placed, Trial};
use super::plate::ShelfPlate;
use super::work::{Work, work};
use crate::limits::State;

impl Trial<'_> {
    /// How a plate of which `fit` was found in this head is used in it, and what is to be done to it there; None
    /// where it has no place. Where something fouls with it at its best place, it is kept level with the middle of
    /// its openings on that of the project's eyes, as long as it keeps the wanted margin there and nothing stands
    /// against it: [`Placed::most`] then says what the best place would give. Pure and total.
    pub fn work_out(&self, plate: &ShelfPlate, fit: Fit) -> (Fit, Option<Work>) {
        let Some(best) = &fit.placed else {
            return (fit, None);
        };
        let at_best = work(self.project, plate, best);
        let kept = if at_best.fouls() == 0 {
            None
        } else {
            self.kept(plate, best)
        };
        match kept {
            Some((placed, work)) => (
                Fit {
                    placed: Some(placed),
                    ..fit
                },
                Some(work),
            ),
            None => (fit, Some(at_best)),
        }
    }

    /// The plate where the eyes are; None if something stands against it there.
    fn kept(&self, plate: &ShelfPlate, best: &Placed) -> Option<(Placed, Work)> {
        let corners = plate.outline.as_ref()?;
        let placement = self.on_the_eyes(plate);
        let placed = Placed {
            most: Some(best.margin),
            ..self.placed(plate, corners, placement, best.at_most)?
        };
        if placed.state != State::Clear {
            return None;
        }
        let work = work(self.project, plate, &placed);
        let nothing_against = work.fouls() == 0 && work.beyond.is_empty() && work.refused.is_none();
        nothing_against.then_some((placed, work))
    }
}
