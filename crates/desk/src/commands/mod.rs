//! What the program does when it is called by name.

mod arguments;
mod check;
mod failure;
mod open;
mod sheet;
mod table;

use std::ffi::OsString;
use std::fmt::Display;
use std::io::{self, ErrorKind, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use intake::Unit;
use layout::closed_curve::CurveOf;
use layout::geometry::outline::Outline;
use layout::{Project, Report, State};

use arguments::{Input, Request, Source};
use failure::Failure;

use crate::files::{self, drawing};

/// Exit status when nothing fouls.
pub const NOTHING_FOULS: u8 = 0;
/// Exit status when something fouls.
pub const SOMETHING_FOULS: u8 = 1;
/// Exit status when the command could not run.
pub const COULD_NOT_RUN: u8 = 2;

/// Runs the program with its arguments, its own name left out. `window` opens the window on a
/// project, with the file that it came from if it came from one, and returns when it is closed.
pub fn run<E: Display>(
    arguments: impl IntoIterator<Item = OsString>,
    window: impl FnOnce(Option<PathBuf>, Project) -> Result<(), E>,
) -> ExitCode {
    let done = arguments::read(arguments).and_then(|request| match request {
        Request::Help => print(arguments::HELP).map(|()| NOTHING_FOULS),
        Request::Version => {
            print(&format!("gazewright {}\n", env!("CARGO_PKG_VERSION"))).map(|()| NOTHING_FOULS)
        }
        Request::Check { input, json } => check::run(&input, json),
        Request::Sheet { input, to, paper } => sheet::run(&input, &to, &paper),
        Request::Window(source) => open::run(source, window),
    });
    ExitCode::from(done.unwrap_or_else(|failure| {
        say(&format!("{}\n{}", failure.cause, failure.remedy));
        COULD_NOT_RUN
    }))
}

impl Source {
    /// Reads the project.
    fn project(&self) -> Result<Project, Failure> {
        match self {
            Self::Sample(sample) => Ok(sample.project()),
            Self::File(path) => files::read(path).map_err(Failure::from),
        }
    }
}

impl Input {
    /// Reads the project, and the drawing that its head outline comes from.
    fn project(&self) -> Result<Project, Failure> {
        let project = self.source.project()?;
        let Some(path) = &self.outline else {
            return Ok(project);
        };
        let found = drawing::read(path)?;
        let unit = found.unit.or(self.outline_unit.map(Unit::mm));
        let unit = unit.ok_or_else(|| Failure {
            cause: format!("{}: The drawing states no unit.", path.display()),
            remedy: "Add `--outline-unit mm`, `cm`, `in` or `px`.".to_owned(),
        })?;
        // A file without a closed shape was refused.
        let shape = found.shapes[0].scaled(unit);
        let wall = project.head.wall();
        let [low, high] = Outline::polygon(&wall).bounds().unwrap_or_default();
        let edit = drawing::edit(CurveOf::Head, &shape, nalgebra::center(&low, &high));
        let edit = edit.map_err(|error| error.in_file(path))?;
        edit.apply(&project).map_err(|problem| Failure {
            cause: format!("{}: {}", path.display(), problem.sentence),
            remedy: problem.remedy,
        })
    }
}

/// The exit status that a report asks for.
fn status(report: &Report) -> u8 {
    if report.worst() == State::Fouls {
        SOMETHING_FOULS
    } else {
        NOTHING_FOULS
    }
}

/// Puts a text on standard output. A reader that has seen enough and gone is no failure.
fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure {
            cause: format!("The answer cannot be written: {error}."),
            remedy: "Let it go to a place that takes it.".to_owned(),
        }),
        _ => Ok(()),
    }
}

/// Puts a line on standard error, if anybody is there to read it.
fn say(line: &str) {
    let _ = writeln!(io::stderr(), "{line}");
}
