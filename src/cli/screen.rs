//! What is printed on: how wide it is and whether it has colours. Colour repeats what the words say, it never stands
//! for them.

use crate::sheets::summary::WIDTH;
use anstream::{AutoStream, ColorChoice};
use anstyle::{AnsiColor, Style};
use std::io::stdout;
use terminal_size::terminal_size_of;

/// Fewest columns that tables and hanging lines are laid out for; what is narrower breaks them itself.
const LEAST: usize = 50;
/// Most columns: longer lines lose the eye on its way back.
const MOST: usize = 110;

/// What output goes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Screen {
    width: usize,
    colours: bool,
}

impl Screen {
    /// A file, a pipe: lines of a fixed width, no colours.
    pub const PLAIN: Screen = Screen { width: WIDTH, colours: false };

    /// A terminal of so many columns.
    pub fn terminal(columns: usize, colours: bool) -> Screen {
        Screen { width: columns.clamp(LEAST, MOST), colours }
    }

    /// What standard output goes to. `NO_COLOR`, `CLICOLOR`, `CLICOLOR_FORCE` and a terminal that says it is dumb are
    /// heeded.
    pub fn of_output() -> Screen {
        let colours = AutoStream::choice(&stdout()) != ColorChoice::Never;
        match terminal_size_of(stdout()) {
            Some((columns, _)) => Screen::terminal(columns.0.into(), colours),
            None => Screen { colours, ..Screen::PLAIN },
        }
    }

    pub(super) fn width(self) -> usize {
        self.width
    }

    pub(super) fn painter(self) -> Painter {
        Painter { colours: self.colours, answers: None }
    }
}

/// The answers as they open a sash, and as they stand in the table of a house, longest first.
const ANSWERS: [(&str, &str, AnsiColor); 4] = [
    ("YES, WITH CARE", "care", AnsiColor::Yellow),
    ("NOT YET", "not yet", AnsiColor::Yellow),
    ("YES", "yes", AnsiColor::Green),
    ("NO", "no", AnsiColor::Red),
];
/// Verdicts that open a line of a proof.
const VERDICTS: [(&str, AnsiColor); 4] = [
    ("stop ", AnsiColor::Red),
    ("caution ", AnsiColor::Yellow),
    ("Not proven", AnsiColor::Red),
    ("Proven", AnsiColor::Green),
];
/// Columns that a label takes at the left of an answer, after two that are free.
const LABEL: usize = 8;

/// Paints lines in the order in which they are printed.
pub(super) struct Painter {
    colours: bool,
    /// Column of the answers in the table being printed.
    answers: Option<usize>,
}

impl Painter {
    pub(super) fn text(&mut self, text: &str) -> String {
        let ends = text.split_inclusive('\n');
        let painted = ends.map(|line| match line.strip_suffix('\n') {
            Some(line) => self.line(line) + "\n",
            None => self.line(line),
        });
        painted.collect()
    }

    /// A line, without its end.
    pub(super) fn line(&mut self, line: &str) -> String {
        match self.found(line).filter(|_| self.colours) {
            Some((from, length, style)) => around(line, from, length, style),
            None => line.to_owned(),
        }
    }

    /// What is painted: where it begins, how long it is, bytes, and how.
    fn found(&mut self, line: &str) -> Option<(usize, usize, Style)> {
        let bold = |colour: AnsiColor| colour.on_default().bold();
        if line.starts_with("sash ") {
            self.answers = line.find(" answer ").map(|before| before + 1);
            return Some((0, line.len(), Style::new().bold()));
        }
        if line.is_empty() {
            self.answers = None;
            return None;
        }
        if let Some(from) = self.answers.filter(|_| !line.starts_with(' ')) {
            let rest = line.get(from..)?;
            let (_, word, colour) = ANSWERS.iter().find(|(_, word, _)| rest.starts_with(word))?;
            return Some((from, word.len(), bold(*colour)));
        }
        if let Some((word, colour)) = VERDICTS.iter().find(|(word, _)| line.starts_with(word)) {
            return Some((0, word.trim_end().len(), bold(*colour)));
        }
        if let Some((before, rest)) = line.split_once("): ").filter(|_| !line.starts_with(' '))
            && let Some((word, _, colour)) =
                ANSWERS.iter().find(|(word, ..)| rest.starts_with(word))
        {
            return Some((before.len() + "): ".len(), word.len(), bold(*colour)));
        }
        let label = line.strip_prefix("  ")?.get(..LABEL)?.strip_suffix("  ")?.trim_end();
        let is_label = label.starts_with(|c: char| c.is_ascii_uppercase())
            && label.chars().all(|c| c.is_ascii_alphabetic());
        is_label.then(|| (2, label.len(), Style::new().bold()))
    }
}

/// The line with `length` bytes of it painted, from one on.
fn around(line: &str, from: usize, length: usize, style: Style) -> String {
    let parts = line.split_at_checked(from).and_then(|(before, rest)| {
        let (word, after) = rest.split_at_checked(length)?;
        Some((before, word, after))
    });
    parts.map_or_else(
        || line.to_owned(),
        |(before, word, after)| format!("{before}{style}{word}{style:#}{after}"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    const ANSWER: &str = "\
Samphire Cottage: 2 sashes. 1 can take their unit, 1 cannot.

sash       answer unit  left mind first
kitchen-1  yes    4-6-4 20   -
no-1       no     4-8-4 4    wood too thin

no-1 (top-hung): NO: left stile: 4 mm of wood would be left under the glass
  Left    4 mm of wood under the glass
  Nothing warmer fits.
";

    #[test]
    fn colour_adds_to_the_words_and_takes_nothing_from_them() {
        assert_eq!(Screen::PLAIN.painter().text(ANSWER), ANSWER);
        let painted = Screen::terminal(80, true).painter().text(ANSWER);
        assert_eq!(anstream::adapter::strip_str(&painted).to_string(), ANSWER);
        let red = AnsiColor::Red.on_default().bold();
        for line in [
            format!("no-1       {red}no{red:#}     4-8-4 4    wood too thin\n"),
            format!("no-1 (top-hung): {red}NO{red:#}: left"),
        ] {
            assert!(painted.contains(&line), "{painted:?}");
        }
        // Answers, heads of columns and one label; a name, a sentence or a word further on is none.
        let opened = |style: Style| painted.matches(&style.to_string()).count();
        assert_eq!((opened(red), opened(Style::new().bold())), (2, 2 + 3));
        assert_eq!(opened(AnsiColor::Green.on_default().bold()), 1);
    }
}
