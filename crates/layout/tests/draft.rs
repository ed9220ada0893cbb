//! A curve that is drawn point by point.

use layout::closed_curve::CurveOf;
use layout::draft::Draft;
use layout::geometry::{Point, polygon};
use layout::plate::PlateOutline;
use layout::{Edit, History};

use crate::common::pair;

fn half(curve: CurveOf) -> Draft {
    Draft {
        curve,
        points: vec![[0.4, 90.0], [-80.0, 40.0], [-85.0, -30.0], [-0.2, -80.0]],
    }
}

#[test]
fn a_drawn_half_becomes_a_whole_that_is_symmetric_and_counter_clockwise() {
    let project = Edit::Draft(Some(half(CurveOf::Head)))
        .apply(&pair())
        .unwrap();
    let closed = Edit::CloseDraft { mirrored: true }.apply(&project).unwrap();
    assert_eq!(closed.draft, None);
    let whole = &closed.head.outline;
    assert_eq!(whole.len(), 6);
    for [x, y] in whole {
        assert!(whole.contains(&[-x, *y]) || *x == 0.0);
    }
    let points: Vec<Point> = whole.iter().map(|&at| at.into()).collect();
    assert!(polygon::area(&points) > 0.0);
    assert!(closed.head.smooth);
}

#[test]
fn without_the_mirror_the_points_are_closed_as_they_are() {
    let draft = half(CurveOf::Plate);
    let project = Edit::Draft(Some(draft.clone())).apply(&pair()).unwrap();
    let closed = Edit::CloseDraft { mirrored: false }
        .apply(&project)
        .unwrap();
    let drawn = PlateOutline::Drawn {
        outline: draft.points,
        smooth: true,
    };
    assert_eq!(closed.plate.outline, drawn);
    assert_eq!(closed.head, project.head);
}

#[test]
fn undo_takes_back_point_by_point_and_opens_a_closed_curve_again() {
    let mut history = History::new(pair(), true);
    let all = half(CurveOf::Head);
    for count in 1..=all.points.len() {
        let points = all.points[..count].to_vec();
        let draft = Draft {
            points,
            ..all.clone()
        };
        history.apply(&Edit::Draft(Some(draft))).unwrap();
    }
    history.apply(&Edit::CloseDraft { mirrored: true }).unwrap();
    history.undo();
    assert_eq!(history.project().draft, Some(all.clone()));
    assert_eq!(history.project().head, pair().head);
    assert_eq!(history.undo_label(), Some("draw head outline"));
    history.undo();
    let left = history.project().draft.as_ref().unwrap();
    assert_eq!(left.points, all.points[..3]);
    assert!(!history.is_saved());
}

#[test]
fn points_that_are_no_curve_are_refused_and_stay() {
    let crossing = Draft {
        curve: CurveOf::Head,
        points: vec![[-60.0, -60.0], [60.0, 60.0], [60.0, -60.0], [-60.0, 70.0]],
    };
    let project = Edit::Draft(Some(crossing)).apply(&pair()).unwrap();
    let refused = Edit::CloseDraft { mirrored: false }.apply(&project);
    let problem = refused.unwrap_err().to_string();
    assert!(
        problem.starts_with("The head outline crosses itself near ("),
        "{problem}"
    );
    assert!(Edit::CloseDraft { mirrored: true }.apply(&pair()).is_err());
    let endless = Draft {
        curve: CurveOf::Head,
        points: vec![[0.0, f64::NAN]],
    };
    let refused = Edit::Draft(Some(endless)).apply(&pair()).unwrap_err();
    assert_eq!(refused.field, "draft.points[0]");
}
