//! How long a tie must be.

use crate::project::Project;
use crate::tie::TieSlot;

/// Lengths that cable ties are sold in, mm. Common practice, no source.
pub const USUAL: [f64; 11] = [
    80.0, 100.0, 120.0, 150.0, 200.0, 250.0, 300.0, 370.0, 450.0, 550.0, 750.0,
];

/// What a tie must be longer than its loop, mm: its head, and a tail that pliers still grip. Own choice.
pub const HEAD_AND_TAIL: f64 = 35.0;

/// How long one tie must be. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TieLength {
    /// From the middle of the slot to that of its anchor hole, in the plate's plane.
    pub run: f64,
    /// There and back through plate and wall, with head and tail.
    pub needed: f64,
    /// The shortest of [`USUAL`] that is as long; None if even the longest is not.
    pub usual: Option<f64>,
}

impl TieLength {
    /// The length of the tie in `slot`; None if it runs to no anchor hole.
    pub fn of(project: &Project, slot: &TieSlot) -> Option<Self> {
        let hole = project.head.anchor_holes.get(slot.anchor?)?;
        let run = (hole.at[0] - slot.at[0]).hypot(hole.at[1] - slot.at[1]);
        let once = run + project.plate.thickness + project.head.wall_thickness;
        let needed = 2.0 * once + HEAD_AND_TAIL;
        Some(Self {
            run,
            needed,
            usual: USUAL.into_iter().find(|&usual| usual >= needed),
        })
    }
}
