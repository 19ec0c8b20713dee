//! The one face that sheets are set in, and its measures.
//!
//! Promised: Latin, Greek and Cyrillic with their accents; measures are those of the face that the
//! PDF pen embeds. Not promised: other scripts; [`has`] tells.

use read_fonts::{FontRef, ReadError, TableProvider};
use std::sync::LazyLock;

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

/// What a character without a letter in the face is reckoned to take, as a share of the type size.
const UNKNOWN: f64 = 1.0;

/// What the tables of the face say, in its units.
pub(super) struct Face {
    /// Units in the type size.
    pub em: f64,
    /// The box around every letter: left, lower, right and upper side.
    pub bounds: [i16; 4],
    /// Furthest over the base line that the face asks to be reckoned with.
    pub ascender: i16,
    /// Furthest under it, negative.
    pub descender: i16,
    /// By the number of the character.
    letters: Vec<Option<Letter>>,
}

/// The number of a letter, and how far it moves the pen on, in units of the face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Letter {
    glyph: u16,
    advance: u16,
}

impl Face {
    fn read() -> Result<Face, ReadError> {
        let font = FontRef::new(DATA)?;
        let (head, hhea, hmtx) = (font.head()?, font.hhea()?, font.hmtx()?);
        let (_, _, characters) =
            font.cmap()?.best_subtable().ok_or(ReadError::MalformedData("cmap"))?;
        let mut letters = Vec::new();
        for (character, glyph) in characters.iter() {
            let at = usize::try_from(character).map_err(|_| ReadError::OutOfBounds)?;
            let advance = hmtx.advance(glyph).ok_or(ReadError::OutOfBounds)?;
            let glyph = u16::try_from(glyph.to_u32()).map_err(|_| ReadError::OutOfBounds)?;
            letters.resize(letters.len().max(at + 1), None);
            if let Some(place) = letters.get_mut(at) {
                *place = Some(Letter { glyph, advance });
            }
        }
        Ok(Face {
            em: head.units_per_em().into(),
            bounds: [head.x_min(), head.y_min(), head.x_max(), head.y_max()],
            ascender: hhea.ascender().to_i16(),
            descender: hhea.descender().to_i16(),
            letters,
        })
    }

    fn letter(&self, c: char) -> Option<Letter> {
        *self.letters.get(usize::try_from(u32::from(c)).ok()?)?
    }
}

/// The face, read once; none only if the file in the program were broken.
pub(super) fn face() -> Option<&'static Face> {
    static FACE: LazyLock<Option<Face>> = LazyLock::new(|| Face::read().ok());
    FACE.as_ref()
}

/// The number of the letter for `c` in the face.
pub(super) fn glyph(c: char) -> Option<u16> {
    face()?.letter(c).map(|letter| letter.glyph)
}

/// Whether the face has a letter for `c`.
pub fn has(c: char) -> bool {
    glyph(c).is_some()
}

/// How far `text` moves the pen on, as a share of the type size.
pub(super) fn advance(text: impl Iterator<Item = char>) -> f64 {
    let Some(face) = face() else { return UNKNOWN * text.count() as f64 };
    let share = |letter: Letter| f64::from(letter.advance) / face.em;
    text.map(|c| face.letter(c).map_or(UNKNOWN, share)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use read_fonts::tables::glyf::Glyph;

    // Read from the unreduced face with another tool, fontTools 4.68: H is 1493 of 2048 high, 0 is
    // 1172 wide.
    #[test]
    fn measures_are_those_of_the_face() {
        let font = FontRef::new(DATA).unwrap();
        let glyph = glyph('H').unwrap().into();
        let outline = font.loca(None).unwrap().get_glyf(glyph, &font.glyf().unwrap());
        let Ok(Some(Glyph::Simple(capital))) = outline else { panic!("no outline of an H") };
        let em = face().unwrap().em;
        assert_relative_eq!(f64::from(capital.y_max()) / em, CAPITAL, epsilon = 1e-3);
        assert_relative_eq!(advance("0".chars()), 1172.0 / 2048.0, epsilon = 1e-9);
        assert_relative_eq!(advance("00窓".chars()), 2.0 * 1172.0 / 2048.0 + UNKNOWN);
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
