//! Gazewright.
fn main() {}
