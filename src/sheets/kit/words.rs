//! Words that fit a width.

use super::{LABEL, Voice, tell};
use crate::drawing::{Text, width};
use crate::geometry::{MinMax, ROUNDING};
use crate::number::{NotFinite, decimal, told};
use kurbo::Point;

/// Tenths of a millimetre, as a rule reads; whole numbers without decimals.
///
/// # Errors
/// Where the value is not finite.
pub fn mm(value: f64) -> Result<String, NotFinite> {
    Ok(decimal(value, 1)?.to_string())
}

/// [`mm`] in a sentence, which says so where the value is not finite.
pub fn figure(length: f64) -> String {
    told(length, 1)
}

/// [`mm`], or a dash where there is nothing to measure.
///
/// # Errors
/// As [`mm`].
pub fn or_dash(length: Option<f64>) -> Result<String, NotFinite> {
    length.map_or_else(|| Ok("–".to_owned()), mm)
}

/// A value with just so many decimals; nought has no sign.
pub fn fixed(value: f64, places: usize) -> String {
    crate::language::figure(&format!("{value:.places$}")).to_owned()
}

/// Sentences in a row, those that are empty left out.
pub fn in_a_row<const N: usize>(sentences: [String; N]) -> String {
    sentences.into_iter().filter(|one| !one.is_empty()).collect::<Vec<_>>().join(" ")
}

/// One figure, or both ends where they read differently: `14 to 17.9`.
pub fn range([least, most]: [String; 2], voice: Voice) -> String {
    if least == most { least } else { tell!(voice, "least-to-most", least, most) }
}

/// The [`range`] of a length.
///
/// # Errors
/// Where an end is not finite.
pub fn min_max(length: MinMax, voice: Voice) -> Result<String, NotFinite> {
    Ok(range([mm(length.least)?, mm(length.most)?], voice))
}

/// `A`, `B` … by the place in the list; past the alphabet with a number.
pub fn letter(index: usize) -> String {
    let letter = u8::try_from(index % 26).map_or('?', |n| char::from(b'A' + n));
    if index < 26 { letter.to_string() } else { format!("{letter}{}", index / 26) }
}

/// The first of each group of like items, with the names of all its members, in order.
pub fn grouped<'a, T, N: ?Sized>(
    items: &'a [T],
    like: impl Fn(&T, &T) -> bool,
    name: impl Fn(&'a T) -> &'a N,
) -> Vec<(&'a T, Vec<&'a N>)> {
    let mut groups: Vec<(&T, Vec<&N>)> = Vec::new();
    for item in items {
        match groups.iter_mut().find(|(first, _)| like(first, item)) {
            Some((_, names)) => names.push(name(item)),
            None => groups.push((item, vec![name(item)])),
        }
    }
    groups
}

/// Sides with the same figure together: `left, right 83; bottom 85`.
pub fn one_figure(sides: &[(String, String)]) -> String {
    let groups = grouped(sides, |a, b| a.1 == b.1, |(side, _)| side.as_str());
    let words = groups.iter().map(|((_, figure), sides)| format!("{} {figure}", sides.join(", ")));
    words.collect::<Vec<_>>().join("; ")
}

/// Hundredths: corners of arcs are seldom whole, and a unit maker sets a machine by them.
///
/// # Errors
/// Where the value is not finite.
pub fn hundredths(value: f64) -> Result<String, NotFinite> {
    Ok(decimal(value, 2)?.to_string())
}

/// `words` at `at`, at most `most` mm long: set smaller, and where that is not enough cut short with an
/// ellipsis.
pub fn fitted(words: &str, at: Point, height: f64, most: f64) -> Text {
    let long = width(words, height);
    if long <= most {
        return Text::new(words, at, height);
    }
    let smaller = (height * most / long).max(LABEL.min(height));
    if width(words, smaller) <= most + ROUNDING {
        return Text::new(words, at, smaller);
    }
    let mut kept: Vec<char> = words.chars().collect();
    while !kept.is_empty() {
        kept.pop();
        let short: String = kept.iter().collect::<String>().trim_end().to_owned() + "…";
        if width(&short, smaller) <= most {
            return Text::new(short, at, smaller);
        }
    }
    Text::new("", at, smaller)
}

/// Whether no line ends between two words: within `25 11/32` and before `in)`.
fn hold(before: &str, after: &str) -> bool {
    let digits = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    let bare = after.trim_end_matches([',', ';', '.', ')']);
    let fraction = bare.split_once('/').is_some_and(|(a, b)| digits(a) && digits(b));
    let ends = before.trim_end_matches([',', ';']).ends_with(|c: char| c.is_ascii_digit());
    ends && (fraction && before.ends_with(|c: char| c.is_ascii_digit()) || after.starts_with("in)"))
}

/// Words between which a line may end: a fraction stays with its number, and an inch too.
pub fn parts(words: &str) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        match parts.last_mut() {
            Some(last) if hold(last, word) => *last = format!("{last} {word}"),
            _ => parts.push(word.to_owned()),
        }
    }
    parts
}

/// `words` in lines of at most `most` mm, broken at spaces; a word that is longer is broken too, and so is a fraction
/// or an inch from its number where both together are. At least one line.
pub fn wrapped(words: &str, height: f64, most: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    let long = |part: &String| width(part, height) > most;
    let parts = parts(words).into_iter().flat_map(|part| {
        if long(&part) { part.split(' ').map(str::to_owned).collect() } else { vec![part] }
    });
    for word in parts {
        let before = line.len();
        if before > 0 {
            line.push(' ');
        }
        line.push_str(&word);
        if width(&line, height) <= most {
            continue;
        }
        line.truncate(before);
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        if width(&word, height) <= most {
            line = word;
            continue;
        }
        for c in word.chars() {
            line.push(c);
            if width(&line, height) > most && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::take(&mut line));
                line.push(c);
            }
        }
    }
    lines.push(line);
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_keep_to_their_width_and_lose_nothing() {
        let words = "one careful hand lowers the bars Donaudampfschifffahrtsgesellschaftskapitän";
        let lines = wrapped(words, 2.0, 30.0);
        assert!(lines.iter().all(|line| width(line, 2.0) <= 30.0));
        assert_eq!(lines.concat().replace(' ', ""), words.replace(' ', ""));
        assert_eq!(wrapped("", 2.0, 30.0), [""]);
        let size = width("order 644 x", 2.0) + 1.0;
        let lines = wrapped("order 644 x 854 (25 11/32 x 33 5/8 in), 14 mm", 2.0, size);
        for whole in ["25 11/32", "33 5/8 in),"] {
            assert!(lines.iter().any(|line| line.contains(whole)), "{whole}: {lines:?}");
        }
        // Even where not a single letter fits there is an end.
        assert_eq!(wrapped("abc", 2.0, 0.1), ["a", "b", "c"]);
    }

    #[test]
    fn a_long_name_is_set_smaller_then_cut_short() {
        let text = fitted("Samphire Cottage", Point::ZERO, 3.0, 30.0);
        assert!(
            text.height < 3.0 && text.width() <= 30.0 + 1e-9 && text.value == "Samphire Cottage"
        );
        let short = fitted(&"Samphire Cottage ".repeat(20), Point::ZERO, 3.0, 40.0);
        assert!(short.width() <= 40.0 && short.value.ends_with('…'));
        assert_eq!(fitted("abc", Point::ZERO, 3.0, 0.0).value, "");
    }
}
