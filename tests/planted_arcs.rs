//! Faults planted in the arcs of a round sash, and a referee in closed form.
//!
//! Round a circle all wood is told by its distance from the centre: within the wall it must go down to the
//! platform, beyond it none may. So the referee needs no wood of the prover's: radius and depth follow from
//! the survey. Every fault that it finds harmful must be caught, and of what the prover finds cut too far or left
//! standing the referee must not say the contrary. Moves that cut the right wood but break another rule are
//! left to the prover alone. A usual run plants every seventh, one with `FILLISTER_CASES` set all of them.

#![allow(clippy::unnecessary_wraps, reason = "every operator has one type")]

use fillister::job::{Work, setup};
use fillister::prove::{Program, prove};
use fillister::survey;
use std::f64::consts::TAU;

const SURVEY: &str = r#"
house = "Bench End"

[workshop]
cutter = { diameter = 6, flutes = 2, cutting_length = 25 }

[workshop.cutting]
step_depth = 5.5
widen_step = 5.5
side_step  = 0.9

[[sash]]
id        = "round"
kind      = "fixed"
thickness = 40
sight     = { diameter = 80 }
stiles    = { width = 34 }
rails     = { width = 34 }
rebate    = { width = 6, depth = 11 }
finish    = { bed = 1, bead = 5 }
clearance = { left = 2, right = 2, top = 2, bottom = 2 }
blocks    = { height = 2 }
unit      = { build_up = "3-4-3", cover = 8, spacer_height = 6, over = 1 }
"#;

/// Of the sight and of the wall: cover 8 and clearance 2 beyond it.
const SIGHT: f64 = 40.0;
const WALL: f64 = SIGHT + 10.0;
/// Bed 1, unit 10 and 1 thicker, bead 5.
const PLATFORM: f64 = -17.0;
const CUTTER: f64 = 3.0;
/// How exactly the cut must match, the usual one; and what samples may miss of it.
const TOLERANCE: f64 = 0.05;
const BAND: f64 = 0.03;

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Opinion {
    Harmless,
    Close,
    Harmful,
}

fn word(line: &str, letter: char) -> Option<f64> {
    let words = || line.split_whitespace().filter(|_| !line.starts_with('('));
    words().find_map(|word| word.strip_prefix(letter)?.parse().ok())
}

/// The line with that word exchanged, or added.
fn with(line: &str, letter: char, value: &str) -> String {
    let mut words: Vec<&str> = line.split_whitespace().collect();
    words.retain(|word| !word.starts_with(letter));
    let at = usize::from(letter != 'G' && words.first().is_some_and(|word| word.starts_with('G')));
    words.insert(at, value);
    words.join(" ")
}

fn number(line: &str, letter: char, value: f64) -> String {
    with(line, letter, &format!("{letter}{value:.4}"))
}

/// Lowest cut at places round the ring, and what is harmful on the way.
struct Ring {
    radii: [f64; 4],
    lowest: Vec<[f64; 4]>,
    opinion: Opinion,
}

const PLACES: usize = 720;

impl Ring {
    fn at_most(&mut self, value: f64, limit: f64) {
        let opinion = match value - limit {
            over if over > BAND => Opinion::Harmful,
            over if over > -BAND => Opinion::Close,
            _ => Opinion::Harmless,
        };
        self.opinion = self.opinion.max(opinion);
    }

    /// The cutter at a place, from the sight's centre.
    fn cut(&mut self, x: f64, y: f64, z: f64) {
        let away = x.hypot(y);
        if z >= 0.0 || away + CUTTER < SIGHT {
            return;
        }
        self.at_most(away + CUTTER, WALL + TOLERANCE);
        self.at_most(PLATFORM - TOLERANCE, z);
        let middle = y.atan2(x).rem_euclid(TAU) / TAU * PLACES as f64;
        for offset in -15_i32..=15 {
            let place = (middle.round() + f64::from(offset)).rem_euclid(PLACES as f64);
            let turn = place / PLACES as f64 * TAU;
            let lowest = &mut self.lowest[place as usize % PLACES];
            for (radius, lowest) in self.radii.iter().zip(lowest) {
                if (radius * turn.cos() - x).hypot(radius * turn.sin() - y) <= CUTTER {
                    *lowest = lowest.min(z);
                }
            }
        }
    }
}

/// What the referee says of the programs.
fn referee(texts: &[(String, Vec<String>)]) -> Opinion {
    let radii = [SIGHT + 0.1, SIGHT + 4.0, WALL - 2.0, WALL - TOLERANCE - BAND];
    let lowest = vec![[0.0; 4]; PLACES];
    let mut ring = Ring { radii, lowest, opinion: Opinion::Harmless };
    for (_, lines) in texts.iter().filter(|(name, _)| !name.contains("air-run")) {
        let (mut mode, mut at) = (0.0, [0.0, 0.0, 8.0]);
        for line in lines.iter().filter(|line| !line.starts_with('(')) {
            mode = word(line, 'G').filter(|g| *g <= 3.0).unwrap_or(mode);
            let axes = ['X', 'Y', 'Z'].map(|axis| word(line, axis));
            if axes.iter().all(Option::is_none) {
                continue;
            }
            let to = [0, 1, 2].map(|axis| axes[axis].unwrap_or(at[axis]));
            let (i, j) = (word(line, 'I').unwrap_or(0.0), word(line, 'J').unwrap_or(0.0));
            let centre = [at[0] + i, at[1] + j];
            let [from, end] = [at, to].map(|p| (p[0] - centre[0]).hypot(p[1] - centre[1]));
            let turn = |p: [f64; 3]| (p[1] - centre[1]).atan2(p[0] - centre[0]);
            let sweep = match mode {
                // Clockwise and anticlockwise, a whole turn where the ends are one.
                2.0 => -(TAU - (turn(to) - turn(at) - 1e-9).rem_euclid(TAU)),
                3.0 => (turn(to) - turn(at) - 1e-9).rem_euclid(TAU),
                _ => 0.0,
            };
            let round = mode >= 2.0;
            if round && (from - end).abs() > 0.02 {
                // No arc goes through both: controllers refuse it or jump.
                return Opinion::Harmful;
            }
            let long =
                if round { sweep.abs() * from } else { (to[0] - at[0]).hypot(to[1] - at[1]) };
            let steps = (long.max((to[2] - at[2]).abs()) / 0.1).ceil().max(1.0);
            for step in 0..=(steps as usize) {
                let part = step as f64 / steps;
                let between = |axis: usize| at[axis] + part * (to[axis] - at[axis]);
                let (x, y) = if round {
                    let angle = turn(at) + part * sweep;
                    (centre[0] + from * angle.cos(), centre[1] + from * angle.sin())
                } else {
                    (between(0), between(1))
                };
                ring.cut(x - SIGHT, y - SIGHT, between(2));
            }
            at = to;
        }
    }
    let highest = ring.lowest.iter().flatten().copied().fold(f64::NEG_INFINITY, f64::max);
    ring.at_most(highest, PLATFORM + TOLERANCE);
    ring.opinion
}

/// The faults of one arc.
fn faults(line: &str) -> Vec<(&'static str, String)> {
    let (i, j) = (word(line, 'I').unwrap_or(0.0), word(line, 'J').unwrap_or(0.0));
    let (x, y) = (word(line, 'X'), word(line, 'Y'));
    let chord = line.split_whitespace().filter(|word| !word.starts_with(['I', 'J', 'G']));
    let chord = format!("G1 {}", chord.collect::<Vec<_>>().join(" "));
    let mut found = vec![
        ("I moved by 0.3", number(line, 'I', i + 0.3)),
        ("J moved by 0.4", number(line, 'J', j - 0.4)),
        ("another radius", number(&number(line, 'I', 1.02 * i), 'J', 1.02 * j)),
        ("the chord", chord),
    ];
    if line.starts_with("G2") || line.starts_with("G3") {
        let other = if line.starts_with("G2") { "G3" } else { "G2" };
        found.push(("the other way round", with(line, 'G', other)));
    }
    found.extend(x.map(|x| ("end moved in X", number(line, 'X', x + 0.3))));
    found.extend(y.map(|y| ("end moved in Y", number(line, 'Y', y - 0.3))));
    // The same arc in other words.
    found.extend(x.map(|x| ("more digits", with(line, 'X', &format!("X{x:.5}")))));
    found
}

#[test]
fn faults_in_arcs_are_caught_and_no_others() {
    let house = survey::read(SURVEY, "round.toml").unwrap_or_else(|told| panic!("{told}"));
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    let setup = setup(&work, &house.workshop).unwrap();
    let planned: Vec<(String, Vec<String>)> = work
        .programs
        .programs
        .iter()
        .map(|program| {
            (program.name.clone(), program.text().unwrap().lines().map(str::to_owned).collect())
        })
        .collect();
    // Whether it is proven, and whether the wood is at fault.
    let prover = |texts: &[(String, Vec<String>)]| {
        let texts: Vec<(String, String)> =
            texts.iter().map(|(name, lines)| (name.clone(), lines.join("\n") + "\n")).collect();
        let programs: Vec<Program> =
            texts.iter().map(|(name, text)| Program::new(name, text)).collect();
        let proof = prove(&programs, &work.rebate, &setup);
        let wood = |rule: &str| rule == "prove.gouge" || rule == "prove.leftover";
        (proof.is_proven(), proof.findings().any(|finding| wood(finding.rule)))
    };
    assert_eq!(prover(&planned), (true, false));
    assert_eq!(referee(&planned), Opinion::Harmless, "the planner's own programs");
    let every = if std::env::var_os("FILLISTER_CASES").is_some() { 1 } else { 7 };
    let mut faults_seen = 0;
    let mut counts = [0_usize; 3];
    let mut wrong = Vec::new();
    for (program, (name, lines)) in planned.iter().enumerate() {
        let mut depth = 8.0;
        for (at, line) in lines.iter().enumerate() {
            depth = word(line, 'Z').unwrap_or(depth);
            if word(line, 'I').is_none() && word(line, 'J').is_none() {
                continue;
            }
            let deeper = ("0.3 deeper", number(line, 'Z', depth - 0.3));
            for (fault, mutant) in faults(line).into_iter().chain([deeper]) {
                faults_seen += 1;
                if faults_seen % every != 0 {
                    continue;
                }
                let mut texts = planned.clone();
                texts[program].1[at].clone_from(&mutant);
                let opinion = referee(&texts);
                let (proven, wood) = prover(&texts);
                counts[opinion as usize] += 1;
                let right = match opinion {
                    Opinion::Harmful => !proven,
                    Opinion::Harmless => !wood,
                    Opinion::Close => true,
                };
                let same = fault == "more digits" && !proven;
                if !right || same {
                    wrong.push(format!("{fault}, {name}: {line:?} is {mutant:?}: {opinion:?}"));
                }
            }
        }
    }
    eprintln!("harmless, close, harmful: {counts:?}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(counts[0] > 2 && counts[2] > 9, "{counts:?}");
}
