//! Slots and cable holes that are ordered for a plate, measured anew against all that it has.

use geo::{Contains, Distance, Euclidean, LineString, Polygon};
use layout::cable_hole::PlateHole;
use layout::geometry::outline::Outline;
use layout::limits::{Rule, State};
use layout::shelf::{Drilled, Drilling, Lack, Placed, ShelfPlate, Work, fit, taken, work};
use layout::{Laid, Project, wording};

use super::demo::{CHARACTERS, character};
use crate::common::{Random, pair};

/// How far arcs flattened to chords stray, twice, mm.
const CHORDS: f64 = 0.05;

/// What callipers leave open of a web to a hole, mm.
const MEASURED: f64 = 0.1;

fn polygon(outline: &Outline) -> Polygon {
    let corners = outline.flattened();
    let ring = corners.iter().map(|at| (at.x, at.y)).collect::<Vec<_>>();
    Polygon::new(LineString::from(ring), Vec::new())
}

/// What a plate has at its place.
struct There {
    edge: Polygon,
    openings: Vec<Polygon>,
    lugs: Vec<Polygon>,
    slots: Vec<Polygon>,
    holes: Vec<Polygon>,
    over: Project,
    laid: Laid,
}

impl There {
    fn of(project: &Project, plate: &ShelfPlate, placed: &Placed) -> Option<Self> {
        let over = taken(project, plate, placed.placement)?;
        let laid = Laid::out(&over);
        let corners = plate.outline.as_ref()?.iter();
        let corners = corners.map(|&at| placed.placement.place(at).into());
        let edge = polygon(&Outline::polygon(&corners.collect::<Vec<_>>()));
        let circle = |disc: layout::geometry::hull::Disc| {
            let turns = (0..360).map(|turn| f64::from(turn).to_radians());
            let round = turns.map(|turn| {
                let (sin, cos) = turn.sin_cos();
                (
                    disc.centre.x + disc.radius * cos,
                    disc.centre.y + disc.radius * sin,
                )
            });
            Polygon::new(LineString::from(round.collect::<Vec<_>>()), Vec::new())
        };
        let openings = laid.eyes.iter().filter_map(|eye| eye.opening());
        let lugs = laid.eyes.iter().filter_map(|eye| eye.lugs).flatten();
        let holes = plate.cable_holes.iter();
        Some(Self {
            edge,
            openings: openings.map(circle).collect(),
            lugs: lugs.map(|lug| polygon(&lug.plan())).collect(),
            slots: over
                .ties
                .iter()
                .map(|slot| polygon(&slot.outline()))
                .collect(),
            holes: holes
                .map(|hole| polygon(&hole.placed(placed.placement).shape().outline()))
                .collect(),
            over,
            laid,
        })
    }

    fn wanted(&self, rule: Rule) -> f64 {
        self.over.limits.of(rule, self.over.plate.thickness).wanted
    }

    /// By how much the web of a shape that falls shortest of the wanted one does so, mm; negative if none does.
    fn short(&self, shape: &Polygon, is_slot: bool, but: Option<usize>) -> f64 {
        let [edge, opening, slot, hole] = if is_slot {
            [
                Rule::SlotEdge,
                Rule::SlotOpening,
                Rule::SlotGap,
                Rule::HoleSlot,
            ]
        } else {
            [
                Rule::HoleEdge,
                Rule::HoleOpening,
                Rule::HoleSlot,
                Rule::HoleGap,
            ]
        };
        let apart = |other: &Polygon| Euclidean.distance(shape, other);
        let inside = self.edge.contains(shape);
        let to_edge = Euclidean.distance(shape.exterior(), self.edge.exterior());
        let to_edge = if inside { to_edge } else { -to_edge };
        // How near a cable's hole comes to all that, the project says: only what must hold is asked for.
        let asked = |rule| {
            let limit = self.over.limits.of(rule, self.over.plate.thickness);
            if is_slot { limit.wanted } else { limit.least }
        };
        let mut short = asked(edge) - to_edge;
        let mut all = |others: &[Polygon], rule| {
            for (index, other) in others.iter().enumerate() {
                if rule != hole || but != Some(index) {
                    short = f64::max(short, asked(rule) - apart(other));
                }
            }
        };
        all(&self.openings, opening);
        all(&self.slots, slot);
        all(&self.holes, hole);
        all(
            &self.lugs,
            if is_slot {
                Rule::LugSlot
            } else {
                Rule::LugHole
            },
        );
        short
    }
}

/// A plate for a character, somewhat larger or smaller than its own, with some of its slots and with holes about
/// where the cables pass.
fn random_plate(random: &mut Random, project: &Project) -> ShelfPlate {
    let mut plate = ShelfPlate::of(project);
    let scale = [random.between(0.8, 1.02), random.between(0.8, 1.02)];
    for corner in plate.outline.iter_mut().flatten() {
        *corner = [corner[0] * scale[0], corner[1] * scale[1]];
    }
    plate.slots.retain(|_| random.one_in(2));
    plate.cable_holes.retain(|_| random.one_in(2));
    for hole in &mut plate.cable_holes {
        let by = random.point(6.0);
        hole.ends = hole.ends.map(|[x, y]| [x + by.x, y + by.y]);
    }
    // None lies beside the plate.
    let holes = std::mem::take(&mut plate.cable_holes);
    for hole in holes {
        plate.cable_holes.push(hole);
        if plate.check("plate").is_err() {
            plate.cable_holes.pop();
        }
    }
    plate
}

fn is_of_slot(drilling: &Drilling) -> bool {
    matches!(drilling.hole, Drilled::Slot { .. })
}

#[test]
fn ordered_slots_and_holes_keep_their_webs_in_random_plates() {
    let mut random = Random::new(611);
    let (mut slots, mut holes, mut widened, mut without) = (0, 0, 0, 0);
    for _ in 0..30 {
        let project = character(random.pick(&CHARACTERS));
        let plate = random_plate(&mut random, &project);
        let placed = fit(&project, &plate).placed.expect("it has a place");
        let Some(there) = There::of(&project, &plate, &placed) else {
            continue;
        };
        let work = work(&project, &plate, &placed);
        let shapes: Vec<(&Drilling, Polygon)> = work
            .drilling
            .iter()
            .filter(|own| !matches!(own.hole, Drilled::WiderSlot { .. }))
            .map(|own| (own, polygon(&own.outline())))
            .collect();
        for (index, (own, shape)) in shapes.iter().enumerate() {
            let is_slot = is_of_slot(own);
            let but = match own.hole {
                Drilled::WiderHole { hole, .. } => Some(hole),
                _ => None,
            };
            let open = if is_slot { CHORDS } else { CHORDS + MEASURED };
            let short = there.short(shape, is_slot, but);
            assert!(short <= open, "{own:?} is {short} mm short");
            for (other, theirs) in &shapes[..index] {
                let rule = match (is_slot, is_of_slot(other)) {
                    (true, true) => Rule::SlotGap,
                    (false, false) => Rule::HoleGap,
                    _ => Rule::HoleSlot,
                };
                let limit = there.over.limits.of(rule, there.over.plate.thickness);
                let asked = if rule == Rule::HoleGap {
                    limit.least
                } else {
                    limit.wanted
                };
                let web = Euclidean.distance(shape, theirs);
                assert!(web >= asked - CHORDS - MEASURED, "{own:?} {other:?}");
            }
            match own.hole {
                Drilled::Slot { .. } => slots += 1,
                Drilled::WiderHole { .. } => widened += 1,
                _ => holes += 1,
            }
        }
        without += told_once(&project, &there, &plate, &placed, &work);
    }
    assert!(slots > 10 && holes > 10, "{slots} {holes}");
    assert!(widened > 0 && without > 3, "{widened} {without}");
}

/// Each hole that a drive needs is there, or is ordered, or is what the plate has no room for. How many are
/// that at its edge.
fn told_once(
    project: &Project,
    there: &There,
    plate: &ShelfPlate,
    placed: &Placed,
    work: &Work,
) -> usize {
    let mut without = 0;
    for (drive, laid) in there.laid.drives.iter().enumerate() {
        for (index, hole) in laid.holes.iter().enumerate() {
            let is_there = plate.cable_holes.iter().any(|own| {
                let own = own.placed(placed.placement).shape();
                let room = |end| own.room_around(end) - hole.radius;
                hole.ends.iter().all(|&end| room(end) >= -MEASURED)
            });
            let middle = hole.middle();
            let here = |own: &Drilling| (own.at[0] - middle.x).hypot(own.at[1] - middle.y) < 1e-9;
            let ordered = work.drilling.iter().any(|own| match own.hole {
                Drilled::CableHole { drive: of } => of == drive && here(own),
                Drilled::WiderHole { .. } => {
                    let inside = polygon(&own.outline());
                    let ends = hole.ends.map(|end| geo::Point::new(end.x, end.y));
                    let reach = hole.radius - MEASURED - CHORDS;
                    let round = inside.exterior();
                    let mut ends = ends.iter();
                    ends.all(|end| inside.contains(end) && Euclidean.distance(end, round) >= reach)
                }
                _ => false,
            });
            let part =
                wording::cable_hole(index, &format!("drive “{}”", project.drives[drive].name));
            let lacks = work.lacks.iter();
            let lacks = lacks.filter(|lack| lack.part == part && lack.state == State::Fouls);
            let lacking = lacks.clone().count();
            let at_edge = { lacks }.any(|lack| lack.beside.is_none());
            if is_there {
                continue;
            }
            assert_eq!(usize::from(ordered) + lacking, 1, "{part}");
            without += usize::from(lacking > 0 && !ordered && at_edge);
        }
    }
    without
}

#[test]
fn where_no_slot_can_be_made_no_place_has_room_for_one() {
    let mut random = Random::new(612);
    let (mut refused, mut said) = (0, Vec::new());
    for round in 0..10 {
        let mut project = character(CHARACTERS[round % 2]);
        project.drives.clear();
        // Wide webs take the room.
        let web = random.between(5.0, 14.0);
        project.limits.slot_opening = Some((1.0, web).into());
        project.limits.slot_edge = Some((1.0, random.between(3.0, 8.0)).into());
        let mut plate = random_plate(&mut random, &project);
        plate.slots.clear();
        let placed = fit(&project, &plate).placed.expect("it has a place");
        let Some(there) = There::of(&project, &plate, &placed) else {
            continue;
        };
        let work = work(&project, &plate, &placed);
        for beyond in work.beyond.iter().filter(|own| own.distance.is_none()) {
            let hole = project.head.anchor_holes[beyond.anchor].at;
            let ordered = work.drilling.iter().filter(|own| is_of_slot(own));
            let ordered: Vec<Polygon> = ordered.map(|own| polygon(&own.outline())).collect();
            for (column, row) in (-39..=39).flat_map(|x| (-39..=39).map(move |y| (x, y))) {
                let by = [f64::from(column), f64::from(row)];
                if by[0].hypot(by[1]) > 38.0 {
                    continue;
                }
                let mut slot = project.ties[0];
                slot.at = [hole[0] + by[0], hole[1] + by[1]];
                let shape = polygon(&slot.outline());
                // Half of a slot's diagonal and of a step may be left unused round it.
                let spare = 2.0;
                let gap = there.wanted(Rule::SlotGap);
                let sweeps = there
                    .laid
                    .eyes
                    .iter()
                    .filter_map(|eye| Some((eye.centre, eye.sweep()?)));
                let behind = { sweeps }.any(|(centre, sweep)| {
                    (slot.at[0] - centre.x).hypot(slot.at[1] - centre.y) < sweep.radius + 5.0
                });
                let free = there.short(&shape, true, None) < -spare
                    && !behind
                    && ordered
                        .iter()
                        .all(|own| Euclidean.distance(own, &shape) > gap + spare);
                assert!(!free, "{beyond:?}: {:?} is free", slot.at);
            }
            refused += 1;
            said.push(beyond.sentence());
        }
    }
    assert!(refused > 0);
    let why = said
        .iter()
        .filter(|own| own.contains("Most places are too near to the openings."));
    assert!(why.count() > 0, "{said:?}");
}

/// A rectangular plate of the pair without a slot.
fn bare_pair(x: f64, y: f64) -> (Project, ShelfPlate) {
    let mut project = pair();
    project.drives.clear();
    let plate = ShelfPlate {
        slots: Vec::new(),
        outline: Some(vec![[-x, -y], [x, -y], [x, y], [-x, y]]),
        ..ShelfPlate::of(&project)
    };
    (project, plate)
}

#[test]
fn no_slot_is_ordered_within_an_opening_and_mirrored_ones_are_mirrored() {
    // The openings, 29 mm off the middle, have a radius of about 20 mm: a slot straight inside the edge at 54 mm
    // would lie in one.
    let (project, plate) = bare_pair(54.0, 32.0);
    let placed = fit(&project, &plate).placed.expect("it has a place");
    let work = work(&project, &plate, &placed);
    let there = There::of(&project, &plate, &placed).expect("it is taken over");
    assert_eq!(work.beyond, []);
    for own in &work.drilling {
        let shape = polygon(&own.outline());
        assert!(there.short(&shape, true, None) <= CHORDS, "{own:?}");
        assert!(-90.0 < own.angle.0 && own.angle.0 <= 90.0);
        let opposite = work.drilling.iter().any(|other| {
            let at = (other.at[0] + own.at[0]).hypot(other.at[1] - own.at[1]) < 0.1;
            let angle = own.angle.0 + other.angle.0;
            at && (angle.abs() < 1e-9 || (angle - 180.0).abs() < 1e-9)
        });
        assert!(
            opposite,
            "{own:?} has no mirror image in {:?}",
            work.drilling
        );
    }
    assert_eq!(work.drilling.len(), 4);
}

/// A character with a cable that passes its plate, its plate without holes and that hole.
fn drilled() -> (Project, ShelfPlate, Drilling) {
    for name in CHARACTERS {
        let mut project = character(name);
        let mut plate = ShelfPlate::of(&project);
        plate.cable_holes.clear();
        while project.drives.len() > 1 {
            project.drives.pop();
        }
        let placed = fit(&project, &plate).placed.expect("it has a place");
        let work = work(&project, &plate, &placed);
        if let [hole] = work.drilling[..]
            && matches!(hole.hole, Drilled::CableHole { .. })
        {
            return (project, plate, hole);
        }
    }
    panic!("no character has a cable through its plate");
}

#[test]
fn beside_a_hole_that_is_there_it_is_widened_and_not_drilled_into() {
    let (project, mut plate, hole) = drilled();
    let [x, y] = hole.at_on_plate;
    // As wide and 1.5 mm off: the two would run into each other.
    let width = hole.size[1];
    plate.cable_holes = vec![PlateHole {
        ends: [[x, y + 1.5]; 2],
        width,
    }];
    let placed = fit(&project, &plate).placed.expect("it has a place");
    let wider = work(&project, &plate, &placed);
    let [order] = wider.drilling[..] else {
        panic!("one order: {:?}", wider.drilling);
    };
    assert!(matches!(order.hole, Drilled::WiderHole { hole: 0, .. }));
    assert!(
        order
            .sentence(&project)
            .starts_with("Widen cable hole 1 to this for the cable of ")
    );
    assert!(order.size[0] >= width + 1.5 - 1e-6, "{order:?}");
    let mut bare = plate.clone();
    bare.cable_holes.clear();
    let placed = fit(&project, &bare).placed.expect("it has a place");
    assert_eq!(wider.fouls(), work(&project, &bare, &placed).fouls());

    // Where a slot beside leaves no room for that, it is what the plate has no room for.
    let mut full = plate.clone();
    full.slots[0].at = [x, y + 1.5 + width / 2.0 + 1.2];
    full.slots[0].angle = layout::Degrees(0.0);
    let placed = fit(&project, &full).placed.expect("it has a place");
    let none = work(&project, &full, &placed);
    let of_cables = |own: &&Drilling| !is_of_slot(own);
    assert_eq!(none.drilling.iter().filter(of_cables).count(), 0);
    let of_drive = |lack: &&Lack| lack.beside.is_some() && lack.part.contains("of the drive");
    let lack = none.lacks.iter().find(of_drive);
    let lack = lack.expect("a hole has no room");
    assert_eq!(lack.state, State::Fouls);
    assert!(
        lack.sentence()
            .starts_with("There is no room for the cable hole 1 of the drive"),
        "{}",
        lack.sentence()
    );
    assert!(none.fouls() > wider.fouls());
}

#[test]
fn a_hole_that_lies_a_little_aside_is_widened_by_as_little() {
    /// As far off as a hole may be said to be there, and a little farther, mm.
    const OFF: [(f64, bool); 3] = [(0.05, true), (0.15, false), (0.6, false)];
    let (project, mut plate, hole) = drilled();
    let [length, width] = hole.size;
    assert!(length > width + 0.5, "{hole:?}");
    let turn = hole.angle_on_plate.radians();
    let (along, across) = ([turn.cos(), turn.sin()], [-turn.sin(), turn.cos()]);
    for (off, is_there) in OFF {
        let end = |way: f64| {
            [0, 1].map(|axis| {
                hole.at_on_plate[axis]
                    + way * (length - width) / 2.0 * along[axis]
                    + off * across[axis]
            })
        };
        plate.cable_holes = vec![PlateHole {
            ends: [end(-1.0), end(1.0)],
            width,
        }];
        let placed = fit(&project, &plate).placed.expect("it has a place");
        let orders = work(&project, &plate, &placed).drilling;
        assert_eq!(orders.is_empty(), is_there, "{off}: {orders:?}");
        for order in orders {
            assert!(matches!(order.hole, Drilled::WiderHole { hole: 0, .. }));
            // The two lie side by side, and their round ends touch the wider ones within.
            assert!(order.size[1] <= width + off + 1e-6, "{order:?}");
            assert!(order.size[0] <= length + off + 1e-6, "{order:?}");
        }
    }
}
