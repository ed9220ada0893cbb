//! Closed shapes in SVG: usvg resolves styles, copies, transforms and units; here its paths are taken.

mod scan;

use kurbo::{Affine, CubicBez, Line, PathSeg, Point, QuadBez};
use usvg::roxmltree::{Document, Error as XmlError, ParsingOptions};
use usvg::tiny_skia_path::PathSegment;
use usvg::{Group, ImageHrefResolver, Node, Options, Tree};

use crate::curve::{Curve, Drawing};
use crate::shapes::{self, left_out};
use crate::{Format, Found, IntakeError, Unit};

/// Most elements, attributes and texts that a file may hold.
const MOST_NODES: u32 = 200_000;

/// Nothing is repeated for paint's sake, and nothing is cut. What is not displayed stays away.
const PLAIN: &str = "opacity: 1 !important; marker-start: none !important; \
    marker-mid: none !important; marker-end: none !important; clip-path: none !important; \
    mask: none !important; filter: none !important; mix-blend-mode: normal !important; \
    isolation: auto !important; stroke-dasharray: none !important; stroke-width: 1 !important; \
    stroke-linejoin: bevel !important; stroke-linecap: butt !important";

/// So that outlines without fill or stroke are found.
const PAINTED: &str = "fill: black !important; stroke: none !important";

/// Finds the closed shapes in an SVG: those that it paints, or all of them if it paints none.
pub(crate) fn read(text: &str) -> Result<Found, IntakeError> {
    if !text.trim_start().starts_with('<') {
        return Err(IntakeError::no_drawing(
            Format::Svg,
            "it does not begin with “<”",
        ));
    }
    let options = ParsingOptions {
        allow_dtd: true,
        nodes_limit: MOST_NODES,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options).map_err(|e| explained(&e, text))?;
    let notes = scan::check(&document)?;
    let all = draw(&document, &notes, &format!("* {{ {PLAIN}; {PAINTED} }}"))?;
    if all.curves.is_empty() && scan::has_flat_shape(&document) {
        return Err(IntakeError::no_size());
    }
    // Patterns may be painted with patterns, which would be drawn over and over.
    if document
        .descendants()
        .any(|node| node.has_tag_name("pattern"))
    {
        return shapes::find(all);
    }
    let mut painted = draw(&document, &notes, &format!("* {{ {PLAIN} }}"))?;
    let unpainted = all.curves.len().saturating_sub(painted.curves.len());
    painted.notes.extend(left_out(
        unpainted,
        "path without fill and stroke",
        "paths without fill and stroke",
    ));
    shapes::find(painted).or_else(|_| shapes::find(all))
}

/// Everything that a document draws under a style sheet.
fn draw(document: &Document<'_>, notes: &[String], style: &str) -> Result<Drawing, IntakeError> {
    let tree = Tree::from_xmltree(document, &options(style)).map_err(|error| match error {
        usvg::Error::InvalidSize => IntakeError::no_size(),
        other => IntakeError::no_drawing(Format::Svg, other),
    })?;
    let unit = scan::says_its_size(document).then(|| Unit::Pixel.mm());
    let mut drawing = Drawing::new(unit, notes.to_vec());
    let [width, height] = [tree.size().width(), tree.size().height()].map(f64::from);
    drawing.page = Some(kurbo::Rect::new(0.0, -height, width, 0.0));
    collect(tree.root(), None, &mut drawing)?;
    Ok(drawing)
}

/// Options under which no image and no file is read.
fn options(style: &str) -> Options<'static> {
    Options {
        resources_dir: None,
        style_sheet: Some(style.to_owned()),
        image_href_resolver: ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..Options::default()
    }
}

/// What is wrong with a text that is no XML.
fn explained(error: &XmlError, text: &str) -> IntakeError {
    match error {
        XmlError::UnclosedRootNode | XmlError::UnexpectedEndOfStream => {
            IntakeError::cut_off(text.lines().count())
        }
        XmlError::NodesLimitReached | XmlError::AttributesLimitReached => {
            IntakeError::too_many_copies(MOST_NODES as usize)
        }
        XmlError::EntityReferenceLoop(_) => IntakeError::too_many_copies(usize::from(u8::MAX)),
        XmlError::UnknownEntityReference(name, _) => IntakeError::outside(&format!("&{name};")),
        other => IntakeError::no_drawing(Format::Svg, other),
    }
}

/// Adds the paths of a group, and of the groups in it.
fn collect(group: &Group, name: Option<&str>, drawing: &mut Drawing) -> Result<(), IntakeError> {
    let own = |id: &str| (!id.is_empty()).then(|| id.to_owned());
    let name = own(group.id()).or_else(|| name.map(str::to_owned));
    for node in group.children() {
        match node {
            Node::Group(group) => collect(group, name.as_deref(), drawing)?,
            Node::Path(path) if path.is_visible() => {
                let name = own(path.id()).or_else(|| name.clone());
                add_path(path, name, drawing)?;
            }
            Node::Path(_) | Node::Image(_) | Node::Text(_) => {}
        }
    }
    Ok(())
}

/// Adds each part of a path as a curve, y up.
fn add_path(
    path: &usvg::Path,
    name: Option<String>,
    drawing: &mut Drawing,
) -> Result<(), IntakeError> {
    let t = path.abs_transform();
    let [sx, ky, kx, sy, tx, ty] = [t.sx, t.ky, t.kx, t.sy, t.tx, t.ty].map(f64::from);
    let map = Affine::FLIP_Y * Affine::new([sx, ky, kx, sy, tx, ty]);
    let at = |p: usvg::tiny_skia_path::Point| map * Point::new(p.x.into(), p.y.into());
    let (mut pieces, mut start, mut here) = (Vec::new(), Point::ORIGIN, Point::ORIGIN);
    let mut end = |pieces: &mut Vec<PathSeg>, closed| {
        drawing.add(Curve {
            pieces: std::mem::take(pieces),
            closed,
            name: name.clone(),
        })
    };
    for segment in path.data().segments() {
        let (piece, to) = match segment {
            PathSegment::MoveTo(p) => {
                end(&mut pieces, false)?;
                (start, here) = (at(p), at(p));
                continue;
            }
            PathSegment::Close => {
                end(&mut pieces, true)?;
                here = start;
                continue;
            }
            PathSegment::LineTo(p) => (PathSeg::Line(Line::new(here, at(p))), at(p)),
            PathSegment::QuadTo(a, p) => {
                let quad = QuadBez::new(here, at(a), at(p));
                (PathSeg::Cubic(quad.raise()), at(p))
            }
            PathSegment::CubicTo(a, b, p) => (
                PathSeg::Cubic(CubicBez::new(here, at(a), at(b), at(p))),
                at(p),
            ),
        };
        pieces.push(piece);
        here = to;
    }
    end(&mut pieces, false)
}
