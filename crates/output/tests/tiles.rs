//! A sheet of several pages: all of the view, what joins the pages, and where each belongs.

use layout::geometry::Point;
use lopdf::Document;
use output::Seen;
use output::drawing::{Bounds, Drawing, Layer};
use output::sheet::{OVERLAP, SheetOptions};

use crate::joined::{Piece, lines, marks, on_a4, pieces, shows, stretched};
use crate::overlap::overlaps;
use crate::projects::{Case, Dice, UNITS, change_places, demo, options, plate_pages, random};

const SIDES: [Seen; 2] = [Seen::Front, Seen::Back];

/// Sheets that take a row, a column, a field of pages, and one page with notes on another.
fn large() -> Vec<Case> {
    vec![
        stretched("bramble", [2.1, 1.0]),
        stretched("nettle", [1.0, 2.4]),
        stretched("wimple", [2.3, 2.3]),
        stretched("bramble", [1.1, 1.2]),
        stretched("dame-sorrel", [4.0, 3.5]),
    ]
}

/// A random project, enlarged as a whole.
fn random_large(dice: &mut Dice) -> Case {
    loop {
        let mut project = random(dice);
        let by = dice.between(1.3, 3.0);
        change_places(&mut project, |at| *at = at.map(|length| length * by));
        let case = Case::of("large random", project);
        if case.project.check().is_ok() && !case.laid.plate.is_empty() {
            return case;
        }
    }
}

/// The sheet's figures and names of the view.
fn said(page: &Drawing) -> impl Iterator<Item = &str> {
    let own = page.texts.iter();
    own.filter(|text| text.layer == Layer::Dimension)
        .map(|text| text.text.as_str())
}

#[test]
fn all_of_the_plate_and_the_head_is_on_the_pages_from_either_side() {
    for case in large() {
        for seen in SIDES {
            let pages = case.pages(&on_a4(seen)).unwrap();
            assert!(plate_pages(&pages) > 1, "{}", case.name);
            // Panics unless every place of the shape is shown.
            assert!(!pieces(&case, &pages, seen).is_empty());
        }
    }
}

#[test]
fn every_name_and_figure_of_the_view_can_be_read_whole_on_a_page() {
    for case in large() {
        for seen in SIDES {
            let pages = case.pages(&on_a4(seen)).unwrap();
            let all: Vec<&str> = pages.iter().flat_map(said).collect();
            let project = &case.project;
            let names = (1..=project.eyes.len()).map(|index| format!("E{index}"));
            let slots = (1..=project.ties.len()).map(|index| format!("S{index}"));
            let holes = (1..=project.head.anchor_holes.len()).map(|index| format!("A{index}"));
            let figures = &case.report.figures.plate;
            let mm = |length: Option<f64>| output::LengthUnit::Millimetre.format(length.unwrap());
            let sizes = [
                mm(figures.plate_width_mm),
                mm(figures.plate_height_mm),
                format!("Rim {}", mm(figures.rim_mm)),
            ];
            let spacings = case
                .report
                .figures
                .pairs
                .iter()
                .map(|pair| mm(pair.spacing_mm));
            for text in names.chain(slots).chain(holes).chain(sizes) {
                assert!(
                    all.contains(&text.as_str()),
                    "{}: {text} in {all:?}",
                    case.name
                );
            }
            assert!(
                spacings
                    .into_iter()
                    .any(|text| all.contains(&text.as_str()))
            );
            for page in &pages {
                for text in page
                    .texts
                    .iter()
                    .filter(|text| text.layer == Layer::Dimension)
                {
                    let within = |own: &Bounds| own.holds(&text.bounds());
                    assert!(page_windows(page).iter().any(within), "{}", text.text);
                }
            }
        }
    }
}

/// The box around the piece of a page.
fn page_windows(page: &Drawing) -> Vec<Bounds> {
    let edges = page
        .strokes
        .iter()
        .filter(|stroke| stroke.layer == Layer::Sheet && stroke.closed && stroke.width < 0.3);
    edges.filter_map(|edge| edge.bounds()).collect()
}

/// The piece beside another, and how far to the right and down it lies, in pages.
fn neighbours(pieces: &[Piece]) -> Vec<(&Piece, &Piece, [i32; 2])> {
    let pairs = pieces
        .iter()
        .flat_map(|a| pieces.iter().map(move |b| (a, b)));
    let steps = pairs.map(|(a, b)| {
        let step = [b.place[1] - a.place[1], b.place[0] - a.place[0]];
        (a, b, step)
    });
    steps
        .filter(|(_, _, step)| *step == [1, 0] || *step == [0, 1])
        .collect()
}

#[test]
fn neighbouring_pages_share_a_strip_and_two_marks_in_it() {
    let mut met = 0;
    for case in large() {
        for seen in SIDES {
            let pages = case.pages(&on_a4(seen)).unwrap();
            let all = pieces(&case, &pages, seen);
            for (a, b, step) in neighbours(&all) {
                let axis = usize::from(step == [0, 1]);
                // The marks alone tell how the second page lies on the first.
                let by = a.offset - b.offset;
                let (own, others) = (marks(&a.page), marks(&b.page));
                let there =
                    |at: &&Point| others.iter().any(|other| (other + by - **at).norm() < 1e-9);
                let shared: Vec<&Point> = own.iter().filter(there).collect();
                assert_eq!(shared.len(), 2, "{}", case.name);
                let moved = b.window.moved(by);
                let strip = if axis == 0 {
                    a.window.high.x - moved.low.x
                } else {
                    moved.high.y - a.window.low.y
                };
                assert!((strip - OVERLAP).abs() < 1e-9, "{strip}");
                // Far apart, so that they hold the page straight.
                let apart = (shared[1] - shared[0]).norm();
                assert!(apart > 0.9 * a.window.size()[1 - axis]);
                assert_same_in_strip(&case, a, b);
                met += 1;
            }
        }
    }
    assert!(met > 20, "only {met} seams were met");
}

/// What two pages share shows the same lines on both.
fn assert_same_in_strip(case: &Case, a: &Piece, b: &Piece) {
    let by = a.offset - b.offset;
    let other = b.window.moved(by);
    let shared = Bounds {
        low: a.window.low.sup(&other.low),
        high: a.window.high.inf(&other.high),
    };
    let theirs = lines(&b.page);
    for at in lines(&a.page).into_iter().flatten() {
        let own = Bounds { low: at, high: at };
        if shared.grown(-0.01).holds(&own) {
            assert!(shows(&theirs, at - by), "{} at {at}", case.name);
        }
    }
}

#[test]
fn each_page_tells_its_number_its_neighbours_and_the_sheet() {
    for case in large() {
        for seen in SIDES {
            let pages = case.pages(&on_a4(seen)).unwrap();
            let all = pieces(&case, &pages, seen);
            for (index, page) in pages.iter().enumerate() {
                let texts: Vec<&str> = page.texts.iter().map(|t| t.text.as_str()).collect();
                let number = format!("Page {} of {}", index + 1, pages.len());
                let once = |text: &str| texts.iter().filter(|own| **own == text).count() == 1;
                assert!(once(&number), "{number} in {texts:?}");
                // A cut that is drawn smaller says behind it that the bar is not for it.
                let bar = |own: &&&str| own.starts_with("Check: 100 mm from end to end");
                assert_eq!(texts.iter().filter(bar).count(), 1);
                let side = match seen {
                    Seen::Front => "top view",
                    Seen::Back => "seen from the back",
                };
                let line = |what: &str| format!("{what} · 2026-01-31 · lengths in mm");
                if index < plate_pages(&pages) {
                    let line = line(&format!("Plate, {side} · SCALE 1:1"));
                    assert!(once(&line), "{line} in {texts:?}");
                } else {
                    let scales =
                        ["1:1", "1:2", "1:5"].map(|scale| format!("Side cut · SCALE {scale}"));
                    let shown = scales.iter().filter(|what| once(&line(what))).count();
                    assert_eq!(shown, 1, "{texts:?}");
                }
                assert!(texts.contains(&case.project.name.as_str()));
            }
            // Pages with a piece come first, so a piece's index is that of its page.
            let number = |own: &Piece| {
                1 + all
                    .iter()
                    .position(|piece| piece.place == own.place)
                    .unwrap()
            };
            let joins = |own: &Piece, other: &Piece| {
                let text = format!("page {} joins here", number(other));
                own.page.texts.iter().filter(|own| own.text == text).count()
            };
            let seams = neighbours(&all);
            let told = |text: &&output::drawing::Text| text.text.ends_with("joins here");
            let names = all.iter().flat_map(|piece| &piece.page.texts).filter(told);
            assert_eq!(names.count(), 2 * seams.len());
            for (a, b, _) in seams {
                assert_eq!([joins(a, b), joins(b, a)], [1, 1], "{}", case.name);
            }
        }
    }
}

#[test]
fn the_key_plan_marks_the_page_s_own_part() {
    for case in large() {
        let pages = case.pages(&on_a4(Seen::Front)).unwrap();
        let all = pieces(&case, &pages, Seen::Front);
        let plan = |page: &Drawing| -> Vec<(Bounds, f64, usize)> {
            let own = page.strokes.iter().filter(|s| s.layer == Layer::KeyPlan);
            own.map(|s| (s.bounds().unwrap(), s.width, s.path.len()))
                .collect()
        };
        for (index, page) in pages.iter().enumerate() {
            let lines = plan(page);
            // The head, the plate, its openings, the pages, and this page again.
            let is_piece = index < all.len();
            let expected = 2 + case.laid.eyes.len() + all.len() + usize::from(is_piece);
            assert_eq!(lines.len(), expected, "{}", case.name);
            let wide: Vec<_> = lines.iter().filter(|line| line.1 > 0.4).collect();
            assert_eq!(wide.len(), usize::from(is_piece));
            let Some((own, _, corners)) = wide.first() else {
                continue;
            };
            assert_eq!(*corners, 4);
            // Its centre lies to the right of and below as many others as its column and row say.
            let cells: Vec<Point> = all.iter().map(|piece| cell(&plan(&piece.page))).collect();
            let [row, column] = all[index].place;
            for (other, at) in all.iter().zip(&cells) {
                let [r, c] = other.place;
                let off = own.centre() - at;
                assert_eq!(off.x > 1.0, column > c, "{off}");
                assert_eq!(off.y < -1.0, row > r, "{off}");
            }
        }
    }
}

/// Where a page's key plan has its own part.
fn cell(plan: &[(Bounds, f64, usize)]) -> Point {
    plan.iter().find(|line| line.1 > 0.4).unwrap().0.centre()
}

#[test]
fn no_more_pages_are_used_than_a_plain_grid_takes() {
    let mut dice = Dice(31);
    let mut saved = 0;
    for _ in 0..40 {
        let case = random_large(&mut dice);
        let pages = case.pages(&on_a4(Seen::Front)).unwrap();
        let own = plate_pages(&pages);
        if own == 1 {
            continue;
        }
        let all = pieces(&case, &pages, Seen::Front);
        // The view is at least the head and the plate: 12 mm less than a window for each further page.
        let shape = crate::joined::shape(&case, Seen::Front);
        let low = shape.iter().fold(shape[0], |low, at| low.inf(at));
        let high = shape.iter().fold(shape[0], |high, at| high.sup(at));
        // Dimensions stand at most this far outside of it.
        let room = 60.0;
        let [short, long] = [187.0, 246.5];
        let [other_short, other_long] = [160.5 - 1.0, 273.0];
        let grid = |across: f64, up: f64| {
            let count =
                |length: f64, side: f64| ((length + room - 12.0) / (side - 12.0)).ceil().max(1.0);
            count(high.x - low.x, across) * count(high.y - low.y, up)
        };
        let plain = grid(short, long).min(grid(other_long, other_short)) as usize;
        assert!(all.len() <= plain, "{} for {plain}", all.len());
        saved += usize::from(all.len() < plain);
        assert!(own - all.len() <= 1);
    }
    assert!(saved > 5);
}

#[test]
fn texts_overlap_nothing_on_the_pages_of_60_large_projects() {
    let mut dice = Dice(32);
    let mut several = 0;
    for index in 0..60 {
        let case = random_large(&mut dice);
        let own = SheetOptions {
            seen: SIDES[index % 2],
            unit: UNITS[index / 2 % 2],
            ..on_a4(Seen::Front)
        };
        let pages = case.pages(&own).unwrap();
        several += usize::from(plate_pages(&pages) > 1);
        for page in &pages {
            assert_eq!(overlaps(page), [""; 0], "{index}");
            let inner = Bounds::of_size(Point::origin(), page.page).grown(-7.0);
            assert!(inner.holds(&page.bounds().unwrap()), "{index}");
        }
    }
    assert!(several > 50, "only {several} sheets took several pages");
}

#[test]
fn what_fits_one_page_takes_one_and_has_nothing_to_join() {
    for seen in SIDES {
        let own = SheetOptions {
            seen,
            ..options(UNITS[0])
        };
        let pages = demo("bramble").pages(&own).unwrap();
        assert_eq!(plate_pages(&pages), 1);
        let joining = |layer| matches!(layer, Layer::Register | Layer::KeyPlan);
        assert!(
            { pages.iter().flat_map(|page| &page.strokes) }.all(|stroke| !joining(stroke.layer))
        );
    }
}

#[test]
fn the_file_has_its_pages_in_order_shares_its_fonts_and_is_the_same_twice() {
    for case in large() {
        let own = on_a4(Seen::Back);
        let bytes = case.pdf(&own);
        assert_eq!(bytes, case.pdf(&own));
        let count = case.pages(&own).unwrap().len();
        let pdf = Document::load_mem(&bytes).unwrap();
        let leaves: Vec<_> = pdf.page_iter().collect();
        assert_eq!(leaves.len(), count);
        for (index, leaf) in leaves.iter().enumerate() {
            let number = u32::try_from(index + 1).unwrap();
            let text = pdf.extract_text(&[number]).unwrap();
            assert!(
                text.contains(&format!("Page {number} of {count}")),
                "{text}"
            );
            assert_eq!(pdf.get_page_fonts(*leaf).unwrap().len(), 2);
        }
        let files = pdf.objects.values().filter(|object| {
            let stream = object.as_stream();
            stream.is_ok_and(|stream| stream.dict.has(b"Subtype"))
        });
        assert_eq!(files.count(), 2, "each weight is embedded once");
    }
}
