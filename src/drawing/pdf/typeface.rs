//! The part of the face that a document needs, embedded.
//!
//! Each character has a code of its own, even where two share a letter of the face, so that copied
//! text is what was written.

use super::{PdfError, narrow, packed};
use crate::drawing::font;
use crate::drawing::paper::Document;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use std::collections::BTreeMap;
use subsetter::GlyphRemapper;

/// What content streams call the face.
pub(super) const RESOURCE: Name<'static> = Name(b"F");

/// Name of the embedded part: six letters and a plus mark a part of a face (PDF 1.7, 9.6.4).
const PART_PREFIX: &str = "FILLIS+";

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
        let system =
            SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

        let mut part = GlyphRemapper::new();
        let mut glyph_of_code = vec![0, 0];
        let mut to_unicode = UnicodeCmap::new(Name(b"Codes"), system);
        for (&c, &code) in &self.codes {
            let glyph = part.remap(font::glyph(c).unwrap_or(0));
            glyph_of_code.extend(glyph.to_be_bytes());
            to_unicode.pair(code, c);
        }
        let data = subsetter::subset(font::DATA, 0, &part)
            .map_err(|error| PdfError::Face(error.to_string()))?;

        pdf.type0_font(whole)
            .base_font(name)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid)
            .to_unicode(unicode);
        let mut font = pdf.cid_font(cid);
        font.subtype(CidFontType::Type2)
            .base_font(name)
            .system_info(system)
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
        let packed_data = packed(&data);
        let mut stream = pdf.stream(file, &packed_data);
        stream.filter(Filter::FlateDecode);
        let length = i32::try_from(data.len()).unwrap_or(i32::MAX);
        stream.pair(Name(b"Length1"), length);
        stream.finish();
        let codes = packed(to_unicode.finish().as_slice());
        pdf.stream(unicode, &codes).filter(Filter::FlateDecode);
        pdf.stream(glyphs, &packed(&glyph_of_code)).filter(Filter::FlateDecode);
        Ok(())
    }
}
