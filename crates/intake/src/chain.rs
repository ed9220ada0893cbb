//! Open curves joined by their ends.

use std::collections::BTreeMap;

use kurbo::{ParamCurve, ParamCurveDeriv, PathSeg, Point, Vec2};

use crate::curve::Curve;

/// Where more curves than this meet, only so many are weighed against each other.
const MOST_AT_A_POINT: usize = 16;

/// Joins open curves whose ends lie within `tolerance` of each other into closed ones where they can
/// be closed, and into open ones where they cannot.
///
/// Curves that lead nowhere are taken away first, so that a line left over from drawing does not break
/// an outline open. Where several go on, the smoothest does.
pub(crate) fn join(curves: Vec<Curve>, tolerance: f64) -> Vec<Curve> {
    let mut net = Net::of(curves, tolerance);
    let in_loop = net.in_loop();
    let mut joined = Vec::new();
    for index in 0..in_loop.len() {
        if in_loop[index] {
            net.walk(index, &in_loop, &mut joined);
        }
    }
    let rest = vec![true; in_loop.len()];
    // From a loose end first, so that a chain is found in one piece.
    let loose = |net: &Net, index: usize| {
        net.ends[index]
            .into_iter()
            .position(|node| net.live_at(node, &rest).take(2).count() == 1)
    };
    for index in 0..in_loop.len() {
        match loose(&net, index) {
            Some(1) => {
                net.turn(index);
                net.walk(index, &rest, &mut joined);
            }
            Some(_) => net.walk(index, &rest, &mut joined),
            None => {}
        }
    }
    for index in 0..in_loop.len() {
        net.walk(index, &rest, &mut joined);
    }
    joined
}

/// Curves and the points where they meet.
struct Net {
    /// Each curve, until it is joined.
    curves: Vec<Option<Curve>>,
    /// The nodes at the start and at the end of each curve.
    ends: Vec<[usize; 2]>,
    /// The curves at each node.
    at: Vec<Vec<usize>>,
    tolerance: f64,
}

impl Net {
    fn of(curves: Vec<Curve>, tolerance: f64) -> Self {
        let mut nodes = Nodes::new(tolerance);
        let mut at: Vec<Vec<usize>> = Vec::new();
        let mut ends = Vec::with_capacity(curves.len());
        for (index, curve) in curves.iter().enumerate() {
            let own = [curve.start(), curve.end()].map(|point| nodes.of(point));
            at.resize(nodes.count, Vec::new());
            for node in own {
                at[node].push(index);
            }
            ends.push(own);
        }
        Self {
            curves: curves.into_iter().map(Some).collect(),
            ends,
            at,
            tolerance,
        }
    }

    /// For each curve, whether it is part of what is left when all loose ends are taken away.
    fn in_loop(&self) -> Vec<bool> {
        let mut kept = vec![true; self.ends.len()];
        let mut degree: Vec<usize> = self.at.iter().map(Vec::len).collect();
        let mut loose: Vec<usize> = (0..degree.len()).filter(|&n| degree[n] == 1).collect();
        while let Some(node) = loose.pop() {
            let Some(&index) = self.at[node].iter().find(|&&index| kept[index]) else {
                continue;
            };
            kept[index] = false;
            for end in self.ends[index] {
                degree[end] -= 1;
                if degree[end] == 1 {
                    loose.push(end);
                }
            }
        }
        kept
    }

    /// The curves at a node that are not joined yet.
    fn live_at<'a>(&'a self, node: usize, among: &'a [bool]) -> impl Iterator<Item = usize> + 'a {
        let here = self.at[node].iter().copied();
        here.filter(|&index| among[index] && self.curves[index].is_some())
    }

    /// Turns a curve round.
    fn turn(&mut self, index: usize) {
        self.ends[index].reverse();
        self.curves[index] = self.curves[index].take().map(Curve::reversed);
    }

    /// Follows the curves on from this one, until it is closed or goes no farther.
    fn walk(&mut self, index: usize, among: &[bool], joined: &mut Vec<Curve>) {
        let [first, mut node] = self.ends[index];
        let Some(mut run) = self.curves[index].take() else {
            return;
        };
        while node != first {
            let Some(next) = self.smoothest(node, heading(run.pieces.last()), among) else {
                joined.push(run);
                return;
            };
            if self.ends[next][0] != node {
                self.turn(next);
            }
            node = self.ends[next][1];
            if let Some(mut curve) = self.curves[next].take() {
                curve.start_at(run.end());
                run.pieces.append(&mut curve.pieces);
            }
        }
        // Each end may lie one tolerance off its node.
        run.close(2.0 * self.tolerance);
        joined.push(run);
    }

    /// The curve at a node that turns least from the way it is come at.
    fn smoothest(&mut self, node: usize, heading: Vec2, among: &[bool]) -> Option<usize> {
        // What is joined already in front is not looked at again.
        let done = self.at[node].iter().position(|&i| self.curves[i].is_some());
        let done = done.unwrap_or(self.at[node].len());
        self.at[node].drain(..done);
        let ahead = |index: usize| {
            let curve = self.curves[index].as_ref();
            let pieces = curve.map_or(&[][..], |curve| &curve.pieces);
            let out = if self.ends[index][0] == node {
                self::heading(pieces.first().map(PathSeg::reverse).as_ref()) * -1.0
            } else {
                self::heading(pieces.last()) * -1.0
            };
            out.dot(heading)
        };
        let mut best: Option<(usize, f64)> = None;
        for index in self.live_at(node, among).take(MOST_AT_A_POINT) {
            let ahead = ahead(index);
            if best.is_none_or(|(_, most)| ahead > most) {
                best = Some((index, ahead));
            }
        }
        best.map(|(index, _)| index)
    }
}

/// The direction in which a piece ends, a unit vector; 0 where it has none.
fn heading(piece: Option<&PathSeg>) -> Vec2 {
    let Some(piece) = piece else {
        return Vec2::ZERO;
    };
    let cubic = piece.to_cubic();
    let along = cubic.deriv().eval(1.0).to_vec2();
    // A handle of no length gives no direction.
    let along = [along, cubic.p3 - cubic.p1, cubic.p3 - cubic.p0]
        .into_iter()
        .find(|along| along.hypot2() > 0.0);
    along.map_or(Vec2::ZERO, Vec2::normalize)
}

/// Points within a tolerance of each other, counted as one.
struct Nodes {
    cells: BTreeMap<[i64; 2], Vec<(Point, usize)>>,
    count: usize,
    tolerance: f64,
}

impl Nodes {
    fn new(tolerance: f64) -> Self {
        Self {
            cells: BTreeMap::new(),
            count: 0,
            tolerance,
        }
    }

    /// The node at a point; a new one if there is none yet.
    fn of(&mut self, point: Point) -> usize {
        let [x, y] = [point.x, point.y].map(|v| self.cell(v));
        let around = (-1..=1).flat_map(|dx: i64| (-1..=1).map(move |dy: i64| [dx, dy]));
        let mut near = around
            .filter_map(|[dx, dy]| {
                self.cells
                    .get(&[x.saturating_add(dx), y.saturating_add(dy)])
            })
            .flatten()
            .filter(|(other, _)| other.distance(point) <= self.tolerance);
        if let Some(&(_, node)) = near.next() {
            return node;
        }
        let node = self.count;
        self.count += 1;
        self.cells.entry([x, y]).or_default().push((point, node));
        node
    }

    #[allow(
        clippy::cast_possible_truncation,
        reason = "cells too far out to be told apart are one; distances decide"
    )]
    fn cell(&self, along: f64) -> i64 {
        (along / self.tolerance).floor() as i64
    }
}
