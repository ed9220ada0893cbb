//! Binary STL: the triangles of one solid, in millimetres.

use nalgebra::{Point3, Vector3};

use crate::solid::Solid;

/// Length of the header, bytes. It must not begin with `solid`, which begins a text file.
const HEADER: usize = 80;

/// Writes a solid: a header, the number of facets, and 50 bytes for each.
pub fn write(solid: &Solid) -> Vec<u8> {
    let mesh = solid.mesh();
    let mut bytes = Vec::with_capacity(HEADER + 4 + 50 * mesh.triangles.len());
    let title = format!("Gazewright, {}, mm", solid.name());
    bytes.extend(title.bytes().chain(std::iter::repeat(b' ')).take(HEADER));
    let count = u32::try_from(mesh.triangles.len()).unwrap_or(u32::MAX);
    bytes.extend(count.to_le_bytes());
    for facet in mesh.facets() {
        let [a, b, c] = facet;
        let normal = (b - a).cross(&(c - a));
        let normal = normal.try_normalize(0.0).unwrap_or_else(Vector3::zeros);
        for at in [normal.into(), a, b, c] {
            bytes.extend(single(at).into_iter().flat_map(f32::to_le_bytes));
        }
        // No attributes.
        bytes.extend([0; 2]);
    }
    bytes
}

/// A place in single precision, which is all that the format holds.
#[allow(
    clippy::cast_possible_truncation,
    reason = "the format holds single precision: 0.12 µm at 2 m"
)]
fn single(at: Point3<f64>) -> [f32; 3] {
    [at.x as f32, at.y as f32, at.z as f32]
}
