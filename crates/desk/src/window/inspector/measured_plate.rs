//! The form for a plate that exists only as an object: its calliper figures, each of which may stay open.

use egui::{Align, Ui};
use layout::Problem;
use layout::shelf::{Dimension, LidsKind, Measured, Openings, OutlineKind, SeatKind};

use crate::window::command::Command;
use crate::window::controls;
use crate::window::expression::Measure;
use crate::window::number_field::{self, OpenNumberField};
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::text_field::{self, TextField};

const OPENINGS: [(Openings, &str); 2] = [(Openings::One, "one"), (Openings::Pair, "a pair")];

const SEATS: [(SeatKind, &str); 3] = [
    (SeatKind::NotKnown, "not known"),
    (SeatKind::Plain, "plain"),
    (SeatKind::Spherical, "spherical"),
];

const LIDS: [(LidsKind, &str); 3] = [
    (LidsKind::NotKnown, "not known"),
    (LidsKind::Without, "none"),
    (LidsKind::With, "some"),
];

const OUTLINES: [(OutlineKind, &str); 3] = [
    (OutlineKind::NotKnown, "not known"),
    (OutlineKind::Rectangle, "rectangle"),
    (OutlineKind::Curve, "curve"),
];

/// Shows the form while a plate is being measured.
pub(super) fn show(ui: &mut Ui, desk: &mut Desk) -> Option<Command> {
    let measuring = desk.measuring.as_mut()?;
    let first = !std::mem::replace(&mut measuring.seen, true);
    let refused = measuring.refused.clone();
    let plate = measuring.plate.clone();
    let mut form = Form {
        desk,
        plate,
        unclear: Vec::new(),
    };
    if first {
        ui.scroll_to_cursor(Some(Align::TOP));
    }
    pieces::group(ui, "A plate that you measure", false);
    let hint = "What you leave empty is not known. The list then says what to measure.";
    pieces::hint(ui, hint);
    form.whole(ui);
    form.parts(ui);
    let asked = form.outline(ui);
    form.slots(ui);
    form.cable_holes(ui);
    ui.add_space(8.0);
    if let Some(why) = refused {
        pieces::refusal(ui, &why);
    }
    asked.or(form.end(ui))
}

/// What is to become of a slot or a hole.
enum Asked {
    Mirror,
    Remove,
}

struct Form<'a> {
    desk: &'a mut Desk,
    /// The plate as it stood when the form began to be shown.
    plate: Measured,
    /// The fields that hold a text that was refused.
    unclear: Vec<String>,
}

impl Form<'_> {
    fn whole(&mut self, ui: &mut Ui) {
        let name = TextField {
            label: "Name",
            value: &self.plate.name,
            hint: "such as: first badger",
        };
        let label = name.label.to_owned();
        let refused = name.show(ui, self.desk, |desk, name| {
            desk.change_measured(|plate| plate.rename(name))
        });
        self.unclear.extend(refused.then_some(label));
        if self.plate.openings == Openings::Given {
            pieces::hint(ui, "Its openings stay where the shelf has them.");
        } else {
            self.choose(ui, "Openings", &OPENINGS, self.plate.openings, |plate| {
                &mut plate.openings
            });
        }
        if self.plate.openings == Openings::Pair {
            self.number(ui, Dimension::Spacing);
            pieces::hint(
                ui,
                "From the left edge of one opening to the left edge of the other. A plate with more than two \
                 comes onto the shelf from its project.",
            );
        }
        self.number(ui, Dimension::Thickness);
    }

    fn parts(&mut self, ui: &mut Ui) {
        ui.add_space(8.0);
        pieces::hint(ui, "Ball, seat and ring");
        self.number(ui, Dimension::Ball);
        self.choose(ui, "Seat", &SEATS, self.plate.seat, |plate| &mut plate.seat);
        let of_seat: &[Dimension] = match self.plate.seat {
            SeatKind::NotKnown => &[],
            SeatKind::Plain => &[Dimension::Opening],
            SeatKind::Spherical => &[Dimension::CentreHeight, Dimension::RunningClearance],
        };
        self.numbers(ui, of_seat);
        self.numbers(
            ui,
            &[
                Dimension::RingDepth,
                Dimension::RingThickness,
                Dimension::RingDiameter,
                Dimension::RingBevel,
            ],
        );
        self.choose(ui, "Lids", &LIDS, self.plate.lids, |plate| &mut plate.lids);
        if self.plate.lids == LidsKind::With {
            self.numbers(
                ui,
                &[
                    Dimension::PivotSpacing,
                    Dimension::PivotHole,
                    Dimension::LidGap,
                    Dimension::LidShell,
                ],
            );
        }
    }

    fn outline(&mut self, ui: &mut Ui) -> Option<Command> {
        let mut asked = None;
        ui.add_space(8.0);
        pieces::hint(ui, "Edge");
        self.choose(ui, "Outline", &OUTLINES, self.plate.outline, |plate| {
            &mut plate.outline
        });
        let bounds = self.plate.bounds();
        match self.plate.outline {
            OutlineKind::NotKnown => {}
            OutlineKind::Rectangle => self.numbers(ui, &[Dimension::Width, Dimension::Height]),
            OutlineKind::Curve => {
                if let Some(drawn) = self
                    .desk
                    .measuring
                    .as_ref()
                    .and_then(|own| own.drawn.as_ref())
                {
                    pieces::hint(ui, drawn);
                }
                if let Some([low, high]) = bounds {
                    let size = [high[0] - low[0], high[1] - low[1]];
                    pieces::figure(ui, "Width and height", self.desk.in_words(size));
                }
                let drawing = Command::ImportMeasured;
                let button = controls::outlined_button(ui, drawing.label());
                if button.on_hover_text(drawing.hover_text(ui.ctx())).clicked() {
                    asked = Some(drawing);
                }
                if controls::outlined_button(ui, "Outline of this project's plate").clicked() {
                    self.take_project_outline();
                }
            }
        }
        if bounds.is_some() {
            self.numbers(ui, &[Dimension::FromLeft, Dimension::FromBelow]);
            pieces::hint(
                ui,
                "To the middle of the openings: as shown, unless you measure it.",
            );
        }
        asked
    }

    fn take_project_outline(&mut self) {
        let project = self.desk.project().clone();
        let taken = self
            .desk
            .change_measured(|plate| plate.take_outline_of(&project));
        if let Some(measuring) = &mut self.desk.measuring {
            match taken {
                Ok(()) => measuring.drawn = None,
                Err(why) => measuring.refused = Some(why.to_string()),
            }
        }
    }

    fn slots(&mut self, ui: &mut Ui) {
        ui.add_space(8.0);
        pieces::hint(ui, "Slots for ties, from the middle of the openings");
        for index in 0..self.plate.slots() {
            let asked = self.part(ui, &Dimension::of_slot(index));
            match asked {
                Some(Asked::Mirror) => self.change(|plate| plate.mirror_slot(index)),
                Some(Asked::Remove) => self.change(|plate| plate.remove_slot(index)),
                None => {}
            }
        }
        if controls::outlined_button(ui, "Add a measured slot").clicked() {
            self.change(Measured::add_slot);
        }
    }

    fn cable_holes(&mut self, ui: &mut Ui) {
        ui.add_space(8.0);
        pieces::hint(ui, "Holes for cables, from the middle of the openings");
        for index in 0..self.plate.holes() {
            let asked = self.part(ui, &Dimension::of_hole(index));
            match asked {
                Some(Asked::Mirror) => self.change(|plate| plate.mirror_hole(index)),
                Some(Asked::Remove) => self.change(|plate| plate.remove_hole(index)),
                None => {}
            }
        }
        if controls::outlined_button(ui, "Add a measured cable hole").clicked() {
            self.change(Measured::add_hole);
        }
    }

    /// The fields of a slot or a hole, and what is to become of it.
    fn part(&mut self, ui: &mut Ui, dimensions: &[Dimension; 5]) -> Option<Asked> {
        let name = dimensions[0].part().unwrap_or_default();
        ui.label(pieces::capital(&name));
        self.numbers(ui, dimensions);
        let buttons = ui.horizontal(|ui| {
            if controls::outlined_button(ui, &format!("Mirror {name}")).clicked() {
                return Some(Asked::Mirror);
            }
            if controls::outlined_button(ui, &format!("Remove {name}")).clicked() {
                // What was refused in a later one's fields would come to stand in this one's.
                forget_drafts(ui);
                return Some(Asked::Remove);
            }
            None
        });
        buttons.inner
    }

    fn end(self, ui: &mut Ui) -> Option<Command> {
        let shelve = Command::ShelveMeasured;
        ui.horizontal(|ui| {
            let button = controls::strong_button(ui, shelve.label());
            let hovered = button.on_hover_text(shelve.hover_text(ui.ctx()));
            let asked = hovered.clicked() && self.desk.is_measured(&self.unclear);
            if controls::outlined_button(ui, "Drop it").clicked() {
                self.desk.drop_measured();
            }
            asked.then_some(shelve)
        })
        .inner
    }

    fn numbers(&mut self, ui: &mut Ui, dimensions: &[Dimension]) {
        for &dimension in dimensions {
            self.number(ui, dimension);
        }
    }

    fn number(&mut self, ui: &mut Ui, dimension: Dimension) {
        let label = dimension.label();
        let of = dimension.part();
        let field = OpenNumberField {
            label,
            name: Some(format!(
                "Measured {}: {label}",
                of.as_deref().unwrap_or("plate")
            )),
            value: self.plate.get(dimension),
            measure: Measure::of(dimension.unit(), self.desk.unit),
            open: "not measured",
        };
        let refused = field.show(ui, self.desk, |desk, value| {
            desk.set_measured(dimension, value)
        });
        if refused {
            self.unclear.push(match of {
                Some(of) => format!("{label} of {of}"),
                None => label.to_owned(),
            });
        }
    }

    /// A row with a choice of what the plate is like.
    fn choose<T: Copy + PartialEq>(
        &mut self,
        ui: &mut Ui,
        label: &str,
        all: &[(T, &str)],
        now: T,
        of: impl Fn(&mut Measured) -> &mut T,
    ) {
        let names: Vec<_> = all.iter().map(|(_, name)| *name).collect();
        let chosen = all.iter().position(|(own, _)| *own == now);
        let what = format!("Measured plate, {}", label.to_lowercase());
        let picked = pieces::row(ui, label, |ui| {
            controls::choice(ui, &what, &names, chosen.unwrap_or_default())
        });
        if let Some(picked) = picked.inner {
            self.change(|plate| *of(plate) = all[picked].0);
        }
    }

    /// Makes a change that nothing can refuse.
    fn change(&mut self, change: impl FnOnce(&mut Measured)) {
        let _never_refused: Result<(), Problem> = self.desk.change_measured(|plate| {
            change(plate);
            Ok(())
        });
    }
}

fn forget_drafts(ui: &Ui) {
    number_field::forget_drafts(ui.ctx());
    text_field::forget_drafts(ui.ctx());
}
