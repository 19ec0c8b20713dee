//! Comments of a program: lines that no controller can take for anything else.
//!
//! A comment can act: `(MSG,text)` puts its text on the screen (NISTIR 6556 section 3.3.4), and controllers in
//! common use have more such words, tested at the start of a comment; others act on single characters wherever
//! they stand. What a survey calls a clamp must do nothing of the kind. So every comment begins with a hyphen,
//! behind which no such word is looked for, and holds nothing but what [`is_plain`] lets pass.

use std::fmt;

/// Longest line, for the smallest controllers in common use.
pub(super) const LINE: usize = 70;

/// What stands round the words of a comment.
const BEFORE: &str = "(- ";
const AFTER: &str = ")";

/// One line that says something to a reader and nothing to a controller: made by [`CommentLine::wrap`] alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct CommentLine(String);

impl CommentLine {
    /// `text` as comments, broken at spaces into lines that keep the limit.
    pub(super) fn wrap(text: &str) -> Vec<CommentLine> {
        let room = LINE - BEFORE.len() - AFTER.len();
        let mut plain = String::with_capacity(text.len());
        for c in text.chars() {
            match c {
                ',' | ';' | ':' => plain.push_str(" - "),
                c if c.is_whitespace() => plain.push(' '),
                c => plain.push(if is_plain(c) { c } else { '-' }),
            }
        }
        let mut lines = vec![String::new()];
        for word in plain.split_whitespace() {
            let word: String = word.chars().take(room).collect();
            match lines.last_mut() {
                Some(line) if line.is_empty() => line.push_str(&word),
                Some(line) if line.len() + 1 + word.len() <= room => {
                    line.push(' ');
                    line.push_str(&word);
                }
                _ => lines.push(word),
            }
        }
        lines.into_iter().map(CommentLine).collect()
    }
}

impl fmt::Display for CommentLine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{BEFORE}{}{AFTER}", self.0)
    }
}

/// Whether a character may stand in a comment.
fn is_plain(c: char) -> bool {
    c.is_ascii_alphanumeric() || " .-+/=".contains(c)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn lines(text: &str) -> Vec<String> {
        CommentLine::wrap(text).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn comments_keep_the_line_and_lose_their_brackets() {
        assert_eq!(lines("a (long) remark; on Ümlauts"), ["(- a -long- remark - on -mlauts)"]);
        assert_eq!(lines(""), ["(- )"]);
        assert_eq!(lines("MSG, stop"), ["(- MSG - stop)"]);
    }

    // What broke out of the head once: the first word fills the line, the second begins the next.
    #[test]
    fn no_word_of_a_name_begins_a_comment() {
        let name = format!("{} LOGOPEN,file", "a".repeat(62));
        assert_eq!(lines(&name)[1], "(- LOGOPEN - file)");
    }

    proptest! {
        #[test]
        fn no_text_makes_a_comment_that_acts(
            text in prop_oneof!["\\PC{0,200}", any::<String>(), "((MSG|DEBUG|LOGOPEN|PRINT),?[ %;()]{0,3}){0,20}"],
        ) {
            for line in lines(&text) {
                prop_assert!(line.len() <= LINE, "{line}");
                let words = line.strip_prefix("(-").and_then(|rest| rest.strip_suffix(')')).unwrap();
                prop_assert!(words.bytes().all(|b| b.is_ascii_alphanumeric() || b" .-+/=".contains(&b)), "{line}");
            }
        }
    }
}
