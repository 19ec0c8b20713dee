//! Faults planted in the planner's programs: every one that breaks the timber or a rule of motion
//! must be caught, and none of the others.
//!
//! Each mutant is judged twice: by the prover, and by a referee that shares nothing with it (see the
//! module `referee`). `FILLISTER_CASES=10000` plants that many, in the example house's programs too;
//! `--nocapture` prints the table by operator.

#![allow(clippy::unnecessary_wraps, reason = "every operator has one type")]

mod chance;
mod job;
mod operators;
mod referee;
mod shear;
mod sites;
mod tally;

use chance::Chance;
use fillister::prove::Proof;
use operators::Planted;
use referee::Verdict;
use sites::Site;
use std::time::Instant;
use tally::Tally;

/// How often each operator plants in a usual run.
const ROUNDS: usize = 3;

/// Every judgement of the prover but that of effort, which no small fault can earn: each must fall on
/// some mutant of the fixed set.
const RULES: [&str; 27] = [
    "prove.setup",
    "prove.word",
    "prove.state",
    "prove.arc",
    "prove.start",
    "prove.pause",
    "prove.end",
    "prove.feed",
    "prove.spindle",
    "prove.bed",
    "prove.rapid",
    "prove.rapid-in-wood",
    "prove.plunge",
    "prove.step",
    "prove.reach",
    "prove.gouge",
    "prove.leftover",
    "prove.order",
    "prove.bite",
    "prove.load",
    "prove.chip",
    "prove.holder",
    "prove.obstacle",
    "prove.head",
    "prove.floor",
    "prove.heat",
    "prove.rounding",
];

#[test]
fn every_harmful_fault_is_caught_and_no_harmless_one() {
    let operators = operators::all();
    let fixed = ROUNDS * operators.len();
    let cases = std::env::var("FILLISTER_CASES").ok().map(|cases| cases.parse().unwrap());
    let started = Instant::now();
    let mut sites = sites::small();
    if cases.is_some_and(|cases: usize| cases > fixed) {
        sites.extend(sites::house());
    }
    for site in &sites {
        println!("{}: {} samples", site.name, site.referee.samples());
    }
    println!("ready after {:.1} s", started.elapsed().as_secs_f64());
    let mut tally = Tally::default();
    for case in 0..cases.unwrap_or(fixed) {
        let (name, plant) = operators[case % operators.len()];
        let seed = (case / operators.len()) as u64;
        // Not every sash has a place for every fault: try on.
        for attempt in 0..20 {
            let mut chance = Chance::new(seed * 20 + attempt);
            let site = &sites[chance.below(sites.len())];
            let mut job = site.planned.clone();
            if let Some(planted) = plant(&mut job, &mut chance) {
                judge(site, name, &job, planted, &mut tally);
                break;
            }
        }
    }
    println!("{tally}");
    let [referee, prover] = tally.took.map(|took| took.as_secs_f64());
    let all = started.elapsed().as_secs_f64();
    println!("{all:.1} s in all, of which referee {referee:.1} s, prover {prover:.1} s");
    tally.check(&operators.iter().map(|(name, _)| *name).collect::<Vec<_>>());
    for rule in RULES {
        assert!(tally.rules.contains(rule), "no mutant falls under {rule}");
    }
}

/// The same faults on a face that is not flat: the referee judges the flat job, the prover the one that lies over
/// the face.
#[test]
fn what_does_harm_on_a_flat_face_does_so_on_a_warped_one() {
    let operators = operators::all();
    let cases = std::env::var("FILLISTER_CASES").ok().map(|cases| cases.parse().unwrap());
    let sites = sites::small();
    let surface = shear::face();
    let mut tally = Tally::default();
    let mut planted = 0;
    for case in 0..cases.unwrap_or(operators.len()) {
        let (name, plant) = operators[case % operators.len()];
        let seed = (case / operators.len()) as u64;
        for attempt in 0..20 {
            let mut chance = Chance::new(7 + seed * 20 + attempt);
            let site = &sites[chance.below(sites.len())];
            let mut job = site.planned.clone();
            // Words and limits are no matter of the face.
            let harm = plant(&mut job, &mut chance)
                .filter(|harm| *harm != Planted::Harm && job.setup == site.planned.setup);
            let Some(harm) = harm else { continue };
            let around = site.rebate.pockets.iter().map(|pocket| pocket.wall.bounds());
            let around = around.reduce(|a, b| a.union(b)).unwrap().inflate(10.0, 10.0);
            let Some(texts) = shear::sheared(&job, &surface, around) else { continue };
            let verdict = verdict(site, &job, harm);
            let over = job::Job { texts, setup: shear::setup(&job.setup, surface, around) };
            let proof = site.prove(&over);
            let verdict = looked_again(site, &job, harm, verdict, &proof);
            tally.add(name, site, &job, &verdict, &proof);
            planted += 1;
            break;
        }
    }
    println!("{tally}");
    tally.check(&[]);
    assert!(planted * 2 > cases.unwrap_or(operators.len()), "{planted} planted");
}

/// A slot at full depth, left of every entry: too deep for one cut, in however short moves it comes.
#[test]
fn too_deep_a_step_is_caught_in_short_moves_too() {
    for site in sites::small() {
        for length in [f64::INFINITY, 2.0, 0.7, 0.5] {
            let mut job = site.planned.clone();
            let text = job.texts.iter_mut().find(|text| text.name.contains("widen")).unwrap();
            let deepest = -site.rebate.platform;
            for line in &mut text.lines {
                if job::number(line, 'Z').is_some_and(|z| z < 0.0) {
                    *line = job::renumbered(line, 'Z', -deepest);
                }
                // The arcs of the ways in are one move each: take them straight.
                if job::is_arc(line) {
                    *line = job::with(&job::with(&job::with(line, 'G', "G1"), 'I', ""), 'J', "");
                }
            }
            operators::rewritten::chopped(text, length);
            let proof = site.prove(&job);
            let step = proof.findings().any(|finding| finding.rule == "prove.step");
            assert!(step, "{}: {length} mm at a time", site.name);
        }
    }
}

/// Straight down into wood at the middle of the wall, in however short moves it comes.
#[test]
fn a_plunge_is_caught_in_short_moves_too() {
    for site in sites::small() {
        let wall = site.rebate.pockets[0].wall.bounds();
        let radius = site.planned.setup.radius();
        let (x, y) = (wall.x0 + wall.width() / 4.0, wall.y0 + radius + 0.2);
        for length in [4.0, 0.1, 0.04] {
            let head = format!("G17 G21 G90 G94\nS8000 M3\nG0 Z8\nX{x:.4} Y{y:.4}\nG1 Z0 F400\n");
            let steps = (1..=((4.0 / length) as usize)).map(|step| -length * step as f64);
            let down: Vec<String> = steps.map(|z| format!("Z{}", job::decimal(z, 4))).collect();
            let text = format!("{head}{}\nG0 Z8\nM5\nM2\n", down.join("\n"));
            let text = job::Text::new("plunge.ngc", &text);
            let proof = site.prove(&job::Job { texts: vec![text], ..site.planned.clone() });
            let plunge = proof.findings().any(|finding| finding.rule == "prove.plunge");
            assert!(plunge, "{}: {length} mm at a time", site.name);
        }
    }
}

fn judge(site: &Site, name: &'static str, job: &job::Job, planted: Planted, tally: &mut Tally) {
    let started = Instant::now();
    let verdict = verdict(site, job, planted);
    tally.took[0] += started.elapsed();
    let started = Instant::now();
    let proof = site.prove(job);
    tally.took[1] += started.elapsed();
    let verdict = looked_again(site, job, planted, verdict, &proof);
    tally.add(name, site, job, &verdict, &proof);
}

/// The verdict, after a closer look where the prover alone saw something: at most at this many places.
fn looked_again(
    site: &Site,
    job: &job::Job,
    planted: Planted,
    verdict: Verdict,
    proof: &Proof,
) -> Verdict {
    const MOST: usize = 8;
    if planted != Planted::Unknown || verdict != Verdict::Harmless || proof.is_proven() {
        return verdict;
    }
    let places = proof.faults.iter().filter_map(|fault| fault.at).map(|[x, y, _]| (x, y));
    site.referee.look_again(&site.rebate, job, &places.take(MOST).collect::<Vec<_>>())
}

fn verdict(site: &Site, job: &job::Job, planted: Planted) -> Verdict {
    match planted {
        Planted::Harm => Verdict::Harmful("by definition".into()),
        Planted::NoHarm => Verdict::Harmless,
        Planted::Unknown if *job == site.planned => Verdict::Harmless,
        Planted::Unknown => site.referee.judge(job),
    }
}
