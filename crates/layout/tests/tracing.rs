//! A tracing picture: where its pixels come to lie.

use approx::assert_abs_diff_eq;
use layout::Degrees;
use layout::Edit;
use layout::geometry::{Point, Vector};
use layout::tracing::Tracing;

use crate::common::{Random, pair};

fn random_tracing(random: &mut Random) -> Tracing {
    Tracing {
        picture: "head.png".to_owned(),
        at: random.point(50.0).into(),
        mm_per_pixel: random.between(0.05, 2.0),
        angle: Degrees(random.between(-180.0, 180.0)),
        strength: 0.5,
    }
}

#[test]
fn a_place_and_its_pixel_belong_together() {
    let mut random = Random::new(51);
    for _ in 0..500 {
        let tracing = random_tracing(&mut random);
        let pixel = random.point(800.0).coords;
        let back = tracing.pixel(tracing.place(pixel));
        assert_abs_diff_eq!(back, pixel, epsilon = 1e-9);
    }
    let upright = Tracing {
        at: [10.0, -5.0],
        mm_per_pixel: 0.25,
        angle: Degrees(90.0),
        ..random_tracing(&mut random)
    };
    // A quarter turn counter-clockwise takes a pixel on the right to the top.
    let place = upright.place(Vector::new(40.0, 0.0));
    assert_abs_diff_eq!(place, Point::new(10.0, 5.0), epsilon = 1e-12);
}

#[test]
fn two_points_a_known_distance_apart_set_the_scale_and_the_first_stays() {
    let mut random = Random::new(52);
    for _ in 0..500 {
        let tracing = random_tracing(&mut random);
        let pixels = [random.point(400.0).coords, random.point(400.0).coords];
        let points = pixels.map(|pixel| tracing.place(pixel));
        let distance = random.between(5.0, 300.0);
        let scaled = tracing.scaled(points, distance).unwrap();
        let [first, second] = pixels.map(|pixel| scaled.place(pixel));
        assert_abs_diff_eq!((second - first).norm(), distance, epsilon = 1e-9);
        assert_abs_diff_eq!(first, points[0], epsilon = 1e-9);
        assert_eq!(scaled.angle, tracing.angle);
    }
}

#[test]
fn a_turned_picture_keeps_the_place_that_it_is_turned_about() {
    let mut random = Random::new(55);
    for _ in 0..500 {
        let tracing = random_tracing(&mut random);
        let pixels = [random.point(400.0).coords, random.point(400.0).coords];
        let [about, other] = pixels.map(|pixel| tracing.place(pixel));
        let by = random.between(-3.0, 3.0);
        let turned = tracing.turned(about, by);
        let [held, moved] = pixels.map(|pixel| turned.place(pixel));
        assert_abs_diff_eq!(held, about, epsilon = 1e-9);
        let expected = about + nalgebra::Rotation2::new(by) * (other - about);
        assert_abs_diff_eq!(moved, expected, epsilon = 1e-9);
        assert!((-180.0..180.0).contains(&turned.angle.0));
    }
}

#[test]
fn two_points_at_one_place_set_no_scale() {
    let tracing = random_tracing(&mut Random::new(53));
    let place = Point::new(3.0, 4.0);
    assert_eq!(tracing.scaled([place, place], 60.0), None);
    assert_eq!(tracing.scaled([place, Point::origin()], 0.0), None);
    assert_eq!(tracing.scaled([place, Point::origin()], f64::NAN), None);
}

#[test]
fn a_picture_that_cannot_lie_anywhere_is_refused_by_its_field() {
    let good = random_tracing(&mut Random::new(54));
    let problem = |tracing: Tracing| Edit::Tracing(Some(tracing)).apply(&pair()).unwrap_err();
    let nameless = problem(Tracing {
        picture: String::new(),
        ..good.clone()
    });
    assert_eq!(
        nameless.to_string(),
        "The tracing picture has no path. Name the file, or leave `tracing` out."
    );
    let flat = problem(Tracing {
        mm_per_pixel: 0.0,
        ..good.clone()
    });
    assert_eq!(flat.field, "tracing.mm_per_pixel");
    let strong = problem(Tracing {
        strength: 1.5,
        ..good
    });
    assert_eq!(strong.field, "tracing.strength");
}
