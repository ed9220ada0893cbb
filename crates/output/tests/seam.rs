//! Printed pages, put together by their register marks, measure right across the seam: pixels at
//! 254 dpi, ten to the millimetre.

use layout::geometry::{Point, Vector};
use output::Seen;
use output::drawing::Bounds;

use crate::joined::{Piece, marks, on_a4, pieces, stretched};
use crate::projects::Case;
use crate::raster::{Raster, Stretch};

/// What may be off across a seam, mm.
const TOLERANCE: f64 = 0.2;

/// Where to look, from the drawing; what is there, from the pixels.
struct Print {
    piece: Piece,
    raster: Raster,
    /// Where each mark of the page is found in its pixels.
    marks: Vec<Point>,
    /// From the page to the joined sheet, as the marks say.
    laid: Vector,
}

impl Print {
    fn of(piece: Piece, raster: Raster) -> Self {
        let marks = marks(&piece.page)
            .into_iter()
            .map(|near| find_mark(&raster, near))
            .collect();
        Self {
            piece,
            raster,
            marks,
            laid: Vector::zeros(),
        }
    }
}

/// The dark lines across (axis 0) or up (axis 1) through a place, up to `reach` from it.
fn lines(raster: &Raster, at: Point, axis: usize, reach: f64) -> Vec<Stretch> {
    match axis {
        0 => raster.along_row(at.y, at.x - reach, at.x + reach),
        _ => raster.up_column(at.x, at.y - reach, at.y + reach),
    }
}

/// The middle one of some measures.
fn median(mut all: Vec<f64>) -> Option<f64> {
    all.sort_by(f64::total_cmp);
    all.get(all.len() / 2).copied()
}

/// Centre of the cross that stands near a place, by the pixels of its arms between centre and circle.
fn find_mark(raster: &Raster, near: Point) -> Point {
    let along = |axis: usize| {
        let off = [-2.2, -1.9, -1.6, -1.3, 1.3, 1.6, 1.9, 2.2];
        let arms = off.into_iter().filter_map(|off| {
            let mut at = near;
            at[1 - axis] += off;
            match lines(raster, at, axis, 0.9).as_slice() {
                [Stretch { centre, ink }] if (0.15..0.4).contains(ink) => Some(*centre),
                _ => None,
            }
        });
        let arms: Vec<f64> = arms.collect();
        assert!(arms.len() >= 4, "no cross at {near}");
        median(arms).unwrap()
    };
    Point::new(along(0), along(1))
}

/// The pages of a sheet, joined by their marks alone.
fn joined(case: &Case, seen: Seen) -> Vec<Print> {
    let own = on_a4(seen);
    let pages = case.pages(&own).unwrap();
    let rasters = Raster::of_all(case.pdf(&own));
    let pieces = pieces(case, &pages, seen);
    let mut loose: Vec<Print> = pieces
        .into_iter()
        .zip(rasters)
        .map(|(piece, raster)| Print::of(piece, raster))
        .collect();
    let mut laid = vec![loose.remove(0)];
    while !loose.is_empty() {
        let fits = |print: &Print| laid.iter().find_map(|other| lay_on(other, print));
        let (index, by) = (0..loose.len())
            .find_map(|index| Some((index, fits(&loose[index])?)))
            .expect("every page is joined to another");
        let mut next = loose.remove(index);
        next.laid = by;
        laid.push(next);
    }
    laid
}

/// How a page lies on the sheet when two of its marks cover two of a neighbour's; None if it is none.
fn lay_on(other: &Print, own: &Print) -> Option<Vector> {
    let step = [0, 1].map(|axis| own.piece.place[axis] - other.piece.place[axis]);
    let ([0, side] | [side, 0]) = step else {
        return None;
    };
    if side.abs() != 1 {
        return None;
    }
    // Which mark belongs on which, from the drawing.
    let name = |print: &Print, index: usize| marks(&print.piece.page)[index] - print.piece.offset;
    let mut shifts = Vec::new();
    for (index, theirs) in other.marks.iter().enumerate() {
        for (own_index, found) in own.marks.iter().enumerate() {
            if (name(other, index) - name(own, own_index)).norm() < 0.5 {
                shifts.push(other.laid + (theirs - found));
            }
        }
    }
    assert_eq!(shifts.len(), 2);
    // Both marks say the same, so the page is neither turned nor stretched.
    assert!((shifts[0] - shifts[1]).norm() < 0.1, "{shifts:?}");
    Some((shifts[0] + shifts[1]) / 2.0)
}

/// Where the wide line that passes near a place of the view's frame is found on the joined sheet, across
/// or up. It is looked for along it, on each page that shows it.
fn edge(prints: &[Print], near: Point, axis: usize) -> f64 {
    let mut found = Vec::new();
    for print in prints {
        for step in -8..=8 {
            let mut at = near + print.piece.offset;
            at[1 - axis] += f64::from(step) * 0.5;
            let inside = print.piece.window.grown(-1.0);
            let here = Bounds { low: at, high: at };
            if !inside.holds(&here) {
                continue;
            }
            if let [Stretch { centre, ink }] = lines(&print.raster, at, axis, 0.9).as_slice()
                && (0.4..0.65).contains(ink)
            {
                found.push(centre + print.laid[axis]);
            }
        }
    }
    assert!(found.len() >= 4, "too little of the edge at {near}");
    median(found).unwrap()
}

/// The centre of an opening on the joined sheet, across or up, by the two places where some lines
/// through it meet its edge.
fn opening(prints: &[Print], centre: Point, radius: f64, axis: usize) -> f64 {
    let side = |share: f64, sign: f64| {
        let mut place = centre;
        place[1 - axis] += share * radius;
        place[axis] += sign * radius * (1.0 - share * share).sqrt();
        prints.iter().find_map(|print| {
            let at = place + print.piece.offset;
            let here = Bounds { low: at, high: at };
            if !print.piece.window.grown(-1.0).holds(&here) {
                return None;
            }
            match lines(&print.raster, at, axis, 0.7).as_slice() {
                [Stretch { centre, ink }] if (0.4..0.8).contains(ink) => {
                    Some(centre + print.laid[axis])
                }
                _ => None,
            }
        })
    };
    let shares = [-0.45, -0.35, -0.25, 0.25, 0.35, 0.45].into_iter();
    let centres: Vec<f64> = shares
        .filter_map(|share| Some((side(share, -1.0)? + side(share, 1.0)?) / 2.0))
        .collect();
    assert!(centres.len() >= 3, "too little of the opening at {centre}");
    median(centres).unwrap()
}

/// The place in the view's frame from either side.
fn shown(at: [f64; 2], seen: Seen) -> Point {
    seen.point(Point::from(at))
}

/// How far apart two eyes are on the joined sheet, across or up, and in the project.
fn spacing(case: &Case, prints: &[Print], seen: Seen, axis: usize) -> [f64; 2] {
    let eyes = [0, 1].map(|index| {
        let seat = case.laid.eyes[index].seat.as_ref().unwrap();
        let radius = match seen {
            Seen::Front => seat.opening_front,
            Seen::Back => seat.opening_back,
        };
        let centre = shown(case.project.eyes[index].centre, seen);
        opening(prints, centre, radius, axis)
    });
    let centres = [0, 1].map(|index| case.project.eyes[index].centre[axis]);
    [(eyes[1] - eyes[0]).abs(), (centres[1] - centres[0]).abs()]
}

/// Width or height of the plate on the joined sheet and as the report has it, found where its outline is
/// straight and square to the axis: `level` says where along it.
fn size(case: &Case, prints: &[Print], seen: Seen, axis: usize, level: f64) -> [f64; 2] {
    let [low, high] = case.laid.plate.bounds().unwrap();
    let ends = [low, high].map(|corner| {
        let mut at = [level; 2];
        at[axis] = corner[axis];
        edge(prints, shown(at, seen), axis)
    });
    let plate = &case.report.figures.plate;
    let own = [plate.plate_width_mm, plate.plate_height_mm][axis].unwrap();
    [(ends[1] - ends[0]).abs(), own]
}

fn assert_right(what: &str, [measured, own]: [f64; 2]) {
    assert!(
        (measured - own).abs() < TOLERANCE,
        "{what}: {measured} mm on paper, {own} mm in the project"
    );
}

const SIDES: [Seen; 2] = [Seen::Front, Seen::Back];

#[test]
fn spacing_and_width_are_right_across_an_upright_seam() {
    let case = stretched("bramble", [2.1, 1.0]);
    for seen in SIDES {
        let prints = joined(&case, seen);
        let places: Vec<_> = prints.iter().map(|print| print.piece.place).collect();
        assert_eq!(places, [[1, 1], [1, 2]]);
        assert_right("spacing", spacing(&case, &prints, seen, 0));
        assert_right("width", size(&case, &prints, seen, 0, 0.0));
    }
}

#[test]
fn spacing_and_height_are_right_across_a_level_seam() {
    // The eyes over one another, in a head as high as the other is wide.
    let mut project = stretched("bramble", [2.1, 1.0]).project;
    let swap = |at: &mut [f64; 2]| at.swap(0, 1);
    project.head.outline.iter_mut().for_each(swap);
    project.head.outline.reverse();
    project
        .head
        .anchor_holes
        .iter_mut()
        .for_each(|hole| swap(&mut hole.at));
    project
        .eyes
        .iter_mut()
        .for_each(|eye| swap(&mut eye.centre));
    for slot in &mut project.ties {
        swap(&mut slot.at);
        slot.angle.0 -= 90.0;
    }
    project.check().unwrap();
    let case = Case::of("upright", project);
    for seen in SIDES {
        let prints = joined(&case, seen);
        assert!(prints.len() > 1);
        assert!(prints.iter().all(|print| print.piece.place[1] == 1));
        assert_right("spacing", spacing(&case, &prints, seen, 1));
        assert_right("height", size(&case, &prints, seen, 1, 0.0));
    }
}

#[test]
fn a_field_of_pages_is_right_across_both_seams() {
    let case = stretched("bramble", [2.2, 2.6]);
    for seen in SIDES {
        let prints = joined(&case, seen);
        assert!(prints.len() >= 4);
        assert_right("spacing", spacing(&case, &prints, seen, 0));
        assert_right("width", size(&case, &prints, seen, 0, 0.0));
        assert_right("height", size(&case, &prints, seen, 1, 0.0));
    }
}

#[test]
fn the_measure_sees_a_page_that_is_laid_askew() {
    let case = stretched("bramble", [2.1, 1.0]);
    let mut prints = joined(&case, Seen::Front);
    prints[1].laid.x += 0.3;
    let [measured, own] = spacing(&case, &prints, Seen::Front, 0);
    assert!((measured - own).abs() > TOLERANCE);
}
