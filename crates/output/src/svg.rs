//! A cut part as SVG: one user unit is a millimetre, y runs down from the page's upper left corner.

use std::f64::consts::TAU;
use std::fmt::Write;

use layout::geometry::Point;

use crate::cut::{Contour, Cut, Mark, NOTE_HEIGHT, Note, Purpose, decimal};
use crate::drawing::Bounds;
use crate::font::Weight;
use crate::xml::escaped;

/// Width of a line, mm: programs that cut by printing take what is at most 0.003 in (0.076 mm) wide as
/// a cut (common practice, no source).
pub const HAIRLINE: f64 = 0.07;

/// Longest arc that is written as one, radians: an arc here is given by its ends and its radius, and near
/// a half turn its centre would be lost among the digits.
const LONGEST_ARC: f64 = TAU / 3.0;

/// Writes a cut part as UTF-8. The same part gives the same bytes.
pub fn write(cut: &Cut) -> Vec<u8> {
    let page = Page(cut.page());
    let [width, height] = page.0.size().map(decimal);
    let mut svg = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\">\n\
         <title>{}</title>\n",
        escaped(&cut.title)
    );
    for purpose in Purpose::ALL {
        let items = page.items(cut, purpose);
        let [red, green, blue] = purpose.rgb();
        let colour = format!("#{red:02x}{green:02x}{blue:02x}");
        let paint = if purpose == Purpose::Read {
            let size = NOTE_HEIGHT / Weight::Regular.font().cap_height;
            format!(
                "fill=\"{colour}\" stroke=\"none\" font-family=\"sans-serif\" font-size=\"{}\"",
                decimal(size)
            )
        } else {
            format!("fill=\"none\" stroke=\"{colour}\" stroke-width=\"{HAIRLINE}\"")
        };
        // Writing to a string does not fail.
        let _ = write!(svg, "<g id=\"{}\" {paint}>\n{items}</g>\n", purpose.name());
    }
    svg.push_str("</svg>\n");
    svg.into_bytes()
}

/// The page, in the plate's frame.
struct Page(Bounds);

impl Page {
    /// The elements of one purpose, a line for each.
    fn items(&self, cut: &Cut, purpose: Purpose) -> String {
        match purpose {
            Purpose::Mark => cut.marks.iter().map(|mark| self.mark(mark)).collect(),
            Purpose::Read => cut.notes.iter().map(|note| self.note(note)).collect(),
            Purpose::CutInside | Purpose::CutOutside => {
                let own = cut.contours.iter().filter(|own| own.purpose == purpose);
                own.map(|contour| self.contour(contour)).collect()
            }
        }
    }

    /// A place on the page as two numbers.
    fn at(&self, point: Point) -> [String; 2] {
        [point.x - self.0.low.x, self.0.high.y - point.y].map(decimal)
    }

    fn contour(&self, contour: &Contour) -> String {
        let title = escaped(&contour.name);
        if let Some(circle) = contour.circle() {
            let [x, y] = self.at(circle.centre);
            let radius = decimal(circle.radius);
            return format!(
                "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"><title>{title}</title></circle>\n"
            );
        }
        format!(
            "<path d=\"{}\"><title>{title}</title></path>\n",
            self.path(contour)
        )
    }

    /// The path of a contour: closed, its last piece ending where the first starts.
    fn path(&self, contour: &Contour) -> String {
        let corners = contour.corners(LONGEST_ARC);
        let mut path = String::new();
        for (index, (start, arc)) in corners.iter().enumerate() {
            if index == 0 {
                let [x, y] = self.at(*start);
                path += &format!("M{x} {y}");
            }
            let next = corners.get(index + 1);
            let [x, y] = self.at(next.unwrap_or(&corners[0]).0);
            match arc {
                Some(arc) => {
                    let radius = decimal(arc.radius);
                    // Y runs down: what turns counter-clockwise does so against the page's angles.
                    let way = u8::from(arc.sweep < 0.0);
                    path += &format!(" A{radius} {radius} 0 0 {way} {x} {y}");
                }
                // The last straight piece is what Z draws.
                None if next.is_some() => path += &format!(" L{x} {y}"),
                None => {}
            }
        }
        path + " Z"
    }

    fn mark(&self, mark: &Mark) -> String {
        let line = |line: &layout::geometry::segment::Line| {
            let [[x1, y1], [x2, y2]] = [line.start, line.end].map(|end| self.at(end));
            format!("M{x1} {y1} L{x2} {y2}")
        };
        let lines: Vec<String> = mark.lines.iter().map(line).collect();
        format!(
            "<path d=\"{}\"><title>{}</title></path>\n",
            lines.join(" "),
            escaped(&mark.name)
        )
    }

    fn note(&self, note: &Note) -> String {
        let [x, y] = self.at(note.at);
        format!("<text x=\"{x}\" y=\"{y}\">{}</text>\n", escaped(&note.text))
    }
}
