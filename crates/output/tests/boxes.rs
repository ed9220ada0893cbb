//! The box that a text claims is the box that its ink fills.

use output::Drawing;
use output::drawing::{Bounds, Text};

use crate::projects::{UNITS, demos, options};
use crate::raster::{PER_MM, Raster};

#[test]
fn the_ink_of_every_text_lies_in_its_box() {
    for case in demos() {
        let drawing = case.drawing(&options(UNITS[1])).unwrap();
        let texts = Drawing {
            strokes: Vec::new(),
            fills: Vec::new(),
            ..drawing
        };
        let raster = Raster::of(output::pdf::write(std::slice::from_ref(&texts)));
        let boxes: Vec<(&Text, Bounds)> = texts
            .texts
            .iter()
            .map(|text| (text, text.bounds().grown(0.1)))
            .collect();
        let mut inked = vec![0.0; boxes.len()];
        for row in 0..raster.height {
            for column in 0..raster.width {
                let dark = raster.at(column, row);
                if dark < 0.05 {
                    continue;
                }
                let (x, y) = ((column as f64 + 0.5) / PER_MM, (row as f64 + 0.5) / PER_MM);
                let holder = boxes.iter().position(|(_, own)| {
                    own.low.x <= x && x <= own.high.x && own.low.y <= y && y <= own.high.y
                });
                let holder = holder.unwrap_or_else(|| panic!("{}: ink at {x}, {y}", case.name));
                inked[holder] += dark / (PER_MM * PER_MM);
            }
        }
        for ((text, own), ink) in boxes.iter().zip(inked) {
            // Letters fill at least a twelfth of their box, or the text is not there.
            let [width, height] = own.size();
            assert!(
                ink > width * height / 12.0,
                "{}: “{}” has no ink",
                case.name,
                text.text
            );
        }
    }
}

#[test]
fn a_capital_has_the_nominal_height() {
    // ISO 3098-0, as tabulated in two independent pages: nominal heights 1.8, 2.5, 3.5 mm.
    for height in [1.8, 2.5, 3.5] {
        let mut drawing = Drawing {
            page: [40.0, 20.0],
            ..Drawing::default()
        };
        let case = demos().remove(0);
        let mut text = case.drawing(&options(UNITS[0])).unwrap().texts.remove(0);
        text.text = "H".to_owned();
        text.cap_height = height;
        text.at = [10.0, 5.0].into();
        text.anchor = output::drawing::Anchor::Start;
        text.direction = output::drawing::Direction::Level;
        let bounds = text.bounds();
        assert!((bounds.size()[1] - height).abs() < 1e-9);
        drawing.texts.push(text);
        let raster = Raster::of(output::pdf::write(&[drawing]));
        // The left stem of the H, about a fifth of its width in.
        let stem = raster.up_column(bounds.low.x + 0.2 * bounds.size()[0], 0.0, 19.0);
        assert_eq!(stem.len(), 1);
        assert!((stem[0].ink - height).abs() < 0.1, "{stem:?}");
        assert!(
            (stem[0].centre - 5.0 - height / 2.0).abs() < 0.1,
            "{stem:?}"
        );
    }
}
