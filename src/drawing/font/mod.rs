//! The one face that sheets are set in, and its measures.
//!
//! Promised: Latin, Greek and Cyrillic with their accents; measures are those of the face that the
//! PDF pen embeds. Not promised: other scripts; [`has`] tells.

use std::sync::OnceLock;
use ttf_parser::Face;

/// The face: see `LICENCE.txt` beside it for where it comes from.
pub(super) const DATA: &[u8] = include_bytes!("DejaVuSansCondensed-reduced.ttf");

/// Name of the face, as PDF names it.
pub(super) const NAME: &str = "DejaVuSansCondensed";

/// Height of a capital as a share of the type size.
pub(super) const CAPITAL: f64 = 0.729;

/// How far accents reach over the base line and tails under it, as shares of the height of a capital.
pub(super) const TOP: f64 = 1.3;
/// See [`TOP`].
pub(super) const TAIL: f64 = 0.35;

/// What a character without a letter in the face is reckoned to take.
const UNKNOWN: f64 = 1.0;

/// The face, parsed once; none only if the file in the program were broken.
pub(super) fn face() -> Option<&'static Face<'static>> {
    static FACE: OnceLock<Option<Face<'static>>> = OnceLock::new();
    FACE.get_or_init(|| Face::parse(DATA, 0).ok()).as_ref()
}

/// The number of the letter for `c` in the face.
pub(super) fn glyph(c: char) -> Option<u16> {
    face()?.glyph_index(c).map(|glyph| glyph.0)
}

/// Whether the face has a letter for `c`.
pub fn has(c: char) -> bool {
    glyph(c).is_some()
}

/// How far `c` moves the pen on, as a share of the type size.
pub(super) fn advance(c: char) -> f64 {
    let width = || {
        let face = face()?;
        let advance = face.glyph_hor_advance(face.glyph_index(c)?)?;
        Some(f64::from(advance) / f64::from(face.units_per_em()))
    };
    width().unwrap_or(UNKNOWN)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // Read from the unreduced face with another tool, fontTools 4.68: H is 1493 of 2048 high, 0 is
    // 1172 wide.
    #[test]
    fn measures_are_those_of_the_face() {
        let face = face().unwrap();
        let em = f64::from(face.units_per_em());
        let capital = face.glyph_bounding_box(face.glyph_index('H').unwrap()).unwrap();
        assert_relative_eq!(f64::from(capital.y_max) / em, CAPITAL, epsilon = 1e-3);
        assert_relative_eq!(advance('0'), 1172.0 / 2048.0, epsilon = 1e-9);
    }

    #[test]
    fn the_scripts_that_sheets_promise_are_there() {
        for text in
            ["Çàéîñøüßŵ Łódź", "Παράθυρο ΐ Ώ", "Окно Љубав ґ їжак", "× ° ² ½ – — ’ “ … ≤ → □"]
        {
            assert!(text.chars().all(has), "{text}");
        }
        assert!(!has('窓'));
    }
}
