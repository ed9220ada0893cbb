//! Everything that the maker can tell the program: what it is called, which keys it has.

use egui::{Context, Event, Key, KeyboardShortcut, Modifiers};

use super::step::Step;
use crate::parts::CutFormat;

/// One command. [`super::App::carry_out`] is the only place that carries them out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Command {
    /// Starts a plain project.
    New,
    /// Reads a project.
    Open,
    /// Writes the project to its file.
    Save,
    /// Writes the project to another file.
    SaveAs,
    /// Writes the dimensioned sheet.
    SaveSheet,
    /// Writes the dimensioned sheet and opens it in the desktop's viewer.
    Print,
    /// Empties the list of recent files.
    ClearRecent,
    /// Writes a part for the cutter.
    SaveCut(CutFormat),
    /// Writes all that is printed for the printer.
    SaveSolids,
    /// Writes the plate that tells what the printer needs.
    SaveGauge,
    /// Puts a picture under the front view.
    TracePicture,
    /// Takes the head outline from a drawing.
    ImportHead,
    /// Takes the plate outline from a drawing.
    ImportPlate,
    /// Reads a shelf of plates.
    OpenShelf,
    /// Puts the plate on the shelf.
    KeepOnShelf,
    /// Starts to measure a plate for the shelf.
    MeasurePlate,
    /// Takes the outline of the measured plate from a drawing.
    ImportMeasured,
    /// Puts the measured plate on the shelf.
    ShelveMeasured,
    /// Takes the last change back.
    Undo,
    /// Makes the change again that was taken back.
    Redo,
    /// Gives the character another name.
    Rename,
    /// Looks for a route of the chosen drive's sheath.
    ProposeRoute,
    /// Looks for slots for the ties.
    ProposeSlots,
    /// Shows the front view from the other side.
    TurnOver,
    /// Shows a step of the job.
    Show(Step),
    /// Closes the window.
    Quit,
}

impl Command {
    /// All of them.
    pub const ALL: [Self; 33] = [
        Self::New,
        Self::Open,
        Self::Save,
        Self::SaveAs,
        Self::SaveSheet,
        Self::Print,
        Self::ClearRecent,
        Self::SaveCut(CutFormat::Svg),
        Self::SaveCut(CutFormat::Dxf),
        Self::SaveSolids,
        Self::SaveGauge,
        Self::TracePicture,
        Self::ImportHead,
        Self::ImportPlate,
        Self::OpenShelf,
        Self::KeepOnShelf,
        Self::MeasurePlate,
        Self::ImportMeasured,
        Self::ShelveMeasured,
        Self::Undo,
        Self::Redo,
        Self::Rename,
        Self::ProposeRoute,
        Self::ProposeSlots,
        Self::TurnOver,
        Self::Show(Step::Head),
        Self::Show(Step::Eyes),
        Self::Show(Step::Plate),
        Self::Show(Step::Lids),
        Self::Show(Step::Drives),
        Self::Show(Step::Hand),
        Self::Show(Step::Sheet),
        Self::Quit,
    ];

    /// What its button says.
    pub fn label(self) -> &'static str {
        match self {
            Self::New => "New",
            Self::Open => "Open",
            Self::Save => "Save",
            Self::SaveAs => "Save as",
            Self::SaveSheet => "Save sheet as PDF…",
            Self::Print => "Print sheet",
            Self::ClearRecent => "Clear the list",
            Self::SaveCut(CutFormat::Svg) => "Save cut file as SVG…",
            Self::SaveCut(CutFormat::Dxf) => "Save cut file as DXF…",
            Self::SaveSolids => "Save solids as STL and 3MF…",
            Self::SaveGauge => "Save fit gauge as STL…",
            Self::TracePicture => "Choose a picture…",
            Self::ImportHead => "Head outline from a drawing…",
            Self::ImportPlate => "Plate outline from a drawing…",
            Self::OpenShelf => "Open a shelf…",
            Self::KeepOnShelf => "Put this plate on a shelf…",
            Self::MeasurePlate => "Measure a plate",
            Self::ImportMeasured => "Outline from a drawing…",
            Self::ShelveMeasured => "Put it on the shelf",
            Self::Undo => "Undo",
            Self::Redo => "Redo",
            Self::Rename => "Rename",
            Self::ProposeRoute => "Propose a route",
            Self::ProposeSlots => "Propose slots",
            Self::TurnOver => "Seen from the back",
            Self::Show(step) => step.name(),
            Self::Quit => "Quit",
        }
    }

    /// What it does, in a few words.
    pub fn tooltip(self) -> &'static str {
        match self {
            Self::New => "Start a plain plate for another character",
            Self::Open => "Open a character's file",
            Self::Save => "Save the character to its file",
            Self::SaveAs => "Save the character to another file",
            Self::SaveSheet => "Save the dimensioned 1:1 drawing for the bench",
            Self::Print => "Open the 1:1 drawing as a PDF: print it at 100 %, not “fit to page”",
            Self::ClearRecent => "Forget the recent files; the files themselves stay",
            Self::SaveCut(CutFormat::Svg) => {
                "Save the chosen part's contours in millimetres as SVG"
            }
            Self::SaveCut(CutFormat::Dxf) => {
                "Save the chosen part's contours in millimetres as DXF"
            }
            Self::SaveSolids => {
                "Save plate, rings, lids, lugs and levers for the 3D printer in a folder"
            }
            Self::SaveGauge => "Save a test plate to print first: it tells what your printer needs",
            Self::TracePicture => "Put a photo or a scan under the front view and trace it",
            Self::ImportHead => "Take the head's inside wall from an SVG or DXF file",
            Self::ImportPlate => "Take the plate's outline from an SVG or DXF file",
            Self::OpenShelf => "Open a file of plates that you have, and try each in this head",
            Self::KeepOnShelf => "Note this plate in the file of plates that you have",
            Self::MeasurePlate => {
                "Note a plate that you have by its calliper figures; what is not measured stays open"
            }
            Self::ImportMeasured => "Take the measured plate's outline from an SVG or DXF file",
            Self::ShelveMeasured => "Note the measured plate in the file of plates that you have",
            Self::Undo => "Take the last change back",
            Self::Redo => "Make the change again",
            Self::Rename => "Rename the character",
            Self::ProposeRoute => "Look for a way that keeps clear of everything and bends least",
            Self::ProposeSlots => {
                "Look for slots that spread wide and lie near to the anchor holes; locked ones stay"
            }
            Self::TurnOver => {
                "Show the plate from the back, as the maker works on it; left and right stay the audience's"
            }
            Self::Show(Step::Head) => "The head's inside wall, its way in and its anchor holes",
            Self::Show(Step::Eyes) => "The eyes, their parts and their gaze",
            Self::Show(Step::Plate) => "The plate, its slots and the limits",
            Self::Show(Step::Lids) => "The lids, their lugs and pivots",
            Self::Show(Step::Drives) => "Levers, cables and sheaths of lids and eyes",
            Self::Show(Step::Hand) => "The guard behind the plate, and the hand's room",
            Self::Show(Step::Sheet) => "The dimensioned drawing",
            Self::Quit => "Close the window",
        }
    }

    /// Its keys.
    pub fn shortcuts(self) -> &'static [KeyboardShortcut] {
        const fn command(key: Key) -> KeyboardShortcut {
            KeyboardShortcut::new(Modifiers::COMMAND, key)
        }
        const fn command_shift(key: Key) -> KeyboardShortcut {
            KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), key)
        }
        match self {
            Self::New => const { &[command(Key::N)] },
            Self::Open => const { &[command(Key::O)] },
            Self::Save => const { &[command(Key::S)] },
            Self::SaveAs => const { &[command_shift(Key::S)] },
            Self::SaveSheet => const { &[command(Key::E)] },
            Self::Print => const { &[command(Key::P)] },
            Self::ClearRecent
            | Self::OpenShelf
            | Self::KeepOnShelf
            | Self::MeasurePlate
            | Self::ImportMeasured
            | Self::ShelveMeasured => &[],
            Self::SaveCut(CutFormat::Svg) => const { &[command_shift(Key::V)] },
            Self::SaveCut(CutFormat::Dxf) => const { &[command_shift(Key::D)] },
            Self::SaveSolids => const { &[command_shift(Key::M)] },
            Self::SaveGauge => const { &[command_shift(Key::G)] },
            Self::TracePicture => const { &[command_shift(Key::P)] },
            Self::ImportHead => const { &[command(Key::I)] },
            Self::ImportPlate => const { &[command_shift(Key::I)] },
            Self::Undo => const { &[command(Key::Z)] },
            Self::Redo => const { &[command_shift(Key::Z), command(Key::Y)] },
            Self::Rename => const { &[KeyboardShortcut::new(Modifiers::NONE, Key::F2)] },
            Self::ProposeRoute => const { &[command(Key::R)] },
            Self::ProposeSlots => const { &[command_shift(Key::R)] },
            Self::TurnOver => const { &[command(Key::B)] },
            Self::Show(Step::Head) => const { &[command(Key::Num1)] },
            Self::Show(Step::Eyes) => const { &[command(Key::Num2)] },
            Self::Show(Step::Plate) => const { &[command(Key::Num3)] },
            Self::Show(Step::Lids) => const { &[command(Key::Num4)] },
            Self::Show(Step::Drives) => const { &[command(Key::Num5)] },
            Self::Show(Step::Hand) => const { &[command(Key::Num6)] },
            Self::Show(Step::Sheet) => const { &[command(Key::Num7)] },
            Self::Quit => const { &[command(Key::Q)] },
        }
    }

    /// Tooltip and keys in one line.
    pub fn hover_text(self, ctx: &Context) -> String {
        match self.shortcuts().first() {
            Some(shortcut) => format!("{} ({})", self.tooltip(), ctx.format_shortcut(shortcut)),
            None => self.tooltip().to_owned(),
        }
    }

    /// Whether it changes text in a field that has the focus, so that the field comes first.
    fn edits_text(self) -> bool {
        matches!(self, Self::Undo | Self::Redo)
    }

    /// The command whose keys were pressed, taken out of the input.
    ///
    /// Keys that carry no Ctrl or Cmd, and those that edit text, stay with a text field that has
    /// the focus.
    pub fn pressed(ctx: &Context) -> Option<Self> {
        let typing = ctx.text_edit_focused();
        let free =
            |command: &Self, keys: Modifiers| !typing || (keys.command && !command.edits_text());
        ctx.input_mut(|input| {
            let mut pressed = None;
            input.events.retain(|event| {
                let Event::Key {
                    key,
                    physical_key,
                    pressed: true,
                    modifiers,
                    ..
                } = *event
                else {
                    return true;
                };
                let command = Self::of_keys(modifiers, key, physical_key);
                let command = command.filter(|command| free(command, modifiers));
                pressed = pressed.or(command);
                command.is_none()
            });
            pressed
        })
    }

    /// The command of these keys: what the layout calls the key decides; where it is no Latin
    /// letter or digit, its place on the keyboard does.
    fn of_keys(modifiers: Modifiers, key: Key, place: Option<Key>) -> Option<Self> {
        let of = |key: Key| {
            Self::ALL.into_iter().find(|command| {
                let mut shortcuts = command.shortcuts().iter();
                shortcuts.any(|s| s.logical_key == key && modifiers.matches_exact(s.modifiers))
            })
        };
        let plain = key.name().len() == 1 && key.name().chars().all(|c| c.is_ascii_alphanumeric());
        of(key).or_else(|| place.filter(|_| !plain).and_then(of))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_a_key_or_a_label() {
        for (index, one) in Command::ALL.iter().enumerate() {
            assert!(!one.label().is_empty() && !one.tooltip().is_empty());
            for other in &Command::ALL[index + 1..] {
                assert_ne!(one.label(), other.label());
                for keys in one.shortcuts() {
                    assert!(
                        !other.shortcuts().contains(keys),
                        "{one:?} and {other:?} share {keys:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn no_command_takes_the_keys_of_zoom_or_of_text_editing() {
        for key in [
            Key::Plus,
            Key::Minus,
            Key::Num0,
            Key::C,
            Key::X,
            Key::V,
            Key::A,
        ] {
            assert_eq!(
                Command::of_keys(Modifiers::COMMAND, key, None),
                None,
                "{key:?}"
            );
        }
    }

    #[test]
    fn the_layout_names_the_key_and_its_place_stands_in() {
        let command = |key, place| Command::of_keys(Modifiers::COMMAND, key, Some(place));
        assert_eq!(command(Key::S, Key::Semicolon), Some(Command::Save));
        // A Latin letter without a command of its own does not fall back to its place.
        assert_eq!(command(Key::J, Key::N), None);
        assert_eq!(
            command(Key::Exclamationmark, Key::Num1),
            Some(Command::Show(Step::Head))
        );
    }

    #[test]
    fn shift_tells_redo_from_undo() {
        let shift = Modifiers::COMMAND | Modifiers::SHIFT;
        assert_eq!(
            Command::of_keys(Modifiers::COMMAND, Key::Z, None),
            Some(Command::Undo)
        );
        assert_eq!(Command::of_keys(shift, Key::Z, None), Some(Command::Redo));
        assert_eq!(Command::of_keys(shift, Key::S, None), Some(Command::SaveAs));
        assert_eq!(Command::of_keys(shift, Key::N, None), None);
    }
}
