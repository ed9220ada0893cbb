//! The format's lines: a group code, then a value.

use std::fmt::{Display, Write};

use layout::geometry::Point;

use super::frame::FIRST_FREE_HANDLE;
use crate::cut::decimal;

/// Pairs of a group code and a value, written on.
pub(super) struct Tags {
    text: String,
    free_handle: u32,
}

impl Tags {
    pub(super) fn new() -> Self {
        Self {
            text: String::new(),
            free_handle: FIRST_FREE_HANDLE,
        }
    }

    pub(super) fn tag(&mut self, code: u16, value: impl Display) {
        // Writing to a string does not fail.
        let _ = writeln!(self.text, "{code}\n{value}");
    }

    /// A handle, which is a number in hexadecimal.
    pub(super) fn handle(&mut self, code: u16, handle: u32) {
        self.tag(code, format_args!("{handle:X}"));
    }

    /// A handle that nothing else has, under the code of an entity's own.
    pub(super) fn new_handle(&mut self) {
        self.handle(5, self.free_handle);
        self.free_handle += 1;
    }

    pub(super) fn number(&mut self, code: u16, value: f64) {
        self.tag(code, decimal(value));
    }

    /// A place in the drawing's plane: x, y and z under a code and the two that stand 10 and 20 above.
    pub(super) fn point(&mut self, code: u16, at: Point) {
        self.number(code, at.x);
        self.number(code + 10, at.y);
        self.number(code + 20, 0.0);
    }

    /// A text in ASCII: other characters by their number, U+FFFD for those that have none in four
    /// digits, and the marks by which the format spells characters of its own doubled.
    pub(super) fn text(&mut self, code: u16, text: &str) {
        let mut spelt = String::with_capacity(text.len());
        for character in text.replace("%%", "%%%%%%").chars() {
            match character {
                '^' => spelt.push_str("^ "),
                ' '..='~' => spelt.push(character),
                other => {
                    let number = u16::try_from(u32::from(other)).unwrap_or(0xfffd);
                    let _ = write!(spelt, "\\U+{number:04X}");
                }
            }
        }
        self.tag(code, spelt);
    }

    pub(super) fn section(&mut self, name: &str) {
        self.tag(0, "SECTION");
        self.tag(2, name);
    }

    pub(super) fn end_section(&mut self) {
        self.tag(0, "ENDSEC");
    }

    /// The first handle that nothing has.
    pub(super) fn free_handle(&self) -> u32 {
        self.free_handle
    }

    pub(super) fn into_text(self) -> String {
        self.text
    }
}
