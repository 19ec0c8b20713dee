//! The one writer of decimal numbers, for every text that must come out equal for equal input.

/// `value` with at most `places` decimals: no exponent, no needless zeros, no minus zero.
///
/// Values that are not finite have no decimal form; they come out as `0`, so callers refuse them
/// before.
///
/// ```
/// use fillister::number::number;
/// assert_eq!(number(12.50004, 4), "12.5");
/// assert_eq!(number(-0.00001, 4), "0");
/// assert_eq!(number(1e9, 4), "1000000000");
/// ```
pub fn number(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return "0".into();
    }
    let mut text = format!("{value:.places$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".into() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn whole_numbers_keep_their_zeros() {
        assert_eq!(number(100.0, 4), "100");
        assert_eq!(number(100.0, 0), "100");
        assert_eq!(number(-0.0, 2), "0");
        assert_eq!(number(f64::NAN, 2), "0");
    }

    proptest! {
        #[test]
        fn reads_back_within_half_a_step(value in -1e6..1e6, places in 0_usize..7) {
            let text = number(value, places);
            prop_assert!(!text.contains(['e', 'E']) && text != "-0");
            let step = 10_f64.powi(-i32::try_from(places).unwrap());
            prop_assert!((text.parse::<f64>().unwrap() - value).abs() <= step * 0.5 + 1e-9);
        }
    }
}
