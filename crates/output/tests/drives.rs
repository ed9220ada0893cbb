//! Drives on the sheet: named in the view, drawn in the side cut, and told in tables.

use layout::cable_hole::{CableHole, PlateHole};
use layout::geometry::Point;
use layout::geometry::segment::Segment;
use layout::geometry::space::Place;
use output::cut::{CutOptions, CutPart, cut_drawing};
use output::drawing::{Anchor, Layer, Text};
use output::{Drawing, LengthUnit};

use crate::projects::{Case, UNITS, demo, demos, from_the_back, options, plate_pages};
use crate::side::{ball, further, says, scale, side};

#[test]
fn the_view_names_every_drive_at_each_of_its_holes_and_where_its_sheath_ends() {
    for case in demos() {
        for options in { UNITS.map(options) }
            .into_iter()
            .chain(UNITS.map(from_the_back))
        {
            let pages = case.pages(&options).unwrap();
            assert_eq!(plate_pages(&pages), 1, "{}", case.name);
            for (index, drive) in case.laid.drives.iter().enumerate() {
                let name = format!("D{}", index + 1);
                let wanted = match &drive.pull {
                    Ok(_) => drive.holes.len() + 1,
                    Err(_) => 0,
                };
                assert_eq!(says(&pages[0], &name), wanted, "{}, {name}", case.name);
            }
        }
    }
}

#[test]
fn the_side_cut_shows_lever_stop_and_sheath_of_its_eye_s_drives_and_no_others() {
    let (mut shown, mut ended) = (0, 0);
    for case in demos() {
        let page = side(&case, LengthUnit::Millimetre);
        let (middle, share) = (ball(&page).centre, 1.0 / scale(&page));
        let [x, y, z] = case.laid.eyes[0].ball_centre().unwrap();
        let centre = Place::new(x, y, z);
        // Depth runs to the right.
        let at = |place: Place| {
            let off = (place - centre) * share;
            middle + layout::geometry::Vector::new(-off.z, off.y)
        };
        let own = || page.strokes.iter().filter(|own| own.layer == Layer::Drive);
        let names = page
            .texts
            .iter()
            .filter(|own| own.layer == Layer::Dimension);
        let names: Vec<&str> = names.map(|own| own.text.as_str()).collect();
        for (index, (drive, laid)) in { case.project.drives.iter() }
            .zip(&case.laid.drives)
            .enumerate()
        {
            let name = format!("D{}", index + 1);
            let count = names.iter().filter(|own| **own == name).count();
            let (Ok(pull), 0) = (&laid.pull, drive.moves.eye()) else {
                assert_eq!(count, 0, "{}, {name}", case.name);
                continue;
            };
            assert_eq!(count, 1, "{}, {name}", case.name);
            shown += 1;
            let tip = own().any(|own| {
                matches!(own.path[..], [Segment::Arc(arc)] if near(arc.centre, at(pull.near)))
            });
            let stop = own().filter(|own| own.width > 0.4).any(|own| {
                let [start, end] = [own.path[0].start(), own.path[0].end()];
                near(nalgebra::center(&start, &end), at(pull.stop))
            });
            let ends_at = |place: Place| {
                own().any(|own| {
                    let ends = [own.path.first(), own.path.last()].map(Option::unwrap);
                    near(ends[0].start(), at(place)) || near(ends[1].end(), at(place))
                })
            };
            assert!(tip && stop, "{}, {name}: {tip} {stop}", case.name);
            // A sheath is drawn as far as the head reaches.
            let lowest = case.laid.wall.iter().map(|at| at.y);
            if drive.exit[1] >= lowest.fold(f64::INFINITY, f64::min) {
                assert!(ends_at(drive.exit.into()), "{}, {name}", case.name);
                ended += 1;
            }
        }
    }
    assert!(shown >= 8 && ended >= 7, "{shown} {ended}");
}

fn near(a: Point, b: Point) -> bool {
    (a - b).norm() < 1e-6
}

/// The texts of each line that has a text.
fn lines_with<'a>(pages: &'a [Drawing], text: &str) -> Vec<Vec<&'a str>> {
    let mut lines = Vec::new();
    for page in pages {
        for first in page.texts.iter().filter(|own| own.text == text) {
            // The cells of one line have one baseline.
            let line = page.texts.iter();
            let line = line.filter(|own| (own.at.y - first.at.y).abs() < 1e-9);
            lines.push(line.map(|own| own.text.as_str()).collect());
        }
    }
    lines
}

/// Whether a line holds all of some figures in turn, whatever decimals they are given with.
fn holds(line: &[&str], unit: LengthUnit, lengths: &[f64]) -> bool {
    // Half of the last decimal that is told.
    let off = match unit {
        LengthUnit::Millimetre => 0.005,
        LengthUnit::Inch => 0.0005,
    } + 1e-9;
    let figures: Vec<f64> = line.iter().filter_map(|own| own.parse().ok()).collect();
    let wanted: Vec<f64> = lengths.iter().map(|&mm| unit.from_mm(mm)).collect();
    figures
        .windows(wanted.len())
        .any(|own| own.iter().zip(&wanted).all(|(a, b)| (a - b).abs() <= off))
}

#[test]
fn the_tables_give_what_a_cable_is_cut_from_and_where_it_goes() {
    for case in ["bramble", "wimple", "old-tarn"].map(demo) {
        for unit in UNITS {
            let pages = further(&case, &options(unit));
            let figures = &case.report.figures.drives;
            for (index, (drive, laid)) in { case.project.drives.iter() }
                .zip(&case.laid.drives)
                .enumerate()
            {
                let (own, pull) = (&figures[index], laid.pull.as_ref().unwrap());
                let cable = &drive.cable;
                let cut = [
                    own.stroke_mm.unwrap(),
                    own.standoff_mm.unwrap(),
                    drive.lead,
                    cable.inner_diameter,
                    cable.sheath_diameter,
                    cable.least_bend_radius,
                ];
                let ends = [own.sheath_mm.unwrap(), own.inner_mm.unwrap()];
                let [near, stop]: [[f64; 3]; 2] = [pull.near.into(), pull.stop.into()];
                let places = [near, stop, drive.exit].concat();
                let lines = lines_with(&pages, &format!("D{}", index + 1));
                let any = |lengths: &[f64]| lines.iter().any(|line| holds(line, unit, lengths));
                assert!(any(&cut) && any(&ends), "{}: {lines:?}", case.name);
                assert!(any(&places), "{}: {lines:?}", case.name);
                for hole in &laid.holes {
                    let [length, width] = hole.size();
                    let hole = [hole.middle().x, hole.middle().y, length, width];
                    assert!(any(&hole), "{}: {lines:?}", case.name);
                }
                let pull = format!("{:.1}", own.hand_force_n.unwrap());
                let line = lines.iter().find(|own| own.contains(&drive.name.as_str()));
                assert!(line.unwrap().contains(&pull.as_str()), "{line:?}");
            }
            let texts = pages.iter().flat_map(|page| &page.texts);
            let texts: Vec<&str> = texts.map(|own| own.text.as_str()).collect();
            let [lever, hand] = [15.0, 60.0].map(|mm| unit.format_with_symbol(mm));
            let said =
                format!("Wire, cut to: with {lever} left at the lever and {hand} at the hand.");
            assert!(texts.join(" ").contains(&said), "{texts:?}");
        }
    }
}

#[test]
fn a_hole_that_the_plate_has_is_cut_once_and_told_by_a_name_of_its_own() {
    let before = demo("bramble");
    let needed = before.laid.drives[0].holes[0];
    let there = PlateHole {
        width: 2.0 * needed.radius + 1.0,
        ..PlateHole::from(&needed)
    };
    let mut project = before.project.clone();
    project.plate.cable_holes = vec![there];
    let case = Case::of("holed", project);
    let unit = UNITS[0];
    let pages = further(&case, &options(unit));
    let shape = there.shape();
    let figures = |hole: &CableHole| {
        let [length, width] = hole.size();
        [hole.middle().x, hole.middle().y, length, width]
    };
    let any = |name: &str, hole: &CableHole| {
        let lines = lines_with(&pages, name);
        lines.iter().any(|line| holds(line, unit, &figures(hole)))
    };
    assert!(any("C1", &shape) && !any("D1", &needed));
    let contours = |case: &Case, part| {
        let options = CutOptions::default();
        let cut = cut_drawing(&case.project, &case.laid, part, &options).unwrap();
        let names = cut.contours.iter().map(|contour| contour.name.clone());
        names.collect::<Vec<_>>()
    };
    let [old, new] = [&before, &case].map(|case| contours(case, CutPart::Plate));
    assert_eq!(old.len(), new.len());
    assert!(
        new.iter()
            .any(|name| name.contains("cable hole 1 of the plate")),
        "{new:?}"
    );
    let own = format!("cable hole 1 of the {}", case.project.drives[0].name);
    assert!(old.iter().any(|name| name.contains(&own)), "{old:?}");
    assert!(!new.iter().any(|name| name.contains(&own)), "{new:?}");
    // The foam makes way for the cable as before.
    let [old, new] = [&before, &case].map(|case| contours(case, CutPart::Foam));
    assert_eq!(old, new);
}

#[test]
fn corners_of_a_route_stand_in_a_table_of_their_own() {
    let mut project = demo("bramble").project;
    let via = [[60.0, -40.0, -30.0], [58.25, -60.0, -35.0]];
    project.drives[1].via = via.to_vec();
    let pages = further(&Case::of("corners", project), &options(UNITS[0]));
    let lines = lines_with(&pages, "D2");
    for (number, [x, y, z]) in [1.0, 2.0].into_iter().zip(via) {
        let row = [number, x, y, z];
        assert!(
            lines.iter().any(|line| holds(line, UNITS[0], &row)),
            "{lines:?}"
        );
    }
}

#[test]
fn a_drive_that_cannot_work_has_dashes_and_still_its_exit() {
    let mut project = demo("bramble").project;
    let count = |pages: &[Drawing]| -> usize { pages.iter().map(|own| says(own, "–")).sum() };
    let before = count(&further(
        &Case::of("as it was", project.clone()),
        &options(UNITS[0]),
    ));
    // A tip on its axis: nothing of it can be worked out.
    project.drives[0].tip = [-29.5, 0.0, 0.0];
    let exit = project.drives[0].exit;
    let pages = further(&Case::of("no lever", project), &options(UNITS[0]));
    // Stroke, standoff, bends, sheath, wire and pull; tip and stop.
    assert_eq!(count(&pages), before + 12);
    let lines = lines_with(&pages, "D1");
    assert!(
        lines.iter().any(|line| holds(line, UNITS[0], &exit)),
        "{lines:?}"
    );
}

#[test]
fn the_figures_of_a_column_have_as_many_decimals() {
    /// Farthest that two lines of one table stand apart, mm: its letters are 1.8 mm high.
    const PITCH: f64 = 3.5;
    let decimals = |text: &str| text.split_once('.').map_or(0, |(_, own)| own.len());
    let mut columns = 0;
    for case in demos() {
        let pages = case.pages(&options(UNITS[0])).unwrap();
        for page in &pages {
            let cell = |own: &&Text| own.anchor == Anchor::End && own.text.parse::<f64>().is_ok();
            let cells: Vec<&Text> = page.texts.iter().filter(cell).collect();
            for (index, own) in cells.iter().enumerate() {
                let below = cells[index..].iter().filter(|other| {
                    let off = own.at - other.at;
                    off.x.abs() < 1e-9 && (0.1..PITCH).contains(&off.y)
                });
                for other in below {
                    columns += 1;
                    assert_eq!(decimals(&own.text), decimals(&other.text), "{}", case.name);
                }
            }
        }
    }
    assert!(columns > 100, "{columns}");
}
