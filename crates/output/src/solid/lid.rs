//! Lids as solids: parts of a shell that turn about two bosses.

use std::f64::consts::TAU;

use layout::lid::Which;
use layout::{Laid, Problem, Project};

use super::chords::Chords;
use super::error::SolidError;
use super::kind::Kind;
use super::mesh::{Crossed, Mesh, SHORTEST_EDGE};
use super::section::{Knot, Section, Turns};
use super::slab::THINNEST;
use super::{Solid, SolidOptions, lever};

/// Where two lids lie over each other at the pivots, they keep off each other by this share of a
/// shell's thickness: 0.2 mm of 1.6 mm. The bosses of the outer one are as much thinner, and stay within
/// the shell's thickness more that the lugs are checked for. Own choice.
const PLAY: f64 = 1.0 / 8.0;

/// The distinct upper lids, then the lower ones, each once with the number of eyes that use it.
///
/// A lid is alike from its left and from its right. Each end has a round boss, the pivot hole and a
/// shell's thickness round it. Where an eye has two lids, the bosses of the lower one lie outside
/// those of the upper one, and its shell leaves room for them.
///
/// A lid stands on its trailing edge, leaning back so far that both bosses touch the bed as well, the
/// pivot axis along x. So the edge that is seen comes last and clean; the shell climbs from the bed,
/// and its inside overhangs by no more than the lid's extent. What is left between edge and bed, and
/// what overhangs at the top, needs support; no way to lay a lid needs none.
///
/// # Errors
/// A [`SolidError`] that names the lid, if the options are out of range, the lid or its eye's seat
/// cannot be made, or bosses, shell or extent are too small or too large to leave a body.
pub fn lids(
    project: &Project,
    laid: &Laid,
    options: &SolidOptions,
) -> Result<Vec<Solid>, SolidError> {
    options.check()?;
    let mut solids = Vec::new();
    for (which, noun) in [(Which::Upper, "upper lid"), (Which::Lower, "lower lid")] {
        let mut shapes = Vec::new();
        for index in 0..laid.eyes.len() {
            let eye = project.eye_name(index);
            if let Some(shape) = Shape::of(project, laid, index, which) {
                let name = format!("{noun} for {eye}");
                shapes.push((
                    shape.map_err(|problem| SolidError::of(&name, &problem))?,
                    eye,
                ));
            }
        }
        for kind in Kind::sort(shapes, PartialEq::eq) {
            let name = kind.name(noun);
            solids.push(Solid {
                mesh: kind.part.mesh(options, &name)?,
                name,
                count: kind.count(),
            });
        }
    }
    Ok(solids)
}

/// What a lid's shape depends on. Lengths in mm, angles in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Shape {
    /// Radius of the shell's inside.
    inner: f64,
    /// Thickness of the shell.
    shell: f64,
    extent: f64,
    /// Diameter of the pivot holes.
    hole: f64,
    /// Radius of the bosses.
    boss: f64,
    /// Whether its bosses lie outside those of another lid.
    outermost: bool,
}

impl Shape {
    /// None if the eye has no such lid.
    fn of(
        project: &Project,
        laid: &Laid,
        eye: usize,
        which: Which,
    ) -> Option<Result<Self, Problem>> {
        let lids = project.parts_of(eye).lids.as_ref()?;
        lids.lid(which)?;
        let laid = &laid.eyes[eye];
        if let Err(problem) = &laid.seat {
            return Some(Err(problem.clone()));
        }
        let fit = laid.lids.as_ref()?;
        let made = fit.made(which)?.clone();
        Some(made.map(|lid| Self {
            inner: fit.inner_radius,
            shell: fit.shell,
            extent: lid.extent,
            hole: lids.pivot_hole,
            boss: lever::boss(lids),
            outermost: fit.stacked() && which == Which::Lower,
        }))
    }

    fn mesh(&self, options: &SolidOptions, name: &str) -> Result<Mesh, SolidError> {
        let chords = Chords::within(options.chord_error);
        let hole = (self.hole + options.hole_allowance) / 2.0;
        if self.boss - hole < THINNEST {
            return Err(SolidError::no_boss(name));
        }
        let section = if self.outermost {
            self.outer_section(hole)
        } else {
            self.section(hole)
        };
        if section.widest() > self.inner - THINNEST {
            return Err(SolidError::wide_boss(name));
        }
        let outside = self.inner + self.shell;
        let lean = (self.boss / outside).asin();
        let turns = Turns {
            lid: chords.stations(outside, self.extent),
            rest: chords.stations(self.boss, TAU - self.extent),
            start: -lean,
        };
        let mesh = section.turned(&turns, chords.along_meridian());
        let mesh = mesh.map_err(|Crossed| SolidError::thin_shell(name))?;
        if mesh.shortest_edge() < SHORTEST_EDGE {
            return Err(SolidError::tiny(name));
        }
        Ok(mesh)
    }

    /// The section of a lid whose bosses are part of its shell.
    fn section(&self, hole: f64) -> Section {
        let [inside, outside] = [self.inner, self.inner + self.shell];
        let at = |sphere, level| Knot { sphere, level };
        Section {
            boss: [
                at(inside, hole),
                at(outside, hole),
                at(outside, self.boss),
                at(inside, self.boss),
            ],
            over: vec![at(outside, self.boss)],
            under: vec![at(inside, self.boss)],
        }
    }

    /// The section of a lid whose bosses lie over those of another one: its shell is thicker there,
    /// and hollow underneath.
    fn outer_section(&self, hole: f64) -> Section {
        let [inside, outside] = [self.inner, self.inner + self.shell];
        let play = PLAY * self.shell;
        let [under, over] = [outside + play, outside + self.shell];
        let clear = self.boss + play;
        let thick = clear + self.shell;
        let at = |sphere, level| Knot { sphere, level };
        Section {
            boss: [
                at(under, hole),
                at(over, hole),
                at(over, self.boss),
                at(under, self.boss),
            ],
            over: vec![at(over, self.boss), at(over, thick), at(outside, thick)],
            under: vec![at(inside, clear), at(under, clear), at(under, self.boss)],
        }
    }
}
