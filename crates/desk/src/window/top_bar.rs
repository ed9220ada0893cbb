//! The bar at the window's top: whose plate it is, what can be done with it, and how it stands.

use egui::{
    Align, Key, Layout, Rangef, RichText, Role, Sense, TextEdit, ThemePreference, Ui, WidgetInfo,
    pos2, vec2,
};
use layout::{Edit, Project, State};
use output::unit::LengthUnit;

use super::app::App;
use super::command::Command;
use super::controls;
use super::file_menu;
use super::mark;
use super::pieces;
use super::state::Desk;
use super::theme::{self, Palette};

/// Height of the bar's content, in points.
const HEIGHT: f32 = 36.0;

/// Narrowest and widest name, in points; a longer one ends in dots.
const NAME_WIDTH: Rangef = Rangef {
    min: 150.0,
    max: 320.0,
};

/// What the rest of the bar takes, in points.
const REST_WIDTH: f32 = 665.0;

/// Space at both ends of a button's words, in points.
const BUTTON_PADDING: f32 = 7.0;

/// A name that is being typed.
pub(crate) struct Renaming {
    text: String,
    opened: bool,
}

impl Renaming {
    pub(crate) fn of(project: &Project) -> Self {
        Self {
            text: project.name.clone(),
            opened: false,
        }
    }
}

/// What the character is called on screen.
pub(crate) fn shown_name(project: &Project) -> &str {
    if project.name.trim().is_empty() {
        "Unnamed character"
    } else {
        &project.name
    }
}

/// Shows the bar; gives the command that was clicked.
pub(crate) fn show(ui: &mut Ui, app: &mut App) -> Option<Command> {
    let mut asked = None;
    ui.set_height(HEIGHT);
    let spare = ui.available_width();
    ui.horizontal_centered(|ui| {
        let width = (spare - REST_WIDTH).clamp(NAME_WIDTH.min, NAME_WIDTH.max);
        ui.allocate_ui_with_layout(vec2(width, HEIGHT), Layout::top_down(Align::LEFT), |ui| {
            ui.set_width(width);
            ui.spacing_mut().item_spacing.y = 0.0;
            asked = name(ui, app);
            file(ui, &app.desk);
        });
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if controls::strong_button(ui, Command::SaveSheet.label())
                .on_hover_text(Command::SaveSheet.hover_text(ui.ctx()))
                .clicked()
            {
                asked = Some(Command::SaveSheet);
            }
            worst(ui, &app.desk);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.spacing_mut().item_spacing.x = 2.0;
                ui.spacing_mut().button_padding.x = BUTTON_PADDING;
                asked = asked.or(file_menu::show(ui, &mut app.recent));
                asked = asked.or(buttons(ui, &app.desk));
                divider(ui);
                unit(ui, &mut app.desk);
                divider(ui);
                theme_switch(ui);
            });
        });
    });
    asked
}

fn name(ui: &mut Ui, app: &mut App) -> Option<Command> {
    if app.renaming.is_some() {
        rename(ui, app);
        return None;
    }
    let text = RichText::new(shown_name(app.desk.project())).heading();
    let label = egui::Label::new(text).truncate().sense(Sense::click());
    let name = shown_name(app.desk.project()).to_owned();
    let response = ui.add(label);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Name: {name}")));
    controls::focus_ring(ui, &response, response.rect);
    let hover = Command::Rename.hover_text(ui.ctx());
    response
        .on_hover_text(hover)
        .clicked()
        .then_some(Command::Rename)
}

fn rename(ui: &mut Ui, app: &mut App) {
    let Some(renaming) = &mut app.renaming else {
        return;
    };
    let edit = TextEdit::singleline(&mut renaming.text)
        .font(egui::FontId::new(theme::size::HEADING, theme::strong()))
        .margin(egui::Margin::symmetric(4, 0))
        .desired_width(f32::INFINITY);
    let response = ui.add(edit).accessible_name("Name");
    if !renaming.opened {
        response.request_focus();
        pieces::select_all(ui.ctx(), response.id, &renaming.text);
        renaming.opened = true;
    } else if response.lost_focus() {
        let escaped = ui.input(|input| input.key_pressed(Key::Escape));
        let name = renaming.text.trim().to_owned();
        // A name that is refused stays in the field; the notice at the foot says why.
        if escaped || app.desk.apply(&Edit::Rename(name)).is_ok() {
            app.renaming = None;
        }
    }
}

fn file(ui: &mut Ui, desk: &Desk) {
    let file = desk.file.as_ref().and_then(|file| file.file_name());
    let file = file.map(|name| name.to_string_lossy().into_owned());
    let text = match (file, desk.history().is_saved()) {
        (Some(file), true) => format!("{file}, saved"),
        (Some(file), false) => format!("{file}, changed"),
        (None, true) => "in no file yet".to_owned(),
        (None, false) => "changed, in no file yet".to_owned(),
    };
    let text = pieces::small(ui, text);
    let label = ui.add(egui::Label::new(text).truncate());
    if let Some(file) = &desk.file {
        label.on_hover_text(file.display().to_string());
    }
}

fn buttons(ui: &mut Ui, desk: &Desk) -> Option<Command> {
    let mut asked = None;
    let save = controls::quiet_button(ui, Command::Save.label(), true);
    if save
        .on_hover_text(Command::Save.hover_text(ui.ctx()))
        .clicked()
    {
        asked = Some(Command::Save);
    }
    divider(ui);
    for command in [Command::Undo, Command::Redo] {
        let label = match command {
            Command::Undo => desk.history().undo_label(),
            _ => desk.history().redo_label(),
        };
        let hover = command.hover_text(ui.ctx());
        let hover = label.map_or(hover.clone(), |label| format!("{hover}: {label}"));
        let response = controls::quiet_button(ui, command.label(), label.is_some());
        if response.on_hover_text(hover).clicked() {
            asked = Some(command);
        }
    }
    asked
}

fn divider(ui: &mut Ui) {
    let stroke = Palette::of(ui.ctx()).hairline();
    let (rect, _) = ui.allocate_exact_size(vec2(9.0, 20.0), Sense::hover());
    ui.painter().vline(rect.center().x, rect.y_range(), stroke);
}

fn unit(ui: &mut Ui, desk: &mut Desk) {
    let units = [LengthUnit::Millimetre, LengthUnit::Inch];
    let chosen = usize::from(desk.unit == LengthUnit::Inch);
    if let Some(index) = controls::choice(ui, "Unit", &units.map(LengthUnit::symbol), chosen) {
        desk.unit = units[index];
    }
}

/// Light, dark, or as the system: a disc that is empty, full or half full of night.
fn theme_switch(ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let now = ui.ctx().options(|options| options.theme_preference);
    for (theme, name) in [
        (ThemePreference::Light, "Light"),
        (ThemePreference::Dark, "Dark"),
        (ThemePreference::System, "Light or dark as the system"),
    ] {
        let selected = now == theme;
        let response = controls::clickable(ui, vec2(26.0, pieces::FIELD_HEIGHT), || {
            WidgetInfo::selected(Role::RadioButton, true, selected, name)
        });
        let rect = response.rect;
        if selected {
            let fill = palette.accent.gamma_multiply(0.12);
            let edge = egui::Stroke::new(1.0, palette.accent);
            ui.painter().rect(
                rect,
                theme::FIELD_RADIUS,
                fill,
                edge,
                egui::StrokeKind::Inside,
            );
        } else if response.hovered() {
            ui.painter()
                .rect_filled(rect, theme::FIELD_RADIUS, palette.field);
        }
        let ink = if selected {
            palette.accent
        } else {
            palette.ink
        };
        paint_disc(ui, rect.center(), theme, ink);
        if response.on_hover_text(name).clicked() {
            ui.ctx().set_theme(theme);
        }
    }
}

fn paint_disc(ui: &Ui, centre: egui::Pos2, theme: ThemePreference, ink: egui::Color32) {
    const RADIUS: f32 = 6.0;
    let painter = ui.painter();
    painter.circle_stroke(centre, RADIUS, egui::Stroke::new(1.5, ink));
    match theme {
        ThemePreference::Light => {}
        ThemePreference::Dark => {
            painter.circle_filled(centre, RADIUS, ink);
        }
        ThemePreference::System => {
            let half = (0..=16).map(|step| {
                let angle = std::f32::consts::PI * (step as f32 / 16.0 - 0.5);
                pos2(
                    centre.x + RADIUS * angle.cos(),
                    centre.y + RADIUS * angle.sin(),
                )
            });
            painter.add(egui::Shape::convex_polygon(
                half.collect(),
                ink,
                egui::Stroke::NONE,
            ));
        }
    }
}

/// The worst state of all findings, and how many are in it.
fn worst(ui: &mut Ui, desk: &Desk) {
    let palette = Palette::of(ui.ctx());
    let report = desk.report();
    let count = |state: State| {
        report
            .findings
            .iter()
            .filter(|finding| finding.state == state)
            .count()
    };
    let (state, text) = match (count(State::Fouls), count(State::Tight)) {
        (0, 0) if count(State::NotChecked) > 0 => (State::Clear, "clear so far".to_owned()),
        (0, 0) => (State::Clear, "all clear".to_owned()),
        (0, tight) => (State::Tight, format!("{tight} tight")),
        (1, _) => (State::Fouls, "1 foul".to_owned()),
        (fouls, _) => (State::Fouls, format!("{fouls} fouls")),
    };
    ui.add_space(6.0);
    ui.label(RichText::new(text).family(theme::strong()));
    let (rect, _) = ui.allocate_exact_size(vec2(14.0, 14.0), Sense::hover());
    mark::paint(ui.painter(), rect.center(), 13.0, state, &palette);
}
