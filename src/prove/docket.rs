//! Collects what is wrong, so that a program with a thousand faults is told in a few lines.

use super::proof::Fault;
use crate::finding::{Basis, Finding, Quantity, Verdict};
use std::collections::BTreeMap;
use std::fmt::Write;

/// Faults of one rule in one program that are told in full, beside the worst.
const TOLD: usize = 3;

/// Something wrong, before it is written out.
#[derive(Debug, Clone)]
pub(super) struct Charge<'a> {
    /// Stable rule id.
    pub rule: &'static str,
    /// Index and name of the program, where one is at fault.
    pub program: Option<(usize, &'a str)>,
    /// Line of the program.
    pub line: Option<usize>,
    /// X, Y, Z in the sash's frame.
    pub at: Option<[f64; 3]>,
    /// What was measured.
    pub measured: Quantity,
    /// What it was held against.
    pub limit: Quantity,
    /// How grave it is among its like; greater is worse.
    pub weight: f64,
    /// What a joiner can do.
    pub advice: String,
    /// What the limit rests on.
    pub basis: Basis,
}

#[derive(Debug, Clone)]
struct Group {
    told: Vec<Fault>,
    worst: Fault,
    weight: f64,
    count: usize,
}

/// Every fault so far, by program and rule.
#[derive(Debug, Clone, Default)]
pub(super) struct Docket {
    groups: BTreeMap<(usize, &'static str), Group>,
}

impl Docket {
    /// Whether nothing is wrong.
    pub(super) fn is_empty(&self) -> bool {
        self.groups.is_empty()
    }

    /// Adds a fault.
    pub(super) fn add(&mut self, charge: Charge) {
        let key = (charge.program.map_or(usize::MAX, |(index, _)| index), charge.rule);
        let weight = charge.weight;
        match self.groups.get_mut(&key) {
            None => {
                let fault = fault(charge);
                let group = Group { told: vec![fault.clone()], worst: fault, weight, count: 1 };
                self.groups.insert(key, group);
            }
            Some(group) => {
                group.count += 1;
                if group.told.len() >= TOLD && weight <= group.weight {
                    return;
                }
                let fault = fault(charge);
                if group.told.len() < TOLD {
                    group.told.push(fault.clone());
                }
                if weight > group.weight {
                    (group.worst, group.weight) = (fault, weight);
                }
            }
        }
    }

    /// The faults by program, rule and line; the worst of each kind bears their number.
    pub(super) fn faults(self) -> Vec<Fault> {
        let mut faults = Vec::new();
        for Group { mut told, worst, count, .. } in self.groups.into_values() {
            match told.iter_mut().find(|fault| **fault == worst) {
                Some(found) => found.count = count,
                None => told.push(Fault { count, ..worst }),
            }
            faults.extend(told);
        }
        faults
    }
}

fn fault(charge: Charge) -> Fault {
    let mut place =
        charge.program.map_or_else(|| "all programs".to_string(), |(_, name)| name.into());
    if let Some(line) = charge.line {
        // Writing to a string cannot fail.
        let _ = write!(place, " line {line}");
    }
    if let Some([x, y, _]) = charge.at {
        let _ = write!(place, ", X {} Y {}", tenths(x), tenths(y));
    }
    let finding = Finding {
        rule: charge.rule,
        place,
        measured: charge.measured,
        limit: charge.limit,
        verdict: Verdict::Stop,
        advice: charge.advice,
        basis: charge.basis,
    };
    let program = charge.program.map(|(_, name)| name.to_string());
    Fault { finding, program, line: charge.line, at: charge.at, count: 1 }
}

fn tenths(value: f64) -> String {
    let text = format!("{value:.1}");
    if text == "-0.0" { "0.0".into() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn charge(line: usize, weight: f64) -> Charge<'static> {
        Charge {
            rule: "prove.gouge",
            program: Some((0, "1-score.ngc")),
            line: Some(line),
            at: Some([12.0, -3.5, -0.01]),
            measured: Quantity::mm(weight),
            limit: Quantity::mm(0.05),
            weight,
            advice: String::new(),
            basis: Basis::Geometry,
        }
    }

    #[test]
    fn the_first_few_and_the_worst_are_told_with_their_number() {
        let mut docket = Docket::default();
        for line in 1..=100 {
            docket.add(charge(line, if line == 57 { 9.0 } else { 1.0 }));
        }
        let faults = docket.faults();
        let lines: Vec<_> = faults.iter().map(|fault| (fault.line, fault.count)).collect();
        assert_eq!(lines, [(Some(1), 1), (Some(2), 1), (Some(3), 1), (Some(57), 100)]);
        assert_eq!(faults[0].finding.place, "1-score.ngc line 1, X 12.0 Y -3.5");
    }
}
