//! An STL file, read by others.

use std::io::Cursor;

use nalgebra::{Point3, Vector3};
use output::solid::solids;
use output::{Solid, SolidOptions, stl};

use super::{Body, cases};
use crate::projects::demo;

/// The size of a binary STL file of `count` facets: 84 + 50·n bytes (Library of Congress, format
/// description fdd000505; UK National Archives, PRONOM fmt/865).
fn size(count: usize) -> usize {
    84 + 50 * count
}

fn read(bytes: &[u8]) -> stl_io::IndexedMesh {
    stl_io::read_stl(&mut Cursor::new(bytes)).unwrap()
}

pub(super) fn assert_reads_back(name: &str, solid: &Solid) {
    let bytes = stl::write(solid);
    assert_eq!(bytes.len(), size(solid.mesh().triangles.len()), "{name}");
    let count = u32::from_le_bytes(bytes[80..84].try_into().unwrap());
    assert_eq!(count as usize, solid.mesh().triangles.len());

    let found = read(&bytes);
    found
        .validate()
        .unwrap_or_else(|error| panic!("{name}: {error}"));
    let place = |v: &stl_io::Vertex| Point3::from(v.0.map(f64::from));
    let body = Body {
        vertices: found.vertices.iter().map(place).collect(),
        triangles: found.faces.iter().map(|face| face.vertices).collect(),
    };
    body.assert_sound(name);
    assert_eq!(
        body.vertices.len(),
        solid.mesh().vertices.len(),
        "{name}: corners fell together"
    );
    let share = (body.volume() - solid.mesh().volume()) / solid.mesh().volume();
    assert!(share.abs() < 1e-5, "{name}: {share}");
    for (face, [a, b, c]) in found.faces.iter().zip(body.facets()) {
        let written = Vector3::from(face.normal.0.map(f64::from));
        assert!(
            (written.norm() - 1.0).abs() < 1e-6,
            "{name}: a normal of {}",
            written.norm()
        );
        let normal = (b - a).cross(&(c - a)).normalize();
        assert!(
            normal.dot(&written) > 0.999,
            "{name}: {written:?} for {normal:?}"
        );
    }
}

#[test]
fn every_demo_reads_back_sound_with_unit_normals_and_84_bytes_and_50_for_each_facet() {
    cases::each_demo(|case, options| {
        for solid in solids(&case.project, &case.laid, options).unwrap() {
            assert_reads_back(&format!("{}: {}", case.name, solid.name()), &solid);
        }
    });
}

#[test]
fn random_solids_read_back_sound_in_single_precision() {
    cases::each_random(45, |case, options| {
        let Ok(solids) = solids(&case.project, &case.laid, options) else {
            return false;
        };
        for solid in solids {
            assert_reads_back(&format!("{}: {}", case.name, solid.name()), &solid);
        }
        true
    });
}

#[test]
fn the_header_does_not_begin_with_solid_and_says_the_unit() {
    let case = demo("bramble");
    let solids = solids(&case.project, &case.laid, &SolidOptions::default()).unwrap();
    let bytes = stl::write(&solids[0]);
    assert!(!bytes.starts_with(b"solid"));
    let header = std::str::from_utf8(&bytes[..80]).unwrap();
    assert_eq!(header.trim_end_matches('\0'), "Gazewright. Lengths in mm.");
    assert_eq!(bytes, stl::write(&solids[0]));
}
