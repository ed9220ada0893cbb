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
    press(&mut window, CTRL, Key::Num7);
    assert!(
        window
            .query_by_label("The sheet on 2 pages of A4 portrait")
            .is_some()
    );
    click(&mut window, "Paper: A3");
    click(&mut window, "Way round: landscape");
    assert!(
        window
            .query_by_label("The sheet on 2 pages of A3 landscape")
            .is_some()
    );
}

#[test]
fn a_sheet_of_too_many_pages_says_so_and_saves_nothing() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num1);
    enter(&mut window, "Width", "2000");
    enter(&mut window, "Head height", "2000");
    enter(&mut window, "Squareness, 0 to 0.9", "0.9");
    click(&mut window, "Start again from this shape");
    press(&mut window, CTRL, Key::Num7);
    assert!(says(&window, "and a sheet has at most 40 pages"));
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
    press(&mut window, CTRL, Key::Num7);
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

#[test]
fn a_sheet_larger_than_the_paper_is_shown_page_by_page() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num1);
    enter(&mut window, "Width", "420");
    enter(&mut window, "Head height", "380");
    click(&mut window, "Start again from this shape");
    press(&mut window, CTRL, Key::Num7);
    click(&mut window, "Paper: A4");
    assert!(says(&window, "pages of A4"));
    assert!(says(&window, "page 1 of "));
    click(&mut window, "Next page →");
    assert!(says(&window, "page 2 of "));
    click(&mut window, "← Page before");
    assert!(says(&window, "page 1 of "));
}

#[test]
fn the_sheet_is_drawn_from_the_side_that_is_chosen() {
    let mut window = window();
    press(&mut window, CTRL, Key::Num7);
    let folder = folder("sheet-back");
    let save = |window: &mut Window, name: &str| {
        let path = folder.join(name);
        press(window, CTRL, Key::E);
        enter(window, "Path of the file", text_of(&path));
        std::fs::read(path).expect("the sheet was written")
    };
    let front = save(&mut window, "front.pdf");
    click(&mut window, "Seen from the: back");
    assert_ne!(save(&mut window, "back.pdf"), front);
    click(&mut window, "Seen from the: front");
    assert_eq!(save(&mut window, "again.pdf"), front);
}
