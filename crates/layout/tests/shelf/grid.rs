//! The best place of a plate found another way than the core's: by trying places on a grid, finer and
//! finer, with geo's distances.

use geo::{Contains, Distance, Euclidean};
use layout::shelf::{MOST_TURN, Placement};
use layout::{Degrees, geometry::Point};

/// How far a margin may be off, mm.
const EXACT: f64 = 1e-3;

/// How far apart places on the plate's edge are, mm, while a grid is tried.
const STEP: f64 = 2.0;

/// Steps of the first grid along the head's width, its height, and the turn.
const FIRST: [u32; 3] = [20, 20, 10];

/// How many of its best poses are looked at more closely.
const CLOSER: usize = 4;

/// Steps of each finer grid to both sides, how much finer it is, and how many there are.
const FINER: (i32, f64, usize) = (3, 0.4, 6);

/// A plate's edge in a head.
pub(super) struct Grid {
    wall: geo::Polygon,
    corners: Vec<Point>,
    places: Vec<Point>,
}

fn distance_inside(wall: &geo::Polygon, at: Point) -> f64 {
    let at = geo::Point::new(at.x, at.y);
    let distance = Euclidean.distance(&at, wall.exterior());
    if wall.contains(&at) {
        distance
    } else {
        -distance
    }
}

impl Grid {
    pub(super) fn of(wall: &[Point], plate: &[[f64; 2]]) -> Self {
        let ring: geo::LineString = wall
            .iter()
            .map(|p| geo::coord! { x: p.x, y: p.y })
            .collect();
        let corners: Vec<Point> = plate.iter().map(|&at| at.into()).collect();
        let mut places = corners.clone();
        for (from, to) in sides(&corners) {
            let steps = ((to - from).norm() / STEP).ceil();
            let mut step = 1.0;
            while step < steps {
                places.push(from + (to - from) * (step / steps));
                step += 1.0;
            }
        }
        Self {
            wall: geo::Polygon::new(ring, Vec::new()),
            corners,
            places,
        }
    }

    fn put(placement: Placement, at: Point) -> Point {
        placement.place(at.into()).into()
    }

    /// The least room of any place of the edge, to within [`EXACT`], by halving every edge: no place is nearer
    /// than half a stretch's length to its middle.
    pub(super) fn margin(&self, placement: Placement) -> f64 {
        let mut least = self.roughly(placement, f64::NEG_INFINITY);
        let put = |at| Self::put(placement, at);
        let mut open: Vec<_> = sides(&self.corners)
            .map(|(a, b)| (put(a), put(b)))
            .collect();
        while let Some((from, to)) = open.pop() {
            let middle = middle_of(from, to);
            let room = distance_inside(&self.wall, middle);
            least = least.min(room);
            if room - (to - from).norm() / 2.0 < least - EXACT {
                open.extend([(from, middle), (middle, to)]);
            }
        }
        least
    }

    /// The least room of the places that are tried; anything lower than `best` if one has less.
    fn roughly(&self, placement: Placement, best: f64) -> f64 {
        let mut least = f64::INFINITY;
        for &at in &self.places {
            least = least.min(distance_inside(&self.wall, Self::put(placement, at)));
            if least < best {
                break;
            }
        }
        least
    }

    /// The best pose of the grids, and its margin.
    pub(super) fn best(&self) -> (Placement, f64) {
        let points = self.wall.exterior().points();
        let fold = |(low, high): (Point, Point), p: geo::Point| {
            let p = Point::new(p.x(), p.y());
            (low.inf(&p), high.sup(&p))
        };
        let far = Point::new(f64::INFINITY, f64::INFINITY);
        let (low, high) = points.fold((far, -far), fold);
        let steps = [
            (high.x - low.x) / f64::from(FIRST[0]),
            (high.y - low.y) / f64::from(FIRST[1]),
            2.0 * MOST_TURN.0 / f64::from(FIRST[2]),
        ];
        let mut first = Vec::new();
        for x in 0..=FIRST[0] {
            for y in 0..=FIRST[1] {
                for turn in 0..=FIRST[2] {
                    let pose = [
                        low.x + steps[0] * f64::from(x),
                        low.y + steps[1] * f64::from(y),
                        -MOST_TURN.0 + steps[2] * f64::from(turn),
                    ];
                    let worst = first.last().map_or(f64::NEG_INFINITY, |&(room, _)| room);
                    let full = first.len() == CLOSER;
                    let room = self.roughly(pose_of(pose), if full { worst } else { -1e9 });
                    first.push((room, pose));
                    first.sort_by(|a, b| b.0.total_cmp(&a.0));
                    first.truncate(CLOSER);
                }
            }
        }
        let finest = first.into_iter().map(|start| self.finer(start, steps));
        let best = finest.map(|(_, pose)| (pose_of(pose), self.margin(pose_of(pose))));
        best.max_by(|a, b| a.1.total_cmp(&b.1))
            .expect("a grid has poses")
    }

    /// The best pose of finer and finer grids about a pose.
    fn finer(&self, mut best: (f64, [f64; 3]), mut steps: [f64; 3]) -> (f64, [f64; 3]) {
        let (count, finer, times) = FINER;
        for _ in 0..times {
            steps = steps.map(|step| step * finer);
            let middle = best.1;
            for x in -count..=count {
                for y in -count..=count {
                    for turn in -count..=count {
                        let off = [x, y, turn].map(f64::from);
                        let mut pose = [0, 1, 2].map(|axis| middle[axis] + off[axis] * steps[axis]);
                        pose[2] = pose[2].clamp(-MOST_TURN.0, MOST_TURN.0);
                        let room = self.roughly(pose_of(pose), best.0);
                        if room > best.0 {
                            best = (room, pose);
                        }
                    }
                }
            }
        }
        best
    }
}

fn pose_of([x, y, turn]: [f64; 3]) -> Placement {
    Placement {
        shift: [x, y],
        turn: Degrees(turn),
    }
}

fn middle_of(a: Point, b: Point) -> Point {
    Point::new((a.x + b.x) / 2.0, (a.y + b.y) / 2.0)
}

fn sides(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = corners.iter().cycle().skip(1);
    corners.iter().copied().zip(next.copied())
}
