//! What the pointer does on the front view.

use layout::closed_curve::CurveOf;
use layout::draft::Draft;
use layout::geometry::Point;
use layout::{Edit, Problem};

use super::state::{Desk, Notice};

/// What the pointer does on the front view.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Work {
    /// It moves handles.
    #[default]
    Handles,
    /// It moves the tracing picture.
    MovePicture,
    /// It picks two places on the picture that lie a known distance apart.
    MeasurePicture(Vec<Point>),
    /// It draws a curve point by point.
    Trace(CurveOf),
}

impl Work {
    /// What the view says of it, in mirror editing or not.
    pub(crate) fn hint(&self, mirror: bool) -> Option<&'static str> {
        match self {
            Self::Handles => None,
            Self::MovePicture => Some("Drag the picture. Escape ends it."),
            Self::MeasurePicture(places) if places.len() < 2 => {
                Some("Click two places whose distance you know. Escape ends it.")
            }
            Self::MeasurePicture(_) => {
                Some("Type their distance at the right. Another click starts again.")
            }
            Self::Trace(_) if mirror => Some(
                "Click from point to point along one half, from the centre line back to it: the other half is \
                 mirrored. Enter closes the outline, Backspace takes a point back, Escape leaves off.",
            ),
            Self::Trace(_) => Some(
                "Click from point to point round the whole outline. Enter closes it, Backspace takes a point back, \
                 Escape leaves off.",
            ),
        }
    }
}

impl Desk {
    /// The points of `curve` that are drawn so far, if it is not closed yet.
    pub(crate) fn draft(&self, curve: CurveOf) -> Option<&Draft> {
        let draft = self.project().draft.as_ref();
        draft.filter(|draft| draft.curve == curve && !draft.points.is_empty())
    }

    /// Sets the next point of a curve that is drawn: one undo step.
    pub(crate) fn draw_point(&mut self, curve: CurveOf, at: [f64; 2]) {
        let mut points = self
            .draft(curve)
            .map_or_else(Vec::new, |draft| draft.points.clone());
        points.push(at);
        // The notice tells what stands in the way.
        let _told = self.apply(&Edit::Draft(Some(Draft { curve, points })));
    }

    /// Takes the last point of a curve that is drawn back.
    pub(crate) fn take_point_back(&mut self, curve: CurveOf) {
        let Some(mut draft) = self.draft(curve).cloned() else {
            return;
        };
        draft.points.pop();
        let left = Some(draft).filter(|draft| !draft.points.is_empty());
        let _told = self.apply(&Edit::Draft(left));
    }

    /// Closes the curve that is drawn: with its mirror image in mirror editing. A curve that no
    /// plate can be laid out from is refused, and its points stay.
    ///
    /// # Errors
    /// The [`Problem`] that the notice tells.
    pub(crate) fn close_draft(&mut self, curve: CurveOf) -> Result<(), Problem> {
        let mirrored = self.mirror;
        if self.draft(curve).is_none() {
            return Ok(());
        }
        let closed = self.apply(&Edit::CloseDraft { mirrored });
        match &closed {
            Ok(()) => self.work = Work::Handles,
            Err(problem) if mirrored => {
                self.notice = Some(Notice::trouble(format!(
                    "{problem} While the pair is mirrored, draw one half only."
                )));
            }
            Err(_) => {}
        }
        closed
    }

    /// Starts another work with the pointer.
    pub(crate) fn start_work(&mut self, work: Work) {
        self.notice = None;
        self.end_work();
        self.work = work;
    }

    /// Ends what the pointer does, and says where points stay that are not closed.
    pub(crate) fn end_work(&mut self) {
        if let Work::Trace(curve) = std::mem::take(&mut self.work)
            && let Some(draft) = self.draft(curve)
        {
            let points = match draft.points.len() {
                1 => "1 point".to_owned(),
                count => format!("{count} points"),
            };
            self.notice = Some(Notice::good(format!(
                "The {} on its way keeps its {points}: \u{201c}{GO_ON}\u{201d} takes them up again.",
                curve.noun()
            )));
        }
    }
}

/// The button that takes up a curve that was left off.
pub(crate) const GO_ON: &str = "Go on drawing";
