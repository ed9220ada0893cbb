//! The dimensions of the side cut: depths above it and below.

use layout::hand::GuardAxis;

use super::Cut;
use super::parts::guard_ends;
use crate::sheet::canvas::Canvas;
use crate::sheet::dimension::{Axis, Dimension};
use crate::sheet::dimensions::Side;
use crate::sheet::style::{CENTRE_PAST, EXTENSION_GAP};

/// A depth between two places, each with the y at which its extension line begins.
struct Depth {
    name: &'static str,
    mm: f64,
    ends: [(f64, f64); 2],
}

impl Cut<'_> {
    /// Draws them, the shorter ones nearer to the cut.
    pub(super) fn measures(&self, canvas: &mut Canvas) {
        let Some(reach) = canvas.bounds() else {
            return;
        };
        for (depths, edge, up) in [
            (self.above(), reach.high.y, 1.0),
            (self.below(), reach.low.y, -1.0),
        ] {
            let mut side = Side::new(Axis::Level, edge, up);
            let mut depths = depths;
            depths.sort_by(|a, b| a.mm.total_cmp(&b.mm));
            for depth in depths {
                self.measure(canvas, &mut side, &depth, up);
            }
        }
    }

    fn measure(&self, canvas: &mut Canvas, side: &mut Side, depth: &Depth, up: f64) {
        let ends = depth.ends.map(|(place, _)| place * self.share);
        let from = depth.ends.map(|(_, y)| y * self.share + up * EXTENSION_GAP);
        let figure = format!("{} {}", depth.name, self.subject.unit.format(depth.mm));
        Dimension {
            axis: Axis::Level,
            ends,
            from,
            line: side.next_line(canvas, ends),
            figure,
        }
        .draw(canvas);
    }

    /// Plate, centre of the ball, and ring.
    fn above(&self) -> Vec<Depth> {
        let (project, figures) = (self.subject.project, &self.subject.report.figures);
        let centre = self.centre();
        let past = (CENTRE_PAST - EXTENSION_GAP) / self.share;
        let middle = (centre.x, centre.y + self.seat.ball_radius + past);
        let top = self.plate_ends().map_or(centre.y, |ends| ends[1]);
        let mut all = Vec::new();
        if self.plate_ends().is_some() {
            let mm = project.plate.thickness;
            all.push(Depth {
                name: "Plate",
                mm,
                ends: [(0.0, top), (mm, top)],
            });
        }
        let height = figures
            .eyes
            .get(self.index)
            .and_then(|own| own.centre_height_mm);
        if let Some(mm) = height.filter(|mm| *mm > 0.0) {
            let name = if self.eye.lugs.is_some() {
                "Centre and pivot height"
            } else {
                "Centre height"
            };
            all.push(Depth {
                name,
                mm,
                ends: [middle, (0.0, top)],
            });
        }
        if let Ok(ring) = &self.eye.ring {
            let [front, _, outer, back, _] = ring.profile;
            let at = |depth: f64| (centre.x + depth, centre.y + outer.radius);
            let own = &project.parts_of(self.index).ring;
            all.push(Depth {
                name: "Ring depth",
                mm: own.depth,
                ends: [middle, at(front.depth)],
            });
            let ends = [at(front.depth), at(back.depth)];
            all.push(Depth {
                name: "Ring",
                mm: own.thickness,
                ends,
            });
        }
        all
    }

    /// What stands behind the plate's back face.
    fn below(&self) -> Vec<Depth> {
        let (centre, figures) = (self.centre(), &self.subject.report.figures);
        let thickness = self.subject.project.plate.thickness;
        let bottom = self.plate_ends().map_or(centre.y, |ends| ends[0]);
        let behind = |name, mm: f64, y: f64| Depth {
            name,
            mm,
            ends: [(thickness, bottom), (thickness + mm, y)],
        };
        let mut all = Vec::new();
        if let Some(own) = figures.eyes.get(self.index) {
            if let Some(mm) = own.ball_behind_mm.filter(|mm| *mm > 0.0) {
                all.push(behind("Ball behind", mm, centre.y));
            }
            if let (Some(mm), Ok(ring)) = (own.sweep_depth_mm, &self.eye.ring) {
                let deepest = self.deepest(ring);
                let turn = (deepest.angle() - self.eye.working_tilt).max(0.0);
                let y = centre.y - deepest.reach() * turn.sin();
                all.push(behind("Sweep", mm, y));
            }
        }
        if let Some(guard) = self.guard_met() {
            let [low, high] = guard_ends(guard);
            let middle = match guard.axis {
                GuardAxis::Y => low,
                GuardAxis::X => (low + high) / 2.0,
            };
            let hand = &figures.hand;
            let guards = [
                ("Guard edge", hand.foam_edge_mm, low),
                ("Guard depth", hand.foam_middle_mm, middle),
            ];
            let known = guards
                .into_iter()
                .filter_map(|(name, mm, y)| Some((name, mm?, y)));
            all.extend(
                known
                    .filter(|own| own.1 > 0.0)
                    .map(|(name, mm, y)| behind(name, mm, y)),
            );
        }
        all
    }
}
