//! What a program says of itself in the comments of its head.
//!
//! The head is every comment in front of the first line that holds a word. A line of it counts where it reads,
//! from the hyphen on, word for word:
//!
//! ```text
//! sash NAME
//! stage NAME               or, of a program that stops between its stages, a line for each, in order:
//! stage N of M - NAME
//! set-up N of M            or   set-up N of M turned by 180 degrees
//! zero at X NUMBER Y NUMBER   and whatever follows
//! cutter NUMBER mm - N edges - flat end
//! ```
//!
//! X and Y are the place of the sash that lies at the program's X0 Y0, counted from the lower left corner of
//! the sight, whichever way the sash is turned. Every other comment is for people. What is said twice and
//! differently is a contradiction, and told.

use super::text::lines;
use crate::geometry::Placement;

/// What a head says. A field is `None` where it does not say it.
#[derive(Debug, Clone, Default, PartialEq)]
pub(in crate::prove) struct Head {
    /// The sash that it is for, and the line that says so.
    pub sash: Option<(String, usize)>,
    /// What it cuts from stop to stop, in order, each with its line.
    pub stages: Vec<(String, usize)>,
    /// How many stages it says it has.
    pub stages_said: Option<(u32, usize)>,
    /// Which set-up, of how many.
    pub set_up: Option<((u32, u32), usize)>,
    /// Whether the sash is turned by half a turn.
    pub turned: bool,
    /// The place of the sash at its X0 Y0, mm.
    pub zero: Option<([f64; 2], usize)>,
    /// Diameter of the cutter, mm, and its edges.
    pub cutter: Option<((f64, u32), usize)>,
    /// A line that contradicts one before it.
    pub contradiction: Option<usize>,
}

impl Head {
    /// Reads the head of `text`; total: every text has one, if an empty one.
    pub(in crate::prove) fn read(text: &str) -> Head {
        let mut head = Head::default();
        for (number, line) in lines(text) {
            let line = line.trim();
            match line.strip_prefix('(').and_then(|rest| rest.strip_suffix(')')) {
                Some(comment) => {
                    head.take(number, comment.trim_start_matches([' ', '-']).trim_end());
                }
                None if line.is_empty() || line == "%" || line.starts_with(';') => {}
                None => break,
            }
        }
        head
    }

    /// How the sash lies, where the head says it.
    pub(in crate::prove) fn place(&self) -> Option<Placement> {
        let ([x, y], _) = self.zero?;
        let place = Placement { origin: [x, y], turned: self.turned };
        place.is_finite().then_some(place)
    }

    /// Diameter of the cutter that it is for, mm, where the head says it.
    pub(in crate::prove) fn diameter(&self) -> Option<f64> {
        self.cutter.map(|((diameter, _), _)| diameter)
    }

    /// The same, wherever it stands.
    pub(in crate::prove) fn without_lines(self) -> Head {
        fn first<T>(said: Option<(T, usize)>) -> Option<(T, usize)> {
            said.map(|(value, _)| (value, 0))
        }
        Head {
            sash: first(self.sash),
            stages: self.stages.into_iter().map(|(name, _)| (name, 0)).collect(),
            stages_said: first(self.stages_said),
            set_up: first(self.set_up),
            zero: first(self.zero),
            cutter: first(self.cutter),
            contradiction: self.contradiction.map(|_| 0),
            turned: self.turned,
        }
    }

    /// Whether nothing of it is said.
    #[cfg(test)]
    fn is_empty(&self) -> bool {
        *self == Head::default()
    }

    /// Stages come in order, each once; what is said again must be the same.
    fn add_stage(&mut self, number: usize, count: u32, name: &[&str], line: usize) {
        let name = name.join(" ");
        once(&mut self.stages_said, count, line, &mut self.contradiction);
        match number.checked_sub(1).map(|index| self.stages.get(index)) {
            Some(Some((known, _))) if *known == name => {}
            Some(None) if number == self.stages.len() + 1 => self.stages.push((name, line)),
            _ => self.contradiction = Some(line),
        }
    }

    fn take(&mut self, line: usize, comment: &str) {
        let words: Vec<&str> = comment.split_whitespace().collect();
        match words.as_slice() {
            ["sash", name] => {
                let name = (*name).to_owned();
                once(&mut self.sash, name, line, &mut self.contradiction);
            }
            ["stage", number, "of", count, "-", name @ ..] if !name.is_empty() => {
                if let (Ok(number), Ok(count)) = (number.parse(), count.parse()) {
                    self.add_stage(number, count, name, line);
                }
            }
            ["stage", name @ ..] if !name.is_empty() => self.add_stage(1, 1, name, line),
            ["set-up", number, "of", count, turned @ ..] => {
                let turned = match turned {
                    [] => false,
                    ["turned", "by", "180", "degrees"] => true,
                    _ => return,
                };
                if let (Ok(number), Ok(count)) = (number.parse(), count.parse()) {
                    let before = self.set_up.is_some() && self.turned != turned;
                    self.turned = turned;
                    once(&mut self.set_up, (number, count), line, &mut self.contradiction);
                    if before {
                        self.contradiction = Some(line);
                    }
                }
            }
            ["zero", "at", "X", x, "Y", y, ..] => {
                if let (Some(x), Some(y)) = (plain(x), plain(y)) {
                    once(&mut self.zero, [x, y], line, &mut self.contradiction);
                }
            }
            ["cutter", diameter, "mm", "-", edges, "edges" | "edge", "-", "flat", "end"] => {
                if let (Some(diameter), Ok(edges)) = (plain(diameter), edges.parse()) {
                    once(&mut self.cutter, (diameter, edges), line, &mut self.contradiction);
                }
            }
            _ => {}
        }
    }
}

fn once<T: PartialEq>(
    slot: &mut Option<(T, usize)>,
    value: T,
    line: usize,
    contradiction: &mut Option<usize>,
) {
    match slot {
        Some((known, _)) if *known != value => *contradiction = Some(line),
        Some(_) => {}
        None => *slot = Some((value, line)),
    }
}

/// A plain decimal number: digits, one point at most, a sign in front.
fn plain(word: &str) -> Option<f64> {
    let unsigned = word.strip_prefix(['+', '-']).unwrap_or(word);
    let digits = unsigned.chars().all(|c| c.is_ascii_digit() || c == '.');
    if digits { word.parse().ok() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "(- made on a Monday)\n(- sash back-bed)\n(- stage widen)\n(- set-up 2 of 3 turned by 180 degrees)\n\
        (- zero at X 812.5 Y -40 of the sash - Z on the face)\n(- cutter 12 mm - 2 edges - flat end)\nG21\n(- sash other)\n";

    #[test]
    fn every_line_of_the_grammar_is_read() {
        let head = Head::read(HEAD);
        assert_eq!(head.sash, Some(("back-bed".into(), 2)));
        assert_eq!(
            (head.stages.clone(), head.stages_said),
            (vec![("widen".into(), 3)], Some((1, 3)))
        );
        assert_eq!(head.set_up, Some(((2, 3), 4)));
        assert_eq!(head.zero, Some(([812.5, -40.0], 5)));
        assert_eq!(head.cutter, Some(((12.0, 2), 6)));
        assert_eq!(head.place(), Some(Placement { origin: [812.5, -40.0], turned: true }));
        assert_eq!(head.contradiction, None);
    }

    #[test]
    fn what_is_not_of_the_grammar_is_for_people() {
        for text in [
            "(sash windows of the back)\n(- zero may be off X -0.4)\n(- cutter 12 mm)\n(- set-up 2)\nG21\n",
            "G21\n(- sash a)\n",
            "(- zero at X 1e3 Y 0)\n(- zero at X inf Y 0)\n(- set-up two of 3)\n",
            "",
        ] {
            assert!(Head::read(text).is_empty(), "{text}");
        }
    }

    #[test]
    fn what_is_said_twice_must_be_the_same() {
        let twice =
            |again: &str| Head::read(&HEAD.replace("(- stage", &format!("({again})\n(- stage")));
        assert_eq!(twice("- sash back-bed").contradiction, None);
        assert_eq!(twice("- sash front-bed").contradiction, Some(3));
        assert!(twice("- zero at X 1 Y 2").contradiction.is_some());
        assert!(twice("- set-up 2 of 3").contradiction.is_some());
        assert!(twice("- stage deepen").contradiction.is_some());
    }

    #[test]
    fn stages_are_counted_in_order() {
        let head = |lines: &str| Head::read(lines);
        let both = head("(- stage 1 of 2 - air run - spindle off)\n(- stage 2 of 2 - widen)\n");
        assert_eq!(both.stages, [("air run - spindle off".into(), 1), ("widen".into(), 2)]);
        assert_eq!((both.stages_said, both.contradiction), (Some((2, 1)), None));
        for wrong in [
            "(- stage 2 of 2 - widen)\n",
            "(- stage 1 of 2 - widen)\n(- stage 2 of 3 - deepen)\n",
            "(- stage 1 of 2 - widen)\n(- stage 1 of 2 - deepen)\n",
            "(- stage 0 of 2 - widen)\n",
        ] {
            assert!(head(wrong).contradiction.is_some(), "{wrong}");
        }
    }
}
