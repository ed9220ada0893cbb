//! Every number of a project that the maker can type: its name, its unit, and where it lives.

mod drives;
mod hand;
mod lids;
mod rods;

pub use drives::DriveField;
pub use hand::HandField;
pub use lids::LidsField;
pub use rods::RodField;

use crate::closed_curve::CurveOf;
use crate::gaze::SeatedBy;
use crate::limits::{Limit, Rule};
use crate::parts::Parts;
use crate::plate::PlateOutline;
use crate::project::Project;
use crate::seat::Seat;

/// Whose parts a field belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PartsOf {
    /// The project's, which every eye without its own uses.
    Shared,
    /// The own parts of the eye with this index.
    Eye(usize),
}

/// What a field measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// A length, held in millimetres and shown in the maker's unit.
    Length,
    /// An angle, held and shown in degrees.
    Angle,
    /// A force, in newtons.
    Force,
    /// A mass, in grams.
    Mass,
    /// A share of one, or another plain number.
    Share,
    /// A torque, in newton millimetres.
    Torque,
    /// A modulus of elasticity, in gigapascals.
    Stiffness,
}

/// A number of a project. Indices count from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Field {
    /// `head.wall_thickness`
    WallThickness,
    /// `head.cavity_depth`
    CavityDepth,
    /// `head.access`
    Access,
    /// `head.outline[i].0`, `plate.outline.outline[i].0`
    OutlineX(CurveOf, usize),
    /// `head.outline[i].1`, `plate.outline.outline[i].1`
    OutlineY(CurveOf, usize),
    /// `head.anchor_holes[i].at.0`
    AnchorX(usize),
    /// `head.anchor_holes[i].at.1`
    AnchorY(usize),
    /// `head.anchor_holes[i].diameter`
    AnchorDiameter(usize),
    /// `parts.ball_diameter`
    BallDiameter(PartsOf),
    /// `parts.ball_plus`
    BallPlus(PartsOf),
    /// `parts.seat.opening_diameter`
    OpeningDiameter(PartsOf),
    /// `parts.seat.centre_height`
    CentreHeight(PartsOf),
    /// `parts.seat.running_clearance`
    RunningClearance(PartsOf),
    /// `parts.ring.depth`
    RingDepth(PartsOf),
    /// `parts.ring.thickness`
    RingThickness(PartsOf),
    /// `parts.ring.outer_diameter`
    RingDiameter(PartsOf),
    /// `parts.ring.bevel`
    RingBevel(PartsOf),
    /// `eyes[i].centre.0`
    EyeX(usize),
    /// `eyes[i].centre.1`
    EyeY(usize),
    /// `eyes[i].iris_diameter`
    IrisDiameter(usize),
    /// `eyes[i].pupil_diameter`
    PupilDiameter(usize),
    /// `gaze.side`
    Side,
    /// `gaze.lift`
    Lift,
    /// `gaze.looks_at`
    LooksAt,
    /// `parts.eye_mass_g`
    EyeMass(PartsOf),
    /// `seated_by.pull_n`
    Pull,
    /// `tracing.at.0`
    TracingX,
    /// `tracing.at.1`
    TracingY,
    /// `tracing.mm_per_pixel`
    TracingScale,
    /// `tracing.angle`
    TracingAngle,
    /// `tracing.strength`
    TracingStrength,
    /// `plate.thickness`
    PlateThickness,
    /// `plate.rim`
    PlateRim,
    /// `plate.outline.bridge`
    Bridge,
    /// `plate.outline.fillet`
    Fillet,
    /// `plate.outline.bottom`
    InsetBottom,
    /// `plate.outline.top`
    InsetTop,
    /// `workshop.hole_allowance`
    HoleAllowance,
    /// `workshop.running_clearance`
    FoundClearance,
    /// `workshop.kerf`
    Kerf,
    /// `workshop.bed.0`
    BedWidth,
    /// `workshop.bed.1`
    BedDepth,
    /// `ties[i].at.0`
    SlotX(usize),
    /// `ties[i].at.1`
    SlotY(usize),
    /// `ties[i].angle`
    SlotAngle(usize),
    /// `ties[i].tie.0`
    TieWidth(usize),
    /// `ties[i].tie.1`
    TieThickness(usize),
    /// A number of `parts.lids`
    Lids(PartsOf, LidsField),
    /// A number of `drives[i]`
    Drive(usize, DriveField),
    /// A number of `rods[i]`
    Rod(usize, RodField),
    /// A number of `hand`
    Hand(HandField),
    /// What must hold of a rule, `limits`
    LimitLeast(Rule),
    /// What is wanted of a rule, `limits`
    LimitWanted(Rule),
}

impl Field {
    /// What the maker calls it.
    pub fn label(self) -> &'static str {
        match self {
            Self::WallThickness => "Wall thickness",
            Self::CavityDepth => "Cavity depth",
            Self::Access => "Way in, diameter",
            Self::OutlineX(..) | Self::AnchorX(_) | Self::EyeX(_) | Self::SlotX(_) => "Across",
            Self::OutlineY(..) | Self::AnchorY(_) | Self::EyeY(_) | Self::SlotY(_) => "Height",
            Self::AnchorDiameter(_) => "Hole diameter",
            Self::BallDiameter(_) => "Ball diameter",
            Self::BallPlus(_) => "Ball may be larger by",
            Self::OpeningDiameter(_) => "Opening diameter",
            Self::CentreHeight(_) => "Ball centre above face",
            Self::RunningClearance(_) => "Running clearance",
            Self::RingDepth(_) => "Ring depth",
            Self::RingThickness(_) => "Ring thickness",
            Self::RingDiameter(_) => "Ring diameter",
            Self::RingBevel(_) => "Ring bevel",
            Self::IrisDiameter(_) => "Iris diameter",
            Self::PupilDiameter(_) => "Pupil diameter",
            Self::Side => "Turns to the side",
            Self::Lift => "Turns up and down",
            Self::LooksAt => "Looks at a point",
            Self::EyeMass(_) => "Ball and ring weigh",
            Self::Pull => "Elastic pulls with",
            Self::TracingX => "Picture centre across",
            Self::TracingY => "Picture centre height",
            Self::TracingScale => "One pixel is",
            Self::TracingAngle => "Turned by",
            Self::TracingStrength => "Shows by",
            Self::PlateThickness => "Plate thickness",
            Self::PlateRim => "Rim",
            Self::Bridge => "Bridge height",
            Self::Fillet => "Inner corners, radius",
            Self::InsetBottom => "From height",
            Self::InsetTop => "To height",
            Self::HoleAllowance => "Holes come out smaller by",
            Self::FoundClearance => "Balls run freely with",
            Self::Kerf => "Kerf of the cutter",
            Self::BedWidth => "Printer's bed, width",
            Self::BedDepth => "Printer's bed, depth",
            Self::SlotAngle(_) => "Slot angle",
            Self::TieWidth(_) => "Tie width",
            Self::TieThickness(_) => "Tie thickness",
            Self::Lids(_, field) => field.label(),
            Self::Drive(_, field) => field.label(),
            Self::Rod(_, field) => field.label(),
            Self::Hand(field) => field.label(),
            Self::LimitLeast(_) => "Least",
            Self::LimitWanted(_) => "Wanted",
        }
    }

    /// What it measures.
    pub fn unit(self) -> Unit {
        match self {
            Self::Side | Self::Lift | Self::SlotAngle(_) | Self::TracingAngle => Unit::Angle,
            Self::Pull => Unit::Force,
            Self::EyeMass(_) => Unit::Mass,
            Self::TracingStrength => Unit::Share,
            Self::Lids(_, field) => field.unit(),
            Self::Drive(_, field) => field.unit(),
            Self::Hand(field) => field.unit(),
            _ => Unit::Length,
        }
    }

    /// Its value, if the project has it.
    pub fn get(self, project: &Project) -> Option<f64> {
        if let Self::LimitLeast(rule) | Self::LimitWanted(rule) = self {
            let limit = project.limits.of(rule, project.plate.thickness);
            return Some(match self {
                Self::LimitLeast(_) => limit.least,
                _ => limit.wanted,
            });
        }
        if let Self::EyeMass(of) = self {
            let (parts, thickness) = (of.get(project)?, project.plate.thickness);
            let ring = parts.ring_fit(thickness).ok();
            return ring.map(|ring| parts.eye_mass(&ring)).or(parts.eye_mass_g);
        }
        // One table serves reading and writing; a copy of a small struct costs a microsecond.
        self.slot(&mut project.clone()).copied()
    }

    /// Writes its value; false if the project does not have it.
    pub(crate) fn set(self, project: &mut Project, value: f64) -> bool {
        if let Self::LimitLeast(rule) | Self::LimitWanted(rule) = self {
            let limit = project.limits.of(rule, project.plate.thickness);
            let limit = match self {
                Self::LimitLeast(_) => Limit {
                    least: value,
                    ..limit
                },
                _ => Limit {
                    wanted: value,
                    ..limit
                },
            };
            project.limits.set(rule, Some(limit));
            return true;
        }
        self.slot(project).map(|slot| *slot = value).is_some()
    }

    fn slot(self, p: &mut Project) -> Option<&mut f64> {
        match self {
            Self::WallThickness => Some(&mut p.head.wall_thickness),
            Self::CavityDepth => Some(&mut p.head.cavity_depth),
            Self::Access => Some(&mut p.head.access),
            Self::OutlineX(of, i) => of.of(p)?.0.get_mut(i).map(|point| &mut point[0]),
            Self::OutlineY(of, i) => of.of(p)?.0.get_mut(i).map(|point| &mut point[1]),
            Self::AnchorX(i) => p.head.anchor_holes.get_mut(i).map(|hole| &mut hole.at[0]),
            Self::AnchorY(i) => p.head.anchor_holes.get_mut(i).map(|hole| &mut hole.at[1]),
            Self::AnchorDiameter(i) => p.head.anchor_holes.get_mut(i).map(|h| &mut h.diameter),
            Self::BallDiameter(of) => of.parts(p).map(|parts| &mut parts.ball_diameter),
            Self::BallPlus(of) => of.parts(p).map(|parts| &mut parts.ball_plus),
            Self::OpeningDiameter(of) => match &mut of.parts(p)?.seat {
                Seat::Plain { opening_diameter } => Some(opening_diameter),
                Seat::Spherical { .. } => None,
            },
            Self::CentreHeight(of) => match &mut of.parts(p)?.seat {
                Seat::Spherical { centre_height, .. } => Some(centre_height),
                Seat::Plain { .. } => None,
            },
            Self::RunningClearance(of) => match &mut of.parts(p)?.seat {
                Seat::Spherical {
                    running_clearance, ..
                } => Some(running_clearance),
                Seat::Plain { .. } => None,
            },
            Self::RingDepth(of) => of.parts(p).map(|parts| &mut parts.ring.depth),
            Self::RingThickness(of) => of.parts(p).map(|parts| &mut parts.ring.thickness),
            Self::RingDiameter(of) => of.parts(p).map(|parts| &mut parts.ring.outer_diameter),
            Self::RingBevel(of) => of.parts(p).map(|parts| &mut parts.ring.bevel),
            Self::EyeX(i) => p.eyes.get_mut(i).map(|eye| &mut eye.centre[0]),
            Self::EyeY(i) => p.eyes.get_mut(i).map(|eye| &mut eye.centre[1]),
            Self::IrisDiameter(i) => p.eyes.get_mut(i).map(|eye| &mut eye.iris_diameter),
            Self::PupilDiameter(i) => p.eyes.get_mut(i).map(|eye| &mut eye.pupil_diameter),
            Self::Side => Some(&mut p.gaze.side.0),
            Self::Lift => Some(&mut p.gaze.lift.0),
            Self::LooksAt => Some(&mut p.gaze.looks_at),
            Self::EyeMass(of) => of.parts(p).map(|parts| parts.eye_mass_g.get_or_insert(0.0)),
            Self::Pull => match &mut p.seated_by {
                SeatedBy::Elastic { pull_n } => Some(pull_n),
                SeatedBy::Lids | SeatedBy::Nothing => None,
            },
            Self::TracingX => p.tracing.as_mut().map(|tracing| &mut tracing.at[0]),
            Self::TracingY => p.tracing.as_mut().map(|tracing| &mut tracing.at[1]),
            Self::TracingScale => p.tracing.as_mut().map(|tracing| &mut tracing.mm_per_pixel),
            Self::TracingAngle => p.tracing.as_mut().map(|tracing| &mut tracing.angle.0),
            Self::TracingStrength => p.tracing.as_mut().map(|tracing| &mut tracing.strength),
            Self::PlateThickness => Some(&mut p.plate.thickness),
            Self::PlateRim => Some(&mut p.plate.rim),
            Self::Bridge => match &mut p.plate.outline {
                PlateOutline::Waisted { bridge, .. } => Some(bridge),
                _ => None,
            },
            Self::Fillet => match &mut p.plate.outline {
                PlateOutline::Waisted { fillet, .. } => Some(fillet),
                _ => None,
            },
            Self::InsetBottom => match &mut p.plate.outline {
                PlateOutline::HeadInset { bottom, .. } => Some(bottom),
                _ => None,
            },
            Self::InsetTop => match &mut p.plate.outline {
                PlateOutline::HeadInset { top, .. } => Some(top),
                _ => None,
            },
            Self::HoleAllowance => p.workshop.as_mut().map(|own| &mut own.hole_allowance),
            Self::FoundClearance => p.workshop.as_mut().map(|own| &mut own.running_clearance),
            Self::Kerf => p.workshop.as_mut().map(|own| &mut own.kerf),
            Self::BedWidth => p.workshop.as_mut().map(|own| &mut own.bed[0]),
            Self::BedDepth => p.workshop.as_mut().map(|own| &mut own.bed[1]),
            Self::SlotX(i) => p.ties.get_mut(i).map(|slot| &mut slot.at[0]),
            Self::SlotY(i) => p.ties.get_mut(i).map(|slot| &mut slot.at[1]),
            Self::SlotAngle(i) => p.ties.get_mut(i).map(|slot| &mut slot.angle.0),
            Self::TieWidth(i) => p.ties.get_mut(i).map(|slot| &mut slot.tie[0]),
            Self::TieThickness(i) => p.ties.get_mut(i).map(|slot| &mut slot.tie[1]),
            Self::Lids(of, field) => field.slot(of.parts(p)?.lids.as_mut()?),
            Self::Drive(index, field) => field.slot(p.drives.get_mut(index)?),
            Self::Rod(index, field) => field.slot(p.rods.get_mut(index)?),
            Self::Hand(field) => field.slot(&mut p.hand),
            Self::LimitLeast(_) | Self::LimitWanted(_) => None,
        }
    }
}

/// What a place along an axis is called: 0 is across, 1 height, 2 forward.
fn axis_label(axis: usize) -> &'static str {
    ["Across", "Height"].get(axis).copied().unwrap_or("Forward")
}

impl PartsOf {
    /// Whose parts the eye with this index uses.
    pub fn used_by(project: &Project, eye: usize) -> Self {
        let own = project.eyes.get(eye).is_some_and(|eye| eye.parts.is_some());
        if own { Self::Eye(eye) } else { Self::Shared }
    }

    /// The parts; None if the eye has none of its own.
    pub fn get(self, project: &Project) -> Option<&Parts> {
        match self {
            Self::Shared => Some(&project.parts),
            Self::Eye(index) => project.eyes.get(index)?.parts.as_deref(),
        }
    }

    pub(crate) fn parts(self, project: &mut Project) -> Option<&mut Parts> {
        match self {
            Self::Shared => Some(&mut project.parts),
            Self::Eye(index) => project.eyes.get_mut(index)?.parts.as_deref_mut(),
        }
    }
}
