//! Lengths as people write them: `45 mm`, `4.5 cm`, `1 3/4 in`, `7/16"`, `1-3/4 in`, `1 ft 2 in`.
//!
//! One inch is 25.4 mm exactly (international yard and pound agreement, 1959).

/// Millimetres in an inch.
pub const INCH: f64 = 25.4;

/// Why a text is no length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum LengthError {
    /// A number without a unit.
    NoUnit,
    /// A comma where a decimal point belongs.
    Comma,
    /// A unit that is not known.
    Unit(String),
    /// A fraction over nothing.
    ZeroBelow,
    /// Anything else.
    Shape,
}

impl LengthError {
    /// How to mend it.
    pub(super) fn hint(&self) -> String {
        match self {
            LengthError::NoUnit => {
                "leave the quotes off for millimetres, or name the unit inside them".to_owned()
            }
            LengthError::Comma => "write a decimal point, not a comma".to_owned(),
            LengthError::Unit(unit) => {
                format!("`{unit}` is no unit known here; use mm, cm, m, in, ft")
            }
            LengthError::ZeroBelow => "a fraction cannot have 0 below the line".to_owned(),
            LengthError::Shape => {
                "such as \"45 mm\", \"4.5 cm\", \"1 3/4 in\", \"7/16 in\" or \"1 ft 2 in\""
                    .to_owned()
            }
        }
    }
}

/// Reads a length with its unit, mm.
pub(super) fn parse(text: &str) -> Result<f64, LengthError> {
    let text = plain(text);
    let mut rest = text.trim();
    let negative = match rest.strip_prefix(['-', '\u{2212}']) {
        Some(after) => {
            rest = after.trim_start();
            true
        }
        None => false,
    };
    let (first, unit) = term(&mut rest)?;
    let mut sum = unit.in_mm(first);
    if !rest.is_empty() {
        // Only feet are followed by a second part, and only by inches.
        if unit != Unit::Foot {
            return Err(if rest.starts_with(',') {
                LengthError::Comma
            } else {
                LengthError::Shape
            });
        }
        let (inches, second) = term(&mut rest)?;
        if second != Unit::Inch || !rest.is_empty() {
            return Err(LengthError::Shape);
        }
        sum += second.in_mm(inches);
    }
    Ok(if negative { -sum } else { sum })
}

/// A length with its unit, mm; none of what is no length.
pub fn in_mm(text: &str) -> Option<f64> {
    parse(text).ok()
}

/// Whether `text` is a number that names no unit: `12`, `3/8`, `1½`.
pub fn is_bare(text: &str) -> bool {
    text.chars().any(char::is_numeric) && !text.chars().any(names_unit)
}

/// The unit behind the one number of `text`: `cm` of `78cm`. None of `1 ft 2 in`, which has two.
pub fn unit_at_end(text: &str) -> Option<&str> {
    let text = text.trim();
    let number = text.trim_end_matches(|c: char| !c.is_numeric());
    let unit = text.strip_prefix(number)?.trim();
    (is_bare(number) && unit.contains(names_unit)).then_some(unit)
}

fn names_unit(c: char) -> bool {
    c.is_alphabetic() || "\"'″”′’".contains(c)
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unit {
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
}

impl Unit {
    /// `value` of this unit in mm. Inches go through whole tenths, so that a fraction of a power of
    /// two comes out as exactly as a millimetre can be written.
    fn in_mm(self, value: f64) -> f64 {
        match self {
            Unit::Millimetre => value,
            Unit::Centimetre => value * 10.0,
            Unit::Metre => value * 1000.0,
            Unit::Inch => value * 254.0 / 10.0,
            Unit::Foot => value * 3048.0 / 10.0,
        }
    }
}

/// Typographic signs in their plain form: `1¾″` becomes `1 3/4"`.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '½' => plain.push_str(" 1/2"),
            '¼' => plain.push_str(" 1/4"),
            '¾' => plain.push_str(" 3/4"),
            '⅛' => plain.push_str(" 1/8"),
            '⅜' => plain.push_str(" 3/8"),
            '⅝' => plain.push_str(" 5/8"),
            '⅞' => plain.push_str(" 7/8"),
            '″' | '”' => plain.push('"'),
            '′' | '’' => plain.push('\''),
            '⁄' => plain.push('/'),
            space if space.is_whitespace() => plain.push(' '),
            other => plain.push(other),
        }
    }
    plain
}

/// A number with its unit, taken off the front of `rest`.
fn term(rest: &mut &str) -> Result<(f64, Unit), LengthError> {
    let value = number(rest)?;
    *rest = rest.trim_start();
    if rest.starts_with(',') {
        return Err(LengthError::Comma);
    }
    let unit = unit(rest)?;
    *rest = rest.trim_start();
    Ok((value, unit))
}

fn unit(rest: &mut &str) -> Result<Unit, LengthError> {
    for (sign, unit) in [("\"", Unit::Inch), ("''", Unit::Inch), ("'", Unit::Foot)] {
        if let Some(after) = rest.strip_prefix(sign) {
            *rest = after;
            return Ok(unit);
        }
    }
    let end = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
    let (word, after) = rest.split_at(end);
    let unit = match word.to_lowercase().as_str() {
        "mm" => Unit::Millimetre,
        "cm" => Unit::Centimetre,
        "m" => Unit::Metre,
        "in" | "inch" | "inches" => Unit::Inch,
        "ft" | "foot" | "feet" => Unit::Foot,
        "" if rest.is_empty() => return Err(LengthError::NoUnit),
        "" => return Err(LengthError::Shape),
        _ => return Err(LengthError::Unit(word.to_owned())),
    };
    // `in.` and `ft.` are common.
    *rest = after.strip_prefix('.').unwrap_or(after);
    Ok(unit)
}

/// `12`, `1.75`, `7/16`, `1 3/4` or `1-3/4`.
fn number(rest: &mut &str) -> Result<f64, LengthError> {
    let whole = digits(rest);
    if let Some(after) = rest.strip_prefix('.') {
        *rest = after;
        let part = digits(rest);
        if whole.is_empty() && part.is_empty() {
            return Err(LengthError::Shape);
        }
        return format!("0{whole}.{part}0").parse().map_err(|_| LengthError::Shape);
    }
    if whole.is_empty() {
        return Err(LengthError::Shape);
    }
    let value: f64 = whole.parse().map_err(|_| LengthError::Shape)?;
    if let Some(below) = denominator(rest)? {
        return Ok(value / below);
    }
    // A fraction after the whole number, parted by a space or a hyphen.
    let mut ahead = rest.trim_start_matches(' ');
    ahead = ahead.strip_prefix('-').unwrap_or(ahead).trim_start_matches(' ');
    let above = digits(&mut ahead);
    if ahead.len() == rest.len() || above.is_empty() {
        return Ok(value);
    }
    match denominator(&mut ahead)? {
        Some(below) => {
            *rest = ahead;
            let above: f64 = above.parse().map_err(|_| LengthError::Shape)?;
            Ok(value + above / below)
        }
        None => Err(LengthError::Shape),
    }
}

/// What stands below the line of a fraction, if a line comes next.
fn denominator(rest: &mut &str) -> Result<Option<f64>, LengthError> {
    let Some(after) = rest.strip_prefix('/') else { return Ok(None) };
    *rest = after;
    let below: f64 = digits(rest).parse().map_err(|_| LengthError::Shape)?;
    if below == 0.0 { Err(LengthError::ZeroBelow) } else { Ok(Some(below)) }
}

fn digits<'t>(rest: &mut &'t str) -> &'t str {
    let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    let (digits, after) = rest.split_at(end);
    *rest = after;
    digits
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_as_people_write_them() {
        // Closed form: 25.4 mm an inch, 304.8 mm a foot.
        for (text, millimetres) in [
            ("45 mm", 45.0),
            ("45mm", 45.0),
            ("4.5 cm", 45.0),
            ("0.045 m", 45.0),
            (".5 in", 12.7),
            ("1 3/4 in", 44.45),
            ("1-3/4 in", 44.45),
            ("1¾″", 44.45),
            ("1.75 inches", 44.45),
            ("7/16\"", 11.1125),
            ("13/4 in.", 82.55),
            ("1 ft 2 in", 355.6),
            ("1' 2 1/2\"", 368.3),
            ("3 feet", 914.4),
            ("-4 mm", -4.0),
            ("\u{2212} 1/2 in", -12.7),
        ] {
            let read = parse(text).unwrap();
            assert_eq!(read, millimetres, "{text}");
        }
    }

    #[test]
    fn a_unit_at_the_end_is_told_from_a_number_alone() {
        for (text, unit) in [
            ("78cm", Some("cm")),
            ("3 1/2 in", Some("in")),
            ("1½″", Some("″")),
            ("1 ft 2 in", None),
            ("78", None),
            ("3/8", None),
            ("", None),
            ("cm", None),
        ] {
            assert_eq!(unit_at_end(text), unit, "{text}");
        }
        assert!(is_bare("3/8") && is_bare("1½") && is_bare("12.5"));
        assert!(!is_bare("78cm") && !is_bare("1\"") && !is_bare(""));
    }

    #[test]
    fn what_is_no_length_says_why() {
        use LengthError::{Comma, NoUnit, Shape, ZeroBelow};
        for (text, why) in [
            ("45", NoUnit),
            ("4,5 cm", Comma),
            ("45,0 mm", Comma),
            ("1/0 in", ZeroBelow),
            ("", Shape),
            ("mm", Shape),
            ("1 2 in", Shape),
            ("1.5 3/4 in", Shape),
            ("1 in 2 ft", Shape),
            ("1 ft 2 ft", Shape),
            ("1 ft 2 in 3 in", Shape),
            ("--4 mm", Shape),
            ("1/ in", Shape),
            (". mm", Shape),
            ("٤٥ mm", Shape),
        ] {
            assert_eq!(parse(text), Err(why), "{text}");
        }
        assert_eq!(parse("45 parsec"), Err(LengthError::Unit("parsec".to_owned())));
        assert_eq!(parse("1e3 mm"), Err(LengthError::Unit("e".to_owned())));
        assert_eq!(parse("NaN mm"), Err(Shape));
    }
}
