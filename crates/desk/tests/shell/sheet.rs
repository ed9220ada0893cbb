//! The sheet's step: its picture, its paper, its file.

use super::*;

#[test]
fn the_sheet_is_saved_as_a_pdf() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("shell/sheet");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let mut window = window();
    press(&mut window, CTRL, Key::E);
    enter(
        &mut window,
        "Path of the file",
        folder.join("plate").to_str().unwrap(),
    );
    let pdf = std::fs::read(folder.join("plate.pdf")).unwrap();
    assert!(pdf.starts_with(b"%PDF-"), "{:?}", &pdf[..5]);
    assert!(says(&window, "The sheet is in "));
    assert_eq!(
        window.state().desk().file,
        None,
        "the sheet is not the character's file"
    );
}

#[test]
fn the_sheet_does_not_take_the_place_of_the_characters_own_file() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("shell/own");
    std::fs::create_dir_all(&folder).unwrap();
    let own = folder.join("own.ron");
    let _ = std::fs::remove_file(&own);
    let mut window = window();
    press(&mut window, CTRL | Modifiers::SHIFT, Key::S);
    enter(&mut window, "Path of the file", own.to_str().unwrap());
    let saved = std::fs::read(&own).unwrap();
    press(&mut window, CTRL, Key::E);
    enter(&mut window, "Path of the file", own.to_str().unwrap());
    click(&mut window, "Replace it");
    assert!(says(
        &window,
        "The sheet would take the place of the character's own file."
    ));
    assert_eq!(std::fs::read(&own).unwrap(), saved);
}

#[test]
fn the_page_is_named_and_follows_the_choice_of_paper() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num4);
    assert!(window.query_by_label("The sheet on A4 portrait").is_some());
    click(&mut window, "Paper: A3");
    click(&mut window, "Way round: landscape");
    assert!(window.query_by_label("The sheet on A3 landscape").is_some());
}

#[test]
fn a_sheet_that_fits_on_no_page_says_so_and_saves_nothing() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num1);
    enter(&mut window, "Width", "700");
    enter(&mut window, "Head height", "700");
    click(&mut window, "Start again from this shape");
    press(&mut window, CTRL, Key::Num4);
    assert!(says(&window, "does not fit on"));
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("too-large.pdf");
    press(&mut window, CTRL, Key::E);
    enter(&mut window, "Path of the file", path.to_str().unwrap());
    assert!(
        window
            .state()
            .desk()
            .notice
            .as_ref()
            .is_some_and(|notice| notice.trouble)
    );
    assert!(!path.exists());
}

#[test]
fn what_is_blank_in_the_title_block_is_named() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num4);
    assert!(says(
        &window,
        "Still blank: legal owner, number, drawn by, approved by."
    ));
    enter(&mut window, "Number", "P-7");
    assert!(says(
        &window,
        "Still blank: legal owner, drawn by, approved by."
    ));
}
