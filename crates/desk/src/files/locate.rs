//! Where each value of a RON text stands.

/// Deepest that brackets may be nested. A project needs 8; beyond this the text is no project, and
/// reading on would only cost time.
pub(crate) const DEEPEST: usize = 32;

/// Every value of one RON text, in the order in which they start. A text that breaks off or does
/// not hold together is mapped as far as it goes.
#[derive(Debug)]
pub(crate) struct Map<'a> {
    text: &'a str,
    nodes: Vec<Node<'a>>,
    /// Byte at which brackets go deeper than [`DEEPEST`]; nothing is mapped from there on.
    pub(crate) too_deep: Option<usize>,
    /// Whether a bracket, string or comment is still open at the end.
    pub(crate) unclosed: bool,
}

/// One value.
#[derive(Debug)]
pub(crate) struct Node<'a> {
    parent: Option<usize>,
    step: Step<'a>,
    /// Byte at which it starts, its field name included.
    pub(crate) start: usize,
    /// Byte at which its value starts.
    pub(crate) value: usize,
    /// Byte after its end.
    pub(crate) end: usize,
    /// Whether it holds other values in brackets.
    pub(crate) is_group: bool,
}

/// How a value is reached from the one around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Step<'a> {
    /// By the name of a field.
    Field(&'a str),
    /// By its index in a list.
    Item(usize),
    /// Not at all: it stands in `Some(…)` or in a point, and is called like the whole.
    Same,
}

/// An open bracket.
struct Open {
    node: usize,
    is_list: bool,
    items: usize,
}

impl<'a> Map<'a> {
    /// Maps a text.
    pub(crate) fn of(text: &'a str) -> Self {
        let mut scan = Scan {
            map: Map {
                text,
                nodes: Vec::new(),
                too_deep: None,
                unclosed: false,
            },
            at: 0,
            open: Vec::new(),
            field: None,
            value: None,
        };
        scan.run();
        scan.map
    }

    /// The value that a path such as `parts.ring.depth` or `head.outline[3]` leads to.
    pub(crate) fn find(&self, path: &str) -> Option<&Node<'a>> {
        (0..self.nodes.len())
            .find(|&index| self.path_of(index) == path)
            .map(|index| &self.nodes[index])
    }

    /// As [`find`](Self::find), for a path that leads into a value that is known.
    pub(crate) fn find_in(&self, whole: &Node<'_>, path: &str) -> Option<&Node<'a>> {
        let is_in = |node: &&Node<'a>| whole.start <= node.start && node.end <= whole.end;
        let mut inside = self.nodes.iter().filter(is_in);
        inside.find(|node| self.path(node) == path)
    }

    /// The entries of a list; None if anything but commas parts them, or too many of these.
    pub(crate) fn entries(&self, list: &Node<'_>) -> Option<Vec<&Node<'a>>> {
        let entries: Vec<_> = self.inside(list).collect();
        let mut steps = entries.iter().map(|entry| entry.step).enumerate();
        steps
            .all(|(index, step)| step == Step::Item(index))
            .then_some(entries)
    }

    /// The text of a value, without its field name.
    pub(crate) fn value(&self, node: &Node<'_>) -> &'a str {
        &self.text[node.value..node.end]
    }

    /// The text of a value with its field name.
    pub(crate) fn with_name(&self, node: &Node<'_>) -> &'a str {
        &self.text[node.start..node.end]
    }

    /// The innermost value around a byte, field names included.
    pub(crate) fn around(&self, byte: usize) -> Option<&Node<'a>> {
        self.nodes
            .iter()
            .rfind(|node| node.start <= byte && byte <= node.end)
    }

    /// The innermost brackets around a byte.
    pub(crate) fn group_around(&self, byte: usize) -> Option<&Node<'a>> {
        self.nodes
            .iter()
            .rfind(|node| node.is_group && node.value < byte && byte < node.end)
    }

    /// The field called `name` that starts last before a byte.
    pub(crate) fn named(&self, name: &str, byte: usize) -> Option<&Node<'a>> {
        self.nodes
            .iter()
            .rfind(|node| node.step == Step::Field(name) && node.start <= byte)
    }

    /// The path to a value; empty for the outermost.
    pub(crate) fn path(&self, node: &Node<'_>) -> String {
        let own = match node.step {
            Step::Field(name) => format!(".{name}"),
            Step::Item(index) => format!("[{index}]"),
            Step::Same => String::new(),
        };
        let path = node.parent.map_or_else(String::new, |p| self.path_of(p)) + &own;
        path.strip_prefix('.').map(str::to_owned).unwrap_or(path)
    }

    /// The values directly inside one.
    pub(crate) fn inside(&self, node: &Node<'_>) -> impl Iterator<Item = &Node<'a>> {
        let parent = self
            .nodes
            .iter()
            .position(|other| std::ptr::eq(other, node));
        self.nodes
            .iter()
            .filter(move |n| parent.is_some() && n.parent == parent)
    }

    fn path_of(&self, index: usize) -> String {
        self.path(&self.nodes[index])
    }
}

/// Reads a text once, from front to back.
struct Scan<'a> {
    map: Map<'a>,
    at: usize,
    open: Vec<Open>,
    /// A field name that still waits for its value: the name, and where it starts.
    field: Option<(&'a str, usize)>,
    /// The value that the last word belongs to, in case a bracket follows.
    value: Option<usize>,
}

impl<'a> Scan<'a> {
    fn rest(&self) -> &'a str {
        &self.map.text[self.at..]
    }

    fn run(&mut self) {
        loop {
            self.skip_blank();
            let Some(next) = self.rest().chars().next() else {
                break;
            };
            match next {
                '(' | '[' | '{' => {
                    if self.open.len() == DEEPEST {
                        self.map.too_deep = Some(self.at);
                        break;
                    }
                    self.open_bracket(next == '[');
                }
                ')' | ']' | '}' => self.close_bracket(),
                ',' => {
                    self.end_value();
                    self.at += 1;
                    if let Some(open) = self.open.last_mut() {
                        open.items += 1;
                    }
                }
                '"' => self.string(0),
                _ => self.word(next),
            }
        }
        self.end_value();
        self.map.unclosed |= !self.open.is_empty();
        for open in &self.open {
            self.map.nodes[open.node].end = self.map.text.len();
        }
    }

    /// Skips white space, comments and the extensions that a file may start with.
    fn skip_blank(&mut self) {
        loop {
            let rest = self.rest();
            self.at += rest.len() - rest.trim_start().len();
            let rest = self.rest();
            if rest.starts_with("//") {
                self.at += rest.find('\n').unwrap_or(rest.len());
            } else if rest.starts_with("#!") {
                self.at += rest.find(']').map_or(rest.len(), |at| at + 1);
            } else if rest.starts_with("/*") {
                self.at += self.block_comment(rest);
            } else {
                return;
            }
        }
    }

    /// Length of the block comment that `rest` starts with; comments nest.
    fn block_comment(&mut self, rest: &str) -> usize {
        let mut level = 0_usize;
        let mut at = 0;
        while at < rest.len() {
            let bytes = &rest.as_bytes()[at..];
            if bytes.starts_with(b"/*") {
                level += 1;
                at += 2;
            } else if bytes.starts_with(b"*/") {
                level -= 1;
                at += 2;
                if level == 0 {
                    return at;
                }
            } else {
                at += 1;
            }
        }
        self.map.unclosed = true;
        rest.len()
    }

    /// Starts a value here, or where its field name starts.
    fn start(&mut self) -> usize {
        let step = match (self.field, self.open.last()) {
            (Some((name, _)), _) => Step::Field(name),
            (None, Some(open)) if open.is_list => Step::Item(open.items),
            (None, _) => Step::Same,
        };
        let start = self.field.take().map_or(self.at, |(_, start)| start);
        self.map.nodes.push(Node {
            parent: self.open.last().map(|open| open.node),
            step,
            start,
            value: self.at,
            end: self.at,
            is_group: false,
        });
        self.map.nodes.len() - 1
    }

    fn open_bracket(&mut self, is_list: bool) {
        let node = match self.value.take() {
            Some(node) => node,
            None => self.start(),
        };
        self.map.nodes[node].is_group = true;
        self.open.push(Open {
            node,
            is_list,
            items: 0,
        });
        self.at += 1;
    }

    /// Ends the value before a comma or a bracket; a field name without one gets an empty value.
    fn end_value(&mut self) {
        if self.field.is_some() {
            self.start();
        }
        self.value = None;
    }

    fn close_bracket(&mut self) {
        self.end_value();
        self.at += 1;
        if let Some(open) = self.open.pop() {
            self.map.nodes[open.node].end = self.at;
        }
    }

    /// A string, plain or raw, between quotes that `hashes` number signs stand around.
    fn string(&mut self, hashes: usize) {
        let node = self.start();
        let raw = self.rest().starts_with(['r', '#']);
        let opening = usize::from(raw) + hashes + 1;
        let body = &self.rest()[opening..];
        let length = if raw {
            let closing = format!("\"{}", "#".repeat(hashes));
            body.find(&closing).map(|at| at + closing.len())
        } else {
            end_of_plain(body)
        };
        self.map.unclosed |= length.is_none();
        self.at += opening + length.unwrap_or(body.len());
        self.map.nodes[node].end = self.at;
    }

    /// A name, a number, or one sign that stands alone.
    fn word(&mut self, first: char) {
        let rest = self.rest();
        if first == 'r' {
            let hashes = rest[1..].len() - rest[1..].trim_start_matches('#').len();
            if rest[1 + hashes..].starts_with('"') {
                return self.string(hashes);
            }
        }
        let is_word = |c: char| c.is_alphanumeric() || matches!(c, '_' | '.' | '+' | '-' | '#');
        let length = rest.find(|c| !is_word(c)).unwrap_or(rest.len());
        let length = length.max(first.len_utf8());
        let start = self.at;
        self.at += length;
        let end = self.at;
        self.skip_blank();
        if self.rest().starts_with(':') && self.field.is_none() {
            self.at += 1;
            self.field = Some((&rest[..length], start));
            self.value = None;
            return;
        }
        let after = std::mem::replace(&mut self.at, start);
        let node = self.start();
        self.map.nodes[node].end = end;
        self.value = Some(node);
        self.at = after;
    }
}

/// Length of the rest of a plain string, its closing quote included.
fn end_of_plain(body: &str) -> Option<usize> {
    let mut escaped = false;
    for (at, c) in body.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return Some(at + 1),
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = r##"#![enable(implicit_some)]
Project( // a comment with "quotes" and (brackets
    name: "a \"quoted\" ) name",
    raw: r#"a "raw" ) string"#,
    /* a /* nested ( */ comment */
    lids: Some(Lids(gap: 0.8)),
    outline: [(1.0, -2.0), (3.0, 4.0)],
)
"##;

    #[test]
    fn a_path_leads_to_its_value() {
        let map = Map::of(TEXT);
        let value = |path| map.value(map.find(path).unwrap());
        assert_eq!(value("name"), r#""a \"quoted\" ) name""#);
        assert_eq!(value("raw"), r##"r#"a "raw" ) string"#"##);
        assert_eq!(value("lids.gap"), "0.8");
        assert_eq!(value("lids"), "Some(Lids(gap: 0.8))");
        assert_eq!(value("outline[1]"), "(3.0, 4.0)");
        assert!(map.find("outline[2]").is_none());
        assert!(!map.unclosed);
    }

    #[test]
    fn a_byte_lies_in_the_innermost_value_around_it() {
        let map = Map::of(TEXT);
        let path = |needle: &str| {
            let node = map.around(TEXT.find(needle).unwrap()).unwrap();
            map.path(node)
        };
        assert_eq!(path("0.8"), "lids.gap");
        assert_eq!(path("gap"), "lids.gap");
        assert_eq!(path("4.0"), "outline[1]");
        assert_eq!(path("Project"), "");
    }

    #[test]
    fn a_text_that_breaks_off_is_mapped_as_far_as_it_goes() {
        for (text, last) in [
            ("Project(head: Head(outline: [(1.0", "head.outline[0]"),
            ("Project(head: Head(smooth:", "head.smooth"),
            ("Project(name: \"open", "name"),
        ] {
            let map = Map::of(text);
            assert!(map.unclosed, "{text}");
            assert_eq!(map.path(map.around(text.len()).unwrap()), last, "{text}");
        }
    }

    #[test]
    fn brackets_that_nest_too_deep_end_the_map() {
        let text = "(".repeat(100_000);
        assert_eq!(Map::of(&text).too_deep, Some(DEEPEST));
    }
}
