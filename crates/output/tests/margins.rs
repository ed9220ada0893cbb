//! Nothing comes near the paper's edge, where printers do not reach.

use layout::geometry::Point;
use output::drawing::Bounds;
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions};

use crate::projects::{Case, Dice, UNITS, demos, options, plate_pages, random};

/// Common printers leave at most 6.7 mm unprinted (printer makers' manuals, "guaranteed imageable area",
/// four separate documents, as reported), so nothing may be nearer than this.
const MARGIN: f64 = 7.0;

/// Whether it took several pages.
fn assert_within_margins(case: &Case, options: &SheetOptions) -> bool {
    let pages = case.pages(options).unwrap();
    for drawing in &pages {
        let inner = Bounds::of_size(Point::origin(), drawing.page).grown(-MARGIN);
        let all = drawing.bounds().unwrap();
        assert!(
            inner.holds(&all),
            "{}: {all:?} on {:?}",
            case.name,
            drawing.page
        );
    }
    plate_pages(&pages) > 1
}

#[test]
fn nothing_is_nearer_than_7_mm_to_a_page_edge() {
    let mut dice = Dice(7);
    let random = (0..40).map(|index| Case::of(format!("random {index}"), random(&mut dice)));
    let mut in_pieces = 0;
    for case in demos().into_iter().chain(random) {
        for unit in UNITS {
            in_pieces += usize::from(assert_within_margins(&case, &options(unit)));
            for paper in [PaperChoice::A4, PaperChoice::A3, PaperChoice::Letter] {
                let own = SheetOptions {
                    paper,
                    orientation: OrientationChoice::Landscape,
                    ..options(unit)
                };
                in_pieces += usize::from(assert_within_margins(&case, &own));
            }
        }
    }
    assert!(in_pieces > 40, "only {in_pieces} sheets took several pages");
}
