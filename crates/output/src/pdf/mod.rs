//! Drawings as the pages of a PDF at 1:1.

mod typeface;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use layout::geometry::Point;
use layout::geometry::segment::{Arc, Segment};
use pdf_writer::types::LineCapStyle;
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, TextStr};

use crate::drawing::{Direction, Drawing, LineType, Stroke, Text};
use crate::font::Weight;
use crate::unit::MM_PER_INCH;
use typeface::Typeface;

/// Points in a millimetre: a PDF's unit is 1/72 in (ISO 32000-1, 8.3.2.3).
const POINTS_PER_MM: f64 = 72.0 / MM_PER_INCH;

/// Turn of the longest arc that one Bézier curve stands for, radians. The best cubic errs by about
/// 2.7e-4 of the radius over a quarter turn and by the sixth power of the turn below it: 0.4 µm at a
/// radius of a metre.
const CURVE_TURN: f64 = std::f64::consts::PI / 6.0;

/// Writes drawings, each as a page. The same drawings give the same bytes. A PDF has at least one page.
pub fn write(drawings: &[Drawing]) -> Vec<u8> {
    let mut ids = (1..).map(Ref::new);
    let mut id = || ids.next().unwrap_or(Ref::new(1));
    let (catalog, tree) = (id(), id());
    let pages: Vec<(&Drawing, [Ref; 2])> = drawings
        .iter()
        .map(|drawing| (drawing, [id(), id()]))
        .collect();
    let info = id();
    // Pages share their fonts.
    let typefaces: Vec<(Typeface, Ref)> = Weight::ALL
        .into_iter()
        .filter_map(|weight| {
            let texts = drawings.iter().flat_map(|drawing| &drawing.texts);
            Typeface::used_by(texts, weight)
        })
        .map(|typeface| (typeface, id()))
        .collect();

    let mut pdf = Pdf::new();
    let mut root = pdf.catalog(catalog);
    root.pages(tree).lang(TextStr("en-GB"));
    let mut preferences = root.viewer_preferences();
    preferences.display_doc_title(true);
    preferences.pair(Name(b"PrintScaling"), Name(b"None"));
    preferences.finish();
    root.finish();
    let title = drawings.first().map_or("", |drawing| &drawing.title);
    pdf.document_info(info)
        .title(TextStr(title))
        .producer(TextStr("Gazewright"));
    let leaves = pages.iter().map(|(_, [page, _])| *page);
    let count = i32::try_from(pages.len()).unwrap_or(i32::MAX);
    pdf.pages(tree).kids(leaves).count(count);

    for (drawing, [page, content]) in pages {
        let mut leaf = pdf.page(page);
        let [width, height] = drawing.page.map(|side| real(side * POINTS_PER_MM));
        leaf.parent(tree)
            .media_box(Rect::new(0.0, 0.0, width, height))
            .contents(content);
        let mut resources = leaf.resources();
        let mut fonts = resources.fonts();
        for (typeface, font) in &typefaces {
            fonts.pair(Name(typeface.key()), *font);
        }
        fonts.finish();
        resources.finish();
        leaf.finish();
        pdf.stream(content, &deflated(&page_content(drawing, &typefaces)))
            .filter(Filter::FlateDecode);
    }
    for (typeface, font) in &typefaces {
        typeface.embed(&mut pdf, *font, &mut id);
    }
    pdf.finish()
}

fn page_content(drawing: &Drawing, typefaces: &[(Typeface, Ref)]) -> Vec<u8> {
    let mut content = Content::new();
    let scale = real(POINTS_PER_MM);
    content.transform([scale, 0.0, 0.0, scale, 0.0, 0.0]);
    for stroke in &drawing.strokes {
        draw_stroke(&mut content, stroke);
    }
    for fill in &drawing.fills {
        let mut corners = fill.corners.iter();
        if let Some(first) = corners.next() {
            content.move_to(real(first.x), real(first.y));
            for corner in corners {
                content.line_to(real(corner.x), real(corner.y));
            }
            content.close_path().fill_nonzero();
        }
    }
    for (typeface, _) in typefaces {
        let own = |text: &&Text| text.weight == typeface.weight;
        for text in drawing.texts.iter().filter(own) {
            draw_text(&mut content, text, typeface);
        }
    }
    content.finish().into_vec()
}

fn draw_stroke(content: &mut Content, stroke: &Stroke) {
    let Some(first) = stroke.path.first() else {
        return;
    };
    content.set_line_width(real(stroke.width));
    let elements = stroke.line.elements(stroke.width).into_iter();
    content.set_dash_pattern(elements.map(real), 0.0);
    content.set_line_cap(match stroke.line {
        LineType::Continuous => LineCapStyle::RoundCap,
        // The elements have the lengths of ISO 128; round ends would lengthen them.
        LineType::Dashed | LineType::LongDashedDotted | LineType::LongDashedDoubleDotted => {
            LineCapStyle::ButtCap
        }
    });
    let start = first.start();
    content.move_to(real(start.x), real(start.y));
    for segment in &stroke.path {
        match segment {
            Segment::Line(line) => {
                content.line_to(real(line.end.x), real(line.end.y));
            }
            Segment::Arc(arc) => draw_arc(content, arc),
        }
    }
    if stroke.closed {
        content.close_path();
    }
    content.stroke();
}

/// Continues a path from an arc's start along it.
fn draw_arc(content: &mut Content, arc: &Arc) {
    let pieces = (arc.sweep.abs() / CURVE_TURN).ceil().max(1.0);
    let turn = arc.sweep / pieces;
    // The control points lie 4/3·tan(turn/4) radii along the tangents.
    let reach = 4.0 / 3.0 * (turn / 4.0).tan();
    let mut piece = 0.0;
    while piece < pieces {
        let from = arc.start_angle + turn * piece;
        let (a, b) = (arc.at(from), arc.at(from + turn));
        let tangent = |p: Point| nalgebra::Vector2::new(arc.centre.y - p.y, p.x - arc.centre.x);
        let (out, back) = (a + tangent(a) * reach, b - tangent(b) * reach);
        let [x1, y1, x2, y2, x3, y3] = [out.x, out.y, back.x, back.y, b.x, b.y].map(real);
        content.cubic_to(x1, y1, x2, y2, x3, y3);
        piece += 1.0;
    }
}

fn draw_text(content: &mut Content, text: &Text, typeface: &Typeface) {
    let size = real(text.cap_height / text.weight.font().cap_height);
    let start = text.start();
    let (x, y) = (real(start.x), real(start.y));
    content.begin_text();
    content.set_font(Name(typeface.key()), size);
    content.set_text_matrix(match text.direction {
        Direction::Level => [1.0, 0.0, 0.0, 1.0, x, y],
        Direction::Upward => [0.0, 1.0, -1.0, 0.0, x, y],
    });
    content.show(pdf_writer::Str(&typeface.encode(&text.text)));
    content.end_text();
}

/// Numbers of a PDF are singles: good to a hundredth of a micrometre on paper.
#[allow(
    clippy::cast_possible_truncation,
    reason = "the format's numbers are singles"
)]
fn real(number: f64) -> f32 {
    number as f32
}

fn deflated(bytes: &[u8]) -> Vec<u8> {
    use std::io::Write;
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::best());
    let written = encoder.write_all(bytes);
    written
        .and_then(|()| encoder.finish())
        .expect("writing to memory does not fail")
}
