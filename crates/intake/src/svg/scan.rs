//! What is looked at in an SVG before it is resolved: that it stays small when its copies are made, that
//! its numbers are numbers, what it asks for outside itself, and whether it says its size.

use std::collections::BTreeMap;

use usvg::roxmltree::{Document, Node};

use crate::IntakeError;

/// Deepest that groups and copies may lie in each other: a program's files reach a dozen.
const DEEPEST: usize = 64;

/// Most elements once all copies are made.
const MOST_ELEMENTS: usize = 100_000;

/// Most style rules times elements: each is held against each.
const MOST_MATCHES: usize = 20_000_000;

/// Attributes that hold the numbers of a shape.
const SIZES: [&str; 15] = [
    "x",
    "y",
    "width",
    "height",
    "cx",
    "cy",
    "r",
    "rx",
    "ry",
    "transform",
    "viewBox",
    "x1",
    "y1",
    "x2",
    "y2",
];

/// Refuses what would grow without bound or holds no numbers, and gives sentences about what the file
/// asks for outside itself.
pub(super) fn check(document: &Document<'_>) -> Result<Vec<String>, IntakeError> {
    let mut ids = BTreeMap::new();
    let (mut outside, mut elements, mut rules) = (Vec::new(), 0, 0);
    for node in document.descendants().filter(Node::is_element) {
        elements += 1;
        if node.tag_name().name() == "style" {
            rules += node.text().unwrap_or_default().matches('{').count();
        }
        if let Some(id) = node.attribute("id") {
            ids.entry(id).or_insert(node);
        }
        check_numbers(node)?;
        outside.extend(asks_for(node));
    }
    if elements * rules > MOST_MATCHES {
        return Err(IntakeError::too_many_styles(rules));
    }
    Copies {
        ids,
        counted: BTreeMap::new(),
    }
    .count(document.root_element(), 0)?;
    Ok(match outside.as_slice() {
        [] => Vec::new(),
        [one] => vec![format!("“{one}” lies outside the file and was not read.")],
        [one, ..] => vec![format!(
            "“{one}” and {} more lie outside the file and were not read.",
            outside.len() - 1
        )],
    })
}

/// Whether the file gives its width or height in a unit of length.
pub(super) fn says_its_size(document: &Document<'_>) -> bool {
    const UNITS: [&str; 6] = ["mm", "cm", "in", "pt", "pc", "Q"];
    let root = document.root_element();
    ["width", "height"].iter().any(|side| {
        let size = root.attribute(*side).unwrap_or_default().trim_end();
        UNITS.iter().any(|unit| size.ends_with(unit))
    })
}

/// What an element shows that lies outside the file.
fn asks_for(node: Node<'_, '_>) -> Option<String> {
    /// Longest name that is shown.
    const SHOWN: usize = 60;
    let name = node.tag_name().name();
    let asked = if name == "style" {
        let text = node.text()?;
        let (_, asked) = text
            .split_once("@import")
            .or_else(|| text.split_once("url("))?;
        let asked = asked.trim_start().trim_start_matches("url(");
        let asked = asked.trim_start_matches([' ', '"', '\'']);
        asked.split(['"', '\'', ')', ';']).next()?
    } else {
        let links = ["image", "use", "feImage", "script"];
        let mut attributes = node.attributes();
        attributes
            .find(|a| links.contains(&name) && a.name() == "href")?
            .value()
    };
    let asked = asked.trim();
    let within = asked.starts_with('#') || asked.starts_with("data:") || asked.is_empty();
    (!within).then(|| asked.chars().take(SHOWN).collect())
}

/// Refuses numbers that are none, or too large to be told apart.
fn check_numbers(node: Node<'_, '_>) -> Result<(), IntakeError> {
    let name = node.tag_name().name();
    let refuse = |text: &str| {
        Err(IntakeError::no_number(
            format!("A “{name}” of the file"),
            text,
        ))
    };
    for attribute in node.attributes() {
        let text = attribute.value();
        match attribute.name() {
            "d" | "points" => {
                let allowed = if attribute.name() == "d" {
                    "MmZzLlHhVvCcSsQqTtAaeE+-.,"
                } else {
                    "eE+-.,"
                };
                let strange = |c: char| {
                    !(c.is_ascii_digit() || c.is_ascii_whitespace() || allowed.contains(c))
                };
                if let Some(at) = text.find(strange) {
                    return refuse(&text[at..]);
                }
                if let Some(huge) = text
                    .split(|c: char| c.is_whitespace() || c == ',')
                    .find(|word| is_huge(word))
                {
                    return refuse(huge);
                }
            }
            side if SIZES.contains(&side) => {
                let lower = text.to_ascii_lowercase();
                if lower.contains("nan") || lower.contains("inf") || is_huge(text) {
                    return refuse(text);
                }
            }
            _ => {}
        }
    }
    Ok(())
}

/// Whether a number is so large that nothing can be drawn by it: a power of ten above the ninth, or more
/// than ten digits in front of the point.
fn is_huge(word: &str) -> bool {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let mut powers = word.split(['e', 'E']).skip(1);
    let high = |power: &str| {
        let power = power.trim_start_matches('+');
        let end = digits(power);
        end > 2 || power[..end].parse().is_ok_and(|power: u8| power > 9)
    };
    let mut parts = word.split(|c: char| !(c.is_ascii_digit() || c == '.'));
    powers.any(high) || parts.any(|part| digits(part) > 10)
}

/// Counts elements as often as they are copied.
struct Copies<'a, 'input> {
    ids: BTreeMap<&'a str, Node<'a, 'input>>,
    /// Of each node that was counted, how many elements it comes to and how deep they lie in it; None
    /// while it is being counted.
    counted: BTreeMap<usize, Option<(usize, usize)>>,
}

impl Copies<'_, '_> {
    /// How many elements a node comes to, and how deep they lie in it.
    fn count(&mut self, node: Node<'_, '_>, depth: usize) -> Result<(usize, usize), IntakeError> {
        let key = node.id().get_usize();
        match self.counted.get(&key) {
            Some(Some(counted)) => return Ok(*counted),
            Some(None) => {
                let id = node.attribute("id").unwrap_or(node.tag_name().name());
                return Err(IntakeError::holds_itself(id));
            }
            None => {}
        }
        if depth > DEEPEST {
            return Err(IntakeError::too_deep(DEEPEST));
        }
        self.counted.insert(key, None);
        let href = (node.tag_name().name() == "use")
            .then(|| node.attributes().find(|a| a.name() == "href"))
            .flatten();
        let copied = href.and_then(|a| self.ids.get(a.value().trim().strip_prefix('#')?).copied());
        let (mut sum, mut deepest) = (1, 0);
        for part in node.children().filter(Node::is_element).chain(copied) {
            let (count, deep) = self.count(part, depth + 1)?;
            sum += count;
            deepest = deepest.max(deep + 1);
            if sum > MOST_ELEMENTS {
                return Err(IntakeError::too_many_copies(MOST_ELEMENTS));
            }
            if depth + deepest > DEEPEST {
                return Err(IntakeError::too_deep(DEEPEST));
            }
        }
        self.counted.insert(key, Some((sum, deepest)));
        Ok((sum, deepest))
    }
}

/// Whether a document has a rectangle, a circle or an ellipse without a size, which is never drawn.
pub(super) fn has_flat_shape(document: &Document<'_>) -> bool {
    let is_nothing = |text: &str| {
        let number = text
            .trim()
            .trim_end_matches(|c: char| c.is_alphabetic() || c == '%');
        number.parse::<f64>().is_ok_and(|value| value == 0.0)
    };
    document.descendants().any(|node| {
        let sizes: &[&str] = match node.tag_name().name() {
            "rect" => &["width", "height"],
            "circle" => &["r"],
            "ellipse" => &["rx", "ry"],
            _ => return false,
        };
        { sizes.iter() }.any(|name| node.attribute(*name).is_some_and(is_nothing))
    })
}
