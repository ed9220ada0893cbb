//! The menu of what can be done with files, with those that were opened or saved last.

use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use egui::text::{LayoutJob, TextFormat, TextWrapping};
use egui::{Button, Color32, FontId, Galley, Popup, Role, Ui, WidgetInfo, vec2};

use super::command::Command;
use super::controls;
use super::pieces;
use super::recent::{RecentFiles, Shown};
use super::theme::{self, Palette, ROW};

/// Width of the menu, in points: a file's name and the end of its folder fit side by side.
const WIDTH: f32 = 380.0;

/// Most of a row's width that a file's name takes.
const NAME_SHARE: f32 = 0.55;

/// Space at both ends of a row, in points.
const MARGIN: f32 = 8.0;

/// Space between a file's name and its folder, in points.
const GAP: f32 = 10.0;

/// Stands for the folders that are left out at the head of a long path.
const LEFT_OUT: &str = "…";

/// Shows the menu's button, and the menu while it is open; gives the command that was clicked.
pub(crate) fn show(ui: &mut Ui, recent: &mut RecentFiles) -> Option<Command> {
    let button = controls::quiet_button(ui, "File", true);
    let button = button.on_hover_text("New, open, save, print, and recent files");
    let menu = Popup::menu(&button)
        .accessible_name("file menu")
        .width(WIDTH)
        .show(|ui| items(ui, recent));
    let Some(menu) = menu else {
        recent.shown = None;
        return None;
    };
    menu.inner
}

fn items(ui: &mut Ui, recent: &mut RecentFiles) -> Option<Command> {
    ui.set_width(WIDTH);
    ui.spacing_mut().button_padding.x = MARGIN;
    ui.visuals_mut().widgets.hovered.weak_bg_fill = tint(ui);
    let mut asked = commands(
        ui,
        &[Command::New, Command::Open, Command::Save, Command::SaveAs],
    );
    ui.separator();
    let drawings = [
        Command::ImportHead,
        Command::ImportPlate,
        Command::TracePicture,
    ];
    asked = asked.or(commands(ui, &drawings));
    ui.separator();
    asked = asked.or(recent_files(ui, recent));
    ui.separator();
    asked = asked.or(commands(ui, &[Command::SaveSheet, Command::Print]));
    ui.separator();
    asked.or(commands(ui, &[Command::Quit]))
}

fn commands(ui: &mut Ui, all: &[Command]) -> Option<Command> {
    let mut asked = None;
    for &command in all {
        let mut button = Button::new(command.label()).min_size(vec2(WIDTH, ROW));
        if let Some(keys) = command.shortcuts().first() {
            button = button.shortcut_text(ui.ctx().format_shortcut(keys));
        }
        let button = ui.add(button).on_hover_text(command.tooltip());
        if button.accessible_name(command.label()).clicked() {
            asked = Some(command);
            ui.close();
        }
    }
    asked
}

fn recent_files(ui: &mut Ui, recent: &mut RecentFiles) -> Option<Command> {
    let heading = pieces::small(ui, "Recent files");
    let heading = |ui: &mut Ui| {
        ui.horizontal(|ui| {
            ui.add_space(MARGIN);
            ui.label(heading);
        });
    };
    if recent.open().is_empty() {
        heading(ui);
        ui.horizontal(|ui| {
            ui.add_space(MARGIN);
            pieces::hint(ui, "None yet: they come when a file is opened or saved.");
        });
        return None;
    }
    heading(ui);
    let mut chosen = None;
    for file in recent.open() {
        if row(ui, file) {
            chosen = Some(file.path.clone());
        }
    }
    if chosen.is_some() {
        recent.chosen = chosen;
        ui.close();
    }
    commands(ui, &[Command::ClearRecent])
}

/// A file's name with its folder beside it; true when it was clicked.
fn row(ui: &mut Ui, file: &Shown) -> bool {
    let palette = Palette::of(ui.ctx());
    let name = file.path.file_name().unwrap_or_default().to_string_lossy();
    let missing = if file.missing { ", missing" } else { "" };
    let folder = file.path.parent().unwrap_or(Path::new(""));
    let spoken = format!("{name} in {}{missing}", folder.display());
    let response = controls::clickable(ui, vec2(WIDTH, ROW), || {
        WidgetInfo::labeled(Role::MenuItem, true, &spoken)
    });
    let rect = response.rect;
    if response.hovered() || response.has_focus() {
        ui.painter()
            .rect_filled(rect, theme::FIELD_RADIUS, tint(ui));
    }
    let inner = rect.shrink2(vec2(MARGIN, 0.0));
    let ink = if file.missing {
        palette.faint
    } else {
        palette.ink
    };
    let name = line(
        ui,
        &name,
        theme::size::BODY,
        ink,
        inner.width() * NAME_SHARE,
    );
    let mut left = inner.left();
    let put = |galley: Arc<Galley>, left: f32| {
        let at = egui::pos2(left, rect.center().y - galley.size().y / 2.0);
        ui.painter().galley(at, galley, Color32::PLACEHOLDER);
    };
    left += name.size().x + GAP;
    put(name, inner.left());
    let mut right = inner.right();
    if file.missing {
        let word = line(
            ui,
            "missing",
            theme::size::SMALL,
            palette.fouls,
            f32::INFINITY,
        );
        right -= word.size().x;
        put(word, right);
        right -= GAP;
    }
    put(folder_line(ui, folder, palette.faint, right - left), left);
    response
        .on_hover_text(file.path.display().to_string())
        .clicked()
}

/// What is behind an item that the pointer is on.
fn tint(ui: &Ui) -> Color32 {
    Palette::of(ui.ctx()).accent.gamma_multiply(0.1)
}

/// The end of a folder's path, as much as fits.
fn folder_line(ui: &Ui, folder: &Path, colour: Color32, width: f32) -> Arc<Galley> {
    let line_of = |text: &str, width| line(ui, text, theme::size::SMALL, colour, width);
    let whole = line_of(&folder.display().to_string(), f32::INFINITY);
    if whole.size().x <= width {
        return whole;
    }
    let parts: Vec<Component<'_>> = folder.components().collect();
    let fitting = (1..parts.len()).find_map(|first| {
        let end: PathBuf = parts[first..].iter().collect();
        let text = format!("{LEFT_OUT}{}{}", std::path::MAIN_SEPARATOR, end.display());
        let line = line_of(&text, f32::INFINITY);
        (line.size().x <= width).then_some(line)
    });
    fitting.unwrap_or_else(|| line_of(&folder.display().to_string(), width))
}

/// One line of text that ends in dots where it is too long.
fn line(ui: &Ui, text: &str, size: f32, colour: Color32, width: f32) -> Arc<Galley> {
    let format = TextFormat::simple(FontId::proportional(size), colour);
    let mut job = LayoutJob::single_section(text.to_owned(), format);
    job.wrap = TextWrapping::truncate_at_width(width);
    ui.painter().layout_job(job)
}
