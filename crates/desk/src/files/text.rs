//! The text of a project, laid out for reading.

use layout::Project;
use layout::shelf::Shelf;
use ron::ser::PrettyConfig;
use serde::Serialize;

use super::locate::{Map, Node};

/// Widest line of a project's text, in characters, if it can be broken at all.
const WIDTH: usize = 110;

/// One step of indentation.
const INDENT: &str = "    ";

/// Writes a project as RON: one field a line, what fits on one line kept together, points several
/// to a line. The same project gives the same text, and the text reads back as the same project,
/// if [`Project::check`] accepts it.
pub fn to_text(project: &Project) -> String {
    laid_out(project)
}

/// Writes a shelf of plates as RON, likewise.
pub fn shelf_text(shelf: &Shelf) -> String {
    laid_out(shelf)
}

fn laid_out(value: &impl Serialize) -> String {
    let config = PrettyConfig::new()
        .struct_names(true)
        .compact_structs(true)
        .compact_arrays(true);
    let flat =
        ron::ser::to_string_pretty(value, config).expect("it is made of values that RON can hold");
    let map = Map::of(&flat);
    let mut layout = Layout {
        map: &map,
        text: String::new(),
    };
    if let Some(whole) = map.around(0) {
        layout.broken(whole, 0);
    }
    layout.text.push('\n');
    layout.text
}

struct Layout<'a> {
    map: &'a Map<'a>,
    text: String,
}

impl Layout<'_> {
    /// Puts a value down: on one line, if it fits with the comma that follows.
    fn value(&mut self, node: &Node<'_>, depth: usize) {
        let flat = self.map.with_name(node);
        if depth * INDENT.len() + flat.chars().count() < WIDTH {
            self.text.push_str(flat);
        } else {
            self.broken(node, depth);
        }
    }

    /// Puts a value down with what is inside it on lines of their own.
    fn broken(&mut self, node: &Node<'_>, depth: usize) {
        let inside: Vec<_> = self.map.inside(node).collect();
        let flat = self.map.with_name(node);
        let (Some(first), Some(last)) = (inside.first(), inside.last()) else {
            self.text.push_str(flat);
            return;
        };
        self.text.push_str(&flat[..first.start - node.start]);
        if flat[..first.start - node.start].ends_with("Some(") {
            self.broken(first, depth);
        } else {
            let points = inside
                .iter()
                .all(|item| self.map.with_name(item).starts_with('('));
            self.lines(&inside, depth + 1, points);
            self.new_line(depth);
        }
        self.text.push_str(&flat[last.end - node.start..]);
    }

    /// Puts values down one a line, or as many to a line as fit.
    fn lines(&mut self, values: &[&Node<'_>], depth: usize, fill: bool) {
        let mut room = 0;
        for value in values {
            let needed = " ,".len() + self.map.with_name(value).chars().count();
            if fill && needed <= room {
                self.text.push(' ');
            } else {
                self.new_line(depth);
                room = WIDTH - depth * INDENT.len();
            }
            room = room.saturating_sub(needed);
            self.value(value, depth);
            self.text.push(',');
        }
    }

    fn new_line(&mut self, depth: usize) {
        self.text.push('\n');
        self.text.push_str(&INDENT.repeat(depth));
    }
}
