//! Why a file could not be read or written.

use std::fmt;
use std::path::Path;

/// What went wrong with a file: one sentence of the cause, one of the mend.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileError {
    file: Option<String>,
    place: Option<Place>,
    field: Option<String>,
    sentence: String,
    remedy: String,
}

/// A place in a text, both counted from 1, columns in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// The line.
    pub line: usize,
    /// The column.
    pub column: usize,
}

impl Place {
    /// The place of a byte in a text.
    pub(crate) fn of(text: &str, byte: usize) -> Self {
        let before = &text[..text.floor_char_boundary(byte)];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        Self {
            line: 1 + before.matches('\n').count(),
            column: 1 + before[line_start..].chars().count(),
        }
    }
}

impl FileError {
    /// A failure that no place in a text belongs to.
    pub(crate) fn new(sentence: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self {
            file: None,
            place: None,
            field: None,
            sentence: sentence.into(),
            remedy: remedy.into(),
        }
    }

    /// The same failure, found at a place.
    pub(crate) fn at(self, place: Place) -> Self {
        Self {
            place: Some(place),
            ..self
        }
    }

    /// The same failure, about a field such as `parts.ring.depth`.
    pub(crate) fn about(self, field: impl Into<String>) -> Self {
        Self {
            field: Some(field.into()).filter(|field| !field.is_empty()),
            ..self
        }
    }

    /// The same failure, found in a file.
    pub(crate) fn in_file(self, path: &Path) -> Self {
        Self {
            file: Some(path.display().to_string()),
            ..self
        }
    }

    /// The place in the text, where there is one.
    pub fn place(&self) -> Option<Place> {
        self.place
    }

    /// The field that it is about, such as `parts.ring.depth` or `head.outline[3]`.
    pub fn field(&self) -> Option<&str> {
        self.field.as_deref()
    }

    /// One sentence that says what would mend it.
    pub fn remedy(&self) -> &str {
        &self.remedy
    }
}

impl fmt::Display for FileError {
    /// One sentence of the cause: the file, the place, the field, what is wrong.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut where_it_is = Vec::new();
        where_it_is.extend(self.file.clone());
        if let Some(Place { line, column }) = self.place {
            where_it_is.push(format!("line {line}, column {column}"));
        }
        let field = self.field.iter().map(|field| format!("`{field}`"));
        where_it_is.extend(field.filter(|field| !self.sentence.contains(field.as_str())));
        if !where_it_is.is_empty() {
            write!(f, "{}: ", where_it_is.join(", "))?;
        }
        f.write_str(&self.sentence)
    }
}

impl std::error::Error for FileError {}
