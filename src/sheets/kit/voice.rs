//! How a sheet speaks: in whose words, and with inches beside millimetres where they are asked for.

use crate::number::inches;
use crate::survey::{Printer, Spelling};

/// Words of the trade, British and American, and endings that go with them.
const WORDS: [(&str, &str); 14] = [
    ("glazing bar", "muntin"),
    ("Glazing bar", "Muntin"),
    ("upright bar", "upright muntin"),
    ("cross bar", "cross muntin"),
    ("rebated", "rabbeted"),
    ("rebate", "rabbet"),
    ("Rebate", "Rabbet"),
    ("moulding", "molding"),
    ("Moulding", "Molding"),
    ("coloured", "colored"),
    ("colour", "color"),
    ("centre", "center"),
    ("grey", "gray"),
    ("mould", "mold"),
];
/// What joins two lengths that share one unit.
const JOINS: [&str; 7] = ["x", "×", "by", "to", "or", "and", "/"];

/// See the head of this file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Voice {
    inches: bool,
    american: bool,
}

impl Voice {
    /// As the survey asks.
    pub fn of(printer: &Printer) -> Voice {
        Voice { inches: printer.inches, american: printer.words == Spelling::American }
    }

    /// British words, and millimetres alone.
    pub const PLAIN: Voice = Voice { inches: false, american: false };

    /// A name or a label in this voice.
    pub fn named(self, words: &str) -> String {
        let mut said = words.to_owned();
        if self.american {
            for (british, american) in WORDS {
                said = said.replace(british, american);
            }
        }
        said
    }

    /// A sentence in this voice.
    pub fn said(self, words: &str) -> String {
        let said = self.named(words);
        if self.inches { with_inches(&said) } else { said }
    }

    /// A cell of a table under the head of its column.
    pub fn cell(self, head: &str, cell: &str) -> String {
        let said = self.said(cell);
        let lengths = head.split([' ', ',']).any(|word| word == "mm");
        if !(self.inches && lengths) || head.contains('°') || said.contains(" in)") {
            return said;
        }
        let tokens: Vec<&str> = said.split(' ').collect();
        if !tokens.iter().any(|token| length(token).is_some()) {
            return said;
        }
        format!("{said} ({} in)", converted(&tokens))
    }
}

/// A length as it stands in a sentence, with the comma after it.
fn length(token: &str) -> Option<f64> {
    let number = token.trim_end_matches([',', ';']);
    let digits = number.trim_start_matches('-').chars().all(|c| c.is_ascii_digit() || c == '.');
    if digits { number.parse().ok() } else { None }
}

/// The same words with every length in inches.
fn converted(tokens: &[&str]) -> String {
    let one = |token: &&str| {
        let mark = if token.ends_with(',') { "," } else { "" };
        length(token).map_or_else(|| (*token).to_owned(), |mm| inches(mm) + mark)
    };
    tokens.iter().map(one).collect::<Vec<_>>().join(" ")
}

/// Inches in brackets behind every `mm` that follows lengths.
fn with_inches(words: &str) -> String {
    let tokens: Vec<&str> = words.split(' ').collect();
    let mut said: Vec<String> = Vec::with_capacity(tokens.len());
    for (at, token) in tokens.iter().enumerate() {
        let bare = token.trim_end_matches(['.', ',', ';', ':', ')']);
        let first = if bare == "mm" { first_length(&tokens, at) } else { at };
        match tokens.get(first..at).filter(|lengths| !lengths.is_empty()) {
            Some(lengths) => {
                let after = token.get(bare.len()..).unwrap_or_default();
                said.push(format!("mm ({} in){after}", converted(lengths)));
            }
            None => said.push((*token).to_owned()),
        }
    }
    said.join(" ")
}

/// Where the lengths before the token at `at` begin; `at` itself where there is none.
fn first_length(tokens: &[&str], at: usize) -> usize {
    let is_length = |at: usize| tokens.get(at).is_some_and(|token| length(token).is_some());
    let mut first = at;
    while first > 0 && is_length(first - 1) {
        first -= 1;
        let joined = |at: usize| {
            tokens.get(at).is_some_and(|join| JOINS.contains(join)) && at > 0 && is_length(at - 1)
        };
        if first > 0 && joined(first - 1) {
            first -= 1;
        }
    }
    first
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: 644/25.4 = 25.354 in, 11.3 parts of 32; 14/25.4 = 0.551 in, 17.6 parts: 18/32.
    #[test]
    fn lengths_are_told_to_a_thirty_second_of_an_inch() {
        let told = [25.4, 644.0, 14.0, 0.5, 0.2, -14.0, 25.3].map(inches);
        assert_eq!(told, ["1", "25 11/32", "9/16", "1/32", "0", "-9/16", "1"]);
        let voice = Voice { inches: true, american: true };
        assert_eq!(
            voice.said("1 of 644 x 854 mm, 14 mm thick: a rebate 14 to 16 mm wide, 5 mm²."),
            "1 of 644 x 854 mm (25 11/32 x 33 5/8 in), 14 mm (9/16 in) thick: a rabbet 14 to 16 mm (9/16 to 5/8 in) \
             wide, 5 mm²."
        );
        assert_eq!(
            voice.cell("new rebate, width × depth, mm", "14 × 27"),
            "14 × 27 (9/16 × 1 1/16 in)"
        );
        assert_eq!(voice.cell("count", "14"), "14");
        assert_eq!(voice.cell("width, mm", "–"), "–");
        assert_eq!(Voice::PLAIN.said("rebate 14 mm"), "rebate 14 mm");
    }
}
