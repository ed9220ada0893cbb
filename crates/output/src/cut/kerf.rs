//! From the finished part to the lines that the tool's middle follows.

use layout::geometry::outline::Outline;
use layout::wording;

use super::{Contour, CutError, CutOptions, Purpose};

/// A part as it is to come out, in mm.
pub(super) struct Blank {
    /// What it is called.
    pub(super) name: &'static str,
    /// Its edge.
    pub(super) edge: Outline,
    /// What is cut out of it; holes may overlap each other and the edge.
    pub(super) holes: Vec<Hole>,
}

/// Something that is cut out of a part.
pub(super) struct Hole {
    /// What it is called.
    pub(super) name: String,
    /// Its edge.
    pub(super) edge: Outline,
}

/// What the tool follows.
pub(super) struct Shapes {
    /// Holes first, then edges.
    pub(super) contours: Vec<Contour>,
    /// Into how many pieces the part falls.
    pub(super) pieces: usize,
    /// How many pieces were left out because they are too small to be of use.
    pub(super) scraps: usize,
}

/// A piece with a smaller share of the largest one's area is scrap: it is not set free, and stays with
/// the waste. Own choice.
const SCRAP: f64 = 0.01;

/// The contours of a part: no two of them cross, whatever its holes do.
pub(super) fn contours(blank: Blank, options: &CutOptions) -> Result<Shapes, CutError> {
    let kerf = options.kerf / 2.0;
    let mut wide = Vec::with_capacity(blank.holes.len());
    for hole in blank.holes {
        let hole = widened(hole, options.hole_allowance / 2.0);
        if moved(&hole.edge, -kerf).is_empty() {
            return Err(CutError::hole_too_small(&hole.name, options.kerf));
        }
        wide.push(hole);
    }
    let (mut edges, holes) = cut_out(blank.edge, united(wide));
    let whole = edges.len();
    let largest = edges.iter().map(Outline::area).fold(0.0, f64::max);
    edges.retain(|edge| edge.area() >= SCRAP * largest);
    if edges.is_empty() {
        return Err(CutError::all_holes(blank.name));
    }
    let pieces = edges.len();

    let inside = |name: &str, outline| contour(Purpose::CutInside, name, outline);
    let mut contours = Vec::new();
    for hole in holes {
        let start = hole.edge.segments.first().map(|segment| segment.start());
        if start.is_some_and(|start| edges.iter().any(|edge| edge.contains(start))) {
            let own = moved(&hole.edge, -kerf);
            contours.extend(own.into_iter().map(|edge| inside(&hole.name, edge)));
        }
    }
    let mut outside = Vec::with_capacity(pieces);
    for edge in edges {
        if kerf == 0.0 {
            outside.push(contour(Purpose::CutOutside, blank.name, edge));
            continue;
        }
        let grown = edge.grown(kerf);
        let own = grown.edges.into_iter().take(1);
        outside.extend(own.map(|edge| contour(Purpose::CutOutside, blank.name, edge)));
        // Where the tool is wider than a notch's mouth, the notch becomes a hole.
        let name = format!("notch in the {}", blank.name);
        contours.extend(grown.holes.into_iter().map(|edge| inside(&name, edge)));
    }
    contours.extend(outside);
    Ok(Shapes {
        contours,
        pieces,
        scraps: whole - pieces,
    })
}

fn contour(purpose: Purpose, name: &str, outline: Outline) -> Contour {
    Contour {
        purpose,
        name: name.to_owned(),
        outline,
    }
}

/// A hole grown by `by`, mm.
fn widened(hole: Hole, by: f64) -> Hole {
    let edge = moved(&hole.edge, by).into_iter().next();
    Hole {
        edge: edge.unwrap_or(hole.edge),
        name: hole.name,
    }
}

/// What an edge becomes when it is moved outward by `by`, mm, without holes.
fn moved(edge: &Outline, by: f64) -> Vec<Outline> {
    if by == 0.0 {
        return vec![edge.clone()];
    }
    edge.grown(by).edges
}

/// The holes, those that overlap joined into one.
fn united(holes: Vec<Hole>) -> Vec<Hole> {
    let mut apart: Vec<Hole> = Vec::with_capacity(holes.len());
    for mut hole in holes {
        // What it takes in overlaps none of the others, so one round is enough.
        let mut others = Vec::with_capacity(apart.len() + 1);
        for other in apart {
            let mut both = hole.edge.with(&other.edge).edges;
            match (both.pop(), both.is_empty()) {
                (Some(edge), true) => {
                    let name = wording::pair(&other.name, &hole.name);
                    hole = Hole { name, edge };
                }
                _ => others.push(other),
            }
        }
        others.push(hole);
        apart = others;
    }
    apart
}

/// The edges of the pieces that are left when holes that do not overlap are cut out of a part, and the
/// holes that lie within them.
fn cut_out(edge: Outline, holes: Vec<Hole>) -> (Vec<Outline>, Vec<Hole>) {
    let (mut pieces, mut within) = (vec![edge], Vec::new());
    for hole in holes {
        let mut left = Vec::with_capacity(pieces.len());
        for piece in pieces {
            let cut = piece.without(&hole.edge);
            left.extend(cut.edges);
            within.extend(cut.holes.into_iter().map(|edge| Hole {
                name: hole.name.clone(),
                edge,
            }));
        }
        pieces = left;
    }
    (pieces, within)
}
