//! The short names by which labels, tables and dimensions mean the same thing.

/// An eye's opening, by the eye's index.
pub(super) fn eye(index: usize) -> String {
    format!("E{}", index + 1)
}

/// A tie slot, by its index.
pub(super) fn slot(index: usize) -> String {
    format!("S{}", index + 1)
}

/// An anchor hole, by its index.
pub(super) fn anchor(index: usize) -> String {
    format!("A{}", index + 1)
}

/// A rod, by its index.
pub(super) fn rod(index: usize) -> String {
    format!("R{}", index + 1)
}

/// A hole for cables that the plate has, by its index.
pub(super) fn plate_hole(index: usize) -> String {
    format!("C{}", index + 1)
}

/// A drive with its holes, by its index.
pub(super) fn drive(index: usize) -> String {
    format!("D{}", index + 1)
}
