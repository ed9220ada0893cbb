//! Lids: their shells, and how they turn on the ball.

use std::f64::consts::{FRAC_PI_2, PI};

use serde::{Deserialize, Serialize};

use crate::angle::Degrees;
use crate::problem::{self, Problem};
use crate::seat::SeatFit;
use crate::wording;

/// The lids of an eye and the lugs that carry them. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lids {
    /// Gap between ball and lid.
    pub gap: f64,
    /// Thickness of the lid's shell.
    pub shell: f64,
    /// Distance between the mid-planes of the two lugs.
    pub pivot_spacing: f64,
    /// Diameter of the pivot hole.
    pub pivot_hole: f64,
    /// Thickness of a lug along the pivot axis.
    pub lug_thickness: f64,
    /// Width of a lug.
    pub lug_width: f64,
    /// Width of a lever bar.
    pub lever_width: f64,
    /// The upper lid.
    pub upper: Option<Lid>,
    /// The lower lid.
    pub lower: Option<Lid>,
}

/// One lid: angles from forward toward up, a lower lid mirrored.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lid {
    /// Place of the leading edge when open.
    pub open: Degrees,
    /// Place of the leading edge when shut.
    pub closed: Degrees,
    /// How far the lid reaches behind its leading edge.
    pub extent: Degrees,
}

/// One of the two lids of an eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Which {
    /// The lid above.
    Upper,
    /// The lid below.
    Lower,
}

impl Which {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Upper, Self::Lower];

    /// 1 for the upper lid, whose angles go up, and −1 for the lower one.
    pub fn sign(self) -> f64 {
        match self {
            Self::Upper => 1.0,
            Self::Lower => -1.0,
        }
    }

    /// What it is called.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Upper => "upper lid",
            Self::Lower => "lower lid",
        }
    }
}

/// The lids of one eye on its ball in its seat. Lengths in mm, angles in radians.
#[derive(Clone, Debug, PartialEq)]
pub struct LidsFit {
    /// The seat that the ball sits in.
    pub seat: SeatFit,
    /// Radius R + gap of the lids' inside.
    pub inner_radius: f64,
    /// Radius `R_l` = R + gap + shell of the lids' outside.
    pub outer_radius: f64,
    /// Thickness of their shell.
    pub shell: f64,
    /// The upper lid, or why it cannot be made; None if there is none.
    pub upper: Option<Result<LidFit, Problem>>,
    /// The lower lid, or why it cannot be made; None if there is none.
    pub lower: Option<Result<LidFit, Problem>>,
}

/// One lid on its ball. Angles in radians from forward toward up, those of a lower lid toward down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LidFit {
    /// Place of the leading edge when open.
    pub open: f64,
    /// Place of the leading edge when shut.
    pub closed: f64,
    /// How far the lid reaches behind its leading edge.
    pub extent: f64,
    seat: SeatFit,
    outer_radius: f64,
}

impl Lids {
    /// Lids that a ball of `radius`, mm, can start with: own choice.
    pub fn around(radius: f64) -> Self {
        const GAP: f64 = 0.8;
        const SHELL: f64 = 1.6;
        const LUG: f64 = 3.0;
        const BESIDE: f64 = 2.0;
        let outer = radius + GAP + SHELL;
        let lid = |open, extent| Lid {
            open: Degrees(open),
            closed: Degrees(-0.5),
            extent: Degrees(extent),
        };
        Self {
            gap: GAP,
            shell: SHELL,
            pivot_spacing: (2.0 * (outer + BESIDE) + LUG).ceil(),
            // A 3 mm bolt with a fine clearance hole (ISO 273, as reported).
            pivot_hole: 3.2,
            lug_thickness: LUG,
            lug_width: 10.0,
            lever_width: 5.0,
            upper: Some(lid(33.0, 63.0)),
            lower: Some(lid(36.0, 60.0)),
        }
    }

    /// One of the lids, if the eye has it.
    pub fn lid(&self, which: Which) -> Option<Lid> {
        match which {
            Which::Upper => self.upper,
            Which::Lower => self.lower,
        }
    }

    pub(crate) fn lid_mut(&mut self, which: Which) -> Option<&mut Lid> {
        match which {
            Which::Upper => self.upper.as_mut(),
            Which::Lower => self.lower.as_mut(),
        }
    }

    /// Whether there is a lid at all; without one there are no lugs either.
    pub fn any(&self) -> bool {
        self.upper.is_some() || self.lower.is_some()
    }

    /// Puts the lids on the ball of `seat`; `at` is their field, and `eye` the name of the eye, for a
    /// lid that cannot be made.
    pub(crate) fn fit(&self, seat: SeatFit, at: &str, eye: &str) -> LidsFit {
        let inner_radius = seat.ball_radius + self.gap;
        let outer_radius = inner_radius + self.shell;
        let fit = |which: Which, lid: Option<Lid>| {
            let lid = lid?;
            Some(lid.possible(which, at, eye).map(|()| LidFit {
                open: lid.open.radians(),
                closed: lid.closed.radians(),
                extent: lid.extent.radians(),
                seat,
                outer_radius,
            }))
        };
        LidsFit {
            seat,
            inner_radius,
            outer_radius,
            shell: self.shell,
            upper: fit(Which::Upper, self.upper),
            lower: fit(Which::Lower, self.lower),
        }
    }

    pub(crate) fn check(&self, at: &str) -> Result<(), Problem> {
        problem::size_or_none(&format!("{at}.gap"), self.gap)?;
        for (name, value) in [
            ("shell", self.shell),
            ("pivot_spacing", self.pivot_spacing),
            ("pivot_hole", self.pivot_hole),
            ("lug_thickness", self.lug_thickness),
            ("lug_width", self.lug_width),
            ("lever_width", self.lever_width),
        ] {
            problem::size(&format!("{at}.{name}"), value)?;
        }
        for (name, lid) in [("upper", self.upper), ("lower", self.lower)] {
            if let Some(lid) = lid {
                lid.check(&format!("{at}.{name}"))?;
            }
        }
        Ok(())
    }
}

impl LidsFit {
    /// The lid of this name; None if there is none or if it cannot be made.
    pub fn lid(&self, which: Which) -> Option<&LidFit> {
        self.made(which)?.as_ref().ok()
    }

    /// The lid of this name, or why it cannot be made; None if there is none.
    pub fn made(&self, which: Which) -> Option<&Result<LidFit, Problem>> {
        match which {
            Which::Upper => self.upper.as_ref(),
            Which::Lower => self.lower.as_ref(),
        }
    }

    /// Whether every lid that there is can be made.
    pub fn all_made(&self) -> bool {
        let lids = self.upper.iter().chain(&self.lower);
        { lids }.all(Result::is_ok)
    }

    /// Whether two lids share the pivot axis: their ends then lie over each other, and the outer
    /// one takes a shell's thickness more.
    pub fn stacked(&self) -> bool {
        self.upper.is_some() && self.lower.is_some()
    }

    /// The angle that stays open between the shut lids; ≤ 0 where they meet. None without two lids.
    pub fn meeting(&self) -> Option<f64> {
        Some(self.lid(Which::Upper)?.closed + self.lid(Which::Lower)?.closed)
    }

    /// Room between the pivot boss of a lid and the plate's front face, c − hole/2 − shell, mm.
    pub fn boss_to_plate(&self, pivot_hole: f64) -> f64 {
        self.seat.centre_height - pivot_hole / 2.0 - self.shell
    }
}

impl LidFit {
    /// Where the leading edge is when the lid is shut by `share`: 0 open, 1 shut.
    pub fn leading(&self, share: f64) -> f64 {
        self.open + (self.closed - self.open) * share
    }

    /// Height of the trailing edge over the plate's front face when the leading edge stands at
    /// `leading`: c + `R_l`·cos(leading + extent), mm. A lid that reaches past straight back has passed
    /// its lowest place there.
    pub fn edge_height(&self, leading: f64) -> f64 {
        self.seat.centre_height + self.outer_radius * self.trailing(leading).cos()
    }

    /// Distance of the trailing edge from the pivot axis in plan, upward for an upper lid, mm.
    pub fn edge_reach(&self, leading: f64) -> f64 {
        self.outer_radius * self.trailing(leading).sin()
    }

    fn trailing(&self, leading: f64) -> f64 {
        (leading + self.extent).min(PI)
    }

    /// How far the lid can open until its trailing edge comes as near to the plate as `clearance`,
    /// mm: acos((clearance − c)/`R_l`) − extent. None if no place of the edge keeps it.
    pub fn open_limit(&self, clearance: f64) -> Option<f64> {
        let share = (clearance - self.seat.centre_height) / self.outer_radius;
        (share <= 1.0).then(|| share.max(-1.0).acos() - self.extent)
    }

    /// How wide a strip of the ball shows behind the shut lid, seen from the front:
    /// R − `R_l`·sin(min(90°, closed + extent)), mm; negative where the lid covers more.
    pub fn bare_ball(&self) -> f64 {
        let covered = (self.closed + self.extent).min(FRAC_PI_2);
        self.seat.ball_radius - self.outer_radius * covered.sin()
    }
}

impl Lid {
    /// Farthest that a leading edge may turn either way, degrees: beyond, a lid has left the half
    /// of the ball that can be seen.
    const FARTHEST_TURN: f64 = 90.0;

    /// Whether such a lid can be made and turned.
    fn possible(&self, which: Which, at: &str, eye: &str) -> Result<(), Problem> {
        let name = wording::lid(which, eye);
        let field = match which {
            Which::Upper => format!("{at}.upper"),
            Which::Lower => format!("{at}.lower"),
        };
        let within = -Self::FARTHEST_TURN..=Self::FARTHEST_TURN;
        for (end, value) in [("open", self.open), ("closed", self.closed)] {
            if !within.contains(&value.0) {
                return Err(Problem::new(
                    format!("{field}.{end}"),
                    format!("The {name} turns beyond a quarter turn from straight ahead."),
                    "Let its leading edge stay on the front half of the ball.",
                ));
            }
        }
        if self.open < self.closed {
            return Err(Problem::new(
                format!("{field}.open"),
                format!("The {name} is open farther down its turn than it is shut."),
                "Put the open end of its turn beyond the shut one.",
            ));
        }
        if self.extent.0 > 0.0 {
            return Ok(());
        }
        Err(Problem::new(
            format!("{field}.extent"),
            format!("The {name} reaches over no angle: there is nothing of it."),
            "Give it an extent.",
        ))
    }

    fn check(&self, at: &str) -> Result<(), Problem> {
        for (name, value) in [("open", self.open), ("closed", self.closed)] {
            problem::within(&format!("{at}.{name}"), value.0, -180.0..=180.0, "°")?;
        }
        problem::within(&format!("{at}.extent"), self.extent.0, 0.0..=180.0, "°")
    }
}
