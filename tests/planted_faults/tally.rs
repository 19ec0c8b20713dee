//! Counts by operator, and every disagreement in words.

use crate::planted_faults::job::Job;
use crate::planted_faults::referee::Verdict;
use crate::planted_faults::sites::Site;
use fillister::prove::Proof;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::time::Duration;

#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Count {
    caught: usize,
    harmful: usize,
    passed: usize,
    harmless: usize,
    close: usize,
}

#[derive(Debug, Default)]
pub(crate) struct Tally {
    counts: BTreeMap<&'static str, Count>,
    /// Rules that any mutant fell under.
    pub(crate) rules: BTreeSet<&'static str>,
    /// Time that the referee and the prover took.
    pub(crate) took: [Duration; 2],
    wrong: Vec<String>,
    doubts: Vec<String>,
}

/// At most this share of the mutants may be too close to call.
const CLOSE: f64 = 0.05;

impl Tally {
    pub(crate) fn add(
        &mut self,
        name: &'static str,
        site: &Site,
        job: &Job,
        verdict: &Verdict,
        proof: &Proof,
    ) {
        self.rules.extend(proof.findings().map(|finding| finding.rule));
        let count = self.counts.entry(name).or_default();
        let proven = proof.is_proven();
        let (right, why) = match verdict {
            Verdict::Harmful(why) => {
                count.harmful += 1;
                count.caught += usize::from(!proven);
                (!proven, why.as_str())
            }
            Verdict::Harmless => {
                count.harmless += 1;
                count.passed += usize::from(proven);
                (proven, "harmless")
            }
            Verdict::Close(why) => {
                count.close += 1;
                let difference = difference(site, job);
                self.doubts.push(format!("{name}, {}: {why}\n{difference}", site.name));
                return;
            }
        };
        if !right {
            let told = proof
                .findings()
                .take(3)
                .map(|f| format!("{} {}: {}", f.rule, f.place, f.advised()));
            let told: Vec<String> = told.collect();
            let told = if told.is_empty() { "proven".into() } else { told.join("; ") };
            let difference = difference(site, job);
            self.wrong.push(format!("{name}, {}: {why}, but {told}\n{difference}", site.name));
        }
    }

    /// Fails on the first disagreement, on too many doubts, on an operator that never found a place.
    pub(crate) fn check(&self, names: &[&str]) {
        for name in names {
            assert!(self.counts.contains_key(name), "{name} was never planted");
        }
        assert!(self.wrong.is_empty(), "{}", self.wrong.join("\n"));
        let all: usize = self.counts.values().map(|c| c.harmful + c.harmless + c.close).sum();
        let close = self.doubts.len() as f64 / all as f64;
        assert!(close <= CLOSE, "{close} are too close to call: {}", self.doubts.join("\n"));
    }
}

/// The first lines that differ, program by program.
fn difference(site: &Site, job: &Job) -> String {
    let mut told = Vec::new();
    if site.planned.setup != job.setup {
        told.push(format!("  {:?}", job.setup));
    }
    for (before, after) in site.planned.texts.iter().zip(&job.texts) {
        let (before, after, name) = (before.whole(), after.whole(), &after.name);
        let lines = before.lines().zip(after.lines()).enumerate();
        let apart: Vec<_> = lines.filter(|(_, (a, b))| a != b).take(2).collect();
        for (index, (a, b)) in apart {
            told.push(format!("  {name} line {}: {a:?} is {b:?}", index + 1));
        }
    }
    told.truncate(6);
    told.join("\n")
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "{:34} {:>15} {:>15} {:>6}",
            "operator", "harmful caught", "harmless passed", "close"
        )?;
        let mut all = Count::default();
        for (name, count) in &self.counts {
            row(f, name, count)?;
            all.caught += count.caught;
            all.harmful += count.harmful;
            all.passed += count.passed;
            all.harmless += count.harmless;
            all.close += count.close;
        }
        row(f, "all", &all)
    }
}

fn row(f: &mut fmt::Formatter<'_>, name: &str, count: &Count) -> fmt::Result {
    let caught = format!("{}/{}", count.caught, count.harmful);
    let passed = format!("{}/{}", count.passed, count.harmless);
    writeln!(f, "{name:34} {caught:>15} {passed:>15} {:>6}", count.close)
}
