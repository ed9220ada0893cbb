//! What a cutter needs of a part: closed contours of true lines and arcs, marks and a few words.
//!
//! Millimetres in the plate's frame, seen from the front; angles in radians, counter-clockwise. A
//! [`Cut`] is made once, and [`crate::svg`] and [`crate::dxf`] write it.

mod error;
mod kerf;
mod options;
mod part;
mod purpose;
mod words;

use layout::geometry::outline::Outline;
use layout::geometry::segment::{Arc, Line, Segment};
use layout::geometry::{Point, Vector};
use layout::{Laid, Project};

use crate::drawing::Bounds;
use crate::font::{self, Weight};
pub use error::CutError;
pub use options::{CutOptions, FOAM_CLEARANCE};
pub use purpose::Purpose;
pub(crate) use words::{PASSAGES, ROD_PASSAGES, SMALLEST_HEAD, of};

/// A flat part that can be cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum CutPart {
    /// The plate, in any style of outline, with its openings and slots. A spherical seat is cut out
    /// to its smallest radius, the one at the plate's back: a flat cutter leaves a straight wall, and
    /// what it leaves standing can still be shaped to the seat, while what it took off the wider
    /// front could not be put back, and the ball would fall through.
    #[default]
    Plate,
    /// The pad behind the plate: the plate's outline less a hole for each ring's sweep, and less a passage
    /// for each cable that the plate has a hole for.
    Foam,
    /// The guard's mesh before it is bent.
    Guard,
    /// A template of the head's inside wall at the plate.
    Head,
    /// A template of the smallest inside wall at the plate that a head round this plate can have.
    SmallestHead,
}

impl CutPart {
    /// Every part.
    pub const ALL: [Self; 5] = [
        Self::Plate,
        Self::Foam,
        Self::Guard,
        Self::Head,
        Self::SmallestHead,
    ];

    /// What the part is called.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Plate => "plate",
            Self::Foam => "foam",
            Self::Guard => "guard",
            Self::Head => "head template",
            Self::SmallestHead => "smallest head template",
        }
    }
}

/// A part ready to be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Which part it is.
    pub part: CutPart,
    /// Into how many pieces its holes let it fall: one if it stays whole. Scraps do not count.
    pub pieces: usize,
    /// What it is, for the reader's list of documents.
    pub title: String,
    /// What is cut, in the order of the work: holes before the edges that hold them.
    pub contours: Vec<Contour>,
    /// What is drawn or engraved on the part.
    pub marks: Vec<Mark>,
    /// What is only for reading, below the part.
    pub notes: Vec<Note>,
}

/// A closed line that is cut along.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// [`Purpose::CutInside`] or [`Purpose::CutOutside`].
    pub purpose: Purpose,
    /// What it is, such as “opening of the left eye”.
    pub name: String,
    /// Where the tool's middle goes.
    pub outline: Outline,
}

/// Straight lines that mark a place or an axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What it marks.
    pub name: String,
    /// Its lines.
    pub lines: Vec<Line>,
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// Where its baseline begins.
    pub at: Point,
    /// What it says; no line break or other control character.
    pub text: String,
}

/// Height of a capital letter of a note, mm: one of the ISO 3098 series.
pub const NOTE_HEIGHT: f64 = 2.5;

/// Distance of the baselines of two notes, in letter heights (ISO 3098, type B: 19/10).
const LINE_PITCH: f64 = 1.9;

/// How much longer a note may run in a reader's typeface than in ours. Own choice.
const OTHER_TYPEFACE: f64 = 1.25;

/// Free room around everything and between part and notes, mm: a tool's width and more. Own choice.
const MARGIN: f64 = 5.0;

/// Draws a part for the cutter.
///
/// # Errors
/// If an option is out of its range, if there is nothing to cut, or if the kerf is wider than a hole.
pub fn cut_drawing(
    project: &Project,
    laid: &Laid,
    part: CutPart,
    options: &CutOptions,
) -> Result<Cut, CutError> {
    options.check()?;
    let blank = part::blank(project, laid, part, options)?;
    let marks = part::marks(project, laid, part, &blank.edge);
    let shapes = kerf::contours(blank, options)?;
    let title = words::title(project, part);
    let lines = words::lines(project, laid, part, options, &shapes);
    let mut cut = Cut {
        part,
        pieces: shapes.pieces,
        title,
        contours: shapes.contours,
        marks,
        notes: Vec::new(),
    };
    cut.write_below(lines);
    Ok(cut)
}

impl Cut {
    /// That the part falls into several pieces, and what to do with them, in one sentence; None if it
    /// stays whole.
    pub fn falls_apart(&self) -> Option<String> {
        words::falls_apart(self.part, self.pieces)
    }

    /// The page: a box around everything, with a margin, on whole millimetres.
    pub fn page(&self) -> Bounds {
        let notes = self.notes.iter().map(|note| {
            let length = font::width(&note.text, Weight::Regular, NOTE_HEIGHT);
            Bounds::of_size(note.at, [length * OTHER_TYPEFACE, NOTE_HEIGHT])
        });
        let all = self.drawn().chain(notes).reduce(Bounds::with);
        let nothing = Bounds::of_size(Point::origin(), [0.0; 2]);
        let page = all.unwrap_or(nothing).grown(MARGIN);
        Bounds {
            low: page.low.map(f64::floor),
            high: page.high.map(f64::ceil),
        }
    }

    /// Boxes around what is cut and marked.
    fn drawn(&self) -> impl Iterator<Item = Bounds> {
        let contours = self.contours.iter().filter_map(|contour| {
            let [low, high] = contour.outline.bounds()?;
            Some(Bounds { low, high })
        });
        let lines = self.marks.iter().flat_map(|mark| &mark.lines);
        contours.chain(lines.map(|line| Bounds {
            low: line.start.inf(&line.end),
            high: line.start.sup(&line.end),
        }))
    }

    /// Adds notes below everything drawn.
    fn write_below(&mut self, lines: Vec<String>) {
        let Some(drawn) = self.drawn().reduce(Bounds::with) else {
            return;
        };
        let mut at = drawn.low - Vector::new(0.0, MARGIN + NOTE_HEIGHT);
        for text in lines {
            self.notes.push(Note { at, text });
            at.y -= LINE_PITCH * NOTE_HEIGHT;
        }
    }
}

impl Contour {
    /// Its corners in turn, each with the arc of at most `most`, radians, that leads on to the next, or
    /// none for a straight line. The last leads back to the first.
    pub(crate) fn corners(&self, most: f64) -> Vec<(Point, Option<Arc>)> {
        let mut corners = Vec::with_capacity(self.outline.segments.len());
        for segment in &self.outline.segments {
            match segment {
                Segment::Line(line) => corners.push((line.start, None)),
                Segment::Arc(arc) => {
                    let count = (arc.sweep.abs() / most).ceil().max(1.0);
                    let mut step = 0.0;
                    while step < count {
                        let piece = Arc {
                            start_angle: arc.start_angle + arc.sweep * step / count,
                            sweep: arc.sweep / count,
                            ..*arc
                        };
                        corners.push((piece.start(), Some(piece)));
                        step += 1.0;
                    }
                }
            }
        }
        corners
    }

    /// The contour's circle, if it is a whole one.
    pub fn circle(&self) -> Option<Arc> {
        /// What a turn may lack, radians, and still be whole: a nanometre along a metre's radius.
        const WHOLE: f64 = 1e-9;
        match self.outline.segments.as_slice() {
            [Segment::Arc(arc)] if arc.sweep.abs() > std::f64::consts::TAU - WHOLE => Some(*arc),
            _ => None,
        }
    }
}

/// A number as both formats spell it: nine decimals at most, no exponent, no trailing zeros, and no
/// sign on nothing.
pub(crate) fn decimal(value: f64) -> String {
    let text = format!("{value:.9}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}
