//! How a sheet speaks: in whose words, and with inches beside millimetres where they are asked for.

use crate::drawing::Figures;
use crate::language::{Figure, Language, Said, Text, figure};
use crate::number::{Decimal, inches};
use crate::survey::{BuildUp, Printer};

/// Words of a language that stand between two lengths with one unit.
struct Joins {
    all: Vec<String>,
    /// That of a range.
    range: String,
}

impl Joins {
    fn join(&self, token: &str) -> bool {
        self.all.iter().any(|join| join == token)
    }
}

/// See the head of this file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Voice {
    inches: bool,
    language: &'static Language,
}

/// `tell!(voice, "key", depth = mm(depth)?, count)`: the text of a key with its values, each by the name that it has in
/// the text.
macro_rules! tell {
    ($voice:expr, $key:expr $(, $name:ident $(= $value:expr)?)* $(,)?) => {
        $voice.tell($key, [$((stringify!($name), tell!(@ $name $(= $value)?))),*])
    };
    (@ $name:ident = $value:expr) => { $crate::sheets::kit::InText::in_text(&$value) };
    (@ $name:ident) => { $crate::sheets::kit::InText::in_text(&$name) };
}
pub(crate) use tell;

/// What goes into a text as a value.
pub trait InText {
    /// Words as they are; a count as one, for a plural to go by.
    fn in_text(&self) -> Figure<'_>;
}

impl InText for str {
    fn in_text(&self) -> Figure<'_> {
        figure(self).into()
    }
}

impl InText for String {
    fn in_text(&self) -> Figure<'_> {
        self.as_str().in_text()
    }
}

impl InText for BuildUp {
    fn in_text(&self) -> Figure<'_> {
        self.to_string().into()
    }
}

impl InText for Decimal {
    fn in_text(&self) -> Figure<'_> {
        self.to_string().into()
    }
}

impl InText for u32 {
    fn in_text(&self) -> Figure<'_> {
        self.into()
    }
}

impl InText for usize {
    fn in_text(&self) -> Figure<'_> {
        self.into()
    }
}

impl<T: InText + ?Sized> InText for &T {
    fn in_text(&self) -> Figure<'_> {
        (*self).in_text()
    }
}

impl Voice {
    /// As the survey asks.
    pub fn of(printer: &Printer) -> Voice {
        Voice { inches: printer.inches, language: printer.language }
    }

    /// The words of `language`, and millimetres alone.
    pub fn in_words(language: &'static Language) -> Voice {
        Voice { inches: false, language }
    }

    /// British words, and millimetres alone.
    pub fn plain() -> Voice {
        Voice::in_words(Language::british())
    }

    /// The language as HTML names it: `en`.
    pub fn lang(self) -> String {
        self.language.lang()
    }

    /// The text of a key that asks for no value.
    pub fn word(self, key: &str) -> String {
        self.language.tell(key, [])
    }

    /// The text of a key, with the values that it asks for; `tell!` names them.
    pub fn tell<'a, const N: usize>(self, key: &str, values: [(&'a str, Figure<'a>); N]) -> String {
        self.language.tell(key, values)
    }

    /// The text of a key that asks for no value, or whose values nobody reads; none where there is no such text.
    pub fn known(self, key: &str) -> Option<String> {
        self.language.known(key, [])
    }

    /// Names in a row: `this and that`.
    pub fn listed(self, names: &[impl AsRef<str>]) -> String {
        let mut names = names.iter().map(|name| name.as_ref().to_owned());
        let first = names.next().unwrap_or_default();
        names.fold(first, |one, other| tell!(self, "list-and", one, other))
    }

    /// How the values of dimensions are written.
    pub fn figures(self, height: f64) -> Figures {
        Figures { height, inches: self.inches }
    }

    /// A name that the program has given, in this voice; not one of the joiner's.
    pub fn named(self, name: &str) -> String {
        self.language.named(name)
    }

    /// What a room has to tell, in this voice.
    pub fn say(self, text: &Text) -> String {
        self.language.say(text)
    }

    /// The same, and in British words as well.
    pub fn said_twice(self, text: &Text) -> Said {
        Said::of(text, self.language)
    }

    fn joins(self) -> Joins {
        let all = self.word("joins-lengths");
        let all = all.split(' ').map(str::to_owned).collect();
        Joins { all, range: self.word("joins-range") }
    }

    /// A sentence after a colon: small in a language that writes it so.
    pub fn after_colon(self, sentence: &str) -> String {
        let mut letters = sentence.chars();
        let small = self.word("after-a-colon") == "small";
        match (letters.next(), letters.clone().next()) {
            // What is written in capitals stays.
            (Some(first), Some(second)) if small && !second.is_uppercase() => {
                first.to_lowercase().chain(letters).collect()
            }
            _ => sentence.to_owned(),
        }
    }

    /// A sentence with inches where they are asked for.
    pub fn said(self, words: &str) -> String {
        if self.inches { with_inches(words, &self.joins()) } else { words.to_owned() }
    }

    /// Lengths in inches, and words between them as they are; none where nobody asks for inches.
    pub fn in_inches(self, lengths: &str) -> Option<String> {
        let tokens: Vec<&str> = lengths.split(' ').collect();
        self.inches.then(|| converted(&tokens, &self.joins()))
    }

    /// A cell of a table under the heads of its column and row.
    pub fn cell(self, heads: &[&str], cell: &str) -> String {
        let said = self.said(cell);
        let lengths = |head: &&str| head.split([' ', ',']).any(|word| word == "mm");
        let degrees = heads.iter().any(|head| head.contains('°'));
        if !(self.inches && heads.iter().any(lengths)) || degrees || said.contains(" in)") {
            return said;
        }
        let tokens: Vec<&str> = said.split(' ').collect();
        if !tokens.iter().any(|token| length(token).is_some()) {
            return said;
        }
        let (mut told, mut at, joins) = (Vec::new(), 0, self.joins());
        while let Some(token) = tokens.get(at) {
            let run = tokens.get(at..run_end(&tokens, at, &joins)).unwrap_or_default();
            let Some(last) = run.last() else {
                told.push((*token).to_owned());
                at += 1;
                continue;
            };
            let mark = last.get(last.trim_end_matches([',', ';']).len()..).unwrap_or_default();
            let (words, inches) = (run.join(" "), converted(run, &joins));
            let bare = |words: &str| words.trim_end_matches([',', ';']).to_owned();
            told.push(format!("{} ({} in){mark}", bare(&words), bare(&inches)));
            at += run.len();
        }
        told.join(" ")
    }
}

/// Where the lengths that begin with the token at `from`, and belong together, end; `from` itself where none begins.
fn run_end(tokens: &[&str], from: usize, joins: &Joins) -> usize {
    let is_length = |at: usize| tokens.get(at).is_some_and(|token| length(token).is_some());
    let mut end = from;
    let mut at = from;
    while is_length(at) {
        end = at + 1;
        if tokens.get(at).is_some_and(|token| token.ends_with(';')) {
            break;
        }
        let joined = tokens.get(end).is_some_and(|token| joins.join(token));
        at = if joined { end + 1 } else { end };
    }
    end
}

/// A length as it stands in a sentence, with the comma after it.
fn length(token: &str) -> Option<f64> {
    let number = token.trim_start_matches('(').trim_end_matches([',', ';']);
    let digits =
        number.trim_start_matches(['-', '+']).chars().all(|c| c.is_ascii_digit() || c == '.');
    if digits { number.parse().ok() } else { None }
}

/// The same words with every length in inches.
fn converted(tokens: &[&str], joins: &Joins) -> String {
    let one = |token: &&str| {
        let mark = if token.ends_with(',') { "," } else { "" };
        length(token).map_or_else(|| (*token).to_owned(), |mm| inches(mm) + mark)
    };
    let bare = |words: &str| words.trim_end_matches(',').to_owned();
    let mut told: Vec<String> = Vec::with_capacity(tokens.len());
    for inches in tokens.iter().map(one) {
        // Both ends may read alike in inches.
        if let [.., from, to] = told.as_mut_slice()
            && *to == joins.range
            && bare(from) == bare(&inches)
        {
            *from = inches;
            told.pop();
        } else {
            told.push(inches);
        }
    }
    told.join(" ")
}

/// Inches in brackets behind every `mm` that follows lengths.
fn with_inches(words: &str, joins: &Joins) -> String {
    let tokens: Vec<&str> = words.split(' ').collect();
    let mut said: Vec<String> = Vec::with_capacity(tokens.len());
    for (at, token) in tokens.iter().enumerate() {
        let bare = token.trim_end_matches(['.', ',', ';', ':', ')']);
        let first = if bare == "mm" { first_length(&tokens, at, joins) } else { at };
        match tokens.get(first..at).filter(|lengths| !lengths.is_empty()) {
            Some(lengths) => {
                let after = token.get(bare.len()..).unwrap_or_default();
                let inches = converted(lengths, joins);
                // No brackets within brackets.
                said.push(if after.starts_with(')') {
                    format!("mm, {inches} in{after}")
                } else {
                    format!("mm ({inches} in){after}")
                });
            }
            None => said.push((*token).to_owned()),
        }
    }
    said.join(" ")
}

/// Where the lengths before the token at `at` begin; `at` itself where there is none.
fn first_length(tokens: &[&str], at: usize, joins: &Joins) -> usize {
    let is_length = |at: usize| tokens.get(at).is_some_and(|token| length(token).is_some());
    let mut first = at;
    while first > 0 && is_length(first - 1) {
        first -= 1;
        let joined = |at: usize| {
            tokens.get(at).is_some_and(|token| joins.join(token)) && at > 0 && is_length(at - 1)
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
    fn lengths_are_told_to_a_thirty_second_of_an_inch_and_less_in_thousandths() {
        let told = [25.4, 644.0, 14.0, 0.5, 0.2, -14.0, 25.3, 0.0].map(inches);
        assert_eq!(told, ["1", "25 11/32", "9/16", "0.02", "0.008", "-9/16", "1", "0"]);
        let voice = Voice { inches: true, language: Language::american() };
        assert_eq!(
            voice.said("1 of 644 x 854 mm, 14 mm thick: a rabbet 14 to 16 mm wide, 5 mm²."),
            "1 of 644 x 854 mm (25 11/32 x 33 5/8 in), 14 mm (9/16 in) thick: a rabbet 14 to 16 mm (9/16 to 5/8 in) \
             wide, 5 mm²."
        );
        assert_eq!(
            voice.cell(&["new rebate, width × depth, mm"], "14 × 27"),
            "14 × 27 (9/16 × 1 1/16 in)"
        );
        let at = voice.cell(&["middles, mm"], "100 carries; 200, 300 keep the gap, 9 / –");
        assert_eq!(
            at,
            "100 (3 15/16 in) carries; 200, 300 (7 7/8, 11 13/16 in) keep the gap, 9 (11/32 in) / –"
        );
        assert_eq!(voice.said("14 to 14.3 mm, wide"), "14 to 14.3 mm (9/16 in), wide");
        assert_eq!(voice.said("4-6-4 (14 mm)"), "4-6-4 (14 mm, 9/16 in)");
        assert_eq!(voice.said("X -0.5 to +2 mm"), "X -0.5 to +2 mm (-0.02 to 3/32 in)");
        assert_eq!(voice.cell(&["count"], "14"), "14");
        assert_eq!(voice.cell(&["", "width, mm"], "–"), "–");
        assert_eq!(Voice::plain().said("rebate 14 mm"), "rebate 14 mm");
    }
}
