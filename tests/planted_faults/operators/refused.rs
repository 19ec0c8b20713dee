//! Words that nobody may run unread: harm by definition (NISTIR 6556, and the common subset).

use super::{Plant, Planted, any, line};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, has, is_remark, moves, number, with};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("wrong plane", |job, chance| before(job, chance, &["G18", "G19"])),
    ("second tool", |job, chance| {
        any(job, chance).lines.insert(0, "T1".into());
        before(job, chance, &["T2 M6", "T2 M06", "M6 T3"])
    }),
    ("unknown G word", |job, chance| {
        before(
            job,
            chance,
            &["G5", "G33", "G64", "G61.1", "G91.12", "G99", "G123", "G1.5", "G90.1", "G-1"],
        )
    }),
    ("unknown M word", |job, chance| {
        before(job, chance, &["M49", "M62", "M98", "M99", "M3.5", "M6"])
    }),
    ("unknown letter", |job, chance| {
        before(
            job,
            chance,
            &["A5", "U1", "E3", "O100 X1", "H1", "D1", "L2", "@1", "$H", "#1=2", "X[1]"],
        )
    }),
    ("canned cycle", |job, chance| {
        before(job, chance, &["G81 X1 Y1 Z-5 R2", "G83 Z-9 R1 Q2", "G73 Z-5", "G80 X1"])
    }),
    ("moves by a way not written down", |job, chance| {
        before(
            job,
            chance,
            &["G28", "G30", "G53 Z0", "G92 X0 Y0 Z0", "G10 L2 P1 X0", "G55", "G43 H1"],
        )
    }),
    ("cutter compensation", |job, chance| before(job, chance, &["G41 D1", "G42", "G41.1"])),
    ("another feed mode", |job, chance| before(job, chance, &["G93", "G95"])),
    ("two words of a group", |job, chance| {
        before(job, chance, &["G0 G1", "G20 G21", "G90 G91", "M3 M5", "M2 M30", "G2 G3", "F1 F2"])
    }),
    ("block delete", |job, chance| around(job, chance, "/", "")),
    ("exponent form", exponent),
    ("two words of an axis", twice),
    ("number with two points", two_points),
    ("letter without a number", no_number),
    ("number without a letter", no_letter),
    ("comma for a point", comma),
    ("line too long", |job, chance| after(job, chance, &" ".repeat(260))),
    ("comment not closed", |job, chance| after(job, chance, " (to the wall")),
    ("comment closed twice", |job, chance| after(job, chance, " (to the wall))")),
    ("comment in a comment", |job, chance| after(job, chance, " (a (b) c)")),
    ("byte that is not ASCII", |job, chance| {
        odd(job, chance, &["\u{e9}", "\u{a0}", " (\u{202e})"])
    }),
    ("byte that does not print", |job, chance| odd(job, chance, &["\0", "\u{7f}", "\r ", "\u{b}"])),
    ("text after a mark", |job, chance| after(job, chance, "%")),
];

/// A line of its own, before one that is no remark.
fn before(job: &mut Job, chance: &mut Chance, words: &[&str]) -> Option<Planted> {
    let text = any(job, chance);
    let found = text.find(|line| !is_remark(line));
    let at = chance.any(&found)?;
    text.lines.insert(at, chance.pick(words).into());
    Some(Planted::Harm)
}

fn around(job: &mut Job, chance: &mut Chance, left: &str, right: &str) -> Option<Planted> {
    let line = line(any(job, chance), chance, |line| !is_remark(line))?;
    *line = format!("{left}{line}{right}");
    Some(Planted::Harm)
}

fn after(job: &mut Job, chance: &mut Chance, more: &str) -> Option<Planted> {
    around(job, chance, "", more)
}

fn odd(job: &mut Job, chance: &mut Chance, choices: &[&str]) -> Option<Planted> {
    let odd = chance.pick(choices);
    after(job, chance, odd)
}

fn on_axis(
    job: &mut Job,
    chance: &mut Chance,
    to: impl Fn(char, f64, &str) -> String,
) -> Option<Planted> {
    let line = line(any(job, chance), chance, moves)?;
    let axis = ['X', 'Y', 'Z'].into_iter().find(|&axis| has(line, axis))?;
    let word = crate::planted_faults::job::word(line, axis)?.to_owned();
    *line = with(line, axis, &to(axis, number(line, axis)?, &word));
    Some(Planted::Harm)
}

fn exponent(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    on_axis(job, chance, |axis, value, _| format!("{axis}{value:e}"))
}

fn twice(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    on_axis(job, chance, |_, _, word| format!("{word} {word}"))
}

fn two_points(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    on_axis(job, chance, |_, _, word| format!("{word}.0.5"))
}

fn no_number(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    on_axis(job, chance, |axis, _, _| axis.to_string())
}

fn no_letter(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(any(job, chance), chance, moves)?;
    *line = format!("{} {line}", chance.pick(&["12", "-5.5", "."]));
    Some(Planted::Harm)
}

fn comma(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    on_axis(job, chance, |_, _, word| format!("{},5", word.split('.').next().unwrap_or(word)))
}
