//! The plate and its outline.

use serde::{Deserialize, Serialize};

use crate::cable_hole::PlateHole;
use crate::closed_curve::{self, CurveOf};
use crate::geometry::hull::Disc;
use crate::geometry::outline::Outline;
use crate::geometry::polygon;
use crate::geometry::segment::Line;
use crate::geometry::{Point, Vector};
use crate::problem::{self, Problem};

/// The base plate. Lengths in mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plate {
    /// Thickness t.
    pub thickness: f64,
    /// Width of the rim that a band leaves around each opening.
    pub rim: f64,
    /// How the outline is drawn.
    pub outline: PlateOutline,
    /// Whether the outline is cut to the head outline moved inward by the fit clearance.
    pub trim_to_head: bool,
    /// Whether a drawn outline is joined with pads under slots and lugs and round cable holes. A plate that exists
    /// gets none.
    #[serde(default = "padded", skip_serializing_if = "is_padded")]
    pub padded: bool,
    /// Holes for cables that a plate which exists has, whether a cable passes or not.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cable_holes: Vec<PlateHole>,
}

fn padded() -> bool {
    true
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde hands it over so")]
fn is_padded(padded: &bool) -> bool {
    *padded
}

/// The style of a plate's outline.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum PlateOutline {
    /// The hull of all discs of radius opening + rim, and of all pads under slots and lugs.
    Band,
    /// Those discs joined by bridges from eye to eye, and with the pads under slots and lugs.
    Waisted {
        /// Height of a bridge, mm.
        bridge: f64,
        /// Radius of the inner corners, mm.
        fillet: f64,
    },
    /// The head outline moved inward by the fit clearance and cut to a range of y, joined with the
    /// pads under slots and lugs.
    HeadInset {
        /// Lower end of the range, mm.
        bottom: f64,
        /// Upper end of the range, mm.
        top: f64,
    },
    /// The maker's own closed curve, joined with the pads under slots and lugs if the plate is [`Plate::padded`].
    Drawn {
        /// Its points, counter-clockwise, as the audience sees it, mm.
        outline: Vec<[f64; 2]>,
        /// Whether it is smoothed through its points or runs straight between them.
        smooth: bool,
    },
}

/// How many points a drawn outline starts with that is taken over from another style: enough to
/// follow it closely, few enough to drag.
const DRAWN_POINTS: usize = 48;

impl PlateOutline {
    /// A drawn outline that follows `outline`: points at equal steps along it, the first one at the
    /// top, so that a symmetric outline gives symmetric points. None for an empty outline.
    pub fn drawn_after(outline: &Outline) -> Option<Self> {
        let corners = outline.flattened();
        let on_line = |edge: &Line| (edge.start.x > 0.0) != (edge.end.x > 0.0);
        let crossing = |edge: &Line| {
            let share = edge.start.x / (edge.start.x - edge.end.x);
            edge.start + (edge.end - edge.start) * share
        };
        let start = polygon::edges(&corners)
            .enumerate()
            .filter(|(_, edge)| on_line(edge))
            .map(|(index, edge)| (index, crossing(&edge)))
            .max_by(|a, b| a.1.y.total_cmp(&b.1.y))
            .or_else(|| Some((0, *corners.first()?)))?;
        Some(Self::Drawn {
            outline: equal_steps(&corners, start, DRAWN_POINTS),
            smooth: true,
        })
    }
}

/// What a plate outline is laid around.
pub(crate) struct Surroundings<'a> {
    /// The openings at the front face, where they are widest.
    pub(crate) openings: &'a [Disc],
    /// The discs of each pad, under a slot or a lug.
    pub(crate) pads: &'a [[Disc; 4]],
    /// The inside wall of the head.
    pub(crate) wall: &'a [Point],
    /// How far the plate should stay off the wall, mm.
    pub(crate) fit_clearance: f64,
}

impl Plate {
    /// Lays the outline; empty when there is nothing to lay it around.
    pub(crate) fn lay_out(&self, around: &Surroundings<'_>) -> Outline {
        let inset = || inset(around);
        let rims = self.rims(around);
        let outline = match &self.outline {
            PlateOutline::Band => {
                let pads = around.pads.iter().flatten();
                Outline::hull(&rims.iter().chain(pads).copied().collect::<Vec<_>>())
            }
            PlateOutline::Waisted { bridge, fillet } => {
                with_pads(waisted(&rims, *bridge), around).filleted(*fillet)
            }
            PlateOutline::HeadInset { bottom, top } => {
                with_pads(inset().between(*bottom, *top), around)
            }
            PlateOutline::Drawn { outline, smooth } => {
                let corners = polygon::through(outline, *smooth);
                let outline = Outline::polygon(&corners);
                if self.gets_pads() {
                    with_pads(outline, around)
                } else {
                    outline
                }
            }
        };
        if self.trim_to_head {
            outline.common(&inset())
        } else {
            outline
        }
    }

    /// Whether it grows pads where slots, lugs and cable holes need them.
    pub(crate) fn gets_pads(&self) -> bool {
        self.padded || !matches!(self.outline, PlateOutline::Drawn { .. })
    }

    /// The discs that leave the rim around each opening.
    fn rims(&self, around: &Surroundings<'_>) -> Vec<Disc> {
        let rims = around.openings.iter().map(|opening| Disc {
            radius: opening.radius + self.rim,
            ..*opening
        });
        rims.collect()
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        problem::size(&format!("{at}.thickness"), self.thickness)?;
        problem::size_or_none(&format!("{at}.rim"), self.rim)?;
        for (index, hole) in self.cable_holes.iter().enumerate() {
            hole.check(&format!("{at}.cable_holes[{index}]"))?;
        }
        match &self.outline {
            PlateOutline::Band => Ok(()),
            PlateOutline::Drawn { outline, smooth } => closed_curve::check(
                CurveOf::Plate,
                &format!("{at}.outline.outline"),
                outline,
                *smooth,
            ),
            &PlateOutline::Waisted { bridge, fillet } => {
                problem::size(&format!("{at}.outline.bridge"), bridge)?;
                problem::size_or_none(&format!("{at}.outline.fillet"), fillet)
            }
            &PlateOutline::HeadInset { bottom, top } => {
                problem::place(&format!("{at}.outline.bottom"), [bottom])?;
                problem::place(&format!("{at}.outline.top"), [top])?;
                if bottom < top {
                    return Ok(());
                }
                Err(Problem::new(
                    format!("{at}.outline.bottom"),
                    format!(
                        "The plate's range ends at {top} mm, not above its start at {bottom} mm."
                    ),
                    "Use an upper end above the lower one.",
                ))
            }
        }
    }
}

/// `count` points at equal steps along a closed polygon, the first one at a place on an edge.
fn equal_steps(corners: &[Point], (edge, start): (usize, Point), count: usize) -> Vec<[f64; 2]> {
    let rest = (1..=corners.len()).map(|step| corners[(edge + step) % corners.len()]);
    let path: Vec<Point> = [start].into_iter().chain(rest).chain([start]).collect();
    let legs = || path.windows(2).map(|leg| (leg[0], leg[1] - leg[0]));
    let step = legs().map(|(_, along)| along.norm()).sum::<f64>() / count as f64;
    let (mut points, mut passed) = (Vec::with_capacity(count), 0.0);
    for (from, along) in legs() {
        let length = along.norm();
        while points.len() < count && points.len() as f64 * step <= passed + length {
            let share = (points.len() as f64 * step - passed) / length.max(f64::MIN_POSITIVE);
            points.push((from + along * share.clamp(0.0, 1.0)).into());
        }
        passed += length;
    }
    points
}

/// The discs, joined by bridges of a height along the shortest tree that reaches every one.
fn waisted(discs: &[Disc], height: f64) -> Outline {
    let Some(first) = discs.first() else {
        return Outline::default();
    };
    let mut outline = Outline::hull(&[*first]);
    let mut reached = vec![0];
    while reached.len() < discs.len() {
        let length = |&(a, b): &(usize, usize)| (discs[a].centre - discs[b].centre).norm();
        let next = reached
            .iter()
            .flat_map(|&a| (0..discs.len()).map(move |b| (a, b)))
            .filter(|(_, b)| !reached.contains(b))
            .min_by(|one, other| length(one).total_cmp(&length(other)));
        let Some((a, b)) = next else {
            break;
        };
        reached.push(b);
        outline = outline
            .joined(&bridge(discs[a].centre, discs[b].centre, height))
            .joined(&Outline::hull(&[discs[b]]));
    }
    outline
}

/// A bar of a height from one point to another.
fn bridge(from: Point, to: Point, height: f64) -> Outline {
    let Some(along) = (to - from).try_normalize(0.0) else {
        return Outline::default();
    };
    let up = Vector::new(-along.y, along.x) * (height / 2.0);
    Outline::polygon(&[from - up, to - up, to + up, from + up])
}

/// The outline joined with every pad, and with a neck from each pad to the nearest opening, so that
/// none stands alone.
fn with_pads(outline: Outline, around: &Surroundings<'_>) -> Outline {
    around.pads.iter().fold(outline, |outline, pad| {
        let middle = nalgebra::center(&pad[0].centre, &pad[2].centre);
        let distance = |disc: &Disc| (disc.centre - middle).norm();
        let openings = around.openings.iter();
        let nearest = openings.min_by(|a, b| distance(a).total_cmp(&distance(b)));
        let neck = nearest.map(|opening| Disc {
            centre: opening.centre,
            radius: pad[0].radius,
        });
        let discs: Vec<Disc> = pad.iter().copied().chain(neck).collect();
        outline.joined(&Outline::hull(&discs))
    })
}

/// The wall moved inward by the fit clearance; empty in a wall that crosses itself, where inside
/// means nothing.
fn inset(around: &Surroundings<'_>) -> Outline {
    if polygon::self_crossing(around.wall).is_some() {
        return Outline::default();
    }
    Outline::polygon(around.wall).inset(around.fit_clearance)
}
