//! Solids: closed bodies of triangles, built once for every three-dimensional writer.
//!
//! Millimetres. A solid lies as it prints best: it rests on z = 0 and, apart from lids, nothing of it
//! overhangs. x and y are the plate's own for the plate; a ring stands about the z axis.

mod chords;
mod error;
mod fit_gauge;
mod kind;
mod lever;
mod lid;
mod lug;
pub mod mesh;
mod plate;
mod ring;
mod section;
pub mod slab;

use layout::problem::{self, Problem};
use layout::{Laid, Project};

pub use error::SolidError;
pub use fit_gauge::{FitGauge, GaugeRow, STEPS, Tried, fit_gauge};
pub use lever::{levers, without_lever};
pub use lid::lids;
pub use lug::lugs;
pub use mesh::Mesh;
pub use plate::plate;
pub use ring::rings;
pub use slab::{Hole, Slab, Wall};

/// One part to be printed. Only this module makes one, so that every one is closed and faces outward.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    name: String,
    count: usize,
    mesh: Mesh,
}

impl Solid {
    /// What the part is called, such as `plate` or `ring for eye 2`.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How many of it one character needs.
    pub fn count(&self) -> usize {
        self.count
    }

    /// Its surface.
    pub fn mesh(&self) -> &Mesh {
        &self.mesh
    }
}

/// How solids are made. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolidOptions {
    /// How far a flat facet may lie from the true surface, on either side.
    pub chord_error: f64,
    /// Room for glue between the ball and its ring, or the foot of its lever, measured along the ball's
    /// radius.
    pub glue_gap: f64,
    /// By how much printed holes come out smaller, in diameter. Every layer of every opening, slot,
    /// hole and bore is made wider by it.
    pub hole_allowance: f64,
}

impl SolidOptions {
    /// A fifth of the finest layer that is usually printed; own choice.
    pub const CHORD_ERROR: f64 = 0.02;

    /// A thin film of glue; own choice.
    pub const GLUE_GAP: f64 = 0.1;

    /// Whether solids can be made this way.
    ///
    /// # Errors
    /// A [`Problem`] with the first option that is out of its range.
    pub fn check(&self) -> Result<(), Problem> {
        // Finer, a file that holds single precision no longer tells the corners apart; coarser, a
        // facet is off by more than a printer's nozzle is wide.
        problem::within("chord_error", self.chord_error, 0.005..=0.5, "mm")?;
        problem::within("glue_gap", self.glue_gap, 0.0..=2.0, "mm")?;
        problem::within("hole_allowance", self.hole_allowance, 0.0..=2.0, "mm")
    }
}

impl Default for SolidOptions {
    fn default() -> Self {
        Self {
            chord_error: Self::CHORD_ERROR,
            glue_gap: Self::GLUE_GAP,
            hole_allowance: 0.0,
        }
    }
}

/// Everything of a project that is printed: the plate, then rings, lids, lugs and levers.
///
/// # Errors
/// As [`plate`], [`rings`], [`lids`], [`lugs`] and [`levers`].
pub fn solids(
    project: &Project,
    laid: &Laid,
    options: &SolidOptions,
) -> Result<Vec<Solid>, SolidError> {
    let mut solids = vec![plate(project, laid, options)?];
    for parts in [rings, lids, lugs, levers] {
        solids.extend(parts(project, laid, options)?);
    }
    Ok(solids)
}
