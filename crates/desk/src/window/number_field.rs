//! One field for every number: takes expressions with units, commits when it is left, keeps what
//! was refused and says why. Of a number that need not be known, the empty field says so.

use egui::{Align2, Context, Key, Modifiers, TextEdit, Ui};
use layout::Problem;
use output::unit::LengthUnit;

use super::expression::{self, Measure};
use super::pieces;
use super::state::Desk;
use super::theme::Palette;

/// What is being typed into a field, or was refused.
#[derive(Clone, Debug, Default)]
struct Draft {
    text: String,
    /// The field's value when typing began: a draft is dropped when something else changes it.
    against: Option<f64>,
    /// Why the text was refused.
    refused: Option<String>,
    /// Whether arrow keys have stepped the value: all of that becomes one change.
    stepping: bool,
}

/// Forgets what is in the fields, since something else stands in the project.
pub(crate) fn forget_drafts(ctx: &Context) {
    ctx.data_mut(|data| data.remove_by_type::<Draft>());
}

/// A labelled number.
pub(crate) struct NumberField<'a> {
    /// What stands before it.
    pub(crate) label: &'a str,
    /// What a screen reader calls it, where the label alone would not tell it from others.
    pub(crate) name: Option<String>,
    /// Its value, mm or degrees.
    pub(crate) value: f64,
    /// What it measures.
    pub(crate) measure: Measure,
}

impl NumberField<'_> {
    /// Shows the field as a row; `set` carries a new value out.
    pub(crate) fn show(
        self,
        ui: &mut Ui,
        desk: &mut Desk,
        set: impl Fn(&mut Desk, f64) -> Result<(), Problem>,
    ) {
        let row = Row {
            label: self.label,
            name: self.name,
            value: Some(self.value),
            measure: self.measure,
            open: None,
        };
        // Nothing but a number is read where none may be missing.
        row.show(ui, desk, |desk, value| {
            value.map_or(Ok(()), |value| set(desk, value))
        });
    }
}

/// A labelled number that need not be known.
pub(crate) struct OpenNumberField<'a> {
    /// As [`NumberField::label`].
    pub(crate) label: &'a str,
    /// As [`NumberField::name`].
    pub(crate) name: Option<String>,
    /// Its value; None while it is not known.
    pub(crate) value: Option<f64>,
    /// What it measures.
    pub(crate) measure: Measure,
    /// What it says where it is empty.
    pub(crate) open: &'a str,
}

impl OpenNumberField<'_> {
    /// Shows the field as a row; `set` carries a new value out, or that it is not known. Says whether the
    /// field holds a text that was refused.
    pub(crate) fn show(
        self,
        ui: &mut Ui,
        desk: &mut Desk,
        set: impl Fn(&mut Desk, Option<f64>) -> Result<(), Problem>,
    ) -> bool {
        let row = Row {
            label: self.label,
            name: self.name,
            value: self.value,
            measure: self.measure,
            open: Some(self.open),
        };
        row.show(ui, desk, set)
    }
}

/// The row of either.
struct Row<'a> {
    label: &'a str,
    name: Option<String>,
    value: Option<f64>,
    measure: Measure,
    /// What it says where it is empty; None if it may not be.
    open: Option<&'a str>,
}

impl Row<'_> {
    /// Shows the row; says whether it holds a text that was refused.
    fn show(
        self,
        ui: &mut Ui,
        desk: &mut Desk,
        set: impl Fn(&mut Desk, Option<f64>) -> Result<(), Problem>,
    ) -> bool {
        let id = ui
            .scope_id()
            .with(("number", self.name.as_deref().unwrap_or(self.label)));
        let mut draft = ui.data(|data| data.get_temp::<Draft>(id));
        if let Some(draft) = &mut draft {
            // A press may have started another gesture; `App::show` has ended this one.
            draft.stepping &= !ui.input(|input| input.pointer.any_pressed());
        }
        if ui.memory(|memory| memory.has_focus(id)) {
            let draft = draft.get_or_insert_with(|| self.fresh_draft());
            // What was measured is typed, and never stepped to.
            if self.open.is_none() {
                for step in arrow_steps(ui, self.measure) {
                    self.nudge(draft, desk, step, &set);
                }
            }
        } else if draft
            .as_ref()
            .is_some_and(|draft| !same(draft.against, self.value))
        {
            draft = None;
        }
        let palette = Palette::of(ui.ctx());
        let refused = draft.as_ref().is_some_and(|draft| draft.refused.is_some());
        let before = draft
            .as_ref()
            .map_or_else(|| self.text(self.value), |d| d.text.clone());
        let mut text = before.clone();
        let response = pieces::row(ui, self.label, |ui| {
            let ink = if refused { palette.fouls } else { palette.ink };
            pieces::field_edges(ui, refused.then_some(palette.fouls));
            let edit = TextEdit::singleline(&mut text)
                .id(id)
                .text_color(ink)
                .hint_text(self.open.unwrap_or_default())
                .align(Align2::RIGHT_CENTER)
                .margin(pieces::FIELD_MARGIN)
                .min_size(egui::vec2(pieces::FIELD_WIDTH, pieces::FIELD_HEIGHT))
                .desired_width(pieces::FIELD_WIDTH);
            edit.show(ui).response.response
        });
        let label = response.inner_label;
        let response = match &self.name {
            Some(name) => response.inner.accessible_name(name.clone()),
            None => response.inner.labelled_by(label),
        };
        if response.gained_focus() {
            pieces::select_all(ui.ctx(), id, &text);
            response.scroll_to_me(None);
        }
        if text != before {
            let draft = draft.get_or_insert_with(|| self.fresh_draft());
            draft.text = text;
        }
        if response.lost_focus() {
            draft = draft.and_then(|draft| self.leave(ui, draft, desk, &set));
        }
        let refused = draft.as_ref().and_then(|draft| draft.refused.as_ref());
        if let Some(why) = refused {
            pieces::refusal(ui, why);
        }
        let refused = refused.is_some();
        pieces::remember(ui, id, draft);
        refused
    }

    /// How a value is shown, and typed where it is left as it is.
    fn text(&self, value: Option<f64>) -> String {
        value.map_or_else(String::new, |value| self.measure.show(value))
    }

    /// The value of a text; of an empty one None, where that may be.
    fn parsed(&self, text: &str) -> Result<Option<f64>, String> {
        if self.open.is_some() && text.trim().is_empty() {
            return Ok(None);
        }
        expression::parse(text, self.measure).map(Some)
    }

    fn fresh_draft(&self) -> Draft {
        Draft {
            text: self.text(self.value),
            against: self.value,
            ..Draft::default()
        }
    }

    /// Commits what was typed, or cancels it; gives back what has to stay in the field.
    fn leave(
        &self,
        ui: &Ui,
        mut draft: Draft,
        desk: &mut Desk,
        set: &impl Fn(&mut Desk, Option<f64>) -> Result<(), Problem>,
    ) -> Option<Draft> {
        ui.ctx().request_repaint();
        if ui.input(|input| input.key_pressed(Key::Escape)) {
            if draft.stepping {
                desk.cancel_gesture();
            }
            return None;
        }
        draft.refused = if draft.text == self.text(draft.against) {
            None
        } else {
            let value = self.parsed(&draft.text);
            value.and_then(|value| self.set(desk, value, set)).err()
        };
        if std::mem::take(&mut draft.stepping) {
            desk.finish_gesture();
        }
        draft.refused.is_some().then_some(draft)
    }

    /// Steps the value; all steps until the field is left are one change.
    fn nudge(
        &self,
        draft: &mut Draft,
        desk: &mut Desk,
        step: f64,
        set: &impl Fn(&mut Desk, Option<f64>) -> Result<(), Problem>,
    ) {
        let Ok(typed) = expression::parse(&draft.text, self.measure) else {
            return;
        };
        let unchanged = draft.text == self.text(draft.against);
        let from = draft.against.filter(|_| unchanged).unwrap_or(typed);
        let value = ((from + step) * FINEST).round() / FINEST;
        desk.begin_gesture();
        draft.stepping = true;
        draft.refused = self.set(desk, Some(value), set).err();
        draft.text = self.text(Some(value));
        if draft.refused.is_none() {
            draft.against = Some(value);
        }
    }

    /// Sets a value; a refusal speaks of the field by its label, and only here.
    fn set(
        &self,
        desk: &mut Desk,
        value: Option<f64>,
        set: &impl Fn(&mut Desk, Option<f64>) -> Result<(), Problem>,
    ) -> Result<(), String> {
        set(desk, value).map_err(|problem| {
            desk.notice = None;
            problem.to_string().replace(
                &format!("`{}`", problem.field),
                &format!("“{}”", self.label),
            )
        })
    }
}

/// Stepped values are rounded to one over this, mm or degrees: steps of 0.01 add up without a tail.
const FINEST: f64 = 1e6;

/// Whether two values of a field are the same to the eye of a file.
fn same(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() * FINEST < 1.0,
        (a, b) => a.is_none() && b.is_none(),
    }
}

/// How far the arrow keys that were pressed step the value, mm or degrees.
fn arrow_steps(ui: &Ui, measure: Measure) -> Vec<f64> {
    // In inches a step is a tenth of what the same key does in millimetres: 0.01 in, 0.25 mm.
    let one = match measure {
        Measure::Length(LengthUnit::Inch) => LengthUnit::Inch.to_mm(0.01),
        Measure::Length(LengthUnit::Millimetre) | Measure::Angle | Measure::Mass => 0.1,
        Measure::Torque | Measure::Stiffness | Measure::Count => 1.0,
        Measure::Force | Measure::Plain => 0.01,
    };
    let mut steps = Vec::new();
    ui.input_mut(|input| {
        for (modifiers, times) in [
            (Modifiers::SHIFT, 10.0),
            (Modifiers::ALT, 0.1),
            (Modifiers::NONE, 1.0),
        ] {
            for (key, sign) in [(Key::ArrowUp, 1.0), (Key::ArrowDown, -1.0)] {
                let count = input.count_and_consume_key(modifiers, key);
                let whole = measure == Measure::Count;
                let times = if whole { f64::max(times, 1.0) } else { times };
                steps.extend(std::iter::repeat_n(one * times * sign, count));
            }
        }
    });
    steps
}
