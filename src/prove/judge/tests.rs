//! What a proof costs, and what it refuses.

use super::*;
use crate::prove::tests::fixture::{frame, programs, setup};
use crate::prove::{Program, prove};
use std::fmt::Write;

const HEAD: &str = "G21 G90 G17 G94\nG0 Z8\nS18000 M3\nG0 X30 Y40\nF1000\n";

fn effort(proof: &Proof) -> Vec<Option<usize>> {
    let of = |fault: &&crate::prove::Fault| fault.finding.rule == "prove.effort";
    proof.faults.iter().filter(of).map(|fault| fault.line).collect()
}

fn steps(text: &str) -> u64 {
    let read = crate::prove::reader::read(text);
    assert_eq!(read.refusals, []);
    let (rebate, setup) = (frame(100.0, 80.0), setup());
    let (proof, steps) = sweep(
        &[Run { program: Program::new("n", text), read: &read, setup: &setup }],
        &rebate,
        &setup,
        0,
    );
    assert!(proof.swept);
    steps
}

/// Counts work, not time: rows and stretches that were looked at. Twice the moves are twice the work,
/// whether they lie side by side, over one another, or all over the sash.
#[test]
fn work_is_linear_in_the_length_of_a_program() {
    let lap = |text: &mut String, i: u32| {
        let out = 4.0 + f64::from(i % 7) * 0.6;
        let (x1, y1) = (100.0 + out, 80.0 + out);
        writeln!(text, "G1 X-{out} Y-{out} Z-{}\nX{x1}\nY{y1}\nX-{out}\nY40", f64::from(i) * 0.1)
            .unwrap();
    };
    let dot = |text: &mut String, i: u32| {
        let (x, y) = (f64::from(i * 37 % 101), f64::from(i * 53 % 79));
        writeln!(text, "G0 Z8\nX{x} Y{y}\nG1 Z-{}", f64::from(i % 13) + 1.0).unwrap();
    };
    let slope = |text: &mut String, i: u32| {
        let (x, z) = (f64::from(i * 37 % 101), f64::from(i * 29 % 27));
        writeln!(text, "G1 X{x} Y{} Z-{z}", if i.is_multiple_of(2) { -4 } else { 84 }).unwrap();
    };
    let lots: [fn(&mut String, u32); 3] = [lap, dot, slope];
    for (index, add) in lots.into_iter().enumerate() {
        let of = |count: u32| {
            let mut text = HEAD.to_string();
            (0..count).for_each(|i| add(&mut text, i));
            steps(&(text + "G0 Z8\nM5\nM2\n"))
        };
        // The first moves also part the wood into rows, and cut it up.
        let (few, more, most) = (of(100), of(200), of(400));
        let (first, second) = (more - few, most - more);
        assert!(second <= first * 5 / 2, "{index}: {few} {more} {most}");
    }
}

#[test]
fn a_program_that_takes_too_much_is_refused_with_its_line() {
    let texts = programs(100.0, 80.0);
    let all: Vec<Program> = texts.iter().map(|(name, text)| Program::new(name, text)).collect();
    let read: Vec<Read> =
        all.iter().map(|program| crate::prove::reader::read(program.text)).collect();
    let (rebate, setup) = (frame(100.0, 80.0), setup());
    let runs = all.iter().zip(&read).map(|(&program, read)| Run { program, read, setup: &setup });
    let runs: Vec<Run> = runs.collect();
    let (proof, whole) = sweep(&runs, &rebate, &setup, 0);
    assert!(proof.is_proven());
    // So much was spent before that the last tenth has no room.
    let (proof, _) =
        sweep(&runs, &rebate, &setup, crate::prove::tolerance::MOST_STEPS - whole * 9 / 10);
    assert!(!proof.swept && !proof.is_proven());
    let fault = &proof.faults[0];
    assert_eq!((fault.finding.rule, fault.program.as_deref()), ("prove.effort", Some(all[2].name)));
    assert!(fault.line.is_some_and(|line| line > 10));
    assert!(fault.finding.measured.value >= fault.finding.limit.value);
}

#[test]
fn wood_too_large_for_its_tolerance_and_programs_too_long_are_refused() {
    let huge = frame(1e6, 1e6);
    let slant = HEAD.to_string() + "G1 X1 Y1 Z-1\nX900000 Y900000\nG0 Z8\nM5\nM2\n";
    let proof = prove(&[Program::new("n", &slant)], &huge, &setup());
    assert_eq!(effort(&proof), [None]);
    assert!(!proof.swept);
    let long = "(so it goes on)\n".repeat(300_000);
    let proof = prove(&[Program::new("n", &long)], &frame(100.0, 80.0), &setup());
    assert_eq!(effort(&proof), [None]);
    let words = "#\n".repeat(50_000);
    let proof = prove(&[Program::new("n", &words)], &frame(100.0, 80.0), &setup());
    let counts: Vec<usize> = proof.faults.iter().map(|fault| fault.count).collect();
    assert_eq!(counts, [10_000]);
}
