//! A cut part as DXF R2000 (AC1015), as text: millimetres in the plate's frame, y up.
//!
//! Cut lines are whole circles and closed polylines with bulges; each purpose is a layer. Group codes
//! are those that ezdxf 1.4.5 reads and writes.

mod frame;
mod tags;

use std::f64::consts::PI;

use layout::geometry::segment::Line;

use crate::cut::{Contour, Cut, NOTE_HEIGHT, Note, Purpose};
use frame::{MODEL, TEXT_STYLE};
use tags::Tags;

/// Longest arc that is written as one, radians: a bulge beyond 1, a half turn, is refused by some
/// readers.
const LONGEST_ARC: f64 = PI;

/// Writes a cut part as ASCII. The same part gives the same bytes.
pub fn write(cut: &Cut) -> Vec<u8> {
    let page = cut.page();
    let mut body = Tags::new();
    frame::tables(&mut body, &page);
    frame::blocks(&mut body);
    body.section("ENTITIES");
    for mark in &cut.marks {
        mark.lines
            .iter()
            .for_each(|line| write_line(&mut body, line));
    }
    for contour in &cut.contours {
        write_contour(&mut body, contour);
    }
    for note in &cut.notes {
        write_note(&mut body, note);
    }
    body.end_section();
    frame::objects(&mut body, &page);
    body.tag(0, "EOF");

    // The header says which handle is free, which is known only now.
    let mut file = Tags::new();
    frame::header(&mut file, &page, body.free_handle());
    let mut text = file.into_text();
    text.push_str(&body.into_text());
    text.into_bytes()
}

/// Begins an entity of the drawing.
fn begin(tags: &mut Tags, kind: &str, purpose: Purpose, class: &str) {
    tags.tag(0, kind);
    tags.new_handle();
    tags.handle(330, MODEL);
    tags.tag(100, "AcDbEntity");
    tags.tag(8, purpose.name());
    tags.tag(100, class);
}

fn write_contour(tags: &mut Tags, contour: &Contour) {
    if let Some(circle) = contour.circle() {
        begin(tags, "CIRCLE", contour.purpose, "AcDbCircle");
        tags.point(10, circle.centre);
        tags.number(40, circle.radius);
        return;
    }
    let corners = contour.corners(LONGEST_ARC);
    begin(tags, "LWPOLYLINE", contour.purpose, "AcDbPolyline");
    tags.tag(90, corners.len());
    // Closed.
    tags.tag(70, 1);
    for (corner, arc) in corners {
        tags.number(10, corner.x);
        tags.number(20, corner.y);
        if let Some(arc) = arc {
            tags.number(42, (arc.sweep / 4.0).tan());
        }
    }
}

fn write_line(tags: &mut Tags, line: &Line) {
    begin(tags, "LINE", Purpose::Mark, "AcDbLine");
    tags.point(10, line.start);
    tags.point(11, line.end);
}

fn write_note(tags: &mut Tags, note: &Note) {
    begin(tags, "TEXT", Purpose::Read, "AcDbText");
    tags.point(10, note.at);
    tags.number(40, NOTE_HEIGHT);
    tags.text(1, &note.text);
    tags.tag(7, TEXT_STYLE);
    // The format wants the class a second time, after the alignment that is left out here.
    tags.tag(100, "AcDbText");
}
