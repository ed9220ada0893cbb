//! What must hold across the workspace.

mod house;
mod reference;

/// A character that comes with the program.
fn demo(name: &str) -> layout::Project {
    let sample = desk::samples::Sample::called(name).expect("the sample exists");
    sample.project()
}
