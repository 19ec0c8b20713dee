//! Languages that nobody speaks: the British texts with other letters, and with longer words.

use fillister::language::BRITISH;
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use std::collections::BTreeSet;

/// What stands in every language: units.
const UNITS: [&str; 22] = [
    "mm", "kg", "kWh", "Pa", "ml", "cm", "min", "mK", "W", "N", "m", "h", "C", "K", "in", "to",
    "x", "EN", "ISO", "TRLV", "UK", "U",
];

/// The words of a text, each as `other` has it.
fn changed(pattern: &mut Pattern<String>, other: &impl Fn(&str) -> String) {
    for element in &mut pattern.elements {
        match element {
            PatternElement::TextElement { value } => *value = other(value),
            PatternElement::Placeable { expression } => match expression {
                Expression::Inline(InlineExpression::StringLiteral { value }) => {
                    *value = other(value);
                }
                Expression::Select { variants, .. } => {
                    for one in variants {
                        changed(&mut one.value, other);
                    }
                }
                Expression::Inline(_) => {}
            },
        }
    }
}

/// The British texts, each word as `other` has it but for units; values, terms by their names, and what holds of the
/// language itself stay.
fn told_by(other: &impl Fn(&str) -> String) -> String {
    let words = |text: &str| -> String {
        let mut said = String::new();
        for word in text.split_inclusive(|c: char| !c.is_ascii_alphabetic()) {
            let bare = word.trim_end_matches(|c: char| !c.is_ascii_alphabetic());
            said += &if UNITS.contains(&bare) { word.to_owned() } else { other(word) };
        }
        said
    };
    let mut file = fluent_syntax::parser::parse(BRITISH.to_owned()).unwrap();
    file.body.retain(|entry| matches!(entry, Entry::Message(_) | Entry::Term(_)));
    for entry in &mut file.body {
        match entry {
            Entry::Message(text)
                if ["language-tag", "after-a-colon"].contains(&text.id.name.as_str()) => {}
            Entry::Message(text) => text.value.iter_mut().for_each(|text| changed(text, &words)),
            Entry::Term(term) => changed(&mut term.value, &words),
            _ => {}
        }
    }
    fluent_syntax::serializer::serialize(&file)
}

/// Every letter is one of another alphabet.
pub(crate) fn other_letters() -> String {
    let other = |letter: char| match letter {
        'a'..='z' => char::from_u32('а' as u32 + letter as u32 - 'a' as u32).unwrap(),
        'A'..='Z' => char::from_u32('А' as u32 + letter as u32 - 'A' as u32).unwrap(),
        other => other,
    };
    told_by(&|word| word.chars().map(other).collect())
}

/// Every vowel stands twice, and so do n and t: a text is longer by four tenths of its letters or so, as one of another language may be.
pub(crate) fn longer_words() -> String {
    let twice =
        |letter: char| std::iter::repeat_n(letter, if "aeiounty".contains(letter) { 2 } else { 1 });
    told_by(&|word| word.chars().flat_map(twice).collect())
}

/// Runs of Latin letters in a text that are no unit.
pub(crate) fn latin(text: &str) -> BTreeSet<String> {
    let runs = text.split(|c: char| !(c.is_ascii_alphabetic()));
    let is_unit = |run: &str| UNITS.iter().any(|unit| unit.eq_ignore_ascii_case(run));
    let words = runs.filter(|run| run.len() > 1 && !is_unit(run));
    words.map(str::to_lowercase).collect()
}
