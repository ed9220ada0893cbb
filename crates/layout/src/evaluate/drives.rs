//! The rules about levers, pulls and forces.

use super::Rules;
use crate::angle::Degrees;
use crate::drive::{Drive, Returns};
use crate::force;
use crate::geometry::space::{Near, Piece, Place};
use crate::laid_drive::{self, LaidDrive};
use crate::lever::{self, Lever};
use crate::limits::{Rule, State};
use crate::obstacle::{self, Body};
use crate::pull::Pull;
use crate::report::DriveFigures;
use crate::route::Route;
use crate::turned::Pose;
use crate::wording;

/// Thickness of a bracket round the sheath that it holds, mm: that of an ordinary printed wall.
/// Own choice.
const BRACKET_WALL: f64 = 2.0;

/// Length of sheath that a bracket holds, mm: with less, the sheath tilts under pull. Own choice.
const BRACKET_GRIP: f64 = 6.0;

impl Rules<'_> {
    pub(super) fn drives(&mut self) {
        let (project, laid) = (self.project, self.laid);
        for (index, (drive, worked_out)) in project.drives.iter().zip(&laid.drives).enumerate() {
            let mut figures = DriveFigures {
                name: drive.name.clone(),
                lead_mm: finite(drive.lead),
                ..DriveFigures::default()
            };
            let eye = laid.eyes.get(drive.moves.eye());
            let place = eye.map(|eye| [eye.centre.x, eye.centre.y, 0.0]);
            let lead = worked_out.route.iter().flat_map(|route| &route.points[..2]);
            let lead: Vec<_> = lead.map(|&place| place.into()).collect();
            let lead = if lead.is_empty() {
                place.into_iter().collect()
            } else {
                lead
            };
            self.find(Rule::Lead, drive.name.clone(), drive.lead, lead);
            match &worked_out.pull {
                Ok(pull) => self.drive(drive, pull, worked_out, &mut figures),
                Err(problem) => {
                    self.find_problem(Rule::DriveShape, problem, drive.name.clone(), place);
                }
            }
            self.sheath(index, &mut figures);
            self.figures.drives.push(figures);
        }
        self.sheath_gaps();
        self.undriven();
    }

    fn drive(&mut self, drive: &Drive, pull: &Pull, laid: &LaidDrive, figures: &mut DriveFigures) {
        let name = || drive.name.clone();
        let Some(worst) = laid.worst else {
            return;
        };
        let error = Degrees::from_radians(worst.error).0;
        let tip = pull.tip_at(worst.error_at);
        figures.stroke_mm = finite(pull.stroke());
        figures.standoff_mm = finite(pull.standoff());
        figures.travel_mm = finite(pull.travel());
        figures.pull_error_deg = finite(error);
        figures.arm_share = finite(worst.arm_share);
        figures.unsupported_mm = finite(worst.unsupported);
        let standoff = vec![pull.stop.into(), pull.near.into()];
        self.find(Rule::Standoff, name(), pull.standoff(), standoff);
        let wire = vec![pull.stop.into(), tip.into()];
        self.find(Rule::PullError, name(), error, wire);
        figures.lever_plate_mm = self.lever_plate(drive, pull);
        let mut longest = worst.unsupported;
        if let Some((change, at)) = pull.crosstalk() {
            longest += change;
            figures.crosstalk_mm = finite(change);
            let wire = vec![pull.stop.into(), pull.tip_at(at).into()];
            self.find(Rule::Crosstalk, name(), change, wire);
        }
        figures.wire_clear_mm = self.wire(drive, pull, longest);
        self.bracket(drive, pull, laid);
        self.in_front(drive, pull, laid);
        self.forces(drive, pull, laid, figures);
    }

    fn lever_plate(&mut self, drive: &Drive, pull: &Pull) -> Option<f64> {
        let eye = drive.moves.eye();
        let lids = self.project.parts_of(eye).lids.as_ref();
        let laid = &self.laid.eyes[eye];
        let lever = Lever {
            pull,
            width: lids.map_or(lever::WIDTH, |lids| lids.lever_width),
            ball: laid.seat.as_ref().ok()?.ball_radius,
            tilt: laid.working_tilt,
        };
        let Near { distance, at } = lever.to_plate(self.plate.as_ref()?, -self.back());
        let name = drive.name.clone();
        self.find(Rule::LeverPlate, name, distance, vec![at.into()]);
        finite(distance)
    }

    /// A stop in a hole of the plate is fixed there. Any other is held by a bracket: a sleeve about the
    /// sheath behind its stop, on a foot that stands wherever there is room for it.
    fn bracket(&mut self, drive: &Drive, pull: &Pull, laid: &LaidDrive) {
        let back = self.back();
        let height = pull.stop.z;
        let in_plate = (back..=0.0).contains(&height);
        if in_plate && !laid.holes.is_empty() {
            return;
        }
        let reach = if height > 0.0 { height } else { back - height };
        let foot = if height > 0.0 { 0.0 } else { back };
        let place = vec![pull.stop.into(), [pull.stop.x, pull.stop.y, foot]];
        self.find(Rule::Bracket, drive.name.clone(), reach.max(0.0), place);
        self.sleeve(drive, pull, laid.sheath_radius + BRACKET_WALL);
    }

    /// A bracket's sleeve, of a radius, mm, must stand out of the way of all that moves but its own lever.
    fn sleeve(&mut self, drive: &Drive, pull: &Pull, radius: f64) {
        let grip = pull.along * BRACKET_GRIP;
        let sleeve = [Piece::straight(pull.stop, pull.stop - grip)];
        let of_eyes = self.obstacles.iter().copied();
        let of_eyes = of_eyes.filter(|one| !matches!(one.body, Body::Lug(_)));
        let levers = obstacle::levers(self.laid, drive);
        let others = levers.filter(|lever| matches!(lever.body, Body::Lever(_)));
        let moving = of_eyes.chain(others);
        let moving = obstacle::near_place(moving, pull.stop, BRACKET_GRIP);
        if let Some((near, what)) = obstacle::nearest(&moving, |_| &sleeve) {
            let what = what.name(self.project);
            let say = |state, drive: &str| wording::bracket(state, drive, &what);
            let (name, gap) = (drive.name.clone(), near.distance - radius);
            self.find_saying(Rule::Hardware, name, gap, vec![near.at.into()], say);
        }
    }

    /// What the audience should not see: the lever of a gaze before the plate, or a sheath that comes
    /// out in front once it went behind, or never goes there. The lever of a lid has to stand in front.
    fn in_front(&mut self, drive: &Drive, pull: &Pull, laid: &LaidDrive) {
        let lever = (!pull.moves_lid()).then(|| pull.tip_at(Pose::default()));
        let sheath = laid.route.as_ref().and_then(Route::farthest_forward);
        let farther = |a: &Place, b: &Place| a.z.total_cmp(&b.z);
        let Some(place) = lever.into_iter().chain(sheath).max_by(farther) else {
            return;
        };
        let say = if lever == Some(place) {
            wording::lever_in_front
        } else {
            wording::sheath_in_front
        };
        let (name, height, place) = (drive.name.clone(), place.z, vec![place.into()]);
        self.find_saying(Rule::InFront, name, height, place, say);
    }

    /// Forces need a route for what friction adds; the wire's length, too.
    fn forces(&mut self, drive: &Drive, pull: &Pull, laid: &LaidDrive, figures: &mut DriveFigures) {
        let Some((worst, force)) = laid.worst.zip(laid.lever_force(drive)) else {
            return;
        };
        let holds = force::buckling_force(&drive.cable, worst.unsupported, force::COLUMN_FACTOR);
        let safety = holds / force;
        figures.lever_force_n = finite(force);
        figures.push_safety = finite(safety);
        if drive.returned_by() == Returns::Push {
            let bare = vec![pull.stop.into(), pull.far.into()];
            self.find(Rule::PushSafety, drive.name.clone(), safety, bare);
        }
        let Some(route) = laid.sheath() else {
            return;
        };
        let gain = force::pull_gain(drive.cable.friction, route.total_bend());
        figures.pull_gain = finite(gain);
        figures.hand_force_n = finite(force * gain);
        let place = vec![drive.exit];
        self.find(Rule::HandForce, drive.name.clone(), force * gain, place);
        let ends = force::LEVER_END + force::HAND_END;
        let inner = route.length() + pull.standoff() + pull.stroke() + ends;
        figures.inner_mm = finite(inner);
    }

    fn undriven(&mut self) {
        for moves in laid_drive::undriven(self.project) {
            let eye = moves.eye();
            let name = self.project.eye_name(eye);
            let centre = self.laid.eyes[eye].centre;
            let (sentence, place) = (wording::undriven(moves, &name), [centre.x, centre.y, 0.0]);
            self.find_without_figure(Rule::Undriven, State::Tight, sentence, name, vec![place]);
        }
    }
}

/// A figure that is a number.
pub(super) fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}
