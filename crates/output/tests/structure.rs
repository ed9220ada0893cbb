//! The PDF is sound: its structure, its fonts, its wishes to the viewer.

use lopdf::{Dictionary, Document, Object};

use crate::projects::{UNITS, demo, demos, options};

fn follow<'a>(pdf: &'a Document, dictionary: &'a Dictionary, key: &[u8]) -> &'a Object {
    let value = dictionary.get(key).unwrap();
    pdf.dereference(value).unwrap().1
}

fn name(object: &Object) -> String {
    String::from_utf8(object.as_name().unwrap().to_vec()).unwrap()
}

#[test]
fn a_reader_finds_every_page_and_every_object() {
    for case in demos() {
        let pdf = Document::load_mem(&case.pdf(&options(UNITS[0]))).unwrap();
        let drawn = case.pages(&options(UNITS[0])).unwrap();
        assert_eq!(pdf.get_pages().len(), drawn.len());
        assert!(drawn.len() >= 2);
        for object in pdf.objects.values() {
            if let Object::Stream(stream) = object {
                assert_eq!(stream.filters().unwrap(), [b"FlateDecode"]);
                assert!(!stream.decompressed_content().unwrap().is_empty());
            }
        }
    }
}

#[test]
fn the_viewer_is_told_not_to_scale_and_what_it_shows() {
    let case = demo("bramble");
    let pdf = Document::load_mem(&case.pdf(&options(UNITS[0]))).unwrap();
    let root = pdf.catalog().unwrap();
    // ISO 32000-1, 12.2, table 150 (from memory): PrintScaling None.
    let preferences = follow(&pdf, root, b"ViewerPreferences").as_dict().unwrap();
    assert_eq!(name(follow(&pdf, preferences, b"PrintScaling")), "None");
    assert_eq!(follow(&pdf, root, b"Lang").as_str().unwrap(), b"en-GB");
    let info = follow(&pdf, &pdf.trailer, b"Info").as_dict().unwrap();
    let title = lopdf::decode_text_string(follow(&pdf, info, b"Title")).unwrap();
    assert_eq!(title, "Bramble the badger, plate, top view");
    assert!(info.get(b"CreationDate").is_err() && info.get(b"ModDate").is_err());
}

#[test]
fn every_font_is_an_embedded_part_of_its_typeface_with_its_characters() {
    for case in demos() {
        let bytes = case.pdf(&options(UNITS[1]));
        assert!(
            bytes.len() < 120_000,
            "{}: {} bytes",
            case.name,
            bytes.len()
        );
        let pdf = Document::load_mem(&bytes).unwrap();
        let page = pdf.page_iter().next().unwrap();
        let fonts = pdf.get_page_fonts(page).unwrap();
        assert_eq!(fonts.len(), 2);
        for font in fonts.values() {
            assert_eq!(name(follow(&pdf, font, b"Subtype")), "Type0");
            let map = follow(&pdf, font, b"ToUnicode").as_stream().unwrap();
            let map = String::from_utf8(map.decompressed_content().unwrap()).unwrap();
            assert!(map.contains("beginbfchar"));
            let descendants = follow(&pdf, font, b"DescendantFonts").as_array().unwrap();
            let own = pdf
                .dereference(&descendants[0])
                .unwrap()
                .1
                .as_dict()
                .unwrap();
            let base = name(follow(&pdf, own, b"BaseFont"));
            let (tag, face) = base.split_once('+').unwrap();
            assert!(
                tag.len() == 6 && tag.chars().all(|c| c.is_ascii_uppercase()),
                "{base}"
            );
            assert!(face.starts_with("Inter-"), "{base}");
            let descriptor = follow(&pdf, own, b"FontDescriptor").as_dict().unwrap();
            let file = follow(&pdf, descriptor, b"FontFile3").as_stream().unwrap();
            assert_eq!(name(file.dict.get(b"Subtype").unwrap()), "CIDFontType0C");
            let outlines = file.decompressed_content().unwrap();
            // The whole face has half a megabyte.
            assert!(
                (500..60_000).contains(&outlines.len()),
                "{} bytes",
                outlines.len()
            );
        }
    }
}

#[test]
fn two_runs_give_the_same_bytes() {
    for case in demos() {
        for unit in UNITS {
            assert_eq!(
                case.pdf(&options(unit)),
                case.pdf(&options(unit)),
                "{}",
                case.name
            );
        }
    }
}
