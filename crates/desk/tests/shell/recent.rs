//! The list of recent files in the file menu.

use desk::keep::{Keep, MOST_RECENT, Recent};

use super::*;

fn keeping(keep: &Keep) -> Window {
    let around = Surroundings {
        keep: Some(keep.clone()),
        ..Surroundings::none()
    };
    let project = desk::samples::DEFAULT.project();
    window_with(None, project, desk::window::START_SIZE, around)
}

/// A character's file under this name.
fn file(folder: &Path, name: &str) -> PathBuf {
    let file = folder.join(name);
    desk::files::save(&file, &desk::samples::DEFAULT.project()).expect("it is saved");
    file
}

/// What the list is called in the file menu, from top to bottom.
fn listed(window: &mut Window, folder: &Path) -> Vec<String> {
    click(window, "File");
    let spoken = format!(" in {}", folder.display());
    let rows = window.get_all_by_label_contains(&spoken);
    let mut rows: Vec<_> = rows
        .map(|row| (row.rect().top(), row.accesskit_node().label()))
        .collect();
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    press(window, Modifiers::NONE, Key::Escape);
    let label = |label: Option<String>| label.unwrap_or_default().replace(&spoken, "");
    rows.into_iter().map(|(_, text)| label(text)).collect()
}

#[test]
fn recent_files_are_listed_newest_first_and_kept_for_the_next_run() {
    let folder = folder("recent_order");
    let keep = Keep::in_folder(folder.join("keep"));
    let [one, two] = ["one.ron", "two.ron"].map(|name| file(&folder, name));
    let mut window = keeping(&keep);
    click(&mut window, "File");
    assert!(says(
        &window,
        "None yet: they come when a file is opened or saved."
    ));
    press(&mut window, Modifiers::NONE, Key::Escape);
    open(&mut window, &one);
    open(&mut window, &two);
    save_as(&mut window, &folder.join("three.ron"));
    open(&mut window, &one);
    let order = ["one.ron", "three.ron", "two.ron"];
    assert_eq!(listed(&mut window, &folder), order);
    drop(window);
    assert_eq!(listed(&mut keeping(&keep), &folder), order);
}

#[test]
fn a_recent_file_is_opened_by_a_click_and_goes_to_the_head() {
    let folder = folder("recent_open");
    let keep = Keep::in_folder(folder.join("keep"));
    let mut window = keeping(&keep);
    for name in ["one.ron", "two.ron"] {
        open(&mut window, &file(&folder, name));
    }
    click(&mut window, "File");
    let row = format!("one.ron in {}", folder.display());
    click(&mut window, &row);
    assert_eq!(window.state().desk().file, Some(folder.join("one.ron")));
    assert_eq!(listed(&mut window, &folder), ["one.ron", "two.ron"]);
}

#[test]
fn opening_a_recent_file_asks_about_unsaved_changes_first() {
    let folder = folder("recent_unsaved");
    let mut window = keeping(&Keep::in_folder(folder.join("keep")));
    open(&mut window, &file(&folder, "one.ron"));
    enter(&mut window, "Spacing", "60");
    click(&mut window, "File");
    click(&mut window, &format!("one.ron in {}", folder.display()));
    assert!(says(&window, "Save the changes?"));
    click(&mut window, "Discard");
    assert_eq!(project(&window).eyes[1].centre[0], 29.0);
}

#[test]
fn only_the_last_ten_are_kept() {
    let folder = folder("recent_ten");
    let mut list = Recent::of(Some(&Keep::in_folder(&folder)));
    for index in 0..MOST_RECENT + 3 {
        list.note(&folder.join(format!("{index}.ron"))).unwrap();
    }
    let mut again = Recent::of(Some(&Keep::in_folder(&folder)));
    again.refresh().unwrap();
    assert_eq!(again.paths(), list.paths());
    assert_eq!(again.paths().len(), 10);
    assert_eq!(again.paths()[0], folder.join("12.ron"));
    assert_eq!(again.paths()[9], folder.join("3.ron"));
}

#[test]
fn two_windows_share_one_list() {
    let folder = folder("recent_two");
    let keep = Keep::in_folder(folder.join("keep"));
    let (mut one, mut other) = (keeping(&keep), keeping(&keep));
    open(&mut one, &file(&folder, "one.ron"));
    open(&mut other, &file(&folder, "two.ron"));
    assert_eq!(listed(&mut one, &folder), ["two.ron", "one.ron"]);
}

#[test]
fn a_recent_file_that_is_gone_says_so_and_can_be_dropped_from_the_list() {
    let folder = folder("recent_gone");
    let mut window = keeping(&Keep::in_folder(folder.join("keep")));
    for name in ["one.ron", "two.ron", "three.ron"] {
        open(&mut window, &file(&folder, name));
    }
    std::fs::remove_file(folder.join("two.ron")).unwrap();
    let order = ["three.ron", "two.ron, missing", "one.ron"];
    assert_eq!(listed(&mut window, &folder), order);

    click(&mut window, "File");
    click(
        &mut window,
        &format!("two.ron in {}, missing", folder.display()),
    );
    assert!(says(
        &window,
        "two.ron` is not there. Check the name and the folder."
    ));
    assert_eq!(window.state().desk().file, Some(folder.join("three.ron")));
    assert_eq!(listed(&mut window, &folder), order, "it stays in place");
    click(&mut window, "Drop it from the list");
    assert_eq!(window.state().desk().notice, None);
    assert_eq!(listed(&mut window, &folder), ["three.ron", "one.ron"]);
}

#[test]
fn a_file_that_was_never_on_the_list_is_not_offered_to_be_dropped() {
    let folder = folder("recent_never");
    let mut window = keeping(&Keep::in_folder(folder.join("keep")));
    open(&mut window, &folder.join("nowhere.ron"));
    assert!(says(&window, "is not there."));
    assert!(window.query_by_label("Drop it from the list").is_none());
}

#[test]
fn the_list_is_cleared_and_the_files_stay() {
    let folder = folder("recent_clear");
    let keep = Keep::in_folder(folder.join("keep"));
    let mut window = keeping(&keep);
    let one = file(&folder, "one.ron");
    open(&mut window, &one);
    click(&mut window, "File");
    click(&mut window, "Clear the list");
    assert!(one.exists());
    for mut window in [window, keeping(&keep)] {
        click(&mut window, "File");
        assert!(says(&window, "None yet"));
    }
}

#[test]
fn a_broken_list_is_told_once_and_kept_as_a_backup() {
    let folder = folder("recent_broken");
    let keep = Keep::in_folder(folder.join("keep"));
    std::fs::create_dir_all(folder.join("keep")).unwrap();
    std::fs::write(keep.recent_file(), "Recent(files: [").unwrap();
    let mut window = keeping(&keep);
    assert!(says(&window, "This is no list of recent files"));
    click(&mut window, "Dismiss");
    open(&mut window, &file(&folder, "one.ron"));
    assert_eq!(window.state().desk().notice, None);
    assert_eq!(listed(&mut window, &folder), ["one.ron"]);
    let backup = desk::files::backup_of(&keep.recent_file());
    assert_eq!(std::fs::read_to_string(backup).unwrap(), "Recent(files: [");
}

#[test]
fn a_list_that_cannot_be_written_is_told_once_and_stops_nothing() {
    let folder = folder("recent_unwritable");
    // A file stands where the folder should be.
    std::fs::write(folder.join("keep"), "in the way").unwrap();
    let mut window = keeping(&Keep::in_folder(folder.join("keep")));
    open(&mut window, &file(&folder, "one.ron"));
    assert!(says(
        &window,
        "The list of recent files cannot be kept: The folder"
    ));
    assert_eq!(window.state().desk().file, Some(folder.join("one.ron")));
    open(&mut window, &file(&folder, "two.ron"));
    assert_eq!(window.state().desk().notice, None);
    assert_eq!(listed(&mut window, &folder), ["two.ron", "one.ron"]);
}

#[test]
fn a_file_that_the_program_was_started_with_is_listed_by_its_whole_path() {
    let folder = folder("recent_started");
    let keep = Keep::in_folder(folder.join("keep"));
    let around = Surroundings {
        keep: Some(keep.clone()),
        ..Surroundings::none()
    };
    let project = desk::samples::DEFAULT.project();
    let here = PathBuf::from("started.ron");
    window_with(Some(here), project, desk::window::START_SIZE, around);
    let mut list = Recent::of(Some(&keep));
    list.refresh().unwrap();
    let whole = std::env::current_dir().unwrap().join("started.ron");
    assert_eq!(list.paths(), [whole]);
}

#[test]
fn the_menu_opens_under_a_real_pointer() {
    let mut window = window();
    let at = window.get_by_label("File").rect().center();
    window.hover_at(at);
    window.run();
    for pressed in [true, false] {
        window.event(egui::Event::PointerButton {
            pos: at,
            button: egui::PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        });
        window.run();
    }
    assert!(window.query_by_label("Save as").is_some());
}
