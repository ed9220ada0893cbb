//! Which tie runs to which anchor hole.

use super::{Candidate, GROWTH, REACH, SHORT_ENOUGH};
use crate::geometry::Point;
use crate::project::Project;
use crate::tie::TieSlot;

/// What a way longer than [`REACH`] costs on top, mm: more than all ways of a set that keeps within it, and a figure,
/// so that of sets that do not, those are still better that do by fewer ties.
pub(super) const TOO_FAR: f64 = 1e6;

/// The anchor holes that new ties can run to.
#[derive(Clone, Debug)]
pub(super) struct Anchors {
    /// Each hole's index and place.
    holes: Vec<(usize, Point)>,
    /// Whether there are too few, so that ties share them.
    shared: bool,
}

impl Anchors {
    /// The holes that no locked tie runs to, if they are enough for `new` ties; else all of them.
    pub(super) fn free(locked: &Project, new: usize) -> Self {
        let holes = locked.head.anchor_holes.iter().enumerate();
        let all: Vec<_> = holes.map(|(index, hole)| (index, hole.at.into())).collect();
        let is_free = |index: usize| !locked.ties.iter().any(|tie| tie.anchor == Some(index));
        let free: Vec<_> = all.iter().copied().filter(|own| is_free(own.0)).collect();
        if free.len() >= new {
            return Self {
                holes: free,
                shared: false,
            };
        }
        Self {
            holes: all,
            shared: true,
        }
    }

    /// What a slot costs with each hole, mm, and [`TOO_FAR`] with one out of reach; without a hole, what it costs by
    /// itself.
    pub(super) fn costs(&self, candidate: &Candidate) -> Vec<f64> {
        let growth = GROWTH * candidate.out;
        if self.holes.is_empty() {
            return vec![growth];
        }
        let middle = Point::from(candidate.slot.at);
        let way = |(_, hole): &(usize, Point)| {
            let way = (hole - middle).norm();
            way.max(SHORT_ENOUGH) + if way > REACH { TOO_FAR } else { 0.0 }
        };
        self.holes.iter().map(|hole| way(hole) + growth).collect()
    }

    /// Whether a slot has an anchor hole within [`REACH`], or the head has none.
    pub(super) fn reaches(&self, candidate: &Candidate) -> bool {
        let costs = self.costs(candidate);
        costs.into_iter().any(|cost| cost < TOO_FAR)
    }

    /// What a set of slots must cost less than, mm, each of which has a hole within [`REACH`], so that all ties keep
    /// within it: those that share holes do so anyway.
    pub(super) fn dearest(&self) -> f64 {
        if self.shared { f64::INFINITY } else { TOO_FAR }
    }

    /// The least sum of costs of ties with these costs by hole, and each one's hole among those.
    pub(super) fn least(&self, rows: &[&[f64]]) -> (f64, Vec<usize>) {
        if self.shared || self.holes.is_empty() {
            let nearest = |row: &&[f64]| {
                let columns = 0..row.len();
                columns.min_by(|&a, &b| row[a].total_cmp(&row[b]))
            };
            let chosen: Vec<usize> = rows.iter().filter_map(nearest).collect();
            let sum = rows.iter().zip(&chosen).map(|(row, &hole)| row[hole]).sum();
            return (sum, chosen);
        }
        assigned(rows)
    }

    /// The least sum of costs of some slots, and each one's anchor hole.
    pub(super) fn lead(&self, slots: &[&Candidate]) -> (f64, Vec<Option<usize>>) {
        let costs: Vec<Vec<f64>> = slots.iter().map(|slot| self.costs(slot)).collect();
        let rows: Vec<&[f64]> = costs.iter().map(Vec::as_slice).collect();
        let (sum, chosen) = self.least(&rows);
        let hole = |chosen: usize| self.holes.get(chosen).map(|hole| hole.0);
        (sum, chosen.into_iter().map(hole).collect())
    }
}

/// Of slots that are led to anchor holes, the hole of the one that has the longest way; None if none is led.
pub(super) fn farthest(project: &Project, slots: &[TieSlot]) -> Option<usize> {
    let way = |slot: &TieSlot| {
        let anchor = slot.anchor?;
        let [x, y] = project.head.anchor_holes.get(anchor)?.at;
        Some(((x - slot.at[0]).hypot(y - slot.at[1]), anchor))
    };
    let ways = slots.iter().filter_map(way);
    let farthest = ways.max_by(|a, b| a.0.total_cmp(&b.0));
    farthest.map(|(_, anchor)| anchor)
}

/// Gives each row a column of its own, so that the sum of costs is the least; there are at least as many
/// columns as rows. Rows come in one by one, each along the cheapest chain of rows that make way, with costs
/// kept from turning negative by a price on each row and column (the Hungarian method).
fn assigned(rows: &[&[f64]]) -> (f64, Vec<usize>) {
    let columns = rows.first().map_or(0, |row| row.len());
    let mut prices = (vec![0.0; rows.len()], vec![0.0; columns]);
    let mut holder: Vec<Option<usize>> = vec![None; columns];
    for new in 0..rows.len() {
        let mut reached = vec![f64::INFINITY; columns];
        let mut before: Vec<Option<usize>> = vec![None; columns];
        let mut done = vec![false; columns];
        let (mut row, mut from, mut so_far) = (new, None, 0.0);
        let end = loop {
            for column in (0..columns).filter(|&column| !done[column]) {
                let cost = so_far + rows[row][column] - prices.0[row] - prices.1[column];
                if cost < reached[column] {
                    (reached[column], before[column]) = (cost, from);
                }
            }
            let open = (0..columns).filter(|&column| !done[column]);
            let Some(next) = open.min_by(|&a, &b| reached[a].total_cmp(&reached[b])) else {
                break None;
            };
            (so_far, from, done[next]) = (reached[next], Some(next), true);
            match holder[next] {
                Some(own) => row = own,
                None => break Some(next),
            }
        };
        prices.0[new] += so_far;
        for column in (0..columns).filter(|&column| done[column] && reached[column] < so_far) {
            let by = so_far - reached[column];
            prices.1[column] -= by;
            if let Some(own) = holder[column] {
                prices.0[own] += by;
            }
        }
        let mut at = end;
        while let Some(column) = at {
            holder[column] = before[column].map_or(Some(new), |column| holder[column]);
            at = before[column];
        }
    }
    let place = |row: usize| holder.iter().position(|&own| own == Some(row));
    let chosen: Vec<usize> = (0..rows.len()).filter_map(place).collect();
    let sum = rows
        .iter()
        .zip(&chosen)
        .map(|(row, &column)| row[column])
        .sum();
    (sum, chosen)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The least sum over all ways to give each row a column of its own.
    fn tried(rows: &[&[f64]], used: &mut Vec<usize>) -> f64 {
        let Some((row, rest)) = rows.split_first() else {
            return 0.0;
        };
        let mut least = f64::INFINITY;
        for column in 0..row.len() {
            if !used.contains(&column) {
                used.push(column);
                least = least.min(row[column] + tried(rest, used));
                used.pop();
            }
        }
        least
    }

    #[test]
    fn no_other_way_to_lead_ties_to_holes_is_shorter() {
        let mut state = 7_u32;
        let mut cost = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 24)
        };
        for round in 0..600 {
            let (count, columns) = (1 + round % 5, 5 + round % 2);
            let costs: Vec<Vec<f64>> = (0..count)
                .map(|_| (0..columns).map(|_| cost()).collect())
                .collect();
            let rows: Vec<&[f64]> = costs.iter().map(Vec::as_slice).collect();
            let (sum, chosen) = assigned(&rows);
            assert_eq!(sum, tried(&rows, &mut Vec::new()), "{rows:?}");
            let mut once = chosen.clone();
            once.sort_unstable();
            once.dedup();
            assert_eq!(once.len(), count, "{chosen:?}");
        }
    }
}
