//! What every file of the format holds around its entities: header, tables, blocks and objects.

use layout::geometry::Point;

use super::tags::Tags;
use crate::cut::{NOTE_HEIGHT, Purpose};
use crate::drawing::Bounds;

/// Handles of what others refer to.
const VIEWPORTS: u32 = 0x1;
const LINE_TYPES: u32 = 0x2;
const LAYERS: u32 = 0x3;
const STYLES: u32 = 0x4;
const VIEWS: u32 = 0x5;
const COORDINATES: u32 = 0x6;
const APPLICATIONS: u32 = 0x7;
const DIMENSION_STYLES: u32 = 0x8;
const RECORDS: u32 = 0x9;
/// The record that entities of the drawing belong to.
pub(super) const MODEL: u32 = 0xa;
const PAPER: u32 = 0xb;
const ROOT: u32 = 0xc;
const GROUPS: u32 = 0xd;
const LAYOUTS: u32 = 0xe;
const MODEL_LAYOUT: u32 = 0xf;
const PAPER_LAYOUT: u32 = 0x10;
const PLOT_STYLES: u32 = 0x11;
const PLOT_STYLE: u32 = 0x12;
const DIMENSION_STYLE: u32 = 0x13;

/// The first handle that nothing above has.
pub(super) const FIRST_FREE_HANDLE: u32 = 0x20;

/// The style of every text.
pub(super) const TEXT_STYLE: &str = "Standard";

/// `$INSUNITS` of a millimetre (PyPI ezdxf 1.4.5, `ezdxf/units.py`).
const MILLIMETRE: u16 = 4;

/// `$MEASUREMENT` of metric drawings (PyPI ezdxf 1.4.5, `ezdxf/sections/headervars.py`).
const METRIC: u16 = 1;

/// Writes the header. It holds no date and no identity, so that the same part gives the same bytes.
pub(super) fn header(tags: &mut Tags, page: &Bounds, free_handle: u32) {
    tags.section("HEADER");
    let mut variable = |name: &str, write: &dyn Fn(&mut Tags)| {
        tags.tag(9, name);
        write(tags);
    };
    variable("$ACADVER", &|t| t.tag(1, "AC1015"));
    variable("$DWGCODEPAGE", &|t| t.tag(3, "ANSI_1252"));
    variable("$EXTMIN", &|t| t.point(10, page.low));
    variable("$EXTMAX", &|t| t.point(10, page.high));
    variable("$MEASUREMENT", &|t| t.tag(70, METRIC));
    variable("$INSUNITS", &|t| t.tag(70, MILLIMETRE));
    variable("$HANDSEED", &|t| t.handle(5, free_handle));
    tags.end_section();
    tags.section("CLASSES");
    for (kind, class) in [
        ("ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault"),
        ("ACDBPLACEHOLDER", "AcDbPlaceHolder"),
        ("LAYOUT", "AcDbLayout"),
    ] {
        tags.tag(0, "CLASS");
        tags.tag(1, kind);
        tags.tag(2, class);
        tags.tag(3, "ObjectDBX Classes");
        tags.tag(90, 0);
        tags.tag(280, 0);
        tags.tag(281, 0);
    }
    tags.end_section();
}

/// Writes the tables: the layers, and what the format asks for besides.
pub(super) fn tables(tags: &mut Tags, page: &Bounds) {
    tags.section("TABLES");
    table(tags, "VPORT", VIEWPORTS, 1);
    viewport(tags, page);
    tags.tag(0, "ENDTAB");

    table(tags, "LTYPE", LINE_TYPES, 3);
    for name in ["ByBlock", "ByLayer", "Continuous"] {
        entry(tags, "LTYPE", LINE_TYPES, "AcDbLinetypeTableRecord", name);
        tags.tag(3, "");
        tags.tag(72, 65);
        tags.tag(73, 0);
        tags.number(40, 0.0);
    }
    tags.tag(0, "ENDTAB");

    let layers = Purpose::ALL.map(|purpose| (purpose.name(), purpose.index()));
    // Layer 0 is in every file; 7 is black or white.
    let layers: Vec<_> = [("0", 7)].into_iter().chain(layers).collect();
    table(tags, "LAYER", LAYERS, layers.len());
    for (name, colour) in layers {
        entry(tags, "LAYER", LAYERS, "AcDbLayerTableRecord", name);
        tags.tag(62, colour);
        tags.tag(6, "Continuous");
        tags.handle(390, PLOT_STYLE);
    }
    tags.tag(0, "ENDTAB");

    table(tags, "STYLE", STYLES, 1);
    entry(
        tags,
        "STYLE",
        STYLES,
        "AcDbTextStyleTableRecord",
        TEXT_STYLE,
    );
    tags.number(40, 0.0);
    tags.number(41, 1.0);
    tags.number(50, 0.0);
    tags.tag(71, 0);
    tags.number(42, NOTE_HEIGHT);
    tags.tag(3, "txt");
    tags.tag(4, "");
    tags.tag(0, "ENDTAB");

    table(tags, "VIEW", VIEWS, 0);
    tags.tag(0, "ENDTAB");
    table(tags, "UCS", COORDINATES, 0);
    tags.tag(0, "ENDTAB");
    table(tags, "APPID", APPLICATIONS, 1);
    entry(tags, "APPID", APPLICATIONS, "AcDbRegAppTableRecord", "ACAD");
    tags.tag(0, "ENDTAB");

    table(tags, "DIMSTYLE", DIMENSION_STYLES, 1);
    tags.tag(100, "AcDbDimStyleTable");
    tags.tag(0, "DIMSTYLE");
    // Of all entries, this alone has its handle under 105.
    tags.handle(105, DIMENSION_STYLE);
    tags.handle(330, DIMENSION_STYLES);
    tags.tag(100, "AcDbSymbolTableRecord");
    tags.tag(100, "AcDbDimStyleTableRecord");
    tags.tag(2, "Standard");
    tags.tag(70, 0);
    tags.tag(0, "ENDTAB");

    table(tags, "BLOCK_RECORD", RECORDS, SPACES.len());
    for space in SPACES {
        tags.tag(0, "BLOCK_RECORD");
        tags.handle(5, space.record);
        tags.handle(330, RECORDS);
        tags.tag(100, "AcDbSymbolTableRecord");
        tags.tag(100, "AcDbBlockTableRecord");
        tags.tag(2, space.block);
        tags.handle(340, space.layout);
    }
    tags.tag(0, "ENDTAB");
    tags.end_section();
}

/// A space that the format wants: the drawing's own, and a sheet of paper, which stays empty.
struct Space {
    block: &'static str,
    record: u32,
    name: &'static str,
    layout: u32,
    order: u8,
}

const SPACES: [Space; 2] = [
    Space {
        block: "*Model_Space",
        record: MODEL,
        name: "Model",
        layout: MODEL_LAYOUT,
        order: 0,
    },
    Space {
        block: "*Paper_Space",
        record: PAPER,
        name: "Layout1",
        layout: PAPER_LAYOUT,
        order: 1,
    },
];

fn table(tags: &mut Tags, kind: &str, handle: u32, entries: usize) {
    tags.tag(0, "TABLE");
    tags.tag(2, kind);
    tags.handle(5, handle);
    tags.handle(330, 0);
    tags.tag(100, "AcDbSymbolTable");
    tags.tag(70, entries);
}

fn entry(tags: &mut Tags, kind: &str, table: u32, class: &str, name: &str) {
    tags.tag(0, kind);
    tags.new_handle();
    tags.handle(330, table);
    tags.tag(100, "AcDbSymbolTableRecord");
    tags.tag(100, class);
    tags.tag(2, name);
    tags.tag(70, 0);
}

/// The view that a reader opens with: the whole page.
fn viewport(tags: &mut Tags, page: &Bounds) {
    let [width, height] = page.size();
    let pair = |tags: &mut Tags, code: u16, x: f64, y: f64| {
        tags.number(code, x);
        tags.number(code + 10, y);
    };
    entry(
        tags,
        "VPORT",
        VIEWPORTS,
        "AcDbViewportTableRecord",
        "*Active",
    );
    pair(tags, 10, 0.0, 0.0);
    pair(tags, 11, 1.0, 1.0);
    pair(tags, 12, page.centre().x, page.centre().y);
    // Seen from above, the origin as target.
    tags.point(16, Point::origin());
    tags.number(36, 1.0);
    tags.point(17, Point::origin());
    tags.number(40, height);
    tags.number(41, width / height);
    tags.number(42, 50.0);
}

/// Writes the blocks of both spaces, which hold nothing themselves.
pub(super) fn blocks(tags: &mut Tags) {
    tags.section("BLOCKS");
    for space in SPACES {
        for (kind, class) in [("BLOCK", "AcDbBlockBegin"), ("ENDBLK", "AcDbBlockEnd")] {
            tags.tag(0, kind);
            tags.new_handle();
            tags.handle(330, space.record);
            tags.tag(100, "AcDbEntity");
            tags.tag(8, "0");
            tags.tag(100, class);
            if kind == "BLOCK" {
                tags.tag(2, space.block);
                tags.tag(70, 0);
                tags.point(10, Point::origin());
                tags.tag(3, space.block);
                tags.tag(1, "");
            }
        }
    }
    tags.end_section();
}

/// Writes the objects: the dictionaries that the format wants, and a layout for each space.
pub(super) fn objects(tags: &mut Tags, page: &Bounds) {
    tags.section("OBJECTS");
    dictionary(
        tags,
        ROOT,
        0,
        &[
            ("ACAD_GROUP", GROUPS),
            ("ACAD_LAYOUT", LAYOUTS),
            ("ACAD_PLOTSTYLENAME", PLOT_STYLES),
        ],
    );
    dictionary(tags, GROUPS, ROOT, &[]);
    dictionary(
        tags,
        LAYOUTS,
        ROOT,
        &SPACES.map(|space| (space.name, space.layout)),
    );
    tags.tag(0, "ACDBDICTIONARYWDFLT");
    dictionary_entries(tags, PLOT_STYLES, ROOT, &[("Normal", PLOT_STYLE)]);
    tags.tag(100, "AcDbDictionaryWithDefault");
    tags.handle(340, PLOT_STYLE);
    tags.tag(0, "ACDBPLACEHOLDER");
    tags.handle(5, PLOT_STYLE);
    tags.handle(330, PLOT_STYLES);
    for space in SPACES {
        layout(tags, &space, page);
    }
    tags.end_section();
}

fn dictionary(tags: &mut Tags, handle: u32, owner: u32, entries: &[(&str, u32)]) {
    tags.tag(0, "DICTIONARY");
    dictionary_entries(tags, handle, owner, entries);
}

fn dictionary_entries(tags: &mut Tags, handle: u32, owner: u32, entries: &[(&str, u32)]) {
    tags.handle(5, handle);
    tags.handle(330, owner);
    tags.tag(100, "AcDbDictionary");
    tags.tag(281, 1);
    for (name, entry) in entries {
        tags.tag(3, name);
        tags.handle(350, *entry);
    }
}

/// A layout as large as the page.
fn layout(tags: &mut Tags, space: &Space, page: &Bounds) {
    let [width, height] = page.size();
    // Of plot settings, those of the model are marked so.
    let model = if space.order == 0 { 1024 } else { 0 };
    tags.tag(0, "LAYOUT");
    tags.handle(5, space.layout);
    tags.handle(330, LAYOUTS);
    tags.tag(100, "AcDbPlotSettings");
    tags.tag(1, "");
    tags.tag(4, "");
    tags.tag(6, "");
    tags.number(44, width);
    tags.number(45, height);
    tags.tag(70, model);
    // Millimetres, at one to one.
    tags.tag(72, 1);
    tags.number(142, 1.0);
    tags.number(143, 1.0);
    tags.tag(100, "AcDbLayout");
    tags.tag(1, space.name);
    tags.tag(70, 1);
    tags.tag(71, space.order);
    tags.number(10, page.low.x);
    tags.number(20, page.low.y);
    tags.number(11, page.high.x);
    tags.number(21, page.high.y);
    tags.point(14, page.low);
    tags.point(15, page.high);
    tags.handle(330, space.record);
}
