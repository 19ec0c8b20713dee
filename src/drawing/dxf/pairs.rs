//! Group-code pairs, and the records that they make up.

use super::DxfError;
use crate::number::number;

/// A group code with its value as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pair {
    pub(super) code: u16,
    pub(super) value: String,
}

/// What begins with a pair of code 0: its name and the pairs up to the next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Record {
    pub(super) name: String,
    pub(super) pairs: Vec<Pair>,
}

impl Record {
    pub(super) fn new(name: &str) -> Record {
        Record { name: name.into(), pairs: Vec::new() }
    }

    /// Adds a pair.
    pub(super) fn with(mut self, code: u16, value: impl Into<String>) -> Record {
        self.pairs.push(Pair { code, value: value.into() });
        self
    }

    /// Adds a pair that holds a whole number.
    pub(super) fn whole(self, code: u16, value: i16) -> Record {
        self.with(code, value.to_string())
    }

    /// Adds a pair that counts something.
    pub(super) fn count(self, code: u16, value: usize) -> Record {
        self.with(code, value.to_string())
    }

    /// Adds a pair that holds a real number.
    pub(super) fn real(self, code: u16, value: f64) -> Record {
        let text = number(value, 10);
        // A decimal point tells careful readers that the value is real.
        self.with(code, if text.contains('.') { text } else { text + ".0" })
    }

    /// Adds X, Y and Z = 0 under `code`, `code` + 10 and `code` + 20.
    pub(super) fn point(self, code: u16, at: kurbo::Point) -> Record {
        self.real(code, at.x).real(code + 10, at.y).real(code + 20, 0.0)
    }

    /// Adds X and Y under `code` and `code` + 10.
    pub(super) fn flat(self, code: u16, x: f64, y: f64) -> Record {
        self.real(code, x).real(code + 10, y)
    }
}

/// Reads a whole file into its records.
pub(super) fn from_text(text: &str) -> Result<Vec<Record>, DxfError> {
    let broken = |what: &str| DxfError::Crate(format!("unreadable {what}"));
    let mut records: Vec<Record> = Vec::new();
    let mut lines = text.lines();
    while let Some(code) = lines.next() {
        let code: u16 = code.trim().parse().map_err(|_| broken("group code"))?;
        let value = lines.next().ok_or_else(|| broken("end"))?;
        if code == 0 {
            records.push(Record::new(value.trim()));
        } else {
            let record = records.last_mut().ok_or_else(|| broken("beginning"))?;
            let value = if is_text(code) { value } else { value.trim() };
            record.pairs.push(Pair { code, value: value.into() });
        }
    }
    Ok(records)
}

/// Whether blanks count in the values of this group code.
fn is_text(code: u16) -> bool {
    code < 10
}

/// Writes records as a whole file.
pub(super) fn to_text(records: &[Record]) -> String {
    let mut out = String::new();
    let mut pair = |code: u16, value: &str| {
        for part in [&*format!("{code:>3}"), "\r\n", value, "\r\n"] {
            out.push_str(part);
        }
    };
    for record in records {
        // Comments stand before the first record and have no name.
        if !record.name.is_empty() {
            pair(0, &record.name);
        }
        for part in &record.pairs {
            pair(part.code, &part.value);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_it_writes() {
        let records = vec![
            Record::new("TEXT").with(8, "old rebate").with(1, " blanks count ").real(40, 2.5),
            Record::new("EOF"),
        ];
        assert_eq!(from_text(&to_text(&records)), Ok(records));
    }

    #[test]
    fn half_a_pair_is_an_error() {
        assert!(from_text("  0\r\nLINE\r\n  8").is_err());
        assert!(from_text("x\r\nLINE").is_err());
        assert!(from_text("  8\r\n0").is_err());
    }
}
