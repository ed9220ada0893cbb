//! What the RON reader's refusals mean to the one who wrote the file.

use ron::error::{Error, SpannedError};

use super::error::{FileError, Place};
use super::locate::{Map, Node};

/// Longest piece of the file that a sentence repeats, in characters.
const LONGEST_QUOTE: usize = 32;

/// Says what stands wrong in a text, where, and what would be right.
pub(crate) fn explain(text: &str, map: &Map<'_>, error: &SpannedError) -> FileError {
    let byte = byte_of(text, error.span.end.line, error.span.end.col);
    Refusal { text, map, byte }.of(&error.code)
}

/// The same for a piece of a text that was read by itself, of which the byte `from` is at `at` in the text.
pub(crate) fn explain_piece(
    text: &str,
    map: &Map<'_>,
    piece: &str,
    [from, at]: [usize; 2],
    error: &SpannedError,
) -> FileError {
    let byte = byte_of(piece, error.span.end.line, error.span.end.col);
    let byte = at + byte.saturating_sub(from);
    Refusal { text, map, byte }.of(&error.code)
}

/// A text that was refused at a byte.
struct Refusal<'a> {
    text: &'a str,
    map: &'a Map<'a>,
    byte: usize,
}

impl Refusal<'_> {
    fn of(&self, code: &Error) -> FileError {
        if self.breaks_off() {
            return self.broken_off();
        }
        match code {
            Error::NoSuchStructField {
                expected, found, ..
            } => self.unknown_field(found, expected),
            Error::DuplicateStructField { field, .. } => self.twice(field),
            Error::MissingStructField { field, .. } => self.missing_field(field),
            Error::NoSuchEnumVariant { expected, .. } => {
                self.value(&format!("one of {}", listed(expected)), "Use one of these.")
            }
            Error::ExpectedDifferentLength { expected, .. } => {
                self.length(expected.rsplit(' ').next().unwrap_or_default())
            }
            Error::ExpectedStructLikeEnd => self.length(&self.values_before().to_string()),
            Error::TrailingCharacters => self.here(
                "There is more text after the end of the project.",
                "Remove what follows its last bracket.",
            ),
            Error::UnclosedBlockComment => {
                self.here("A comment is not closed.", "Close it with `*/`.")
            }
            Error::InvalidEscape(_) => self.here(
                "A backslash in a text stands for nothing known.",
                "Write two of them for one backslash.",
            ),
            Error::ExpectedMapColon => self.stray("A colon is missing before", "Put one there."),
            _ if self.inside_a_decimal() => {
                self.value("a whole number", "Write a whole number such as 2.")
            }
            _ if self.inside_a_word() => self.value(
                "a bare value",
                "Write the value alone, with no unit or bracket after it, then a comma.",
            ),
            Error::ExpectedComma => self.stray(
                "A comma is missing before",
                "Put one there, or close a quote that is still open before it.",
            ),
            _ => self.wrong_type(code),
        }
    }

    fn wrong_type(&self, code: &Error) -> FileError {
        match code {
            Error::ExpectedFloat => self.value("a number", "Write a number such as 12.5."),
            Error::ExpectedInteger
            | Error::IntegerOutOfBounds
            | Error::InvalidIntegerDigit { .. } => {
                self.value("a whole number from 0", "Write a whole number such as 2.")
            }
            Error::ExpectedBoolean => self.value("`true` or `false`", "Write one of these."),
            Error::ExpectedString => self.value("a text in quotes", "Write it as `\"text\"`."),
            Error::ExpectedArray => self.value("a list in square brackets", "Write it as `[…]`."),
            Error::ExpectedOption => self.value(
                "`None` or `Some(…)`",
                "Write `None`, or put the value into `Some(…)`.",
            ),
            Error::ExpectedNamedStructLike(name) => self.structure(name),
            Error::ExpectedDifferentStructName { expected, .. } => self.structure(expected),
            Error::ExpectedStructLike => self.value(
                "values in round brackets",
                "Write it as a file does that the program saved.",
            ),
            Error::ExpectedIdentifier | Error::SuggestRawIdentifier(_) if self.starts_a_value() => {
                self.value("a name", "Write it as a file does that the program saved.")
            }
            Error::ExpectedIdentifier | Error::SuggestRawIdentifier(_) => self.stray(
                "The name of a field should stand before",
                "Write a field as `name: value`, and a decimal sign as a point.",
            ),
            other => self.here(
                &format!("This cannot be read: {other}."),
                "Write it as a file does that the program saved.",
            ),
        }
    }

    /// Whether nothing but a started word is left of a text in which something is still open.
    fn breaks_off(&self) -> bool {
        let separators = [',', ':', '(', ')', '[', ']', '{', '}'];
        self.map.unclosed && !self.text[self.byte..].trim_end().contains(separators)
    }

    fn broken_off(&self) -> FileError {
        let path = self.path(self.map.around(self.text.trim_end().len()));
        let place = Place::of(self.text, self.text.len());
        FileError::new(
            format!("The file breaks off in {}.", named(&path)),
            "Open its backup (the same name with `.bak` behind it), or write the rest.",
        )
        .at(place)
        .about(path)
    }

    fn unknown_field(&self, found: &str, known: &[&str]) -> FileError {
        let node = self.map.named(found, self.byte);
        let path = node.map_or_else(|| clipped(found), |node| self.path(Some(node)));
        FileError::new(
            format!("There is no field {}.", named(&path)),
            format!("Use one of {}.", listed(known)),
        )
        .at(self.place(node.map(|node| node.start)))
        .about(path)
    }

    fn twice(&self, field: &str) -> FileError {
        let node = self.map.named(field, self.byte);
        let path = self.path(node);
        FileError::new(
            format!("{} is given twice.", named(&path)),
            "Remove one of them.",
        )
        .at(self.place(node.map(|node| node.start)))
        .about(path)
    }

    fn missing_field(&self, field: &str) -> FileError {
        let group = self.map.group_around(self.byte);
        let path = self.path(group);
        FileError::new(
            format!("{} has no field `{field}`.", capital(&named(&path))),
            format!("Add `{field}: …` to it, as in a file that the program saved."),
        )
        .at(self.place(group.map(|group| group.value)))
        .about(path)
    }

    /// A value that is not what it should be.
    fn value(&self, wanted: &str, remedy: &str) -> FileError {
        let node = self.map.around(self.byte);
        let path = self.path(node);
        let is = match node.map_or("", |node| self.map.value(node)) {
            "" => "has no value".to_owned(),
            written => format!("is `{}`", clipped(written)),
        };
        let name = capital(&named(&path));
        FileError::new(format!("{name} {is}, and should be {wanted}."), remedy)
            .at(self.place(node.map(|node| node.value)))
            .about(path)
    }

    fn structure(&self, name: &str) -> FileError {
        let node = self.map.around(self.byte);
        if self.path(node).is_empty() {
            let (kind, file) = match name {
                "Shelf" => ("shelf", "a shelf of plates"),
                _ => ("project", "a project file"),
            };
            return self.here(
                &format!("This is no {kind}: it does not start with `{name}(`."),
                &format!("Name {file} (`.ron`)."),
            );
        }
        self.value(
            &format!("`{name}(…)`"),
            &format!("Write `{name}(…)` there."),
        )
    }

    /// A point or a limit with too many values, or too few.
    fn length(&self, wanted: &str) -> FileError {
        let group = self.map.group_around(self.byte);
        let held = group.map_or(0, |group| self.map.inside(group).count());
        let path = self.path(group);
        let values = if held == 1 { "value" } else { "values" };
        let name = capital(&named(&path));
        FileError::new(
            format!("{name} holds {held} {values}, and should hold {wanted}."),
            format!("Write {wanted} values there."),
        )
        .at(self.place(group.map(|group| group.value)))
        .about(path)
    }

    /// How many values of the group around stand before the byte.
    fn values_before(&self) -> usize {
        let group = self.map.group_around(self.byte);
        group.map_or(0, |group| {
            let inside = self.map.inside(group);
            inside.filter(|value| value.end <= self.byte).count()
        })
    }

    /// Something that stands where something else should.
    fn stray(&self, sentence: &str, remedy: &str) -> FileError {
        let rest = &self.text[self.byte..];
        let end = rest
            .char_indices()
            .skip(1)
            .find(|(_, c)| !c.is_alphanumeric());
        let word = &rest[..end.map_or(rest.len(), |(at, _)| at)];
        self.here(&format!("{sentence} `{}`.", clipped(word)), remedy)
    }

    fn here(&self, sentence: &str, remedy: &str) -> FileError {
        FileError::new(sentence, remedy)
            .at(self.place(None))
            .about(self.path(self.map.group_around(self.byte)))
    }

    /// Whether the reader took the start of a value and choked on its rest.
    fn inside_a_word(&self) -> bool {
        self.map
            .around(self.byte)
            .is_some_and(|node| node.value < self.byte && self.byte < node.end && !node.is_group)
    }

    /// Whether the reader wanted a whole number and got one with decimals.
    fn inside_a_decimal(&self) -> bool {
        let written = self.map.around(self.byte).map(|node| self.map.value(node));
        self.inside_a_word() && written.is_some_and(|word| word.parse::<f64>().is_ok())
    }

    fn starts_a_value(&self) -> bool {
        self.map
            .around(self.byte)
            .is_some_and(|node| node.start < node.value && node.value == self.byte)
    }

    fn place(&self, byte: Option<usize>) -> Place {
        Place::of(self.text, byte.unwrap_or(self.byte))
    }

    fn path(&self, node: Option<&Node<'_>>) -> String {
        clipped(&node.map_or_else(String::new, |node| self.map.path(node)))
    }
}

/// The byte at a line and a column, both counted from 1, columns in characters.
fn byte_of(text: &str, line: usize, column: usize) -> usize {
    let line_start = match line {
        0 | 1 => 0,
        _ => text
            .match_indices('\n')
            .nth(line - 2)
            .map_or(text.len(), |(at, _)| at + 1),
    };
    let rest = &text[line_start..];
    let along = rest.char_indices().nth(column.saturating_sub(1));
    line_start + along.map_or(rest.len(), |(at, _)| at)
}

fn named(path: &str) -> String {
    if path.is_empty() {
        "the project".to_owned()
    } else {
        format!("`{path}`")
    }
}

fn capital(sentence: &str) -> String {
    sentence.replacen("the ", "The ", 1)
}

/// Words to choose from: `a`, `b`, `c`.
fn listed(words: &[&str]) -> String {
    let words: Vec<_> = words.iter().map(|word| format!("`{word}`")).collect();
    words.join(", ")
}

/// A piece of the file on one line, shortened to [`LONGEST_QUOTE`].
fn clipped(piece: &str) -> String {
    let words: Vec<&str> = piece.split_whitespace().take(LONGEST_QUOTE).collect();
    let line = words.join(" ");
    match line.char_indices().nth(LONGEST_QUOTE) {
        Some((end, _)) => format!("{}…", &line[..end]),
        None => line,
    }
}
