//! The rods that let one part take another along.

use egui::Ui;
use egui_plot::{Line, VLine};
use layout::drive::{Moves, Turn};
use layout::field::{Field, RodField};
use layout::handle::Handle;
use layout::lid::Which;
use layout::linkage::Linkage;
use layout::report::RodFigures;
use layout::rod::{Rod, RodEnd};
use layout::turned::Pose;
use layout::{Degrees, Edit, Project};

use super::charts::{Look, curve, in_words, key, plot, tell};
use super::{angle, apply, length, number};
use crate::window::controls;
use crate::window::pieces;
use crate::window::state::Desk;
use crate::window::text_field::TextField;
use crate::window::theme::Palette;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) {
    pieces::group(ui, "Rods between eyes", false);
    choose(ui, desk);
    let index = desk.chosen_rod;
    if let Some(rod) = desk.project().rods.get(index).cloned() {
        ui.push_id("rod", |ui| chosen(ui, desk, index, &rod));
    }
    let fresh = Rod::fresh(desk.project());
    if let Some(rod) = fresh {
        if controls::outlined_button(ui, "Tie two eyes by a rod").clicked() {
            let added = desk.project().rods.len();
            if desk.apply(&Edit::AddRod(rod)).is_ok() {
                desk.chosen_rod = added;
            }
        }
    } else {
        pieces::hint(ui, "No two eyes are left whose side turns a rod could tie.");
    }
}

fn choose(ui: &mut Ui, desk: &mut Desk) {
    let rods = desk.project().rods.clone();
    for (index, rod) in rods.iter().enumerate() {
        let ties = format!(
            "{} to {}",
            desk.project().eye_name(rod.driver.eye()),
            desk.project().eye_name(rod.follower.eye())
        );
        if controls::pick_row(ui, &rod.name, &ties, desk.chosen_rod == index).clicked() {
            desk.chosen_rod = index;
            desk.selected = Some(Handle::Rod(index, RodEnd::Driver));
        }
    }
}

fn chosen(ui: &mut Ui, desk: &mut Desk, index: usize, rod: &Rod) {
    if let Some(figures) = desk.report().figures.rods.get(index) {
        show_figures(ui, desk, figures);
    }
    follower_over_driver(ui, desk, index, rod);
    TextField {
        label: "Name of the rod",
        value: &rod.name,
        hint: "",
    }
    .show(ui, desk, |desk, name| {
        let rod = desk.project().rods.get(index).cloned();
        let named = rod.map(|rod| Rod { name, ..rod });
        named.map_or(Ok(()), |rod| desk.apply(&Edit::Rod(index, rod)))
    });
    part(ui, desk, index, RodEnd::Driver, "Driven by");
    part(ui, desk, index, RodEnd::Follower, "Takes along");
    for end in RodEnd::ALL {
        let of = format!("{}, {}", rod.name, end.noun());
        pieces::hint(
            ui,
            &format!("Joint at the {}, from the ball's centre", end.noun()),
        );
        for axis in 0..3 {
            let field = Field::Rod(index, RodField::Tip(end, axis));
            number(ui, desk, field, Some(&of));
        }
    }
    let diameter = Field::Rod(index, RodField::Diameter);
    number(ui, desk, diameter, Some(&rod.name));
    if controls::outlined_button(ui, "Remove this rod").clicked() {
        apply(desk, &Edit::RemoveRod(index));
    }
    ui.add_space(6.0);
}

/// The list of parts that an end can stand on.
fn part(ui: &mut Ui, desk: &mut Desk, index: usize, end: RodEnd, label: &str) {
    let Some(rod) = desk.project().rods.get(index).cloned() else {
        return;
    };
    let parts = parts(desk.project());
    let names: Vec<String> = parts
        .iter()
        .map(|moves| format!("{}, {}", desk.project().eye_name(moves.eye()), moves.noun()))
        .collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let now = parts.iter().position(|moves| *moves == rod.end(end).0);
    let spoken = format!("{}: {label}", rod.name);
    if let Some(picked) = controls::list(ui, label, &spoken, &names, now.unwrap_or_default()) {
        apply(desk, &Edit::Rod(index, tied(rod, end, parts[picked])));
    }
}

/// The rod with another part at one end. The part at the other end turns like it, and is of the eye that this
/// end had if both would be of one.
fn tied(rod: Rod, end: RodEnd, picked: Moves) -> Rod {
    let (own, other) = match end {
        RodEnd::Driver => (rod.driver, rod.follower),
        RodEnd::Follower => (rod.follower, rod.driver),
    };
    let is_taken = other.eye() == picked.eye();
    let other = picked.of_eye(if is_taken { own.eye() } else { other.eye() });
    let (driver, follower) = match end {
        RodEnd::Driver => (picked, other),
        RodEnd::Follower => (other, picked),
    };
    Rod {
        driver,
        follower,
        ..rod
    }
}

/// Everything of a project that turns.
fn parts(project: &Project) -> Vec<Moves> {
    let of_eye = |eye: usize| {
        let turns = [Turn::Side, Turn::Lift].map(|turn| Moves::Gaze { eye, turn });
        let lids = project.parts_of(eye).lids;
        let lids = Which::ALL
            .into_iter()
            .filter(move |&which| lids.as_ref().is_some_and(|lids| lids.lid(which).is_some()));
        turns
            .into_iter()
            .chain(lids.map(move |which| Moves::Lid { eye, which }))
    };
    (0..project.eyes.len()).flat_map(of_eye).collect()
}

fn show_figures(ui: &mut Ui, desk: &Desk, figures: &RodFigures) {
    for (name, value) in [
        ("Between the joints", length(desk, figures.rod_length_mm)),
        (
            "Out of step by at most",
            angle(figures.follower_difference_deg),
        ),
        (
            "Rod to the lever it turns, least",
            angle(figures.transmission_least_deg),
        ),
        (
            "To balls, rings, lids and plate",
            length(desk, figures.rod_clear_mm),
        ),
        (
            "Drawn flat it would be off by",
            angle(figures.planar_difference_deg),
        ),
    ] {
        pieces::figure(ui, name, value);
    }
}

/// What a rod's follower does as its driver turns, or why it does nothing.
fn follower_over_driver(ui: &mut Ui, desk: &Desk, index: usize, rod: &Rod) {
    let linkage = match desk.laid().rods.get(index) {
        Some(Ok(linkage)) => linkage,
        Some(Err(problem)) => return pieces::hint(ui, &problem.to_string()),
        None => return,
    };
    let palette = Palette::of(ui.ctx());
    pieces::hint(ui, "What follows over what drives, °");
    let degrees = |radians: f64| Degrees::from_radians(radians).0;
    let [low, high] = linkage.driver_range;
    let over = |follower: &dyn Fn(f64) -> Option<f64>| {
        curve(low, high, |own| {
            Some([degrees(own), degrees(follower(own)?)])
        })
    };
    let other = desk.stance_of(rod.driver).other;
    let truly = |linkage: &Linkage, own: f64| Some(linkage.at(Pose { own, other })?.own);
    let lines = [
        (
            "in step",
            over(&|own| Some(in_step(linkage, own))),
            palette.faint,
            1.0,
        ),
        (
            "drawn flat",
            over(&|own| linkage.planar_at(own)),
            palette.ring_edge,
            1.5,
        ),
        (
            "follows",
            over(&|own| truly(linkage, own)),
            palette.accent,
            2.0,
        ),
    ];
    let now = degrees(desk.stance_of(rod.driver).own);
    let entries = lines
        .iter()
        .rev()
        .map(|&(name, _, colour, _)| (colour, Look::Line, name));
    let now_entry = (palette.ink, Look::Line, "now");
    let entries: Vec<_> = entries.chain([now_entry]).collect();
    let words = in_words("follower over driver", &lines[2].1);
    let chart = plot("follower over driver").show(ui, |plot| {
        for (name, points, colour, width) in lines {
            plot.line(Line::new(name, points).color(colour).width(width));
        }
        plot.vline(VLine::new("now", now).color(palette.ink));
    });
    tell(&chart.response, words);
    key(ui, &entries);
}

/// Where the follower would be if it turned as its driver does.
fn in_step(linkage: &Linkage, own: f64) -> f64 {
    let [driver, follower] = linkage.rest();
    follower + own - driver
}
