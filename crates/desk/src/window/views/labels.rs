//! Where labels go so that none hides another.

use egui::{Pos2, Rect, Vec2, vec2};

/// Directions in which a label is tried, the likeliest first: beside, above and below, askew.
const DIRECTIONS: [Vec2; 8] = [
    vec2(1.0, 0.0),
    vec2(-1.0, 0.0),
    vec2(0.0, -1.0),
    vec2(0.0, 1.0),
    vec2(0.7, -0.7),
    vec2(-0.7, -0.7),
    vec2(0.7, 0.7),
    vec2(-0.7, 0.7),
];

/// Distances between place and label that are tried, in points.
const DISTANCES: [f32; 6] = [9.0, 18.0, 30.0, 44.0, 62.0, 84.0];

/// The labels of one view.
#[derive(Debug)]
pub(super) struct Labels {
    within: Rect,
    taken: Vec<Rect>,
}

impl Labels {
    /// A view that holds no label yet.
    pub(super) fn within(within: Rect) -> Self {
        Self {
            within,
            taken: Vec::new(),
        }
    }

    /// Keeps a place free of labels.
    pub(super) fn keep_free(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// Finds room for a label of some size near a place, and takes it. Where the view is full, the
    /// room that covers least of the others.
    pub(super) fn place(&mut self, at: Pos2, size: Vec2) -> Rect {
        let candidates = DISTANCES.into_iter().flat_map(|distance| {
            DIRECTIONS.map(|way| {
                let centre = at + way * distance + way * size / 2.0;
                Rect::from_center_size(centre, size)
            })
        });
        let mut best = Rect::from_center_size(at, size);
        let mut least = f32::INFINITY;
        for candidate in candidates {
            let covered = self.covered_by(candidate, least);
            if covered < least {
                (best, least) = (candidate, covered);
            }
            if covered <= 0.0 {
                break;
            }
        }
        self.taken.push(best);
        best
    }

    /// How much of what must stay visible a label would cover, or lose beyond the view's edge, in
    /// square points, added up until it is `enough`.
    fn covered_by(&self, label: Rect, enough: f32) -> f32 {
        let area = |rect: Rect| rect.width().max(0.0) * rect.height().max(0.0);
        let lost = area(label) - area(label.intersect(self.within));
        let mut covered = lost;
        for taken in self.taken.iter().filter(|taken| taken.intersects(label)) {
            covered += area(taken.intersect(label));
            if covered >= enough {
                break;
            }
        }
        covered
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::pos2;

    #[test]
    fn labels_of_one_place_do_not_cover_each_other() {
        let within = Rect::from_min_size(pos2(0.0, 0.0), vec2(400.0, 300.0));
        let mut labels = Labels::within(within);
        labels.keep_free(Rect::from_center_size(pos2(230.0, 150.0), vec2(30.0, 30.0)));
        let placed: Vec<Rect> = (0..8)
            .map(|_| labels.place(pos2(200.0, 150.0), vec2(52.0, 18.0)))
            .collect();
        for (index, one) in placed.iter().enumerate() {
            assert!(within.contains_rect(*one));
            assert!(!one.intersects(Rect::from_center_size(pos2(230.0, 150.0), vec2(29.0, 29.0))));
            for other in &placed[index + 1..] {
                assert!(
                    !one.shrink(0.01).intersects(*other),
                    "{one:?} covers {other:?}"
                );
            }
        }
    }

    #[test]
    fn a_label_at_the_edge_stays_in_the_view() {
        let within = Rect::from_min_size(pos2(0.0, 0.0), vec2(400.0, 300.0));
        let mut labels = Labels::within(within);
        assert!(within.contains_rect(labels.place(pos2(396.0, 4.0), vec2(52.0, 18.0))));
    }
}
