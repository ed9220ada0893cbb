//! The plate and its rings as files for the cutter and the printer.

use std::path::{Path, PathBuf};

use layout::{Laid, Project};
use output::cut::{CutError, CutOptions, CutPart, cut_drawing};
use output::solid::{Solid, SolidError, SolidOptions, fit_gauge, solids};
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
}

impl Written {
    /// What there is to say of parts that do not lie on the bed.
    pub fn too_large(&self) -> Option<String> {
        let names = self.larger.join(", ");
        let sentence = format!("Larger than the printer's bed: {names}.");
        (!self.larger.is_empty()).then_some(sentence)
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
        .map(|solid| {
            let name = solid.name().replace(' ', "-");
            (folder.join(name).with_extension("stl"), stl::write(solid))
        })
        .collect();
    files.push((folder.join("plate-and-rings.3mf"), all));
    in_folder(folder, || replace_all(&files))?;
    Ok(Written {
        files: files.into_iter().map(|(path, _)| path).collect(),
        larger: larger_than_bed(project, &printed),
    })
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
