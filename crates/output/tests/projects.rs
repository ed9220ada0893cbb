//! Projects to draw: all demos, and random ones.

use layout::eye::Eye;
use layout::gaze::{Gaze, SeatedBy};
use layout::hand::Hand;
use layout::head::{AnchorHole, Head, start_outline};
use layout::parts::Parts;
use layout::plate::{Plate, PlateOutline};
use layout::ring::Ring;
use layout::seat::Seat;
use layout::tie::TieSlot;
use layout::{Degrees, Laid, Project, Report, evaluate_laid};
use output::cut::{CutPart, FOAM_CLEARANCE};
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions};
use output::{Drawing, LengthUnit, Seen};

pub(crate) const UNITS: [LengthUnit; 2] = [LengthUnit::Millimetre, LengthUnit::Inch];

/// A project, worked out.
pub(crate) struct Case {
    pub(crate) name: String,
    pub(crate) project: Project,
    pub(crate) laid: Laid,
    pub(crate) report: Report,
}

impl Case {
    pub(crate) fn of(name: impl Into<String>, project: Project) -> Self {
        let laid = Laid::out(&project);
        let report = evaluate_laid(&project, &laid);
        Self {
            name: name.into(),
            project,
            laid,
            report,
        }
    }

    pub(crate) fn pages(&self, options: &SheetOptions) -> Result<Vec<Drawing>, String> {
        output::sheet::sheet_pages(&self.project, &self.laid, &self.report, options)
            .map_err(|error| format!("{error} {}", error.remedy()))
    }

    /// The plate's page, where it fits one.
    pub(crate) fn drawing(&self, options: &SheetOptions) -> Result<Drawing, String> {
        let mut pages = self.pages(options)?;
        match plate_pages(&pages) {
            1 => Ok(pages.remove(0)),
            count => Err(format!("It takes {count} pages.")),
        }
    }

    pub(crate) fn pdf(&self, options: &SheetOptions) -> Vec<u8> {
        output::sheet::sheet_pdf(&self.project, &self.laid, &self.report, options).unwrap()
    }
}

/// How many pages of a sheet show the plate or what belongs to it; the side cut and the drives follow.
pub(crate) fn plate_pages(pages: &[Drawing]) -> usize {
    let says =
        |page: &Drawing, title: &str| page.texts.iter().any(|own| own.text.starts_with(title));
    let further = |page: &&Drawing| says(page, "Side cut") || says(page, "Drives");
    pages.len() - pages.iter().filter(further).count()
}

/// Changes every place that a project has in plan: of outline, anchor holes, slots and eyes.
pub(crate) fn change_places(project: &mut Project, change: impl Fn(&mut [f64; 2])) {
    let holes = project
        .head
        .anchor_holes
        .iter_mut()
        .map(|hole| &mut hole.at);
    let slots = project.ties.iter_mut().map(|slot| &mut slot.at);
    let eyes = project.eyes.iter_mut().map(|eye| &mut eye.centre);
    let outline = project.head.outline.iter_mut();
    outline
        .chain(holes)
        .chain(slots)
        .chain(eyes)
        .for_each(change);
}

/// Paper and orientation chosen by itself, seen from the front.
pub(crate) fn options(unit: LengthUnit) -> SheetOptions {
    SheetOptions {
        part: CutPart::Plate,
        foam_clearance: FOAM_CLEARANCE,
        paper: PaperChoice::Auto,
        orientation: OrientationChoice::Auto,
        seen: Seen::Front,
        unit,
        date: "2026-01-31".to_owned(),
    }
}

/// As [`options`], seen from the back.
pub(crate) fn from_the_back(unit: LengthUnit) -> SheetOptions {
    SheetOptions {
        seen: Seen::Back,
        ..options(unit)
    }
}

/// The project of the demo folder whose parts cannot be made.
pub(crate) const NOT_TO_BE_MADE: &str = "thistle";

/// Every project of the demo folder whose parts can be made, by name.
pub(crate) fn demos() -> Vec<Case> {
    let sound = |case: &Case| case.name != NOT_TO_BE_MADE;
    all_demos().into_iter().filter(sound).collect()
}

fn all_demos() -> Vec<Case> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "ron"))
        .collect();
    files.sort();
    let cases = files.into_iter().map(|path| {
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let project = ron::from_str(&std::fs::read_to_string(&path).unwrap());
        Case::of(
            &name,
            project.unwrap_or_else(|error| panic!("{name}: {error}")),
        )
    });
    let cases: Vec<Case> = cases.collect();
    assert!(!cases.is_empty(), "the demo folder holds no project");
    cases
}

/// The demo with this file name.
pub(crate) fn demo(name: &str) -> Case {
    let found = all_demos().into_iter().find(|case| case.name == name);
    found.unwrap_or_else(|| panic!("no demo {name}"))
}

/// Numbers that look random and are the same each run (SplitMix64, G. Steele et al. 2014).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From `low` to `high`.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// From 0 to one less than `count`.
    pub(crate) fn below(&mut self, count: u64) -> u64 {
        self.next() % count
    }

    fn chance(&mut self, share: f64) -> bool {
        self.between(0.0, 1.0) < share
    }

    /// A length as a maker types it: whole tenths of a millimetre.
    fn length(&mut self, low: f64, high: f64) -> f64 {
        (self.between(low, high) * 10.0).round() / 10.0
    }
}

/// A valid project that nobody would look for: heads from a hand's width to the largest paper, 1 to 5
/// eyes in a row or not, 0 to 8 slots anywhere, sound or fouling.
pub(crate) fn random(dice: &mut Dice) -> Project {
    loop {
        let project = attempt(dice);
        if project.check().is_ok() && !Laid::out(&project).plate.is_empty() {
            return project;
        }
    }
}

fn attempt(dice: &mut Dice) -> Project {
    let width = dice.length(60.0, 262.0);
    let height = dice.length(0.7 * width, (1.5 * width).min(300.0));
    let count = 1 + dice.below(5);
    let ball = dice.length(10.0, (width / (count as f64 + 1.0)).clamp(11.0, 60.0));
    let anchors: Vec<AnchorHole> = (0..dice.below(5))
        .map(|_| AnchorHole {
            at: [
                dice.length(-width / 2.0, width / 2.0),
                dice.length(-height / 2.0, height / 2.0),
            ],
            diameter: dice.length(2.0, 8.0),
        })
        .collect();
    let thickness = dice.length(2.0, 6.0);
    Project {
        version: 1,
        name: "Random head".to_owned(),
        parts: parts(dice, ball),
        eyes: eyes(dice, count, ball, width),
        gaze: Gaze {
            side: Degrees(20.0),
            lift: Degrees(10.0),
            together: true,
            looks_at: 500.0,
        },
        seated_by: SeatedBy::Nothing,
        plate: Plate {
            thickness,
            rim: dice.length(2.0, 12.0),
            outline: if dice.chance(0.5) {
                PlateOutline::Band
            } else {
                PlateOutline::HeadInset {
                    bottom: -dice.length(10.0, height / 2.0),
                    top: dice.length(10.0, height / 2.0),
                }
            },
            trim_to_head: dice.chance(0.3),
            padded: true,
            cable_holes: Vec::new(),
        },
        ties: slots(dice, [width, height], anchors.len()),
        head: Head {
            outline: start_outline(width, height, dice.between(0.0, 0.7)),
            smooth: dice.chance(0.7),
            wall_thickness: 3.0,
            cavity_depth: 90.0,
            access: width,
            anchor_holes: anchors,
        },
        drives: Vec::new(),
        rods: Vec::new(),
        hand: Hand {
            guard_chord: 100.0,
            guard_bow: 20.0,
            guard_edge: 15.0,
            guard_length: 70.0,
            guard_axis: layout::hand::GuardAxis::Y,
            thickness_mm: 38.0,
            head_mass_g: 400.0,
            mass_centre: [0.0, 0.0, 10.0],
        },
        limits: layout::limits::Limits::default(),
        tracing: None,
        draft: None,
        workshop: None,
        title_block: layout::title_block::TitleBlock::default(),
    }
}

fn parts(dice: &mut Dice, ball: f64) -> Parts {
    Parts {
        name: "random".to_owned(),
        ball_diameter: ball,
        ball_plus: 0.6,
        seat: if dice.chance(0.5) {
            Seat::Plain {
                opening_diameter: dice.length(0.7 * ball, 0.97 * ball),
            }
        } else {
            Seat::Spherical {
                centre_height: dice.length(0.0, 0.2 * ball),
                running_clearance: dice.length(0.2, 0.5),
            }
        },
        ring: Ring {
            depth: dice.length(0.3 * ball, 0.45 * ball),
            thickness: 2.5,
            outer_diameter: ball,
            bevel: 1.0,
        },
        lids: None,
        eye_mass_g: None,
    }
}

fn eyes(dice: &mut Dice, count: u64, ball: f64, width: f64) -> Vec<Eye> {
    let widest = ((width - ball) / count as f64).max(ball + 1.0);
    let spacing = dice.length(ball, widest);
    let scattered = dice.chance(0.4);
    let first = -(count as f64 - 1.0) / 2.0 * spacing;
    let aside = if dice.chance(0.3) {
        dice.length(-10.0, 10.0)
    } else {
        0.0
    };
    let up = if dice.chance(0.3) {
        dice.length(-15.0, 15.0)
    } else {
        0.0
    };
    (0..count)
        .map(|index| Eye {
            centre: [
                first + index as f64 * spacing + aside,
                up + if scattered {
                    dice.length(-20.0, 20.0)
                } else {
                    0.0
                },
            ],
            iris_diameter: ball / 2.0,
            pupil_diameter: ball / 4.0,
            parts: dice.chance(0.15).then(|| Box::new(parts(dice, 0.9 * ball))),
            carrier: None,
        })
        .collect()
}

fn slots(dice: &mut Dice, [width, height]: [f64; 2], anchors: usize) -> Vec<TieSlot> {
    (0..dice.below(9))
        .map(|_| TieSlot {
            at: [
                dice.length(-0.4 * width, 0.4 * width),
                dice.length(-0.3 * height, 0.3 * height),
            ],
            angle: Degrees(dice.length(-180.0, 180.0)),
            tie: [dice.length(2.5, 8.0), dice.length(1.0, 2.0)],
            locked: false,
            anchor: (anchors > 0 && dice.chance(0.7))
                .then(|| usize::try_from(dice.below(anchors as u64)).unwrap()),
        })
        .collect()
}
