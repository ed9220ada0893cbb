//! The recovery copy: when there is one, and what becomes of it.

use std::fs;

use desk::files;
use desk::keep::Keep;
use desk::window::COPY_INTERVAL;
use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::*;

/// When a test begins, in seconds of the window's clock.
pub(super) const START: f64 = 100.0;

pub(super) struct Bench {
    pub(super) folder: PathBuf,
    keep: Keep,
}

impl Bench {
    pub(super) fn new(name: &str) -> Self {
        let folder = folder(name);
        let keep = Keep::in_folder(folder.join("keep"));
        Self { folder, keep }
    }

    /// A window on the sample, begun at [`START`].
    pub(super) fn window(&self) -> Window {
        let around = Surroundings {
            keep: Some(self.keep.clone()),
            ..Surroundings::none()
        };
        let project = desk::samples::DEFAULT.project();
        let mut window = window_with(None, project, desk::window::START_SIZE, around);
        clock(&mut window, START);
        window
    }

    /// A window whose character was changed and copied.
    fn copied(&self, spacing: &str) -> Window {
        let mut window = self.window();
        enter(&mut window, "Spacing", spacing);
        clock(&mut window, START + COPY_INTERVAL);
        assert!(!self.copies().is_empty(), "a copy was taken");
        window
    }

    /// The copies that there are, oldest name first.
    pub(super) fn copies(&self) -> Vec<PathBuf> {
        let entries = fs::read_dir(self.keep.copies()).into_iter().flatten();
        let paths = entries.map(|entry| entry.expect("the folder can be read").path());
        let mut copies: Vec<_> = paths
            .filter(|path| path.extension().is_some_and(|end| end == "ron"))
            .collect();
        copies.sort();
        copies
    }

    /// Everything in the folder of the copies.
    pub(super) fn is_bare(&self) -> bool {
        fs::read_dir(self.keep.copies()).is_ok_and(|mut entries| entries.next().is_none())
    }

    /// Puts a copy there as a program that is gone would have left it.
    pub(super) fn leave(&self, name: &str, file: &str, taken: &str, project: &str) {
        fs::create_dir_all(self.keep.copies()).expect("the folder is made");
        let text = format!("// Recovery copy: (file:{file},taken:Some(\"{taken}\"))\n{project}");
        fs::write(self.keep.copies().join(name), text).expect("the copy is written");
    }
}

/// Sets the window's clock.
pub(super) fn clock(window: &mut Window, seconds: f64) {
    window.input_mut().time = Some(seconds);
    window.run();
}

fn spacing_in(copy: &Path) -> f64 {
    files::read(copy).expect("a copy is a project file").eyes[1].centre[0] * 2.0
}

#[test]
fn a_copy_is_taken_after_thirty_seconds_of_unsaved_changes_and_not_before() {
    let bench = Bench::new("copy_after");
    let mut window = bench.window();
    clock(&mut window, START + 10.0 * COPY_INTERVAL);
    assert!(bench.copies().is_empty(), "nothing was changed");

    let changed = START + 10.0 * COPY_INTERVAL;
    enter(&mut window, "Spacing", "60");
    clock(&mut window, changed + COPY_INTERVAL - 0.1);
    assert!(bench.copies().is_empty(), "it is not time yet");
    clock(&mut window, changed + COPY_INTERVAL);
    assert_eq!(bench.copies().len(), 1);
    assert_eq!(spacing_in(&bench.copies()[0]), 60.0);
    assert!(!window.state().desk().history().is_saved());
}

#[test]
fn a_copy_is_taken_again_only_after_another_change() {
    let bench = Bench::new("copy_again");
    let mut window = bench.copied("60");
    let copy = bench.copies().remove(0);
    let first = fs::read(&copy).unwrap();
    clock(&mut window, START + 5.0 * COPY_INTERVAL);
    assert_eq!(fs::read(&copy).unwrap(), first);

    enter(&mut window, "Spacing", "61");
    clock(&mut window, START + 6.0 * COPY_INTERVAL);
    assert_eq!(bench.copies().len(), 1, "it is one copy a window");
    assert_eq!(spacing_in(&copy), 61.0);
}

#[test]
fn a_window_that_has_nothing_to_copy_comes_to_rest() {
    let bench = Bench::new("copy_rest");
    let rests = |window: &Window| {
        let output = &window.output().viewport_output[&egui::ViewportId::ROOT];
        output.repaint_delay == std::time::Duration::MAX
    };
    let mut window = bench.window();
    assert!(rests(&window), "nothing was changed");
    enter(&mut window, "Spacing", "60");
    window.run();
    assert!(!rests(&window), "a copy is due");
    clock(&mut window, START + COPY_INTERVAL);
    window.run();
    assert!(rests(&window), "the copy is taken");
}

#[test]
fn a_window_that_is_hidden_copies_at_once() {
    let bench = Bench::new("copy_hidden");
    let mut window = bench.window();
    let logic = |window: &mut Window| {
        let ctx = window.ctx.clone();
        eframe::App::logic(window.state_mut(), &ctx, &mut eframe::Frame::_new_kittest());
    };
    enter(&mut window, "Spacing", "60");
    logic(&mut window);
    assert!(bench.copies().is_empty(), "it can be seen");
    let viewports = &mut window.input_mut().viewports;
    let root = viewports.get_mut(&egui::ViewportId::ROOT).unwrap();
    root.minimized = Some(true);
    window.step();
    logic(&mut window);
    assert_eq!(spacing_in(&bench.copies()[0]), 60.0);
}

#[test]
fn saving_removes_the_copy() {
    let bench = Bench::new("copy_saved");
    let mut window = bench.copied("60");
    save_as(&mut window, &bench.folder.join("pip.ron"));
    assert!(bench.is_bare());
}

#[test]
fn undoing_back_to_what_is_saved_removes_the_copy_and_redoing_takes_one_again() {
    let bench = Bench::new("copy_undone");
    let mut window = bench.copied("60");
    press(&mut window, CTRL, Key::Z);
    assert!(bench.is_bare());
    press(&mut window, CTRL, Key::Y);
    clock(&mut window, START + 2.0 * COPY_INTERVAL);
    assert_eq!(spacing_in(&bench.copies()[0]), 60.0);
}

#[test]
fn closing_removes_the_copy_once_the_question_is_answered() {
    let bench = Bench::new("copy_closed");
    let mut window = bench.copied("60");
    super::files::close(&mut window);
    assert!(says(&window, "Save the changes?"));
    assert_eq!(bench.copies().len(), 1, "nothing is decided yet");
    window.get_by_label("Discard").click_accesskit();
    window.step();
    window.step();
    assert!(bench.is_bare());
}

#[test]
fn starting_anew_removes_the_copy_of_what_was_discarded() {
    let bench = Bench::new("copy_discarded");
    let mut window = bench.copied("60");
    press(&mut window, CTRL, Key::N);
    click(&mut window, "Discard");
    assert!(bench.is_bare());
}

#[test]
fn what_was_not_saved_is_offered_at_the_next_start_and_opened_as_unsaved() {
    let bench = Bench::new("copy_offered");
    let file = bench.folder.join("pip.ron");
    let mut window = bench.window();
    save_as(&mut window, &file);
    let saved = fs::read(&file).unwrap();
    enter(&mut window, "Spacing", "60");
    clock(&mut window, START + COPY_INTERVAL);
    drop(window);

    let mut window = bench.window();
    assert!(says(&window, "Changes that were not saved"));
    assert!(says(&window, "Bramble the badger"));
    assert!(says(&window, &format!("{}, copied at 2", file.display())));
    click(&mut window, "Open the copy of Bramble the badger");
    assert!(says(
        &window,
        &format!("{} stays as it is until you save.", file.display())
    ));
    let desk = window.state().desk();
    assert_eq!(desk.project().eyes[1].centre[0], 30.0);
    assert_eq!(desk.file.as_ref(), Some(&file));
    assert!(!desk.history().is_saved());
    assert_eq!(desk.history().undo_label(), None);
    assert_eq!(fs::read(&file).unwrap(), saved, "the file is untouched");
    assert_eq!(bench.copies().len(), 1, "the copy stays until it is saved");

    press(&mut window, CTRL, Key::S);
    assert_eq!(spacing_in(&file), 60.0);
    assert!(bench.is_bare());
}

#[test]
fn an_opened_copy_outlives_another_crash_and_takes_up_new_changes() {
    let bench = Bench::new("copy_twice");
    drop(bench.copied("60"));
    let mut window = bench.window();
    click(&mut window, "Open the copy of Bramble the badger");
    drop(window);
    let mut window = bench.window();
    click(&mut window, "Open the copy of Bramble the badger");
    enter(&mut window, "Spacing", "61");
    clock(&mut window, START + 2.0 * COPY_INTERVAL);
    assert_eq!(bench.copies().len(), 1);
    assert_eq!(spacing_in(&bench.copies()[0]), 61.0);
}

#[test]
fn a_copy_that_is_kept_for_later_is_offered_again() {
    let bench = Bench::new("copy_later");
    drop(bench.copied("60"));
    let mut window = bench.window();
    assert!(says(&window, "never saved, copied at 2"));
    click(&mut window, "Keep for later");
    assert!(!says(&window, "Changes that were not saved"));
    assert_eq!(project(&window).eyes[1].centre[0], 29.0);
    drop(window);
    let mut window = bench.window();
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(!says(&window, "Changes that were not saved"));
    assert_eq!(bench.copies().len(), 1);
}

#[test]
fn a_deleted_copy_is_gone_and_the_notice_says_what_was_deleted() {
    let bench = Bench::new("copy_deleted");
    drop(bench.copied("60"));
    let mut window = bench.window();
    click(&mut window, "Delete the copy of Bramble the badger");
    click(&mut window, "Keep the copy of Bramble the badger");
    assert_eq!(bench.copies().len(), 1);
    click(&mut window, "Delete the copy of Bramble the badger");
    assert_eq!(bench.copies().len(), 1, "it asks first");
    click(
        &mut window,
        "Delete the copy of Bramble the badger for good",
    );
    assert!(says(
        &window,
        "Deleted the copy of Bramble the badger, taken at 2"
    ));
    assert!(bench.is_bare());
    assert!(!says(&bench.window(), "Changes that were not saved"));
}

#[test]
fn the_copy_of_a_window_that_is_open_is_offered_to_no_other() {
    let bench = Bench::new("copy_owned");
    let mut one = bench.copied("60");
    let mut other = bench.window();
    assert!(!says(&other, "Changes that were not saved"));

    enter(&mut other, "Spacing", "61");
    clock(&mut other, START + 2.0 * COPY_INTERVAL);
    let mut spacings: Vec<_> = bench.copies().iter().map(|copy| spacing_in(copy)).collect();
    spacings.sort_by(f64::total_cmp);
    assert_eq!(spacings, [60.0, 61.0], "each has its own");

    save_as(&mut one, &bench.folder.join("one.ron"));
    assert_eq!(bench.copies().len(), 1);
    drop(other);
    assert!(says(&bench.window(), "Changes that were not saved"));
}

#[test]
fn a_copy_that_another_window_offers_is_not_offered_twice() {
    let bench = Bench::new("copy_asked");
    drop(bench.copied("60"));
    let mut one = bench.window();
    assert!(!says(&bench.window(), "Changes that were not saved"));
    click(&mut one, "Keep for later");
    assert!(says(&bench.window(), "Changes that were not saved"));
}

#[test]
fn a_copy_says_when_it_was_taken_by_the_clock_on_the_wall() {
    let bench = Bench::new("copy_time");
    let taken = "2026-03-05T07:09:11Z";
    let text = desk::samples::DEFAULT.text;
    bench.leave("1-1.ron", "None", taken, text);
    let taken: Timestamp = taken.parse().unwrap();
    let local = taken.to_zoned(TimeZone::system());
    let local = local.strftime("never saved, copied at %Y-%m-%d %H:%M");
    assert!(says(&bench.window(), &local.to_string()));
}

#[test]
fn a_file_that_was_saved_after_its_copy_is_pointed_out() {
    let bench = Bench::new("copy_older");
    let file = bench.folder.join("pip.ron");
    files::save(&file, &desk::samples::DEFAULT.project()).unwrap();
    let name = format!("Some({:?})", file.display().to_string());
    let text = desk::samples::DEFAULT.text;
    bench.leave("1-1.ron", &name, "2001-02-03T04:05:06Z", text);
    assert!(says(
        &bench.window(),
        "The file was saved again after this copy was taken."
    ));
}

#[test]
fn a_copy_that_cannot_be_read_is_named_and_kept() {
    let bench = Bench::new("copy_broken");
    bench.leave("1-1.ron", "None", "2026-03-05T07:09:11Z", "Project(");
    bench.leave(
        "1-2.ron",
        "None",
        "2026-03-05T07:09:12Z",
        desk::samples::DEFAULT.text,
    );
    let mut window = bench.window();
    let broken = bench.keep.copies().join("1-1.ron");
    assert!(says(&window, &format!("{}, line 2", broken.display())));
    assert!(window.query_by_label("Open the copy of 1-1.ron").is_none());
    click(&mut window, "Open the copy of Bramble the badger");
    assert!(broken.exists());
}

#[test]
fn a_copy_whose_first_line_is_lost_is_still_offered() {
    let bench = Bench::new("copy_bare");
    fs::create_dir_all(bench.keep.copies()).unwrap();
    let copy = bench.keep.copies().join("1-1.ron");
    fs::write(copy, desk::samples::DEFAULT.text).unwrap();
    let mut window = bench.window();
    assert!(says(&window, "never saved, copied at an unknown time"));
    click(&mut window, "Open the copy of Bramble the badger");
    assert!(!window.state().desk().history().is_saved());
}

#[test]
fn a_copy_that_cannot_be_written_is_told_once() {
    let bench = Bench::new("copy_unwritable");
    fs::write(bench.folder.join("keep"), "in the way").unwrap();
    let mut window = bench.window();
    enter(&mut window, "Spacing", "60");
    clock(&mut window, START + COPY_INTERVAL);
    assert!(says(&window, "No recovery copy can be kept: The folder"));
    enter(&mut window, "Spacing", "61");
    assert_eq!(window.state().desk().notice, None);
    clock(&mut window, START + 2.0 * COPY_INTERVAL);
    assert_eq!(window.state().desk().notice, None);
}

#[test]
fn a_window_that_keeps_nothing_takes_no_copy() {
    let mut window = window();
    clock(&mut window, START);
    enter(&mut window, "Spacing", "60");
    clock(&mut window, START + COPY_INTERVAL);
    assert_eq!(window.state().desk().notice, None);
}
