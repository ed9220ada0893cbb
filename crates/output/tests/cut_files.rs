//! The cut files themselves: how they are built, and that they are the same each time.

use output::cut::{Cut, CutPart, Purpose};
use roxmltree::{Document, Node};

use crate::contours::{KERFS, cut, every_part, with_kerf};
use crate::projects::{Case, demo, demos};

fn svg(cut: &Cut) -> String {
    String::from_utf8(output::svg::write(cut)).unwrap()
}

/// The file's pairs of a group code and a value.
fn pairs(cut: &Cut) -> Vec<(u16, String)> {
    let text = String::from_utf8(output::dxf::write(cut)).unwrap();
    assert!(text.is_ascii());
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len() % 2, 0);
    let pairs = lines.chunks(2);
    pairs
        .map(|pair| (pair[0].parse().unwrap(), pair[1].to_owned()))
        .collect()
}

fn variable(pairs: &[(u16, String)], name: &str) -> String {
    let at = pairs.iter().position(|pair| pair.0 == 9 && pair.1 == name);
    pairs[at.unwrap() + 1].1.clone()
}

fn group<'a, 'd>(document: &'a Document<'d>, purpose: Purpose) -> Node<'a, 'd> {
    let own = |node: &Node| node.attribute("id") == Some(purpose.name());
    document.descendants().find(own).unwrap()
}

#[test]
fn two_runs_give_the_same_bytes() {
    for kerf in KERFS {
        every_part(kerf, |case, part, found| {
            let again = cut(case, part, &with_kerf(kerf)).unwrap();
            assert_eq!(output::svg::write(found), output::svg::write(&again));
            assert_eq!(output::dxf::write(found), output::dxf::write(&again));
        });
    }
}

#[test]
fn one_unit_of_the_svg_is_a_millimetre() {
    for case in demos() {
        let found = cut(&case, CutPart::Plate, &with_kerf(0.2)).unwrap();
        let svg = svg(&found);
        let document = Document::parse(&svg).unwrap();
        let root = document.root_element();
        let [width, height] = ["width", "height"].map(|side| root.attribute(side).unwrap());
        let box_of = format!(
            "0 0 {} {}",
            width.strip_suffix("mm").unwrap(),
            height.strip_suffix("mm").unwrap()
        );
        assert_eq!(root.attribute("viewBox"), Some(box_of.as_str()));
        // No coordinate system of a group's own.
        assert!(!svg.contains("transform"));
    }
}

#[test]
fn each_purpose_is_a_group_of_hairlines_in_its_own_colour() {
    let case = demo("wimple");
    let found = cut(&case, CutPart::Plate, &with_kerf(0.0)).unwrap();
    let svg = svg(&found);
    let document = Document::parse(&svg).unwrap();
    let mut colours = Vec::new();
    for purpose in Purpose::ALL {
        let group = group(&document, purpose);
        if purpose == Purpose::Read {
            let texts = group.children().filter(|node| node.has_tag_name("text"));
            assert_eq!(texts.count(), found.notes.len());
            colours.push(group.attribute("fill").unwrap());
            continue;
        }
        assert_eq!(group.attribute("fill"), Some("none"));
        let width: f64 = group.attribute("stroke-width").unwrap().parse().unwrap();
        assert!(width < 0.1);
        colours.push(group.attribute("stroke").unwrap());
    }
    colours.sort_unstable();
    colours.dedup();
    assert_eq!(colours.len(), Purpose::ALL.len());

    let inside = group(&document, Purpose::CutInside);
    let circles: Vec<f64> = inside
        .children()
        .filter(|node| node.has_tag_name("circle"))
        .map(|node| node.attribute("r").unwrap().parse().unwrap())
        .collect();
    let expected: Vec<f64> = found
        .contours
        .iter()
        .filter_map(|contour| Some(contour.circle()?.radius))
        .collect();
    assert_eq!(circles.len(), case.project.eyes.len());
    for (circle, expected) in circles.iter().zip(expected) {
        assert!((circle - expected).abs() < 1e-8);
    }
    for purpose in [Purpose::CutInside, Purpose::CutOutside] {
        let paths = group(&document, purpose);
        let paths = paths.children().filter(|node| node.has_tag_name("path"));
        for path in paths {
            let data = path.attribute("d").unwrap();
            assert!(data.ends_with(" Z") && data.contains('A'), "{data}");
            assert!(
                data.matches('M').count() == 1 && !data.contains('C'),
                "{data}"
            );
        }
    }
}

#[test]
fn the_dxf_says_its_version_its_unit_and_no_time() {
    let case = demo("bramble");
    let found = cut(&case, CutPart::Plate, &with_kerf(0.0)).unwrap();
    let pairs = pairs(&found);
    // PyPI ezdxf 1.4.5: ezdxf/units.py, InsertUnits: 4 is mm; ezdxf/sections/headervars.py:
    // $MEASUREMENT 1 is metric, written for AC1015 (R2000) and later.
    assert_eq!(variable(&pairs, "$ACADVER"), "AC1015");
    assert_eq!(variable(&pairs, "$INSUNITS"), "4");
    assert_eq!(variable(&pairs, "$MEASUREMENT"), "1");
    let names = pairs
        .iter()
        .filter(|pair| pair.0 == 9)
        .map(|pair| pair.1.as_str());
    let mut names = names.collect::<Vec<_>>();
    names.retain(|name| name.starts_with("$TD") || name.ends_with("GUID"));
    assert!(names.is_empty(), "{names:?}");
}

#[test]
fn every_handle_of_the_dxf_is_its_own_and_below_the_seed() {
    every_part(0.2, |_, _, found| {
        let pairs = pairs(found);
        let number = |text: &str| u32::from_str_radix(text, 16).unwrap();
        let seed = number(&variable(&pairs, "$HANDSEED"));
        let after_header = pairs.iter().skip_while(|pair| pair.1 != "TABLES");
        let mut handles: Vec<u32> = after_header
            .filter(|pair| pair.0 == 5 || pair.0 == 105)
            .map(|pair| number(&pair.1))
            .collect();
        let count = handles.len();
        handles.sort_unstable();
        handles.dedup();
        assert_eq!(handles.len(), count);
        assert!(handles[0] > 0 && handles[count - 1] < seed);
        // Owners and entries of dictionaries exist.
        let pointed = pairs
            .iter()
            .filter(|pair| [330, 340, 350, 390].contains(&pair.0));
        for (_, handle) in pointed {
            let handle = number(handle);
            assert!(
                handle == 0 || handles.binary_search(&handle).is_ok(),
                "{handle:X}"
            );
        }
    });
}

/// The entities of the file: what each is, and its pairs.
fn entities(pairs: &[(u16, String)]) -> Vec<(&str, &[(u16, String)])> {
    let start = pairs.iter().position(|pair| pair.1 == "ENTITIES").unwrap() + 1;
    let length = pairs[start..]
        .iter()
        .position(|pair| pair.1 == "ENDSEC")
        .unwrap();
    let section = &pairs[start..start + length];
    let kinds = section.iter().filter(|pair| pair.0 == 0);
    let bodies = section.split(|pair| pair.0 == 0).skip(1);
    kinds.map(|pair| pair.1.as_str()).zip(bodies).collect()
}

#[test]
fn the_dxf_holds_circles_and_closed_polylines_on_their_layers() {
    for kerf in KERFS {
        every_part(kerf, |_, _, found| {
            let pairs = pairs(found);
            let mut cuts = Vec::new();
            for (kind, body) in entities(&pairs) {
                let of = |code: u16| body.iter().find(|pair| pair.0 == code).unwrap().1.as_str();
                match kind {
                    "CIRCLE" => cuts.push((kind, of(8))),
                    "LWPOLYLINE" => {
                        cuts.push((kind, of(8)));
                        assert_eq!(of(70), "1");
                        let count: usize = of(90).parse().unwrap();
                        assert_eq!(body.iter().filter(|pair| pair.0 == 10).count(), count);
                        for (_, bulge) in body.iter().filter(|pair| pair.0 == 42) {
                            assert!(bulge.parse::<f64>().unwrap().abs() <= 1.0 + 1e-9);
                        }
                    }
                    "LINE" => assert_eq!(of(8), Purpose::Mark.name()),
                    "TEXT" => assert_eq!(of(8), Purpose::Read.name()),
                    other => panic!("{other}"),
                }
            }
            let expected = found.contours.iter().map(|contour| {
                let kind = contour.circle().map_or("LWPOLYLINE", |_| "CIRCLE");
                (kind, contour.purpose.name())
            });
            assert_eq!(cuts, expected.collect::<Vec<_>>());
        });
    }
}

#[test]
fn names_of_any_letters_reach_both_files() {
    let mut project = demo("bramble").project;
    project.name = "Tom & <Zoë>\n“50%%” ^ 🦡".to_owned();
    let case = Case::of("letters", project);
    let found = cut(&case, CutPart::Plate, &with_kerf(0.0)).unwrap();
    let svg = svg(&found);
    let document = Document::parse(&svg).unwrap();
    let texts: Vec<&str> = document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .filter_map(|node| node.text())
        .collect();
    assert_eq!(texts[0], "Tom & <Zoë> “50%%” ^ 🦡, plate");
    let pairs = pairs(&found);
    let first = pairs
        .iter()
        .skip_while(|pair| pair.1 != "TEXT")
        .find(|pair| pair.0 == 1);
    assert_eq!(
        first.unwrap().1,
        "Tom & <Zo\\U+00EB> \\U+201C50%%%%%%\\U+201D ^  \\U+FFFD, plate"
    );
}
