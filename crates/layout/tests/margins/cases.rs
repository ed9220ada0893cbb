//! Random projects, many of which foul, with their shapes as geo takes them.

use std::sync::LazyLock;

use layout::evaluate_laid;
use layout::limits::Rule;
use layout::plate::PlateOutline;
use layout::seat::Seat;
use layout::tie::TieSlot;
use layout::{Degrees, Finding, Laid, Project, Report};

use super::measure::{Rounded, fine, to_geo};
use crate::common::{Random, eye, pair, star};

pub(super) const PROJECTS: usize = 240;

pub(super) struct Case {
    pub(super) project: Project,
    pub(super) laid: Laid,
    pub(super) report: Report,
    /// The plate as a very fine polygon.
    pub(super) plate: geo::Polygon,
    pub(super) wall: geo::Polygon,
}

/// A random project: one to four eyes, some with parts of their own, up to five slots, heads of
/// every shape, all styles of plate; many of them foul.
pub(super) fn random_project(random: &mut Random) -> Project {
    let mut project = pair();
    let corners = 8 + random.below(20);
    project.head.outline = match random.below(3) {
        0 => layout::head::start_outline(
            random.between(90.0, 180.0),
            random.between(90.0, 220.0),
            0.4,
        ),
        1 => star(random, corners, 60.0, 95.0),
        _ => star(random, corners, 35.0, 95.0),
    };
    project.head.smooth = random.one_in(2);
    project.drives.clear();
    let count = 1 + random.below(4);
    project.eyes = (0..count).map(|_| eye(random.point(55.0).into())).collect();
    if random.one_in(3) {
        let mut parts = project.parts.clone();
        parts.ball_diameter = 30.0;
        parts.seat = Seat::Plain {
            opening_diameter: 27.0,
        };
        parts.ring.depth = 11.0;
        parts.ring.outer_diameter = 29.5;
        project.eyes[0].parts = Some(Box::new(parts));
    }
    project.ties = (0..random.below(6))
        .map(|_| TieSlot {
            at: random.point(70.0).into(),
            angle: Degrees(random.between(-180.0, 180.0)),
            tie: random.pick(&[[2.5, 1.0], [4.8, 1.3], [30.0, 12.0]]),
            anchor: None,
            locked: false,
        })
        .collect();
    project.gaze.lift = Degrees(random.between(0.0, 25.0));
    project.plate.rim = random.between(0.0, 14.0);
    if random.one_in(3) {
        project.plate.outline = PlateOutline::HeadInset {
            bottom: random.between(-60.0, -20.0),
            top: random.between(20.0, 60.0),
        };
    }
    project.plate.trim_to_head = random.one_in(3);
    project
}

pub(super) fn cases() -> impl Iterator<Item = &'static Case> {
    static CASES: LazyLock<Vec<Case>> = LazyLock::new(|| {
        let mut random = Random::new(31);
        (0..PROJECTS)
            .map(|_| case(random_project(&mut random)))
            .collect()
    });
    CASES.iter()
}

pub(super) fn case(project: Project) -> Case {
    let laid = Laid::out(&project);
    Case {
        report: evaluate_laid(&project, &laid),
        plate: fine(&laid.plate.segments),
        wall: to_geo(laid.wall.iter().copied()),
        project,
        laid,
    }
}

impl Case {
    pub(super) fn of(&self, rule: Rule) -> Vec<&Finding> {
        let id = rule.info().id;
        self.report.findings.iter().filter(|f| f.id == id).collect()
    }

    pub(super) fn values(&self, rule: Rule) -> Vec<f64> {
        self.of(rule).iter().filter_map(|f| f.value).collect()
    }

    /// Radius of the opening of an eye, and of its ring's sweep (see `ring.rs`), mm.
    pub(super) fn radii(&self, eye: usize) -> Option<[f64; 2]> {
        let figures = &self.report.figures.eyes[eye];
        let opening = figures.opening_front_mm?.max(figures.opening_back_mm?);
        Some([opening, figures.sweep_reach_mm?])
    }

    pub(super) fn centres(&self) -> Vec<geo::Point> {
        self.project
            .eyes
            .iter()
            .map(|eye| eye.centre.into())
            .collect()
    }

    pub(super) fn cores(&self) -> Vec<Rounded> {
        self.project.ties.iter().map(Rounded::of).collect()
    }
}
