//! Outlines grown, shrunk and cut apart: measured by formulas and by geo, which shares no code.

use approx::assert_abs_diff_eq;
use geo::{Area, BooleanOps};
use layout::geometry::Point;
use layout::geometry::combine::Pieces;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::polygon::FLATTENING;
use layout::geometry::segment::Segment;

use crate::common::Random;

fn points(places: &[[f64; 2]]) -> Vec<Point> {
    places.iter().map(|&place| place.into()).collect()
}

fn disc(x: f64, y: f64, radius: f64) -> Disc {
    Disc {
        centre: Point::new(x, y),
        radius,
    }
}

fn random_hull(random: &mut Random, reach: f64) -> Outline {
    let discs: Vec<Disc> = (0..1 + random.below(4))
        .map(|_| Disc {
            centre: random.point(reach),
            radius: random.between(2.0, 20.0),
        })
        .collect();
    Outline::hull(&discs)
}

fn length(outline: &Outline) -> f64 {
    let lengths = outline.segments.iter().map(|segment| match segment {
        Segment::Line(line) => (line.end - line.start).norm(),
        Segment::Arc(arc) => arc.radius * arc.sweep.abs(),
    });
    lengths.sum()
}

fn area(pieces: &Pieces) -> f64 {
    let sum = |outlines: &[Outline]| outlines.iter().map(Outline::area).sum::<f64>();
    sum(&pieces.edges) - sum(&pieces.holes)
}

/// A polygon for geo, within [`FLATTENING`] of an outline.
fn to_geo(outline: &Outline) -> geo::Polygon {
    let ring: geo::LineString = outline
        .flattened()
        .iter()
        .map(|p| geo::coord! { x: p.x, y: p.y })
        .collect();
    geo::Polygon::new(ring, Vec::new())
}

#[test]
fn a_convex_curve_grows_by_the_band_that_steiners_formula_gives() {
    // J. Steiner, 1840 (from memory): a convex shape of area A and perimeter P grows to
    // A + P·k + π·k².
    let mut random = Random::new(11);
    for _ in 0..200 {
        let outline = random_hull(&mut random, 40.0);
        let by = random.between(0.01, 5.0);
        let grown = outline.grown(by);
        assert_eq!((grown.edges.len(), grown.holes.len()), (1, 0));
        let steiner = outline.area() + length(&outline) * by + std::f64::consts::PI * by * by;
        assert_abs_diff_eq!(grown.edges[0].area(), steiner, epsilon = 1e-6);
        let back = grown.edges[0].grown(-by);
        assert_abs_diff_eq!(area(&back), outline.area(), epsilon = 1e-6);
    }
}

#[test]
fn a_waist_falls_apart_when_it_shrinks() {
    let dumbbell = Outline::hull(&[disc(-20.0, 0.0, 10.0)])
        .joined(&Outline::polygon(&points(&[
            [-20.0, -1.0],
            [20.0, -1.0],
            [20.0, 1.0],
            [-20.0, 1.0],
        ])))
        .joined(&Outline::hull(&[disc(20.0, 0.0, 12.0)]));
    let pieces = dumbbell.grown(-1.5);
    assert_eq!((pieces.edges.len(), pieces.holes.len()), (2, 0));
    // The largest first: each end is all but the disc, 1.5 mm smaller.
    for (edge, radius) in pieces.edges.iter().zip([12.0, 10.0]) {
        let [low, high] = edge.bounds().unwrap();
        assert_abs_diff_eq!(high.y - low.y, 2.0 * (radius - 1.5), epsilon = 1e-9);
    }
    assert!(dumbbell.grown(-12.5).edges.is_empty());
}

#[test]
fn a_mouth_that_closes_leaves_a_hole() {
    // A square of 40 mm with a bay of 20 mm, whose mouth is 2 mm wide.
    let square = Outline::polygon(&points(&[
        [-20.0, -20.0],
        [20.0, -20.0],
        [20.0, 20.0],
        [-20.0, 20.0],
    ]));
    let mouth = Outline::polygon(&points(&[
        [-1.0, 0.0],
        [1.0, 0.0],
        [1.0, 30.0],
        [-1.0, 30.0],
    ]));
    let bay = Outline::hull(&[disc(0.0, 0.0, 10.0)]).joined(&mouth);
    let open = square.without(&bay);
    assert_eq!((open.edges.len(), open.holes.len()), (1, 0));
    let grown = open.edges[0].grown(1.5);
    assert_eq!((grown.edges.len(), grown.holes.len()), (1, 1));
    let [low, high] = grown.holes[0].bounds().unwrap();
    // The bay, 1.5 mm smaller all round.
    assert_abs_diff_eq!(high.x - low.x, 17.0, epsilon = 1e-9);
    assert!(grown.holes[0].area() > 0.0);
}

#[test]
fn what_is_cut_out_is_what_geo_cuts_out() {
    let mut random = Random::new(12);
    let (mut apart, mut with_hole, mut gone) = (0, 0, 0);
    for _ in 0..500 {
        let (whole, other) = (
            random_hull(&mut random, 30.0),
            random_hull(&mut random, 30.0),
        );
        let left = whole.without(&other);
        let expected = to_geo(&whole).difference(&to_geo(&other));
        let off = FLATTENING * (length(&whole) + length(&other));
        assert_abs_diff_eq!(area(&left), expected.unsigned_area(), epsilon = off);
        apart += usize::from(left.edges.len() > 1);
        with_hole += usize::from(!left.holes.is_empty());
        gone += usize::from(left.edges.is_empty());

        let both = whole.with(&other);
        let expected = to_geo(&whole).union(&to_geo(&other));
        assert_abs_diff_eq!(area(&both), expected.unsigned_area(), epsilon = off);
        assert_eq!(both.edges.len(), expected.0.len());
    }
    assert!(
        apart > 5 && with_hole > 5 && gone > 5,
        "{apart} {with_hole} {gone}"
    );
}

#[test]
fn nothing_stays_nothing() {
    let (nothing, disc) = (Outline::default(), Outline::hull(&[disc(0.0, 0.0, 5.0)]));
    assert_eq!(nothing.grown(1.0), Pieces::default());
    assert_eq!(nothing.without(&disc), Pieces::default());
    let whole = Pieces {
        edges: vec![disc.clone()],
        holes: Vec::new(),
    };
    assert_eq!(disc.without(&nothing), whole);
    assert_eq!(nothing.with(&disc), whole);
    assert_eq!(disc.grown(f64::NAN), Pieces::default());
    assert_eq!(disc.without(&disc), Pieces::default());
}
