//! The part of the face that a document needs, embedded.
//!
//! Each character has a code of its own, even where two share a letter of the face, so that copied
//! text is what was written.

use super::{PdfError, narrow, packed};
use crate::drawing::font;
use crate::drawing::paper::Document;
use crate::lately::Lately;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use std::collections::BTreeMap;
use std::sync::Arc;
use subsetter::GlyphRemapper;

/// What content streams call the face.
pub(super) const RESOURCE: Name<'static> = Name(b"F");

/// Name of the embedded part: six letters and a plus mark a part of a face (PDF 1.7, 9.6.4).
const PART_PREFIX: &str = "FILLIS+";

/// Parts of the face that were embedded lately: sheets of sashes that are alike have the same letters.
static PARTS: Lately<Vec<char>, Arc<Part>> = Lately::new(32);

/// A part of the face, ready to be written; each of its characters has its place in the list of them, from 1, as its code.
struct Part {
    /// The part itself, packed, and its length before.
    data: Vec<u8>,
    length: i32,
    /// What tells a reader the character of each code, and its letter in the part, packed.
    unicode: Vec<u8>,
    glyphs: Vec<u8>,
}

impl Part {
    /// That of these characters, in order.
    fn of(letters: Vec<char>) -> Result<Arc<Part>, PdfError> {
        PARTS.ask(letters, |letters| Ok(Arc::new(Part::make(letters)?)))
    }

    fn make(letters: &[char]) -> Result<Part, PdfError> {
        let mut part = GlyphRemapper::new();
        let mut glyph_of_code = vec![0, 0];
        let mut to_unicode = UnicodeCmap::new(Name(b"Codes"), SYSTEM);
        for (&c, code) in letters.iter().zip(1_u16..) {
            let glyph = part.remap(font::glyph(c).unwrap_or(0));
            glyph_of_code.extend(glyph.to_be_bytes());
            to_unicode.pair(code, c);
        }
        let data = subsetter::subset(font::DATA, 0, &part)
            .map_err(|error| PdfError::Face(error.to_string()))?;
        Ok(Part {
            length: i32::try_from(data.len()).unwrap_or(i32::MAX),
            data: packed(&data),
            unicode: packed(to_unicode.finish().as_slice()),
            glyphs: packed(&glyph_of_code),
        })
    }
}

/// How codes are ordered.
const SYSTEM: SystemInfo<'static> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// The characters of a document with their codes.
pub(super) struct Typeface {
    codes: BTreeMap<char, u16>,
}

impl Typeface {
    pub(super) fn of(document: &Document) -> Typeface {
        let mut codes = BTreeMap::new();
        for text in document.pages.iter().flat_map(super::super::Page::texts) {
            for c in text.value.chars() {
                codes.insert(c, 0);
            }
        }
        // Code 0 is for what is not there.
        for (code, next) in codes.values_mut().zip(1..) {
            *code = next;
        }
        Typeface { codes }
    }

    /// `text` in two bytes a character.
    pub(super) fn code(&self, text: &str) -> Vec<u8> {
        text.chars().flat_map(|c| self.codes.get(&c).copied().unwrap_or(0).to_be_bytes()).collect()
    }

    /// Writes the face as the objects `ids`, the first of which is the font itself.
    pub(super) fn embed(&self, pdf: &mut Pdf, ids: [Ref; 6]) -> Result<(), PdfError> {
        let [whole, cid, descriptor, file, unicode, glyphs] = ids;
        let face = font::face().ok_or_else(|| PdfError::Face("it cannot be read".into()))?;
        let name = format!("{PART_PREFIX}{}", font::NAME);
        let name = Name(name.as_bytes());
        let part = Part::of(self.codes.keys().copied().collect())?;

        pdf.type0_font(whole)
            .base_font(name)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid)
            .to_unicode(unicode);
        let mut font = pdf.cid_font(cid);
        font.subtype(CidFontType::Type2)
            .base_font(name)
            .system_info(SYSTEM)
            .font_descriptor(descriptor)
            .default_width(1000.0)
            .cid_to_gid_map_stream(glyphs);
        let widths = self.codes.keys().map(|&c| narrow(1000.0 * font::advance([c].into_iter())));
        font.widths().consecutive(1, widths);
        font.finish();

        let em = narrow(face.em) / 1000.0;
        let [x0, y0, x1, y1] = face.bounds.map(|value| f32::from(value) / em);
        pdf.font_descriptor(descriptor)
            .name(name)
            .flags(FontFlags::SYMBOLIC)
            .bbox(Rect::new(x0, y0, x1, y1))
            .italic_angle(0.0)
            .ascent(f32::from(face.ascender) / em)
            .descent(f32::from(face.descender) / em)
            .cap_height(narrow(1000.0 * font::CAPITAL))
            .stem_v(80.0)
            .font_file2(file);
        let mut stream = pdf.stream(file, &part.data);
        stream.filter(Filter::FlateDecode);
        stream.pair(Name(b"Length1"), part.length);
        stream.finish();
        pdf.stream(unicode, &part.unicode).filter(Filter::FlateDecode);
        pdf.stream(glyphs, &part.glyphs).filter(Filter::FlateDecode);
        Ok(())
    }
}
