//! What the window has to say, on a line at its foot.

use egui::{Frame, Margin, Panel, RichText, Ui};

use super::app::App;
use super::controls;
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
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if waiting {
                    if controls::link(ui, "Type the path instead").clicked() {
                        app.files.type_instead();
                    }
                    left(ui, RichText::new("The file dialog is open."));
                } else if let Some(notice) = app.desk.notice.clone() {
                    if controls::link(ui, "Dismiss").clicked() {
                        app.desk.notice = None;
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

fn left(ui: &mut Ui, text: RichText) {
    ui.with_layout(
        egui::Layout::left_to_right(egui::Align::Center).with_main_wrap(true),
        |ui| {
            ui.add(egui::Label::new(text).wrap());
        },
    );
}
