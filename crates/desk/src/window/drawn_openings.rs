//! What is said of the openings in a drawing that a measured plate's outline was taken from.

use layout::geometry::hull::Disc;
use layout::shelf::{Dimension, Measured, Openings, SeatKind};
use output::LengthUnit;

/// Most circles whose widths are told: the largest ones.
const MOST_TOLD: usize = 6;

/// Which openings were taken from a drawing with these circles inside its outline, or why none was; `plate` is what it
/// is now. None for a plate whose openings no drawing tells.
pub(super) fn told(
    plate: &Measured,
    circles: &[Disc],
    taken: bool,
    unit: LengthUnit,
) -> Option<String> {
    let length = |mm: f64| unit.format_with_symbol(mm);
    let figure = |dimension| plate.get(dimension).map(length).unwrap_or_default();
    Some(match (plate.openings, taken) {
        (Openings::Given, _) => return None,
        (Openings::One, true) => format!(
            "A circle inside the outline is taken as the opening: its place and its diameter, {}.{}",
            figure(Dimension::Opening),
            of_seat(plate)
        ),
        (Openings::Pair, true) => format!(
            "Two circles inside the outline are taken as the openings: their spacing, {}, their place and their \
             diameter, {}.{}",
            figure(Dimension::Spacing),
            figure(Dimension::Opening),
            of_seat(plate)
        ),
        (_, false) if circles.is_empty() => {
            "No circle lies inside the outline: the openings stay as they were.".to_owned()
        }
        (_, false) => {
            let widths = circles.iter().take(MOST_TOLD);
            let widths: Vec<_> = widths.map(|own| length(2.0 * own.radius)).collect();
            let more = match circles.len().saturating_sub(MOST_TOLD) {
                0 => String::new(),
                more => format!(", and {more} smaller"),
            };
            format!(
                "Circles inside the outline: {}{more}. Which of them are openings is not clear, so these stay as they \
                 were.",
                widths.join(", ")
            )
        }
    })
}

/// Where the diameter of an opening counts, if it does not yet.
fn of_seat(plate: &Measured) -> &'static str {
    if plate.seat == SeatKind::Plain {
        ""
    } else {
        " The diameter is that of a plain seat, and kept until you choose one."
    }
}
