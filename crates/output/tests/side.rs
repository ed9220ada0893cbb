//! The side cut: what it shows, that it measures right, and the table of drives beside it.

use layout::geometry::segment::{Arc, Segment};
use layout::hand::GuardAxis;
use layout::limits::State;
use layout::{Degrees, Laid};
use output::Drawing;
use output::LengthUnit;
use output::drawing::{Layer, Stroke};
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions};

use crate::overlap::overlaps;
use crate::projects::{
    Case, Dice, UNITS, demo, demos, from_the_back, options, plate_pages, random,
};
use crate::raster::{PER_MM, Raster, Stretch, pixel};

/// What may be off on paper, mm: one pixel.
const TOLERANCE: f64 = 0.1;

/// The pages that follow the plate's.
pub(crate) fn further(case: &Case, options: &SheetOptions) -> Vec<Drawing> {
    let mut pages = case.pages(options).unwrap();
    let plates = plate_pages(&pages);
    pages.split_off(plates)
}

pub(crate) fn side(case: &Case, unit: LengthUnit) -> Drawing {
    further(case, &options(unit)).remove(0)
}

pub(crate) fn says(page: &Drawing, text: &str) -> usize {
    page.texts.iter().filter(|own| own.text == text).count()
}

/// One to how much the page is drawn.
pub(crate) fn scale(page: &Drawing) -> f64 {
    let mut scales = page
        .texts
        .iter()
        .flat_map(|text| text.text.split(" · "))
        .filter_map(|text| text.strip_prefix("SCALE 1:"));
    scales.next().unwrap().parse().unwrap()
}

/// The ball's circle: the only wide whole one.
pub(crate) fn ball(page: &Drawing) -> Arc {
    let wide = page
        .strokes
        .iter()
        .filter(|own| own.layer == Layer::Carried && own.width > 0.4);
    let circles = wide.filter_map(|own| match own.path.as_slice() {
        [Segment::Arc(arc)] if own.closed => Some(*arc),
        _ => None,
    });
    let all: Vec<Arc> = circles.collect();
    assert_eq!(all.len(), 1);
    all[0]
}

/// Edges of the plate in the cut.
fn plate(page: &Drawing) -> Vec<&Stroke> {
    let own = page.strokes.iter();
    own.filter(|stroke| stroke.layer == Layer::Plate).collect()
}

#[test]
fn the_side_cut_measures_right_on_paper() {
    let mut full_size = 0;
    for case in demos() {
        for unit in UNITS {
            let page = side(&case, unit);
            if scale(&page) > 1.0 {
                // The one whose guard is too long for its head is too long for the page, too.
                assert_eq!(case.name, "nettle");
                continue;
            }
            full_size += 1;
            let raster = Raster::of(output::pdf::write(std::slice::from_ref(&page)));
            let (near, eye) = (ball(&page), &case.laid.eyes[0]);
            let seat = eye.seat.as_ref().unwrap();
            // Near the axis no lid and no ring stands beside the ball; a leader may.
            let rows = [-8_i32, -7, -6, -5, -4, -3, 3, 4, 5, 6, 7, 8];
            let sides = rows
                .into_iter()
                .map(|row| f64::from(row) / 20.0)
                .filter_map(|share| {
                    // The middle of the row of pixels that is looked at.
                    let y = (pixel(near.centre.y + share * near.radius) as f64 + 0.5) / PER_MM;
                    let share = (y - near.centre.y) / near.radius;
                    let half = near.radius * (1.0 - share * share).sqrt();
                    let side = |x: f64| match raster.along_row(y, x - 0.7, x + 0.7).as_slice() {
                        [Stretch { centre, ink }] if (0.45..0.62).contains(ink) => Some(*centre),
                        _ => None,
                    };
                    let ends = [side(near.centre.x - half)?, side(near.centre.x + half)?];
                    let radius = case.project.parts_of(0).ball_diameter / 2.0;
                    let chord = 2.0 * radius * (1.0 - share * share).sqrt();
                    Some((ends[1] - ends[0] - chord, (ends[0] + ends[1]) / 2.0))
                });
            let sides: Vec<(f64, f64)> = sides.collect();
            assert!(sides.len() >= 2, "{}: {sides:?}", case.name);
            for (off, _) in &sides {
                assert!(off.abs() < TOLERANCE, "{}: {off}", case.name);
            }
            // The plate's two faces, by their distance from the ball's centre.
            let middle = sides[sides.len() / 2].1;
            let lowest = plate(&page)[0].bounds().unwrap();
            // Between two hatch lines the row meets the faces alone: the median of several rows.
            let mut faces: Vec<[f64; 2]> = (1..40)
                .filter_map(|step| {
                    let y = lowest.low.y + 1.0 + 0.1 * f64::from(step);
                    let lines = raster.along_row(y, lowest.low.x - 0.3, lowest.high.x + 0.3);
                    let ends = [lines.first()?, lines.last()?];
                    let plain = ends.iter().all(|line| (0.4..0.6).contains(&line.ink));
                    (lines.len() >= 2 && plain).then(|| ends.map(|line| line.centre - middle))
                })
                .collect();
            faces.sort_by(|a, b| a[0].total_cmp(&b[0]));
            let [front, back] = faces[faces.len() / 2];
            assert!(
                (front - seat.centre_height).abs() < TOLERANCE,
                "{}: {front}",
                case.name
            );
            assert!(
                (back - seat.back_depth).abs() < TOLERANCE,
                "{}: {back}",
                case.name
            );
        }
    }
    assert!(full_size >= 8, "{full_size}");
}

#[test]
fn its_dimensions_give_the_report_s_figures_and_the_project_s_lengths() {
    for case in demos() {
        for unit in UNITS {
            let page = side(&case, unit);
            let (own, hand) = (&case.report.figures.eyes[0], &case.project.hand);
            let parts = case.project.parts_of(0);
            let lids = parts.lids.unwrap();
            let inside = parts.ball_diameter / 2.0 + lids.gap;
            let said = |name: &str, mm: f64| {
                let text = format!("{name} {}", unit.format(mm));
                assert_eq!(says(&page, &text), 1, "{}: {text}", case.name);
            };
            said("Plate", case.project.plate.thickness);
            said("Centre and pivot height", own.centre_height_mm.unwrap());
            said("Ring depth", parts.ring.depth);
            said("Ring", parts.ring.thickness);
            said("Ball behind", own.ball_behind_mm.unwrap());
            said("Sweep", own.sweep_depth_mm.unwrap());
            said("Guard edge", hand.guard_edge);
            said("Guard depth", hand.guard_edge + hand.guard_bow);
            let radii = [inside, inside + lids.shell].map(|mm| unit.format(mm));
            let text = format!("R{} inside, R{} outside", radii[0], radii[1]);
            let count = usize::from(lids.upper.is_some()) + usize::from(lids.lower.is_some());
            assert_eq!(says(&page, &text), count, "{}", case.name);
        }
    }
}

#[test]
fn a_character_without_lids_drives_or_guard_gets_a_page_without_them() {
    let mut project = demo("bramble").project;
    project.drives.clear();
    project.parts.lids = None;
    // Bent farther than a half-circle: there is no such guard.
    project.hand.guard_bow = project.hand.guard_chord;
    let case = Case::of("bare", project);
    assert!(case.laid.guard.is_err());
    let page = side(&case, LengthUnit::Millimetre);
    assert_eq!(says(&page, "Centre height 4.0"), 1);
    let all: Vec<&str> = page.texts.iter().map(|text| text.text.as_str()).collect();
    for word in ["lid", "Lug", "Guard", "Foam", "Drives"] {
        assert!(
            !all.iter().any(|text| text.starts_with(word)),
            "{word} in {all:?}"
        );
    }
    assert_eq!(says(&page, "Upper lid") + says(&page, "Lower lid"), 0);
}

#[test]
fn it_is_the_same_whichever_side_the_plate_is_seen_from() {
    let case = demo("wimple");
    let unit = LengthUnit::Millimetre;
    assert_eq!(side(&case, unit), further(&case, &from_the_back(unit))[0]);
}

#[test]
fn what_is_larger_than_the_page_is_drawn_smaller_with_the_same_figures() {
    let mut project = demo("bramble").project;
    project.hand.guard_length = 240.0;
    let case = Case::of("long guard", project);
    let small = SheetOptions {
        paper: PaperChoice::A4,
        ..options(LengthUnit::Millimetre)
    };
    let page = further(&case, &small).remove(0);
    let scale = scale(&page);
    assert!(scale > 1.0, "{scale}");
    let edge = format!("Guard edge {:.1}", case.project.hand.guard_edge);
    assert_eq!(says(&page, &edge), 1);
    let said = format!("Drawn at 1:{scale}: read its figures, measure nothing on it.");
    assert_eq!(says(&page, &said), 1);
    let bar = format!("Check: 100 mm from end to end. Not for the view: it is 1:{scale}.");
    assert_eq!(says(&page, &bar), 1);
    assert!((ball(&page).radius - 20.0 / scale).abs() < 1e-9);
    assert_eq!(overlaps(&page), [""; 0]);
}

#[test]
fn a_guard_about_a_level_axis_is_cut_as_an_arc() {
    let mut project = demo("bramble").project;
    project.hand.guard_axis = GuardAxis::X;
    let case = Case::of("level", project);
    let page = side(&case, LengthUnit::Millimetre);
    let own = case.laid.guard.as_ref().unwrap();
    let arcs = page
        .strokes
        .iter()
        .filter(|own| !own.closed && own.width > 0.4);
    let arcs: Vec<Arc> = arcs
        .filter_map(|own| match own.path.as_slice() {
            [Segment::Arc(arc)] => Some(*arc),
            _ => None,
        })
        .collect();
    assert_eq!(arcs.len(), 1);
    // Chord and bow as they were entered.
    let (start, end) = (arcs[0].start(), arcs[0].end());
    assert!(((end - start).norm() - case.project.hand.guard_chord).abs() < 1e-9);
    let bow = arcs[0].centre.x + arcs[0].radius - start.x;
    assert!((bow - case.project.hand.guard_bow).abs() < 1e-9);
    let behind = start.x - ball(&page).centre.x;
    let depth = case.laid.eyes[0].seat.as_ref().unwrap().centre_height - own.edge;
    assert!((behind - depth).abs() < 1e-9);
}

/// Any drives, lids and guards that the format allows, sound or not.
pub(crate) fn furnished(dice: &mut Dice) -> Case {
    let mut project = random(dice);
    let donor = demo("bramble").project;
    let ball = project.parts.ball_diameter;
    project.parts.lids = Some(layout::lid::Lids::around(ball / 2.0));
    project.hand.guard_chord = dice.between(10.0, 200.0);
    project.hand.guard_bow = dice.between(0.0, 60.0);
    project.hand.guard_length = dice.between(10.0, 200.0);
    project.hand.guard_edge = dice.between(0.0, 60.0);
    if dice.below(2) == 0 {
        project.hand.guard_axis = GuardAxis::X;
    }
    project.gaze.side = Degrees(dice.between(0.0, 30.0));
    let count = dice.below(9);
    for index in 0..count {
        let mut drive = donor.drives[0].clone();
        drive.name = format!("drive {index}");
        drive.tip = [0, 1, 2].map(|_| dice.between(-40.0, 40.0));
        drive.exit = [0, 1, 2].map(|_| dice.between(-80.0, 80.0));
        project.drives.push(drive);
    }
    if dice.below(2) == 0 {
        project.rods.extend(layout::rod::Rod::fresh(&project));
    }
    project.check().unwrap();
    let laid = Laid::out(&project);
    if laid.plate.is_empty() {
        return furnished(dice);
    }
    Case::of("furnished", project)
}

#[test]
fn rods_stand_in_a_table_with_what_they_tie_and_their_length() {
    let mut case = demo("bramble");
    case.project
        .rods
        .extend(layout::rod::Rod::fresh(&case.project));
    let case = Case::of("tied", case.project);
    let page = side(&case, UNITS[0]);
    assert_eq!(says(&page, "Rods"), 1);
    assert_eq!(says(&page, "left eye, side turn"), 1);
    assert_eq!(says(&page, "right eye, side turn"), 1);
    // The levers stand straight back: the rod is as long as the eyes are apart.
    let length = case.report.figures.pairs[0].spacing_mm.unwrap();
    assert!(says(&page, &UNITS[0].format(length)) >= 1, "{length}");
}

#[test]
fn texts_overlap_nothing_and_all_pages_are_numbered_on_100_random_characters() {
    let mut dice = Dice(51);
    let (mut fouls, mut reduced) = (0, 0);
    for index in 0..100 {
        let case = furnished(&mut dice);
        fouls += usize::from(case.report.worst() == State::Fouls);
        let papers = [PaperChoice::Auto, PaperChoice::A4, PaperChoice::Letter];
        let own = SheetOptions {
            paper: papers[index % 3],
            orientation: [OrientationChoice::Auto, OrientationChoice::Landscape][index / 3 % 2],
            ..options(UNITS[index % 2])
        };
        let pages = case.pages(&own).unwrap();
        let count = pages.len();
        assert!(count > plate_pages(&pages));
        for (number, page) in pages.iter().enumerate() {
            assert_eq!(overlaps(page), [""; 0], "random character {index}");
            let number = number + 1;
            let numbered = says(page, &format!("{number}/{count}"))
                + says(page, &format!("Page {number} of {count}"));
            assert!(numbered >= 1, "random character {index}");
        }
        reduced += usize::from(scale(&pages[plate_pages(&pages)]) > 1.0);
    }
    assert!(
        fouls > 50 && (5..95).contains(&reduced),
        "{fouls} {reduced}"
    );
}
