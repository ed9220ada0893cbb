//! Blocks are drawn wherever they are inserted.

use intake::Format;

use crate::common::{centroid, dxf, found, head, in_dxf, is_outline, middle, near, refusal, size};
use crate::dxf::heavy;

/// A block with the head, whose base lies at (10, 5).
fn block() -> String {
    format!("0|BLOCK|2|HEAD|70|0|10|10|20|5|{}0|ENDBLK|", heavy())
}

#[test]
fn a_block_is_scaled_turned_and_moved_by_its_base() {
    let shape = in_dxf(&block(), "0|INSERT|2|head|10|100|20|200|41|2|42|2|50|90|");
    is_outline(&shape);
    near(shape.outline.area(), 4.0 * head::area(), 1e-6);
    // The head's middle (0, 15) lies at (−10, 10) from the base; doubled and turned: (−20, −20).
    near(middle(&shape)[0], 80.0, 1e-9);
    near(middle(&shape)[1], 180.0, 1e-9);
    // What was above is now to the left.
    near(
        80.0 - centroid(&shape).x,
        2.0 * head::centroid_above_middle(),
        0.02,
    );
}

#[test]
fn a_block_in_a_block_in_a_block_is_found() {
    let blocks = block()
        + "0|BLOCK|2|B|10|0|20|0|0|INSERT|2|HEAD|10|0|20|0|41|-1|0|ENDBLK|\
           0|BLOCK|2|C|10|0|20|0|0|INSERT|8|face|2|B|10|7|20|0|50|180|0|ENDBLK|";
    let shape = in_dxf(&blocks, "0|INSERT|2|C|10|0|20|0|42|0.5|");
    // Halved in height, its arcs are arcs no more.
    near(shape.outline.area(), head::area() / 2.0, 0.5);
    near(size(&shape)[1], head::SIZE[1] / 2.0, 1e-3);
    // Mirrored: (10, 10) from the base. Turned about (7, 0): (−3, −10). Halved in height.
    near(middle(&shape)[0], -3.0, 1e-9);
    near(middle(&shape)[1], -5.0, 1e-3);
    assert_eq!(shape.name.as_deref(), Some("layer outline"));
}

#[test]
fn rows_and_columns_are_all_drawn() {
    let blocks = "0|BLOCK|2|DOT|10|0|20|0|0|CIRCLE|8|0|10|0|20|0|40|3|0|ENDBLK|";
    let insert = "0|INSERT|8|dots|2|DOT|10|0|20|0|50|90|70|3|71|2|44|10|45|20|";
    let found = found(&dxf(blocks, insert), Format::Dxf);
    let mut middles: Vec<[i32; 2]> = found
        .shapes
        .iter()
        .map(|shape| middle(shape).map(|v| format!("{v:.0}").parse().unwrap()))
        .collect();
    middles.sort_unstable();
    // Columns run along the turned x, upward; rows along the turned y, to the left.
    assert_eq!(
        middles,
        [[-20, 0], [-20, 10], [-20, 20], [0, 0], [0, 10], [0, 20]]
    );
    assert!(
        found
            .shapes
            .iter()
            .all(|shape| shape.name.as_deref() == Some("layer dots"))
    );
}

#[test]
fn an_insert_seen_from_the_back_is_mirrored() {
    let shape = in_dxf(&block(), "0|INSERT|2|HEAD|10|100|20|0|210|0|220|0|230|-1|");
    near(middle(&shape)[0], -90.0, 1e-9);
    is_outline(&shape);
}

#[test]
fn a_block_that_is_not_in_the_file_is_said() {
    let text = dxf(
        "",
        "0|INSERT|2|LOST|10|0|20|0|0|INSERT|2|LOST|10|5|20|0|0|CIRCLE|10|0|20|0|40|50|",
    );
    let found = found(&text, Format::Dxf);
    assert_eq!(
        found.notes,
        ["The block “LOST” is not in the file and was left out."]
    );
}

#[test]
fn blocks_that_multiply_without_end_are_refused() {
    // Ten blocks, each of ten of the one before: a thousand million words.
    let mut blocks = "0|BLOCK|2|B0|10|0|20|0|0|TEXT|1|ha|0|ENDBLK|".to_owned();
    for level in 1..10 {
        let insert = format!("0|INSERT|2|B{}|10|{level}|20|0|", level - 1).repeat(10);
        blocks += &format!("0|BLOCK|2|B{level}|10|0|20|0|{insert}0|ENDBLK|");
    }
    let error = refusal(dxf(&blocks, "0|INSERT|2|B9|").as_bytes(), Format::Dxf);
    assert_eq!(
        error.to_string(),
        "With all its copies of copies, the file draws more than 100000 things."
    );
    assert_eq!(
        error.remedy(),
        "Turn copies and blocks into plain paths, and save it again."
    );
    // As many of nothing at all.
    let nothing = "0|BLOCK|2|N|10|0|20|0|0|ENDBLK|";
    let insert = "0|INSERT|2|N|70|2000000000|71|2000000000|";
    let error = refusal(dxf(nothing, insert).as_bytes(), Format::Dxf);
    assert!(
        error.to_string().starts_with("With all its copies"),
        "{error}"
    );
}

#[test]
fn a_block_within_itself_is_refused() {
    let blocks =
        "0|BLOCK|2|A|10|0|20|0|0|INSERT|2|B|0|ENDBLK|0|BLOCK|2|B|10|0|20|0|0|INSERT|2|A|0|ENDBLK|";
    let error = refusal(dxf(blocks, "0|INSERT|2|A|").as_bytes(), Format::Dxf);
    assert_eq!(
        error.to_string(),
        "The file's groups and copies lie more than 16 deep in each other."
    );
}
