//! The plate at 1:1 on one page, or on several where it is larger than the paper.

mod arrange;
mod block;
mod canvas;
mod dimension;
mod dimensions;
mod error;
mod gauge;
mod label;
mod names;
mod notes;
mod paper;
mod parts;
mod pieces;
mod room;
mod scene;
mod style;
mod tables;
mod tiles;
mod title;
mod view;

use layout::geometry::Point;
use layout::geometry::outline::Outline;
use layout::{Laid, Project, Report};

use crate::drawing::{Drawing, Layer, LineType, Stroke};
use crate::pdf;
use crate::seen::Seen;
use crate::unit::LengthUnit;
use arrange::{Arrangement, arrange};
use paper::pages;
use room::Room;
use scene::Scene;
use style::WIDE;
use view::Subject;

pub use error::SheetError;
pub use gauge::{BAR_LENGTH, CARD};
pub use paper::{OrientationChoice, PaperChoice, page_name};
pub use tiles::{MOST_PAGES, OVERLAP};

/// How a sheet is to be drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetOptions {
    /// The paper.
    pub paper: PaperChoice,
    /// Which way round it lies.
    pub orientation: OrientationChoice,
    /// The side from which it shows the plate.
    pub seen: Seen,
    /// The unit of all lengths.
    pub unit: LengthUnit,
    /// Date of issue, YYYY-MM-DD: the caller's, since a drawing asks no clock.
    pub date: String,
}

/// Draws the sheet's pages: one if everything fits on it, else several with what it takes to put them
/// together. Never none.
///
/// # Errors
/// If there is no plate to draw, or if it would need more than [`MOST_PAGES`] pages.
pub fn sheet_pages(
    project: &Project,
    laid: &Laid,
    report: &Report,
    options: &SheetOptions,
) -> Result<Vec<Drawing>, SheetError> {
    if laid.plate.is_empty() {
        return Err(SheetError::no_plate(project));
    }
    let subject = Subject {
        project,
        laid,
        report,
        unit: options.unit,
        seen: options.seen,
        date: &options.date,
        scene: Scene::of(project, laid, report, options.seen),
    };
    let view = view::draw(&subject, None);
    let room = Room::around(&view, &subject.scene.wall);
    let plans = parts::plans(&subject);
    for page in pages(options.paper, options.orientation, options.unit) {
        if let Some(arrangement) = arrange(arrange::frame(page.size), &room, &plans) {
            return Ok(vec![compose(&subject, page.size, view, &arrangement)]);
        }
    }
    tiles::draw(&subject, options, &room)
}

/// The sheet as a PDF.
///
/// # Errors
/// As [`sheet_pages`].
pub fn sheet_pdf(
    project: &Project,
    laid: &Laid,
    report: &Report,
    options: &SheetOptions,
) -> Result<Vec<u8>, SheetError> {
    sheet_pages(project, laid, report, options).map(|pages| pdf::write(&pages))
}

/// Puts the parts on the page, and the frame around them.
fn compose(
    subject: &Subject<'_>,
    page: [f64; 2],
    view: Drawing,
    arrangement: &Arrangement<'_>,
) -> Drawing {
    let mut drawing = blank(subject, page);
    drawing.add(view, arrangement.origin);
    for (block, at) in &arrangement.parts {
        drawing.add(block.drawing.clone(), at.coords);
    }
    drawing.strokes.push(rectangle(
        arrange::frame(page).corners(),
        WIDE,
        Layer::Sheet,
    ));
    drawing
}

/// A page of the sheet with nothing on it.
fn blank(subject: &Subject<'_>, page: [f64; 2]) -> Drawing {
    Drawing {
        title: format!(
            "{}, plate, {}",
            subject.project.name,
            subject.seen.in_words()
        ),
        page,
        ..Drawing::default()
    }
}

/// A closed line through four corners.
fn rectangle(corners: [Point; 4], width: f64, layer: Layer) -> Stroke {
    Stroke::outline(
        &Outline::polygon(&corners),
        LineType::Continuous,
        width,
        layer,
    )
}
