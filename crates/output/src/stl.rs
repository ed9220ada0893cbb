//! A solid as a binary STL file.
//!
//! 80 bytes of header, the number of facets, and 50 bytes for each: its unit normal, its corners and
//! two bytes of nothing, all little-endian, lengths as singles (Library of Congress, format
//! description fdd000505).

use crate::solid::Solid;

/// Must not begin with `solid`, by which readers know the other kind of STL. It says the unit, which
/// the format has no place for.
const HEADER: &[u8] = b"Gazewright. Lengths in mm.";

/// Bytes of the header.
const HEADER_SIZE: usize = 80;

/// Bytes of one facet.
const FACET_SIZE: usize = 50;

/// Writes a solid, mm. The same solid gives the same bytes.
pub fn write(solid: &Solid) -> Vec<u8> {
    let mesh = solid.mesh();
    let count = mesh.triangles.len();
    let mut bytes = Vec::with_capacity(HEADER_SIZE + 4 + FACET_SIZE * count);
    bytes.extend(HEADER);
    bytes.resize(HEADER_SIZE, 0);
    // A solid within the largest size and the least chord error has some million facets.
    bytes.extend(u32::try_from(count).unwrap_or(u32::MAX).to_le_bytes());
    for corners in mesh.facets() {
        let [a, b, c] = corners;
        let normal = (b - a).cross(&(c - a)).normalize();
        let places = corners.map(|corner| corner.coords);
        for number in [normal].iter().chain(&places).flatten() {
            bytes.extend(single(*number).to_le_bytes());
        }
        bytes.extend([0, 0]);
    }
    bytes
}

/// Numbers of an STL file are singles: good to 0.01 µm within a hand's width.
#[allow(
    clippy::cast_possible_truncation,
    reason = "the format's numbers are singles"
)]
fn single(number: f64) -> f32 {
    number as f32
}
