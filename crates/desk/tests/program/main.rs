//! The program as it is called: what it reads, writes and says.

mod bad_input;
mod commands;
mod files;
mod folder;
mod kept;
mod making;
mod outline;
mod shelf;

/// A character that comes with the program.
fn demo(name: &str) -> layout::Project {
    let sample = desk::samples::Sample::called(name).expect("the sample exists");
    sample.project()
}
