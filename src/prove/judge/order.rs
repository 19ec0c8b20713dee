//! Whether programs that meet too much wood would be right in another order.

use crate::finding::{Basis, Finding, Verdict};
use crate::language::{Text, text};
use crate::prove::fault::Fault;
use crate::prove::proof::Proof;
use crate::prove::tolerance::MOST_ORDERS;

/// Rules broken where wood stands that another program should have taken before.
const TOO_MUCH_WOOD: [&str; 7] = [
    "prove.step",
    "prove.plunge",
    "prove.rapid-in-wood",
    "prove.bite",
    "prove.load",
    "prove.chip",
    "prove.reach",
];

/// Looks for an order in which no program meets too much wood: one after the other, the first that
/// does is moved behind a later one. Where there is such an order, the programs at fault say
/// what they wait for in place of every cut that was too much.
pub(super) fn explain(proof: Proof, names: &[&str], judged: impl Fn(&[usize]) -> Proof) -> Proof {
    let twice =
        (1..names.len()).any(|i| names.iter().take(i).any(|name| names.get(i) == Some(name)));
    if twice || !proof.swept || met_too_much(&proof, names).is_empty() {
        return proof;
    }
    let given: Vec<usize> = (0..names.len()).collect();
    match better(&given, &proof, names, judged) {
        Some(order) => with_order_faults(proof, names, &order),
        None => proof,
    }
}

/// Indices of the programs that met too much wood.
fn met_too_much(proof: &Proof, names: &[&str]) -> Vec<usize> {
    if !proof.swept {
        // Nothing is known of it: no better order.
        return (0..names.len()).collect();
    }
    let met = |name: &str| {
        let of = |fault: &&Fault| fault.program.as_deref() == Some(name);
        proof.faults.iter().filter(of).any(|fault| TOO_MUCH_WOOD.contains(&fault.finding.rule))
    };
    (0..names.len()).filter(|&index| names.get(index).is_some_and(|name| met(name))).collect()
}

fn better(
    given: &[usize],
    proof: &Proof,
    names: &[&str],
    judged: impl Fn(&[usize]) -> Proof,
) -> Option<Vec<usize>> {
    let mut order = given.to_vec();
    let mut at_fault = met_too_much(proof, names);
    let mut tried = 0;
    while !at_fault.is_empty() {
        let place = order.iter().position(|index| at_fault.contains(index))?;
        let first = *order.get(place)?;
        let before = at_fault.len();
        for later in place + 1..order.len() {
            if tried == MOST_ORDERS {
                return None;
            }
            tried += 1;
            let mut other = order.clone();
            other.remove(place);
            other.insert(later, first);
            let found = met_too_much(&judged(&other), names);
            if !found.contains(&first) && found.len() < before {
                (order, at_fault) = (other, found);
                break;
            }
        }
        if at_fault.len() == before {
            return None;
        }
    }
    Some(order)
}

/// One fault a program that comes too early, in place of all it met.
fn with_order_faults(mut proof: Proof, names: &[&str], order: &[usize]) -> Proof {
    let place = |index: usize| order.iter().position(|&other| other == index);
    let name = |index: usize| names.get(index).copied().unwrap_or_default();
    for index in met_too_much(&proof, names) {
        let waits = (index + 1..names.len()).filter(|&later| place(later) < place(index));
        let waits: Vec<&str> = waits.map(name).collect();
        let of_it = |fault: &Fault| {
            fault.program.as_deref() == Some(name(index))
                && TOO_MUCH_WOOD.contains(&fault.finding.rule)
        };
        let excess = |fault: &Fault| fault.finding.measured.value - fault.finding.limit.value;
        let met: Vec<&Fault> = proof.faults.iter().filter(|fault| of_it(fault)).collect();
        let count = met.iter().map(|fault| fault.count).sum();
        // Rules measure in different units, and one of them in two, a height and an area: the worst of
        // the first one that is broken, a height where there is one.
        let first = TOO_MUCH_WOOD
            .into_iter()
            .find(|rule| met.iter().any(|fault| fault.finding.rule == *rule));
        let of_first = |fault: &&Fault| Some(fault.finding.rule) == first;
        let high = |fault: &&Fault| fault.finding.measured.unit == "mm";
        let some_high = met.iter().copied().filter(of_first).any(|fault| high(&fault));
        let like = met.into_iter().filter(of_first).filter(|fault| !some_high || high(fault));
        let worst = like.max_by(|a, b| excess(a).total_cmp(&excess(b))).cloned();
        let (Some(worst), false) = (worst, waits.is_empty()) else { continue };
        let at = proof.faults.iter().position(of_it).unwrap_or_default();
        proof.faults.retain(|fault| !of_it(fault));
        let advice = text!("prove-order", programs = programs(&waits));
        let finding = Finding {
            rule: "prove.order",
            verdict: Verdict::Stop,
            advice,
            basis: Basis::Geometry,
            ..worst.finding
        };
        proof.faults.insert(at, Fault { finding, count, ..worst });
    }
    proof
}

/// Programs in a row: `this and that`.
fn programs(names: &[&str]) -> Text {
    let mut names = names.iter().map(|name| Text::given(*name));
    let first = names.next().unwrap_or(Text::given(""));
    names.fold(first, |one, other| text!("list-and", one, other))
}
