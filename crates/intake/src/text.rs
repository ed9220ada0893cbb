//! A file's bytes as text.

use std::borrow::Cow;

use crate::{Format, IntakeError};

/// Longest file that is read, bytes: a hundred times what a drawn outline needs, and read in a moment.
pub const MOST_BYTES: usize = 8_000_000;

/// The text of a drawing file: UTF-8, or one byte to a letter. Names alone hold anything but ASCII, and
/// nothing but what is shown depends on them.
pub(crate) fn decode(bytes: &[u8], format: Format) -> Result<Cow<'_, str>, IntakeError> {
    if bytes.len() > MOST_BYTES {
        return Err(IntakeError::too_long(bytes.len(), MOST_BYTES));
    }
    let wide = [[0xff, 0xfe], [0xfe, 0xff]];
    if wide.iter().any(|mark| bytes.starts_with(mark)) {
        return Err(IntakeError::wide_letters(format));
    }
    if bytes.starts_with(&[0x1f, 0x8b]) {
        return Err(IntakeError::compressed(format));
    }
    if bytes.contains(&0) {
        return Err(IntakeError::binary(format));
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Err(IntakeError::empty());
    }
    Ok(match str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(bytes.iter().map(|&byte| char::from(byte)).collect()),
    })
}
