//! Collects what is wrong, so that a program with a thousand faults is reported in a few lines.

use crate::finding::{Basis, Finding, Quantity, Verdict};
use crate::language::{Text, text};
use serde::Serialize;
use std::collections::BTreeMap;

/// Faults of one rule in one program that are reported in full, beside the worst.
const REPORTED: usize = 3;

/// A finding with its place as data.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Fault {
    /// The finding.
    #[serde(flatten)]
    pub finding: Finding,
    /// Name of the program at fault, where one is.
    pub program: Option<String>,
    /// Its line, from 1.
    pub line: Option<usize>,
    /// X, Y and Z in the sash's frame, mm.
    pub at: Option<[f64; 3]>,
    /// How many faults of this rule this program has; stands with the worst of them, else 1.
    pub count: usize,
}

/// Something wrong, before it is written out.
#[derive(Debug, Clone)]
pub(super) struct NewFault<'a> {
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
    pub advice: Text,
    /// What the limit rests on.
    pub basis: Basis,
    /// [`Verdict::Stop`], or [`Verdict::Caution`] for what wants care alone.
    pub verdict: Verdict,
    /// Kind within the rule: what is of another kind is told for itself.
    pub kind: usize,
    /// How many it stands for.
    pub count: usize,
}

impl<'a> NewFault<'a> {
    /// A fault of no program in particular, against a setting, that is as grave as it exceeds the limit.
    pub(super) fn new(
        rule: &'static str,
        measured: Quantity,
        limit: Quantity,
        advice: Text,
    ) -> NewFault<'a> {
        let weight = (measured.value - limit.value).abs();
        NewFault {
            rule,
            program: None,
            line: None,
            at: None,
            measured,
            limit,
            weight,
            advice,
            basis: Basis::Setting,
            verdict: Verdict::Stop,
            kind: 0,
            count: 1,
        }
    }
}

#[derive(Debug, Clone)]
struct Group {
    reported: Vec<Fault>,
    worst: Fault,
    weight: f64,
    count: usize,
}

/// Every fault so far, by program and rule.
#[derive(Debug, Clone, Default)]
pub(super) struct Faults {
    groups: BTreeMap<(usize, &'static str, usize), Group>,
}

impl Faults {
    /// Whether nothing is wrong; what wants care alone is not.
    pub(super) fn is_empty(&self) -> bool {
        self.groups.values().all(|group| group.worst.finding.verdict != Verdict::Stop)
    }

    /// Whether any fault of that rule was added.
    pub(super) fn has(&self, rule: &str) -> bool {
        self.groups.keys().any(|(_, of, _)| *of == rule)
    }

    /// Adds words to what is advised about faults of that rule and kind, if there are any.
    pub(super) fn add_words(&mut self, rule: &str, kind: usize, words: impl FnOnce() -> Text) {
        let mut of_it = self
            .groups
            .iter_mut()
            .filter(|((_, own, of), _)| *own == rule && *of == kind)
            .peekable();
        if of_it.peek().is_none() {
            return;
        }
        let words = words();
        for (_, group) in of_it {
            for fault in group.reported.iter_mut().chain([&mut group.worst]) {
                let advice = &mut fault.finding.advice;
                *advice = advice.clone().and(words.clone());
            }
        }
    }

    /// Adds a fault.
    pub(super) fn add(&mut self, fault: NewFault) {
        let program = fault.program.map_or(usize::MAX, |(index, _)| index);
        let key = (program, fault.rule, fault.kind);
        let (weight, count) = (fault.weight, fault.count);
        match self.groups.get_mut(&key) {
            None => {
                let fault = written(fault);
                let group = Group { reported: vec![fault.clone()], worst: fault, weight, count };
                self.groups.insert(key, group);
            }
            Some(group) => {
                group.count += count;
                if group.reported.len() >= REPORTED && weight <= group.weight {
                    return;
                }
                let fault = written(fault);
                if group.reported.len() < REPORTED {
                    group.reported.push(fault.clone());
                }
                if weight > group.weight {
                    (group.worst, group.weight) = (fault, weight);
                }
            }
        }
    }

    /// The faults by program, rule and line, and then what wants care alone; the worst of each kind bears their
    /// number.
    pub(super) fn faults(self) -> (Vec<Fault>, Vec<Fault>) {
        let mut faults = Vec::new();
        for Group { mut reported, worst, count, .. } in self.groups.into_values() {
            match reported.iter_mut().find(|fault| **fault == worst) {
                Some(found) => found.count = count,
                None => reported.push(Fault { count, ..worst }),
            }
            faults.extend(reported);
        }
        faults.into_iter().partition(|fault: &Fault| fault.finding.verdict == Verdict::Stop)
    }
}

impl Fault {
    /// The same in another line.
    pub(super) fn in_line(&mut self, line: usize) {
        self.line = Some(line);
        self.finding.place = place(self.program.as_deref(), self.line, self.at);
    }
}

/// `1-score.ngc line 5, X 12.0 Y -3.5`; a program's name is whatever its file is called.
fn place(program: Option<&str>, line: Option<usize>, at: Option<[f64; 3]>) -> Text {
    let mut place = program.map_or_else(|| text!("prove-all-programs"), Text::given);
    if let Some(line) = line {
        place = text!("prove-line", place, line = line.to_string());
    }
    match at {
        Some([x, y, _]) => text!("prove-at", place, x = tenths(x), y = tenths(y)),
        None => place,
    }
}

fn written(fault: NewFault) -> Fault {
    let finding = Finding {
        rule: fault.rule,
        place: place(fault.program.map(|(_, name)| name), fault.line, fault.at),
        measured: fault.measured,
        limit: fault.limit,
        verdict: fault.verdict,
        advice: fault.advice,
        basis: fault.basis,
    };
    let program = fault.program.map(|(_, name)| name.to_string());
    Fault { finding, program, line: fault.line, at: fault.at, count: 1 }
}

fn tenths(value: f64) -> String {
    let text = format!("{value:.1}");
    if text == "-0.0" { "0.0".into() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(line: usize, weight: f64) -> NewFault<'static> {
        NewFault {
            rule: "prove.gouge",
            program: Some((0, "1-score.ngc")),
            line: Some(line),
            at: Some([12.0, -3.5, -0.01]),
            measured: Quantity::mm(weight),
            limit: Quantity::mm(0.05),
            weight,
            advice: Text::given(""),
            basis: Basis::Geometry,
            verdict: Verdict::Stop,
            kind: 0,
            count: 1,
        }
    }

    #[test]
    fn the_first_few_and_the_worst_are_reported_with_their_number() {
        let mut faults = Faults::default();
        for line in 1..=100 {
            faults.add(fault(line, if line == 57 { 9.0 } else { 1.0 }));
        }
        let (faults, _) = faults.faults();
        let lines: Vec<_> = faults.iter().map(|fault| (fault.line, fault.count)).collect();
        assert_eq!(lines, [(Some(1), 1), (Some(2), 1), (Some(3), 1), (Some(57), 100)]);
        assert_eq!(faults[0].finding.place.to_string(), "1-score.ngc line 1, X 12.0 Y -3.5");
    }
}
