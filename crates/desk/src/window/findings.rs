//! The findings: those of the step that is shown before those of others, each with what fouls first, then
//! what is tight; and the rest.

use egui::{Color32, FontId, Role, Ui, WidgetInfo, pos2, vec2};
use layout::wording;
use layout::{Finding, State};

use super::app::App;
use super::controls;
use super::mark;
use super::pieces;
use super::state::Desk;
use super::step::Step;
use super::theme::{self, Palette};

/// Width of a mark, in points.
const MARK: f32 = 12.0;

/// Where the sentence starts, in points from the row's left.
const INDENT: f32 = 24.0;

/// Room for the figures at the row's right, in points.
const FIGURES: f32 = 92.0;

/// Figures of so many characters fit into [`FIGURES`] for sure: they need not be measured.
const FITTING: usize = 12;

/// Between a sentence and figures that are wider, in points.
const GAP: f32 = 10.0;

/// Space above and below a row's text, in points.
const BREATH: f32 = 4.0;

/// Shows the findings. One that is clicked is framed, and the step that mends it is shown.
pub(crate) fn show(ui: &mut Ui, app: &mut App) {
    heading(ui, &app.desk);
    let mut clicked = None;
    let of = |state: State, desk: &Desk| -> Vec<usize> {
        let findings = desk.report().findings.iter().enumerate();
        findings
            .filter(|(_, finding)| finding.state == state)
            .map(|(index, _)| index)
            .collect()
    };
    let here = |index: &usize| {
        let finding = &app.desk.report().findings[*index];
        Step::of_finding(finding) == app.desk.step
    };
    let troubles = [State::Fouls, State::Tight].into_iter();
    let (own, elsewhere): (Vec<_>, Vec<_>) =
        { troubles.flat_map(|state| of(state, &app.desk)) }.partition(here);
    for &index in &own {
        clicked = clicked.or(row(ui, &app.desk, index));
    }
    match (own.is_empty(), elsewhere.is_empty()) {
        (true, true) => {
            ui.label("Nothing fouls and nothing is tight.");
        }
        (_, false) => pieces::hint(ui, "In other steps"),
        (false, true) => {}
    }
    for &index in &elsewhere {
        clicked = clicked.or(row(ui, &app.desk, index));
    }
    ui.add_space(6.0);
    pieces::hairline(ui);
    ui.add_space(6.0);
    let clear = of(State::Clear, &app.desk);
    if folded(
        ui,
        &mut app.inspector.clear_shown,
        State::Clear,
        &format!("{} clear", clear.len()),
    ) {
        for index in clear {
            clicked = clicked.or(row(ui, &app.desk, index));
        }
    }
    let not_checked = of(State::NotChecked, &app.desk);
    let count = format!("{} not checked yet", not_checked.len());
    let shown = &mut app.inspector.not_checked_shown;
    if !not_checked.is_empty() && folded(ui, shown, State::NotChecked, &count) {
        for index in not_checked {
            clicked = clicked.or(row(ui, &app.desk, index));
        }
    }
    if let Some(index) = clicked {
        frame(app, index);
    }
}

/// Frames the place of a finding and shows the step that mends it; once more lets it go.
fn frame(app: &mut App, index: usize) {
    let desk = &mut app.desk;
    if desk.framed == Some(index) {
        desk.framed = None;
        return;
    }
    let Some(finding) = desk.report().findings.get(index).cloned() else {
        return;
    };
    desk.framed = Some(index);
    desk.show_step(Step::of_finding(&finding));
    let eyes = 0..desk.project().eyes.len();
    if let Some(eye) =
        { eyes }.find(|&eye| wording::is_about(&finding.part, &desk.project().eye_name(eye)))
    {
        desk.chosen_eye = eye;
    }
    let about = |name: &str| wording::is_about(&finding.part, name);
    let drives = desk.project().drives.iter();
    if let Some(drive) = { drives }.position(|drive| about(&drive.name)) {
        desk.choose_drive(drive);
    }
    let rods = desk.project().rods.iter();
    desk.chosen_rod = { rods }
        .position(|rod| about(&rod.name))
        .unwrap_or(desk.chosen_rod);
    app.camera.frame_points(&finding.place);
}

fn heading(ui: &mut Ui, desk: &Desk) {
    let unit = format!("is / wants, {}", desk.unit.symbol());
    ui.horizontal(|ui| {
        ui.label(egui::RichText::new("Findings").heading());
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let text = pieces::small(ui, unit);
            ui.label(text);
        });
    });
    ui.add_space(2.0);
}

/// A line that folds a part of the list; whether it is unfolded.
fn folded(ui: &mut Ui, shown: &mut bool, state: State, count: &str) -> bool {
    let palette = Palette::of(ui.ctx());
    let word = if *shown { "hide" } else { "show" };
    let size = vec2(ui.available_width(), theme::ROW - 4.0);
    let spoken = format!("{count}, {word}");
    let response = controls::clickable(ui, size, || {
        WidgetInfo::labeled(Role::Button, true, &spoken)
    });
    let rect = response.rect;
    mark::paint(
        ui.painter(),
        pos2(rect.left() + MARK / 2.0, rect.center().y),
        MARK,
        state,
        &palette,
    );
    let font = FontId::proportional(theme::size::BODY);
    let left = egui::Align2::LEFT_CENTER;
    let at = rect.left_center() + vec2(INDENT, 0.0);
    ui.painter()
        .text(at, left, count, font.clone(), palette.ink);
    ui.painter().text(
        rect.right_center(),
        egui::Align2::RIGHT_CENTER,
        word,
        font,
        palette.accent,
    );
    if response.clicked() {
        *shown = !*shown;
    }
    *shown
}

/// One finding; its index when it was clicked.
fn row(ui: &mut Ui, desk: &Desk, index: usize) -> Option<usize> {
    let finding = &desk.report().findings[index];
    let palette = Palette::of(ui.ctx());
    let body = FontId::proportional(theme::size::BODY);
    let figures = figures(desk, finding);
    let strong = FontId::new(theme::size::BODY, theme::strong());
    let numbers = || {
        let numbers = figures.clone();
        ui.painter()
            .layout_no_wrap(numbers, strong.clone(), palette.ink)
    };
    let beside = match figures.chars().count() {
        0 => 0.0,
        1..=FITTING => FIGURES,
        _ => FIGURES.max(numbers().size().x + GAP),
    };
    let room = ui.available_width() - INDENT - beside;
    let sentence = ui
        .painter()
        .layout(finding.sentence.clone(), body, Color32::PLACEHOLDER, room);
    let size = vec2(ui.available_width(), sentence.size().y + 2.0 * BREATH);
    let spoken = format!("{}: {} {figures}", finding.state.word(), finding.sentence);
    let chosen = desk.framed == Some(index);
    let response = controls::clickable(ui, size, || {
        WidgetInfo::selected(Role::Button, true, chosen, spoken.trim_end())
    });
    let rect = response.rect;
    if !ui.is_rect_visible(rect) {
        return response.clicked().then_some(index);
    }
    if chosen || response.hovered() {
        let share = if chosen { 0.14 } else { 0.06 };
        let around = rect.expand2(vec2(6.0, 0.0));
        ui.painter().rect_filled(
            around,
            theme::FIELD_RADIUS,
            palette.accent.gamma_multiply(share),
        );
    }
    let line = sentence
        .rows
        .first()
        .map_or(theme::size::BODY, |row| row.height());
    let first = rect.top() + BREATH + line / 2.0;
    mark::paint(
        ui.painter(),
        pos2(rect.left() + MARK / 2.0, first),
        MARK,
        finding.state,
        &palette,
    );
    ui.painter().galley(
        rect.left_top() + vec2(INDENT, BREATH),
        sentence,
        palette.ink,
    );
    let at = pos2(rect.right(), first);
    ui.painter()
        .text(at, egui::Align2::RIGHT_CENTER, figures, strong, palette.ink);
    response.clicked().then_some(index)
}

/// What a finding's figure is and what is wanted of it, in the maker's unit.
pub(crate) fn figures(desk: &Desk, finding: &Finding) -> String {
    let show = |value: f64| {
        pieces::with_minus(&match finding.unit {
            "mm" => desk.unit.format(value),
            "°" => format!("{value:.1}°"),
            unit => format!("{value:.1} {unit}").trim_end().to_owned(),
        })
    };
    match (finding.value, finding.wanted) {
        (Some(value), Some(wanted)) => {
            let [sign, beyond] = if finding.is_at_most() {
                ["≤", "> "]
            } else {
                ["≥", "< "]
            };
            let (value, wanted) = (show(value), show(wanted));
            // What is not clear must not look as if it were.
            let is_short = matches!(finding.state, State::Tight | State::Fouls);
            let short = if is_short && value == wanted {
                beyond
            } else {
                ""
            };
            format!("{short}{value} / {sign} {wanted}")
        }
        (Some(value), None) => show(value),
        _ => String::new(),
    }
}
