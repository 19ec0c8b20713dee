//! One line of a program: its comments and blanks taken out, nothing else.

use crate::language::{Text, text};
use std::collections::BTreeMap;

/// Longest line, characters (RS-274/NGC, NISTIR 6556 section 3.3).
const LONGEST: usize = 256;

/// Why a line's text cannot be judged.
pub(super) type Wrong = Text;

/// The words of `line`, without comments and without blanks, which may stand anywhere outside
/// comments, even inside a number (NISTIR 6556 section 3.3).
///
/// # Errors
/// A line that is too long, holds characters that some controllers act upon even inside comments,
/// or comments that do not open and close once each.
pub(super) fn bare(line: &str) -> Result<String, Wrong> {
    if line.chars().count() > LONGEST {
        return Err(text!("read-long-line", most = LONGEST.to_string()));
    }
    let mut words = String::with_capacity(line.len());
    let (mut inside, mut after) = (false, false);
    let mut rest = line.chars();
    while let Some(c) = rest.next() {
        let plain = c == '\t' || (' '..='~').contains(&c);
        if !plain && (!inside || acts(c)) {
            return Err(text!("read-character", character = format!("{c:?}")));
        }
        match (inside, c) {
            (true, '(') => return Err(text!("read-comment-in-comment")),
            (true, ')') => (inside, after) = (false, true),
            (false, '(') => inside = true,
            (false, ')') => return Err(text!("read-comment-closes")),
            (false, ';') if rest.as_str().chars().any(acts) => {
                return Err(text!("read-comment-unseen"));
            }
            (false, ';') => return Ok(words),
            (true, _) | (false, ' ' | '\t') => {}
            (false, c) if after && !words.is_empty() && !c.is_ascii_alphabetic() => {
                return Err(text!("read-comment-in-word"));
            }
            (false, c) => {
                words.push(c.to_ascii_uppercase());
                after = false;
            }
        }
    }
    if inside { Err(text!("read-comment-open")) } else { Ok(words) }
}

/// Whether a character is not seen, and so may do what nobody reads: those that control a device, or change
/// the direction of a text.
fn acts(c: char) -> bool {
    (c.is_control() && c != '\t')
        || matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202f}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

/// The lines of `text` with their numbers from 1. A carriage return belongs to the line feed after
/// it; elsewhere it stays in the line, where [`bare`] refuses it.
pub(in crate::prove) fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    (1..).zip(text.split('\n').map(|line| line.strip_suffix('\r').unwrap_or(line)))
}

/// The lines of `a` that hold words, each with the line of `b` that holds the very same ones; `None`
/// where the two say anything else, or hold what [`bare`] refuses.
///
/// A line comes to the reader through [`bare`] alone, and a line without words changes nothing there:
/// so the two read into the same moves, and differ in the numbers of their lines only.
pub(in crate::prove) fn same_words(a: &str, b: &str) -> Option<BTreeMap<usize, usize>> {
    let (mut ours, mut theirs) = (spoken(a), spoken(b));
    let mut pairs = BTreeMap::new();
    loop {
        match (ours.next(), theirs.next()) {
            (Some((line, Ok(words))), Some((other, Ok(same)))) if words == same => {
                pairs.insert(line, other);
            }
            (None, None) => return Some(pairs),
            _ => return None,
        }
    }
}

/// The lines that do not come out of [`bare`] empty.
fn spoken(text: &str) -> impl Iterator<Item = (usize, Result<String, Wrong>)> {
    let all = lines(text).map(|(number, line)| (number, bare(line)));
    all.filter(|(_, words)| words.as_ref().map_or(true, |words| !words.is_empty()))
}

#[cfg(test)]
mod tests {
    use super::*;

    // NISTIR 6556 section 3.3.1: "g0x +0. 12 34y 7" is "g0 x+0.1234 y7".
    #[test]
    fn blanks_inside_numbers_and_comments_anywhere_go() {
        assert_eq!(bare("g0x +0. 12 34y 7").unwrap(), "G0X+0.1234Y7");
        assert_eq!(bare("\tG1 (to the wall) X5 ; and (so on").unwrap(), "G1X5");
        assert_eq!(bare(";x1").unwrap(), "");
    }

    #[test]
    fn comments_alone_leave_the_words_the_same() {
        let plain = "G21 G90\nG0 X1\n\nM2\n";
        let noted = "(made on a Monday)\nG21G90 ; and so on\n\n(here)g0 x1\nM2";
        let lines = [(1, 2), (2, 4), (4, 5)];
        assert_eq!(same_words(plain, noted), Some(BTreeMap::from(lines)));
        for other in [
            "G21 G90\nG0 X1.0\nM2\n",
            "G21 G90\nG0 X1\n",
            "G21 G90\nG0 X1\nM2\nM2\n",
            "G21\nG90\nG0 X1\nM2\n",
            "N1 G21 G90\nG0 X1\nM2\n",
            "G21 G90\nG0 X1\nM2\n(",
        ] {
            assert_eq!(same_words(plain, other), None, "{other}");
        }
        assert_eq!(same_words("(a (b)\n", "(a (b)\n"), None);
    }

    #[test]
    fn comments_that_do_not_pair_and_odd_characters_are_refused() {
        for wrong in [
            "(a (b) c)",
            "(a",
            "a)",
            "G1 (a) 0 X5",
            "G1\u{a0}X1",
            "(\u{85})",
            "(\u{202e})",
            "G1 \r X1",
            "\0",
            "; \u{7}",
        ] {
            assert!(bare(wrong).is_err(), "{wrong:?}");
        }
        for (noted, words) in
            [("(T\u{fc}r \u{2192} B\u{fc}hne)G1 X1", "G1X1"), ("G1 X1 ; caf\u{e9}", "G1X1")]
        {
            assert_eq!(bare(noted).unwrap(), words);
        }
        assert!(bare("G1 X1 \u{e9}").is_err());
        assert!(bare(&"(".repeat(300)).is_err());
        assert!(bare(&format!("({})", "a".repeat(254))).is_ok());
        assert!(bare(&format!("({})", "a".repeat(255))).is_err());
    }
}
