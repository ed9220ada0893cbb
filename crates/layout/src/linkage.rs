//! A rod worked out: what its follower does as its driver turns.

use crate::four_bar::FourBar;
use crate::geometry::Vector;
use crate::geometry::space::{Place, Way};
use crate::problem::{About, Problem, SMALLEST};
use crate::project::Project;
use crate::ranges::Ranges;
use crate::rod::{self, Rod, RodEnd};
use crate::search::Search;
use crate::turned::{self, Arm, NO_LID, Pose, Round, Swing, Turned, beyond_quarter};

/// Below this sine of the angle between a rod and its follower's lever they lie in line: neither side
/// of it is that on which the rod was fitted.
const IN_LINE: f64 = 1e-6;

/// A rod between two levers, in the plate's frame. Lengths in mm, angles in radians.
#[derive(Clone, Debug, PartialEq)]
pub struct Linkage {
    /// Length of the rod.
    pub length: f64,
    /// The two ends of the driver's turn, the lower one first.
    pub driver_range: [f64; 2],
    /// Largest other turn of the driver's eye, to both sides; the follower's eye is taken to make the same.
    pub other: f64,
    /// Whether the two turns are used together; else the other one only while this one rests.
    pub together: bool,
    /// The two ends of the follower's turn over all poses of its driver, or why it cannot follow.
    pub follows: Result<[f64; 2], Stuck>,
    planar: FourBar,
    /// 1 where follower and driver turn about the same direction, −1 where they turn about opposite ones.
    sense: f64,
    driver: Arm,
    follower: Arm,
    /// On which side of the direction to the driver's tip the follower's lever was fitted: 1 or −1.
    side: f64,
}

/// A rod that cannot move its follower over its driver's whole turn.
#[derive(Clone, Debug, PartialEq)]
pub struct Stuck {
    /// Why.
    pub problem: Problem,
    /// The driver's pose where it shows.
    pub at: Pose,
}

/// How a follower does in one pose of its driver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Followed {
    /// The follower's own turn.
    pub own: f64,
    /// Transmission angle, from 0 to π/2.
    pub transmission: f64,
}

/// A figure at its worst, and the driver's pose there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worst {
    /// The figure, radians.
    pub value: f64,
    /// The pose.
    pub at: Pose,
}

/// The worst figures of a linkage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorstOf {
    /// How far the follower parts from turning as its driver does: both by the same angle to the same side,
    /// or for lids both open alike.
    pub difference: Worst,
    /// The least transmission angle.
    pub transmission: Worst,
    /// How far the planar model parts from the true linkage.
    pub planar_difference: Worst,
}

impl Worst {
    fn of(([own, other], value): ([f64; 2], f64)) -> Self {
        let at = Pose { own, other };
        Self { value, at }
    }
}

/// A pose, and what the follower does in it.
type Seen = (Pose, Followed);

/// The largest of something over the poses that have it.
fn largest<T, F>(searches: &[Search<Option<T>, F>], of: impl Fn(&T) -> f64) -> Worst
where
    F: Fn([f64; 2]) -> Option<T>,
{
    let of = |seen: &Option<T>| seen.as_ref().map_or(f64::NEG_INFINITY, &of);
    let all = searches.iter().map(|search| search.largest(of));
    let larger = |a: ([f64; 2], f64), b: ([f64; 2], f64)| if b.1 > a.1 { b } else { a };
    let largest = all.reduce(larger).unwrap_or(([0.0; 2], f64::NEG_INFINITY));
    Worst::of(largest)
}

/// The closure of the linkage in one pose of its driver: `swing.height()`·cos(φ − peak) = `wanted`.
struct Closure {
    /// The way of the follower's tip, and how far it lies toward the driver's.
    way: Round,
    swing: Swing,
    wanted: f64,
}

impl Closure {
    /// How much is missing for the rod to reach, mm²; 0 or less where it does.
    fn missing(&self) -> f64 {
        self.wanted.abs() - self.swing.height()
    }

    /// height·sin(φ − peak), without its sign; None where the rod does not reach, or without height: then the tip
    /// stands on its axis, or the driver's tip does, and any turn would do.
    fn aside(&self) -> Option<f64> {
        let (height, wanted) = (self.swing.height(), self.wanted.abs());
        let reaches = wanted <= height && height > 0.0;
        reaches.then(|| ((height - wanted) * (height + wanted)).sqrt())
    }

    /// Cosine and sine of the follower's turn φ from rest, on a side of the peak.
    fn turn(&self, side: f64) -> Option<[f64; 2]> {
        let (across, along) = (side * self.aside()?, self.wanted);
        let Swing { cos, sin, .. } = self.swing;
        let squared = cos * cos + sin * sin;
        Some([
            (cos * along - sin * across) / squared,
            (sin * along + cos * across) / squared,
        ])
    }
}

impl Linkage {
    /// The linkage of rod `index` of a project whose parts turn as far as `ranges` tell.
    ///
    /// # Errors
    /// A [`Problem`] if there is nothing to work out: no such eye, seat or lid, a tip on its axis or
    /// inside its ball, a driver that turns beyond a quarter turn to a side, or a rod of no length.
    fn of(project: &Project, index: usize, ranges: &Ranges) -> Result<Self, Problem> {
        let rod = &project.rods[index];
        let about = About {
            kind: "rod",
            name: &rod.name,
            at: format!("rods[{index}]"),
        };
        let driver = arm(project, rod, RodEnd::Driver, &about)?;
        let follower = arm(project, rod, RodEnd::Follower, &about)?;
        let range = ranges.of(project, rod.driver).unwrap_or_default();
        if beyond_quarter(range) {
            return Err(about.problem(
                "driver",
                "is driven beyond a quarter turn from straight ahead",
                "Let the turn stay within a quarter turn to each side.",
            ));
        }
        let [from, to] = [&driver, &follower].map(|arm| arm.tip_at(arm.turned.rest()));
        let length = (to - from).norm();
        if length < SMALLEST {
            return Err(about.problem(
                "follower_tip",
                "has both ends in one place",
                "Put its ends apart.",
            ));
        }
        let axes = [&driver, &follower].map(|arm| arm.turned.axis(arm.turned.rest()));
        let mut linkage = Self {
            length,
            driver_range: [range[0].min(range[1]), range[0].max(range[1])],
            other: ranges.crossing(project, rod.driver),
            together: project.gaze.together,
            follows: Ok([follower.turned.rest().own; 2]),
            planar: planar(&driver, &follower, axes[0]),
            sense: axes[0].dot(&axes[1]).signum(),
            driver,
            follower,
            side: 0.0,
        };
        let at = linkage.driver.turned.rest();
        let swing = linkage.closure(at).swing;
        linkage.side = -swing.sin.signum();
        linkage.follows = if swing.sin.abs() < IN_LINE * length * swing.radius {
            let problem = about.problem(
                "follower_tip",
                "lies in line with the lever that it should turn",
                "Move one of its ends, so that it stands more square to that lever.",
            );
            Err(Stuck { problem, at })
        } else {
            linkage.follower_range(&about)
        };
        Ok(linkage)
    }

    /// The closure |driver's tip − follower's tip| = length: with e from the follower's centre to the
    /// driver's tip, p the follower's tip and l the rod, e·p(φ) = (e² + p² − l²)/2.
    fn closure(&self, pose: Pose) -> Closure {
        self.closure_from(self.driver.tip_at(pose), pose.other)
    }

    /// The same from where the driver's tip is.
    fn closure_from(&self, tip: Place, other: f64) -> Closure {
        let toward = tip - self.follower.centre;
        let way = self.follower.round(other);
        let swing = way.swing(toward);
        let reach = self.follower.reach();
        let half = (toward.norm_squared() + reach * reach - self.length * self.length) / 2.0;
        Closure {
            way,
            swing,
            wanted: half - swing.level,
        }
    }

    /// What the follower does in a pose of its driver, both eyes' other turn the same; None where the
    /// rod does not reach.
    ///
    /// Of the two solutions it is the one on the side where the rod was fitted: turning without a break, a
    /// linkage changes sides only where rod and follower's lever lie in line. The transmission angle is
    /// that between the rod and the follower's lever; where the rod leans along the follower's axis, the
    /// angle whose sine is the share of the rod's force that turns the follower.
    pub fn at(&self, pose: Pose) -> Option<Followed> {
        let closure = self.closure(pose);
        let across = closure.aside()? / (self.length * closure.swing.radius);
        Some(Followed {
            own: self.follower_turn(&closure)?,
            transmission: across.min(1.0).asin(),
        })
    }

    /// The follower's own turn; None where the rod does not reach.
    fn follower_turn(&self, closure: &Closure) -> Option<f64> {
        let [cos, sin] = closure.turn(self.side)?;
        Some(self.follower.turned.rest().own + sin.atan2(cos))
    }

    /// The follower's own turn by the planar four-bar linkage; None where its rod does not reach.
    ///
    /// The planar model sees the linkage along the axes, with the rod as long as it looks from there. It is
    /// exact while the eyes make no other turn, since the tips then stay in planes square to the axes; the
    /// other turn takes both tips out of their planes, tilts an axis where it is that of a lift, and
    /// shortens or lengthens what is seen of rod and levers: all this the planar model leaves out.
    pub fn planar_at(&self, own: f64) -> Option<f64> {
        let turn = own - self.driver.turned.rest().own;
        let follows = self.planar.follower_turn(turn)?;
        Some(self.follower.turned.rest().own + self.sense * follows)
    }

    /// Places of the rod's ends in a pose of its driver, the driver's first; the follower's in its pose at
    /// rest where the rod does not reach.
    pub fn ends_at(&self, pose: Pose) -> [Place; 2] {
        self.ends_reached(pose).unwrap_or_else(|| {
            let (own, other) = (self.follower.turned.rest().own, pose.other);
            let follower = self.follower.tip_at(Pose { own, other });
            [self.driver.tip_at(pose), follower]
        })
    }

    /// The same; None where the rod does not reach.
    pub(crate) fn ends_reached(&self, pose: Pose) -> Option<[Place; 2]> {
        let (tip, other) = (self.driver.tip_at(pose), pose.other);
        let closure = self.closure_from(tip, other);
        let follower = closure.way.at(closure.turn(self.side)?);
        Some([tip, self.follower.centre + follower])
    }

    /// Poses of the driver at even steps over its turn and over the other turn: grids of rows, each row of one
    /// other turn.
    pub(crate) fn grids(&self, own: u32, other: u32) -> Vec<Vec<Vec<Pose>>> {
        let ranges = self.ranges().into_iter();
        ranges
            .map(|ranges| turned::grid(ranges, [own, other]))
            .collect()
    }

    /// The pose of the driver in which the rod was fitted.
    pub fn fitted(&self) -> Pose {
        self.driver.turned.rest()
    }

    /// The turns of both parts as the rod was fitted, the driver's first.
    pub fn rest(&self) -> [f64; 2] {
        [&self.driver, &self.follower].map(|arm| arm.turned.rest().own)
    }

    /// The levers at both ends in a pose of the driver, each from its axis, or its ball's centre, to its
    /// tip; the driver's first.
    pub fn levers_at(&self, pose: Pose) -> [[Place; 2]; 2] {
        let [driver, follower] = self.ends_at(pose);
        [
            [self.driver.root(), driver],
            [self.follower.root(), follower],
        ]
    }

    /// Where an end is at rest, as a project gives it, if it is at `place` in a pose of the driver.
    pub fn rest_of(&self, end: RodEnd, pose: Pose, place: Place) -> Place {
        match end {
            RodEnd::Driver => self.driver.rest_of(pose, place),
            RodEnd::Follower => {
                let rest = self.follower.turned.rest().own;
                let own = self.follower_turn(&self.closure(pose)).unwrap_or(rest);
                let other = pose.other;
                self.follower.rest_of(Pose { own, other }, place)
            }
        }
    }

    /// The worst of its figures over all poses in which the rod reaches.
    pub fn worst(&self) -> WorstOf {
        let [driver, follower] = self.rest();
        let search = self.searches(|pose| {
            let followed = self.at(pose)?;
            Some((pose, followed))
        });
        let parts =
            |&(pose, followed): &Seen| ((followed.own - follower) - (pose.own - driver)).abs();
        let least = largest(&search, |(_, followed)| -followed.transmission);
        WorstOf {
            difference: largest(&search, parts),
            transmission: Worst {
                value: -least.value,
                ..least
            },
            planar_difference: largest(&search, |&(pose, followed)| {
                let planar = self.planar_at(pose.own);
                planar.map_or(f64::NEG_INFINITY, |planar| (planar - followed.own).abs())
            }),
        }
    }

    /// Ranges of the driver's own turn and of the other turn that hold all its poses: one where both are used
    /// together, else each turn alone.
    pub(crate) fn ranges(&self) -> Vec<[[f64; 2]; 2]> {
        let (own, other) = (self.driver_range, [-self.other, self.other]);
        if self.together || self.other <= 0.0 {
            return vec![[own, other]];
        }
        let rest = self.driver.turned.rest().own;
        vec![[own, [0.0; 2]], [[rest; 2], other]]
    }

    /// Something looked over in all poses of the driver.
    fn searches<T, F>(&self, of: F) -> Vec<Search<T, impl Fn([f64; 2]) -> T>>
    where
        F: Fn(Pose) -> T + Copy,
    {
        let ranges = self.ranges().into_iter();
        let search = |ranges| Search::over(ranges, move |[own, other]| of(Pose { own, other }));
        ranges.map(search).collect()
    }

    fn follower_range(&self, about: &About<'_>) -> Result<[f64; 2], Stuck> {
        let search = self.searches(|pose| {
            let closure = self.closure(pose);
            Some((closure.missing(), self.follower_turn(&closure)))
        });
        let worst = largest(&search, |&(missing, _)| missing);
        if worst.value > 0.0 {
            let sentence = if self.closure(worst.at).wanted > 0.0 {
                "is too short to let its driver turn all the way"
            } else {
                "is too long to let its driver turn all the way"
            };
            let remedy = "Make the two levers more alike, or the turn smaller.";
            let problem = about.problem("follower_tip", sentence, remedy);
            let at = worst.at;
            return Err(Stuck { problem, at });
        }
        let farthest = |toward: f64| {
            largest(&search, |&(_, own)| {
                own.map_or(f64::NEG_INFINITY, |own| toward * own)
            })
        };
        let (highest, lowest) = (farthest(1.0), farthest(-1.0));
        let rest = self.follower.turned.rest().own;
        let range = [rest.min(-lowest.value), rest.max(highest.value)];
        if !beyond_quarter(range) {
            return Ok(range);
        }
        let farther = if range[1] > -range[0] {
            highest
        } else {
            lowest
        };
        let problem = about.problem(
            "follower_tip",
            "takes what follows it beyond a quarter turn from straight ahead",
            "Use a shorter lever on the driver, or a longer one on the follower.",
        );
        let at = farther.at;
        Err(Stuck { problem, at })
    }
}

/// The lever at one end of a rod.
fn arm(project: &Project, rod: &Rod, end: RodEnd, about: &About<'_>) -> Result<Arm, Problem> {
    let (moves, tip) = rod.end(end);
    let [part, field] = match end {
        RodEnd::Driver => ["driver", "driver_tip"],
        RodEnd::Follower => ["follower", "follower_tip"],
    };
    let eye = project.eyes.get(moves.eye()).ok_or_else(|| {
        about.problem(
            part,
            "is tied to an eye that is not there",
            "Tie it to another eye.",
        )
    })?;
    let seat = project
        .parts_of(moves.eye())
        .seat_fit(project.plate.thickness)?;
    let turned = Turned::of(project, moves)
        .ok_or_else(|| about.problem(part, NO_LID.sentence, NO_LID.remedy))?;
    Arm::of(turned, tip, eye.centre, &seat)
        .map_err(|misfit| about.problem(field, misfit.sentence, misfit.remedy))
}

/// The linkage as it is seen along the driver's axis, turning counter-clockwise.
fn planar(driver: &Arm, follower: &Arm, axis: Way) -> FourBar {
    let up = axis.cross(&Way::z());
    let seen = |way: Way| Vector::new(way.z, way.dot(&up));
    let lever = |arm: &Arm| seen(arm.tip_at(arm.turned.rest()) - arm.centre);
    FourBar {
        ground: seen(follower.centre - driver.centre),
        driver: lever(driver),
        follower: lever(follower),
    }
}

/// All rods of a project, worked out from the head of each chain on, and how far every part then turns.
pub(crate) fn of_project(project: &Project) -> (Vec<Result<Linkage, Problem>>, Ranges) {
    let rods = &project.rods;
    let mut order: Vec<usize> = (0..rods.len()).collect();
    order.sort_by_key(|&index| rod::place_in_chain(rods, index));
    let mut ranges = Ranges::default();
    let mut linkages: Vec<(usize, Result<Linkage, Problem>)> = Vec::with_capacity(rods.len());
    for index in order {
        let linkage = Linkage::of(project, index, &ranges);
        if let Ok(Linkage {
            follows: Ok(range), ..
        }) = linkage
        {
            ranges.follow(rods[index].follower, range);
        }
        linkages.push((index, linkage));
    }
    linkages.sort_by_key(|&(index, _)| index);
    let linkages = linkages.into_iter().map(|(_, linkage)| linkage);
    (linkages.collect(), ranges)
}
