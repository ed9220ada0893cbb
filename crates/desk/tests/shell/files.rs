//! New, open, save, and what becomes of unsaved changes.

use std::sync::Arc;

use egui::ViewportId;

use super::*;

#[test]
fn what_is_saved_is_opened_again_the_same() {
    let folder = folder("round_trip");
    let mut window = window();
    enter(&mut window, "Spacing", "60.25");
    save_as(&mut window, &folder.join("pip"));
    let file = folder.join("pip.ron");
    let saved = project(&window).clone();
    assert!(says(&window, "pip.ron, saved"));
    assert!(says(&window, &format!("Saved in {}.", file.display())));

    press(&mut window, CTRL, Key::N);
    assert_ne!(*project(&window), saved);
    open(&mut window, &file);
    assert_eq!(*project(&window), saved);
    assert_eq!(window.state().desk().file, Some(file));
    assert!(window.state().desk().history().is_saved());
}

#[test]
fn saving_again_asks_nothing_and_keeps_a_backup() {
    let folder = folder("again");
    let mut window = window();
    save_as(&mut window, &folder.join("pip.ron"));
    enter(&mut window, "Spacing", "60");
    assert!(says(&window, "pip.ron, changed"));
    press(&mut window, CTRL, Key::S);
    assert!(says(&window, "pip.ron, saved"));
    assert!(folder.join("pip.ron.bak").exists());
}

#[test]
fn a_file_is_replaced_only_after_asking() {
    let folder = folder("replace");
    let file = folder.join("taken.ron");
    std::fs::write(&file, "something else").unwrap();
    let mut window = window();
    save_as(&mut window, &file);
    assert!(says(&window, "is already there. Replace it?"));
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "something else");
    click(&mut window, "Replace it");
    assert!(std::fs::read_to_string(&file).unwrap().contains("Bramble"));
    assert!(window.state().desk().history().is_saved());
}

#[test]
fn a_name_that_gets_its_extension_does_not_replace_a_file_unasked() {
    let folder = folder("extension");
    std::fs::write(folder.join("taken.ron"), "something else").unwrap();
    let mut window = window();
    save_as(&mut window, &folder.join("taken"));
    assert!(says(&window, "is already there. Replace it?"));
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(
        std::fs::read_to_string(folder.join("taken.ron")).unwrap(),
        "something else"
    );
}

#[test]
fn a_file_that_cannot_be_read_is_told_and_nothing_is_lost() {
    let folder = folder("bad");
    let file = folder.join("bad.ron");
    std::fs::write(&file, "Project(").unwrap();
    let mut window = window();
    let before = project(&window).clone();
    open(&mut window, &file);
    assert_eq!(*project(&window), before);
    let notice = window
        .state()
        .desk()
        .notice
        .clone()
        .expect("the window says why");
    assert!(
        notice.trouble && notice.text.contains("bad.ron"),
        "{}",
        notice.text
    );
    open(&mut window, &folder.join("not-there.ron"));
    assert!(says(
        &window,
        "is not there. Check the name and the folder."
    ));
    click(&mut window, "Dismiss");
    assert_eq!(window.state().desk().notice, None);
}

#[test]
fn a_file_that_cannot_be_written_is_told_and_the_changes_stay_unsaved() {
    let mut window = window();
    enter(&mut window, "Spacing", "60");
    save_as(
        &mut window,
        &folder("unwritable").join("no/such/folder/pip.ron"),
    );
    assert!(
        window
            .state()
            .desk()
            .notice
            .as_ref()
            .is_some_and(|notice| notice.trouble)
    );
    assert!(!window.state().desk().history().is_saved());
    assert!(says(&window, "changed, in no file yet"));
}

#[test]
fn unsaved_changes_are_asked_about_before_a_new_character() {
    let mut window = window();
    enter(&mut window, "Spacing", "60");
    let changed = project(&window).clone();
    press(&mut window, CTRL, Key::N);
    assert!(says(&window, "Save the changes?"));
    assert!(says(
        &window,
        "Bramble the badger has changes that are in no file yet."
    ));
    click(&mut window, "Cancel");
    assert_eq!(*project(&window), changed);

    press(&mut window, CTRL, Key::N);
    click(&mut window, "Discard");
    assert_eq!(project(&window).name, "");
    assert!(says(&window, "Unnamed character"));
    assert!(!says(&window, "Save the changes?"));
}

#[test]
fn the_question_is_answered_by_keys() {
    let mut window = window();
    enter(&mut window, "Spacing", "60");
    press(&mut window, CTRL, Key::N);
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert!(
        window.query_by_label("Path of the file").is_some(),
        "Enter saves"
    );
    press(&mut window, Modifiers::NONE, Key::Escape);
    press(&mut window, CTRL, Key::N);
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(!says(&window, "Save the changes?"));
    assert_eq!(project(&window).eyes[1].centre[0], 30.0);
}

#[test]
fn saving_in_the_question_goes_on_to_what_was_asked() {
    let folder = folder("question");
    let mut window = window();
    enter(&mut window, "Spacing", "60");
    press(&mut window, CTRL, Key::N);
    window
        .get_all_by_label("Save")
        .last()
        .unwrap()
        .click_accesskit();
    window.run();
    enter(
        &mut window,
        "Path of the file",
        folder.join("kept.ron").to_str().unwrap(),
    );
    assert_eq!(project(&window).name, "");
    assert_eq!(
        desk::files::read(&folder.join("kept.ron")).unwrap().eyes[1].centre[0],
        30.0
    );
}

/// Asks the window to close, as the desktop does.
pub(super) fn close(window: &mut Window) -> Vec<egui::ViewportCommand> {
    let viewports = &mut window.input_mut().viewports;
    let root = viewports
        .get_mut(&ViewportId::ROOT)
        .expect("the window's own viewport");
    root.events.push(egui::ViewportEvent::Close);
    window.step();
    let commands = window.output().viewport_output[&ViewportId::ROOT]
        .commands
        .clone();
    let viewports = &mut window.input_mut().viewports;
    viewports
        .get_mut(&ViewportId::ROOT)
        .expect("the window's own viewport")
        .events
        .clear();
    window.run();
    commands
}

#[test]
fn closing_with_unsaved_changes_asks_and_closing_without_does_not() {
    let mut window = window();
    assert!(!close(&mut window).contains(&egui::ViewportCommand::CancelClose));
    assert!(!says(&window, "Save the changes?"));

    enter(&mut window, "Spacing", "60");
    assert!(close(&mut window).contains(&egui::ViewportCommand::CancelClose));
    assert!(says(&window, "Save the changes?"));
    window.get_by_label("Discard").click_accesskit();
    let closes = |window: &mut Window| {
        window.step();
        let commands = &window.output().viewport_output[&ViewportId::ROOT].commands;
        commands.contains(&egui::ViewportCommand::Close)
    };
    assert!((0..3).any(|_| closes(&mut window)), "the window closes");
}

#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

#[test]
fn a_dropped_file_is_opened() {
    let file = folder("dropped").join("old.ron");
    desk::files::save(&file, &Sample::called("old-tarn").unwrap().project()).unwrap();
    let mut window = window();
    window
        .input_mut()
        .dropped_files
        .push(Arc::new(Dropped(file.clone())));
    window.run();
    assert_eq!(window.state().desk().file, Some(file));
    assert_eq!(
        *project(&window),
        Sample::called("old-tarn").unwrap().project()
    );
}
