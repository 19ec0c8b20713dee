//! The text of a file, and where in it a byte lies.

use std::ops::Range;

/// Longest stretch of a line that an excerpt shows, characters.
const WINDOW: usize = 100;

/// A text with its name and the starts of its lines.
#[derive(Debug)]
pub struct Source<'t> {
    pub name: &'t str,
    pub text: &'t str,
    starts: Vec<usize>,
}

/// What a diagnostic shows of the line: part of it, and where the carets go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Excerpt {
    pub line: String,
    /// Characters before the first caret.
    pub before: usize,
    /// Carets, at least one.
    pub carets: usize,
}

impl<'t> Source<'t> {
    pub fn new(name: &'t str, text: &'t str) -> Source<'t> {
        let after_breaks = text.match_indices('\n').map(|(at, _)| at + 1);
        Source { name, text, starts: std::iter::once(0).chain(after_breaks).collect() }
    }

    /// Line and column of byte `at`, both from 1; columns count characters.
    pub fn position(&self, at: usize) -> (usize, usize) {
        let line = self.starts.partition_point(|&start| start <= at).max(1);
        let start = self.start(line);
        let column = self.text.get(start..at).map_or(0, |before| before.chars().count());
        (line, column + 1)
    }

    /// Text of `span`, its first line only, cut short where long; control characters made visible.
    pub fn written(&self, span: &Range<usize>) -> String {
        let text = self.text.get(span.clone()).unwrap_or_default();
        let first = text.lines().next().unwrap_or_default();
        let mut shown: String = first.chars().take(60).map(visible).collect();
        if first.chars().nth(60).is_some() || text.trim_end().contains('\n') {
            shown.push('…');
        }
        shown
    }

    /// The whole of the line (from 1), without its line break.
    pub fn line(&self, line: usize) -> &'t str {
        let end = self.starts.get(line).map_or(self.text.len(), |next| next - 1);
        let whole = self.text.get(self.start(line)..end).unwrap_or_default();
        whole.strip_suffix('\r').unwrap_or(whole)
    }

    /// The part of the line around `span`. Only that part is walked, however long the line.
    pub fn excerpt(&self, span: &Range<usize>) -> Excerpt {
        let (line, _) = self.position(span.start);
        let whole = self.line(line);
        let at = (span.start - self.start(line)).min(whole.len());
        let (left, right) = whole.split_at_checked(at).unwrap_or((whole, ""));
        let long = whole.chars().nth(WINDOW).is_some();
        let kept = left.chars().rev().take(if long { WINDOW / 2 } else { WINDOW });
        let mut shown: Vec<char> = kept.map(visible).collect();
        shown.reverse();
        let before = shown.len();
        shown.extend(right.chars().take(WINDOW - before).map(visible));
        let room = shown.len() - before;
        let marked = self.text.get(span.clone()).unwrap_or_default();
        let marked = marked.chars().take(WINDOW).take_while(|&c| c != '\n' && c != '\r').count();
        Excerpt { line: shown.into_iter().collect(), before, carets: marked.min(room).max(1) }
    }

    /// First byte of the line (from 1).
    pub fn start(&self, line: usize) -> usize {
        self.starts.get(line - 1).copied().unwrap_or_default()
    }
}

/// Whether a character shows nothing of its own but changes what is read: control characters, marks of
/// direction, joiners of no width, line and paragraph separators, and the like.
pub fn is_unseen(character: char) -> bool {
    character.is_control()
        || matches!(character,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// A character as it may be shown on a terminal.
pub fn visible(character: char) -> char {
    match character {
        '\t' => ' ',
        unseen if is_unseen(unseen) => '\u{fffd}',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn positions_count_characters_from_one() {
        let source = Source::new("a", "é = 1\r\nb = 2\n");
        assert_eq!(source.position(0), (1, 1));
        assert_eq!(source.position(5), (1, 5));
        assert_eq!(source.position(8), (2, 1));
        assert_eq!(source.position(14), (3, 1));
        assert_eq!(source.position(999), (3, 1));
        assert_eq!(source.line(1), "é = 1");
    }

    #[test]
    fn a_very_long_line_is_shown_around_the_mistake() {
        let text = format!("{}X{}", "a".repeat(1000), "b".repeat(1000));
        let excerpt = Source::new("a", &text).excerpt(&(1000..1001));
        assert_eq!(excerpt.line.chars().count(), WINDOW);
        assert_eq!(excerpt.line.chars().nth(excerpt.before), Some('X'));
        assert_eq!(excerpt.carets, 1);
    }
}
