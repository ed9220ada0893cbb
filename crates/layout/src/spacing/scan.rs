//! Every rule looked at over a range of spacings.

use super::RuleSpans;
use super::moved::spaced;
use super::span::{SAME, Span};
use crate::evaluate;
use crate::limits::{Limits, Rule, Sense, State, TOLERANCE};
use crate::project::Project;
use crate::report::Finding;

/// Spacings that are looked at first lie at most this far apart, mm: what jumps, such as a hole that a sheath
/// needs once it meets the plate, is seen if it lasts that long.
const FIRST_STEP: f64 = 0.5;

/// Stretches narrower than this, mm, are not looked for: nobody places eyes nearer than that.
const NARROWEST: f64 = 0.01;

/// A figure changes by at most this much for each mm of spacing: both eyes move by half of it, and what lies
/// between two things that both move changes by no more than they part.
const STEEPEST: f64 = 1.0;

/// How far a rule is from its limits.
#[derive(Clone, Copy, Debug)]
struct Slack {
    holds: bool,
    clear: bool,
    /// How much the figure may still lose until it fouls, and until it is no longer clear; without end where
    /// it may not, or where there is no figure.
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
            (Some(value), Sense::AtLeast) => value - bound,
            (Some(value), Sense::AtMost) => bound - value,
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
}

/// All rules at one spacing, in the order of [`Rule::ALL`].
struct Look {
    at: f64,
    rules: Vec<Slack>,
}

impl Look {
    /// Whether a rule may change between two looks. What changes is followed to its place, what may touch
    /// a limit in between and turn back only as far as that is worth it.
    fn may_hide(&self, next: &Self) -> bool {
        let apart = next.at - self.at;
        let rules = self.rules.iter().zip(&next.rules);
        rules.into_iter().any(|(a, b)| {
            if a.state() != b.state() {
                return apart > SAME;
            }
            let touches = |index: usize| {
                let (a, b) = (a.to_limits[index], b.to_limits[index]);
                (a - b).abs() > TOLERANCE && a.abs() + b.abs() < STEEPEST * apart
            };
            apart > NARROWEST && (touches(0) || touches(1))
        })
    }
}

/// All rules over a range of spacings, from the smallest on.
pub(super) struct Scan {
    looks: Vec<Look>,
}

impl Scan {
    pub(super) fn of(project: &Project, eyes: [usize; 2], present: f64) -> Self {
        let look = |at: f64| look(project, eyes, at);
        let mut first = first_spacings(project, eyes, present);
        first.sort_by(f64::total_cmp);
        first.dedup();
        let mut looks: Vec<Look> = Vec::new();
        for at in first {
            let next = look(at);
            // A stack of looks yet to be reached, the nearest on top.
            let mut ahead = vec![next];
            while let Some(next) = ahead.pop() {
                match looks.last() {
                    Some(last) if last.may_hide(&next) => {
                        let middle = f64::midpoint(last.at, next.at);
                        ahead.push(next);
                        ahead.push(look(middle));
                    }
                    _ => looks.push(next),
                }
            }
        }
        Self { looks }
    }

    pub(super) fn range(&self) -> Span {
        let ends = self.looks.first().zip(self.looks.last());
        let (low, high) = ends.map_or((0.0, 0.0), |(first, last)| (first.at, last.at));
        Span { low, high }
    }

    /// The rules that change, and those that foul everywhere.
    pub(super) fn rules(&self) -> (Vec<RuleSpans>, Vec<Rule>) {
        let (mut changing, mut always_foul) = (Vec::new(), Vec::new());
        for (index, &rule) in Rule::ALL.iter().enumerate() {
            let mut states = self.looks.iter().map(|look| look.rules[index].state());
            if !self.looks.iter().any(|look| look.rules[index].holds) {
                always_foul.push(rule);
            } else if let Some(first) = states.next()
                && states.any(|state| state != first)
            {
                changing.push(RuleSpans {
                    rule,
                    holds: self.spans(|look| look.rules[index].holds),
                    clear: self.spans(|look| look.rules[index].clear),
                });
            }
        }
        (changing, always_foul)
    }

    /// The stretches in which something is so.
    fn spans(&self, is_so: impl Fn(&Look) -> bool) -> Vec<Span> {
        let mut spans = Vec::<Span>::new();
        let mut before = None::<&Look>;
        for look in &self.looks {
            let was = before.is_some_and(&is_so);
            let border = before.map_or(look.at, |before| f64::midpoint(before.at, look.at));
            match (was, is_so(look)) {
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

/// Spacings over the whole range, with the present one and those at which lugs of the two eyes are one.
fn first_spacings(project: &Project, eyes: [usize; 2], present: f64) -> Vec<f64> {
    let parts = eyes.map(|eye| project.parts_of(eye));
    let half_ball = parts[0].ball_diameter.min(parts[1].ball_diameter) / 2.0;
    let wall = project.head.wall();
    let across = |far: fn(f64, f64) -> f64| wall.iter().map(|point| point.x).reduce(far);
    let width = across(f64::max)
        .zip(across(f64::min))
        .map_or(0.0, |(right, left)| right - left);
    // Farther apart than that, no two balls lie between the walls.
    let most = width - 2.0 * half_ball;
    let (low, high) = (half_ball.min(present), most.max(present).max(half_ball));
    let steps = ((high - low) / FIRST_STEP).ceil().max(1.0);
    let mut spacings = vec![high, present];
    let mut step = 0.0;
    while step < steps {
        spacings.push(low + (high - low) * step / steps);
        step += 1.0;
    }
    if let [Some(a), Some(b)] = parts.map(|parts| parts.lids.as_ref()) {
        let shared = f64::midpoint(a.pivot_spacing, b.pivot_spacing);
        spacings.extend((low..=high).contains(&shared).then_some(shared));
    }
    spacings
}

fn look(project: &Project, eyes: [usize; 2], at: f64) -> Look {
    let mut rules = vec![Slack::AMPLE; Rule::ALL.len()];
    if let Some(moved) = spaced(project, eyes, at) {
        for finding in evaluate(&moved).findings {
            if let Some(index) = Rule::ALL
                .iter()
                .position(|rule| rule.info().id == finding.id)
            {
                let thickness = project.plate.thickness;
                let slack = Slack::of(Rule::ALL[index], &finding, &project.limits, thickness);
                rules[index] = rules[index].and(slack);
            }
        }
    }
    Look { at, rules }
}
