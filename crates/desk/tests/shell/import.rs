//! An outline from a drawing, in the window.

use layout::closed_curve::CurveOf;
use layout::plate::PlateOutline;

use super::*;

const SHAPES: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297">
<ellipse cx="100" cy="120" rx="75" ry="90" fill="none" stroke="black"/>
<rect x="30" y="250" width="120" height="40" fill="none" stroke="black"/>
<path d="M 10 10 L 40 40 L 40 10 L 10 40 Z" fill="none" stroke="black"/>
</svg>"#;

fn drawing(name: &str, text: &str) -> PathBuf {
    let path = folder(name).join("shapes.svg");
    std::fs::write(&path, text).expect("the drawing is written");
    path
}

fn import(window: &mut Window, key: Modifiers, path: &Path) {
    press(window, CTRL | key, Key::I);
    enter(window, "Path of the file", text_of(path));
}

fn size(window: &Window, curve: CurveOf) -> [f64; 2] {
    let corners = curve.corners(window.state().desk().project());
    let far = layout::geometry::Point::new(f64::INFINITY, f64::INFINITY);
    let [low, high] = corners
        .iter()
        .fold([far, -far], |[low, high], at| [low.inf(at), high.sup(at)]);
    (high - low).into()
}

#[test]
fn the_largest_shape_of_a_drawing_is_taken_as_the_head_unless_another_is_picked() {
    let path = drawing("import-head", SHAPES);
    let mut window = window();
    import(&mut window, Modifiers::NONE, &path);
    click(&mut window, "Take it");
    let [width, height] = size(&window, CurveOf::Head);
    assert!((width - 150.0).abs() < 0.1 && (height - 180.0).abs() < 0.1);
    press(&mut window, CTRL, Key::Z);
    assert!((size(&window, CurveOf::Head)[0] - 150.0).abs() > 1.0);
    import(&mut window, Modifiers::SHIFT, &path);
    window
        .get_by_label_contains("120.0 × 40.0 mm")
        .click_accesskit();
    window.run();
    click(&mut window, "Take it");
    let project = window.state().desk().project();
    assert!(matches!(project.plate.outline, PlateOutline::Drawn { .. }));
    let [width, height] = size(&window, CurveOf::Plate);
    assert!((width - 120.0).abs() < 0.1 && (height - 40.0).abs() < 0.1);
}

#[test]
fn a_shape_that_crosses_itself_is_refused_and_the_others_stay_on_offer() {
    let path = drawing("import-crossing", SHAPES);
    let mut window = window();
    let before = size(&window, CurveOf::Head);
    import(&mut window, Modifiers::NONE, &path);
    window
        .get_by_label_contains("crosses itself, 30.0 × 30.0 mm")
        .click_accesskit();
    window.run();
    assert!(says(&window, "This shape crosses itself"));
    assert!(
        window
            .get_by_label("Take it")
            .accesskit_node()
            .is_disabled()
    );
    click(&mut window, "Take it");
    assert!(window.query_by_label("Take it").is_some(), "it asks on");
    assert_eq!(size(&window, CurveOf::Head), before);
    click(&mut window, "Cancel");
    assert!(window.query_by_label("Take it").is_none());
}

#[test]
fn a_drawing_without_a_unit_asks_for_it_and_guesses_first() {
    let bare = SHAPES.replace("width=\"210mm\" height=\"297mm\" ", "");
    let path = drawing("import-unit", &bare);
    let mut window = window();
    import(&mut window, Modifiers::NONE, &path);
    click(&mut window, "Unit: cm");
    click(&mut window, "Take it");
    let [width, _] = size(&window, CurveOf::Head);
    assert!((width - 1500.0).abs() < 0.5, "{width}");
    import(&mut window, Modifiers::NONE, &path);
    click(&mut window, "Take it");
    let [width, _] = size(&window, CurveOf::Head);
    assert!((width - 150.0).abs() < 0.1, "{width}");
}

#[test]
fn what_is_no_drawing_is_told_and_changes_nothing() {
    let path = drawing("import-text", "just words");
    let mut window = window();
    import(&mut window, Modifiers::NONE, &path);
    let notice = window.state().desk().notice.as_ref().expect("a notice");
    assert!(
        notice.trouble && notice.text.contains("shapes.svg"),
        "{}",
        notice.text
    );
    assert!(window.state().desk().history().is_saved());
}

#[test]
fn an_outline_of_many_corners_is_redrawn_with_few_points() {
    let path = drawing("import-thin", SHAPES);
    let mut window = window();
    import(&mut window, Modifiers::NONE, &path);
    click(&mut window, "Take it");
    let count = |window: &Window| window.state().desk().project().head.outline.len();
    let (before, [width, height]) = (count(&window), size(&window, CurveOf::Head));
    assert!(before > 60, "{before}");
    click(&mut window, "Fewer points");
    let after = count(&window);
    assert!(after <= 24, "{after}");
    assert!(says(
        &window,
        &format!("through {after} points instead of {before}")
    ));
    let [new_width, new_height] = size(&window, CurveOf::Head);
    assert!((new_width - width).abs() < 1.0 && (new_height - height).abs() < 1.0);
    assert!(window.query_by_label("Fewer points").is_none());
    press(&mut window, CTRL, Key::Z);
    assert_eq!(count(&window), before);
}
