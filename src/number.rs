//! The one writer of decimal numbers, for every text that must come out equal for equal input.

use std::cmp::Ordering;
use std::fmt;

/// A value that has no decimal form: an infinity, or what is no number at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotFinite;

impl fmt::Display for NotFinite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number to be written is not finite")
    }
}

impl std::error::Error for NotFinite {}

/// A finite number with at most so many decimals: no exponent, no needless zeros, no minus zero.
///
/// ```
/// use fillister::number::{NotFinite, decimal};
/// let text = |value| decimal(value, 4).map(|number| number.to_string());
/// assert_eq!(text(12.50004).as_deref(), Ok("12.5"));
/// assert_eq!(text(-0.00001).as_deref(), Ok("0"));
/// assert_eq!(text(1e9).as_deref(), Ok("1000000000"));
/// assert_eq!(text(f64::NAN), Err(NotFinite));
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Decimal {
    value: f64,
    places: u8,
}

/// `value` to be written with at most `places` decimals.
///
/// # Errors
/// Where the value is not finite.
pub fn decimal(value: f64, places: u8) -> Result<Decimal, NotFinite> {
    if value.is_finite() { Ok(Decimal { value, places }) } else { Err(NotFinite) }
}

/// [`decimal`] in a sentence, which says so where the value is not finite.
pub fn told(value: f64, places: u8) -> String {
    decimal(value, places).map_or_else(|why| why.to_string(), |value| value.to_string())
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Decimal { value, places } = *self;
        let Some((steps, unit)) = in_steps(value.abs(), places) else {
            // Too long for whole numbers; no drawing and no program comes here.
            let long = format!("{value:.*}", usize::from(places));
            let short = long.trim_end_matches('0').trim_end_matches('.');
            let text = if long.contains('.') { short } else { &long };
            return f.write_str(if text == "-0" { "0" } else { text });
        };
        if value < 0.0 && steps > 0 {
            f.write_str("-")?;
        }
        let (whole, mut decimals, mut width) = (steps / unit, steps % unit, usize::from(places));
        write!(f, "{whole}")?;
        if decimals == 0 {
            return Ok(());
        }
        while decimals.is_multiple_of(10) {
            (decimals, width) = (decimals / 10, width - 1);
        }
        write!(f, ".{decimals:0width$}")
    }
}

/// `value` ≥ 0 as a whole number of steps of 10^-`places`, and how many of them make 1. Exact: rounded once, a
/// tie to the even step, as the standard library rounds. None where it does not fit.
fn in_steps(value: f64, places: u8) -> Option<(u64, u64)> {
    // IEEE 754 binary64: value = significand / 2^down.
    const FRACTION: u32 = 52;
    let bits = value.to_bits();
    let (exponent, fraction) = (bits >> FRACTION, bits & ((1 << FRACTION) - 1));
    let significand = if exponent == 0 { fraction } else { fraction | (1 << FRACTION) };
    let down = 1075_u64.checked_sub(exponent.max(1))?;
    let unit = 10_u64.checked_pow(places.into())?;
    // Under 2^53 · 2^64, so twice the rest below fits, and what is shifted down further than that is nothing.
    let product = u128::from(significand) * u128::from(unit);
    if down > 118 {
        return Some((0, unit));
    }
    let one = 1_u128 << down;
    let (steps, rest) = (product >> down, product & (one - 1));
    let up = match (2 * rest).cmp(&one) {
        Ordering::Less => 0,
        Ordering::Equal => steps & 1,
        Ordering::Greater => 1,
    };
    Some((u64::try_from(steps + up).ok()?, unit))
}

/// Millimetres of an inch (International Yard and Pound Agreement 1959).
pub(crate) const INCH: f64 = 25.4;

/// Parts of an inch that a rule shows.
const PARTS: f64 = 32.0;

/// `25 11/32`: to the nearest part that a rule shows; what is less than one such part in thousandths.
pub fn inches(mm: f64) -> String {
    if mm.abs() < INCH / PARTS {
        return told(mm / INCH, 3);
    }
    let parts = (mm.abs() / INCH * PARTS).round();
    let (whole, mut part) = ((parts / PARTS).floor(), parts % PARTS);
    let mut of = PARTS;
    while part > 0.0 && part % 2.0 == 0.0 {
        (part, of) = (part / 2.0, of / 2.0);
    }
    let sign = if mm < 0.0 && parts > 0.0 { "-" } else { "" };
    match (whole > 0.0, part > 0.0) {
        (_, false) => format!("{sign}{whole:.0}"),
        (false, true) => format!("{sign}{part:.0}/{of:.0}"),
        (true, true) => format!("{sign}{whole:.0} {part:.0}/{of:.0}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn written(value: f64, places: u8) -> String {
        decimal(value, places).unwrap().to_string()
    }

    /// The standard library's decimals, cut by hand.
    fn slow(value: f64, places: u8) -> String {
        let mut text = format!("{value:.*}", usize::from(places));
        if text.contains('.') {
            text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
        }
        if text == "-0" { "0".into() } else { text }
    }

    #[test]
    fn whole_numbers_keep_their_zeros() {
        for (value, places, text) in [
            (100.0, 4, "100"),
            (100.0, 0, "100"),
            (-0.0, 2, "0"),
            (0.05, 2, "0.05"),
            (-10.0, 1, "-10"),
            (1e17, 4, "100000000000000000"),
            (-1e300, 0, &format!("{:.0}", -1e300)),
            (5e-324, 12, "0"),
        ] {
            assert_eq!(written(value, places), text);
        }
    }

    #[test]
    fn what_is_not_finite_is_an_error() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(decimal(value, 4).err(), Some(NotFinite));
        }
    }

    proptest! {
        #[test]
        fn reads_back_within_half_a_step(value in -1e6..1e6, places in 0_u8..7) {
            let text = written(value, places);
            prop_assert!(!text.contains(['e', 'E']) && text != "-0");
            let step = 10_f64.powi(-i32::from(places));
            prop_assert!((text.parse::<f64>().unwrap() - value).abs() <= step * 0.5 + 1e-9);
        }

        #[test]
        fn rounds_as_the_standard_library_does(value in -1e6..1e6, places in 0_u8..13) {
            prop_assert_eq!(written(value, places), slow(value, places));
        }

        // Sixteenths and the like lie half way between two steps, and their neighbours just off it.
        #[test]
        fn ties_go_to_the_even_step(whole in -100_000..100_000, halvings in 0..12, places in 0_u8..7) {
            let tie = f64::from(whole) * 0.5_f64.powi(halvings);
            for value in [tie, tie.next_up(), tie.next_down()] {
                prop_assert_eq!(written(value, places), slow(value, places));
            }
        }

        #[test]
        fn any_finite_number_is_written_as_the_standard_library_does(bits: u64, places in 0_u8..25) {
            let value = f64::from_bits(bits);
            prop_assume!(value.is_finite());
            prop_assert_eq!(written(value, places), slow(value, places));
        }
    }
}
