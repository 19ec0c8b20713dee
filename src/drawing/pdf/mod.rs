//! The PDF pen: pages of true size, in a face that travels with them.
//!
//! Promised: lengths are true when printed at 100 %; text is real text of the embedded face and can
//! be selected; every layer is a marked piece of content that bears its name; equal documents give
//! equal bytes, as there is neither date nor file id. Not promised: scripts that the face does not
//! have; those are refused by name.

mod content;
mod typeface;

use super::paper::Document;
use super::{SceneError, font};
use crate::number::INCH;
use pdf_writer::{Finish, Name, Pdf, Rect, Ref, TextStr};
use rayon::prelude::*;
use std::fmt;
use typeface::Typeface;

/// Points in a millimetre: 72 in an inch.
const POINTS: f64 = 72.0 / INCH;

/// Longest side of a page that every reader takes: 14 400 points (PDF 1.7, annex C).
pub const LONGEST_PAGE: f64 = 14_400.0 / POINTS;

/// How hard content is compressed, 0 to 10: half as much work again would make it a tenth smaller.
const PACKING: u8 = 2;

/// Why no PDF was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PdfError {
    /// A scene that cannot be drawn.
    Scene(SceneError),
    /// The face has no letter for this character, in this text.
    Letter(char, String),
    /// A page without area, or too large.
    PageSize,
    /// The face could not be embedded.
    Face(String),
}

impl fmt::Display for PdfError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PdfError::Scene(error) => error.fmt(f),
            PdfError::Letter(letter, text) => write!(
                f,
                "no sheet can be lettered with `{letter}` of {text:?}: the face has Latin, Greek and \
                 Cyrillic letters"
            ),
            PdfError::PageSize => write!(f, "a page must be over 0 and under {LONGEST_PAGE:.0} mm"),
            PdfError::Face(why) => write!(f, "the face could not be embedded: {why}"),
        }
    }
}

impl std::error::Error for PdfError {}

impl From<SceneError> for PdfError {
    fn from(error: SceneError) -> Self {
        PdfError::Scene(error)
    }
}

/// Writes `document` as one PDF 1.7 file.
///
/// # Errors
/// As [`super::Scene::check`]; also for a character that the face lacks and a page of impossible size.
pub fn write(document: &Document) -> Result<Vec<u8>, PdfError> {
    check(document)?;
    let typeface = Typeface::of(document);
    let mut refs = (1..).map(Ref::new);
    // The range does not end before any document does.
    let mut next = || refs.next().unwrap_or(Ref::new(1));
    let (catalog, tree, info) = (next(), next(), next());
    let face = [next(), next(), next(), next(), next(), next()];
    let pages: Vec<(Ref, Ref)> = document.pages.iter().map(|_| (next(), next())).collect();

    let mut pdf = Pdf::new();
    let mut root = pdf.catalog(catalog);
    root.pages(tree);
    // Readers are asked not to fit pages to the paper.
    root.viewer_preferences().display_doc_title(true).pair(Name(b"PrintScaling"), Name(b"None"));
    root.finish();
    let count = i32::try_from(pages.len()).unwrap_or(i32::MAX);
    pdf.pages(tree).kids(pages.iter().map(|(page, _)| *page)).count(count);
    pdf.document_info(info).title(TextStr(&document.title)).producer(TextStr("Fillister"));
    let drawn = document.pages.par_iter().map(|page| packed(&content::content(page, &typeface)));
    let drawn: Vec<Vec<u8>> = drawn.collect();
    for ((page, &(id, content)), drawn) in document.pages.iter().zip(&pages).zip(&drawn) {
        let size = Rect::new(0.0, 0.0, points(page.size.width), points(page.size.height));
        let mut written = pdf.page(id);
        written.parent(tree).media_box(size).contents(content);
        let [font, ..] = face;
        written.resources().fonts().pair(typeface::RESOURCE, font);
        written.finish();
        pdf.stream(content, drawn).filter(pdf_writer::Filter::FlateDecode);
    }
    typeface.embed(&mut pdf, face)?;
    Ok(pdf.finish())
}

fn check(document: &Document) -> Result<(), PdfError> {
    let lettered = |text: &str| match text.chars().find(|c| !font::has(*c)) {
        Some(letter) => Err(PdfError::Letter(letter, text.into())),
        None => Ok(()),
    };
    for page in &document.pages {
        let good = |side: f64| side > 0.0 && side <= LONGEST_PAGE;
        if !(good(page.size.width) && good(page.size.height)) {
            return Err(PdfError::PageSize);
        }
        page.placed.iter().try_for_each(super::paper::Placed::check)?;
        page.texts().iter().try_for_each(|text| lettered(&text.value))?;
    }
    Ok(())
}

/// Compressed with zlib's form, which PDF calls Flate.
fn packed(bytes: &[u8]) -> Vec<u8> {
    miniz_oxide::deflate::compress_to_vec_zlib(bytes, PACKING)
}

/// Millimetres as points, in the width of number that PDF has.
fn points(mm: f64) -> f32 {
    narrow(mm * POINTS)
}

#[expect(clippy::cast_possible_truncation, reason = "PDF numbers are single precision")]
fn narrow(value: f64) -> f32 {
    value as f32
}
