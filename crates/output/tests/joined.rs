//! A sheet of several pages, taken apart: which part of the plate's frame each page shows.

use layout::geometry::segment::Segment;
use layout::geometry::{Point, Vector, polygon};
use output::drawing::{Bounds, Drawing, Layer, Stroke};
use output::sheet::{OVERLAP, PaperChoice, SheetOptions};
use output::{LengthUnit, Seen};

use crate::projects::{Case, demo, options};

/// A page with a piece of the view.
pub(crate) struct Piece {
    pub(crate) page: Drawing,
    /// The box that the piece fills, on the page.
    pub(crate) window: Bounds,
    /// Row from the top and column from the left, from 1, as the page says.
    pub(crate) place: [i32; 2],
    /// From the view's frame to the page.
    pub(crate) offset: Vector,
}

/// A4, either way round, seen from a side.
pub(crate) fn on_a4(seen: Seen) -> SheetOptions {
    SheetOptions {
        paper: PaperChoice::A4,
        seen,
        ..options(LengthUnit::Millimetre)
    }
}

/// A demo stretched across and up. The parts keep their sizes.
pub(crate) fn stretched(name: &str, [across, up]: [f64; 2]) -> Case {
    let mut project = demo(name).project;
    let stretch = |at: &mut [f64; 2]| *at = [at[0] * across, at[1] * up];
    project.head.outline.iter_mut().for_each(stretch);
    project
        .head
        .anchor_holes
        .iter_mut()
        .for_each(|hole| stretch(&mut hole.at));
    project
        .ties
        .iter_mut()
        .for_each(|slot| stretch(&mut slot.at));
    project
        .eyes
        .iter_mut()
        .for_each(|eye| stretch(&mut eye.centre));
    project.drives.clear();
    project.check().unwrap();
    Case::of(format!("{name} stretched"), project)
}

/// The piece that a page shows; None if it shows none.
fn place(page: &Drawing) -> Option<[i32; 2]> {
    let rows = page.texts.iter().filter_map(|text| {
        let (row, column) = text.text.strip_prefix("Row ")?.split_once(", column ")?;
        Some([row.parse().unwrap(), column.parse().unwrap()])
    });
    let all: Vec<_> = rows.collect();
    assert!(all.len() <= 1);
    all.first().copied()
}

/// The box of the edge that is drawn around a page's piece.
fn window(page: &Drawing) -> Bounds {
    let edges = page
        .strokes
        .iter()
        .filter(|stroke| stroke.layer == Layer::Sheet && stroke.closed && stroke.width < 0.3);
    let area = |own: &Bounds| own.size()[0] * own.size()[1];
    let boxes = edges.map(|edge| edge.bounds().unwrap().grown(-edge.width / 2.0));
    boxes.max_by(|a, b| area(a).total_cmp(&area(b))).unwrap()
}

/// Places on everything that is cut and on the head, half a millimetre apart, in the view's frame.
pub(crate) fn shape(case: &Case, seen: Seen) -> Vec<Point> {
    let mut lines: Vec<Vec<Point>> = vec![case.laid.wall.clone(), case.laid.plate.flattened()];
    lines.extend(case.laid.slots.iter().map(|slot| slot.flattened()));
    let mut points: Vec<Point> = lines
        .iter()
        .flat_map(|line| polygon::edges(line))
        .flat_map(|edge| {
            let along = edge.end - edge.start;
            let steps = (along.norm() / 0.5).ceil().max(1.0) as usize;
            (0..steps).map(move |step| edge.start + along * (step as f64 / steps as f64))
        })
        .collect();
    let mut circle = |centre: Point, radius: f64| {
        points.extend((0..360).map(|degree| {
            let angle = f64::from(degree).to_radians();
            centre + Vector::new(angle.cos(), angle.sin()) * radius
        }));
    };
    for eye in &case.laid.eyes {
        if let Ok(seat) = &eye.seat {
            let near = match seen {
                Seen::Front => seat.opening_front,
                Seen::Back => seat.opening_back,
            };
            circle(eye.centre, near);
        }
    }
    for hole in &case.project.head.anchor_holes {
        circle(hole.at.into(), hole.diameter / 2.0);
    }
    let side = match seen {
        Seen::Front => 1.0,
        Seen::Back => -1.0,
    };
    points
        .iter()
        .map(|at| Point::new(side * at.x, at.y))
        .collect()
}

/// Whether a page's lines of the plate or the head pass a place on it, to a fiftieth of a millimetre.
pub(crate) fn shows(strokes: &[Vec<Point>], at: Point) -> bool {
    const NEAR: f64 = 0.02;
    strokes.iter().any(|points| {
        points.windows(2).any(|pair| {
            let (start, along) = (pair[0], pair[1] - pair[0]);
            let share = (at - start).dot(&along) / along.norm_squared().max(1e-12);
            (start + along * share.clamp(0.0, 1.0) - at).norm() < NEAR
        })
    })
}

/// The lines of the plate and the head on a page, as corners.
pub(crate) fn lines(page: &Drawing) -> Vec<Vec<Point>> {
    let own = |stroke: &&Stroke| matches!(stroke.layer, Layer::Plate | Layer::Head);
    page.strokes
        .iter()
        .filter(own)
        .map(|stroke| {
            let mut points = stroke.flattened();
            if stroke.closed {
                points.push(points[0]);
            }
            points
        })
        .collect()
}

/// The pieces of a sheet. The offset of the first is found from an opening on any page: one of its
/// circles must make the whole shape appear; those of the others follow from their rows and columns.
pub(crate) fn pieces(case: &Case, pages: &[Drawing], seen: Seen) -> Vec<Piece> {
    let placed: Vec<(&Drawing, [i32; 2])> = pages
        .iter()
        .filter_map(|page| Some((page, place(page)?)))
        .collect();
    let size = window(placed[0].0).size();
    let pitch = size.map(|side| side - OVERLAP);
    let first = case.laid.eyes[0].centre;
    let first = match seen {
        Seen::Front => first,
        Seen::Back => Point::new(-first.x, first.y),
    };
    let points = shape(case, seen);
    let mut least = (usize::MAX, String::new());
    for (page, [row, column]) in &placed {
        for arc in wide_arcs(page) {
            let here = arc - first;
            let all: Vec<Piece> = placed
                .iter()
                .map(|(other, [r, c])| {
                    let right = f64::from(c - column) * pitch[0];
                    let down = f64::from(r - row) * pitch[1];
                    Piece {
                        page: (*other).clone(),
                        window: window(other),
                        place: [*r, *c],
                        offset: here + Vector::new(-right, down),
                    }
                })
                .collect();
            match missing(&points, &all).as_slice() {
                [] => return all,
                some => least = least.min((some.len(), format!("{some:?}"))),
            }
        }
    }
    let (count, places) = least;
    panic!("{}: {count} places are on no page: {places}", case.name);
}

/// Those of some places of the view's frame that no page shows.
fn missing(points: &[Point], pieces: &[Piece]) -> Vec<Point> {
    let all: Vec<(&Piece, Vec<Vec<Point>>)> = pieces
        .iter()
        .map(|piece| (piece, lines(&piece.page)))
        .collect();
    let is_shown = |at: &&Point| {
        all.iter().any(|(piece, lines)| {
            let there = **at + piece.offset;
            let own = Bounds {
                low: there,
                high: there,
            };
            // A text of the view interrupts the line of a straight head.
            let mut texts = piece.page.texts.iter();
            piece.window.grown(0.01).holds(&own)
                && (shows(lines, there) || texts.any(|text| text.bounds().grown(0.6).holds(&own)))
        })
    };
    points.iter().filter(|at| !is_shown(at)).copied().collect()
}

/// Centres of the wide arcs of a page.
fn wide_arcs(page: &Drawing) -> Vec<Point> {
    let wide = page
        .strokes
        .iter()
        .filter(|stroke| stroke.layer == Layer::Plate && stroke.width > 0.4);
    wide.flat_map(|stroke| &stroke.path)
        .filter_map(|piece| match piece {
            Segment::Arc(arc) => Some(arc.centre),
            Segment::Line(_) => None,
        })
        .collect()
}

/// Centres of the register marks of a page.
pub(crate) fn marks(page: &Drawing) -> Vec<Point> {
    let circles = page
        .strokes
        .iter()
        .filter(|stroke| stroke.layer == Layer::Register && stroke.closed);
    circles
        .map(|circle| circle.bounds().unwrap().centre())
        .collect()
}
