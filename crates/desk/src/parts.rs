//! The plate and its rings as files for the cutter and the printer.

use std::fs;
use std::path::{Path, PathBuf};

use layout::{Laid, Project};
use output::cut::{CutError, CutOptions, CutPart, cut_drawing};
use output::solid::{SolidError, SolidOptions, solids};
use output::{dxf, stl, svg, threemf};

use crate::files::{Backup, FileError, replace};

/// The formats of a cut file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

/// A part for the cutter.
///
/// # Errors
/// If the part cannot be cut, such as one without an outline.
pub fn cut_bytes(
    project: &Project,
    laid: &Laid,
    part: CutPart,
    options: &CutOptions,
    format: CutFormat,
) -> Result<Vec<u8>, FileError> {
    let cut = cut_drawing(project, laid, part, options).map_err(|error| from_cut(&error))?;
    Ok(match format {
        CutFormat::Svg => svg::write(&cut),
        CutFormat::Dxf => dxf::write(&cut),
    })
}

/// Writes every solid as an STL file of its own, and all of them as one 3MF file, into a folder, which
/// is made if it is not there. Gives the files' paths.
///
/// # Errors
/// If a solid cannot be made, or a file cannot be written; what was there before then stays, and no
/// file is left half-written.
pub fn write_solids(
    project: &Project,
    laid: &Laid,
    options: &SolidOptions,
    folder: &Path,
) -> Result<Vec<PathBuf>, FileError> {
    let solids = solids(project, laid, options).map_err(|error| from_solid(&error))?;
    let mut files: Vec<(PathBuf, Vec<u8>)> = solids
        .iter()
        .map(|solid| {
            let name = solid.name().replace(' ', "-");
            (folder.join(name).with_extension("stl"), stl::write(solid))
        })
        .collect();
    let all = folder.join("plate-and-rings.3mf");
    files.push((all, threemf::write(&project.name, &solids)));
    fs::create_dir_all(folder).map_err(|error| {
        FileError::new(
            format!("The folder `{}` cannot be made: {error}.", folder.display()),
            "Name another folder, or make room for it.",
        )
    })?;
    for (path, bytes) in &files {
        replace(path, Backup::None, |file| file.write_all(bytes))?;
    }
    Ok(files.into_iter().map(|(path, _)| path).collect())
}

fn from_cut(error: &CutError) -> FileError {
    FileError::new(error.to_string(), error.remedy())
}

fn from_solid(error: &SolidError) -> FileError {
    FileError::new(error.to_string(), error.remedy())
}
