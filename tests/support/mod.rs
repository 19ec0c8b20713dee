//! What several test files share: random surveys, a writer of survey files, small helpers.

pub(crate) mod bench;
pub(crate) mod chance;
pub(crate) mod cuts;
pub(crate) mod deviation;
pub(crate) mod houses;
pub(crate) mod invented;
pub(crate) mod machinable;
pub(crate) mod program_text;
pub(crate) mod rectangles;
pub(crate) mod refusals;
pub(crate) mod runs;
pub(crate) mod same_json;
pub(crate) mod schema;
pub(crate) mod shapes;

pub(crate) mod writer;

/// The example house, for tests that need a whole survey.
pub(crate) const EXAMPLE: &str = include_str!("../../examples/samphire-cottage.toml");

/// Compares two `Debug` texts: words must be equal, numbers equal within `tolerance`.
pub(crate) fn same_but_for_rounding(a: &str, b: &str, tolerance: f64) -> Result<(), String> {
    let words = |text: &str| -> Vec<String> {
        let parted = |c: char| !(c.is_alphanumeric() || matches!(c, '.' | '-' | '+' | '_'));
        text.split(parted).filter(|word| !word.is_empty()).map(str::to_owned).collect()
    };
    let (a, b) = (words(a), words(b));
    if a.len() != b.len() {
        return Err(format!("{} words against {}", a.len(), b.len()));
    }
    for (index, (one, other)) in a.iter().zip(&b).enumerate() {
        // `kurbo` writes a size as 820W×930H.
        let number = |word: &str| word.trim_end_matches(['W', 'H']).parse::<f64>();
        let near = match (number(one), number(other)) {
            (Ok(one), Ok(other)) => (one - other).abs() <= tolerance,
            _ => one == other,
        };
        if !near {
            let around = a[index.saturating_sub(4)..=index].join(" ");
            return Err(format!("{around}: {one} against {other}"));
        }
    }
    Ok(())
}
