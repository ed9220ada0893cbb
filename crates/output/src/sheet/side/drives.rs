//! The drives of the eye in the side cut: lever, cable line, stop and sheath as they are seen along x.

use layout::geometry::hull::Disc;
use layout::geometry::space::Place;
use layout::geometry::{Point, Vector};
use layout::laid_drive::LaidDrive;
use layout::pull::Pull;

use super::Cut;
use crate::drawing::{Bounds, Layer, LineType, Stroke};
use crate::sheet::cables;
use crate::sheet::canvas::{Canvas, bounds_of};
use crate::sheet::scene;
use crate::sheet::style::WIDE;
use crate::sheet::view::SAME;

/// How far a stop's bar reaches across the cable line, in diameters of the sheath: a little past the
/// sheath on both sides. Own choice.
const STOP_BAR: f64 = 2.0;

impl Cut<'_> {
    /// Draws them as far as the head reaches; what is left out of them lies beside it in the top view,
    /// too. Gives the index of each, and the place that its name belongs to.
    pub(super) fn drives(&self, canvas: &mut Canvas) -> Vec<(usize, Disc)> {
        let Some(within) = canvas.bounds().map(|own| own.with(self.head())) else {
            return Vec::new();
        };
        let (project, laid) = (self.subject.project, self.subject.laid);
        let all = project.drives.iter().zip(&laid.drives).enumerate();
        let own = all.filter(|(_, (drive, _))| drive.moves.eye() == self.index);
        let named = own.filter_map(|(index, (_, drive))| {
            let pull = drive.pull.as_ref().ok()?;
            Some((index, self.drive(canvas, &within, drive, pull)?))
        });
        named.collect()
    }

    /// One drive, its lever at the end nearest the sheath; None if nothing of it is in view. Its name
    /// belongs to its stop, or to what the view shows that is nearest to it.
    fn drive(
        &self,
        canvas: &mut Canvas,
        within: &Bounds,
        drive: &LaidDrive,
        pull: &Pull,
    ) -> Option<Disc> {
        let shown = |place: Place| self.at(-place.z, place.y);
        let lever = [pull.lever_root(), pull.near].map(shown);
        let cable = [pull.far, pull.stop].map(shown);
        let sheath = scene::sheath(drive, shown);
        for places in [&lever[..], &cable, &sheath] {
            cables::line(canvas, within, places);
        }
        cables::tip(canvas, within, lever[1]);
        let [far, stop] = cable;
        let along = (stop - far).try_normalize(SAME).unwrap_or_else(Vector::x);
        let half = STOP_BAR * drive.sheath_radius * self.share;
        let across = Vector::new(-along.y, along.x) * half;
        let ends = [stop - across, stop + across];
        if within.holds(&bounds_of(ends)) {
            let [start, end] = ends;
            let line = LineType::Continuous;
            canvas.stroke(Stroke::line(start, end, line, WIDE, Layer::Drive));
            return Some(Disc {
                centre: stop,
                radius: half,
            });
        }
        let mut others = sheath.iter().chain(cable.iter().rev()).chain(&lever);
        let at = others.find(|at| within.holds(&bounds_of([**at])))?;
        Some(Disc {
            centre: *at,
            radius: 0.0,
        })
    }

    /// The head from its lowest to its highest place at the plate, and as deep as it is hollow before the
    /// plate and behind it.
    fn head(&self) -> Bounds {
        let wall = bounds_of(self.subject.laid.wall.iter().copied());
        let depth = self.subject.project.head.cavity_depth;
        let corners: [Point; 2] = [self.at(-depth, wall.low.y), self.at(depth, wall.high.y)];
        bounds_of(corners)
    }
}
