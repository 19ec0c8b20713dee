//! The programs of a sash as lines, and how a fault gets at their words.

use fillister::prove::Setup;

/// One program.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Text {
    pub(crate) name: String,
    pub(crate) lines: Vec<String>,
    /// What ends each line.
    pub(crate) ending: &'static str,
    /// The bytes where lines are not all there is to it: a text cut off.
    pub(crate) bytes: Option<String>,
}

impl Text {
    pub(crate) fn new(name: &str, text: &str) -> Text {
        let lines = text.lines().map(str::to_owned).collect();
        Text { name: name.into(), lines, ending: "\n", bytes: None }
    }

    pub(crate) fn whole(&self) -> String {
        self.bytes
            .clone()
            .unwrap_or_else(|| self.lines.iter().flat_map(|l| [l.as_str(), self.ending]).collect())
    }

    /// Lines for which `wanted` holds.
    pub(crate) fn find(&self, wanted: impl Fn(&str) -> bool) -> Vec<usize> {
        (0..self.lines.len()).filter(|&i| wanted(&self.lines[i])).collect()
    }

    /// Whether any move goes below the face.
    pub(crate) fn cuts(&self) -> bool {
        self.lines.iter().any(|line| number(line, 'Z').is_some_and(|z| z < 0.0))
    }
}

/// The programs in their order, and what they run on.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Job {
    pub(crate) texts: Vec<Text>,
    pub(crate) setup: Setup,
}

/// Whether the line is a remark.
pub(crate) fn is_remark(line: &str) -> bool {
    line.starts_with('(')
}

/// Where the word `letter` stands in the line, as bytes.
fn place(line: &str, letter: char) -> Option<(usize, usize)> {
    if is_remark(line) {
        return None;
    }
    let from = line.find(letter)?;
    let length = line[from..].find(' ').unwrap_or(line.len() - from);
    Some((from, from + length))
}

/// The word of that letter, letter and all.
pub(crate) fn word(line: &str, letter: char) -> Option<&str> {
    place(line, letter).map(|(from, to)| &line[from..to])
}

pub(crate) fn has(line: &str, letter: char) -> bool {
    place(line, letter).is_some()
}

/// The number of the word of that letter.
pub(crate) fn number(line: &str, letter: char) -> Option<f64> {
    word(line, letter).and_then(|word| word[1..].parse().ok())
}

/// The line with the word of that letter exchanged.
pub(crate) fn with(line: &str, letter: char, new: &str) -> String {
    let Some((from, to)) = place(line, letter) else { return line.into() };
    let text = format!("{}{new}{}", &line[..from], &line[to..]);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The line with another number after that letter, four decimals at most.
pub(crate) fn renumbered(line: &str, letter: char, value: f64) -> String {
    with(line, letter, &format!("{letter}{}", decimal(value, 4)))
}

/// Whether the line moves an axis.
pub(crate) fn moves(line: &str) -> bool {
    ['X', 'Y', 'Z'].iter().any(|&axis| has(line, axis))
}

/// Whether the line is an arc.
pub(crate) fn is_arc(line: &str) -> bool {
    has(line, 'I') || has(line, 'J')
}

/// Plain decimals, without trailing zeros.
pub(crate) fn decimal(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if matches!(text, "-0" | "") { "0".into() } else { text.into() }
}
