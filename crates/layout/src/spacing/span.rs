//! Stretches of spacings.

/// How near two ends must lie, mm, to be one: each is found to half of this.
pub(super) const SAME: f64 = 1e-3;

/// How finely a middle is told where there is room, in places for each mm, the coarsest first.
const PLACES: [f64; 3] = [10.0, 100.0, 1000.0];

/// How far a round place may lie from the middle, as a share of the stretch: half as far as the ends do.
const ROOM: f64 = 0.25;

/// A stretch of spacings, mm, its ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The smallest.
    pub low: f64,
    /// The largest.
    pub high: f64,
}

impl Span {
    /// Whether a spacing lies in it.
    pub fn contains(self, at: f64) -> bool {
        (self.low..=self.high).contains(&at)
    }

    /// Its middle.
    pub fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }

    /// The roundest spacing near its middle: as coarse as it may be without coming nearer to an end than to the middle.
    pub fn round_middle(self) -> f64 {
        let (middle, room) = (self.middle(), ROOM * (self.high - self.low));
        let places = PLACES.map(|places| (middle * places).round() / places);
        let fits = |place: &f64| (place - middle).abs() <= room;
        places.into_iter().find(fits).unwrap_or(middle)
    }

    /// Whether one of its ends is this one.
    pub(super) fn ends_at(self, end: f64) -> bool {
        [self.low, self.high]
            .iter()
            .any(|own| (own - end).abs() <= SAME)
    }

    fn off(self, at: f64) -> f64 {
        (self.low - at).max(at - self.high).max(0.0)
    }
}

/// What all lists have in common within `range`.
pub(super) fn common<'a>(range: Span, lists: impl Iterator<Item = &'a [Span]>) -> Vec<Span> {
    lists.fold(vec![range], |common, list| {
        let both = common.iter().flat_map(|one| {
            list.iter().map(|other| Span {
                low: one.low.max(other.low),
                high: one.high.min(other.high),
            })
        });
        both.filter(|span| span.low <= span.high).collect()
    })
}

/// The one that contains a spacing, as far as its ends are known.
pub(super) fn around(spans: &[Span], at: f64) -> Option<Span> {
    nearest(spans, at).filter(|span| span.off(at) <= SAME / 2.0)
}

/// The one nearest to a spacing.
pub(super) fn nearest(spans: &[Span], at: f64) -> Option<Span> {
    let nearer = |a: &Span, b: &Span| a.off(at).total_cmp(&b.off(at));
    spans.iter().copied().min_by(nearer)
}
