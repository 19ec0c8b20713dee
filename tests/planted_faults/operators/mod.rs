//! The faults: a table of operators, each a function of the job and a seed.

mod arcs;
mod bench;
mod depth;
mod harmless;
mod lines;
mod machine;
mod place;
mod refused;
pub(crate) mod rewritten;
mod running;
mod side;
mod whole;

use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, Text};

/// What an operator says of its fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Planted {
    /// It may do harm or not: the referee must judge.
    Unknown,
    /// Harm by definition: words or settings that nobody may run.
    Harm,
    /// None by definition: the same moves in other words, or slower.
    NoHarm,
}

/// Plants a fault; `None` where this job has no place for it.
pub(crate) type Plant = fn(&mut Job, &mut Chance) -> Option<Planted>;

/// Every operator by name.
pub(crate) fn all() -> Vec<(&'static str, Plant)> {
    let tables: [&[(&'static str, Plant)]; 12] = [
        depth::TABLE,
        place::TABLE,
        arcs::TABLE,
        lines::TABLE,
        running::TABLE,
        whole::TABLE,
        refused::TABLE,
        rewritten::TABLE,
        bench::TABLE,
        machine::TABLE,
        side::TABLE,
        harmless::TABLE,
    ];
    tables.concat()
}

/// One of the programs.
fn any<'j>(job: &'j mut Job, chance: &mut Chance) -> &'j mut Text {
    let count = job.texts.len();
    &mut job.texts[chance.below(count)]
}

/// One of the programs that cut.
fn cutting<'j>(job: &'j mut Job, chance: &mut Chance) -> Option<&'j mut Text> {
    let cut: Vec<usize> = (0..job.texts.len()).filter(|&i| job.texts[i].cuts()).collect();
    Some(&mut job.texts[chance.any(&cut)?])
}

/// A line of the text for which `wanted` holds.
fn line<'t>(
    text: &'t mut Text,
    chance: &mut Chance,
    wanted: impl Fn(&str) -> bool,
) -> Option<&'t mut String> {
    let found = text.find(wanted);
    Some(&mut text.lines[chance.any(&found)?])
}
