//! A text DXF as its pairs of group code and value, each with the line it stands on.

use super::{Fault, TraceError};

/// A group code and its value (DXF reference: two lines each).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pair<'a> {
    pub(super) code: i32,
    pub(super) value: &'a str,
    /// Line of the code, from 1.
    pub(super) line: usize,
}

impl Pair<'_> {
    /// The value as a finite number.
    pub(super) fn number(&self) -> Result<f64, TraceError> {
        match self.value.parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(number),
            _ => Err(TraceError::at(self.line + 1, Fault::NotANumber(self.value.to_owned()))),
        }
    }

    /// The value as a whole number, as flags and counts are.
    pub(super) fn whole(&self) -> Result<i64, TraceError> {
        self.value
            .parse()
            .map_err(|_| TraceError::at(self.line + 1, Fault::NotANumber(self.value.to_owned())))
    }
}

/// Every pair of the file.
pub(super) fn pairs(text: &str) -> Result<Vec<Pair<'_>>, TraceError> {
    let mut found = Vec::new();
    let mut lines = text.lines().enumerate();
    while let Some((index, code)) = lines.next() {
        let line = index + 1;
        // A blank line at the very end is no pair.
        let Some((_, value)) = lines.next() else {
            if code.trim().is_empty() {
                break;
            }
            return Err(TraceError::at(line, Fault::NotDxf(code.trim().to_owned())));
        };
        let code = code.trim().trim_start_matches('\u{feff}');
        let code =
            code.parse().map_err(|_| TraceError::at(line, Fault::NotDxf(code.to_owned())))?;
        found.push(Pair { code, value: value.trim(), line });
    }
    Ok(found)
}
