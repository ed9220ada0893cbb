//! The rules about lids and lugs.

use nalgebra::{Point3, Vector3};

use super::Rules;
use super::eyes::between_spheres;
use crate::angle::Degrees;
use crate::geometry::Gap;
use crate::iris::Look;
use crate::laid::LaidEye;
use crate::lever_sweep::LeverSweep;
use crate::lid::{LidFit, LidsFit, Which};
use crate::limits::{Limit, Rule, State};
use crate::lug::{Between, Lug};
use crate::report::UpperLower;
use crate::wording;

impl Rules<'_> {
    pub(super) fn lids(&mut self) {
        let laid = self.laid;
        for (index, eye) in laid.eyes.iter().enumerate() {
            let (Some(lids), Some(lugs)) = (&eye.lids, &eye.lugs) else {
                continue;
            };
            let open_limits = both(|which| self.lid(index, eye, lids, which));
            let bare = both(|which| self.bare_ball(index, eye, lids, which));
            let meeting = self.meeting(index, eye, lids);
            self.largest_ball(index, eye, lids);
            let lug_gap = self.lugs(index, eye, lids, lugs);
            let iris = self.project.eyes[index].iris_diameter;
            let figures = &mut self.figures.eyes[index];
            figures.lid_open_limit_deg = open_limits;
            figures.bare_ball_mm = bare;
            figures.lid_meeting_deg = meeting.map(|angle| Degrees::from_radians(angle).0);
            figures.lid_meeting_mm = meeting.map(|angle| angle * lids.outer_radius);
            figures.iris_cover = lids
                .all_made()
                .then(|| lids.iris_cover(iris, Look::default(), lids.open()));
            figures.lug_lid_gap_mm = Some(lug_gap);
            self.lids_in_head(index, eye, lids, lugs);
        }
    }

    /// Whether a lid can be made and keeps off the plate; its open limit, degrees.
    fn lid(&mut self, index: usize, eye: &LaidEye, lids: &LidsFit, which: Which) -> Option<f64> {
        let part = wording::lid(which, &self.project.eye_name(index));
        let [x, y] = [eye.centre.x, eye.centre.y];
        match lids.made(which)? {
            Err(problem) => {
                let front = lids.seat.centre_height + lids.outer_radius;
                self.find_problem(Rule::LidShape, problem, part, Some([x, y, front]));
                None
            }
            Ok(lid) => {
                let height = lid.edge_height(lid.open);
                let across = y + upward(which) * lid.edge_reach(lid.open);
                let place = vec![[x, across, height], [x, across, 0.0]];
                self.find(Rule::LidPlate, part, height, place);
                let limit = lid.open_limit(self.limit(Rule::LidPlate).wanted);
                limit.map(|limit| Degrees::from_radians(limit).0)
            }
        }
    }

    /// The strip of the ball that a shut lid leaves bare, mm, if any. It only looks ill: the rule
    /// holds nothing against it but a wish.
    fn bare_ball(
        &mut self,
        index: usize,
        eye: &LaidEye,
        lids: &LidsFit,
        which: Which,
    ) -> Option<f64> {
        let bare = lids.lid(which).map(LidFit::bare_ball)?;
        let part = wording::lid(which, &self.project.eye_name(index));
        let edge = eye.centre.y + upward(which) * lids.seat.ball_radius;
        let place = [edge, edge - upward(which) * bare];
        let place = place.map(|y| [eye.centre.x, y, lids.seat.centre_height]);
        self.find(Rule::BareBall, part, bare, place.into());
        (bare > 0.0).then_some(bare)
    }

    fn meeting(&mut self, index: usize, eye: &LaidEye, lids: &LidsFit) -> Option<f64> {
        let meeting = lids.meeting()?;
        let front = lids.seat.centre_height + lids.outer_radius;
        let (name, place) = (
            self.project.eye_name(index),
            [eye.centre.x, eye.centre.y, front],
        );
        let apart = Degrees::from_radians(meeting).0;
        self.find(Rule::LidMeeting, name.clone(), apart, vec![place]);
        if meeting < 0.0 {
            self.find(Rule::LidOverlap, name, -apart, vec![place]);
        }
        Some(meeting)
    }

    /// A ball at the upper end of its tolerance must still turn under the lids.
    fn largest_ball(&mut self, index: usize, eye: &LaidEye, lids: &LidsFit) {
        let parts = self.project.parts_of(index);
        let gap = lids.inner_radius - lids.seat.ball_radius;
        let front = lids.seat.centre_height + lids.seat.ball_radius;
        let larger = parts.ball_plus / 2.0;
        let place = [larger, gap].map(|out| [eye.centre.x, eye.centre.y, front + out]);
        let (name, left) = (self.project.eye_name(index), gap - larger);
        self.find(Rule::LidBall, name, left, place.into());
    }

    /// The rules about an eye's lugs and pivots; the gap from a lug to the lids, mm.
    fn lugs(&mut self, index: usize, eye: &LaidEye, lids: &LidsFit, lugs: &[Lug; 2]) -> f64 {
        let name = self.project.eye_name(index);
        let (right, [x, y]) = (&lugs[1], [eye.centre.x, eye.centre.y]);
        let height = right.pivot_height;
        let gap = right.inner_face() - x - lids.outer_radius;
        // The end of the outer one of two lids lies between the inner one's and the lug.
        let stacked = if lids.stacked() { lids.shell } else { 0.0 };
        let limit = self.limit(Rule::LugLidGap);
        let limit = Limit {
            least: limit.least + stacked,
            wanted: limit.wanted + stacked,
        };
        let faces = [right.inner_face(), x + lids.outer_radius];
        let place = faces.map(|x| [x, y, height]);
        let state = self.state(Rule::LugLidGap, limit, gap);
        let sentence = wording::sentence(Rule::LugLidGap, state, &name);
        let found = (state, gap, limit.wanted);
        self.push(Rule::LugLidGap, found, sentence, name.clone(), place.into());

        let boss = lids.boss_to_plate(right.hole);
        let inner = right.inner_face();
        let place = vec![[inner, y, boss], [inner, y, 0.0]];
        self.find(Rule::BossPlate, name.clone(), boss, place);

        let (room, x) = (right.hole_to_plate(), right.outer_face());
        let place = vec![[x, y, room], [x, y, 0.0]];
        self.find(Rule::PivotPlate, name.clone(), room, place);

        let (web, edge) = (right.hole_to_edge(), y + right.width / 2.0);
        let place = vec![[x, edge - web, height], [x, edge, height]];
        self.find(Rule::PivotLug, name, web, place);
        gap
    }

    /// Lugs, lids and the lids' levers inside the head. Of the lids, the whole sphere that they turn in counts: a
    /// lower bound where there is one lid only.
    fn lids_in_head(&mut self, index: usize, eye: &LaidEye, lids: &LidsFit, lugs: &[Lug; 2]) {
        let (name, wall, laid) = (self.project.eye_name(index), self.wall, self.laid);
        let height = lids.seat.centre_height;
        let of_lugs = lugs.iter().filter_map(|lug| lug.plan().room_inside(wall?));
        let of_lugs = of_lugs.reduce(Gap::or_nearer);
        let of_lids = wall.map(|wall| wall.room_around(eye.centre).grown(lids.outer_radius));
        self.find_gap(Rule::LugWall, name.clone(), of_lugs, height);
        let levers = laid.levers.iter().filter_map(LeverSweep::plan_of_bar);
        let levers = levers.filter(|(of, _)| *of == index);
        let of_levers = levers.filter_map(|(_, plan)| plan.room_inside(wall?));
        let of_levers = of_levers.reduce(Gap::or_nearer);
        let by_lever = of_levers
            .zip(of_lids)
            .is_some_and(|(a, b)| a.distance < b.distance);
        let gap = of_lids.into_iter().chain(of_levers).reduce(Gap::or_nearer);
        let say = |state, eye: &str| wording::lids_and_wall(state, eye, by_lever);
        self.find_gap_saying(Rule::LidWall, name, gap, height, say);
    }

    /// The gap between the spheres that the lids of two eyes turn in; a ball without lids counts as it
    /// is. None if neither has any.
    pub(super) fn lid_gap(&mut self, one: &LaidEye, other: &LaidEye, part: &str) -> Option<f64> {
        if one.lids.is_none() && other.lids.is_none() {
            return None;
        }
        let (gap, place) = between_spheres(lid_sphere(one)?, lid_sphere(other)?);
        self.find(Rule::LidGap, part.to_owned(), gap, place.into());
        Some(gap)
    }

    /// The gap between the lugs of two eyes, unless they share one, and between the lugs of each and
    /// the lids of the other, or its ball if it has none.
    pub(super) fn lug_gap(&mut self, one: &LaidEye, other: &LaidEye, part: &str) -> Option<f64> {
        self.lugs_and_lids(one, other, part);
        let height = one.lugs?[0].pivot_height;
        match Between::of(&one.lugs?, &other.lugs?)? {
            Between::Apart(gap) => self.find_gap(Rule::LugGap, part.to_owned(), Some(gap), height),
            Between::Shared(at) => {
                let sentence = wording::shared_lug(part);
                let wanted = self.limit(Rule::LugGap).wanted;
                let found = (State::Clear, f64::NAN, wanted);
                let place = vec![[at.x, at.y, height]];
                self.push(Rule::LugGap, found, sentence, part.to_owned(), place);
                None
            }
        }
    }

    fn lugs_and_lids(&mut self, one: &LaidEye, other: &LaidEye, part: &str) {
        let reach = |from: &LaidEye, to: &LaidEye| {
            let (lugs, (centre, radius)) = (from.lugs?, lid_sphere(to)?);
            let gaps = lugs.map(|lug| gap_to_sphere(&lug, centre, radius));
            let nearest = gaps.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
            Some((nearest, to.lids.is_some()))
        };
        let gaps = [reach(one, other), reach(other, one)];
        let nearest = gaps.into_iter().flatten();
        let nearest = nearest.min_by(|(a, _), (b, _)| a.0.total_cmp(&b.0));
        if let Some(((gap, place), has_lids)) = nearest {
            let say = |state, eyes: &str| wording::lugs_and_lids(state, eyes, has_lids);
            self.find_saying(Rule::LugLidGap, part.to_owned(), gap, place.into(), say);
        }
    }
}

/// The sphere that an eye's lids turn in, or its ball if it has none.
pub(super) fn lid_sphere(eye: &LaidEye) -> Option<(Point3<f64>, f64)> {
    let ball = eye.seat.as_ref().ok()?.ball_radius;
    let lids = eye.lids.as_ref().map(|lids| lids.outer_radius);
    Some((eye.ball_centre()?.into(), lids.unwrap_or(ball)))
}

/// The gap between a lug and a sphere, and its two places.
fn gap_to_sphere(lug: &Lug, centre: Point3<f64>, radius: f64) -> (f64, [[f64; 3]; 2]) {
    let (half, top) = (lug.width / 2.0, lug.pivot_height);
    // Not clamped: that panics where a size is no number.
    let held = |value: f64, middle: f64, half: f64| middle + (value - middle).max(-half).min(half);
    let x = held(centre.x, lug.centre.x, lug.thickness / 2.0);
    let bar = Point3::new(
        x,
        held(centre.y, lug.centre.y, half),
        held(centre.z, top / 2.0, top / 2.0),
    );
    let out = Vector3::new(0.0, centre.y - lug.centre.y, centre.z - top);
    let round = Point3::new(x, lug.centre.y, top) + out.cap_magnitude(half);
    let distance = |point: &Point3<f64>| (point - centre).norm();
    let nearest = if distance(&round) < distance(&bar) {
        round
    } else {
        bar
    };
    let toward = (nearest - centre).try_normalize(0.0);
    let on_sphere = centre + toward.unwrap_or_else(Vector3::x) * radius;
    (
        distance(&nearest) - radius,
        [nearest.into(), on_sphere.into()],
    )
}

fn upward(which: Which) -> f64 {
    match which {
        Which::Upper => 1.0,
        Which::Lower => -1.0,
    }
}

fn both(mut of: impl FnMut(Which) -> Option<f64>) -> UpperLower {
    UpperLower {
        upper: of(Which::Upper),
        lower: of(Which::Lower),
    }
}
