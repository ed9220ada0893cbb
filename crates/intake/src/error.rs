//! Why no outline could be taken from a file, and what would help.

use std::fmt;

use kurbo::Rect;
use layout::geometry::Vector;

use crate::Format;
use crate::curve::Curve;

/// Why no outline could be taken from a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IntakeError {
    cause: String,
    remedy: &'static str,
}

const CLOSE_IT: &str = "Close the path in the program that drew it, and save it again.";
const DRAW_IT: &str =
    "Draw the outline as a closed path, polygon, ellipse, circle or rectangle, and save it again.";
const SAVE_AGAIN: &str = "Save it again in the program that made it.";
const SIMPLIFY: &str = "Keep the outline alone in the file, with fewer points.";
const FLATTEN: &str = "Turn copies and blocks into plain paths, and save it again.";

/// Where something lies, as a place on the drawing and not as coordinates: SVG counts y downward.
fn place(from_low: Vector, unit: &str, of: &str) -> String {
    format!(
        "{:.1}{unit} from the left and {:.1}{unit} from the bottom of {of}",
        from_low.x, from_low.y
    )
}

impl IntakeError {
    fn new(cause: impl Into<String>, remedy: &'static str) -> Self {
        Self {
            cause: cause.into(),
            remedy,
        }
    }

    /// What would help, in one sentence.
    pub fn remedy(&self) -> &str {
        self.remedy
    }

    pub(crate) fn empty() -> Self {
        Self::new("The file is empty.", SAVE_AGAIN)
    }

    pub(crate) fn too_long(bytes: usize, most: usize) -> Self {
        let megabytes = |bytes: usize| bytes as f64 / 1e6;
        let (size, most) = (megabytes(bytes), megabytes(most));
        Self::new(
            format!("The file has {size:.1} MB, and at most {most:.0} MB are read."),
            SIMPLIFY,
        )
    }

    pub(crate) fn wide_letters(format: Format) -> Self {
        Self::new(
            format!(
                "The file is written in UTF-16, and {} is read in UTF-8.",
                format.name()
            ),
            "Save it again in UTF-8.",
        )
    }

    pub(crate) fn compressed(format: Format) -> Self {
        Self::new(
            format!(
                "The file is compressed, and {} is read as plain text.",
                format.name()
            ),
            "Save it again uncompressed.",
        )
    }

    pub(crate) fn binary(format: Format) -> Self {
        match format {
            Format::Svg => Self::new("The file holds no text, so it is no SVG.", SAVE_AGAIN),
            Format::Dxf => Self::new(
                "The file is a binary DXF, and DXF is read as text.",
                "Save it again as ASCII DXF.",
            ),
        }
    }

    pub(crate) fn no_drawing(format: Format, what: impl fmt::Display) -> Self {
        Self::new(
            format!("The file is no {}: {what}.", format.name()),
            SAVE_AGAIN,
        )
    }

    pub(crate) fn cut_off(line: usize) -> Self {
        Self::new(
            format!("The file is cut off after line {line}."),
            "Copy it again, or save it again in the program that made it.",
        )
    }

    pub(crate) fn no_number(what: impl fmt::Display, text: &str) -> Self {
        let text: String = text.trim().chars().take(20).collect();
        Self::new(
            format!("{what} holds “{text}” in place of a number."),
            SAVE_AGAIN,
        )
    }

    pub(crate) fn broken(what: impl fmt::Display) -> Self {
        Self::new(format!("{what}."), SAVE_AGAIN)
    }

    pub(crate) fn outside(what: &str) -> Self {
        Self::new(
            format!("The file asks for “{what}”, and nothing outside the file is read."),
            "Save it with everything in it.",
        )
    }

    pub(crate) fn too_many_copies(most: usize) -> Self {
        Self::new(
            format!("With all its copies of copies, the file draws more than {most} things."),
            FLATTEN,
        )
    }

    pub(crate) fn too_many_styles(rules: usize) -> Self {
        Self::new(
            format!("The file has {rules} style rules, too many for its elements."),
            FLATTEN,
        )
    }

    pub(crate) fn holds_itself(what: &str) -> Self {
        Self::new(format!("“{what}” is drawn as a part of itself."), FLATTEN)
    }

    pub(crate) fn too_deep(most: usize) -> Self {
        Self::new(
            format!("The file's groups and copies lie more than {most} deep in each other."),
            FLATTEN,
        )
    }

    pub(crate) fn too_many_points(most: usize) -> Self {
        Self::new(
            format!("The drawing has more than {most} points, which is the most that is read."),
            SIMPLIFY,
        )
    }

    pub(crate) fn too_fine(most: usize) -> Self {
        Self::new(
            format!("The shape is too intricate to be drawn with {most} points."),
            "Simplify it in the program that drew it.",
        )
    }

    pub(crate) fn too_far(farthest: f64) -> Self {
        Self::new(
            format!(
                "The drawing reaches farther than {farthest:e} units, or to where no number says."
            ),
            "Move the outline near the drawing's origin, and save it again.",
        )
    }

    pub(crate) fn nothing_drawn(notes: &[String]) -> Self {
        let why = notes.first().map_or(".".to_owned(), |note| {
            let mut letters = note.chars();
            let first = letters.next().map(|first| first.to_lowercase());
            format!(
                ": {}{}",
                first.into_iter().flatten().collect::<String>(),
                letters.as_str()
            )
        });
        Self::new(format!("The file holds no closed shape{why}"), DRAW_IT)
    }

    pub(crate) fn no_size() -> Self {
        Self::new(
            "What the file draws has no area.",
            "Give the outline a width and a height, and save it again.",
        )
    }

    /// `bounds` is the box around the drawing, and `unit` mm of one of its units, if known.
    pub(crate) fn open(curve: &Curve, bounds: Rect, unit: Option<f64>) -> Self {
        let (mm, name) = match unit {
            Some(mm) => (mm, " mm"),
            None => (1.0, " units"),
        };
        let at = curve.end();
        let from_low = Vector::new(at.x - bounds.x0, at.y - bounds.y0) * mm;
        Self::new(
            format!(
                "The outline is open: its ends lie {:.2}{name} apart, one of them {}.",
                curve.gap() * mm,
                place(from_low, name, "all that is drawn")
            ),
            CLOSE_IT,
        )
    }

    /// `from_low` is the place of the crossing from the lower left of the shape, mm.
    pub(crate) fn crosses(from_low: Vector) -> Self {
        Self::new(
            format!(
                "The shape crosses or touches itself, {}.",
                place(from_low, " mm", "the shape")
            ),
            "Choose another shape, or redraw it there.",
        )
    }

    pub(crate) fn wrong_size(size: Vector, least: f64, most: f64) -> Self {
        Self::new(
            format!(
                "The shape is {:.2} mm wide and {:.2} mm high, and must have {least} to {most} mm.",
                size.x, size.y
            ),
            "Choose another unit for the drawing.",
        )
    }
}

impl fmt::Display for IntakeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.cause)
    }
}

impl std::error::Error for IntakeError {}
