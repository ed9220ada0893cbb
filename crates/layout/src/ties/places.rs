//! Where along the plate a slot can be.

use std::fmt;

use serde::Serialize;

use super::Wanted;
use super::along::{self, Spot};
use crate::angle::Degrees;
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::laid::Laid;
use crate::limits::{Rule, TOLERANCE};
use crate::project::Project;
use crate::tie::TieSlot;

/// Between two spots along the plate's edge, mm: less than a pitch of the smallest ties. Own choice.
pub const STEP: f64 = 4.0;

/// Between two places of one spot, outward, mm. Own choice.
pub const ROW: f64 = 4.0;

/// How many places a spot has: one just inside the edge and the rest outward from it. A pad that stands
/// farther out than 20 mm is an ear that bends. Own choice.
const ROWS: u32 = 6;

/// Places are given in whole steps of this, mm, and slots turned by whole degrees, as a maker marks them.
const ROUND: f64 = 0.1;

/// How much deeper than wanted a slot lies inside the edge, mm, so that rounding does not push its pad out.
const DEEPER: f64 = 0.1;

/// A place for a slot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Candidate {
    /// The slot there, led to no anchor hole yet.
    pub slot: TieSlot,
    /// The spot along the edge, by its number: one spot takes one slot.
    pub spot: usize,
    /// How far its pad stands out of the plate as it is, mm.
    pub out: f64,
}

/// What is placed at once: one slot, or a mirrored pair.
pub type Unit = Vec<Candidate>;

/// What keeps a slot from a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum InTheWay {
    /// The edge of a plate that gets no pads.
    Edge,
    /// The wall of the head.
    Wall,
    /// An opening.
    Opening,
    /// What turns with an eye.
    Sweep,
    /// The foot of a lug.
    Lug,
    /// A cable hole.
    CableHole,
    /// A slot that is locked.
    Slot,
    /// Its own mirror image.
    Mirror,
}

impl fmt::Display for InTheWay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Edge => "the plate's edge",
            Self::Wall => "the wall",
            Self::Opening => "the openings",
            Self::Sweep => "what the eyes sweep behind the plate",
            Self::Lug => "the lugs",
            Self::CableHole => "the cable holes",
            Self::Slot => "the locked slots",
            Self::Mirror => "the centre line",
        })
    }
}

/// All places for slots beside those of `bare`, in their order along the plate's edge, and what takes the
/// others with how many it takes.
pub fn places(bare: &Project, laid: &Laid, wanted: &Wanted) -> (Vec<Unit>, Vec<(InTheWay, usize)>) {
    let (mut units, mut taken) = (Vec::new(), Vec::<(InTheWay, usize)>::new());
    let Some(ground) = Ground::of(bare, laid) else {
        return (units, taken);
    };
    let (mut pairs, mut single) = (along::at_steps(&laid.plate, STEP), Vec::new());
    if wanted.mirrored {
        pairs.retain(|spot| spot.at.x > 0.0);
        single = along::on_centre_line(&laid.plate);
    }
    let own = |alone: bool| move |spot: Spot| (spot, alone);
    let pairs = pairs.into_iter().map(own(!wanted.mirrored));
    let spots = pairs.chain(single.into_iter().map(own(true)));
    for (index, (spot, alone)) in spots.enumerate() {
        for row in 0..ROWS {
            let slot = ground.slot(&spot, row, wanted.tie);
            let opposite = (!alone).then(|| mirror_image(&slot));
            match ground.unit(index, slot, opposite) {
                Ok(unit) => units.push(unit),
                Err(by) => match taken.iter_mut().find(|(own, _)| *own == by) {
                    Some((_, count)) => *count += 1,
                    None => taken.push((by, 1)),
                },
            }
        }
    }
    taken.sort_by_key(|&(by, count)| (std::cmp::Reverse(count), by));
    (units, taken)
}

/// The same slot across the centre line.
fn mirror_image(slot: &TieSlot) -> TieSlot {
    TieSlot {
        at: [-slot.at[0], slot.at[1]],
        angle: upward(-slot.angle.0),
        ..*slot
    }
}

/// The direction of a line that points up, or to the right: above −90°, up to 90°.
pub(crate) fn upward(degrees: f64) -> Degrees {
    // Of a zero the sign goes, too.
    let turned = degrees.rem_euclid(180.0) + 0.0;
    Degrees(if turned > 90.0 {
        turned - 180.0
    } else {
        turned
    })
}

/// What slots are placed in, and the widths of the webs that they keep, mm.
struct Ground<'a> {
    bare: &'a Project,
    laid: &'a Laid,
    plate: Bounded,
    wall: Option<Bounded>,
    /// Of a slot's pad.
    web: f64,
}

impl<'a> Ground<'a> {
    /// None without a plate.
    fn of(bare: &'a Project, laid: &'a Laid) -> Option<Self> {
        let plate = Bounded::of(&laid.plate)?;
        let ground = Self {
            bare,
            laid,
            plate,
            wall: Bounded::of(&Outline::polygon(&laid.wall)),
            web: 0.0,
        };
        let web = ground.wanted(Rule::SlotEdge).max(0.0);
        Some(Self { web, ..ground })
    }

    fn wanted(&self, rule: Rule) -> f64 {
        let limits = &self.bare.limits;
        limits.of(rule, self.bare.plate.thickness).wanted
    }

    /// The slot at a spot, its long side along the edge: with its web inside it, or `row` rows outward.
    fn slot(&self, spot: &Spot, row: u32, tie: [f64; 2]) -> TieSlot {
        let along = spot.out.y.atan2(spot.out.x) + std::f64::consts::FRAC_PI_2;
        let mut slot = TieSlot {
            at: [0.0; 2],
            angle: upward(Degrees::from_radians(along).0.round()),
            tie,
            anchor: None,
            locked: false,
        };
        let depth = self.web + slot.size()[1] / 2.0 + DEEPER;
        let middle = spot.at + spot.out * (f64::from(row) * ROW - depth);
        slot.at = [middle.x, middle.y].map(|along| (along / ROUND).round() * ROUND);
        slot
    }

    /// A slot, and another that goes with it, or what is in the way.
    fn unit(
        &self,
        spot: usize,
        slot: TieSlot,
        opposite: Option<TieSlot>,
    ) -> Result<Unit, InTheWay> {
        if let Some(opposite) = &opposite
            && !apart(&slot, opposite, self.wanted(Rule::SlotGap))
        {
            return Err(InTheWay::Mirror);
        }
        let slots = [slot].into_iter().chain(opposite);
        let candidate = |slot: TieSlot| {
            let out = self.out(&slot);
            let in_the_way = self.in_the_way(&slot, out);
            in_the_way.map_or(Ok(Candidate { slot, spot, out }), Err)
        };
        slots.map(candidate).collect()
    }

    /// How far a slot's pad stands out of the plate, mm.
    fn out(&self, slot: &TieSlot) -> f64 {
        let gap = slot.gap_to_edge(&self.plate);
        gap.map_or(0.0, |gap| (self.web - gap.distance).max(0.0))
    }

    /// What comes nearer to a slot than is wanted.
    fn in_the_way(&self, slot: &TieSlot, out: f64) -> Option<InTheWay> {
        let (laid, bare) = (self.laid, self.bare);
        let near = |gap: f64, rule: Rule| gap < self.wanted(rule) - TOLERANCE;
        // Where the pad lies within the plate, the plate stays as it is.
        if out > TOLERANCE {
            if !self.bare.plate.gets_pads() {
                return Some(InTheWay::Edge);
            }
            let wall = self.wall.as_ref().and_then(|wall| slot.gap_to_edge(wall));
            if wall.is_none_or(|gap| near(gap.distance - self.web, Rule::PlateWall)) {
                return Some(InTheWay::Wall);
            }
        }
        in_the_way(slot, bare, laid)
    }
}

/// What of a project comes nearer to one more slot than is wanted, be it in the plate or behind it; neither the
/// plate's edge nor the wall.
pub(crate) fn in_the_way(slot: &TieSlot, bare: &Project, laid: &Laid) -> Option<InTheWay> {
    let wanted = |rule| bare.limits.of(rule, bare.plate.thickness).wanted;
    let near = |gap: f64, rule: Rule| gap < wanted(rule) - TOLERANCE;
    let openings = laid.eyes.iter().filter_map(|eye| eye.opening());
    let mut gaps = openings.filter_map(|opening| slot.gap_to_opening(opening));
    if gaps.any(|gap| near(gap.distance, Rule::SlotOpening)) {
        return Some(InTheWay::Opening);
    }
    let back = -bare.plate.thickness;
    let mut sweeps = laid
        .eyes
        .iter()
        .filter_map(|eye| slot.strap_to_sweep(eye, back));
    if sweeps.any(|(gap, _)| near(gap, Rule::Hardware)) {
        return Some(InTheWay::Sweep);
    }
    let lugs = laid.eyes.iter().filter_map(|eye| eye.lugs).flatten();
    let mut lugs = lugs.filter_map(|lug| slot.gap_to_lug(&lug));
    if lugs.any(|gap| near(gap.distance, Rule::LugSlot)) {
        return Some(InTheWay::Lug);
    }
    let mut holes = laid.cable_holes().filter_map(|hole| hole.gap_to_slot(slot));
    if holes.any(|gap| near(gap.distance, Rule::HoleSlot)) {
        return Some(InTheWay::CableHole);
    }
    let gap = wanted(Rule::SlotGap);
    let mut locked = bare.ties.iter();
    locked
        .any(|other| !apart(slot, other, gap))
        .then_some(InTheWay::Slot)
}

/// Whether two slots leave a web of `gap`, mm, between them.
pub(super) fn apart(one: &TieSlot, other: &TieSlot, gap: f64) -> bool {
    let [x, y] = [0, 1].map(|axis| one.at[axis] - other.at[axis]);
    let clear = one.half_diagonal() + other.half_diagonal() + gap;
    x.hypot(y) >= clear
        || one
            .gap_to(other)
            .is_none_or(|own| own.distance >= gap - TOLERANCE)
}
