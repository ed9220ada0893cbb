//! Spacings that look right by a convention or to the maker: guides, not rules.

use crate::geometry::polygon;
use crate::project::Project;

/// Spacing over the face's width where the face is five eyes wide and an eye's width lies between the eyes: a
/// convention of drawing (neoclassical canons, as reported). The faces of people are no average of it: over
/// the width across the cheekbones, men measure 0.449 and women 0.462 (ANSUR II, Gordon et al.,
/// Natick/TR-15/007, 2014; means computed per person).
pub const FIFTHS: f64 = 2.0 / 5.0;

/// A spacing for the looks of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guide {
    /// What it is called.
    pub label: &'static str,
    /// Share of the face's width.
    pub ratio: f64,
    /// The spacing, mm.
    pub spacing: f64,
}

/// Width of the head outside at the height of two eyes, mm: between the walls, and both of them. None where
/// the outline does not reach that height.
pub fn face_width(project: &Project, [a, b]: [usize; 2]) -> Option<f64> {
    let height = f64::midpoint(project.eyes.get(a)?.at().y, project.eyes.get(b)?.at().y);
    let turned: Vec<_> = project.head.wall().iter().map(|point| point.yx()).collect();
    let spans = polygon::spans(&turned, height);
    let [left, right] = [spans.first()?[0], spans.last()?[1]];
    Some(right - left + 2.0 * project.head.wall_thickness)
}

/// Spacings of two eyes by the convention of fifths and by the maker's own ratio, if there is one.
pub fn guides(project: &Project, eyes: [usize; 2]) -> Vec<Guide> {
    let Some(width) = face_width(project, eyes) else {
        return Vec::new();
    };
    let own = project
        .workshop
        .as_ref()
        .and_then(|workshop| workshop.spacing_ratio);
    let ratios = [("face in fifths", Some(FIFTHS)), ("own ratio", own)];
    let guide = |(label, ratio): (&'static str, Option<f64>)| {
        let ratio = ratio?;
        Some(Guide {
            label,
            ratio,
            spacing: ratio * width,
        })
    };
    ratios.into_iter().filter_map(guide).collect()
}
