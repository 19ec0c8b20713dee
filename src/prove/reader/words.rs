//! A line's words, with every byte accounted for.
//!
//! The `gcode` crate finds where words begin and end. It answers without an error and loses words
//! in some lines, and its numbers are `f32`; so its spans must tile the line without a gap, and
//! every number is read again from the text.

use super::text::Wrong;
use crate::language::text;
use gcode::core::{
    BlockVisitor, CommandVisitor, ControlFlow, Diagnostics, HasDiagnostics, Number, ProgramVisitor,
    Span, TokenType, Value,
};

/// A letter with its number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Word {
    /// Upper case; `%` for the mark at either end of a program, whose number is zero.
    pub letter: char,
    /// The number as written, inches or millimetres.
    pub number: f64,
}

/// Most digits of the number after G, M or T: longer ones overflow in the crate, and no such word
/// exists.
const CODE_DIGITS: usize = 6;

/// The words of a line that [`super::text::bare`] has cleaned.
///
/// # Errors
/// Anything that is not a letter with a plain decimal number.
pub(super) fn words(bare: &str) -> Result<Vec<Word>, Wrong> {
    refuse_long_codes(bare)?;
    let mut tiles = Tiles::default();
    gcode::core::parse(bare, &mut tiles);
    tiles.spans.sort_unstable();
    let mut words = Vec::with_capacity(tiles.spans.len());
    let mut from = 0;
    for (start, end) in tiles.spans {
        if start != from {
            return Err(left_over(bare, from, start.max(from)));
        }
        let text = bare.get(start..end).unwrap_or_default();
        words.push(word(text).ok_or_else(|| text!("read-no-word", text))?);
        from = end;
    }
    if from != bare.len() {
        return Err(left_over(bare, from, bare.len()));
    }
    if tiles.troubles > 0 {
        return Err(text!("read-unread", bare));
    }
    Ok(words)
}

fn left_over(bare: &str, from: usize, to: usize) -> Wrong {
    text!("read-belongs", rest = bare.get(from..to).unwrap_or(bare))
}

fn refuse_long_codes(bare: &str) -> Result<(), Wrong> {
    let mut digits = None;
    for c in bare.chars() {
        digits = match (c, digits) {
            ('G' | 'M' | 'T', _) => Some(0),
            ('0'..='9', Some(count)) if count >= CODE_DIGITS => {
                return Err(text!("read-long-code", bare));
            }
            ('0'..='9', Some(count)) => Some(count + 1),
            ('.', digits) => digits,
            _ => None,
        };
    }
    Ok(())
}

/// A letter and a plain decimal number: an optional sign, digits, at most one point.
fn word(text: &str) -> Option<Word> {
    let mut chars = text.chars();
    let letter = chars.next()?;
    let rest = chars.as_str();
    if letter == '%' {
        return rest.is_empty().then_some(Word { letter, number: 0.0 });
    }
    let unsigned = rest.strip_prefix(['+', '-']).unwrap_or(rest);
    let points = unsigned.chars().filter(|&c| c == '.').count();
    let digits = unsigned.chars().filter(char::is_ascii_digit).count();
    let plain = letter.is_ascii_uppercase() && points <= 1 && digits >= 1;
    if !plain || points + digits != unsigned.len() {
        return None;
    }
    let number: f64 = rest.parse().ok()?;
    Some(Word { letter, number })
}

/// Collects where the crate saw words, as byte ranges.
#[derive(Debug, Default)]
struct Tiles {
    spans: Vec<(usize, usize)>,
    troubles: usize,
}

impl Tiles {
    fn push(&mut self, span: Span) {
        self.spans.push((span.start, span.end()));
    }
}

// The trait's own methods do nothing, and trouble must be heard. The one for a wrong number after
// G, M or T cannot be written out, since the type of its error is private to the crate; such a word
// leaves a gap between the tiles.
impl Diagnostics for Tiles {
    fn emit_unknown_content(&mut self, _: &str, _: Span) {
        self.troubles += 1;
    }
    fn emit_unexpected(&mut self, _: &str, _: &[TokenType], _: Span) {
        self.troubles += 1;
    }
    fn emit_parse_int_error(&mut self, _: &str, _: std::num::ParseIntError, _: Span) {
        self.troubles += 1;
    }
}

impl ProgramVisitor for Tiles {
    fn start_block(&mut self) -> ControlFlow<impl BlockVisitor + '_> {
        ControlFlow::Continue(Block(self))
    }
}

struct Block<'a>(&'a mut Tiles);

impl HasDiagnostics for Block<'_> {
    fn diagnostics(&mut self) -> &mut dyn Diagnostics {
        self.0
    }
}

impl Block<'_> {
    fn command(&mut self) -> ControlFlow<Command<'_>> {
        ControlFlow::Continue(Command { first: None, tiles: self.0 })
    }
}

impl BlockVisitor for Block<'_> {
    fn line_number(&mut self, _: u32, span: Span) {
        self.0.push(span);
    }
    fn program_number(&mut self, _: u32, span: Span) {
        self.0.push(span);
    }
    fn program_delimiter(&mut self, span: Span) {
        self.0.push(span);
    }
    fn word_address(&mut self, _: char, _: Value<'_>, span: Span) {
        self.0.push(span);
    }
    fn start_general_code(&mut self, _: Number) -> ControlFlow<impl CommandVisitor + '_> {
        self.command()
    }
    fn start_miscellaneous_code(&mut self, _: Number) -> ControlFlow<impl CommandVisitor + '_> {
        self.command()
    }
    fn start_tool_change_code(&mut self, _: Number) -> ControlFlow<impl CommandVisitor + '_> {
        self.command()
    }
}

/// A G, M or T word; the crate's span of it holds the words after it too.
struct Command<'a> {
    tiles: &'a mut Tiles,
    /// Where the first word after it begins.
    first: Option<usize>,
}

impl HasDiagnostics for Command<'_> {
    fn diagnostics(&mut self) -> &mut dyn Diagnostics {
        self.tiles
    }
}

impl CommandVisitor for Command<'_> {
    fn argument(&mut self, _: char, _: Value<'_>, span: Span) {
        self.first.get_or_insert(span.start);
        self.tiles.push(span);
    }
    fn end_command(self, span: Span) {
        self.tiles.spans.push((span.start, self.first.unwrap_or(span.end())));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(bare: &str) -> Vec<(char, f64)> {
        words(bare).unwrap().into_iter().map(|word| (word.letter, word.number)).collect()
    }

    #[test]
    fn words_are_read_from_the_text_in_f64() {
        assert_eq!(
            read("N10G1X123456.789Y-.5F+7."),
            [('N', 10.0), ('G', 1.0), ('X', 123_456.789), ('Y', -0.5), ('F', 7.0)]
        );
        assert_eq!(read("G91.1M03T1S18000"), [('G', 91.1), ('M', 3.0), ('T', 1.0), ('S', 18000.0)]);
        assert_eq!(read("%"), [('%', 0.0)]);
        assert_eq!(read(""), []);
    }

    // What the crate answers Ok to and loses.
    #[test]
    fn what_the_crate_loses_is_refused_or_kept() {
        assert!(words("G91.12X1").is_err());
        assert_eq!(read("O100"), [('O', 100.0)]);
        assert_eq!(read("X1E3"), [('X', 1.0), ('E', 3.0)]);
        assert_eq!(read("X1X2"), [('X', 1.0), ('X', 2.0)]);
    }

    #[test]
    fn what_is_no_word_is_refused() {
        for wrong in [
            "X",
            "G",
            "1",
            "X1.2.3",
            "X--1",
            "X.",
            "X#1",
            "#1=2",
            "X[1+2]",
            "G+1",
            "/G1X1",
            "XY1",
            "G1XM3",
            "G1 X1",
            "X1\u{e9}",
            "G99999999999",
            "N1.5.2",
            "M4294967295",
            "T1000000",
            "%5",
            "$H",
            "G1X1!",
            "X1_2",
            "XINF",
            "XNAN",
            "N-5",
            "N99999999999",
        ] {
            assert!(words(wrong).is_err(), "{wrong}");
        }
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic_and_no_byte_is_lost(text in "[GMTNOXYZIJRFSP%#/$0-9.+\\-=\\[\\]*é]{0,40}") {
            if let Ok(words) = words(&text) {
                let letters: String = text.chars().filter(|c| c.is_ascii_uppercase() || *c == '%').collect();
                let read: String = words.iter().map(|word| word.letter).collect();
                prop_assert_eq!(letters, read);
            }
        }
    }
}
