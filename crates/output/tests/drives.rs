//! Drives on the sheet: named in the view and drawn in the side cut.

use output::Drawing;

use crate::projects::{UNITS, demos, from_the_back, options, plate_pages};

/// How often a page says exactly this.
fn says(page: &Drawing, text: &str) -> usize {
    page.texts.iter().filter(|own| own.text == text).count()
}

#[test]
fn the_view_names_every_drive_at_each_of_its_holes_and_where_its_sheath_ends() {
    for case in demos() {
        for options in UNITS
            .map(options)
            .into_iter()
            .chain(UNITS.map(from_the_back))
        {
            let pages = case.pages(&options).unwrap();
            assert_eq!(plate_pages(&pages) + 1, pages.len(), "{}", case.name);
            for (index, drive) in case.laid.drives.iter().enumerate() {
                let name = format!("D{}", index + 1);
                let wanted = match &drive.pull {
                    Ok(_) => drive.holes.len() + 1,
                    Err(_) => 0,
                };
                assert_eq!(says(&pages[0], &name), wanted, "{}, {name}", case.name);
            }
        }
    }
}
