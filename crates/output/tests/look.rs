//! tmp
use layout::{Laid, Project, evaluate_laid};
use output::sheet::*;
#[test]
fn look() {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo");
    for entry in std::fs::read_dir(demo).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "ron") {
            continue;
        }
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let project: Project = ron::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
        let laid = Laid::out(&project);
        let report = evaluate_laid(&project, &laid);
        for (unit, u) in [
            (output::LengthUnit::Millimetre, "mm"),
            (output::LengthUnit::Inch, "in"),
        ] {
            for (paper, p) in [
                (PaperChoice::Auto, "auto"),
                (PaperChoice::A4, "a4"),
                (PaperChoice::A3, "a3"),
                (PaperChoice::Letter, "letter"),
            ] {
                for (orientation, o) in [
                    (OrientationChoice::Portrait, "p"),
                    (OrientationChoice::Landscape, "l"),
                ] {
                    let options = SheetOptions {
                        paper,
                        orientation,
                        unit,
                        date: "2026-01-31".into(),
                    };
                    let start = std::time::Instant::now();
                    let _ = sheet_drawing(&project, &laid, &report, &options);
                    let first = start.elapsed();
                    match sheet_pdf(&project, &laid, &report, &options) {
                        Ok(bytes) => {
                            println!("{name} {u} {p} {o} ok {first:?} {:?}", start.elapsed());
                            std::fs::write(format!("/tmp/look/{name}-{u}-{p}-{o}.pdf"), bytes)
                                .unwrap()
                        }
                        Err(e) => println!(
                            "{name} {u} {p} {o}: {e} / {} {:?}",
                            e.remedy(),
                            start.elapsed()
                        ),
                    }
                }
            }
        }
    }
}

#[test]
fn look_random() {
    let mut dice = crate::projects::Dice(2);
    for index in 0..14 {
        let case =
            crate::projects::Case::of(format!("r{index}"), crate::projects::random(&mut dice));
        match sheet_pdf(
            &case.project,
            &case.laid,
            &case.report,
            &crate::projects::options(output::LengthUnit::Millimetre),
        ) {
            Ok(b) => std::fs::write(format!("/tmp/look/r{index}.pdf"), b).unwrap(),
            Err(e) => println!("r{index} {e}"),
        }
    }
}
