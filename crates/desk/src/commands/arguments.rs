//! What the program is asked to do.

use std::ffi::OsString;
use std::path::PathBuf;

use intake::Unit;
use lexopt::{Arg, Parser, ValueExt};
use output::cut::CutPart;
use output::sheet::{OrientationChoice, PaperChoice};
use output::{LengthUnit, Seen};

use super::failure::Failure;
use crate::samples::{SAMPLES, Sample};

/// What `--help` says.
pub(super) const HELP: &str = "\
Gazewright lays out the plate that carries movable ball eyes in a hand puppet's head.

Usage:
  gazewright [FILE]                  open the window, on a sample if no file is named
  gazewright check FILE [--json]     say what fits, what is tight and what fouls
  gazewright spacing FILE [--json]   say how far apart the eyes may stand, and what sets it
  gazewright fit FILE --shelf RON [--json]
                                     say which plate of a shelf takes the parts and fits the
                                     head, and what is to be done to it
  gazewright sheet FILE -o PDF       draw the plate at 1:1 for printing
  gazewright cut FILE -o SVG|DXF     write a part's contours for the cutter
  gazewright solids FILE -o DIR      write what is printed as STL and 3MF

FILE is a project (.ron), or --sample NAME, one of:
  bramble, dame-sorrel, old-tarn, nettle, wimple, thistle

Options of all commands:
  --outline FILE                     take the head outline from a drawing (.svg, .dxf): its largest
                                     closed shape, its middle where the head's was
  --outline-unit mm|cm|in|px         the drawing's unit, where it states none

Options of check, spacing and fit:
  --json                             print the answer as JSON: of check the project, all figures and
                                     all findings

Options of fit:
  --shelf RON                        the plates that there are

Options of sheet:
  -o, --output PDF                   where to write it
  --paper auto|a4|a3|letter          the paper; auto takes the smallest that fits (auto)
  --portrait, --landscape            which way round it lies (whichever fits)
  --from-back                        draw it as the maker sees it from behind; left and right stay
                                     the audience's
  --unit mm|in                       the unit of all dimensions (mm)

Options of cut:
  -o, --output SVG|DXF               where to write it; the ending names the format
  --kerf MM                          the width that the tool takes away (the workshop's, else 0)

Options of solids:
  -o, --output DIR                   the folder to write into
  --chord-error MM                   how far facets may lie off the true surface (0.02)
  --glue-gap MM                      room for glue between ball and ring (0.1)
  --fit-gauge                        also write the test plate to print first, which tells what
                                     your printer needs

Options of sheet and cut:
  --part plate|foam|guard|head|smallest-head
                                     what is drawn or cut (plate); the smallest head is the least
                                     inside wall round this plate
  --foam-clearance MM                how far the foam stands off the rings' sweep (3)

Options of cut and solids:
  --hole-allowance MM                what holes come out smaller by (the workshop's, else 0)

  -h, --help                         print this
  -V, --version                      print the version

The window keeps its recent files and recovery copies among your data, or in the folder that
GAZEWRIGHT_DATA names.

Exit status: 0 nothing fouls, 1 something fouls, 2 it could not run.

Take care at the bench: small balls and parts choke small children, cut mesh and wire ends stab,
glue and solvent fumes need fresh air, PVC must never be laser-cut, and celluloid balls burn
fiercely. Your local rules for toys, stage and workshop come first; ask a qualified person.
";

/// What the program is asked to do.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Request {
    Help,
    Version,
    Window(Option<Source>),
    Check {
        input: Input,
        json: bool,
    },
    Spacing {
        input: Input,
        json: bool,
    },
    Fit {
        input: Input,
        shelf: PathBuf,
        json: bool,
    },
    Sheet {
        input: Input,
        to: PathBuf,
        part: CutPart,
        paper: Paper,
        making: Making,
    },
    Cut {
        input: Input,
        to: PathBuf,
        part: CutPart,
        making: Making,
    },
    Solids {
        input: Input,
        to: PathBuf,
        making: Making,
    },
}

/// A project, and what takes the place of parts of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Input {
    pub(super) source: Source,
    /// The drawing that the head outline comes from.
    pub(super) outline: Option<PathBuf>,
    /// The drawing's unit, where it states none.
    pub(super) outline_unit: Option<Unit>,
}

/// Where a project comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Source {
    File(PathBuf),
    Sample(Sample),
}

/// How a sheet is to lie on its paper.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Paper {
    pub(super) paper: PaperChoice,
    pub(super) orientation: OrientationChoice,
    pub(super) seen: Seen,
    pub(super) unit: LengthUnit,
}

/// How parts are made, where it is not as the project's workshop says. Lengths in mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Making {
    pub(super) kerf: Option<f64>,
    pub(super) hole_allowance: Option<f64>,
    pub(super) foam_clearance: Option<f64>,
    pub(super) chord_error: Option<f64>,
    pub(super) glue_gap: Option<f64>,
    pub(super) fit_gauge: bool,
}

/// Reads the arguments, the program's own name left out.
pub(super) fn read(arguments: impl IntoIterator<Item = OsString>) -> Result<Request, Failure> {
    let mut parser = Parser::from_args(arguments);
    let mut asked = Asked::default();
    while let Some(argument) = parser.next().map_err(misunderstood)? {
        match argument {
            Arg::Short('h') | Arg::Long("help") => return Ok(Request::Help),
            Arg::Short('V') | Arg::Long("version") => return Ok(Request::Version),
            Arg::Value(word) => asked.word(word)?,
            Arg::Long("sample") => {
                let name = text(&mut parser)?;
                let sample = Sample::called(&name).ok_or_else(|| no_sample(&name))?;
                asked.source(Source::Sample(sample))?;
            }
            Arg::Long("outline") if asked.command != Command::Window => {
                asked.outline = Some(parser.value().map_err(misunderstood)?.into());
            }
            Arg::Long("outline-unit") if asked.command != Command::Window => {
                let word = text(&mut parser)?;
                asked.outline_unit = Some(one_of("--outline-unit", &word, &OUTLINE_UNITS)?);
            }
            Arg::Long("json") if asked.command.answers() => asked.json = true,
            Arg::Long("shelf") if asked.command == Command::Fit => {
                asked.shelf = Some(parser.value().map_err(misunderstood)?.into());
            }
            Arg::Short('o') | Arg::Long("output") if asked.command.writes() => {
                asked.to = Some(parser.value().map_err(misunderstood)?.into());
            }
            Arg::Long("paper") if asked.command == Command::Sheet => {
                asked.paper.paper = one_of("--paper", &text(&mut parser)?, &PAPERS)?;
            }
            Arg::Long("unit") if asked.command == Command::Sheet => {
                asked.paper.unit = one_of("--unit", &text(&mut parser)?, &UNITS)?;
            }
            Arg::Long("part") if matches!(asked.command, Command::Sheet | Command::Cut) => {
                asked.part = Some(one_of("--part", &text(&mut parser)?, &PARTS)?);
            }
            Arg::Long(option) if asked.length(option).is_some() => {
                let option = option.to_owned();
                let value = millimetres(&option, &text(&mut parser)?)?;
                if let Some(length) = asked.length(&option) {
                    *length = Some(value);
                }
            }
            Arg::Long("fit-gauge") if asked.command == Command::Solids => {
                asked.making.fit_gauge = true;
            }
            Arg::Long("from-back") if asked.command == Command::Sheet => {
                asked.paper.seen = Seen::Back;
            }
            Arg::Long("portrait") if asked.command == Command::Sheet => {
                asked.orientation(OrientationChoice::Portrait)?;
            }
            Arg::Long("landscape") if asked.command == Command::Sheet => {
                asked.orientation(OrientationChoice::Landscape)?;
            }
            other => return Err(misunderstood(other.unexpected())),
        }
    }
    asked.request()
}

const PAPERS: [(&str, PaperChoice); 4] = [
    ("auto", PaperChoice::Auto),
    ("a4", PaperChoice::A4),
    ("a3", PaperChoice::A3),
    ("letter", PaperChoice::Letter),
];

const UNITS: [(&str, LengthUnit); 2] = [("mm", LengthUnit::Millimetre), ("in", LengthUnit::Inch)];

const PARTS: [(&str, CutPart); 5] = [
    ("plate", CutPart::Plate),
    ("foam", CutPart::Foam),
    ("guard", CutPart::Guard),
    ("head", CutPart::Head),
    ("smallest-head", CutPart::SmallestHead),
];

const OUTLINE_UNITS: [(&str, Unit); 4] = [
    ("mm", Unit::Millimetre),
    ("cm", Unit::Centimetre),
    ("in", Unit::Inch),
    ("px", Unit::Pixel),
];

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Command {
    #[default]
    Window,
    Check,
    Spacing,
    Fit,
    Sheet,
    Cut,
    Solids,
}

impl Command {
    /// Whether it answers on standard output.
    fn answers(self) -> bool {
        matches!(self, Self::Check | Self::Spacing | Self::Fit)
    }

    /// Whether it writes something, so that `-o` says where.
    fn writes(self) -> bool {
        matches!(self, Self::Sheet | Self::Cut | Self::Solids)
    }
}

/// The arguments read so far.
#[derive(Default)]
struct Asked {
    command: Command,
    source: Option<Source>,
    outline: Option<PathBuf>,
    outline_unit: Option<Unit>,
    json: bool,
    shelf: Option<PathBuf>,
    to: Option<PathBuf>,
    paper: Paper,
    part: Option<CutPart>,
    making: Making,
}

impl Asked {
    /// Where the length of an option goes, if the command has that option.
    fn length(&mut self, option: &str) -> Option<&mut Option<f64>> {
        let making = &mut self.making;
        match (self.command, option) {
            (Command::Cut, "kerf") => Some(&mut making.kerf),
            (Command::Sheet | Command::Cut, "foam-clearance") => Some(&mut making.foam_clearance),
            (Command::Solids, "chord-error") => Some(&mut making.chord_error),
            (Command::Solids, "glue-gap") => Some(&mut making.glue_gap),
            (Command::Cut | Command::Solids, "hole-allowance") => Some(&mut making.hole_allowance),
            _ => None,
        }
    }

    /// Takes a bare word: a command if it is the first, else a file.
    fn word(&mut self, word: OsString) -> Result<(), Failure> {
        let first = self.command == Command::Window && self.source.is_none();
        match word.to_str() {
            Some("check") if first => self.command = Command::Check,
            Some("spacing") if first => self.command = Command::Spacing,
            Some("fit") if first => self.command = Command::Fit,
            Some("sheet") if first => self.command = Command::Sheet,
            Some("cut") if first => self.command = Command::Cut,
            Some("solids") if first => self.command = Command::Solids,
            _ => self.source(Source::File(word.into()))?,
        }
        Ok(())
    }

    fn source(&mut self, source: Source) -> Result<(), Failure> {
        match self.source.replace(source) {
            None => Ok(()),
            Some(_) => Err(Failure {
                cause: "More than one project is named.".to_owned(),
                remedy: "Name one file, or one sample.".to_owned(),
            }),
        }
    }

    fn orientation(&mut self, choice: OrientationChoice) -> Result<(), Failure> {
        let now = &mut self.paper.orientation;
        if *now != OrientationChoice::Auto && *now != choice {
            return Err(Failure {
                cause: "The paper cannot lie both ways round.".to_owned(),
                remedy: "Use --portrait or --landscape, not both.".to_owned(),
            });
        }
        *now = choice;
        Ok(())
    }

    fn request(self) -> Result<Request, Failure> {
        let input = |usage: &str| -> Result<Input, Failure> {
            let source = self.source.clone().ok_or_else(|| Failure {
                cause: "No project is named.".to_owned(),
                remedy: format!("Write `{usage}`, or `--sample NAME` for FILE."),
            })?;
            Ok(Input {
                source,
                outline: self.outline.clone(),
                outline_unit: self.outline_unit,
            })
        };
        let to = |what: &str, example: &str| {
            let named = self.to.clone().filter(|to| !to.as_os_str().is_empty());
            named.ok_or_else(|| Failure {
                cause: format!("No place is named for {what}."),
                remedy: format!("Add {example}."),
            })
        };
        match self.command {
            Command::Window => Ok(Request::Window(self.source)),
            Command::Check => Ok(Request::Check {
                input: input("gazewright check FILE")?,
                json: self.json,
            }),
            Command::Spacing => Ok(Request::Spacing {
                input: input("gazewright spacing FILE")?,
                json: self.json,
            }),
            Command::Fit => Ok(Request::Fit {
                input: input("gazewright fit FILE --shelf RON")?,
                shelf: self.shelf.clone().ok_or_else(|| Failure {
                    cause: "No shelf is named.".to_owned(),
                    remedy: "Add `--shelf RON`, such as `--shelf plates.ron`.".to_owned(),
                })?,
                json: self.json,
            }),
            Command::Sheet => Ok(Request::Sheet {
                input: input("gazewright sheet FILE -o PDF")?,
                to: to("the sheet", "`-o PDF`, such as `-o plate.pdf`")?,
                part: self.part.unwrap_or_default(),
                paper: self.paper,
                making: self.making,
            }),
            Command::Cut => Ok(Request::Cut {
                input: input("gazewright cut FILE -o SVG|DXF")?,
                to: to("the cut file", "`-o SVG|DXF`, such as `-o plate.dxf`")?,
                part: self.part.unwrap_or_default(),
                making: self.making,
            }),
            Command::Solids => Ok(Request::Solids {
                input: input("gazewright solids FILE -o DIR")?,
                to: to("the solids", "`-o DIR`, such as `-o solids`")?,
                making: self.making,
            }),
        }
    }
}

/// The value of an option, which is a word of ours.
fn text(parser: &mut Parser) -> Result<String, Failure> {
    parser
        .value()
        .and_then(|value| value.string())
        .map_err(misunderstood)
}

/// A length in mm. What it may be is checked where it is used.
fn millimetres(option: &str, word: &str) -> Result<f64, Failure> {
    let value = word.replace(',', ".").parse::<f64>();
    value.map_err(|_| Failure {
        cause: format!("`--{option}` does not take `{word}`."),
        remedy: "Use a number of millimetres, such as 0.2.".to_owned(),
    })
}

fn one_of<T: Copy>(option: &str, word: &str, choices: &[(&str, T)]) -> Result<T, Failure> {
    choices
        .iter()
        .find(|(name, _)| name.eq_ignore_ascii_case(word))
        .map(|&(_, choice)| choice)
        .ok_or_else(|| Failure {
            cause: format!("`{option}` does not know `{word}`."),
            remedy: format!("Use {}.", listed(choices.iter().map(|(name, _)| *name))),
        })
}

fn no_sample(name: &str) -> Failure {
    Failure {
        cause: format!("There is no sample `{name}`."),
        remedy: format!("Use {}.", listed(SAMPLES.iter().map(|sample| sample.name))),
    }
}

/// Words to choose from: `a`, `b` or `c`.
fn listed<'a>(words: impl Iterator<Item = &'a str>) -> String {
    let words: Vec<_> = words.map(|word| format!("`{word}`")).collect();
    match words.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} or {last}", others.join(", ")),
        None => String::new(),
    }
}

fn misunderstood(error: lexopt::Error) -> Failure {
    Failure {
        cause: format!("The command is not understood: {error}."),
        remedy: "See `gazewright --help` for what it takes.".to_owned(),
    }
}
