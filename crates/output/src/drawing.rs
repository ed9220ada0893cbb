//! A drawing.
/// A drawing.
#[derive(Clone, Debug)]
pub struct Drawing {}
