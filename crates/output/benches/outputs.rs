//! How long a maker waits for everything that a project puts out: the sheet, all cut files and all
//! solids. The aim is 100 ms.

use std::hint::black_box;

use criterion::Criterion;
use layout::{Laid, Project, evaluate_laid};
use output::cut::{CutOptions, CutPart, FOAM_CLEARANCE, cut_drawing};
use output::sheet::{OrientationChoice, PaperChoice, SheetOptions, sheet_pdf};
use output::solid::{fit_gauge, solids};
use output::{LengthUnit, Seen, SolidOptions, dxf, stl, svg, threemf};

/// Width of a usual laser's cut, mm.
const KERF: f64 = 0.2;

/// The sheet, as bytes.
fn sheet(project: &Project, laid: &Laid) -> usize {
    let options = SheetOptions {
        part: CutPart::Plate,
        foam_clearance: FOAM_CLEARANCE,
        paper: PaperChoice::Auto,
        orientation: OrientationChoice::Auto,
        seen: Seen::Front,
        unit: LengthUnit::Millimetre,
        date: "2026-01-31".to_owned(),
    };
    let report = evaluate_laid(project, laid);
    let pdf = sheet_pdf(project, laid, &report, &options).expect("the demo has a sheet");
    pdf.len()
}

/// Every part in both formats, as bytes.
fn cut_files(project: &Project, laid: &Laid) -> usize {
    let options = CutOptions {
        kerf: KERF,
        ..CutOptions::default()
    };
    let bytes = CutPart::ALL.map(|part| {
        let cut = cut_drawing(project, laid, part, &options).expect("the demo can be cut");
        svg::write(&cut).len() + dxf::write(&cut).len()
    });
    bytes.iter().sum()
}

/// Plate, rings and fit gauge, as bytes.
fn printed(project: &Project, laid: &Laid) -> usize {
    let options = SolidOptions::default();
    let all = solids(project, laid, &options).expect("the demo can be printed");
    let gauge = fit_gauge(project).slab.solid(&options);
    let gauge = gauge.expect("the gauge can be printed");
    let facets: usize = all.iter().map(|solid| stl::write(solid).len()).sum();
    facets + stl::write(&gauge).len() + threemf::write(&project.name, &all).len()
}

fn benches(criterion: &mut Criterion) {
    let text = include_str!("../../../demo/bramble.ron");
    let project: Project = ron::from_str(text).expect("the demo is sound");
    let laid = Laid::out(&project);
    criterion.bench_function("sheet", |bencher| {
        bencher.iter(|| sheet(black_box(&project), &laid));
    });
    criterion.bench_function("cut files of every part", |bencher| {
        bencher.iter(|| cut_files(black_box(&project), &laid));
    });
    criterion.bench_function("solids and fit gauge", |bencher| {
        bencher.iter(|| printed(black_box(&project), &laid));
    });
    criterion.bench_function("all outputs of one project", |bencher| {
        bencher.iter(|| {
            let project = black_box(&project);
            let laid = Laid::out(project);
            sheet(project, &laid) + cut_files(project, &laid) + printed(project, &laid)
        });
    });
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    benches(&mut criterion);
    criterion.final_summary();
}
