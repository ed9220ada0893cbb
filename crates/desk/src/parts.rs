//! Parts as files for the cutter and the printer.

use std::iter;
use std::path::{Path, PathBuf};

use layout::{Laid, Project};
use output::cut::{CutError, CutOptions, CutPart, cut_drawing};
use output::solid::{Solid, SolidError, SolidOptions, fit_gauge, solids, without_lever};
use output::{dxf, stl, svg, threemf};

use crate::files::{Backup, FileError, in_folder, replace, replace_all};

/// The formats of a cut file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CutFormat {
    /// Scalable Vector Graphics, one unit to a millimetre.
    Svg,
    /// Drawing Exchange Format, R2000, in millimetres.
    Dxf,
}

impl CutFormat {
    /// The format that a path's ending names.
    pub fn of(path: &Path) -> Option<Self> {
        let ending = path.extension()?.to_str()?;
        [("svg", Self::Svg), ("dxf", Self::Dxf)]
            .into_iter()
            .find_map(|(own, format)| ending.eq_ignore_ascii_case(own).then_some(format))
    }
}

/// How the project's workshop cuts parts.
pub fn cut_options(project: &Project) -> CutOptions {
    let plain = CutOptions::default();
    project
        .workshop
        .as_ref()
        .map_or(plain, |workshop| CutOptions {
            kerf: workshop.kerf,
            hole_allowance: workshop.hole_allowance,
            ..plain
        })
}

/// How the project's workshop prints parts.
pub fn solid_options(project: &Project) -> SolidOptions {
    let plain = SolidOptions::default();
    project
        .workshop
        .as_ref()
        .map_or(plain, |workshop| SolidOptions {
            hole_allowance: workshop.hole_allowance,
            ..plain
        })
}

/// The solids that were written.
#[derive(Clone, Debug, PartialEq)]
pub struct Written {
    /// Their files.
    pub files: Vec<PathBuf>,
    /// The names of those that are larger than the printer's bed.
    pub larger: Vec<String>,
    /// The names of the drives whose levers are not among them, because the drives cannot work.
    pub without_lever: Vec<String>,
}

impl Written {
    /// What there is to say of parts that do not lie on the bed, and of those that were not made.
    pub fn warning(&self) -> Option<String> {
        let sentence = |start: &str, names: &[String], end: &str| {
            (!names.is_empty()).then(|| format!("{start}{}{end}.", names.join(", ")))
        };
        let sentences = [
            sentence("Larger than the printer's bed: ", &self.larger, ""),
            sentence(
                "No lever was made of ",
                &self.without_lever,
                ": it cannot work as it is",
            ),
        ];
        sentences
            .into_iter()
            .flatten()
            .reduce(|one, other| format!("{one} {other}"))
    }
}

/// A part for the cutter, and what there is to say of it: that it falls into pieces.
///
/// # Errors
/// If the part cannot be cut, such as one without an outline.
pub fn cut_bytes(
    project: &Project,
    laid: &Laid,
    part: CutPart,
    options: &CutOptions,
    format: CutFormat,
) -> Result<(Vec<u8>, Option<String>), FileError> {
    let cut = cut_drawing(project, laid, part, options).map_err(|error| from_cut(&error))?;
    let bytes = match format {
        CutFormat::Svg => svg::write(&cut),
        CutFormat::Dxf => dxf::write(&cut),
    };
    Ok((bytes, cut.falls_apart()))
}

/// The file that holds every solid.
const TOGETHER: &str = "parts.3mf";

/// A solid's name is longer than this, characters, only where drives have long names; a file system
/// takes 255 bytes, and four to a character.
const LONGEST_NAME: usize = 50;

/// Writes every solid as an STL file of its own, and all of them as one 3MF file, into a folder, which
/// is made if it is not there; with `gauge`, the fit gauge as one more STL file.
///
/// # Errors
/// If a solid cannot be made, or a file cannot be written. Then nothing is written: what was there
/// before stays, and a folder that was made goes again.
pub fn write_solids(
    project: &Project,
    laid: &Laid,
    options: &SolidOptions,
    gauge: bool,
    folder: &Path,
) -> Result<Written, FileError> {
    let mut printed = solids(project, laid, options).map_err(|error| from_solid(&error))?;
    let all = threemf::write(&project.name, &printed);
    if gauge {
        printed.push(gauge_solid(project)?);
    }
    let mut files: Vec<(PathBuf, Vec<u8>)> = printed
        .iter()
        .zip(file_names(&printed))
        .map(|(solid, name)| (folder.join(name), stl::write(solid)))
        .collect();
    files.push((folder.join(TOGETHER), all));
    in_folder(folder, || replace_all(&files))?;
    Ok(Written {
        files: files.into_iter().map(|(path, _)| path).collect(),
        larger: larger_than_bed(project, &printed),
        without_lever: without_lever(project, laid),
    })
}

/// A file for each solid, named after it. A lever is named after its drive as the maker wrote it, so
/// that letters and digits stay, and what is left is numbered where two are the same.
fn file_names(solids: &[Solid]) -> Vec<String> {
    let plain = |letter: char| {
        if letter.is_alphanumeric() {
            letter
        } else {
            '-'
        }
    };
    let mut names: Vec<String> = Vec::with_capacity(solids.len());
    for solid in solids {
        let name: String = shortened(solid.name()).chars().map(plain).collect();
        let numbered = (2..).map(|number| format!("{name}-{number}.stl"));
        let mut tried = iter::once(format!("{name}.stl")).chain(numbered);
        let taken = |file: &String| names.iter().any(|other| same_file(other, file));
        names.extend(tried.find(|file| !taken(file)));
    }
    names
}

/// As much of a name as [`LONGEST_NAME`] holds, up to the end of a word unless one fills most of it.
fn shortened(name: &str) -> &str {
    let Some((end, _)) = name.char_indices().nth(LONGEST_NAME) else {
        return name;
    };
    let (kept, rest) = name.split_at(end);
    let whole = if rest.starts_with(' ') {
        kept
    } else {
        let words = kept.rsplit_once(' ').map(|(words, _)| words);
        words
            .filter(|own| own.len() > kept.len() / 2)
            .unwrap_or(kept)
    };
    // What joins two words joins nothing at the end.
    whole.strip_suffix(" and").unwrap_or(whole)
}

/// Whether some file systems take two names for one.
fn same_file(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

/// Writes the fit gauge for the project's parts as an STL file.
///
/// # Errors
/// If it cannot be made from these parts, or the file cannot be written; then what was there stays.
pub fn write_gauge(project: &Project, path: &Path) -> Result<Written, FileError> {
    let solid = gauge_solid(project)?;
    let bytes = stl::write(&solid);
    replace(path, Backup::None, |file| file.write_all(&bytes))?;
    Ok(Written {
        files: vec![path.to_owned()],
        larger: larger_than_bed(project, &[solid]),
        without_lever: Vec::new(),
    })
}

/// The fit gauge for the project's parts, drawn exact: it is there to find the allowance.
///
/// # Errors
/// If it cannot be made from these parts.
pub fn gauge_solid(project: &Project) -> Result<Solid, FileError> {
    let solid = fit_gauge(project).slab.solid(&SolidOptions::default());
    solid.map_err(|error| from_solid(&error))
}

/// Names of the solids that do not lie on the workshop's bed.
fn larger_than_bed(project: &Project, solids: &[Solid]) -> Vec<String> {
    let workshop = project.workshop.as_ref();
    let larger = |solid: &&Solid| workshop.is_some_and(|own| !own.holds(footprint(solid)));
    let larger = solids.iter().filter(larger);
    larger.map(|solid| solid.name().to_owned()).collect()
}

/// Width and depth of a solid as it lies, mm.
pub fn footprint(solid: &Solid) -> [f64; 2] {
    let bounds = solid.mesh().bounds();
    bounds.map_or([0.0; 2], |[low, high]| [high.x - low.x, high.y - low.y])
}

fn from_cut(error: &CutError) -> FileError {
    FileError::new(error.to_string(), error.remedy())
}

fn from_solid(error: &SolidError) -> FileError {
    FileError::new(error.to_string(), error.remedy())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names_with(drives: [&str; 2]) -> Vec<String> {
        let text = include_str!("../../../demo/bramble.ron");
        let mut project: Project = ron::from_str(text).unwrap();
        project.drives.truncate(drives.len());
        for (drive, name) in project.drives.iter_mut().zip(drives) {
            drive.name = name.to_owned();
        }
        // Two levers of their own.
        project.drives[0].tip[1] -= 1.0;
        let laid = Laid::out(&project);
        let solids = solids(&project, &laid, &SolidOptions::default()).unwrap();
        let names = file_names(&solids);
        assert_eq!(names.len(), solids.len());
        names
    }

    #[test]
    fn a_lever_is_saved_under_a_name_that_is_no_path_and_no_other_lever_has() {
        let names = names_with(["../up & away", "Ärmel"]);
        assert_eq!(
            names,
            [
                "plate.stl",
                "ring.stl",
                "upper-lid.stl",
                "lower-lid.stl",
                "lug.stl",
                "lever-of----up---away.stl",
                "lever-of-Ärmel.stl",
            ]
        );
        let names = names_with(["blink", "Blink"]);
        assert_eq!(names[5..], ["lever-of-blink.stl", "lever-of-Blink-2.stl"]);
        let long = "w".repeat(500);
        let names = names_with([&long, &long]);
        assert!(names.iter().all(|name| name.len() < 60), "{names:?}");
        assert_ne!(names[5], names[6]);
    }

    #[test]
    fn a_name_too_long_for_a_file_ends_with_a_word() {
        let long = "lever for left upper lid and right upper lid and left lower lid";
        assert_eq!(
            shortened(long),
            "lever for left upper lid and right upper lid"
        );
        assert_eq!(shortened(&long[..48]), &long[..48]);
        let own = "lever of ".to_owned() + &"ö".repeat(60);
        assert_eq!(shortened(&own).chars().count(), LONGEST_NAME);
    }
}
