//! The typeface of all drawings: which glyphs there are, and how large.

use std::sync::LazyLock;

use ttf_parser::{Face, GlyphId};

/// How heavy a text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Weight {
    /// For almost everything.
    Regular,
    /// For headings and what must not be missed.
    SemiBold,
}

impl Weight {
    /// Both weights.
    pub const ALL: [Self; 2] = [Self::Regular, Self::SemiBold];

    /// The typeface in this weight.
    pub(crate) fn font(self) -> &'static Font {
        static REGULAR: LazyLock<Font> = LazyLock::new(|| {
            Font::read(
                "Inter-Regular",
                include_bytes!("../../../assets/fonts/Inter-Regular.otf"),
            )
        });
        static SEMI_BOLD: LazyLock<Font> = LazyLock::new(|| {
            Font::read(
                "Inter-SemiBold",
                include_bytes!("../../../assets/fonts/Inter-SemiBold.otf"),
            )
        });
        match self {
            Self::Regular => &REGULAR,
            Self::SemiBold => &SEMI_BOLD,
        }
    }
}

/// How many characters are looked up once: the Latin ones.
const COMMON: u32 = 0x250;

/// What is drawn for a character. Its lengths are shares of the em.
#[derive(Clone, Copy)]
pub(crate) struct Glyph {
    /// Its number in the font; 0, an empty box, if the font has none for the character.
    pub(crate) id: u16,
    /// How far it moves the pen.
    pub(crate) advance: f64,
    /// Its lowest and highest ink over the baseline; None if it has none.
    pub(crate) ink: Option<[f64; 2]>,
}

/// One weight of the typeface. Its lengths are shares of the em, the size that fonts are set in.
pub(crate) struct Font {
    /// Its PostScript name.
    pub(crate) name: &'static str,
    /// The font file.
    pub(crate) data: &'static [u8],
    /// Height of a capital letter.
    pub(crate) cap_height: f64,
    face: Face<'static>,
    /// The first characters of Unicode, looked up once: a sheet asks for them thousands of times.
    common: Vec<Glyph>,
}

impl Font {
    fn read(name: &'static str, data: &'static [u8]) -> Self {
        let face = Face::parse(data, 0).expect("the built-in typeface is a font");
        let capital = face
            .capital_height()
            .expect("the built-in typeface has capitals");
        let mut font = Self {
            name,
            data,
            cap_height: f64::from(capital) / f64::from(face.units_per_em()),
            face,
            common: Vec::new(),
        };
        let characters = (0..COMMON).map(|code| char::from_u32(code).unwrap_or_default());
        font.common = characters
            .map(|character| font.look_up(character))
            .collect();
        font
    }

    /// What is drawn for a character.
    pub(crate) fn glyph(&self, character: char) -> Glyph {
        let common = self.common.get(character as usize);
        common.copied().unwrap_or_else(|| self.look_up(character))
    }

    fn look_up(&self, character: char) -> Glyph {
        let id = self.face.glyph_index(character).unwrap_or_default();
        let ink = self.face.glyph_bounding_box(id);
        Glyph {
            id: id.0,
            advance: self.advance(id.0),
            ink: ink.map(|ink| [ink.y_min, ink.y_max].map(|y| self.ems(y))),
        }
    }

    /// How far a glyph moves the pen.
    pub(crate) fn advance(&self, glyph: u16) -> f64 {
        self.ems(self.face.glyph_hor_advance(GlyphId(glyph)).unwrap_or(0))
    }

    /// Box around all glyphs: left, bottom, right, top.
    pub(crate) fn bounds(&self) -> [f64; 4] {
        let all = self.face.global_bounding_box();
        [all.x_min, all.y_min, all.x_max, all.y_max].map(|side| self.ems(side))
    }

    /// Height above and depth below the baseline that a line of text needs.
    pub(crate) fn line(&self) -> [f64; 2] {
        [self.face.ascender(), self.face.descender()].map(|height| self.ems(height))
    }

    fn ems(&self, units: impl Into<f64>) -> f64 {
        units.into() / f64::from(self.face.units_per_em())
    }
}

/// Width of `text` with capitals of height `cap_height`, mm.
pub fn width(text: &str, weight: Weight, cap_height: f64) -> f64 {
    let font = weight.font();
    let em: f64 = text.chars().map(|c| font.glyph(c).advance).sum();
    em * cap_height / font.cap_height
}
