//! Nothing comes near the paper's edge, where printers do not reach.

use layout::geometry::Point;
use output::drawing::Bounds;
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions};

use crate::projects::{Case, Dice, UNITS, demos, options, random};

/// Common printers leave at most 6.7 mm unprinted (printer makers' manuals, "guaranteed imageable area",
/// four separate documents, as reported), so nothing may be nearer than this.
const MARGIN: f64 = 7.0;

fn assert_within_margins(case: &Case, options: &SheetOptions) -> bool {
    let Ok(drawing) = case.drawing(options) else {
        return false;
    };
    let inner = Bounds::of_size(Point::origin(), drawing.page).grown(-MARGIN);
    let all = drawing.bounds().unwrap();
    assert!(
        inner.holds(&all),
        "{}: {all:?} on {:?}",
        case.name,
        drawing.page
    );
    true
}

#[test]
fn nothing_is_nearer_than_7_mm_to_a_page_edge() {
    let mut dice = Dice(7);
    let random = (0..40).map(|index| Case::of(format!("random {index}"), random(&mut dice)));
    let mut drawn = 0;
    for case in demos().into_iter().chain(random) {
        for unit in UNITS {
            drawn += usize::from(assert_within_margins(&case, &options(unit)));
            for paper in [PaperChoice::A4, PaperChoice::A3, PaperChoice::Letter] {
                let own = SheetOptions {
                    paper,
                    orientation: OrientationChoice::Landscape,
                    ..options(unit)
                };
                drawn += usize::from(assert_within_margins(&case, &own));
            }
        }
    }
    assert!(drawn > 150, "only {drawn} sheets were drawn");
}
