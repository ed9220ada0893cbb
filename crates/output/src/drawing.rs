//! A drawing: strokes, fills and texts on one page, built once for every two-dimensional writer.
//!
//! Millimetres from the page's lower left corner, x to the right, y up; angles in radians,
//! counter-clockwise.

use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Line, Segment};
use layout::geometry::{Point, Vector};

use crate::font::{self, Weight};

/// One page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// What it shows, for the reader's list of documents.
    pub title: String,
    /// Width and height of the page, mm.
    pub page: [f64; 2],
    /// Lines, in the order in which they are drawn.
    pub strokes: Vec<Stroke>,
    /// Areas, drawn over the lines.
    pub fills: Vec<Fill>,
    /// Texts, drawn over everything.
    pub texts: Vec<Text>,
}

/// What an item of a drawing belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Layer {
    /// What is cut: the plate's outline, openings and slots.
    Plate,
    /// The head around the plate.
    Head,
    /// Centre lines.
    Centre,
    /// The parts that the plate carries: balls, rings, lids, lugs, foam and guard.
    Carried,
    /// Levers, cables and their sheaths.
    Drive,
    /// What fills a part that is cut through.
    Hatch,
    /// Dimensions, leaders and labels.
    Dimension,
    /// The bar and the card that check the printer.
    Gauge,
    /// The frame, title block, tables and notes.
    Sheet,
    /// The marks by which several pages are put together.
    Register,
    /// The small picture that shows which page is which part.
    KeyPlan,
}

/// A drawn line.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// Its pieces: each starts where the one before ends.
    pub path: Vec<Segment>,
    /// Whether the path ends where it starts.
    pub closed: bool,
    /// How it is broken.
    pub line: LineType,
    /// Its width, mm.
    pub width: f64,
    /// What it belongs to.
    pub layer: Layer,
}

/// A black area.
#[derive(Clone, Debug, PartialEq)]
pub struct Fill {
    /// Its edge, closed.
    pub corners: Vec<Point>,
    /// What it belongs to.
    pub layer: Layer,
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Where its baseline begins, is halved or ends, as the anchor says.
    pub at: Point,
    /// What it says.
    pub text: String,
    /// Height of a capital letter, mm: the nominal height of ISO 3098.
    pub cap_height: f64,
    /// Which part of the baseline lies at the place.
    pub anchor: Anchor,
    /// How heavy it is.
    pub weight: Weight,
    /// Which way it runs.
    pub direction: Direction,
    /// What it belongs to.
    pub layer: Layer,
}

/// Which part of a text's baseline lies at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// Which way a text runs: level, or upward, to be read from the right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Direction {
    /// To the right.
    Level,
    /// Upward, turned by a quarter to the left.
    Upward,
}

/// How a line is broken, by its number in ISO 128.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineType {
    /// 01, continuous.
    Continuous,
    /// 02, dashed: what is hidden.
    Dashed,
    /// 04, long-dashed dotted.
    LongDashedDotted,
    /// 05, long-dashed double-dotted.
    LongDashedDoubleDotted,
}

/// Lengths of line elements in line widths, after ISO 128-20, table 3 (from memory).
const LONG_DASH: f64 = 24.0;
/// As [`LONG_DASH`].
const DASH: f64 = 12.0;
/// As [`LONG_DASH`].
const GAP: f64 = 3.0;
/// As [`LONG_DASH`]: at most this.
const DOT: f64 = 0.5;

impl LineType {
    /// Lengths of the drawn and the left-out elements in turn, mm, for a line of `width`, mm. Empty
    /// for a continuous line. The ends of the elements are square.
    pub fn elements(self, width: f64) -> Vec<f64> {
        let shares: &[f64] = match self {
            Self::Continuous => &[],
            Self::Dashed => &[DASH, GAP],
            Self::LongDashedDotted => &[LONG_DASH, GAP, DOT, GAP],
            Self::LongDashedDoubleDotted => &[LONG_DASH, GAP, DOT, GAP, DOT, GAP],
        };
        shares.iter().map(|share| share * width).collect()
    }
}

/// A box: lower left and upper right corner, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Lower left corner.
    pub low: Point,
    /// Upper right corner.
    pub high: Point,
}

impl Bounds {
    /// The box of a corner and a size, mm.
    pub fn of_size(low: Point, size: [f64; 2]) -> Self {
        Self {
            low,
            high: low + Vector::from(size),
        }
    }

    /// The smallest box that holds both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            low: self.low.inf(&other.low),
            high: self.high.sup(&other.high),
        }
    }

    /// The box with `margin`, mm, more on every side.
    #[must_use]
    pub fn grown(self, margin: f64) -> Self {
        let by = Vector::repeat(margin);
        Self {
            low: self.low - by,
            high: self.high + by,
        }
    }

    /// The box moved.
    #[must_use]
    pub fn moved(self, by: Vector) -> Self {
        Self {
            low: self.low + by,
            high: self.high + by,
        }
    }

    /// Width and height, mm.
    pub fn size(&self) -> [f64; 2] {
        (self.high - self.low).into()
    }

    /// Its centre.
    pub fn centre(&self) -> Point {
        nalgebra::center(&self.low, &self.high)
    }

    /// Its corners, counter-clockwise from the lower left.
    pub fn corners(&self) -> [Point; 4] {
        [
            self.low,
            Point::new(self.high.x, self.low.y),
            self.high,
            Point::new(self.low.x, self.high.y),
        ]
    }

    /// Whether the insides of two boxes have something in common.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.low.x < other.high.x
            && other.low.x < self.high.x
            && self.low.y < other.high.y
            && other.low.y < self.high.y
    }

    /// Whether the other box lies within this one.
    pub fn holds(&self, other: &Self) -> bool {
        self.low.x <= other.low.x
            && self.low.y <= other.low.y
            && other.high.x <= self.high.x
            && other.high.y <= self.high.y
    }
}

impl Drawing {
    /// The box around everything drawn, with the widths of its lines; None if nothing is.
    pub fn bounds(&self) -> Option<Bounds> {
        let strokes = self.strokes.iter().filter_map(Stroke::bounds);
        let fills = self.fills.iter().filter_map(Fill::bounds);
        let texts = self.texts.iter().map(Text::bounds);
        strokes.chain(fills).chain(texts).reduce(Bounds::with)
    }

    /// Adds everything that `other` shows, moved.
    pub fn add(&mut self, other: Self, by: Vector) {
        self.strokes
            .extend(other.strokes.into_iter().map(|stroke| stroke.moved(by)));
        self.fills
            .extend(other.fills.into_iter().map(|fill| fill.moved(by)));
        self.texts.extend(other.texts.into_iter().map(|text| Text {
            at: text.at + by,
            ..text
        }));
    }
}

impl Stroke {
    /// A straight line.
    pub fn line(start: Point, end: Point, line: LineType, width: f64, layer: Layer) -> Self {
        Self {
            path: vec![Segment::Line(Line { start, end })],
            closed: false,
            line,
            width,
            layer,
        }
    }

    /// A closed curve.
    pub fn outline(outline: &Outline, line: LineType, width: f64, layer: Layer) -> Self {
        Self {
            path: outline.segments.clone(),
            closed: true,
            line,
            width,
            layer,
        }
    }

    /// A whole circle.
    pub fn circle(centre: Point, radius: f64, line: LineType, width: f64, layer: Layer) -> Self {
        let arc = Arc {
            centre,
            radius,
            start_angle: 0.0,
            sweep: std::f64::consts::TAU,
        };
        Self {
            path: vec![Segment::Arc(arc)],
            closed: true,
            line,
            width,
            layer,
        }
    }

    /// The box around it, with its width; None if it is empty.
    pub fn bounds(&self) -> Option<Bounds> {
        let boxes = self.path.iter().map(Segment::bounds);
        let all = boxes
            .map(|[low, high]| Bounds { low, high })
            .reduce(Bounds::with)?;
        Some(all.grown(self.width / 2.0))
    }

    /// Its path as corners, within a hundredth of a millimetre of it; a closed one does not
    /// repeat its first corner.
    pub fn flattened(&self) -> Vec<Point> {
        let outline = Outline {
            segments: self.path.clone(),
        };
        let mut points = outline.flattened();
        if let (false, Some(last)) = (self.closed, self.path.last()) {
            points.push(last.end());
        }
        points
    }

    fn moved(mut self, by: Vector) -> Self {
        for segment in &mut self.path {
            match segment {
                Segment::Line(line) => {
                    line.start += by;
                    line.end += by;
                }
                Segment::Arc(arc) => arc.centre += by,
            }
        }
        self
    }
}

impl Fill {
    /// The box around it; None if it is empty.
    pub fn bounds(&self) -> Option<Bounds> {
        let corners = self.corners.iter().map(|&at| Bounds { low: at, high: at });
        corners.reduce(Bounds::with)
    }

    fn moved(mut self, by: Vector) -> Self {
        for corner in &mut self.corners {
            *corner += by;
        }
        self
    }
}

impl Text {
    /// Length of its baseline, mm.
    pub fn length(&self) -> f64 {
        font::width(&self.text, self.weight, self.cap_height)
    }

    /// Where its baseline begins.
    pub fn start(&self) -> Point {
        let back = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => self.length() / 2.0,
            Anchor::End => self.length(),
        };
        match self.direction {
            Direction::Level => self.at - Vector::new(back, 0.0),
            Direction::Upward => self.at - Vector::new(0.0, back),
        }
    }

    /// The box that it fills: its baseline's length, from its lowest to its highest ink.
    pub fn bounds(&self) -> Bounds {
        let font = self.weight.font();
        let size = self.cap_height / font.cap_height;
        let inks = self.text.chars().filter_map(|c| font.glyph(c).ink);
        let [low, high] = inks
            .reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
            .unwrap_or([0.0; 2])
            .map(|y| y * size);
        let (start, length) = (self.start(), self.length());
        match self.direction {
            Direction::Level => {
                Bounds::of_size(start + Vector::new(0.0, low), [length, high - low])
            }
            Direction::Upward => {
                Bounds::of_size(start + Vector::new(-high, 0.0), [high - low, length])
            }
        }
    }
}
