//! The model part: objects, and where they stand on the bed.

use std::fmt::{self, Write};

use crate::solid::{Mesh, Solid};
use crate::xml::escaped;

use super::bed;

/// The model as XML.
pub(super) fn xml(title: &str, solids: &[Solid]) -> String {
    let mut text = String::new();
    write_model(&mut text, title, solids).expect("writing to memory does not fail");
    text
}

fn write_model(text: &mut String, title: &str, solids: &[Solid]) -> fmt::Result {
    text.push_str(concat!(
        r#"<?xml version="1.0" encoding="UTF-8"?>"#,
        "\n",
        r#"<model unit="millimeter" xml:lang="en-GB" "#,
        r#"xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">"#,
        "\n",
    ));
    let title = escaped(title);
    writeln!(text, r#"<metadata name="Title">{title}</metadata>"#)?;
    writeln!(
        text,
        r#"<metadata name="Application">Gazewright</metadata>"#
    )?;
    writeln!(text, "<resources>")?;
    for (index, solid) in solids.iter().enumerate() {
        let (id, name) = (index + 1, escaped(solid.name()));
        writeln!(text, r#"<object id="{id}" type="model" name="{name}">"#)?;
        write_mesh(text, solid.mesh())?;
        writeln!(text, "</object>")?;
    }
    writeln!(text, "</resources>")?;
    writeln!(text, "<build>")?;
    for place in bed::side_by_side(solids) {
        let (id, [x, y]) = (place.solid + 1, place.shift.map(Micron));
        writeln!(
            text,
            r#"<item objectid="{id}" transform="1 0 0 0 1 0 0 0 1 {x} {y} 0"/>"#
        )?;
    }
    writeln!(text, "</build>")?;
    writeln!(text, "</model>")
}

fn write_mesh(text: &mut String, mesh: &Mesh) -> fmt::Result {
    writeln!(text, "<mesh>\n<vertices>")?;
    for vertex in &mesh.vertices {
        let [x, y, z] = [vertex.x, vertex.y, vertex.z].map(Micron);
        writeln!(text, r#"<vertex x="{x}" y="{y}" z="{z}"/>"#)?;
    }
    writeln!(text, "</vertices>\n<triangles>")?;
    for [a, b, c] in &mesh.triangles {
        writeln!(text, r#"<triangle v1="{a}" v2="{b}" v3="{c}"/>"#)?;
    }
    writeln!(text, "</triangles>\n</mesh>")
}

/// A length, mm, shown to a thousandth of a micrometre.
#[derive(Clone, Copy)]
struct Micron(f64);

impl fmt::Display for Micron {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        /// Steps in a millimetre.
        const STEPS: f64 = 1e6;
        // Adding 0 takes the sign off a zero.
        write!(f, "{}", (self.0 * STEPS).round() / STEPS + 0.0)
    }
}
