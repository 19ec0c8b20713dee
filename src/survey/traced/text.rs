//! A text DXF as pairs of group code and value, and the entities that they make.

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
        self.value
            .parse()
            .ok()
            .filter(|number: &f64| number.is_finite())
            .ok_or_else(|| self.wrong())
    }

    /// The value as a whole number, as flags and units are.
    pub(super) fn whole(&self) -> Result<i64, TraceError> {
        self.value.parse().map_err(|_| self.wrong())
    }

    fn wrong(&self) -> TraceError {
        TraceError::at(self.line + 1, Fault::NotANumber(self.value.to_owned()))
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

/// An entity: its name, the pairs up to the next one, and of an old polyline the corners that follow it as
/// entities of their own.
#[derive(Debug)]
pub(super) struct Entity<'a, 'b> {
    pub(super) name: &'a str,
    pub(super) line: usize,
    pub(super) pairs: &'b [Pair<'a>],
    pub(super) corners: Vec<&'b [Pair<'a>]>,
}

impl<'a> Entity<'a, '_> {
    fn find(&self, code: i32) -> Option<&'a str> {
        self.pairs.iter().find(|pair| pair.code == code).map(|pair| pair.value)
    }

    pub(super) fn layer(&self) -> &'a str {
        self.find(8).unwrap_or("0")
    }

    /// Whether it belongs to a sheet of paper, not to what is drawn.
    pub(super) fn on_paper(&self) -> bool {
        self.find(67) == Some("1")
    }

    pub(super) fn fault(&self, fault: Fault) -> TraceError {
        TraceError::at(self.line, fault)
    }
}

/// The entities of the ENTITIES section.
pub(super) fn entities<'a, 'b>(pairs: &'b [Pair<'a>]) -> Vec<Entity<'a, 'b>> {
    let begins = pairs.iter().position(|pair| pair.code == 2 && pair.value == "ENTITIES");
    let inside = begins.and_then(|at| pairs.get(at + 1..)).unwrap_or_default();
    let ends = inside.iter().position(|pair| pair.code == 0 && pair.value == "ENDSEC");
    let inside = inside.get(..ends.unwrap_or(inside.len())).unwrap_or_default();
    let mut found: Vec<Entity> = Vec::new();
    for part in inside.chunk_by(|_, next| next.code != 0) {
        let Some((head, pairs)) = part.split_first().filter(|(head, _)| head.code == 0) else {
            continue;
        };
        match found.last_mut() {
            Some(last) if last.name == "POLYLINE" && head.value == "VERTEX" => {
                last.corners.push(pairs);
            }
            Some(last) if last.name == "POLYLINE" && head.value == "SEQEND" => {}
            _ => found.push(Entity { name: head.value, line: head.line, pairs, corners: vec![] }),
        }
    }
    found
}
