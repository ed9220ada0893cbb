//! Files made to exhaust their reader or to make it read something else are refused or bounded.

use std::fmt::Write;

use intake::Format;

use crate::common::{PATIENCE, found, near, refusal, svg};

#[test]
fn entities_that_multiply_are_refused() {
    let mut text = r#"<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a0 "ha">"#.to_owned();
    for level in 1..12 {
        let more = format!("&a{};", level - 1).repeat(10);
        write!(text, "<!ENTITY a{level} \"{more}\">").unwrap();
    }
    text += r#"]><svg xmlns="http://www.w3.org/2000/svg"><desc>&a11;</desc><circle r="9"/></svg>"#;
    let started = std::time::Instant::now();
    let error = refusal(text.as_bytes(), Format::Svg);
    assert_eq!(
        error.to_string(),
        "With all its copies of copies, the file draws more than 255 things."
    );
    assert!(started.elapsed().as_secs() < PATIENCE);
}

#[test]
fn entities_within_bounds_are_read() {
    let text = r#"<!DOCTYPE svg [<!ENTITY size "60">]>
        <svg xmlns="http://www.w3.org/2000/svg" width="200mm" viewBox="0 0 200 200"><circle r="&size;"/></svg>"#;
    near(
        found(text, Format::Svg).shapes[0].outline.area(),
        found(&svg(r#"<circle r="60"/>"#), Format::Svg).shapes[0]
            .outline
            .area(),
        1e-3,
    );
}

#[test]
fn copies_of_copies_without_end_are_refused() {
    let mut body = r#"<defs><g id="u0"><circle r="9"/></g>"#.to_owned();
    for level in 1..20 {
        let uses = format!(r##"<use href="#u{}"/>"##, level - 1).repeat(10);
        write!(body, r#"<g id="u{level}">{uses}</g>"#).unwrap();
    }
    body += r##"</defs><use href="#u19"/>"##;
    let started = std::time::Instant::now();
    let error = refusal(svg(&body).as_bytes(), Format::Svg);
    assert_eq!(
        error.to_string(),
        "With all its copies of copies, the file draws more than 100000 things."
    );
    assert!(started.elapsed().as_secs() < PATIENCE);
}

#[test]
fn a_copy_of_itself_is_refused_by_name() {
    for body in [
        r##"<g id="a"><use href="#a"/></g>"##,
        r##"<g id="a"><use href="#b"/></g><g id="b"><use href="#c"/></g><g id="c"><use href="#a"/></g>"##,
    ] {
        let error = refusal(svg(body).as_bytes(), Format::Svg);
        assert_eq!(error.to_string(), "“a” is drawn as a part of itself.");
    }
}

#[test]
fn groups_a_hundred_thousand_deep_are_refused() {
    let body = "<g>".repeat(100_000) + r#"<circle r="9"/>"# + &"</g>".repeat(100_000);
    let error = refusal(svg(&body).as_bytes(), Format::Svg);
    assert_eq!(
        error.to_string(),
        "The file's groups and copies lie more than 64 deep in each other."
    );
    let fifty = "<g>".repeat(50) + r#"<circle r="9"/>"# + &"</g>".repeat(50);
    assert_eq!(found(&svg(&fifty), Format::Svg).shapes.len(), 1);
}

#[test]
fn styles_markers_and_patterns_that_multiply_are_bounded() {
    let started = std::time::Instant::now();
    let rules = ".a .b { fill: red }".repeat(20_000);
    let body = format!(
        "<style>{rules}</style>{}",
        r#"<circle class="b" r="9"/>"#.repeat(2_000)
    );
    let error = refusal(svg(&body).as_bytes(), Format::Svg);
    assert_eq!(
        error.to_string(),
        "The file has 20000 style rules, too many for its elements."
    );
    let mut body = String::new();
    for level in 0..12 {
        let inner = format!(
            r#"<path d="M0 0h9v9h-9z" fill="url(#p{})" marker-mid="url(#m{})"/>"#,
            level + 1,
            level + 1
        )
        .repeat(10);
        write!(
            body,
            r#"<pattern id="p{level}" width="9" height="9">{inner}</pattern><marker id="m{level}">{inner}</marker>"#
        )
        .unwrap();
    }
    body += r#"<circle r="60" style="fill:url(#p0);stroke:url(#p0);marker:url(#m0)"/>"#;
    assert_eq!(found(&svg(&body), Format::Svg).shapes.len(), 1);
    assert!(
        started.elapsed().as_secs() < PATIENCE,
        "{:?}",
        started.elapsed()
    );
}

/// A file that holds a closed outline, and how an SVG at `path` would be asked for.
fn with_bait(path: &str) -> [String; 5] {
    [
        format!(r#"<image href="{path}" width="300" height="300"/>"#),
        format!(r#"<image xlink:href="file://{path}" width="300" height="300"/>"#),
        format!(r#"<use href="{path}#bait"/>"#),
        format!(r#"<style>@import url("{path}"); rect {{ fill: red }}</style>"#),
        format!(r#"<filter id="f"><feImage href="{path}"/></filter>"#),
    ]
}

#[test]
fn nothing_outside_the_file_is_read_and_what_it_asks_for_is_said() {
    // The bait is a drawing with a larger shape: if it were read, that would be found.
    let folder = std::env::temp_dir().join(format!("intake-bait-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join("bait.svg");
    std::fs::write(&path, svg(r#"<circle id="bait" r="500"/>"#)).unwrap();
    let name = path.to_str().unwrap();
    // Long ago: whoever reads it now leaves a trace, where the disk keeps account of reading.
    let long_ago = std::time::SystemTime::UNIX_EPOCH + std::time::Duration::from_secs(86_400);
    let times = std::fs::FileTimes::new()
        .set_accessed(long_ago)
        .set_modified(long_ago);
    let bait_file = std::fs::File::options().write(true).open(&path).unwrap();
    bait_file.set_times(times).unwrap();
    for bait in with_bait(name) {
        let body = format!(r#"{bait}<circle cx="100" cy="100" r="60"/>"#);
        let found = found(&svg(&body), Format::Svg);
        assert_eq!(found.shapes.len(), 1, "{bait}");
        near(
            crate::common::size(&found.shapes[0].scaled(found.unit.unwrap()))[0],
            120.0,
            1e-2,
        );
        let [note] = &found.notes[..] else {
            panic!("{bait}: {:?}", found.notes);
        };
        assert!(
            note.ends_with("” lies outside the file and was not read."),
            "{note}"
        );
    }
    // Nothing else in the file: the refusal says what is missing.
    let error = refusal(
        svg(r#"<use href="head.svg#bait"/>"#).as_bytes(),
        Format::Svg,
    );
    assert_eq!(
        error.to_string(),
        "The file holds no closed shape: “head.svg#bait” lies outside the file and was not read."
    );
    // An entity that stands for another file.
    let text = format!(
        r#"<!DOCTYPE svg [<!ENTITY bait SYSTEM "file://{name}">]>
        <svg xmlns="http://www.w3.org/2000/svg">&bait;<circle r="60"/></svg>"#
    );
    let error = refusal(text.as_bytes(), Format::Svg);
    assert_eq!(
        error.to_string(),
        "The file asks for “&bait;”, and nothing outside the file is read."
    );
    assert_eq!(error.remedy(), "Save it with everything in it.");
    let read_last = std::fs::metadata(&path).unwrap().accessed().unwrap();
    assert_eq!(read_last, long_ago);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_picture_within_the_file_is_passed_over_without_a_word() {
    let picture = r#"<image width="300" height="300" href="data:image/svg+xml;utf8,<svg xmlns='http://www.w3.org/2000/svg' width='300' height='300'><rect width='300' height='300'/></svg>"/>"#
        .replace('<', "&lt;")
        .replacen("&lt;", "<", 1);
    let found = found(&svg(&(picture + r#"<circle r="60"/>"#)), Format::Svg);
    assert_eq!((found.shapes.len(), found.notes.len()), (1, 0));
}

#[test]
fn thousands_of_shapes_are_bounded_to_the_largest() {
    let mut body = String::new();
    for step in 0..5_000 {
        write!(
            body,
            r#"<circle cx="{step}" cy="9" r="{}"/>"#,
            1 + step % 89
        )
        .unwrap();
    }
    let found = found(&svg(&body), Format::Svg);
    assert_eq!(found.shapes.len(), 100);
    assert_eq!(
        found.notes,
        ["The file has 5000 closed shapes; the 100 largest are offered."]
    );
}
