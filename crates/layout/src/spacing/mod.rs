//! How far apart two eyes may stand: the spacings at which each rule holds, and their window.
//!
//! Everything else is kept: slots and drives move with their eye, the plate is laid out again. Spacings are
//! distances between the centres of two eyes, in mm.

mod guides;
mod moved;
mod scan;
mod span;

pub use guides::{FIFTHS, Guide, face_width, guides};
pub(crate) use moved::set;
pub use moved::{neighbour, pair, spaced};
use scan::Scan;
pub use scan::{Looks, Search, Stretch};
pub use span::Span;

use crate::limits::{Rule, State};
use crate::project::Project;
use crate::report::Report;

/// Where one rule holds and where it is clear.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleSpans {
    /// The rule.
    pub rule: Rule,
    /// Where it does not foul, from the smallest on.
    pub holds: Vec<Span>,
    /// Where it is clear.
    pub clear: Vec<Span>,
}

/// How far apart two eyes may stand.
#[derive(Clone, Debug, PartialEq)]
pub struct SpacingWindow {
    /// The two eyes.
    pub eyes: [usize; 2],
    /// How far apart they are, mm.
    pub present: f64,
    /// The rules that foul there, as `evaluate` says.
    pub fouling: Vec<Rule>,
    /// The spacings that were looked at.
    pub range: Span,
    /// The rules for which the spacing makes a difference.
    pub rules: Vec<RuleSpans>,
    /// The rules that foul at every spacing: another mends nothing about them, and the window leaves them out.
    pub always_foul: Vec<Rule>,
    /// The rules that hold at some spacing and are clear at none.
    pub never_clear: Vec<Rule>,
    /// Where all rules hold but those that foul at every spacing.
    pub holds: Vec<Span>,
    /// Where, of these, all are clear but those that are so at no spacing.
    pub clear: Vec<Span>,
}

impl Search<'_> {
    /// The window, from what was seen of all its stretches, in their order.
    pub fn window(&self, stretches: Vec<Looks>) -> SpacingWindow {
        let (eyes, present) = (self.eyes, self.present);
        let looked = Scan::of(stretches);
        let rules = looked.rules();
        let common =
            |of: fn(&RuleSpans) -> &[Span]| span::common(looked.range(), rules.iter().map(of));
        let (holds, clear) = (
            common(|own| &own.holds),
            common(RuleSpans::as_clear_as_can_be),
        );
        SpacingWindow {
            eyes,
            present,
            fouling: looked.fouling(present),
            range: looked.range(),
            always_foul: looked.always_foul(),
            never_clear: looked.never_clear(),
            rules,
            holds,
            clear,
        }
    }
}

/// The spacing window of two eyes; None if the project does not have them.
///
/// The range reaches from half a ball to where two balls would touch the head's walls, and as far as the eyes
/// are now. A rule's ends are found to 0.0005 mm. Stretches narrower than 0.01 mm are not looked for, but for
/// lugs that two eyes share; with drives or rods, nor are what jumps and what sheaths come near if it changes back
/// within 0.5 mm, and without, jumps that change back within 8 mm, of which none is known.
pub fn window(project: &Project, eyes: [usize; 2]) -> Option<SpacingWindow> {
    let search = Search::of(project, eyes)?;
    let stretches = search.stretches(1);
    let looked = stretches.iter().map(|stretch| search.look_over(stretch));
    Some(search.window(looked.collect()))
}

impl RuleSpans {
    /// Where it is clear, or where it holds if it is clear nowhere.
    fn as_clear_as_can_be(&self) -> &[Span] {
        if self.clear.is_empty() {
            &self.holds
        } else {
            &self.clear
        }
    }

    /// How far a spacing lies from the nearest one within `range` at which it changes, mm.
    fn off_change(&self, at: f64, range: Span) -> f64 {
        let spans = self.holds.iter().chain(&self.clear);
        let ends = spans.flat_map(|span| [span.low, span.high]);
        let inner = ends.filter(|end| *end > range.low && *end < range.high);
        inner
            .map(|end| (end - at).abs())
            .fold(f64::INFINITY, f64::min)
    }
}

impl SpacingWindow {
    /// Puts the eyes at another spacing, mm, where the project's report is this one. The window stays what it is:
    /// everything that it was found for moves with them.
    pub fn stand(&mut self, present: f64, report: &Report) {
        let fouls = |rule: &&Rule| {
            let mut own = report.findings.iter();
            own.any(|found| found.id == rule.info().id && found.state == State::Fouls)
        };
        self.present = present;
        self.fouling = Rule::ALL.iter().filter(fouls).copied().collect();
    }

    /// The stretch that the eyes may stand in without a foul and that they stand in now. Whether they do is for
    /// `evaluate` to say: no wider than the present spacing where a stretch that holds was not found.
    pub fn now(&self) -> Option<Span> {
        let here = Span {
            low: self.present,
            high: self.present,
        };
        let holds = self.broken().is_empty();
        holds.then(|| span::around(&self.holds, self.present).unwrap_or(here))
    }

    /// The stretch without a foul that is nearest to the present spacing.
    pub fn nearest(&self) -> Option<Span> {
        span::nearest(&self.holds, self.present)
    }

    /// The stretches without a foul that the eyes do not stand in now.
    pub fn others(&self) -> Vec<Span> {
        let now = self.now();
        let others = self.holds.iter().copied();
        others.filter(|span| Some(*span) != now).collect()
    }

    /// The rules that set an end of a stretch: which hold no farther there.
    pub fn governing(&self, end: f64) -> Vec<Rule> {
        let ends_there = |own: &&RuleSpans| own.holds.iter().any(|span| span.ends_at(end));
        let rules = self.rules.iter().filter(ends_there);
        rules.map(|own| own.rule).collect()
    }

    /// The rules that the present spacing breaks and another would not.
    pub fn broken(&self) -> Vec<Rule> {
        let rules = self.rules.iter().map(|own| own.rule);
        rules.filter(|rule| self.fouling.contains(rule)).collect()
    }

    /// The rules that the spacing changes: first those that contradict each other or set an end of where the eyes may
    /// stand, then those that are broken, then the rest; among each, those first that change nearest to the present
    /// spacing.
    pub fn ranked(&self) -> Vec<&RuleSpans> {
        let mut setting = self.contradiction();
        if let Some(span) = self.now().or_else(|| self.nearest()) {
            setting.extend(
                [span.low, span.high]
                    .map(|end| self.governing(end))
                    .concat(),
            );
        }
        let broken = self.broken();
        let rank = |own: &RuleSpans| match own.rule {
            rule if setting.contains(&rule) => 0,
            rule if broken.contains(&rule) => 1,
            _ => 2,
        };
        let off = |own: &RuleSpans| own.off_change(self.present, self.range);
        let mut rules: Vec<_> = self.rules.iter().collect();
        rules.sort_by(|a, b| rank(a).cmp(&rank(b)).then(off(a).total_cmp(&off(b))));
        rules
    }

    /// A round spacing in the middle of where the eyes may stand: of the clear stretch nearest to the present
    /// spacing, or else of the nearest that holds.
    pub fn middle(&self) -> Option<f64> {
        let spans = if self.clear.is_empty() {
            &self.holds
        } else {
            &self.clear
        };
        Some(span::nearest(spans, self.present)?.round_middle())
    }

    /// Where no spacing holds: rules that contradict each other, so that each but for the rest could hold.
    /// Nothing where one does hold.
    pub fn contradiction(&self) -> Vec<Rule> {
        let mut rules: Vec<&RuleSpans> = self.rules.iter().collect();
        rules.retain(|own| !own.holds.is_empty());
        let none = |rules: &[&RuleSpans]| {
            let lists = rules.iter().map(|own| own.holds.as_slice());
            span::common(self.range, lists).is_empty()
        };
        if !none(&rules) {
            return Vec::new();
        }
        // What the rest contradicts without is not needed.
        let mut index = 0;
        while index < rules.len() {
            let without = rules.remove(index);
            if !none(&rules) {
                rules.insert(index, without);
                index += 1;
            }
        }
        rules.iter().map(|own| own.rule).collect()
    }
}
