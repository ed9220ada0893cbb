//! Arcs of a drawing are arcs on paper, to a micrometre.

use layout::geometry::Point;
use lopdf::Document;
use lopdf::content::Content;
use output::Drawing;
use output::drawing::{Layer, LineType, Stroke};

#[test]
fn curves_stay_within_a_micrometre_of_their_circle() {
    for radius in [0.7, 20.0, 200.0, 1_000.0] {
        let centre = Point::new(radius + 5.0, radius + 5.0);
        let drawing = Drawing {
            page: [2.0 * radius + 10.0; 2],
            strokes: vec![Stroke::circle(
                centre,
                radius,
                LineType::Continuous,
                0.5,
                Layer::Plate,
            )],
            ..Drawing::default()
        };
        let pdf = Document::load_mem(&output::pdf::write(&[drawing])).unwrap();
        let page = pdf.page_iter().next().unwrap();
        let content = Content::decode(&pdf.get_page_content(page)).unwrap();
        let number = |object: &lopdf::Object| f64::from(object.as_float().unwrap());
        let mut pen = Point::origin();
        let (mut curves, mut worst) = (0, 0.0_f64);
        for operation in content.operations {
            let places: Vec<Point> = operation
                .operands
                .chunks_exact(2)
                .filter(|_| matches!(operation.operator.as_str(), "m" | "l" | "c"))
                .map(|pair| Point::new(number(&pair[0]), number(&pair[1])))
                .collect();
            if let [a, b, end] = places[..] {
                curves += 1;
                for step in 0..=16 {
                    let t = f64::from(step) / 16.0;
                    let s = 1.0 - t;
                    let at = pen.coords * (s * s * s)
                        + a.coords * (3.0 * s * s * t)
                        + b.coords * (3.0 * s * t * t)
                        + end.coords * (t * t * t);
                    worst = worst.max(((at - centre.coords).norm() - radius).abs());
                }
            }
            pen = places.last().copied().unwrap_or(pen);
        }
        assert!(curves >= 12, "{curves} curves");
        assert!(worst < 1e-3, "radius {radius} mm: off by {worst} mm");
    }
}
