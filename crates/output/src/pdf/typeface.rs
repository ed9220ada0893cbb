//! One weight of the typeface in a PDF: the glyphs that its pages use, and what they mean.

use std::collections::BTreeMap;

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;

use super::{deflated, real};
use crate::drawing::Text;
use crate::font::Weight;

/// Registry, ordering and supplement of a font whose character codes are its glyphs.
const IDENTITY: SystemInfo<'_> = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

/// Widths in a PDF are in thousandths of the em.
const PER_EM: f64 = 1_000.0;

/// The part of one weight that the drawings use.
pub(super) struct Typeface {
    pub(super) weight: Weight,
    /// New glyph of each character in use.
    glyphs: BTreeMap<char, u16>,
    remapper: GlyphRemapper,
}

impl Typeface {
    /// The glyphs that `texts` use of a weight; None if they use none.
    pub(super) fn used_by<'a>(
        texts: impl Iterator<Item = &'a Text>,
        weight: Weight,
    ) -> Option<Self> {
        let font = weight.font();
        let mut remapper = GlyphRemapper::new();
        let own = texts.filter(|text| text.weight == weight);
        let glyphs: BTreeMap<char, u16> = own
            .flat_map(|text| text.text.chars())
            .map(|character| (character, remapper.remap(font.glyph(character).id)))
            .collect();
        (!glyphs.is_empty()).then_some(Self {
            weight,
            glyphs,
            remapper,
        })
    }

    /// What the page calls the font.
    pub(super) fn key(&self) -> &'static [u8] {
        match self.weight {
            Weight::Regular => b"R",
            Weight::SemiBold => b"B",
        }
    }

    /// A text as the codes of its glyphs, two bytes each.
    pub(super) fn encode(&self, text: &str) -> Vec<u8> {
        let glyph = |c| self.glyphs.get(&c).copied().unwrap_or(0);
        text.chars().flat_map(|c| glyph(c).to_be_bytes()).collect()
    }

    /// Writes the font with its glyphs, widths and characters.
    pub(super) fn embed(&self, pdf: &mut Pdf, font_id: Ref, id: &mut impl FnMut() -> Ref) {
        let (cid_id, descriptor_id, map_id, file_id) = (id(), id(), id(), id());
        let font = self.weight.font();
        let name = format!("{}+{}", self.tag(), font.name);
        let base = Name(name.as_bytes());

        pdf.type0_font(font_id)
            .base_font(base)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid_id)
            .to_unicode(map_id);

        let mut cid = pdf.cid_font(cid_id);
        cid.subtype(CidFontType::Type0)
            .base_font(base)
            .system_info(IDENTITY)
            .font_descriptor(descriptor_id)
            .default_width(0.0);
        let advances = self.remapper.remapped_gids();
        let widths = advances.map(|glyph| real(font.advance(glyph) * PER_EM));
        cid.widths().consecutive(0, widths);
        cid.finish();

        let [left, bottom, right, top] = font.bounds().map(|side| real(side * PER_EM));
        let [ascent, descent] = font.line().map(|height| real(height * PER_EM));
        pdf.font_descriptor(descriptor_id)
            .name(base)
            .flags(FontFlags::NON_SYMBOLIC)
            .bbox(Rect::new(left, bottom, right, top))
            .italic_angle(0.0)
            .ascent(ascent)
            .descent(descent)
            .cap_height(real(font.cap_height * PER_EM))
            .stem_v(self.stem())
            .font_file3(file_id);

        let mut map = UnicodeCmap::new(Name(b"Characters"), IDENTITY);
        for (&character, &glyph) in &self.glyphs {
            // A character without a glyph shows the empty box, whose code stands for none.
            map.pair(glyph, if glyph == 0 { '\u{fffd}' } else { character });
        }
        pdf.stream(map_id, &deflated(&map.finish().into_vec()))
            .filter(Filter::FlateDecode);

        let file = subsetter::subset(font.data, 0, &self.remapper)
            .expect("the built-in typeface can be cut down");
        let outlines = deflated(cff_table(&file).expect("its outlines are in a CFF table"));
        let mut stream = pdf.stream(file_id, &outlines);
        stream.filter(Filter::FlateDecode);
        stream.pair(Name(b"Subtype"), Name(b"CIDFontType0C"));
        stream.finish();
    }

    /// Width of an upright stem, thousandths of the em: readers use it only to replace a font.
    fn stem(&self) -> f32 {
        match self.weight {
            Weight::Regular => 90.0,
            Weight::SemiBold => 130.0,
        }
    }

    /// Six letters that tell this choice of glyphs from another.
    fn tag(&self) -> String {
        // FNV-1a, 64 bits (G. Fowler, L. C. Noll, K.-P. Vo).
        let hash = self
            .remapper
            .remapped_gids()
            .fold(0xcbf2_9ce4_8422_2325_u64, |hash, glyph| {
                (hash ^ u64::from(glyph)).wrapping_mul(0x0100_0000_01b3)
            });
        (0..6)
            .scan(hash, |rest, _| {
                let letter = b'A' + u8::try_from(*rest % 26).unwrap_or(0);
                *rest /= 26;
                Some(char::from(letter))
            })
            .collect()
    }
}

/// The outlines of an OpenType font: its `CFF ` table.
fn cff_table(file: &[u8]) -> Option<&[u8]> {
    ttf_parser::RawFace::parse(file, 0)
        .ok()?
        .table(ttf_parser::Tag::from_bytes(b"CFF "))
}
