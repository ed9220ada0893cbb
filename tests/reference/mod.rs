//! Values from outside, each with its source beside it. Those that the sheet must hold to (pages, card,
//! scale, lines, lettering) lie beside the sheet, in `crates/output/tests/outside.rs`.

use approx::assert_abs_diff_eq;
use layout::limits::State;
use layout::seat::Seat;
use layout::ties::{self, Wanted};
use layout::{Edit, Laid, evaluate};
use output::Seen;
use output::cut::CutPart;
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions, sheet_pages};
use output::unit::LengthUnit;

use crate::demo;

#[test]
fn a_demo_ball_covers_what_the_law_allows_a_plastic_ball() {
    // Diameter 40 mm: ITTF Laws 2.03.01, quoted in ITTF Technical Leaflet T3 "The Ball (Version for
    // 40mm Balls)", BoD Approval 2016. Non-celluloid size test, every ball from 40.00 to 40.60 mm:
    // T3 criteria, as reported by a league's page on ball dimensions.
    let (nominal, largest) = (40.0, 40.60);
    let project = demo("bramble");
    assert_eq!(project.parts.ball_diameter, nominal);
    assert_abs_diff_eq!(nominal + project.parts.ball_plus, largest, epsilon = 1e-9);
}

#[test]
fn a_seat_just_wide_enough_for_the_largest_ball_of_the_law_leaves_the_wanted_clearance() {
    // Plastic balls from 40.00 to 40.60 mm: as above.
    let mut project = demo("bramble");
    let found = |clearance: f64| {
        project.parts.seat = Seat::Spherical {
            centre_height: 4.0,
            running_clearance: clearance,
        };
        let report = evaluate(&project);
        let finding = report
            .findings
            .iter()
            .find(|finding| finding.id == "running_clearance");
        finding
            .expect("a spherical seat has a running clearance")
            .state
    };
    let half = (40.60 - 40.00) / 2.0;
    let states = [half + 0.1, half + 0.05, half, half - 0.05].map(found);
    assert_eq!(
        states,
        [State::Clear, State::Tight, State::Tight, State::Fouls]
    );
}

#[test]
fn eyes_toe_in_by_half_the_angle_of_vergence() {
    // Angles of vergence for an interpupillary distance and a distance of regard, both mm: worked
    // out from θ = 2·atan(IPD/(2d)), geometry; the prism of 15 Δ at 60 and 400 mm is IPD in cm over
    // the distance in m, the metre-angle rule.
    let worked = [
        (60.0, 250.0, 13.6855),
        (60.0, 400.0, 8.5783),
        (60.0, 1_000.0, 3.4367),
        (63.0, 250.0, 14.3628),
        (63.0, 400.0, 9.0055),
        (63.0, 500.0, 7.2097),
        (63.0, 1_000.0, 3.6084),
        (63.0, 6_000.0, 0.6016),
        (64.0, 1_000.0, 3.6657),
    ];
    let mut project = demo("bramble");
    for (spacing, distance, vergence) in worked {
        project.eyes[0].centre = [-spacing / 2.0, 0.0];
        project.eyes[1].centre = [spacing / 2.0, 0.0];
        project.gaze.looks_at = distance;
        let toe_in = evaluate(&project).figures.pairs[0].toe_in_deg;
        assert_abs_diff_eq!(
            2.0 * toe_in.expect("a pair toes in"),
            vergence,
            epsilon = 5e-5
        );
    }
}

#[test]
fn a_prism_dioptre_is_a_hundred_times_the_tangent() {
    // 7 Δ turn by 4.004°, 2.5 Δ by 1.432°: published answers to an optics question set, as
    // reported. An eye that toes in toward a point D away moves its gaze by S/2 at D: 100·(S/2)/D Δ.
    let mut project = demo("bramble");
    for (prism, degrees) in [(7.0, 4.004), (2.5, 1.432)] {
        let distance = 600.0;
        let spacing = 2.0 * distance * prism / 100.0;
        project.eyes[0].centre = [-spacing / 2.0, 0.0];
        project.eyes[1].centre = [spacing / 2.0, 0.0];
        project.gaze.looks_at = distance;
        let toe_in = evaluate(&project).figures.pairs[0].toe_in_deg;
        assert_abs_diff_eq!(toe_in.expect("a pair toes in"), degrees, epsilon = 5e-4);
    }
}

#[test]
fn a_slot_passes_the_tie_of_every_class_and_a_proposal_has_room_for_them() {
    // Widths and thicknesses by least loop strength, lbf: "typical catalog reference values … UL 62275, SAE
    // AS23190", as reported by a public source file; 80, 178, 222, 534, 778 and 1112 N. The widths of another
    // list, a distributor's page on PA 6.6 ties, as reported, stand beside them: 9 mm for 8.9 mm.
    let classes = [
        (18.0, 80.0, [2.5, 1.0], 2.5),
        (40.0, 178.0, [3.6, 1.2], 3.6),
        (50.0, 222.0, [4.8, 1.3], 4.8),
        (120.0, 534.0, [7.6, 1.8], 7.6),
        (175.0, 778.0, [8.9, 2.0], 9.0),
        (250.0, 1112.0, [12.7, 2.3], 12.7),
    ];
    assert_eq!(layout::tie::USUAL, classes[0].2);
    let project = demo("bramble");
    for (pounds, newtons, tie, other_width) in classes {
        // A pound-force is 4.4482216 N.
        assert_abs_diff_eq!(pounds * 4.448_221_6, newtons, epsilon = 0.5);
        let wanted = Wanted {
            count: 4,
            tie,
            mirrored: true,
        };
        let proposal = ties::propose(&project, &wanted).expect("four have room");
        for slot in &proposal.slots {
            let [length, width] = slot.size();
            assert!(
                length > tie[0].max(other_width) && width > tie[1],
                "{slot:?}"
            );
        }
        let next = Edit::PlaceSlots(proposal.slots).apply(&project);
        let report = evaluate(&next.expect("they can be placed"));
        for id in [
            "slot_edge",
            "slot_opening",
            "slot_gap",
            "hole_slot",
            "hardware",
        ] {
            let mut found = report.findings.iter().filter(|finding| finding.id == id);
            assert!(
                found.all(|finding| finding.state == State::Clear),
                "{id} {tie:?}"
            );
        }
    }
}

#[test]
fn the_sheet_warns_that_a_ball_passes_the_small_ball_gauge() {
    // A ball that passes through a hole of 1.75 in (4.445 cm) in a rigid template is a small ball:
    // 16 CFR 1117.2(b). Plastic balls of up to 40.60 mm: as above.
    let gauge = 1.75 * 25.4;
    assert_abs_diff_eq!(gauge, 44.45, epsilon = 1e-9);
    let project = demo("bramble");
    let largest = project.parts.ball_diameter + project.parts.ball_plus;
    assert!(largest < gauge, "{largest}");
    let laid = Laid::out(&project);
    let report = evaluate(&project);
    let options = SheetOptions {
        foam_clearance: output::cut::FOAM_CLEARANCE,
        part: CutPart::Plate,
        paper: PaperChoice::Auto,
        orientation: OrientationChoice::Auto,
        seen: Seen::Front,
        unit: LengthUnit::Millimetre,
        date: "2030-01-31".to_owned(),
    };
    let pages = sheet_pages(&project, &laid, &report, &options).expect("the demo has a sheet");
    let texts = pages.iter().flat_map(|page| &page.texts);
    let words: Vec<&str> = texts.map(|text| text.text.as_str()).collect();
    let words = words.join(" ");
    assert!(
        words.contains("even a 40 mm ball passes the gauge for children under 3"),
        "{words}"
    );
}
