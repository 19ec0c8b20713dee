//! What the survey says of a sash that was drawn and not read: a test of what it would refuse shows nothing.

use super::writer::{Lengths, write};
use fillister::survey::{self, House};

/// What the survey refuses of the sashes of `house`, were it written down; settings of the workshop may be wider
/// open than anyone may write them.
pub(crate) fn refusals(house: &House) -> Vec<String> {
    let read = survey::read(&write(house, Lengths::Millimetres), "drawn.toml");
    let mistakes = read.err().into_iter().flat_map(|all| all.iter().cloned().collect::<Vec<_>>());
    let of_sashes = mistakes.filter(|mistake| mistake.key.starts_with("sash["));
    of_sashes.map(|mistake| format!("{}: {}", mistake.key, mistake.expected)).collect()
}
