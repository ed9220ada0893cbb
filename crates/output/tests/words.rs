//! What a reader can select and search: every text of the sheet, and the figures of the project.

use layout::limits::State;
use lopdf::Document;
use output::sheet::SheetOptions;

use crate::projects::{Case, UNITS, demo, demos, options};

/// The page's text as another reader gets it, without line ends.
fn selectable(case: &Case, options: &SheetOptions) -> String {
    let pdf = Document::load_mem(&case.pdf(options)).unwrap();
    pdf.extract_text(&[1]).unwrap().replace('\n', "")
}

#[test]
fn every_text_of_the_drawing_can_be_selected() {
    for case in demos() {
        for unit in UNITS {
            let options = options(unit);
            let page = selectable(&case, &options);
            for text in case.drawing(&options).unwrap().texts {
                assert!(
                    page.contains(&text.text),
                    "{}: “{}” in {page}",
                    case.name,
                    text.text
                );
            }
        }
    }
}

#[test]
fn the_sheet_gives_the_project_s_lengths_in_the_chosen_unit() {
    let case = demo("bramble");
    let texts = |unit| {
        let drawing = case.drawing(&options(unit)).unwrap();
        drawing
            .texts
            .into_iter()
            .map(|text| text.text)
            .collect::<Vec<_>>()
    };
    let figures = &case.report.figures;
    let eye = &figures.eyes[0];
    let lengths = [
        ("", figures.pairs[0].spacing_mm.unwrap(), ""),
        ("", figures.plate.plate_width_mm.unwrap(), ""),
        ("", figures.plate.plate_height_mm.unwrap(), ""),
        ("Rim ", figures.plate.rim_mm.unwrap(), ""),
        ("2 × Ø", 2.0 * eye.opening_front_mm.unwrap(), " front"),
        ("Ø", 2.0 * eye.opening_back_mm.unwrap(), " back"),
        ("", case.project.ties[0].at[0], ""),
        ("", case.project.ties[0].at[1], ""),
    ];
    let (mm, inch) = (texts(UNITS[0]), texts(UNITS[1]));
    for (before, length, after) in lengths {
        // Two decimals, the last left out where it is 0; three in inches.
        let rounded = format!("{length:.2}");
        let short = rounded.strip_suffix('0').unwrap_or(&rounded);
        let in_mm = format!("{before}{short}{after}");
        assert!(mm.contains(&in_mm), "{in_mm} not in {mm:?}");
        let in_inches = format!("{before}{:.3}{after}", length / 25.4);
        assert!(inch.contains(&in_inches), "{in_inches} not in {inch:?}");
    }
}

#[test]
fn the_title_block_has_its_fields() {
    let mut case = demo("bramble");
    case.project.title_block.owner = "The Fern Street workshop".to_owned();
    case.project.title_block.number = "GW-0007".to_owned();
    case.project.title_block.creator = "A. Maker".to_owned();
    case.project.title_block.approved_by = "B. Second".to_owned();
    let page = selectable(&case, &options(UNITS[0]));
    // EN ISO 7200:2004, mandatory fields, as tabulated in a help page.
    for field in [
        "Legal owner",
        "Identification number",
        "Date of issue",
        "Sheet",
        "Title",
        "Approval person",
        "Creator",
        "Document type",
    ] {
        assert!(page.contains(field), "{field}");
    }
    for value in [
        "The Fern Street workshop",
        "GW-0007",
        "A. Maker",
        "B. Second",
        "2026-01-31",
        "Bramble the badger",
        "Plate, top view",
        "1/2",
    ] {
        assert!(page.contains(value), "{value}");
    }
}

#[test]
fn the_sheet_tells_how_long_each_tie_is() {
    let mut case = demo("bramble");
    let words = |text: &str| text.split_whitespace().collect::<String>();
    // Worked by hand, plate and wall 3 mm each: √(11² + 4²) = 11.70 mm of way, 2 × 17.70 + 35 = 70.4 mm, and
    // √(10² + 16²) = 18.87 mm, 2 × 24.87 + 35 = 84.7 mm.
    let ties = &case.report.figures.ties;
    let lengths: Vec<f64> = ties.iter().filter_map(|tie| tie.tie_length_mm).collect();
    assert_eq!(lengths, [80.0, 80.0, 100.0, 100.0]);
    let page = words(&selectable(&case, &options(UNITS[0])));
    let said = "Tie length: the shortest usual one that goes there and back through plate and wall, with 35.0 mm for \
                head and tail.";
    assert!(page.contains(&words(said)), "{page}");
    assert!(!page.contains("jointwo"));
    case.project.head.wall_thickness = 400.0;
    let far = Case::of("far", case.project);
    assert_eq!(far.report.figures.ties[0].tie_length_mm, None);
    let page = words(&selectable(&far, &options(UNITS[0])));
    assert!(page.contains("nousualtieisaslong;jointwo."), "{page}");
}

#[test]
fn a_long_entry_is_cut_to_its_field_and_says_so() {
    let mut case = demo("bramble");
    case.project.title_block.owner = "A very long name of a very long company ".repeat(4);
    let drawing = case.drawing(&options(UNITS[0])).unwrap();
    let owner = drawing
        .texts
        .iter()
        .find(|text| text.text.starts_with("A very long"))
        .unwrap();
    assert!(owner.text.ends_with('…'));
    assert_eq!(crate::overlap::overlaps(&drawing), [""; 0]);
}

#[test]
fn a_character_that_the_typeface_lacks_does_not_stop_the_sheet() {
    let mut case = demo("bramble");
    case.project.name = "狸 Tanuki Ærø Łódź".to_owned();
    let page = selectable(&case, &options(UNITS[0]));
    assert!(page.contains("Tanuki Ærø Łódź"));
}

#[test]
fn the_sheet_repeats_the_report_s_fouls_and_what_was_not_checked() {
    let mut seen = [false; 2];
    for case in demos() {
        let of = |state| {
            case.report
                .findings
                .iter()
                .filter(move |finding| finding.state == state)
        };
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join("");
        let page = words(&selectable(&case, &options(UNITS[0])));
        let fouls = of(State::Fouls).count();
        seen[usize::from(fouls > 0)] = true;
        let tight = of(State::Tight).count();
        let heading = match fouls {
            // What is not checked may foul.
            0 if tight == 0 && of(State::NotChecked).count() > 0 => "Clear so far".to_owned(),
            0 if tight == 0 => "Checked: all clear".to_owned(),
            0 => format!("Checked: no foul, {tight} tight"),
            1 => "Checked: 1 foul".to_owned(),
            many => format!("Checked: {many} fouls"),
        };
        assert!(page.contains(&words(&heading)), "{}: {heading}", case.name);
        for foul in of(State::Fouls).take(6) {
            assert!(
                page.contains(&words(foul.sentence.trim_end_matches('.'))),
                "{}: {}",
                case.name,
                foul.sentence
            );
        }
        let ids: Vec<&str> = of(State::NotChecked).map(|finding| finding.id).collect();
        let list = words(&format!("Not checked yet: {}.", ids.join(", ")));
        assert!(
            ids.is_empty() || page.contains(&list),
            "{}: {list}",
            case.name
        );
    }
    assert_eq!(
        seen,
        [true, true],
        "the demos hold no sound or no fouling project"
    );
}

#[test]
fn the_cautions_are_said_once() {
    let page = selectable(&demo("bramble"), &options(UNITS[0]));
    for words in [
        "Small parts and balls",
        "children under 3",
        "mesh and wire ends",
        "strained tie",
        "Glue and solvent",
        "never PVC",
        "celluloid",
        "pinch",
        "heavy head",
        "qualified person",
    ] {
        assert_eq!(page.matches(words).count(), 1, "{words}");
    }
}
