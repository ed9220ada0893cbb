//! What rods take of the foam, from places along them in many poses.

use geo::{Distance, Euclidean};
use layout::geometry::Point;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::geometry::space::Place;
use layout::rod::Rod;
use layout::turned::Pose;
use output::cut::{CutOptions, CutPart, FOAM_CLEARANCE};

use crate::contours::{cut, material};
use crate::projects::{Case, demo};

/// A rod's ends in many poses.
fn rod_poses(case: &Case, rod: usize) -> Vec<[Place; 2]> {
    let Ok(linkage) = &case.laid.rods[rod] else {
        return Vec::new();
    };
    let spread = |[low, high]: [f64; 2], steps: i32| {
        (0..=steps).map(move |step| low + (high - low) * f64::from(step) / f64::from(steps))
    };
    let others = || spread([-linkage.other, linkage.other], 12);
    let owns = || spread(linkage.driver_range, 24);
    let poses: Vec<Pose> = if linkage.together {
        others()
            .flat_map(|other| owns().map(move |own| Pose { own, other }))
            .collect()
    } else {
        let rest = linkage.fitted();
        let own = owns().map(|own| Pose { own, ..rest });
        own.chain(others().map(|other| Pose { other, ..rest }))
            .collect()
    };
    poses.iter().map(|pose| linkage.ends_at(*pose)).collect()
}

/// Places along a rod, a hundredth of its length apart, as far as its skin is between plate and guard.
fn in_foam(case: &Case, rod: usize, [start, end]: [Place; 2]) -> Vec<Point> {
    let radius = case.project.rods[rod].diameter / 2.0;
    let guard = case.laid.guard.as_ref();
    let deepest = guard.map_or(f64::NEG_INFINITY, |guard| guard.edge - guard.bow);
    let places = (0..=100).map(|step| start + (end - start) * (f64::from(step) / 100.0));
    let within = places
        .filter(|at| at.z - radius <= -case.project.plate.thickness && at.z + radius >= deepest);
    within.map(|at| Point::new(at.x, at.y)).collect()
}

/// Hulls of what the rods take of the foam, and a clearance around each.
pub(crate) fn rod_passages(case: &Case, clearance: f64) -> Vec<Outline> {
    let rods = case.project.rods.iter().enumerate();
    let passage = |(index, rod): (usize, &Rod)| {
        let poses = rod_poses(case, index).into_iter();
        let ends = poses.flat_map(|ends| {
            let places = in_foam(case, index, ends);
            [places.first().copied(), places.last().copied()]
        });
        let discs = ends.flatten().map(|centre| Disc {
            centre,
            radius: rod.diameter / 2.0 + clearance,
        });
        let hull = Outline::hull(&discs.collect::<Vec<_>>());
        (!hull.is_empty()).then_some(hull)
    };
    rods.filter_map(passage).collect()
}

#[test]
fn foam_keeps_its_clearance_off_what_each_rod_sweeps() {
    let case = demo("old-tarn");
    for clearance in [FOAM_CLEARANCE, 1.0] {
        let options = CutOptions {
            foam_clearance: clearance,
            ..CutOptions::default()
        };
        let found = cut(&case, CutPart::Foam, &options).unwrap();
        let names = found.contours.iter().map(|contour| &contour.name);
        let named = names.filter(|name| name.contains("passage of the rod"));
        assert_eq!(named.count(), 1);
        let foam = material(&found);
        let off = |at: Point| Euclidean.distance(&geo::Point::new(at.x, at.y), &foam);
        let places = rod_poses(&case, 0).into_iter();
        let mut places = places.flat_map(|ends| in_foam(&case, 0, ends)).peekable();
        assert!(places.peek().is_some());
        let least = places.map(off).fold(f64::INFINITY, f64::min);
        let wanted = case.project.rods[0].diameter / 2.0 + clearance;
        // Chords of the foam's arcs lie a little inside them.
        assert!((wanted - 0.02..wanted + 0.05).contains(&least), "{least}");
    }
}
