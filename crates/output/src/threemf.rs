//! 3MF: all solids of a character in one file, named, in millimetres, side by side on the bed.

use std::fmt::Write as _;
use std::io::{Cursor, Write as _};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use crate::solid::Solid;

/// Room between two solids on the bed, mm: a brim and a scraper fit between them. Own choice.
const APART: f64 = 10.0;

const TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>
"#;

const RELATIONSHIPS: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>
"#;

/// Writes solids, each as often as the character needs it. The same solids give the same bytes: no
/// file in it has a time of its own.
pub fn write(title: &str, solids: &[Solid]) -> Vec<u8> {
    let model = model(title, solids);
    let parts = [
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", RELATIONSHIPS),
        ("3D/3dmodel.model", &model),
    ];
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default());
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in parts {
        // Writing to memory does not fail.
        let _ = archive.start_file(name, options);
        let _ = archive.write_all(text.as_bytes());
    }
    archive.finish().map(Cursor::into_inner).unwrap_or_default()
}

fn model(title: &str, solids: &[Solid]) -> String {
    let mut xml = String::from(
        r#"<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">"#,
    );
    let _ = writeln!(
        xml,
        "\n<metadata name=\"Title\">{}</metadata>\n<resources>",
        escaped(title)
    );
    for (index, solid) in solids.iter().enumerate() {
        object(&mut xml, index + 1, solid);
    }
    xml.push_str("</resources>\n<build>\n");
    let mut next = 0.0;
    for (index, solid) in solids.iter().enumerate() {
        let Some([low, high]) = solid.mesh().bounds() else {
            continue;
        };
        for _ in 0..solid.count() {
            let (x, y) = (next - low.x, -low.y);
            let _ = writeln!(
                xml,
                r#"<item objectid="{}" transform="1 0 0 0 1 0 0 0 1 {} {} 0"/>"#,
                index + 1,
                number(x),
                number(y)
            );
            next += high.x - low.x + APART;
        }
    }
    xml.push_str("</build>\n</model>\n");
    xml
}

fn object(xml: &mut String, id: usize, solid: &Solid) {
    let _ = writeln!(
        xml,
        "<object id=\"{id}\" type=\"model\" name=\"{}\"><mesh><vertices>",
        escaped(solid.name())
    );
    for at in &solid.mesh().vertices {
        let [x, y, z] = [at.x, at.y, at.z].map(number);
        let _ = writeln!(xml, r#"<vertex x="{x}" y="{y}" z="{z}"/>"#);
    }
    xml.push_str("</vertices><triangles>\n");
    for [a, b, c] in &solid.mesh().triangles {
        let _ = writeln!(xml, r#"<triangle v1="{a}" v2="{b}" v3="{c}"/>"#);
    }
    xml.push_str("</triangles></mesh></object>\n");
}

/// A length with a hundred-thousandth of a millimetre, without idle zeros.
fn number(value: f64) -> String {
    let text = format!("{value:.5}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

/// A text as XML takes it; characters that XML forbids are left out.
fn escaped(text: &str) -> String {
    let allowed = |c: &char| !c.is_control() && !matches!(*c, '\u{fffe}' | '\u{ffff}');
    let mut safe = String::with_capacity(text.len());
    for c in text.chars().filter(allowed) {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            _ => safe.push(c),
        }
    }
    safe
}
