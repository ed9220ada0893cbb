//! Seen from the back: the shapes are mirrored, the words are not, and left and right stay the
//! audience's.

use layout::geometry::Vector;
use layout::geometry::segment::Segment;
use lopdf::Document;
use lopdf::content::Content;
use output::Drawing;
use output::drawing::{Layer, LineType};

use crate::overlap::overlaps;
use crate::projects::{Case, Dice, UNITS, demo, demos, from_the_back, options, random};

/// Centres of the circles on a layer, from the centre of the plate's box, and their radii. The outline
/// of the plate is the first line of every sheet.
fn circles(drawing: &Drawing, layer: Layer) -> Vec<(Vector, f64)> {
    let plate = drawing.strokes[0].bounds().unwrap().centre();
    let own = drawing
        .strokes
        .iter()
        .filter(|stroke| stroke.layer == layer);
    own.filter_map(|stroke| match stroke.path.as_slice() {
        [Segment::Arc(arc)] if stroke.closed => Some((arc.centre - plate, arc.radius)),
        _ => None,
    })
    .collect()
}

#[test]
fn every_circle_stands_where_a_mirror_shows_it() {
    let mut dice = Dice(21);
    let random = (0..60).map(|index| Case::of(format!("random {index}"), random(&mut dice)));
    let mut met = 0;
    for case in demos().into_iter().chain(random) {
        let (Ok(front), Ok(back)) = (
            case.drawing(&options(UNITS[0])),
            case.drawing(&from_the_back(UNITS[0])),
        ) else {
            continue;
        };
        for layer in [Layer::Plate, Layer::Head] {
            let (front, back) = (circles(&front, layer), circles(&back, layer));
            assert_eq!(front.len(), back.len(), "{}", case.name);
            // One edge of an opening may stand for both, so radii are compared only in the head.
            let same = |a: f64, b: f64| layer == Layer::Plate || (a - b).abs() < 1e-9;
            for (centre, radius) in &front {
                let mirrored = |at: Vector| Vector::new(-at.x, at.y);
                let like = |all: &[(Vector, f64)], at: Vector| {
                    let there = all.iter().filter(|(other, _)| (other - at).norm() < 1e-6);
                    there.filter(|(_, own)| same(*own, *radius)).count()
                };
                let (shown, expected) = (like(&back, mirrored(*centre)), like(&front, *centre));
                assert_eq!(shown, expected, "{} at {centre}", case.name);
                met += 1;
            }
        }
    }
    assert!(met > 150, "only {met} circles were met");
}

#[test]
fn no_text_is_ever_mirrored() {
    for case in demos() {
        let pdf = Document::load_mem(&case.pdf(&from_the_back(UNITS[0]))).unwrap();
        let page = pdf.page_iter().next().unwrap();
        let content = Content::decode(&pdf.get_page_content(page)).unwrap();
        let mut texts = 0;
        for operation in &content.operations {
            if !matches!(operation.operator.as_str(), "cm" | "Tm") {
                continue;
            }
            texts += usize::from(operation.operator == "Tm");
            let numbers = operation.operands.iter().map(|n| n.as_float().unwrap());
            let m: Vec<f32> = numbers.collect();
            // A mirror turns the sense of rotation round.
            assert!(m[0] * m[3] - m[1] * m[2] > 0.0, "{}: {m:?}", case.name);
        }
        assert!(texts > 20);
    }
}

#[test]
fn texts_overlap_nothing_on_any_demo_from_the_back() {
    for case in demos() {
        for unit in UNITS {
            let drawing = case.drawing(&from_the_back(unit)).unwrap();
            assert_eq!(overlaps(&drawing), [""; 0], "{} in {unit:?}", case.name);
        }
    }
}

#[test]
fn texts_overlap_nothing_on_100_random_projects_from_the_back() {
    let mut dice = Dice(22);
    let mut drawn = 0;
    for index in 0..100 {
        let case = Case::of(format!("random project {index}"), random(&mut dice));
        if let Ok(drawing) = case.drawing(&from_the_back(UNITS[index % 2])) {
            assert_eq!(overlaps(&drawing), [""; 0], "{}", case.name);
            drawn += 1;
        }
    }
    assert!(drawn > 85, "only {drawn} sheets were drawn");
}

/// All words of a sheet in one line.
fn words(drawing: &Drawing) -> String {
    let texts = drawing.texts.iter().map(|text| text.text.as_str());
    texts.collect::<Vec<_>>().join(" ")
}

#[test]
fn the_sheet_says_from_which_side_it_is_seen_and_whose_left_is_meant() {
    let case = demo("bramble");
    let front = case.drawing(&options(UNITS[0])).unwrap();
    let back = case.drawing(&from_the_back(UNITS[0])).unwrap();
    assert_eq!(front.title, "Bramble the badger, plate, top view");
    assert_eq!(back.title, "Bramble the badger, plate, seen from the back");
    let (front, back) = (words(&front), words(&back));
    assert!(front.contains("Plate, top view") && !front.contains("the back"));
    assert!(back.contains("Plate, seen from the back") && !back.contains("top view"));
    assert!(
        back.contains("Left and right are the audience's: seen from the"),
        "{back}"
    );
    // The left eye stands at negative x in the table of either sheet.
    for page in [front, back] {
        assert!(page.contains("E1 left eye -29.0 0.0"), "{page}");
    }
}

#[test]
fn the_edge_on_the_far_side_of_an_opening_is_dashed_where_it_is_hidden() {
    let mut case = demo("bramble");
    case.project.plate.thickness = 5.0;
    let case = Case::of("thick", case.project);
    let eye = case.laid.eyes[0].seat.as_ref().unwrap();
    assert!(eye.opening_front - eye.opening_back > 1.1);
    let edges = |drawing: &Drawing| {
        let plate = drawing.strokes.iter().filter(|s| s.layer == Layer::Plate);
        let circles = plate.filter_map(|stroke| match stroke.path.as_slice() {
            [Segment::Arc(arc)] => Some((arc.radius, stroke.width, stroke.line)),
            _ => None,
        });
        circles.take(2).collect::<Vec<_>>()
    };
    let (front, back) = (eye.opening_front, eye.opening_back);
    let solid = LineType::Continuous;
    assert_eq!(
        edges(&case.drawing(&options(UNITS[0])).unwrap()),
        [(front, 0.5, solid), (back, 0.25, solid)]
    );
    assert_eq!(
        edges(&case.drawing(&from_the_back(UNITS[0])).unwrap()),
        [(back, 0.5, solid), (front, 0.25, LineType::Dashed)]
    );
}
