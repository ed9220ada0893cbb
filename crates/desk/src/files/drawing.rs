//! Outlines from drawing files, SVG and DXF.

use std::path::Path;

use intake::{Format, Found, IntakeError, Shape, Unit};
use layout::Edit;
use layout::closed_curve::CurveOf;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::{Point, Vector};

use super::disk::{Wanted, bytes_of};
use super::error::FileError;

/// Most corners that an outline from a drawing keeps: half a millimetre apart on a small head, and
/// still to be dragged one by one.
pub const MOST_CORNERS: usize = 400;

/// Sizes that a drawn head or plate is likely to have, mm; they tell which unit was meant.
const LIKELY: std::ops::RangeInclusive<f64> = 50.0..=500.0;

const DRAWING: Wanted = Wanted {
    what: "an SVG or DXF file",
    smaller: "Save the outline alone, without pictures, into a file of its own.",
};

/// The closed shapes of a drawing file.
///
/// # Errors
/// A [`FileError`] that names the file and says what would help.
pub fn read(path: &Path) -> Result<Found, FileError> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let Some(format) = Format::of(&name) else {
        return Err(FileError::new(
            format!("`{}` is named neither `.svg` nor `.dxf`.", path.display()),
            format!("Name {}.", DRAWING.what),
        ));
    };
    let bytes = bytes_of(path, intake::MOST_BYTES as u64, &DRAWING)?;
    intake::read(&bytes, format).map_err(|error| from_intake(&error).in_file(path))
}

/// The change that makes a shape, mm, a curve of the project: the middle of its box comes to lie where
/// that of the old outline's is.
///
/// # Errors
/// A [`FileError`] if the shape cannot be one, such as one that crosses itself.
pub fn edit(curve: CurveOf, shape: &Shape, old: &Outline) -> Result<Edit, FileError> {
    let [low, high] = old.bounds().unwrap_or_default();
    let middle = nalgebra::center(&low, &high);
    let corners = corners(shape)?;
    let at = |[x, y]: [f64; 2]| (middle + Vector::new(x, y)).into();
    Ok(Edit::Outline {
        curve,
        points: corners.into_iter().map(at).collect(),
        smooth: false,
    })
}

/// The corners of a shape, mm, about the middle of its box, counter-clockwise.
///
/// # Errors
/// As [`edit`] has them.
pub fn corners(shape: &Shape) -> Result<Vec<[f64; 2]>, FileError> {
    let corners = shape.centred().points(MOST_CORNERS);
    corners.map_err(|error| from_intake(&error))
}

/// The circles inside shape `index`, mm, the largest first, in the frame of [`corners`]; `mm` is the length of the
/// drawing's unit.
pub fn holes(found: &Found, index: usize, mm: f64) -> Vec<Disc> {
    let bounds = found.shapes.get(index).and_then(|s| s.outline.bounds());
    let [low, high] = bounds.unwrap_or_default();
    let middle = nalgebra::center(&low, &high);
    let circles = found.circles_inside(index).into_iter();
    let moved = circles.map(|circle| Disc {
        centre: Point::from((circle.centre - middle) * mm),
        radius: circle.radius * mm,
    });
    moved.collect()
}

/// The unit that makes the preferred shape as large as a head or a plate; millimetres if none does.
pub fn likely_unit(found: &Found) -> Unit {
    let size = found.shapes.get(found.preferred).map_or(0.0, |shape| {
        let [width, height] = size(shape);
        width.max(height)
    });
    let likely = |unit: &Unit| LIKELY.contains(&(size * unit.mm()));
    let mut units = Unit::ALL.into_iter();
    units.find(likely).unwrap_or(Unit::Millimetre)
}

/// Width and height of a shape, in its own unit.
pub fn size(shape: &Shape) -> [f64; 2] {
    let bounds = shape.outline.bounds();
    bounds.map_or([0.0; 2], |[low, high]| (high - low).into())
}

/// What a shape is called: its number, and its own name where it has one.
pub fn shape_name(found: &Found, index: usize) -> String {
    let number = index + 1;
    let name = found.shapes.get(index).and_then(|s| s.name.as_deref());
    name.map_or_else(
        || format!("shape {number}"),
        |name| format!("shape {number} ({name})"),
    )
}

fn from_intake(error: &IntakeError) -> FileError {
    FileError::new(error.to_string(), error.remedy())
}
