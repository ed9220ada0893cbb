//! Gazewright.

use std::process::ExitCode;

fn main() -> ExitCode {
    desk::commands::run(std::env::args_os().skip(1), desk::window::run)
}
