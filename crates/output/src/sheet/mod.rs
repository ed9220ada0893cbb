//! The plate's top view at 1:1 on one page.

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
mod room;
mod scene;
mod style;
mod tables;
mod title;
mod view;

use layout::geometry::Point;
use layout::geometry::outline::Outline;
use layout::{Laid, Project, Report};

use crate::drawing::{Drawing, Layer, LineType, Stroke};
use crate::pdf;
use crate::seen::Seen;
use crate::unit::LengthUnit;
use arrange::{Arrangement, Corner, Part, arrange};
use block::Block;
use paper::pages;
use room::Room;
use scene::Scene;
use style::{PART_GAP, WIDE};
use tables::Table;
use view::Subject;

pub use error::SheetError;
pub use gauge::{BAR_LENGTH, CARD};
pub use paper::{OrientationChoice, PaperChoice, page_name};

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

/// Draws the sheet.
///
/// # Errors
/// If there is no plate to draw, or if it does not fit on one page.
pub fn sheet_drawing(
    project: &Project,
    laid: &Laid,
    report: &Report,
    options: &SheetOptions,
) -> Result<Drawing, SheetError> {
    if laid.plate.is_empty() {
        return Err(SheetError::no_plate(project));
    }
    let subject = Subject {
        project,
        laid,
        report,
        unit: options.unit,
        seen: options.seen,
        scene: Scene::of(project, laid, report, options.seen),
    };
    let view = view::draw(&subject);
    let room = Room::around(&view, &subject.scene.wall);
    let plans = plans(&subject, &options.date);
    for page in pages(options.paper, options.orientation, options.unit) {
        if let Some(arrangement) = arrange(page.size, &room, &plans) {
            return Ok(compose(&subject, page.size, view, &arrangement));
        }
    }
    Err(SheetError::too_large(project, options, &room, &plans))
}

/// The sheet as a PDF.
///
/// # Errors
/// As [`sheet_drawing`].
pub fn sheet_pdf(
    project: &Project,
    laid: &Laid,
    report: &Report,
    options: &SheetOptions,
) -> Result<Vec<u8>, SheetError> {
    sheet_drawing(project, laid, report, options).map(|drawing| pdf::write(&drawing))
}

/// Two plans for everything but the view, what is hardest to place in front. The second saves paper:
/// the cautions stand in the card's outline.
fn plans(subject: &Subject<'_>, date: &str) -> Vec<Vec<Part>> {
    vec![parts(subject, date, false), parts(subject, date, true)]
}

fn parts(subject: &Subject<'_>, date: &str, cautions_in_card: bool) -> Vec<Part> {
    let part = |shapes: Vec<Block>, corner: Corner, inside_head: bool| Part {
        shapes,
        corner,
        inside_head,
        at_frame: false,
    };
    let title = Part {
        at_frame: true,
        ..part(vec![title::block(subject, date)], Corner::LowerRight, false)
    };
    let stretches = |table: &Table| (1..=MOST_STRETCHES).map(|n| table.block(n)).collect();
    let widths = |block: &dyn Fn(f64) -> Block| NOTE_WIDTHS.map(block).to_vec();
    let report = |width: f64| notes::findings(subject.report, subject.unit, width);

    let card = gauge::card(subject.unit, cautions_in_card);
    let mut parts = vec![title, part(vec![card], Corner::LowerLeft, false)];
    if !cautions_in_card {
        parts.push(part(widths(&notes::cautions), Corner::LowerRight, true));
    }
    let tables = std::iter::once(tables::openings(subject)).chain(tables::slots(subject));
    parts.extend(tables.map(|table| part(stretches(&table), Corner::UpperRight, true)));
    parts.extend([
        part(widths(&report), Corner::LowerRight, true),
        part(vec![gauge::bar(subject.unit)], Corner::LowerLeft, false),
    ]);
    parts
}

/// Widths that notes can take, mm: that of the title block first, whose left side they then share.
const NOTE_WIDTHS: [f64; 7] = [
    title::WIDTH - PART_GAP,
    84.0,
    70.0,
    58.0,
    46.0,
    130.0,
    180.0,
];

/// Most stretches of a table that may stand side by side.
const MOST_STRETCHES: usize = 4;

/// Puts the parts on the page, and the frame around them.
fn compose(
    subject: &Subject<'_>,
    page: [f64; 2],
    view: Drawing,
    arrangement: &Arrangement<'_>,
) -> Drawing {
    let mut drawing = Drawing {
        title: format!(
            "{}, plate, {}",
            subject.project.name,
            subject.seen.in_words()
        ),
        page,
        ..Drawing::default()
    };
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

/// A closed line through four corners.
fn rectangle(corners: [Point; 4], width: f64, layer: Layer) -> Stroke {
    Stroke::outline(
        &Outline::polygon(&corners),
        LineType::Continuous,
        width,
        layer,
    )
}
