//! The sheet printed: written, and shown by the desktop's viewer.

use std::fs;
use std::time::{Duration, Instant};

use desk::keep::Keep;
use desk::window::Viewer;

use super::*;

/// How long an answer from the viewer's thread may take.
const PATIENCE: Duration = Duration::from_secs(10);

/// A viewer that leaves a mark beside the sheet that it was given.
fn marking(sheet: &Path) -> Result<(), String> {
    fs::copy(sheet, sheet.with_extension("seen"))
        .map(|_| ())
        .map_err(|error| error.to_string())
}

fn with_viewer(folder: &Path, viewer: Viewer) -> Window {
    let around = Surroundings {
        keep: Some(Keep::in_folder(folder.join("keep"))),
        viewer,
        ..Surroundings::none()
    };
    let project = desk::samples::DEFAULT.project();
    window_with(None, project, desk::window::START_SIZE, around)
}

/// Runs the window until something is so.
fn wait_until(window: &mut Window, what: impl Fn(&Window) -> bool) {
    let begun = Instant::now();
    while !what(window) {
        assert!(begun.elapsed() < PATIENCE, "it does not come about");
        std::thread::yield_now();
        window.run();
    }
}

#[test]
fn a_printed_sheet_stands_beside_its_character_and_is_shown() {
    let folder = folder("print_beside");
    let mut window = with_viewer(&folder, marking);
    save_as(&mut window, &folder.join("pip.ron"));
    press(&mut window, CTRL, Key::P);
    let sheet = folder.join("pip-sheet.pdf");
    let text = format!(
        "The sheet is in {}. Print it at 100 %, not “fit to page”.",
        sheet.display()
    );
    assert!(says(&window, &text));
    wait_until(&mut window, |_| folder.join("pip-sheet.seen").exists());
    assert!(fs::read(&sheet).unwrap().starts_with(b"%PDF-"));
    assert!(window.state().desk().history().is_saved());
}

#[test]
fn the_sheet_of_a_character_in_no_file_goes_to_the_makers_data() {
    let folder = folder("print_unsaved");
    let mut window = with_viewer(&folder, marking);
    press(&mut window, CTRL, Key::Num7);
    click(&mut window, "Print sheet");
    let sheet = folder.join("keep/sheets/bramble-the-badger-sheet.pdf");
    assert!(fs::read(sheet).unwrap().starts_with(b"%PDF-"));
}

#[test]
fn where_nothing_shows_the_sheet_the_notice_says_where_it_is() {
    let folder = folder("print_no_viewer");
    let mut window = with_viewer(&folder, |_| Err("there is no viewer".to_owned()));
    save_as(&mut window, &folder.join("pip.ron"));
    press(&mut window, CTRL, Key::P);
    let sheet = folder.join("pip-sheet.pdf").display().to_string();
    let text = format!(
        "The sheet is in {sheet}, but nothing here shows it: there is no viewer. Print it at \
         100 %, not “fit to page”."
    );
    wait_until(&mut window, |window| says(window, &text));
    window.get_by_label("Copy the path").click_accesskit();
    window.step();
    let copied = window.output().platform_output.commands.clone();
    assert!(copied.contains(&egui::OutputCommand::CopyText(sheet)));
}

#[test]
fn a_sheet_that_cannot_be_written_is_not_shown() {
    let folder = folder("print_unwritable");
    let mut window = with_viewer(&folder, marking);
    save_as(&mut window, &folder.join("pip.ron"));
    fs::create_dir(folder.join("pip-sheet.pdf")).unwrap();
    press(&mut window, CTRL, Key::P);
    assert!(says(&window, "pip-sheet.pdf` is a folder, not a file."));
    assert!(window.query_by_label("Copy the path").is_none());
}

#[test]
fn without_a_folder_the_maker_is_asked_to_save_first() {
    let mut window = window();
    press(&mut window, CTRL, Key::P);
    assert!(says(
        &window,
        "There is no folder to put the sheet in. Save the character first."
    ));
}

#[test]
fn the_sheet_is_printed_from_the_file_menu() {
    let folder = folder("print_menu");
    let mut window = with_viewer(&folder, marking);
    save_as(&mut window, &folder.join("pip.ron"));
    click(&mut window, "File");
    click(&mut window, "Print sheet");
    assert!(folder.join("pip-sheet.pdf").exists());
}
