//! A judgement, as every room speaks it: which rule, where, how much against how much, and what a
//! joiner can do about it.

use serde::Serialize;
use std::fmt;

/// How a finding bears on the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// The rule is met.
    Clear,
    /// The work can go on, with care.
    Caution,
    /// No machine program and no template for this sash.
    Stop,
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Verdict::Clear => "clear",
            Verdict::Caution => "caution",
            Verdict::Stop => "stop",
        })
    }
}

/// What a limit rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "kind", content = "source")]
pub enum Basis {
    /// A published source, by name.
    Published(&'static str),
    /// A fact of the trade without a source.
    CommonPractice,
    /// The user's own setting in the survey.
    Setting,
    /// Follows from geometry alone: two solids cannot share a place.
    Geometry,
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Basis::Published(source) => f.write_str(source),
            Basis::CommonPractice => f.write_str("common practice, no source"),
            Basis::Setting => f.write_str("set in the survey"),
            Basis::Geometry => f.write_str("geometry"),
        }
    }
}

/// A number with its unit, as it is shown.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Quantity {
    /// The number, always finite.
    pub value: f64,
    /// Unit symbol: `mm`, `%`, `mm⁴`, `mm/min`, …; empty for a bare count.
    pub unit: &'static str,
}

impl Quantity {
    /// A length in millimetres.
    pub fn mm(value: f64) -> Self {
        Self { value, unit: "mm" }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Tenths of a millimetre are what a joiner can read off a rule.
        let text = format!("{:.1}", self.value);
        let text = if text == "-0.0" { "0.0" } else { &text };
        if self.unit.is_empty() { f.write_str(text) } else { write!(f, "{text} {}", self.unit) }
    }
}

/// One judgement.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// Stable id, `room.matter`: `timber.front`, `fit.spacer-shows`, `metal.in-path`.
    pub rule: &'static str,
    /// Where: member, light, pass, or program line, in words.
    pub place: String,
    /// What was measured.
    pub measured: Quantity,
    /// What it was held against.
    pub limit: Quantity,
    /// The outcome.
    pub verdict: Verdict,
    /// One sentence of advice that a joiner can act on.
    pub advice: String,
    /// What the limit rests on.
    pub basis: Basis,
}

/// The gravest verdict among findings; [`Verdict::Clear`] for none.
pub fn gravest<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> Verdict {
    findings.into_iter().map(|finding| finding.verdict).max().unwrap_or(Verdict::Clear)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gravest_of_none_is_clear_and_stop_outweighs_caution() {
        let with = |verdict| Finding {
            rule: "timber.front",
            place: "left stile".into(),
            measured: Quantity::mm(4.0),
            limit: Quantity::mm(5.0),
            verdict,
            advice: String::new(),
            basis: Basis::CommonPractice,
        };
        assert_eq!(gravest([]), Verdict::Clear);
        let all = [with(Verdict::Caution), with(Verdict::Stop), with(Verdict::Clear)];
        assert_eq!(gravest(&all), Verdict::Stop);
    }

    #[test]
    fn a_quantity_never_shows_minus_zero() {
        assert_eq!(Quantity::mm(-0.04).to_string(), "0.0 mm");
    }
}
