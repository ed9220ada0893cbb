//! Drawings by other programs, in `tests/reference/outlines/`. What they should hold follows from the
//! shape that each program was told to draw, never from what is read here.
//!
//! Each can be made again from the words beside it. `H` stands for the head: straight from (60, −15) to
//! (60, 20), an arc about (0, 20) to (−60, 20), straight to (−60, −15), an arc about (−25, −15) to
//! (−25, −50), straight to (25, −50) and an arc about (25, −15) back, mm; in SVG with y downward.

use std::f64::consts::PI;

use intake::{Format, Shape};

use crate::common::{arcs, centroid, head, is_outline, near};

/// What a program was told to draw.
enum Planted {
    /// The head, enlarged, turned counter-clockwise by degrees, its origin at a place, y up.
    Head(f64, f64, [f64; 2]),
    /// An ellipse with these half axes, turned, about a place.
    Ellipse([f64; 2], f64, [f64; 2]),
    /// Half a disc of this radius on a block as wide and 1.2 radii high, the disc's centre at a place.
    Arch(f64, [f64; 2]),
    /// The closed uniform cubic spline about the eight points `SPLINE`.
    Spline,
}

/// Control points of the spline, cm.
const SPLINE: [[f64; 2]; 8] = [
    [6.0, 0.0],
    [5.5, 5.0],
    [0.0, 8.0],
    [-5.5, 5.0],
    [-6.0, 0.0],
    [-4.0, -5.0],
    [0.0, -6.0],
    [4.0, -5.0],
];

/// A file from outside.
struct Outside {
    name: &'static str,
    bytes: &'static [u8],
    /// The program and its version.
    writer: &'static str,
    /// How it was made.
    made: &'static str,
    /// Whether it says its unit; where it does not, one unit counts as 1 mm here.
    says_unit: bool,
    /// How many shapes are larger: a page's background.
    larger: usize,
    planted: Planted,
    /// How many arcs there are; None where the program itself breaks them up.
    arcs: Option<usize>,
    /// How far the program's own rounding takes it off, mm.
    off: f64,
}

macro_rules! outside {
    ($($name:literal, $writer:literal, $made:literal, $unit:literal, $larger:literal, $planted:expr, $arcs:expr, $off:literal;)*) => {
        [$(Outside {
            name: $name,
            bytes: include_bytes!(concat!("../../../tests/reference/outlines/", $name)),
            writer: $writer,
            made: $made,
            says_unit: $unit,
            larger: $larger,
            planted: $planted,
            arcs: $arcs,
            off: $off,
        }),*]
    };
}

use Planted::{Arch, Ellipse, Head, Spline};

/// File, writer, how made, says its unit, larger shapes, what it holds, arcs, and what rounding takes.
const FILES: [Outside; 22] = outside![
    "svgwrite-arcs.svg", "svgwrite 1.4.3",
    "Drawing(size=('140mm', '150mm'), viewBox='-70 -90 140 150'); path of H with A commands, fill='none'",
    true, 0, Head(1.0, 0.0, [70.0, -90.0]), Some(3), 0.002;
    "drawsvg-nested.svg", "drawsvg 2.4.2",
    "Drawing(400, 400, origin=(-100, -100)); path of H in Group('scale(2,2)') in Group('translate(100,100) rotate(30)')",
    false, 0, Head(2.0, -30.0, [200.0, -200.0]), Some(3), 0.002;
    "cairo-surface.svg", "cairo 1.16.0 by pycairo 1.20.1",
    "SVGSurface of 160 × 160 mm in pt; scale(72/25.4), translate(80, 95), scale(1, -1); H with line_to and arc; stroke",
    true, 0, Head(1.0, 0.0, [80.0, -95.0]), Some(3), 0.003;
    "matplotlib-patch.svg", "Matplotlib 3.11.2, SVG backend",
    "figure of 160/25.4 in square, axes over all of it from (-80, -65) to (80, 95), off; PathPatch of H from Path.arc; metadata Date and Creator None",
    true, 1, Head(1.0, 0.0, [80.0, -95.0]), Some(3), 0.002;
    "inkscape-ellipse.svg", "Inkscape 1.2.2",
    "ellipse cx=80 cy=90 rx=62 ry=78 on a page of 160 × 180 mm; --actions: select-by-id:head;transform-rotate:30;object-to-path;export-plain-svg;export-do",
    true, 0, Ellipse([62.0, 78.0], -30.0, [80.0, -90.0]), Some(0), 0.03;
    "libreoffice-draw.svg", "LibreOffice Draw 7.4.7",
    "svgwrite-arcs.svg with a grey fill: soffice --convert-to odg, then --convert-to svg",
    true, 0, Head(1.0, 0.0, [70.13, -90.13]), None, 0.02;
    "makerjs.svg", "Maker.js 0.19.2",
    "paths.Line and paths.Arc of H; exporter.toSVG(head, {units: 'mm'})",
    true, 0, Head(1.0, 0.0, [60.0, -80.0]), Some(3), 0.002;
    "openscad.svg", "OpenSCAD 2021.01",
    "$fn=256; hull() { translate([0,20]) circle(60); translate([-25,-15]) circle(35); translate([25,-15]) circle(35); }",
    true, 0, Head(1.0, 0.0, [60.0, -80.0]), Some(0), 0.006;
    "paper.svg", "Paper.js 0.12.20",
    "Path.Circle([300, 260], 200) united with Path.Rectangle from [100, 260] to [500, 500]; project.exportSVG; nothing is painted",
    false, 0, Arch(200.0, [300.0, -260.0]), Some(1), 0.002;
    "potrace.svg", "potrace 1.16",
    "a picture of H at 10 dots per mm, 140 × 150 mm, by dots whose middle is inside; potrace -b svg -r 254; metadata taken out",
    true, 0, Head(1.0, 0.0, [70.0, -90.0]), None, 0.1;
    "pstoedit.svg", "pstoedit 3.78, plot-svg by GNU libplot 4.4",
    "EPS of H, 72 25.4 div dup scale 80 65 translate, arcs by arc, stroke; pstoedit -f plot-svg",
    // The page's lower left corner lies at (-0.03125, 1.1875) of 8 in, and is not H's.
    true, 1, Head(1.0, 0.0, [80.0 - 0.03125 * 203.2, 65.0 - 1.1875 * 203.2]), Some(3), 0.01;
    "ezdxf-r12-polyline.dxf", "ezdxf 1.4.5, R12",
    "add_polyline2d(H as x, y, bulge; format='xyb', close=True)",
    false, 0, Head(1.0, 0.0, [0.0, 0.0]), Some(3), 1e-6;
    "ezdxf-r2000-lwpolyline.dxf", "ezdxf 1.4.5, R2000",
    "new('R2000', units=4); add_lwpolyline(H as x, y, bulge; format='xyb', close=True)",
    true, 0, Head(1.0, 0.0, [0.0, 0.0]), Some(3), 1e-6;
    "ezdxf-r2007-spline.dxf", "ezdxf 1.4.5, R2007",
    "new('R2007', units=5); add_spline().set_closed(SPLINE)",
    true, 0, Spline, Some(0), 0.006;
    "ezdxf-r2010-ellipse.dxf", "ezdxf 1.4.5, R2010",
    "new('R2010', units=1); add_ellipse((1, 2), major_axis=(0, 3), ratio=0.8)",
    true, 0, Ellipse([2.4 * 25.4, 3.0 * 25.4], 0.0, [25.4, 50.8]), Some(0), 0.006;
    "ezdxf-r2013-chain.dxf", "ezdxf 1.4.5, R2013",
    "new('R2013', units=4); H by add_line and add_arc, in disorder and both directions",
    true, 0, Head(1.0, 0.0, [0.0, 0.0]), Some(3), 1e-6;
    "ezdxf-r2018-blocks.dxf", "ezdxf 1.4.5, R2018",
    "block HALF: the right half of H at half its size by lines and arcs; block WHOLE, base (10, 0): HALF at (10, 0), and again with xscale=-1; WHOLE at (5, 7), scale 2, rotation 90",
    true, 0, Head(1.0, 90.0, [5.0, 7.0]), Some(3), 1e-6;
    "makerjs.dxf", "Maker.js 0.19.2",
    "paths.Line and paths.Arc of H; exporter.toDXF(head, {units: 'mm'})",
    true, 0, Head(1.0, 0.0, [0.0, 0.0]), Some(3), 1e-6;
    "dxf-writer.dxf", "dxf-writer 1.18.4",
    "setUnits('Millimeters'); drawPolyline(H as x, y, bulge; true)",
    true, 0, Head(1.0, 0.0, [0.0, 0.0]), Some(3), 1e-6;
    "dxf-ellipse.dxf", "@tarikjabiri/dxf 2.9.0",
    "setUnits(Units.Millimeters); addEllipse(point3d(0,14,0), point3d(0,78,0), 62/78, 0, 2*Math.PI); addCircle(point3d(0,14,0), 40)",
    true, 0, Ellipse([62.0, 78.0], 0.0, [0.0, 14.0]), Some(0), 0.006;
    "openscad.dxf", "OpenSCAD 2021.01",
    "as openscad.svg",
    false, 0, Head(1.0, 0.0, [0.0, 0.0]), Some(0), 0.006;
    "pstoedit.dxf", "pstoedit 3.78, dxf_s",
    "as pstoedit.svg; pstoedit -f 'dxf_s:-mm -ctl'",
    true, 0, Head(1.0, 0.0, [80.0, 65.0]), Some(3), 0.003;
];

/// The name and the bytes of every file.
pub(crate) fn files() -> impl Iterator<Item = (&'static str, &'static [u8])> {
    FILES.iter().map(|file| (file.name, file.bytes))
}

impl Planted {
    /// How far it reaches in the direction of an angle, from the origin of its file.
    fn reach(&self, angle: f64) -> f64 {
        let along = |[x, y]: [f64; 2]| x * angle.cos() + y * angle.sin();
        match *self {
            // The head is the hull of three discs.
            Head(scale, turn, at) => {
                let discs = [
                    ([0.0, 20.0], 60.0),
                    ([25.0, -15.0], 35.0),
                    ([-25.0, -15.0], 35.0),
                ];
                let own = angle - turn.to_radians();
                let disc = |([x, y], r): ([f64; 2], f64)| x * own.cos() + y * own.sin() + r;
                along(at) + scale * discs.map(disc).into_iter().fold(f64::MIN, f64::max)
            }
            Ellipse([a, b], turn, at) => {
                let own = angle - turn.to_radians();
                along(at) + (a * own.cos()).hypot(b * own.sin())
            }
            Arch(radius, at) => {
                let corners = [[-radius, -1.2 * radius], [radius, -1.2 * radius]];
                let disc = if angle.sin() >= 0.0 { radius } else { f64::MIN };
                along(at)
                    + corners
                        .map(along)
                        .into_iter()
                        .fold(disc, f64::max)
                        .max(radius * angle.cos().abs())
            }
            Spline => (0..SPLINE.len())
                .flat_map(|span| {
                    (0..=4_096).map(move |step| spline(span, f64::from(step) / 4_096.0))
                })
                .map(along)
                .fold(f64::MIN, f64::max),
        }
    }

    /// Its area, mm².
    fn area(&self) -> f64 {
        match *self {
            Head(scale, ..) => head::area() * scale * scale,
            Ellipse([a, b], ..) => PI * a * b,
            Arch(radius, _) => (PI / 2.0 + 2.4) * radius * radius,
            Spline => {
                // Chords so short that what they leave out is lost among the digits.
                let points: Vec<[f64; 2]> = (0..SPLINE.len())
                    .flat_map(|span| {
                        (0..4_096).map(move |step| spline(span, f64::from(step) / 4_096.0))
                    })
                    .collect();
                let next = points.iter().cycle().skip(1);
                points
                    .iter()
                    .zip(next)
                    .map(|(a, b)| (a[0] * b[1] - a[1] * b[0]) / 2.0)
                    .sum()
            }
        }
    }

    /// Fails if the centroid of a head lies where that of a mirrored one would.
    fn check_centroid(&self, shape: &Shape) {
        if let Head(scale, turn, at) = *self {
            let out = scale * (15.0 + head::centroid_above_middle());
            let (sin, cos) = turn.to_radians().sin_cos();
            near(centroid(shape).x, at[0] - out * sin, 0.1);
            near(centroid(shape).y, at[1] + out * cos, 0.1);
        }
    }
}

/// A point of the uniform cubic B-spline, mm, by its blending functions.
fn spline(span: usize, t: f64) -> [f64; 2] {
    let blend = [
        (1.0 - t).powi(3),
        3.0 * t.powi(3) - 6.0 * t.powi(2) + 4.0,
        -3.0 * t.powi(3) + 3.0 * t.powi(2) + 3.0 * t + 1.0,
        t.powi(3),
    ];
    [0, 1].map(|axis| {
        let pull = |index: usize| blend[index] * SPLINE[(span + index) % SPLINE.len()][axis];
        10.0 * (0..4).map(pull).sum::<f64>() / 6.0
    })
}

#[test]
fn what_other_programs_drew_is_found_as_they_were_told() {
    for file in &FILES {
        let about = format!("{} by {}: {}", file.name, file.writer, file.made);
        let format = Format::of(file.name).expect("a known ending");
        let found = match intake::read(file.bytes, format) {
            Ok(found) => found,
            Err(error) => panic!("{about}\n{error}"),
        };
        assert_eq!(found.unit.is_some(), file.says_unit, "{about}");
        let shape = &found.shapes[file.larger].scaled(found.unit.unwrap_or(1.0));
        is_outline(shape);
        assert_eq!(shape.crosses_at, None, "{about}");
        if let Some(count) = file.arcs {
            assert_eq!(
                arcs(shape).len(),
                count,
                "{about}\n{:?}",
                shape.outline.segments
            );
        }
        let [low, high] = shape.outline.bounds().expect("a shape has pieces");
        let reaches = [
            (0.0, high.x),
            (PI / 2.0, high.y),
            (PI, -low.x),
            (1.5 * PI, -low.y),
        ];
        for (angle, reach) in reaches {
            let should = file.planted.reach(angle);
            assert!(
                (reach - should).abs() <= file.off,
                "{about}\n{reach} is not {should} at {angle}"
            );
        }
        let around = 2.0 * (high.x - low.x + high.y - low.y);
        let (area, should) = (shape.outline.area(), file.planted.area());
        assert!(
            (area - should).abs() <= file.off * around,
            "{about}\n{area} is not {should}"
        );
        file.planted.check_centroid(shape);
        let points = shape.points(layout::closed_curve::MOST_POINTS);
        assert!(points.is_ok(), "{about}\n{points:?}");
    }
}

#[test]
fn true_arcs_of_other_programs_keep_their_radii() {
    for file in FILES.iter().filter(|file| file.arcs == Some(3)) {
        let Head(scale, ..) = file.planted else {
            panic!("{} has three arcs and is no head", file.name);
        };
        let found = intake::read(file.bytes, Format::of(file.name).unwrap()).unwrap();
        let shape = found.shapes[file.larger].scaled(found.unit.unwrap_or(1.0));
        for arc in arcs(&shape) {
            let radius = if arc.sweep > 3.0 {
                head::CROWN
            } else {
                head::JAW
            };
            near(arc.radius, scale * radius, file.off.max(1e-6));
        }
    }
}

#[test]
fn files_come_from_several_writers_of_each_format() {
    for (ending, fewest) in [(".svg", 8), (".dxf", 5)] {
        let of_kind = FILES.iter().filter(|file| file.name.ends_with(ending));
        let programs = of_kind.map(|file| file.writer.split_whitespace().next());
        let programs: std::collections::BTreeSet<_> = programs.collect();
        assert!(programs.len() >= fewest, "{programs:?}");
    }
    let largest = FILES.iter().map(|file| file.bytes.len()).max();
    assert!(largest < Some(100_000));
}
