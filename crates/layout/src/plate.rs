//! The plate and its outline.

use serde::{Deserialize, Serialize};

use crate::geometry::Point;
use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::geometry::polygon;
use crate::problem::{self, Problem};

/// The base plate. Lengths in mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plate {
    /// Thickness t.
    pub thickness: f64,
    /// Width of the rim that a band leaves around each opening.
    pub rim: f64,
    /// How the outline is drawn.
    pub outline: PlateOutline,
    /// Whether the outline is cut to the head outline moved inward by the fit clearance.
    pub trim_to_head: bool,
}

/// The style of a plate's outline.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum PlateOutline {
    /// The hull of all discs of radius opening + rim, and of all pads under slots.
    Band,
    /// The head outline moved inward by the fit clearance and cut to a range of y, joined with the
    /// pads under slots.
    HeadInset {
        /// Lower end of the range, mm.
        bottom: f64,
        /// Upper end of the range, mm.
        top: f64,
    },
}

/// What a plate outline is laid around.
pub(crate) struct Surroundings<'a> {
    /// The openings at the front face, where they are widest.
    pub(crate) openings: &'a [Disc],
    /// The discs of each slot's pad.
    pub(crate) pads: &'a [[Disc; 4]],
    /// The inside wall of the head.
    pub(crate) wall: &'a [Point],
    /// How far the plate should stay off the wall, mm.
    pub(crate) fit_clearance: f64,
}

impl Plate {
    /// Lays the outline; empty when there is nothing to lay it around.
    pub(crate) fn lay_out(&self, around: &Surroundings<'_>) -> Outline {
        let inset = || inset(around);
        let outline = match self.outline {
            PlateOutline::Band => Outline::hull(&self.band_discs(around)),
            PlateOutline::HeadInset { bottom, top } => {
                let pads = around.pads.iter().map(|pad| Outline::hull(pad));
                pads.fold(inset().between(bottom, top), |outline, pad| {
                    outline.joined(&pad)
                })
            }
        };
        if self.trim_to_head {
            outline.common(&inset())
        } else {
            outline
        }
    }

    fn band_discs(&self, around: &Surroundings<'_>) -> Vec<Disc> {
        let rims = around.openings.iter().map(|opening| Disc {
            radius: opening.radius + self.rim,
            ..*opening
        });
        rims.chain(around.pads.iter().flatten().copied()).collect()
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        problem::size(&format!("{at}.thickness"), self.thickness)?;
        problem::size_or_none(&format!("{at}.rim"), self.rim)?;
        if let PlateOutline::HeadInset { bottom, top } = self.outline {
            problem::place(&format!("{at}.outline.bottom"), [bottom])?;
            problem::place(&format!("{at}.outline.top"), [top])?;
            if bottom >= top {
                return Err(Problem::new(
                    format!("{at}.outline.bottom"),
                    format!(
                        "The plate's range ends at {top} mm, not above its start at {bottom} mm."
                    ),
                    "Use an upper end above the lower one.",
                ));
            }
        }
        Ok(())
    }
}

/// The wall moved inward by the fit clearance; empty in a wall that crosses itself, where inside
/// means nothing.
fn inset(around: &Surroundings<'_>) -> Outline {
    if polygon::self_crossing(around.wall).is_some() {
        return Outline::default();
    }
    Outline::polygon(around.wall).inset(around.fit_clearance)
}
