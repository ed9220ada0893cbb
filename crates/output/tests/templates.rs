//! Foam, guard and head template on paper, at 1:1.

use layout::geometry::Point;
use layout::geometry::segment::Segment;
use output::Drawing;
use output::cut::{CutOptions, CutPart, Purpose};
use output::drawing::{Layer, Stroke};
use output::sheet::{PaperChoice, SheetOptions};

use crate::contours::{cut, many};
use crate::overlap::overlaps;
use crate::projects::{Case, UNITS, demo, demos, options};
use crate::raster::{PER_MM, Raster, pixel};

const TEMPLATES: [CutPart; 4] = [
    CutPart::Foam,
    CutPart::Guard,
    CutPart::Head,
    CutPart::SmallestHead,
];

fn of(part: CutPart) -> SheetOptions {
    SheetOptions {
        part,
        ..options(UNITS[0])
    }
}

/// The wide lines of what is cut, the part's edge in front.
fn cut_lines(page: &Drawing) -> Vec<&Stroke> {
    let wide = |own: &&Stroke| own.layer == Layer::Plate && own.width > 0.4;
    page.strokes.iter().filter(wide).collect()
}

#[test]
fn a_template_is_drawn_cleanly_with_its_bar_title_and_cautions() {
    for case in demos() {
        for part in TEMPLATES {
            for unit in UNITS {
                let own = SheetOptions { unit, ..of(part) };
                for page in case.pages(&own).unwrap() {
                    assert_eq!(overlaps(&page), [""; 0], "{}, {part:?}", case.name);
                }
            }
            let pages = case.pages(&of(part)).unwrap();
            let all: Vec<&str> = pages
                .iter()
                .flat_map(|page| &page.texts)
                .map(|text| text.text.as_str())
                .collect();
            assert!(all.contains(&"Check: 100 mm from end to end"));
            let title = match part {
                CutPart::Foam => "Foam, top view",
                CutPart::Guard => "Flat guard, top view",
                CutPart::SmallestHead => "Smallest head template, top view",
                _ => "Head template, top view",
            };
            assert!(all.iter().any(|text| text.starts_with(title)), "{all:?}");
            assert!(
                all.join(" ")
                    .contains("Fold in and cover sharp mesh and wire ends.")
            );
            // Only that of another head than the present one says which was checked.
            let checked_elsewhere = all.join(" ").contains("Checked in the present head");
            assert_eq!(
                checked_elsewhere,
                part == CutPart::SmallestHead,
                "{}",
                case.name
            );
            // Only the plate is followed by the side cut.
            assert!(!all.iter().any(|text| text.starts_with("Side cut")));
        }
    }
}

#[test]
fn foam_holes_stand_off_what_the_rings_sweep_as_far_as_is_asked() {
    for (case, clearance) in { demos().into_iter() }.zip([3.0, 1.5, 4.2].into_iter().cycle()) {
        let asked = SheetOptions {
            foam_clearance: clearance,
            ..of(CutPart::Foam)
        };
        let pages = case.pages(&asked).unwrap();
        let said = format!("and {} around it", UNITS[0].format_with_symbol(clearance));
        let texts = pages.iter().flat_map(|page| &page.texts);
        let texts: Vec<&str> = texts.map(|text| text.text.as_str()).collect();
        // The words may stand on two lines.
        assert!(texts.join(" ").contains(&said), "{said}: {texts:?}");
        assert_eq!(pages.len(), 1, "{}", case.name);
        let holes = case.laid.cable_holes().count();
        let passages = "Passages: the plate's cable holes, and as much around them.";
        assert_eq!(texts.join(" ").contains(passages), holes > 0);
        let rods = case.laid.foam_passages(&case.project, clearance);
        let said = "Rods: what they sweep, and as much around them.";
        assert_eq!(texts.join(" ").contains(said), !rods.is_empty());
        for (rod, _) in rods {
            // In the view and in the table.
            let number = format!("R{}", rod + 1);
            assert_eq!(texts.iter().filter(|text| **text == number).count(), 2);
            assert!(texts.contains(&case.project.rods[rod].name.as_str()));
        }
    }
}

#[test]
fn the_foam_on_paper_is_what_the_cutter_s_file_cuts() {
    let (mut whole, mut apart) = (0, 0);
    for case in many().into_iter().take(40) {
        let Ok(found) = cut(&case, CutPart::Foam, &CutOptions::default()) else {
            continue;
        };
        let own = of(CutPart::Foam);
        let Ok(page) = case.drawing(&own) else {
            continue;
        };
        assert_eq!(overlaps(&page), [""; 0], "{}", case.name);
        let lines = cut_lines(&page);
        assert_eq!(lines.len(), found.contours.len(), "{}", case.name);
        // Somewhere else on the page, and the edges in front.
        let contours = found.contours.iter().rev();
        let by =
            lines[0].path[0].start() - contours.clone().next().unwrap().outline.segments[0].start();
        for (line, contour) in lines.into_iter().zip(contours) {
            assert_eq!(line.path.len(), contour.outline.segments.len());
            for (drawn, cut) in line.path.iter().zip(&contour.outline.segments) {
                for share in [0.0, 0.5, 1.0] {
                    let off = place(drawn, share) - place(cut, share) - by;
                    assert!(off.norm() < 1e-9, "{}: {off}", case.name);
                }
            }
        }
        let edges = found.contours.iter();
        let edges = edges
            .filter(|own| own.purpose == Purpose::CutOutside)
            .count();
        assert_eq!(found.pieces, edges);
        let said = found.falls_apart();
        if edges == 1 {
            whole += 1;
            assert_eq!(said, None);
        } else {
            apart += 1;
            let sentence = format!("The foam falls into {edges} pieces: glue each to the plate.");
            assert_eq!(said.as_ref(), Some(&sentence));
            assert!(found.notes.iter().any(|note| note.text == sentence));
            // The words may stand on two lines.
            let texts: Vec<&str> = page.texts.iter().map(|text| text.text.as_str()).collect();
            assert!(texts.join(" ").contains(&sentence), "{}", case.name);
        }
    }
    assert!(whole > 5 && apart > 5, "{whole} {apart}");
}

/// A place of a line or an arc.
fn place(piece: &Segment, share: f64) -> Point {
    match piece {
        Segment::Line(line) => line.start + (line.end - line.start) * share,
        Segment::Arc(arc) => arc.at(arc.start_angle + arc.sweep * share),
    }
}

#[test]
fn the_size_of_a_hole_in_the_foam_is_told_at_what_is_cut_of_it() {
    for case in demos() {
        let page = case.drawing(&of(CutPart::Foam)).unwrap();
        let mut sizes: Vec<String> = case
            .report
            .figures
            .eyes
            .iter()
            .map(|own| format!("Ø{}", UNITS[0].format(2.0 * own.foam_hole_mm.unwrap())))
            .collect();
        sizes.sort();
        sizes.dedup();
        for size in sizes {
            let mut texts = page.texts.iter();
            assert!(
                texts.any(|own| own.text.ends_with(&size)),
                "{}: {size}",
                case.name
            );
        }
        // Each arrow of a leader ends on a line that is cut.
        let tips = page.fills.iter().map(|own| own.corners[0]);
        let lines = cut_lines(&page);
        let near = |tip: Point| {
            let mut points = lines.iter().flat_map(|own| own.flattened());
            points.any(|at| (at - tip).norm() < 1.0)
        };
        assert!(tips.filter(|tip| near(*tip)).count() >= 1, "{}", case.name);
    }
}

#[test]
fn the_flat_guard_measures_right_on_paper_and_names_its_bend_axis() {
    for case in demos() {
        let options = of(CutPart::Guard);
        let page = case.drawing(&options).unwrap();
        let raster = Raster::of(case.pdf(&options));
        let edge = cut_lines(&page)[0].bounds().unwrap().grown(-0.25);
        let flat = case.report.figures.hand.guard_flat_mm.unwrap();
        let width = |share: f64| {
            let y = edge.low.y + share * (edge.high.y - edge.low.y);
            let y = (pixel(y) as f64 + 0.5) / PER_MM;
            let side = |x: f64| {
                let lines = raster.along_row(y, x - 0.7, x + 0.7);
                assert_eq!(lines.len(), 1, "{}: {lines:?}", case.name);
                lines[0].centre
            };
            side(edge.high.x) - side(edge.low.x)
        };
        let widths = [0.1, 0.3, 0.7, 0.9].map(width);
        for width in widths {
            assert!(
                (width - flat).abs() < 0.1,
                "{}: {width} for {flat}",
                case.name
            );
        }
        let length = (edge.high.y - edge.low.y - case.project.hand.guard_length).abs();
        assert!(length < 1e-9);
        let said = page
            .texts
            .iter()
            .filter(|own| own.text == "Bend about this line");
        assert_eq!(said.count(), 1);
    }
}

#[test]
fn a_template_that_is_larger_than_the_paper_takes_several_pages() {
    let mut project = demo("bramble").project;
    project.hand.guard_chord = 380.0;
    let case = Case::of("wide guard", project);
    let own = SheetOptions {
        paper: PaperChoice::A4,
        ..of(CutPart::Guard)
    };
    let pages = case.pages(&own).unwrap();
    assert!(pages.len() > 1);
    for page in &pages {
        assert_eq!(overlaps(page), [""; 0]);
    }
    let joins = pages.iter().flat_map(|page| &page.texts);
    assert!(joins.filter(|own| own.text.ends_with("joins here")).count() >= 2);
}

#[test]
fn a_template_that_cannot_be_cut_is_not_drawn_either() {
    let mut project = demo("bramble").project;
    project.hand.guard_bow = project.hand.guard_chord;
    let refused = Case::of("guard", project).pages(&of(CutPart::Guard));
    assert_eq!(
        refused.unwrap_err(),
        "The guard is bent farther than a half-circle. Use a bow of at most half of the chord."
    );
}
