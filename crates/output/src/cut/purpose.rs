//! What a line of a cut file is for.

/// What a line is for. Each purpose is a layer of its own, so that a cutter can be told what to do
/// with it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Purpose {
    /// Drawn or engraved, not cut.
    Mark,
    /// Cut first: the edge of what falls out of the part.
    CutInside,
    /// Cut last: the edge that sets the part free.
    CutOutside,
    /// Only for reading.
    Read,
}

impl Purpose {
    /// Every purpose, in the order of the work.
    pub const ALL: [Self; 4] = [Self::Mark, Self::CutInside, Self::CutOutside, Self::Read];

    /// Its name: the id of a group in SVG, a layer in DXF.
    pub fn name(self) -> &'static str {
        match self {
            Self::Mark => "mark",
            Self::CutInside => "cut-inside",
            Self::CutOutside => "cut-outside",
            Self::Read => "read",
        }
    }

    /// What to do with it.
    pub(super) fn says(self) -> &'static str {
        match self {
            Self::Mark => "draw or engrave",
            Self::CutInside => "cut first",
            Self::CutOutside => "cut last",
            Self::Read => "leave",
        }
    }

    /// Its colour as red, green and blue.
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Self::Mark => [255, 0, 255],
            Self::CutInside => [0, 0, 255],
            Self::CutOutside => [255, 0, 0],
            Self::Read => [128, 128, 128],
        }
    }

    /// The same colour by its number in DXF's index of colours (from memory: 1 red, 5 blue, 6 magenta,
    /// 8 dark grey).
    pub(crate) fn index(self) -> u8 {
        match self {
            Self::Mark => 6,
            Self::CutInside => 5,
            Self::CutOutside => 1,
            Self::Read => 8,
        }
    }
}
