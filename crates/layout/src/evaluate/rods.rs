//! The rules about rods.

use super::Rules;
use super::drives::finite;
use crate::angle::Degrees;
use crate::limits::Rule;
use crate::linkage::Linkage;
use crate::report::RodFigures;
use crate::rod::Rod;

impl Rules<'_> {
    pub(super) fn rods(&mut self) {
        let (project, laid) = (self.project, self.laid);
        for (rod, linkage) in project.rods.iter().zip(&laid.rods) {
            let mut figures = RodFigures {
                name: rod.name.clone(),
                ..RodFigures::default()
            };
            match linkage {
                Ok(linkage) => self.rod(rod, linkage, &mut figures),
                Err(problem) => {
                    let eye = laid.eyes.get(rod.follower.eye());
                    let centre = eye.map_or([0.0; 2], |eye| eye.centre.into());
                    let place = [centre[0], centre[1], 0.0];
                    self.find_problem(Rule::RodShape, problem, rod.name.clone(), Some(place));
                }
            }
            self.figures.rods.push(figures);
        }
    }

    fn rod(&mut self, rod: &Rod, linkage: &Linkage, figures: &mut RodFigures) {
        let ends = |pose| linkage.ends_at(pose).map(Into::into);
        figures.rod_length_mm = finite(linkage.length);
        if let Err(stuck) = &linkage.follows {
            let [driver, _] = ends(stuck.at);
            self.find_problem(
                Rule::RodShape,
                &stuck.problem,
                rod.name.clone(),
                Some(driver),
            );
            return;
        }
        let degrees = |radians| Degrees::from_radians(radians).0;
        let worst = linkage.worst();
        let out_of_step = degrees(worst.difference.value);
        figures.follower_difference_deg = finite(out_of_step);
        let place = ends(worst.difference.at).to_vec();
        self.find(Rule::RodFollow, rod.name.clone(), out_of_step, place);
        let angle = degrees(worst.transmission.value);
        figures.transmission_least_deg = finite(angle);
        let place = ends(worst.transmission.at).to_vec();
        self.find(Rule::RodAngle, rod.name.clone(), angle, place);
        figures.planar_difference_deg = finite(degrees(worst.planar_difference.value));
    }
}
