//! The part of the font that a file needs, with the way back from its glyphs to letters.

use std::collections::BTreeMap;

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;
use ttf_parser::GlyphId;

use crate::drawing::{Ink, Item};
use crate::font::{BYTES, FACE, glyph};

/// What the font is called inside a page.
pub(super) const NAME: Name<'static> = Name(b"F");

/// Six letters in front of the name say that it is a part of the font (PDF 1.7, 9.6.4).
const BASE_NAME: &[u8] = b"PETITO+DejaVuSans";

const SYSTEM: SystemInfo<'static> = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

/// The glyphs of one file.
pub(super) struct Subset {
    remapper: GlyphRemapper,
    /// Every letter with its glyph in the file.
    letters: BTreeMap<char, u16>,
}

impl Subset {
    /// The glyphs for the texts of these items.
    pub(super) fn of<'a>(items: impl Iterator<Item = &'a Item>) -> Self {
        let mut letters: BTreeMap<char, u16> = BTreeMap::new();
        for item in items {
            if let Ink::Text { words, .. } = &item.ink {
                letters.extend(words.chars().map(|letter| (letter, 0)));
            }
        }
        let mut remapper = GlyphRemapper::new();
        if let Some(face) = FACE.as_ref() {
            for (letter, new) in &mut letters {
                *new = remapper.remap(glyph(face, *letter).0);
            }
        }
        Self { remapper, letters }
    }

    /// A text as glyph numbers, two bytes each.
    pub(super) fn glyphs(&self, words: &str) -> Vec<u8> {
        words
            .chars()
            .flat_map(|letter| {
                self.letters
                    .get(&letter)
                    .copied()
                    .unwrap_or(0)
                    .to_be_bytes()
            })
            .collect()
    }

    /// Writes the font under the number `face`; `next` hands out numbers for its parts.
    pub(super) fn write(&self, pdf: &mut Pdf, face: Ref, mut next: impl FnMut() -> Ref) {
        let (descendant, descriptor, file, to_letters) = (next(), next(), next(), next());
        pdf.type0_font(face)
            .base_font(Name(BASE_NAME))
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(descendant)
            .to_unicode(to_letters);
        let Some(font) = FACE.as_ref() else { return };
        let per_thousand = |units: i16| f32::from(units) * 1000.0 / f32::from(font.units_per_em());

        let mut cid = pdf.cid_font(descendant);
        cid.subtype(CidFontType::Type2)
            .base_font(Name(BASE_NAME))
            .system_info(SYSTEM);
        cid.font_descriptor(descriptor)
            .default_width(0.0)
            .cid_to_gid_map_predefined(Name(b"Identity"));
        let widths = self.remapper.remapped_gids().map(|old| {
            let advance = font.glyph_hor_advance(GlyphId(old)).unwrap_or_default();
            f32::from(advance) * 1000.0 / f32::from(font.units_per_em())
        });
        cid.widths().consecutive(0, widths);
        cid.finish();

        let frame = font.global_bounding_box();
        pdf.font_descriptor(descriptor)
            .name(Name(BASE_NAME))
            .flags(FontFlags::SYMBOLIC)
            .bbox(Rect::new(
                per_thousand(frame.x_min),
                per_thousand(frame.y_min),
                per_thousand(frame.x_max),
                per_thousand(frame.y_max),
            ))
            .italic_angle(0.0)
            .ascent(per_thousand(font.ascender()))
            .descent(per_thousand(font.descender()))
            .cap_height(per_thousand(font.capital_height().unwrap_or(1493)))
            .stem_v(80.0)
            .font_file2(file);

        let bytes = subsetter::subset(BYTES, 0, &self.remapper).unwrap_or_else(|_| BYTES.to_vec());
        let packed = miniz_oxide::deflate::compress_to_vec_zlib(&bytes, 6);
        let mut stream = pdf.stream(file, &packed);
        stream.filter(Filter::FlateDecode);
        stream.pair(
            Name(b"Length1"),
            i32::try_from(bytes.len()).unwrap_or(i32::MAX),
        );
        stream.finish();

        let mut map = UnicodeCmap::new(Name(b"Letters"), SYSTEM);
        for (letter, glyph) in &self.letters {
            if *glyph != 0 {
                map.pair(*glyph, *letter);
            }
        }
        let map = map.finish();
        let packed = miniz_oxide::deflate::compress_to_vec_zlib(map.as_slice(), 6);
        pdf.cmap(to_letters, &packed).filter(Filter::FlateDecode);
    }
}
