//! Text within XML, for the formats that are made of it.

/// Text as XML may hold it; what it may not hold at all is shown as replaced.
pub(crate) fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\t' | '\n' | '\r' => escaped.push(' '),
            '\u{fffe}' | '\u{ffff}' => escaped.push(char::REPLACEMENT_CHARACTER),
            control if control.is_control() => escaped.push(char::REPLACEMENT_CHARACTER),
            letter => escaped.push(letter),
        }
    }
    escaped
}
