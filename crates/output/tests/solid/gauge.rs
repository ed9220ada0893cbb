//! The fit gauge is a sound solid, and its seats, holes and slots are as large as its rows say.

use layout::Project;
use layout::geometry::Point;
use layout::seat::Seat;
use layout::tie::{CLEARANCE, TieSlot};
use layout::workshop::Workshop;
use output::SolidOptions;
use output::solid::{FitGauge, Wall, fit_gauge};

use super::lying::assert_lies_well;
use super::surface::assert_plate;
use super::truth::{Hole, Plate};
use super::volume::assert_volume;
use super::{Body, cases};
use crate::projects::demo;

/// Where a hole of the gauge stands.
fn centre(wall: &Wall) -> Point {
    match wall {
        Wall::Straight(discs) => {
            let sum: layout::geometry::Vector = discs.iter().map(|disc| disc.centre.coords).sum();
            Point::from(sum / discs.len() as f64)
        }
        Wall::Spherical { centre, .. } => *centre,
    }
}

/// What a hole is to be by its name and the gauge's rows: the name says which step of which row.
fn meant(name: &str, at: Point, project: &Project, gauge: &FitGauge) -> Hole {
    if name.starts_with("dot") {
        return Hole::Plain {
            centre: at,
            radius: 0.9,
        };
    }
    let (kind, step) = name.split_once(' ').unwrap();
    let step: usize = step.parse().unwrap();
    let mut rows = gauge.rows.iter();
    let row = rows.find(|row| row.tried.noun() == kind).unwrap();
    let value = row.values[step - 1];
    match kind {
        "seat" => {
            assert_eq!(row.probe, project.parts.ball_diameter);
            let Seat::Spherical { centre_height, .. } = project.parts.seat else {
                panic!("a plain seat has no clearance to try");
            };
            Hole::Spherical {
                centre: at,
                radius: project.parts.ball_diameter / 2.0 + value,
                height: centre_height,
                wider: 0.0,
            }
        }
        "hole" => Hole::Plain {
            centre: at,
            radius: (project.parts.lids.unwrap().pivot_hole + value) / 2.0,
        },
        _ => {
            let larger = value - CLEARANCE;
            let slot = TieSlot {
                at: at.into(),
                angle: layout::Degrees(0.0),
                tie: project.ties[0].tie.map(|side| side + larger),
                anchor: None,
                locked: false,
            };
            Hole::Slot { slot, wider: 0.0 }
        }
    }
}

#[test]
fn the_gauge_of_every_demo_is_sound_and_lies_on_its_own_equations() {
    let mut plain = 0;
    cases::each_demo(|case, options| {
        let gauge = fit_gauge(&case.project);
        let name = format!("{}: fit gauge", case.name);
        let solid = gauge.slab.solid(options).unwrap();
        Body::of(&solid).assert_sound(&name);
        assert_lies_well(&name, &solid);
        let holes = gauge.slab.holes.iter();
        let holes = holes.map(|hole| meant(&hole.name, centre(&hole.wall), &case.project, &gauge));
        let truth = Plate::with(
            &gauge.slab.outline,
            holes.collect(),
            case.project.plate.thickness,
        );
        assert_plate(&name, &solid, &truth, options);
        assert_volume(&name, solid.mesh().volume(), truth.volume());
        plain += usize::from(gauge.rows.len() == 2);
    });
    assert!(plain > 0, "a gauge without seats was tried");
}

#[test]
fn each_step_has_as_many_dots_right_below_it() {
    let gauge = fit_gauge(&demo("bramble").project);
    let named = |name: &str| {
        let hole = gauge.slab.holes.iter().find(|hole| hole.name == name);
        hole.map(|hole| centre(&hole.wall))
    };
    assert_eq!(gauge.rows.len(), 3);
    assert!(gauge.rows.iter().all(|row| row.values.is_sorted()));
    for kind in ["seat", "hole", "slot"] {
        for step in 1..=5 {
            let at = named(&format!("{kind} {step}")).unwrap();
            let dots: Vec<Point> = (1..=5)
                .map_while(|dot| named(&format!("dot {dot} of {kind} {step}")))
                .collect();
            assert_eq!(dots.len(), step, "{kind} {step}");
            let middle = dots.iter().map(|dot| dot.x).sum::<f64>() / step as f64;
            assert!((middle - at.x).abs() < 1e-9, "{kind} {step}");
            assert!(dots.iter().all(|dot| dot.y < at.y), "{kind} {step}");
        }
    }
}

#[test]
fn the_gauge_of_every_demo_lies_on_a_common_bed() {
    for case in crate::projects::demos() {
        let solid = fit_gauge(&case.project)
            .slab
            .solid(&SolidOptions::default());
        let [low, high] = solid.unwrap().mesh().bounds().unwrap();
        let size = [high.x - low.x, high.y - low.y];
        let bed = Workshop::unknown(0.4);
        assert!(bed.holds(size), "{}: {size:?}", case.name);
    }
}

#[test]
fn the_gauges_holes_try_all_published_fits_of_a_screw_of_up_to_3_mm() {
    // ISO 273 clearance holes, mm: fine, medium, coarse (four independent pages agree, among them
    // engineeringhardware.com and NBK technical note 20).
    let published = [
        ("M1.6", [1.7, 1.8, 2.0]),
        ("M2", [2.2, 2.4, 2.6]),
        ("M2.5", [2.7, 2.9, 3.1]),
        ("M3", [3.2, 3.4, 3.6]),
    ];
    let mut project = demo("bramble").project;
    for (thread, fits) in published {
        project.parts.lids.as_mut().unwrap().pivot_hole = fits[0];
        assert_tries(&project, thread, fits);
    }
    // Without lids the gauge's hole is that of a 3 mm screw.
    project.parts.lids = None;
    assert_tries(&project, "M3 without lids", published[3].1);
}

fn assert_tries(project: &Project, thread: &str, fits: [f64; 3]) {
    let gauge = fit_gauge(project);
    let holes = gauge.slab.holes.iter();
    let diameters: Vec<f64> = holes
        .filter(|hole| hole.name.starts_with("hole"))
        .filter_map(|hole| match &hole.wall {
            Wall::Straight(discs) => Some(2.0 * discs[0].radius),
            Wall::Spherical { .. } => None,
        })
        .collect();
    for fit in fits {
        let tried = diameters.iter().any(|found| (found - fit).abs() < 1e-9);
        assert!(tried, "{thread}: {fit} is not among {diameters:?}");
    }
}
