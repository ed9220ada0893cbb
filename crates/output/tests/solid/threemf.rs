//! A 3MF file, read by others.

use std::io::{Cursor, Read};

use layout::parts::Parts;
use nalgebra::Point3;
use output::solid::solids;
use output::{Solid, SolidOptions, threemf};
use roxmltree::{Document, Node};
use zip::ZipArchive;

use super::{Body, cases};
use crate::projects::demo;

/// Content type, relationship and namespace of the 3MF Core Specification v1.4.0 (appendix C and
/// 2.1.5).
const TYPE: &str = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml";
const RELATIONSHIP: &str = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel";
const NAMESPACE: &str = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02";

fn part(bytes: &[u8], name: &str) -> String {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut text = String::new();
    // Reading to the end checks the checksum, too.
    archive
        .by_name(name)
        .unwrap()
        .read_to_string(&mut text)
        .unwrap();
    text
}

fn children<'a>(node: Node<'a, 'a>, name: &'a str) -> impl Iterator<Item = Node<'a, 'a>> {
    node.children()
        .filter(move |child| child.has_tag_name((NAMESPACE, name)))
}

fn child<'a>(node: Node<'a, 'a>, name: &'a str) -> Node<'a, 'a> {
    let mut all = children(node, name);
    let first = all.next().unwrap_or_else(|| panic!("no {name}"));
    assert!(all.next().is_none(), "more than one {name}");
    first
}

fn number<T: std::str::FromStr>(node: Node<'_, '_>, name: &str) -> T {
    let text = node.attribute(name).unwrap_or_else(|| panic!("no {name}"));
    text.parse().unwrap_or_else(|_| panic!("{name} is {text}"))
}

/// The mesh of an object, by the schema's order of elements.
fn body(object: Node<'_, '_>) -> Body {
    let mesh = child(object, "mesh");
    let at = |node| Point3::from(["x", "y", "z"].map(|axis| number(node, axis)));
    let indices = |node| ["v1", "v2", "v3"].map(|index| number(node, index));
    Body {
        vertices: children(child(mesh, "vertices"), "vertex")
            .map(at)
            .collect(),
        triangles: children(child(mesh, "triangles"), "triangle")
            .map(indices)
            .collect(),
    }
}

/// Where an item stands in plan: least and greatest corner.
fn place(item: Node<'_, '_>, body: &Body) -> [[f64; 2]; 2] {
    let text = item.attribute("transform").unwrap();
    let matrix: Vec<f64> = text
        .split(' ')
        .map(|number| number.parse().unwrap())
        .collect();
    assert_eq!(matrix[..9], [1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0]);
    assert_eq!((matrix.len(), matrix[11]), (12, 0.0));
    let along = |axis: usize| {
        let all = body.vertices.iter().map(move |at| at[axis]);
        let low = all.clone().fold(f64::INFINITY, f64::min);
        let high = all.fold(f64::NEG_INFINITY, f64::max);
        [low, high].map(|v| v + matrix[9 + axis])
    };
    let ([left, right], [bottom, top]) = (along(0), along(1));
    [[left, bottom], [right, top]]
}

pub(super) fn assert_reads_back(name: &str, solids: &[Solid]) {
    let bytes = threemf::write(name, solids);
    let text = part(&bytes, "3D/3dmodel.model");
    let document = Document::parse(&text).unwrap();
    let model = document.root_element();
    assert!(model.has_tag_name((NAMESPACE, "model")));
    assert_eq!(model.attribute("unit"), Some("millimeter"));
    let title = children(model, "metadata").find(|m| m.attribute("name") == Some("Title"));
    assert_eq!(title.unwrap().text(), Some(name));

    let objects: Vec<_> = children(child(model, "resources"), "object").collect();
    assert_eq!(objects.len(), solids.len());
    let mut bodies = Vec::new();
    for (index, (object, solid)) in objects.iter().zip(solids).enumerate() {
        assert_eq!(number::<usize>(*object, "id"), index + 1);
        assert_eq!(object.attribute("name"), Some(solid.name()));
        assert_eq!(object.attribute("type"), Some("model"));
        let body = body(*object);
        body.assert_sound(&format!("{name}: {}", solid.name()));
        assert_eq!(body.triangles, solid.mesh().triangles);
        for (read, written) in body.vertices.iter().zip(&solid.mesh().vertices) {
            assert!(
                (read - written).norm() < 1e-6,
                "{name}: {read} for {written}"
            );
        }
        bodies.push(body);
    }

    let mut places: Vec<[[f64; 2]; 2]> = Vec::new();
    let mut counts = vec![0; solids.len()];
    for item in children(child(model, "build"), "item") {
        let id: usize = number(item, "objectid");
        counts[id - 1] += 1;
        let here = place(item, &bodies[id - 1]);
        assert!(here[0][0] > -1e-6 && here[0][1] > -1e-6, "{name}: {here:?}");
        for there in &places {
            let apart = (0..2).any(|axis| {
                here[0][axis] > there[1][axis] + 1.0 || there[0][axis] > here[1][axis] + 1.0
            });
            assert!(apart, "{name}: {here:?} and {there:?}");
        }
        places.push(here);
    }
    let wanted: Vec<usize> = solids.iter().map(Solid::count).collect();
    assert_eq!(counts, wanted, "{name}");
}

#[test]
fn every_demo_reads_back_as_named_objects_in_millimetres_that_stand_apart() {
    cases::each_demo(|case, options| {
        let solids = solids(&case.project, &case.laid, options).unwrap();
        assert_reads_back(&case.name, &solids);
    });
}

#[test]
fn random_solids_read_back_sound_and_stand_apart() {
    cases::each_random(46, |case, options| {
        let solids = solids(&case.project, &case.laid, options);
        solids.is_ok_and(|solids| {
            assert_reads_back(&case.name, &solids);
            true
        })
    });
}

#[test]
fn rings_that_do_not_fit_beside_each_other_go_into_further_rows() {
    let mut project = demo("bramble").project;
    let parts = |index: u32| Parts {
        ball_diameter: 40.0 - f64::from(index) / 10.0,
        ..project.parts.clone()
    };
    let eye = project.eyes[0].clone();
    let eyes: Vec<_> = (0..7)
        .map(|index| layout::eye::Eye {
            centre: [f64::from(index) * 58.0 - 174.0, 0.0],
            parts: Some(Box::new(parts(index / 3))),
            ..eye.clone()
        })
        .collect();
    project.eyes = eyes;
    let laid = layout::Laid::out(&project);
    let all = output::solid::rings(&project, &laid, &SolidOptions::default()).unwrap();
    assert_eq!(all.iter().map(Solid::count).collect::<Vec<_>>(), [3, 3, 1]);
    assert_reads_back("many", &all);
}

#[test]
fn the_package_holds_the_three_parts_without_a_date_and_leads_to_the_model() {
    let case = demo("bramble");
    let solids = solids(&case.project, &case.laid, &SolidOptions::default()).unwrap();
    let bytes = threemf::write("Bramble", &solids);
    assert_eq!(bytes, threemf::write("Bramble", &solids));
    let mut archive = ZipArchive::new(Cursor::new(&bytes)).unwrap();
    let mut names = Vec::new();
    for index in 0..archive.len() {
        let entry = archive.by_index(index).unwrap();
        names.push(entry.name().unwrap().into_owned());
        let made = entry.last_modified().unwrap();
        assert_eq!(
            (made.year(), made.month(), made.day(), made.hour()),
            (1980, 1, 1, 0)
        );
    }
    // The names that the Open Packaging Conventions (ECMA-376, part 2) ask for are from memory.
    assert_eq!(
        names,
        ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
    );
    let types = part(&bytes, "[Content_Types].xml");
    let types = Document::parse(&types).unwrap();
    let model = types
        .descendants()
        .find(|n| n.attribute("Extension") == Some("model"));
    assert_eq!(model.unwrap().attribute("ContentType"), Some(TYPE));
    let relations = part(&bytes, "_rels/.rels");
    let relations = Document::parse(&relations).unwrap();
    let start = relations
        .descendants()
        .find(|n| n.attribute("Type") == Some(RELATIONSHIP));
    assert_eq!(
        start.unwrap().attribute("Target"),
        Some("/3D/3dmodel.model")
    );
}

#[test]
fn a_title_may_hold_what_xml_may_not() {
    let title = |title: &str| {
        let text = part(&threemf::write(title, &[]), "3D/3dmodel.model");
        let document = Document::parse(&text).unwrap();
        let metadata = children(document.root_element(), "metadata")
            .next()
            .unwrap();
        metadata.text().unwrap_or_default().to_owned()
    };
    assert_eq!(
        title("A <b> & \"c\" 'd' ü → ]]>"),
        "A <b> & \"c\" 'd' ü → ]]>"
    );
    assert_eq!(
        title("bell\u{7} tab\t end\u{ffff}"),
        "bell\u{fffd} tab  end\u{fffd}"
    );
}
