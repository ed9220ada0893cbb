//! Every rule looked at over a range of spacings.

use std::collections::BTreeMap;

use super::RuleSpans;
use super::moved::spaced;
use super::span::{SAME, Span};
use crate::evaluate::evaluate_in;
use crate::geometry::Point;
use crate::geometry::bounded::Bounded;
use crate::geometry::outline::Outline;
use crate::geometry::space::PASSED_OVER;
use crate::laid::Laid;
use crate::limits::{Limits, Rule, Sense, State, TOLERANCE};
use crate::lug::SHARED;
use crate::project::Project;
use crate::report::Finding;

/// Spacings that are looked at first lie at most this far apart, mm, where there are drives or rods: what jumps, such as
/// a hole that a sheath needs once it meets the plate, is seen if it lasts that long.
const WITH_DRIVES: f64 = 0.5;

/// The same without them, where nothing jumps but lugs that two eyes share.
const WITHOUT_DRIVES: f64 = 8.0;

/// Stretches narrower than this, mm, are not looked for: nobody places eyes nearer than that.
const NARROWEST: f64 = 0.01;

/// Of the cuts of a way on which a rule changes, every so many halve it, lest an uneven figure is approached from
/// one side alone; the others are where the figure would pass its limit if it changed evenly.
const HALVED: u32 = 3;

/// How far beside the place where a change is expected one looks next, as a share of [`SAME`].
const ENCLOSED: f64 = 0.4;

/// How near to a look a change is placed without another one beyond it, as a share of [`SAME`], if the figure goes on as
/// it does up to the next look: it may be five times as slow there and the end is still where it is told to be.
const PLACED: f64 = 0.1;

/// How much the figure of a rule changes at most for each mm of spacing: each eye moves by half of it, and wall and
/// guard stay; what lies between two things that both move changes by no more than they part. Figures in other
/// units than mm have no such bound; they are taken to change as slowly.
fn steepest(rule: Rule) -> f64 {
    match rule {
        Rule::PlateWall
        | Rule::SweepWall
        | Rule::LidWall
        | Rule::LugWall
        | Rule::SheathWall
        | Rule::GuardClearance
        | Rule::GuardCover
        | Rule::GuardEdge => 0.5,
        _ => 1.0,
    }
}

/// By how much the figures of two looks may differ, mm, and count as the same: what a sheath comes near is found by
/// halving, and true to [`PASSED_OVER`] only. As what jumps, what changes and changes back is seen if it lasts from one
/// of the first looks to the next.
fn blur(rule: Rule, apart: f64) -> f64 {
    match rule {
        Rule::SheathPlate
        | Rule::SheathBall
        | Rule::SheathRing
        | Rule::SheathLid
        | Rule::SheathLever
        | Rule::SheathWall
        | Rule::SheathGap
            if apart <= WITH_DRIVES =>
        {
            PASSED_OVER
        }
        _ => TOLERANCE,
    }
}

/// How far a rule is from its limits.
#[derive(Clone, Copy, Debug)]
struct Slack {
    holds: bool,
    clear: bool,
    /// How much the figure may still lose until it fouls, and until it is no longer clear, what is allowed for rounding
    /// included; without end where it may not, or where there is no figure.
    to_limits: [f64; 2],
}

impl Slack {
    const AMPLE: Self = Self {
        holds: true,
        clear: true,
        to_limits: [f64::INFINITY; 2],
    };

    fn of(rule: Rule, finding: &Finding, limits: &Limits, thickness: f64) -> Self {
        let limit = limits.of(rule, thickness);
        let to = |bound: f64| match (finding.value, rule.info().sense) {
            (Some(value), Sense::AtLeast) => value - bound + TOLERANCE,
            (Some(value), Sense::AtMost) => bound - value + TOLERANCE,
            (None, _) => f64::INFINITY,
        };
        Self {
            holds: finding.state != State::Fouls,
            clear: matches!(finding.state, State::Clear | State::NotChecked),
            to_limits: [to(limit.least), to(limit.wanted)],
        }
    }

    fn and(self, other: Self) -> Self {
        let [a, b] = [self.to_limits, other.to_limits];
        Self {
            holds: self.holds && other.holds,
            clear: self.clear && other.clear,
            to_limits: [a[0].min(b[0]), a[1].min(b[1])],
        }
    }

    fn state(self) -> [bool; 2] {
        [self.holds, self.clear]
    }

    /// The share of the way to another look at which the figure would pass a limit if it changed evenly; None for
    /// what jumps.
    fn share(&self, next: &Self, limit: usize) -> Option<f64> {
        let (a, b) = (self.to_limits[limit], next.to_limits[limit]);
        let share = a / (a - b);
        let even = a.is_finite() && b.is_finite() && (0.0..=1.0).contains(&share);
        even.then_some(share)
    }

    /// The shares of all limits that it passes, each None for what jumps.
    fn changes<'a>(&'a self, next: &'a Self) -> impl Iterator<Item = Option<f64>> + 'a {
        let passed = (0..self.to_limits.len()).filter(|&of| self.state()[of] != next.state()[of]);
        passed.map(|limit| self.share(next, limit))
    }
}

/// All rules at one spacing, in the order of [`Rule::ALL`].
struct Look {
    at: f64,
    rules: Vec<Slack>,
}

impl Look {
    /// Whether a figure that passes a limit on the way to another look does so right beside this one or that one.
    fn places(&self, next: &Self) -> bool {
        let apart = next.at - self.at;
        let mut changes = self.changes(next);
        changes.any(|share| is_placed(share, apart))
    }

    /// The limits that are passed on the way to another look: see [`Slack::changes`].
    fn changes<'a>(&'a self, next: &'a Self) -> impl Iterator<Item = Option<f64>> + 'a {
        let rules = self.rules.iter().zip(&next.rules);
        rules.flat_map(|(a, b)| a.changes(b))
    }

    /// Where a rule passes a limit on the way to the next look: in the middle of two that enclose it.
    fn border(&self, next: &Self, rule: usize, limit: usize) -> f64 {
        let apart = next.at - self.at;
        let share = self.rules[rule].share(&next.rules[rule], limit);
        let share = share.filter(|_| apart > SAME).unwrap_or(0.5);
        self.at + share * apart
    }

    /// Where to look next between two looks, if a rule may change there. What changes is followed to its
    /// place, what may touch a limit in between and turn back only as far as that is worth it.
    fn between(&self, next: &Self, earlier: u32) -> Option<f64> {
        let apart = next.at - self.at;
        let middle = f64::midpoint(self.at, next.at);
        let rules = || self.rules.iter().zip(&next.rules);
        let yet_to_place = self.changes(next).filter(|share| !is_placed(*share, apart));
        let first = yet_to_place
            .map(|share| share.unwrap_or(0.5))
            .reduce(f64::min);
        if let Some(first) = first.filter(|_| apart > SAME) {
            if earlier % HALVED == HALVED - 1 {
                return Some(middle);
            }
            // A little off both ends, so that a change which lies where it is expected is soon enclosed.
            let off = SAME * ENCLOSED / apart;
            return Some(self.at + apart * first.clamp(off, 1.0 - off));
        }
        if apart <= NARROWEST {
            return None;
        }
        let limits = Rule::ALL.iter().zip(rules()).flat_map(|(&rule, (a, b))| {
            let limits = a.to_limits.into_iter().zip(b.to_limits);
            limits.map(move |(a, b)| (rule, [a.abs(), b.abs()]))
        });
        let off = limits.filter_map(|(rule, to_limit)| way_to_touch(rule, to_limit, apart));
        let off = off.reduce(|a, b| if b.abs() > a.abs() { b } else { a })?;
        let start = if off > 0.0 { self.at } else { next.at };
        Some(start + off)
    }
}

/// Whether the place of a change between two looks is known well enough without another look.
fn is_placed(share: Option<f64>, apart: f64) -> bool {
    share.is_some_and(|share| share.min(1.0 - share) * apart <= SAME * PLACED)
}

/// How far to go from the look that is nearer to a limit toward the other one, negative from the second look, mm:
/// so far that a figure which changes evenly cannot touch the limit on the rest of the way. None if it cannot stay
/// beyond it for [`NARROWEST`] between these looks at all, `a` and `b` from it.
fn way_to_touch(rule: Rule, [a, b]: [f64; 2], apart: f64) -> Option<f64> {
    let steepest = steepest(rule);
    let room = steepest * (apart - NARROWEST) - a - b;
    if room <= 0.0 || (a - b).abs() <= blur(rule, apart) {
        return None;
    }
    let steep = (a - b).abs() / apart;
    let off = (room / (steepest + steep)).clamp(NARROWEST / 2.0, apart / 2.0);
    Some(if a < b { off } else { -off })
}

/// Part of a range of spacings: those of it that are looked at first, from the smallest on.
pub struct Stretch(Vec<f64>);

/// All rules over a stretch of spacings.
pub struct Looks(Vec<Look>);

/// All rules over a range of spacings, from the smallest on.
pub(super) struct Scan {
    looks: Vec<Look>,
}

impl Scan {
    /// Of stretches that follow each other: each begins where the one before ends.
    pub(super) fn of(stretches: Vec<Looks>) -> Self {
        let mut looks = Vec::<Look>::new();
        for Looks(more) in stretches {
            let known = usize::from(!looks.is_empty());
            looks.extend(more.into_iter().skip(known));
        }
        Self { looks }
    }

    pub(super) fn range(&self) -> Span {
        let ends = self.looks.first().zip(self.looks.last());
        let (low, high) = ends.map_or((0.0, 0.0), |(first, last)| (first.at, last.at));
        Span { low, high }
    }

    /// The rules that change and hold somewhere.
    pub(super) fn rules(&self) -> Vec<RuleSpans> {
        let mut changing = Vec::new();
        for (index, &rule) in Rule::ALL.iter().enumerate() {
            let mut states = self.looks.iter().map(|look| look.rules[index].state());
            let holds = states.clone().any(|[holds, _]| holds);
            if let Some(first) = states.next().filter(|_| holds)
                && states.any(|state| state != first)
            {
                changing.push(RuleSpans {
                    rule,
                    holds: self.spans(index, 0),
                    clear: self.spans(index, 1),
                });
            }
        }
        changing
    }

    /// The rules that foul everywhere.
    pub(super) fn always_foul(&self) -> Vec<Rule> {
        rules(|index| !self.looks.iter().any(|look| look.rules[index].holds))
    }

    /// The rules that hold somewhere and are clear nowhere.
    pub(super) fn never_clear(&self) -> Vec<Rule> {
        rules(|index| {
            let mut states = self.looks.iter().map(|look| look.rules[index].state());
            let holds = states.clone().any(|[holds, _]| holds);
            holds && !states.any(|[_, clear]| clear)
        })
    }

    /// The rules that foul at a spacing that was looked at.
    pub(super) fn fouling(&self, at: f64) -> Vec<Rule> {
        let look = self.looks.iter().find(|look| look.at == at);
        rules(|index| look.is_some_and(|look| !look.rules[index].holds))
    }

    /// The stretches in which a rule is within one of its limits.
    fn spans(&self, rule: usize, limit: usize) -> Vec<Span> {
        let mut spans = Vec::<Span>::new();
        let mut before = None::<&Look>;
        for look in &self.looks {
            let is_so = |look: &Look| look.rules[rule].state()[limit];
            let border = before.map_or(look.at, |before| before.border(look, rule, limit));
            match (before.is_some_and(is_so), is_so(look)) {
                (false, true) => spans.push(Span {
                    low: border,
                    high: look.at,
                }),
                (true, so) => {
                    if let Some(last) = spans.last_mut() {
                        last.high = if so { look.at } else { border };
                    }
                }
                (false, false) => {}
            }
            before = Some(look);
        }
        spans
    }
}

/// The rules of which something is so, by their places in [`Rule::ALL`].
fn rules(is_so: impl Fn(usize) -> bool) -> Vec<Rule> {
    let all = Rule::ALL.iter().enumerate();
    let of = all.filter(|(index, _)| is_so(*index));
    of.map(|(_, rule)| *rule).collect()
}

/// Spacings over the whole range, with the present one and those at which lugs of the two eyes are one.
fn first_spacings(search: &Search<'_>) -> Vec<f64> {
    let (project, eyes, present) = (search.project, search.eyes, search.present);
    let wall = &search.wall;
    let parts = eyes.map(|eye| project.parts_of(eye));
    let half_ball = parts[0].ball_diameter.min(parts[1].ball_diameter) / 2.0;
    let across = |far: fn(f64, f64) -> f64| wall.iter().map(|point| point.x).reduce(far);
    let width = across(f64::max)
        .zip(across(f64::min))
        .map_or(0.0, |(right, left)| right - left);
    // Farther apart than that, no two balls lie between the walls.
    let most = width - 2.0 * half_ball;
    let (low, high) = (half_ball.min(present), most.max(present).max(half_ball));
    let apart = if project.drives.is_empty() && project.rods.is_empty() {
        WITHOUT_DRIVES
    } else {
        WITH_DRIVES
    };
    let steps = ((high - low) / apart).ceil().max(1.0);
    let mut spacings = vec![high, present];
    let mut step = 0.0;
    while step < steps {
        spacings.push(low + (high - low) * step / steps);
        step += 1.0;
    }
    if let [Some(a), Some(b)] = parts.map(|parts| parts.lids.as_ref()) {
        let shared = f64::midpoint(a.pivot_spacing, b.pivot_spacing);
        // A little farther to either side they are two again, and stand in each other.
        let about = [-2.0 * SHARED, 0.0, 2.0 * SHARED].map(|off| shared + off);
        let within = |spacing: &f64| (low..=high).contains(spacing);
        spacings.extend(about.into_iter().filter(within));
    }
    spacings
}

/// A spacing window that is looked for stretch by stretch, each by itself: how many there are, and in which order they
/// are looked over, makes no difference.
pub struct Search<'a> {
    project: &'a Project,
    pub(super) eyes: [usize; 2],
    pub(super) present: f64,
    wall: Vec<Point>,
    bounded: Option<Bounded>,
    /// Where each rule stands in [`Rule::ALL`], by its id.
    places: BTreeMap<&'static str, usize>,
}

impl<'a> Search<'a> {
    /// That of two eyes; None if the project does not have them.
    pub fn of(project: &'a Project, eyes: [usize; 2]) -> Option<Self> {
        let [a, b] = eyes;
        if a == b {
            return None;
        }
        let apart = project.eyes.get(b)?.at() - project.eyes.get(a)?.at();
        let wall = project.head.wall();
        let ids = Rule::ALL.iter().map(|rule| rule.info().id);
        Some(Self {
            project,
            eyes,
            present: apart.norm(),
            bounded: Bounded::of(&Outline::polygon(&wall)),
            wall,
            places: ids.zip(0..).collect(),
        })
    }

    /// The whole range in `count` stretches, or about as many, from the smallest spacings on: each begins where the one
    /// before ends.
    pub fn stretches(&self, count: usize) -> Vec<Stretch> {
        let mut first = first_spacings(self);
        first.sort_by(f64::total_cmp);
        first.dedup();
        let last = first.len() - 1;
        let long = last.div_ceil(count.max(1)).max(1);
        let starts = (0..last.max(1)).step_by(long);
        starts
            .map(|start| Stretch(first[start..=last.min(start + long)].to_vec()))
            .collect()
    }

    /// Looks at all spacings of a stretch that may matter.
    pub fn look_over(&self, stretch: &Stretch) -> Looks {
        let mut looks: Vec<Look> = Vec::new();
        for &at in &stretch.0 {
            // A stack of looks yet to be reached, the nearest on top, each with how often the way to it was cut
            // since a change was placed.
            let mut ahead = vec![(self.look(at), 0)];
            while let Some((next, cuts)) = ahead.pop() {
                let Some((last, at)) = looks
                    .last()
                    .and_then(|last| Some((last, last.between(&next, cuts)?)))
                else {
                    looks.push(next);
                    continue;
                };
                let between = self.look(at);
                let placed = last.places(&between) || between.places(&next);
                let cuts = if placed { 0 } else { cuts + 1 };
                ahead.push((next, cuts));
                ahead.push((between, cuts));
            }
        }
        Looks(looks)
    }

    fn look(&self, at: f64) -> Look {
        let project = self.project;
        let mut rules = vec![Slack::AMPLE; Rule::ALL.len()];
        // Where they are, the eyes stay: moved there, they could be off by a rounding.
        let moved = if at == self.present {
            Some(project.clone())
        } else {
            spaced(project, self.eyes, at)
        };
        if let Some(moved) = moved {
            let laid = Laid::out_in(&moved, self.wall.clone());
            for finding in evaluate_in(&moved, &laid, self.bounded.as_ref()).findings {
                if let Some(&index) = self.places.get(finding.id) {
                    let thickness = project.plate.thickness;
                    let slack = Slack::of(Rule::ALL[index], &finding, &project.limits, thickness);
                    rules[index] = rules[index].and(slack);
                }
            }
        }
        Look { at, rules }
    }
}
