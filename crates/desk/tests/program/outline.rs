//! A head outline from a drawing.

use serde_json::Value;

use crate::folder::{Folder, run};

/// An ellipse of 150 × 180 mm, and a small circle beside it.
const SVG: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297">
<ellipse cx="100" cy="120" rx="75" ry="90" fill="none" stroke="black"/>
<circle cx="20" cy="20" r="8" fill="none" stroke="black"/>
</svg>"#;

fn outline(json: &str) -> Vec<[f64; 2]> {
    let answer: Value = serde_json::from_str(json).expect("JSON");
    serde_json::from_value(answer["project"]["head"]["outline"].clone()).expect("points")
}

#[test]
fn the_largest_closed_shape_of_a_drawing_becomes_the_head() {
    let folder = Folder::new();
    folder.write("head.svg", SVG);
    let arguments = [
        "check",
        "--sample",
        "old-tarn",
        "--json",
        "--outline",
        "head.svg",
    ];
    let (status, out, errors) = run(folder.path(), &arguments);
    assert_eq!(status, 0);
    assert_eq!(
        errors,
        "The head outline is shape 1 of head.svg, one of 2 in it: 150.0 × 180.0 mm.\n"
    );
    let points = outline(&out);
    let span = |axis: usize| {
        let all = points.iter().map(|point| point[axis]);
        let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
        [low, high]
    };
    let ([left, right], [bottom, top]) = (span(0), span(1));
    assert!((right - left - 150.0).abs() < 0.1 && (top - bottom - 180.0).abs() < 0.1);
    assert!((left + right).abs() < 0.1, "it lies about the centre line");
}

#[test]
fn a_drawing_without_a_unit_is_asked_for_it() {
    let folder = Folder::new();
    folder.write(
        "head.svg",
        SVG.replace("width=\"210mm\" height=\"297mm\" ", ""),
    );
    let arguments = ["check", "--sample", "old-tarn", "--outline", "head.svg"];
    let (status, _, errors) = run(folder.path(), &arguments);
    assert_eq!(status, 2);
    assert_eq!(
        errors,
        "head.svg: The drawing states no unit.\nAdd `--outline-unit mm`, `cm`, `in` or `px`.\n"
    );
    let with_unit = [&arguments[..], &["--outline-unit", "mm"]].concat();
    assert_eq!(run(folder.path(), &with_unit).0, 0);
}

#[test]
fn a_file_that_is_no_drawing_is_refused_by_name() {
    let folder = Folder::new();
    folder.write("notes.txt", "wall, 150 mm");
    folder.write("notes.svg", "wall, 150 mm");
    for (name, cause) in [
        (
            "notes.txt",
            "`notes.txt` is named neither `.svg` nor `.dxf`.",
        ),
        ("absent.dxf", "`absent.dxf` is not there."),
        ("notes.svg", "notes.svg: "),
    ] {
        let arguments = [
            "sheet",
            "--sample",
            "old-tarn",
            "-o",
            "a.pdf",
            "--outline",
            name,
        ];
        let (status, _, errors) = run(folder.path(), &arguments);
        assert_eq!(status, 2, "{name}");
        assert!(errors.starts_with(cause), "{errors}");
        assert_eq!(errors.lines().count(), 2, "{errors}");
        assert!(!folder.file("a.pdf").exists());
    }
}
