//! Papers, and the order in which they are tried.

use crate::unit::{LengthUnit, MM_PER_INCH};

/// The paper to draw on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum PaperChoice {
    /// The smallest that fits: with inches US Letter, else A4; then A3. What fits neither goes on
    /// several pages of the smaller one.
    #[default]
    Auto,
    /// A4, 210 × 297 mm.
    A4,
    /// A3, 297 × 420 mm.
    A3,
    /// US Letter, 8.5 × 11 in.
    Letter,
}

/// Which way round the paper lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum OrientationChoice {
    /// Upright if the drawing fits so, else lying.
    #[default]
    Auto,
    /// Upright.
    Portrait,
    /// Lying.
    Landscape,
}

/// One paper, lying one way round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Page {
    /// What the paper is called.
    pub(super) paper: &'static str,
    /// Which way round it lies.
    pub(super) orientation: &'static str,
    /// Width and height, mm.
    pub(super) size: [f64; 2],
}

impl Page {
    /// What the page is called.
    pub(super) fn name(&self) -> String {
        format!("{} {}", self.paper, self.orientation)
    }
}

/// What a drawing's page is called, such as `A4 landscape`; None if a sheet has no such page.
pub fn page_name(page: [f64; 2]) -> Option<String> {
    let choices = [PaperChoice::A4, PaperChoice::A3, PaperChoice::Letter];
    let mut all = choices
        .into_iter()
        .flat_map(|paper| pages(paper, OrientationChoice::Auto, LengthUnit::Millimetre));
    all.find(|known| known.size == page)
        .map(|known| known.name())
}

/// Name and size, upright, mm.
type Paper = (&'static str, [f64; 2]);

/// ISO 216.
const A4: Paper = ("A4", [210.0, 297.0]);
/// ISO 216.
const A3: Paper = ("A3", [297.0, 420.0]);
/// ANSI A.
const LETTER: Paper = ("US Letter", [8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH]);

/// The pages that a choice allows for a drawing in several pieces: without a choice, those of the paper
/// that is in every printer.
pub(super) fn pages_for_pieces(
    paper: PaperChoice,
    orientation: OrientationChoice,
    unit: LengthUnit,
) -> Vec<Page> {
    let paper = match (paper, unit) {
        (PaperChoice::Auto, LengthUnit::Millimetre) => PaperChoice::A4,
        (PaperChoice::Auto, LengthUnit::Inch) => PaperChoice::Letter,
        (chosen, _) => chosen,
    };
    pages(paper, orientation, unit)
}

/// The pages that a choice allows, the one to try first in front.
pub(super) fn pages(
    paper: PaperChoice,
    orientation: OrientationChoice,
    unit: LengthUnit,
) -> Vec<Page> {
    let papers: &[Paper] = match (paper, unit) {
        (PaperChoice::Auto, LengthUnit::Millimetre) => &[A4, A3],
        (PaperChoice::Auto, LengthUnit::Inch) => &[LETTER, A3],
        (PaperChoice::A4, _) => &[A4],
        (PaperChoice::A3, _) => &[A3],
        (PaperChoice::Letter, _) => &[LETTER],
    };
    let upright = |&(paper, size): &Paper| Page {
        paper,
        orientation: "portrait",
        size,
    };
    let lying = |&(paper, [width, height]): &Paper| Page {
        paper,
        orientation: "landscape",
        size: [height, width],
    };
    papers
        .iter()
        .flat_map(|paper| match orientation {
            OrientationChoice::Auto => vec![upright(paper), lying(paper)],
            OrientationChoice::Portrait => vec![upright(paper)],
            OrientationChoice::Landscape => vec![lying(paper)],
        })
        .collect()
}
