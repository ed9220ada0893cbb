//! One field for every text: commits when it is left, Escape cancels.

use egui::{Context, Key, TextEdit, Ui};
use layout::Problem;

use super::pieces;
use super::state::Desk;
use super::theme::Palette;

/// A labelled text.
pub(crate) struct TextField<'a> {
    /// What stands before it.
    pub(crate) label: &'a str,
    /// Its value.
    pub(crate) value: &'a str,
    /// What stands in it while it is empty.
    pub(crate) hint: &'static str,
}

#[derive(Clone, Debug)]
struct Draft {
    text: String,
    refused: Option<String>,
}

/// Forgets what is in the fields, since something else stands in the project.
pub(crate) fn forget_drafts(ctx: &Context) {
    ctx.data_mut(|data| data.remove_by_type::<Draft>());
}

impl TextField<'_> {
    /// Shows the field as a row; `set` carries a new text out. Says whether the field holds a text that was
    /// refused.
    pub(crate) fn show(
        self,
        ui: &mut Ui,
        desk: &mut Desk,
        set: impl Fn(&mut Desk, String) -> Result<(), Problem>,
    ) -> bool {
        let id = ui.scope_id().with(("text", self.label));
        let mut draft = ui.data(|data| data.get_temp::<Draft>(id));
        let palette = Palette::of(ui.ctx());
        let refused = draft.as_ref().is_some_and(|draft| draft.refused.is_some());
        let before = draft
            .as_ref()
            .map_or_else(|| self.value.to_owned(), |d| d.text.clone());
        let mut text = before.clone();
        let row = pieces::row(ui, self.label, |ui| {
            pieces::field_edges(ui, refused.then_some(palette.fouls));
            let edit = TextEdit::singleline(&mut text)
                .id(id)
                .hint_text(self.hint)
                .margin(pieces::FIELD_MARGIN)
                .min_size(egui::vec2(pieces::TEXT_WIDTH, pieces::FIELD_HEIGHT))
                .desired_width(pieces::TEXT_WIDTH);
            edit.show(ui).response.response
        });
        let response = row.inner.labelled_by(row.inner_label);
        if response.gained_focus() {
            pieces::select_all(ui.ctx(), id, &text);
            response.scroll_to_me(None);
        }
        if text != before {
            draft = Some(Draft {
                text,
                refused: None,
            });
        }
        if response.lost_focus() {
            let escaped = ui.input(|input| input.key_pressed(Key::Escape));
            draft = draft.filter(|_| !escaped).and_then(|mut draft| {
                let set = set(desk, draft.text.trim().to_owned());
                draft.refused = set.err().map(|problem| {
                    desk.notice = None;
                    problem.to_string()
                });
                draft.refused.is_some().then_some(draft)
            });
        }
        let refused = draft.as_ref().and_then(|draft| draft.refused.as_ref());
        if let Some(why) = refused {
            pieces::refusal(ui, why);
        }
        let refused = refused.is_some();
        pieces::remember(ui, id, draft);
        refused
    }
}
