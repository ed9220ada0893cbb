//! Drives and rods to start with.

use crate::drive::{Cable, Drive, End, Moves, Turn};
use crate::geometry::polygon;
use crate::lever::THICKNESS;
use crate::lid::Which;
use crate::project::Project;
use crate::rod::{self, Rod};

/// A thin steel wire in a plastic sheath: own choice, in the range of what is sold for it.
const CABLE: Cable = Cable {
    inner_diameter: 0.3,
    sheath_diameter: 3.0,
    modulus_gpa: 206.0,
    friction: 0.12,
    least_bend_radius: 30.0,
};

/// Diameter of a rod, mm: steel wire that is stiff over the length of a face and bent by hand. Own choice.
const ROD: f64 = 1.2;

/// How far below the pivot axis a lid's lever reaches, mm: own choice.
const LID_LEVER: f64 = 12.0;

/// Room beside a lever, mm: more than a moving fit. Own choice.
const BESIDE: f64 = 1.0;

/// How far behind the ball's centre a gaze's stalk reaches, as a share of the ball's radius: own choice.
const STALK: f64 = 1.5;

/// How far a sheath stays inside the wall where it leaves, mm. Own choice.
const INSIDE: f64 = 6.0;

/// How far below the eye and behind the plate a sheath leaves, as shares of the ball's radius: own choice.
const EXIT: [f64; 2] = [3.0, 1.6];

impl Drive {
    /// A drive of something that has none yet: a lever of usual length and a sheath that leaves
    /// straight below the eye.
    pub fn fresh(project: &Project, moves: Moves) -> Self {
        let eye = moves.eye();
        let [x, y] = project.eyes.get(eye).map_or([0.0; 2], |eye| eye.centre);
        let radius = project.parts_of(eye).ball_diameter / 2.0;
        let tip = fresh_tip(project, moves);
        Self {
            name: fresh_name(project, moves),
            moves,
            tip,
            near: moves.usual_near(),
            standoff: 2.0,
            stop: None,
            lead: 15.0,
            cable: CABLE,
            via: Vec::new(),
            exit: fresh_exit(
                project,
                [x + tip[0], y - EXIT[0] * radius, -EXIT[1] * radius],
            ),
            torque_nmm: 20.0,
            returns: None,
            locked: false,
        }
    }

    /// The same cable on something else: on the same thing of another eye it goes along, as its mirror
    /// image to the eye opposite; on another thing it starts with a lever that fits it. A name that
    /// told what it moved tells it again.
    #[must_use]
    pub fn moved_to(&self, project: &Project, moves: Moves) -> Self {
        let named = self.name == usual_name(project, self.moves);
        let name = if named {
            fresh_name(project, moves)
        } else {
            self.name.clone()
        };
        let moved = if self.moves.of_eye(moves.eye()) != moves {
            Self {
                moves,
                tip: fresh_tip(project, moves),
                near: moves.usual_near(),
                stop: None,
                ..self.clone()
            }
        } else if project.mirror_moves(self.moves) == Some(moves) {
            self.mirrored(moves)
        } else {
            self.carried(project, moves)
        };
        Self { name, ..moved }
    }

    /// The same drive as far from another eye as it was from its own.
    fn carried(&self, project: &Project, moves: Moves) -> Self {
        let centre = |eye: usize| project.eyes.get(eye).map_or([0.0; 2], |eye| eye.centre);
        let (from, to) = (centre(self.moves.eye()), centre(moves.eye()));
        let carry = |[x, y, z]: [f64; 3]| [x + to[0] - from[0], y + to[1] - from[1], z];
        Self {
            moves,
            stop: self.stop.map(carry),
            via: self.via.iter().copied().map(carry).collect(),
            exit: carry(self.exit),
            ..self.clone()
        }
    }
}

impl Rod {
    /// A rod between stalks behind two balls, which lets one eye take another along to the side; None
    /// if no eye is left that does not follow another.
    ///
    /// Only side turns come about by themselves: of eyes that lie level, lifts and lids turn about one
    /// line, along which a rod pulls nothing.
    pub fn fresh(project: &Project) -> Option<Self> {
        let side = |eye: usize| Moves::Gaze {
            eye,
            turn: Turn::Side,
        };
        let free = |eye: &usize| !project.rods.iter().any(|rod| rod.follower == side(*eye));
        let driver = side((0..project.eyes.len()).find(free)?);
        let tied = |eye: &usize| rod::chain(&project.rods, driver).any(|part| part == side(*eye));
        let mut others = (0..project.eyes.len()).filter(free);
        let follower = side(others.find(|eye| !tied(eye))?);
        Some(Self {
            name: free_name("rod", project.rods.iter().map(|rod| rod.name.as_str())),
            driver,
            follower,
            driver_tip: fresh_tip(project, driver),
            follower_tip: fresh_tip(project, follower),
            diameter: ROD,
        })
    }
}

impl Moves {
    /// The end of its turn that a sheath starts from, if nothing speaks against it.
    pub fn usual_near(self) -> End {
        match self {
            Self::Lid { .. } => End::Closed,
            Self::Gaze { .. } => End::High,
        }
    }

    /// What it is called beside its eye.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Lid { which, .. } => which.noun(),
            Self::Gaze {
                turn: Turn::Side, ..
            } => "side turn",
            Self::Gaze {
                turn: Turn::Lift, ..
            } => "lift",
        }
    }
}

/// A place as it is, or as far up as keeps it inside the wall.
fn fresh_exit(project: &Project, [x, y, z]: [f64; 3]) -> [f64; 3] {
    let spans = polygon::spans(&project.head.wall(), x);
    let lowest = spans.iter().map(|span| span[0]).reduce(f64::min);
    [x, lowest.map_or(y, |lowest| y.max(lowest + INSIDE)), z]
}

/// A lever beside the outer lug for a lid, a stalk behind the ball for a gaze.
fn fresh_tip(project: &Project, moves: Moves) -> [f64; 3] {
    let eye = moves.eye();
    let parts = project.parts_of(eye);
    let x = project.eyes.get(eye).map_or(0.0, |eye| eye.centre[0]);
    let side = if x < 0.0 { -1.0 } else { 1.0 };
    match (moves, &parts.lids) {
        // Beside the outer lug, the upper one below its axis and the lower one above it and farther out, so
        // that both clear the plate and each other.
        (Moves::Lid { which, .. }, Some(lids)) => {
            let beside = lids.pivot_spacing / 2.0 + lids.lug_thickness + BESIDE;
            let farther = match which {
                Which::Upper => 0.0,
                Which::Lower => THICKNESS + BESIDE,
            };
            [side * (beside + farther), -which.sign() * LID_LEVER, 0.0]
        }
        _ => [0.0, 0.0, -STALK * parts.ball_diameter / 2.0],
    }
}

/// What a drive is called if nobody names it.
fn usual_name(project: &Project, moves: Moves) -> String {
    format!("{} {}", project.eye_name(moves.eye()), moves.noun())
}

fn fresh_name(project: &Project, moves: Moves) -> String {
    let names = project.drives.iter().map(|drive| drive.name.as_str());
    free_name(&usual_name(project, moves), names)
}

/// A name that none of some has: the one that is wanted, or the first free one with a number behind.
fn free_name<'a>(wanted: &str, names: impl Iterator<Item = &'a str> + Clone) -> String {
    let numbered = (2..).map(|number| format!("{wanted} {number}"));
    let mut free = [wanted.to_owned()].into_iter().chain(numbered);
    let taken = |name: &String| names.clone().any(|other| other.trim() == name.trim());
    free.find(|name| !taken(name)).unwrap_or_default()
}
