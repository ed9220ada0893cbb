//! What the program does when it is called by name.

mod arguments;
mod check;
mod cut;
mod failure;
mod fit;
mod fit_lines;
mod open;
mod sheet;
mod solids;
mod spacing;
mod table;

use std::ffi::OsString;
use std::fmt::Display;
use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use intake::Unit;
use layout::closed_curve::CurveOf;
use layout::geometry::outline::Outline;
use layout::{Project, Report, State};
use serde::Serialize;

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
        Request::Spacing { input, json } => spacing::run(&input, json),
        Request::Fit { input, shelf, json } => fit::run(&input, &shelf, json),
        Request::Sheet {
            input,
            to,
            part,
            paper,
            making,
        } => sheet::run(&input, &to, part, &paper, &making),
        Request::Cut {
            input,
            to,
            part,
            making,
        } => cut::run(&input, &to, part, &making),
        Request::Solids { input, to, making } => solids::run(&input, &to, &making),
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
        let shape = found.shapes[found.preferred].scaled(unit);
        let old = Outline::polygon(&project.head.wall());
        let edit = drawing::edit(CurveOf::Head, &shape, &old);
        let edit = edit.map_err(|error| error.in_file(path))?;
        let project = edit.apply(&project).map_err(|problem| Failure {
            cause: format!("{}: {}", path.display(), problem.sentence),
            remedy: problem.remedy,
        })?;
        let [width, height] = drawing::size(&shape);
        let name = drawing::shape_name(&found, found.preferred);
        let of = match found.shapes.len() {
            1 => String::new(),
            count => format!(", one of {count} in it"),
        };
        say(&format!(
            "The head outline is {name} of {}{of}: {width:.1} × {height:.1} mm.",
            path.display()
        ));
        Ok(project)
    }
}

/// Refuses to write `what` over the project that it is made from.
fn keep_apart(input: &Input, to: &Path, what: &str) -> Result<(), Failure> {
    let Source::File(file) = &input.source else {
        return Ok(());
    };
    match (fs::canonicalize(file), fs::canonicalize(to)) {
        (Ok(file), Ok(target)) if file == target => Err(Failure {
            cause: format!(
                "The {what} would take the place of its own project, `{}`.",
                to.display()
            ),
            remedy: "Name another file after `-o`.".to_owned(),
        }),
        _ => Ok(()),
    }
}

/// Says on one line that what was written shows a plate that fouls.
fn say_fouls(report: &Report, written: &str) {
    let fouls = report
        .findings
        .iter()
        .filter(|f| f.state == State::Fouls)
        .count();
    let findings = match fouls {
        0 => return,
        1 => "1 finding fouls".to_owned(),
        _ => format!("{fouls} findings foul"),
    };
    say(&format!(
        "{written}, but {findings}: see `gazewright check`."
    ));
}

/// The exit status that a report asks for.
fn status(report: &Report) -> u8 {
    if report.worst() == State::Fouls {
        SOMETHING_FOULS
    } else {
        NOTHING_FOULS
    }
}

/// An answer as JSON, with a line's end.
fn as_json(answer: &impl Serialize) -> Result<String, Failure> {
    let text = serde_json::to_string_pretty(answer).map_err(|error| Failure {
        cause: format!("The answer cannot be put into JSON: {error}."),
        remedy: "Run it without `--json`.".to_owned(),
    })?;
    Ok(text + "\n")
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
