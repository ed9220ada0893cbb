//! What the window has to say, on a line at its foot.

use egui::{Align, Frame, Label, Layout, Margin, Panel, RichText, Ui};

use super::app::App;
use super::controls;
use super::state::Offer;
use super::theme::Palette;

/// Shows the foot if there is something to say.
pub(crate) fn show(ui: &mut Ui, app: &mut App) {
    let palette = Palette::of(ui.ctx());
    let foot = Frame::new()
        .fill(palette.bar)
        .inner_margin(Margin::symmetric(16, 6));
    let waiting = app.files.is_waiting();
    if !waiting && app.desk.notice.is_none() {
        return;
    }
    Panel::bottom("foot")
        .frame(foot)
        .show_separator_line(false)
        .show(ui, |ui| {
            ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
                if waiting {
                    if controls::link(ui, "Type the path instead").clicked() {
                        app.files.type_instead();
                    }
                    left(ui, RichText::new("The file dialog is open."));
                } else if let Some(notice) = app.desk.notice.clone() {
                    if controls::link(ui, "Dismiss").clicked() {
                        app.desk.notice = None;
                    }
                    if let Some(offer) = notice.offer {
                        take_up(ui, app, offer);
                    }
                    let colour = if notice.trouble {
                        palette.fouls
                    } else {
                        palette.ink
                    };
                    left(ui, RichText::new(notice.text).color(colour));
                }
            });
        });
}

/// Shows what a notice offers, and does it when it is clicked.
fn take_up(ui: &mut Ui, app: &mut App, offer: Offer) {
    let text = match offer {
        Offer::CopyPath(_) => "Copy the path",
        Offer::OpenFolder(_) => "Open the folder",
        Offer::Forget(_) => "Drop it from the list",
        Offer::Undo | Offer::MeasureOn => "Bring it back",
    };
    if !controls::link(ui, text).clicked() {
        return;
    }
    match offer {
        Offer::CopyPath(path) => ui.ctx().copy_text(path.display().to_string()),
        Offer::OpenFolder(folder) => app.open_folder(folder, ui.ctx()),
        Offer::Forget(path) => {
            app.desk.notice = None;
            app.forget_recent(&path);
        }
        Offer::Undo => app.step_back(ui.ctx()),
        Offer::MeasureOn => app.desk.measure_on(),
    }
}

/// Text that takes what the links leave free; its first line stands level with them.
fn left(ui: &mut Ui, text: RichText) {
    ui.vertical(|ui| {
        ui.set_width(ui.available_width());
        ui.add(Label::new(text).wrap());
    });
}
