//! A part at 1:1 on one page, or on several where it is larger than the paper; after the plate, the side
//! cut and the table of drives.

mod arrange;
mod block;
mod cables;
mod canvas;
mod dimension;
mod dimensions;
mod drive_table;
mod error;
mod further;
mod gauge;
mod label;
mod lid_table;
mod names;
mod notes;
mod paper;
mod parts;
mod pieces;
mod rod_table;
mod room;
mod scene;
mod side;
mod style;
mod tables;
mod template;
mod tiles;
mod title;
mod view;

use layout::geometry::outline::Outline;
use layout::geometry::{Point, Vector};
use layout::{Laid, Project, Report};

use crate::cut::CutPart;
use crate::drawing::{Drawing, Layer, LineType, Stroke};
use crate::pdf;
use crate::seen::Seen;
use crate::unit::LengthUnit;
use arrange::{Arrangement, arrange};
use further::Further;
use paper::pages;
use room::Room;
use scene::Scene;
use style::WIDE;
use title::{SheetNumber, Shown};
use view::Subject;

pub use error::SheetError;
pub use gauge::{BAR_LENGTH, CARD};
pub use paper::{OrientationChoice, PaperChoice, page_name};
pub use tiles::{MOST_PAGES, OVERLAP};

/// How a sheet is to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetOptions {
    /// The part that it shows at 1:1. The side cut and the drives follow only the plate.
    pub part: CutPart,
    /// How far the foam's holes stand off what the rings sweep, mm.
    pub foam_clearance: f64,
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

/// Draws the sheet's pages: the part on one if it fits, else on several with what it takes to put them
/// together; after the plate, the side cut and the drives. Never none.
///
/// # Errors
/// If there is no such part to draw, or if it would need more than [`MOST_PAGES`] pages.
pub fn sheet_pages(
    project: &Project,
    laid: &Laid,
    report: &Report,
    options: &SheetOptions,
) -> Result<Vec<Drawing>, SheetError> {
    let (part, seen) = (options.part, options.seen);
    let scene = match part {
        CutPart::Plate if laid.plate.is_empty() => return Err(SheetError::no_plate(project)),
        CutPart::Plate => Scene::of(project, laid, report, seen),
        _ => Scene::of_template(options, project, laid)?,
    };
    let subject = Subject {
        project,
        laid,
        report,
        unit: options.unit,
        part,
        foam_clearance: options.foam_clearance,
        seen,
        date: &options.date,
        scene,
    };
    let view = view::draw(&subject, None);
    let room = Room::around(&view, &subject.scene.around());
    let plans = parts::plans(&subject);
    for page in pages(options.paper, options.orientation, options.unit) {
        let frame = arrange::frame(page.size);
        if let Some(arrangement) = arrange(frame, &room, &plans) {
            let first = first_page(&subject, view, &arrangement);
            let further = further::pages(&subject, frame, true)?;
            let pages: Vec<Further> = std::iter::once(first).chain(further).collect();
            return Ok(compose(&subject, page.size, pages));
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

/// The page with the part on it, in one piece. The title block, the first of the parts, waits for its
/// number.
fn first_page(subject: &Subject<'_>, view: Drawing, arrangement: &Arrangement<'_>) -> Further {
    let mut drawing = Drawing::default();
    drawing.add(view, arrangement.origin);
    for (block, at) in arrangement.parts.iter().skip(1) {
        drawing.add(block.drawing.clone(), at.coords);
    }
    Further {
        shown: Shown::view(subject),
        drawing,
        title_at: arrangement.parts.first().map(|(_, at)| *at),
    }
}

/// Numbers the pages, and puts a frame around each.
fn compose(subject: &Subject<'_>, size: [f64; 2], pages: Vec<Further>) -> Vec<Drawing> {
    let count = pages.len();
    let numbered = pages.into_iter().enumerate().map(|(index, page)| {
        let mut drawing = blank(subject, size, &page.shown);
        drawing.add(page.drawing, Vector::zeros());
        if let Some(at) = page.title_at {
            let number = index + 1;
            let title = title::block(subject, SheetNumber { number, count }, &page.shown);
            drawing.add(title.drawing, at.coords);
        }
        let frame = arrange::frame(size).corners();
        let edge = rectangle(frame, WIDE, Layer::Sheet);
        drawing.strokes.push(edge);
        drawing
    });
    numbered.collect()
}

/// A page of the sheet with nothing on it.
fn blank(subject: &Subject<'_>, page: [f64; 2], shown: &Shown) -> Drawing {
    Drawing {
        title: format!("{}, {}", subject.project.name, shown.what.to_lowercase()),
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
