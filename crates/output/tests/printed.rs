//! STL and 3MF, read again.

use std::io::{Cursor, Read};

use output::solid::{Solid, SolidOptions, solids};
use output::{stl, threemf};
use zip::ZipArchive;

use crate::projects::demos;

fn made() -> Vec<(String, Vec<Solid>)> {
    demos()
        .into_iter()
        .filter_map(|case| {
            let made = solids(&case.project, &case.laid, &SolidOptions::default()).ok()?;
            Some((case.name, made))
        })
        .collect()
}

fn single(bytes: &[u8]) -> f32 {
    f32::from_le_bytes(bytes.try_into().expect("four bytes"))
}

#[test]
fn an_stl_file_has_84_bytes_and_50_for_each_facet_whose_corners_are_the_solids() {
    for (name, solids) in made() {
        for solid in solids {
            let bytes = stl::write(&solid);
            let count = solid.mesh().triangles.len();
            // Binary STL: 84 + 50n bytes (as REFERENCES of the format's users state it, from memory).
            assert_eq!(bytes.len(), 84 + 50 * count, "{name}");
            assert!(!bytes.starts_with(b"solid"), "{name}");
            for (facet, record) in solid.mesh().facets().zip(bytes[84..].chunks_exact(50)) {
                let numbers: Vec<f32> = record[..48].chunks_exact(4).map(single).collect();
                let normal = numbers[..3]
                    .iter()
                    .map(|n| f64::from(*n).powi(2))
                    .sum::<f64>();
                assert!((normal - 1.0).abs() < 1e-5, "{name}");
                for (corner, written) in facet.iter().zip(numbers[3..].chunks_exact(3)) {
                    for axis in 0..3 {
                        assert!(
                            (corner[axis] - f64::from(written[axis])).abs() < 1e-4,
                            "{name}"
                        );
                    }
                }
            }
            assert_eq!(stl::write(&solid), bytes, "the same bytes");
        }
    }
}

fn part(bytes: &[u8], name: &str) -> String {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).expect("an archive");
    let mut text = String::new();
    let mut file = archive.by_name(name).expect("the part is there");
    file.read_to_string(&mut text).expect("text");
    text
}

#[test]
fn a_3mf_file_holds_every_solid_by_name_in_millimetres_and_each_as_often_as_it_is_needed() {
    for (name, solids) in made() {
        let bytes = threemf::write(&name, &solids);
        assert_eq!(threemf::write(&name, &solids), bytes, "the same bytes");
        assert!(part(&bytes, "[Content_Types].xml").contains("3dmanufacturing-3dmodel+xml"));
        assert!(part(&bytes, "_rels/.rels").contains("/3D/3dmodel.model"));
        let model = part(&bytes, "3D/3dmodel.model");
        let document = read(&model);
        assert_eq!(document.unit, "millimeter");
        let names: Vec<&str> = solids.iter().map(Solid::name).collect();
        assert_eq!(document.objects, names);
        assert_eq!(
            document.items,
            solids.iter().map(Solid::count).sum::<usize>()
        );
        let vertices: usize = solids.iter().map(|solid| solid.mesh().vertices.len()).sum();
        let triangles: usize = solids
            .iter()
            .map(|solid| solid.mesh().triangles.len())
            .sum();
        assert_eq!(
            (document.vertices, document.triangles),
            (vertices, triangles)
        );
    }
}

struct Model {
    unit: String,
    objects: Vec<String>,
    items: usize,
    vertices: usize,
    triangles: usize,
}

/// The model as an XML reader finds it.
fn read(text: &str) -> Model {
    let document = resvg::usvg::roxmltree::Document::parse(text).expect("well-formed XML");
    let count = |name: &str| {
        let all = document.descendants();
        all.filter(|node| {
            node.has_tag_name((
                "http://schemas.microsoft.com/3dmanufacturing/core/2015/02",
                name,
            ))
        })
        .count()
    };
    let objects = document
        .descendants()
        .filter(|node| node.tag_name().name() == "object");
    Model {
        unit: document
            .root_element()
            .attribute("unit")
            .unwrap_or_default()
            .to_owned(),
        objects: objects
            .map(|node| node.attribute("name").unwrap_or_default().to_owned())
            .collect(),
        items: count("item"),
        vertices: count("vertex"),
        triangles: count("triangle"),
    }
}

#[test]
fn a_title_that_xml_would_take_amiss_is_escaped() {
    let (_, solids) = made().into_iter().next().expect("a demo");
    let bytes = threemf::write("A \"fox\" & <badger>\u{1}", &solids);
    let model = part(&bytes, "3D/3dmodel.model");
    assert!(model.contains("A &quot;fox&quot; &amp; &lt;badger&gt;</metadata>"));
}
