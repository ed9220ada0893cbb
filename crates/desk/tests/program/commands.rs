//! The commands that need no window.

use std::fs;
use std::io::Read;
use std::process::Stdio;

use serde_json::Value;

use crate::folder::{Folder, command, run};

#[test]
fn check_says_what_clears_and_what_fouls_and_ends_accordingly() {
    let folder = Folder::new();
    let (status, out, errors) = run(folder.path(), &["check", "--sample", "bramble"]);
    assert_eq!((status, errors.as_str()), (0, ""));
    assert!(out.contains("plate to wall") && out.contains("sheaths apart"));
    let (status, out, _) = run(folder.path(), &["check", "--sample", "nettle"]);
    assert_eq!(status, 1);
    assert!(out.contains("The rings of left eye and right eye sweep through each other."));
}

fn keys(value: &Value) -> Vec<&str> {
    value
        .as_object()
        .expect("an object")
        .keys()
        .map(String::as_str)
        .collect()
}

pub(crate) fn assert_has(value: &Value, expected: &[&str]) {
    for key in expected {
        assert!(keys(value).contains(key), "{key} is missing: {value}");
    }
}

#[test]
fn check_prints_the_project_every_figure_and_every_finding_as_json() {
    let folder = Folder::new();
    let (status, out, _) = run(folder.path(), &["check", "--sample", "bramble", "--json"]);
    assert_eq!(status, 0);
    let answer: Value = serde_json::from_str(&out).unwrap();
    assert_has(&answer, &["project", "figures", "findings"]);
    assert_eq!(
        answer["project"]["parts"]["seat"]["Spherical"]["centre_height"],
        4.0
    );
    assert_eq!(answer["project"]["eyes"][1]["centre"][0], 29.0);
    let figures = &answer["figures"];
    assert_has(figures, &["plate", "hand", "eyes", "pairs", "drives"]);
    let plate = [
        "rim_mm",
        "plate_wall_mm",
        "sweep_wall_mm",
        "plate_area_mm2",
        "plate_width_mm",
        "plate_height_mm",
    ];
    assert_has(&figures["plate"], &plate);
    let eye = [
        "centre_height_mm",
        "opening_front_mm",
        "opening_back_mm",
        "ball_behind_mm",
        "retention_overlap_mm",
        "ring_play_mm",
        "tilt_limit_deg",
        "working_tilt_deg",
        "ring_clearance_mm",
        "sweep_depth_mm",
        "sweep_reach_mm",
        "glue_area_mm2",
        "lid_open_limit_deg",
        "lid_meeting_deg",
        "iris_cover",
        "lug_lid_gap_mm",
    ];
    assert_has(&figures["eyes"][0], &eye);
    let pair = [
        "a",
        "b",
        "spacing_mm",
        "ball_gap_mm",
        "lid_gap_mm",
        "lug_gap_mm",
        "sweep_gap_mm",
        "opening_ligament_mm",
    ];
    assert_has(&figures["pairs"][0], &pair);
    let drive = [
        "name",
        "stroke_mm",
        "pull_error_deg",
        "arm_share",
        "unsupported_mm",
        "lead_mm",
        "sheath_mm",
        "bend_total_deg",
        "bend_least_mm",
        "pull_gain",
        "push_safety",
    ];
    assert_has(&figures["drives"][0], &drive);
    let hand = [
        "guard_clearance_mm",
        "guard_flat_mm",
        "hand_room_mm",
        "hand_front_n",
        "hand_rear_n",
    ];
    assert_has(&figures["hand"], &hand);
    assert_eq!(figures["pairs"][0]["spacing_mm"], 58.0);
    let lid_gap = figures["pairs"][0]["lid_gap_mm"].as_f64().unwrap();
    assert!((lid_gap - (58.0 - 2.0 * 22.4)).abs() < 1e-9, "{lid_gap}");
    assert_has(
        &figures["eyes"][0]["lid_open_limit_deg"],
        &["upper", "lower"],
    );
    for finding in answer["findings"].as_array().unwrap() {
        assert_has(
            finding,
            &[
                "id", "state", "value", "wanted", "unit", "sentence", "part", "where",
            ],
        );
        let state = finding["state"].as_str().unwrap();
        assert!(
            ["clear", "tight", "fouls", "not checked"].contains(&state),
            "{state}"
        );
    }
}

#[test]
fn sheet_writes_a_pdf_with_the_same_bytes_each_time() {
    let folder = Folder::new();
    for (name, expected) in [("bramble", 0), ("nettle", 1)] {
        let sheets = ["one.pdf", "other.pdf"].map(|to| {
            let (status, out, _) = run(folder.path(), &["sheet", "--sample", name, "-o", to]);
            assert_eq!((status, out.as_str()), (expected, ""), "{name}");
            fs::read(folder.file(to)).unwrap()
        });
        assert!(sheets[0].starts_with(b"%PDF-"));
        assert_eq!(sheets[0], sheets[1]);
    }
    assert_eq!(
        folder.contents().len(),
        2,
        "nothing is left beside the sheets"
    );
}

/// How many pages a PDF has: each is an object of its own.
fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    text.matches("/Type /Page\n").count()
}

#[test]
fn a_drawing_larger_than_the_chosen_paper_goes_on_several_pages() {
    let folder = Folder::new();
    let sheet = |to: &str, more: &[&str]| {
        let arguments = [&["sheet", "--sample", "wimple", "-o", to], more].concat();
        let (status, _, errors) = run(folder.path(), &arguments);
        assert_eq!((status, errors.as_str()), (0, ""));
        fs::read(folder.file(to)).expect("the sheet was written")
    };
    // The side cuts of its two parts sets have a page each.
    assert_eq!(pages(&sheet("one.pdf", &["--paper", "a3"])), 3);
    assert!(pages(&sheet("some.pdf", &["--paper", "a4"])) > 3);
    assert_eq!(pages(&sheet("guard.pdf", &["--part", "guard"])), 1);
    let back = sheet("back.pdf", &["--paper", "a3", "--from-back"]);
    assert_ne!(back, sheet("front.pdf", &["--paper", "a3"]));
}

#[test]
fn without_a_display_the_window_command_names_those_that_need_none() {
    let (status, out, errors) = run(Folder::new().path(), &[]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert_eq!(
        errors,
        "There is no display to open a window on: neither `WAYLAND_DISPLAY` nor `DISPLAY` is set.\n\
         Start it from a desktop; `check`, `spacing`, `fit`, `sheet`, `cut` and `solids` need no window: see `gazewright \
         --help`.\n"
    );
}

#[test]
fn unknown_samples_and_options_are_refused_with_what_is_known() {
    let folder = Folder::new();
    let (status, _, errors) = run(folder.path(), &["check", "--sample", "nobody"]);
    assert_eq!(status, 2);
    assert_eq!(
        errors,
        "There is no sample `nobody`.\n\
         Use `bramble`, `dame-sorrel`, `old-tarn`, `nettle`, `wimple` or `thistle`.\n"
    );
    for arguments in [
        &["check", "--loud"][..],
        &["sheet", "--sample", "bramble"],
        &["check"],
    ] {
        let (status, out, errors) = run(folder.path(), arguments);
        assert_eq!(
            (status, out.as_str(), errors.lines().count()),
            (2, "", 2),
            "{errors}"
        );
    }
}

#[test]
fn a_reader_that_has_seen_enough_is_no_failure() {
    let mut child = command(
        Folder::new().path(),
        &["check", "--sample", "nettle", "--json"],
    )
    .stdout(Stdio::piped())
    .stderr(Stdio::piped())
    .spawn()
    .unwrap();
    drop(child.stdout.take());
    let mut errors = String::new();
    child
        .stderr
        .take()
        .unwrap()
        .read_to_string(&mut errors)
        .unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(1), "{errors}");
    assert_eq!(errors, "");
}

#[test]
fn spacing_says_how_far_apart_the_eyes_may_stand_and_what_sets_it() {
    let folder = Folder::new();
    let (status, out, errors) = run(folder.path(), &["spacing", "--sample", "bramble"]);
    assert_eq!((status, errors.as_str()), (0, ""));
    assert!(
        out.contains("Spacing of left eye and right eye: 58.00 mm"),
        "{out}"
    );
    assert!(
        out.contains("Can be ") && out.contains("not less, for: lugs apart"),
        "{out}"
    );
    let (_, out, _) = run(folder.path(), &["spacing", "--sample", "bramble", "--json"]);
    let answer: Value = serde_json::from_str(&out).unwrap();
    let [low, high] = [0, 1].map(|end| answer["window"][end].as_f64().unwrap());
    assert!(low < 58.0 && 58.0 < high, "{low} {high}");
    assert_eq!(answer["governed_by"][0], serde_json::json!(["lug_gap"]));
    assert_has(
        &answer,
        &["rules", "clear", "contradiction", "guides", "middle_mm"],
    );
    // Where the eyes are too near to each other, the exit says so.
    let (status, out, _) = run(folder.path(), &["spacing", "--sample", "nettle"]);
    assert_eq!(status, 1);
    assert!(
        out.contains("Fouls here: ") && out.contains("Fouls at every spacing"),
        "{out}"
    );
}

#[test]
fn spacing_exits_with_1_while_anything_fouls_and_names_what_it_cannot_make_clear() {
    let folder = Folder::new();
    let path = folder.path().join("head.ron");
    let mut project = desk::samples::DEFAULT.project();
    project.drives.clear();
    project.limits.hand_room = Some((0.0, 500.0).into());
    let name = path.to_str().unwrap();
    let mut answers = [20.0, 95.0].into_iter().map(|depth| {
        project.head.cavity_depth = depth;
        std::fs::write(&path, ron::to_string(&project).unwrap()).unwrap();
        let (status, text, _) = run(folder.path(), &["spacing", name]);
        let (again, json, _) = run(folder.path(), &["spacing", name, "--json"]);
        assert_eq!(status, again);
        (status, text, serde_json::from_str::<Value>(&json).unwrap())
    });
    let (status, text, json) = answers.next().unwrap();
    assert_eq!(
        (status, &json["state"]),
        (1, &Value::from("fouls")),
        "{text}"
    );
    assert!(json["window"].is_array(), "{json}");
    let always = json["foul_at_every_spacing"].as_array().unwrap();
    assert!(always.contains(&Value::from("hand_room")), "{json}");
    let (status, text, json) = answers.next().unwrap();
    assert_eq!(
        (status, &json["state"]),
        (0, &Value::from("tight")),
        "{text}"
    );
    // Without drives, nothing turns the eyes, either.
    assert_eq!(
        json["clear_at_no_spacing"],
        serde_json::json!(["undriven", "hand_room"])
    );
    assert!(
        text.contains(
            "Clear at no spacing, and is left out: turns that nothing moves, hand room left over."
        ),
        "{text}"
    );
    assert!(
        text.contains("Clear of all that the spacing can clear: "),
        "{text}"
    );
}
