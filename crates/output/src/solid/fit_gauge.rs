//! A small plate to print first: seats, holes and slots in steps, each with as many dots as its step,
//! so that a maker sees what their own printer needs.

use layout::Project;
use layout::geometry::Point;
use layout::geometry::hull::Disc;
use layout::geometry::outline::Outline;
use layout::seat::Seat;
use layout::tie::TieSlot;

use super::slab::{Hole, Slab, Wall};

/// How many steps each row has.
pub const STEPS: usize = 5;

/// From one seat to the next the running clearance grows by this, mm: what a printer errs by.
const CLEARANCE_STEP: f64 = 0.1;

/// Running clearance of the first seat, mm: less than any printed ball runs with.
const FIRST_CLEARANCE: f64 = 0.2;

/// From one hole to the next the diameter grows by this, mm. The first one is drawn true to size.
const HOLE_STEP: f64 = 0.1;

/// From one slot to the next both sides grow by this, mm. The first one is as large as its tie.
const SLOT_STEP: f64 = 0.2;

/// Diameter of the holes where the eyes have no lids whose pivots need one, mm: clears a 3 mm screw
/// (ISO 273, fine series: 3.2 mm).
const PIN_HOLE: f64 = 3.2;

/// Tie that the slots are made for where the project has none, mm: width and thickness.
const TIE: [f64; 2] = [2.5, 1.0];

/// Material around everything, and between neighbours, mm.
const WEB: f64 = 4.0;

/// Radius of a dot, mm: a printer's nozzle leaves it open.
const DOT: f64 = 0.9;

/// From dot to dot, mm.
const DOT_PITCH: f64 = 3.2;

/// A row that is longer goes on in a further line, mm: the gauge is to lie on small beds, too. Own choice.
const LONGEST: f64 = 150.0;

/// The gauge, and what its rows try.
#[derive(Clone, Debug, PartialEq)]
pub struct FitGauge {
    /// The plate to print. It is drawn exact: print it without any hole allowance.
    pub slab: Slab,
    /// Its rows from the top; those that the project has no use for are left out.
    pub rows: Vec<GaugeRow>,
}

/// One row of the gauge. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct GaugeRow {
    /// What it tries.
    pub tried: Tried,
    /// Diameter of the ball or the pin, or width of the tie, that is put into it.
    pub probe: f64,
    /// The value with one dot, two dots and so on.
    pub values: [f64; STEPS],
}

/// What a row of the gauge tries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tried {
    /// Running clearance of a seat.
    Seat,
    /// What a hole comes out smaller by, in diameter.
    Hole,
    /// How much longer and wider a slot is than its tie.
    Slot,
}

impl Tried {
    /// What its holes are called.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Seat => "seat",
            Self::Hole => "hole",
            Self::Slot => "slot",
        }
    }
}

/// A row before it has its place: the size of a cell, and the wall of a step at a place.
struct Row {
    tried: Tried,
    probe: f64,
    values: [f64; STEPS],
    cell: [f64; 2],
    wall: Box<dyn Fn(Point, f64) -> Wall>,
}

/// The gauge for the parts that every eye of a project uses, and for its first tie.
pub fn fit_gauge(project: &Project) -> FitGauge {
    let rows: Vec<Row> = [seats(project), Some(holes(project)), Some(slots(project))]
        .into_iter()
        .flatten()
        .collect();
    let (mut holes, mut size) = (Vec::new(), [WEB, WEB]);
    for row in &rows {
        row.place(&mut size, &mut holes);
    }
    let tried = |row: Row| GaugeRow {
        tried: row.tried,
        probe: row.probe,
        values: row.values,
    };
    FitGauge {
        slab: Slab {
            name: "fit gauge".to_owned(),
            outline: rounded(size),
            thickness: project.plate.thickness,
            holes,
        },
        rows: rows.into_iter().map(tried).collect(),
    }
}

impl Row {
    /// Places the row's walls below `size`, the width and height that are used already, mm, each above
    /// its dots; both grow by what the row takes.
    fn place(&self, size: &mut [f64; 2], holes: &mut Vec<Hole>) {
        let dots = DOT_PITCH * (STEPS - 1) as f64 + 2.0 * DOT;
        let pitch = self.cell[0].max(dots) + WEB;
        let in_line = (1..=STEPS)
            .rev()
            .find(|&count| WEB + pitch * count as f64 <= LONGEST)
            .unwrap_or(1);
        for (step, &value) in self.values.iter().enumerate() {
            let place = step % in_line;
            let top = size[1];
            let x = WEB + (pitch - WEB) / 2.0 + pitch * place as f64;
            let below = top + self.cell[1] + WEB / 2.0 + DOT;
            let name = format!("{} {}", self.tried.noun(), step + 1);
            for dot in 0..=step {
                let off = DOT_PITCH * (dot as f64 - step as f64 / 2.0);
                holes.push(Hole {
                    name: format!("dot {} of {name}", dot + 1),
                    wall: round(Point::new(x + off, -below), DOT),
                });
            }
            let wall = (self.wall)(Point::new(x, -top - self.cell[1] / 2.0), value);
            holes.push(Hole { name, wall });
            size[0] = size[0].max(x + (pitch + WEB) / 2.0);
            if place + 1 == in_line || step + 1 == STEPS {
                size[1] = below + DOT + WEB;
            }
        }
    }
}

/// A plate of a width and height, mm, from the origin to the right and down, its corners rounded by
/// [`WEB`].
fn rounded([width, height]: [f64; 2]) -> Outline {
    let (right, low) = (width - WEB, WEB - height);
    let corners = [(WEB, low), (right, low), (right, -WEB), (WEB, -WEB)];
    Outline::hull(&corners.map(|(x, y)| Disc {
        centre: Point::new(x, y),
        radius: WEB,
    }))
}

fn round(centre: Point, radius: f64) -> Wall {
    Wall::Straight(vec![Disc { centre, radius }])
}

fn steps(first: f64, step: f64) -> [f64; STEPS] {
    std::array::from_fn(|index| first + step * index as f64)
}

/// Seats for the project's ball; none where seats are plain, which have no clearance to try.
fn seats(project: &Project) -> Option<Row> {
    let Seat::Spherical { centre_height, .. } = project.parts.seat else {
        return None;
    };
    let values = steps(FIRST_CLEARANCE, CLEARANCE_STEP);
    let ball = project.parts.ball_diameter / 2.0;
    let widest = ball + values[STEPS - 1];
    let reach = 2.0
        * (widest * widest - centre_height * centre_height)
            .max(0.0)
            .sqrt();
    Some(Row {
        tried: Tried::Seat,
        probe: project.parts.ball_diameter,
        values,
        cell: [reach; 2],
        wall: Box::new(move |centre, clearance| Wall::Spherical {
            centre,
            height: centre_height,
            radius: ball + clearance,
        }),
    })
}

/// Holes for a pin of the pivots' size.
fn holes(project: &Project) -> Row {
    let pin = project.parts.lids.map_or(PIN_HOLE, |lids| lids.pivot_hole);
    Row {
        tried: Tried::Hole,
        probe: pin,
        values: steps(0.0, HOLE_STEP),
        cell: [pin + HOLE_STEP * STEPS as f64; 2],
        wall: Box::new(move |centre, wider| round(centre, (pin + wider) / 2.0)),
    }
}

/// Slots for the project's first tie.
fn slots(project: &Project) -> Row {
    let tie = project.ties.first().map_or(TIE, |slot| slot.tie);
    let largest = SLOT_STEP * STEPS as f64;
    Row {
        tried: Tried::Slot,
        probe: tie[0],
        values: steps(0.0, SLOT_STEP),
        cell: tie.map(|side| side + largest),
        wall: Box::new(move |centre, larger| {
            // A slot of our own is larger than its tie by a fixed clearance already.
            let own = tie.map(|side| side + larger - layout::tie::CLEARANCE);
            let slot = TieSlot {
                at: centre.into(),
                angle: layout::Degrees(0.0),
                tie: own,
                anchor: None,
                locked: false,
            };
            Wall::Straight(slot.discs(0.0).to_vec())
        }),
    }
}
