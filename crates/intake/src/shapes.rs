//! The closed shapes of a drawing.

use kurbo::Rect;
use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Line, Segment};
use layout::geometry::{Point, Vector, polygon};

use crate::crossing::{self, Crossing};
use crate::curve::{Curve, Drawing};
use crate::{IntakeError, arcs, chain};

/// Most shapes that are offered: a picture traced by a program has thousands of specks.
const MOST_SHAPES: usize = 100;

/// Most corners that a shape may have once it is flattened; whether more of them cross is too long a
/// question.
const MOST_CORNERS: usize = 10_000;

/// Most pairs of edges that are looked at for crossings in a file: about a second's work.
const MOST_PAIRS: usize = 10_000_000;

/// What is smaller has no size, in the drawing's units.
const SMALLEST: f64 = 1e-6;

/// Width of a head, mm, that the shares below are meant for.
const HEAD: f64 = 250.0;

/// How far ends may lie apart that are meant to meet, as a share of the drawing's width or height: 0.025
/// mm in a drawing of a head.
const MEETS: f64 = 1e-4;

/// How far an arc or a flattened curve may stray from what was drawn, as a share of the shape's width or
/// height: 0.005 mm of a head.
const STRAYS: f64 = 2e-5;

/// A closed shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Its outline as lines and arcs, counter-clockwise, y up.
    pub outline: Outline,
    /// The name that its file gives it: the id of its element or group, or its layer.
    pub name: Option<String>,
    /// Where it crosses or touches itself, if it does. It is no outline then, but can be shown.
    pub crosses_at: Option<Point>,
}

/// What was found in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Its closed shapes, the largest area first; at least one.
    pub shapes: Vec<Shape>,
    /// Millimetres of one of the drawing's units; None if the file does not say.
    pub unit: Option<f64>,
    /// The shape to start with: the largest, but for a rectangle as large as the page that lies under
    /// the others.
    pub preferred: usize,
    /// What was left out, a sentence for each.
    pub notes: Vec<String>,
}

impl Shape {
    /// The shape enlarged about the drawing's origin.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        self.mapped(by, Vector::zeros())
    }

    /// The shape moved so that the middle of the box around it lies at the origin.
    #[must_use]
    pub fn centred(&self) -> Self {
        let [low, high] = self.outline.bounds().unwrap_or_default();
        self.mapped(1.0, -middle(low, high))
    }

    fn mapped(&self, by: f64, shift: Vector) -> Self {
        let point = |p: Point| p * by + shift;
        Self {
            outline: mapped(&self.outline, by, shift),
            name: self.name.clone(),
            crosses_at: self.crosses_at.map(point),
        }
    }
}

fn middle(low: Point, high: Point) -> Vector {
    (low.coords + high.coords) / 2.0
}

fn mapped(outline: &Outline, by: f64, shift: Vector) -> Outline {
    let point = |p: Point| p * by + shift;
    let segments = outline.segments.iter().map(|segment| match *segment {
        Segment::Line(line) => Segment::Line(Line {
            start: point(line.start),
            end: point(line.end),
        }),
        Segment::Arc(arc) => Segment::Arc(Arc {
            centre: point(arc.centre),
            radius: arc.radius * by,
            ..arc
        }),
    });
    Outline {
        segments: segments.collect(),
    }
}

/// The closed shapes of a drawing, the largest first.
pub(crate) fn find(drawing: Drawing) -> Result<Found, IntakeError> {
    let (unit, mut notes) = (drawing.unit, drawing.notes);
    let boxes = drawing.curves.iter().map(Curve::bounds);
    let Some(bounds) = boxes.reduce(|a, b| a.union(b)) else {
        return Err(IntakeError::nothing_drawn(&notes));
    };
    let size = extent(bounds);
    if size < SMALLEST {
        return Err(IntakeError::no_size());
    }
    let (mut closed, open) = sorted_out(drawing.curves, MEETS * size);
    closed.sort_by(|a, b| b.area().abs().total_cmp(&a.area().abs()));
    if closed.len() > MOST_SHAPES {
        notes.push(format!(
            "The file has {} closed shapes; the {MOST_SHAPES} largest are offered.",
            closed.len()
        ));
        closed.truncate(MOST_SHAPES);
    }
    let (mut shapes, mut flat, mut fine) = (Vec::new(), 0, 0);
    let mut looks = MOST_PAIRS;
    for curve in closed {
        match shape(curve, size, &mut looks) {
            Made::Shape(shape) => shapes.push(shape),
            Made::Flat => flat += 1,
            Made::TooFine => fine += 1,
        }
    }
    if shapes.is_empty() {
        return Err(match widest(&open) {
            _ if fine > 0 => IntakeError::too_many_points(MOST_CORNERS),
            Some(open) => IntakeError::open(open, bounds, unit),
            None if flat > 0 => IntakeError::no_size(),
            None => IntakeError::nothing_drawn(&notes),
        });
    }
    notes.extend(left_out(open.len(), "open path", "open paths"));
    notes.extend(left_out(
        flat,
        "shape without an area",
        "shapes without an area",
    ));
    notes.extend(left_out(
        fine,
        "shape with too many points",
        "shapes with too many points",
    ));
    let is_ground = |shape: &Shape| drawing.page.is_some_and(|page| covers(shape, page));
    let preferred = shapes.iter().position(|shape| !is_ground(shape));
    Ok(Found {
        preferred: preferred.unwrap_or_default(),
        shapes,
        unit,
        notes,
    })
}

/// Whether a shape is the rectangle of a page.
fn covers(shape: &Shape, page: Rect) -> bool {
    /// How far the sides may lie apart, as a share of the page's.
    const ROUNDING: f64 = 1e-3;
    let Some([low, high]) = shape.outline.bounds() else {
        return false;
    };
    let off = [
        low.x - page.x0,
        low.y - page.y0,
        high.x - page.x1,
        high.y - page.y1,
    ];
    let most = ROUNDING * extent(page);
    let square = shape.outline.area() >= (1.0 - ROUNDING) * page.area();
    square && off.iter().all(|off| off.abs() <= most)
}

/// The closed curves, and those that stay open when all that meet are joined.
fn sorted_out(curves: Vec<Curve>, tolerance: f64) -> (Vec<Curve>, Vec<Curve>) {
    let (mut closed, mut open) = (Vec::new(), Vec::new());
    for mut curve in curves {
        let meets = curve.gap() <= tolerance && extent(curve.bounds()) > tolerance;
        if curve.closed || meets {
            curve.close(tolerance);
            closed.push(curve);
        } else {
            open.push(curve);
        }
    }
    let (joined, open): (Vec<Curve>, Vec<Curve>) = chain::join(open, tolerance)
        .into_iter()
        .partition(|curve| curve.closed);
    closed.extend(joined);
    (closed, open)
}

/// Why a closed curve is a shape, or none.
enum Made {
    Shape(Shape),
    /// It has no area.
    Flat,
    /// It has too many corners.
    TooFine,
}

/// Makes a closed curve a shape. `whole` is the size of the drawing, and `looks` how many pairs of edges
/// may still be looked at.
fn shape(curve: Curve, whole: f64, looks: &mut usize) -> Made {
    /// Share of the square around a shape below which its area is rounding.
    const NO_AREA: f64 = 1e-9;
    let size = extent(curve.bounds());
    if size <= NO_AREA * whole {
        return Made::Flat;
    }
    // Specks need not be finer than a tenth of what the drawing needs.
    let tolerance = STRAYS * size.max(whole / 10.0);
    let outline = arcs::outline(&curve, tolerance);
    // Flattening is made for heads.
    let corners = mapped(&outline, HEAD / size, Vector::zeros()).flattened();
    if corners.len() > MOST_CORNERS {
        return Made::TooFine;
    }
    let crosses_at = match crossing::find(&corners, looks) {
        Crossing::Nowhere => None,
        Crossing::At(at) => Some(at * (size / HEAD)),
        Crossing::TooFine => return Made::TooFine,
    };
    let flat = corners.len() < 3 || outline.area() <= NO_AREA * size * size;
    if flat && (crosses_at.is_none() || is_thin(&corners)) {
        return Made::Flat;
    }
    Made::Shape(Shape {
        outline,
        name: curve.name,
        crosses_at,
    })
}

/// Whether all corners lie in a line.
fn is_thin(corners: &[Point]) -> bool {
    let hull = polygon::convex_hull(corners);
    polygon::area(&hull) <= 1e-9 * HEAD * HEAD
}

/// The open curve that reaches farthest.
fn widest(open: &[Curve]) -> Option<&Curve> {
    let size = |curve: &&Curve| extent(curve.bounds());
    open.iter().max_by(|a, b| size(a).total_cmp(&size(b)))
}

/// The larger of width and height.
fn extent(bounds: Rect) -> f64 {
    bounds.width().max(bounds.height())
}

/// A sentence that says how many were left out.
pub(crate) fn left_out(count: usize, one: &str, several: &str) -> Option<String> {
    match count {
        0 => None,
        1 => Some(format!("One {one} was left out.")),
        _ => Some(format!("{count} {several} were left out.")),
    }
}
