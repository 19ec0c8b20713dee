//! Changes to the text that change no move: harmless by definition.

use super::{Plant, Planted, any, cutting};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, has, is_remark, number, renumbered, word};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("nothing changed", |_, _| Some(Planted::NoHarm)),
    ("remark changed", remark),
    ("remark added", added),
    ("blank lines", blank),
    ("line numbers", numbers),
    ("lower case", |job, chance| lines(job, chance, str::to_ascii_lowercase)),
    ("spaces removed", |job, chance| lines(job, chance, |line| line.replace(' ', ""))),
    ("spaces everywhere", |job, chance| {
        lines(job, chance, |line| line.chars().flat_map(|c| [c, ' ']).collect())
    }),
    ("tabs for spaces", |job, chance| lines(job, chance, |line| line.replace(' ', "\t"))),
    ("trailing zeros", zeros),
    ("leading zeros", leading),
    ("plus signs", plus),
    ("modes repeated", repeated),
    ("carriage returns", returns),
    ("marks at both ends", marks),
    ("M30 for M2", thirty),
    ("dwell at the clear height", dwell),
    ("slower feed", slower),
];

fn lines(job: &mut Job, chance: &mut Chance, to: fn(&str) -> String) -> Option<Planted> {
    for line in &mut any(job, chance).lines {
        if !is_remark(line) {
            *line = to(line);
        }
    }
    Some(Planted::NoHarm)
}

fn remark(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let found = text.find(is_remark);
    let new =
        chance.pick(&["(G0 Z-50 in a remark)", "()", "; X1 X2 (not closed", "(100 %, ; / #)"]);
    text.lines[chance.any(&found)?] = new.into();
    Some(Planted::NoHarm)
}

fn added(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let at = chance.below(text.lines.len());
    let line = &mut text.lines[at];
    *line = if chance.flip() { format!("{line} ; M5 G0 Z-9") } else { format!("{line} (M5)") };
    Some(Planted::NoHarm)
}

fn blank(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    for _ in 0..5 {
        let at = chance.below(text.lines.len());
        text.lines.insert(at, chance.pick(&["", "  ", "\t"]).into());
    }
    Some(Planted::NoHarm)
}

fn numbers(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let (text, by) = (any(job, chance), chance.pick(&[1, 10]));
    for (index, line) in text.lines.iter_mut().enumerate() {
        if !is_remark(line) {
            *line = format!("N{} {line}", (index + 1) * by);
        }
    }
    Some(Planted::NoHarm)
}

/// Every number of the axes anew.
fn words(
    job: &mut Job,
    chance: &mut Chance,
    to: impl Fn(char, &str) -> Option<String>,
) -> Option<Planted> {
    for line in &mut any(job, chance).lines {
        for letter in ['X', 'Y', 'Z', 'I', 'J', 'F', 'S'] {
            let new = word(line, letter).and_then(|word| to(letter, &word[1..]));
            if let Some(new) = new {
                *line = crate::planted_faults::job::with(line, letter, &new);
            }
        }
    }
    Some(Planted::NoHarm)
}

fn zeros(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    words(job, chance, |letter, number| {
        let point = if number.contains('.') { "" } else { "." };
        Some(format!("{letter}{number}{point}000"))
    })
}

fn leading(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    words(job, chance, |letter, number| {
        let (sign, digits) = number.strip_prefix('-').map_or(("", number), |rest| ("-", rest));
        Some(format!("{letter}{sign}00{digits}"))
    })
}

fn plus(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    words(job, chance, |letter, number| {
        (!number.starts_with('-')).then(|| format!("{letter}+{number}"))
    })
}

fn repeated(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let modes = text.find(|line| line.contains("G17")).into_iter().next()?;
    for word in ["G21", "G90", "G17", "G94", "G40", "G49", "G54", "G91.1"] {
        let at = modes + 1 + chance.below(text.lines.len() - modes - 1);
        text.lines.insert(at, word.into());
    }
    Some(Planted::NoHarm)
}

fn returns(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    any(job, chance).ending = "\r\n";
    Some(Planted::NoHarm)
}

fn marks(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    text.lines.insert(0, "%".into());
    text.lines.push("%".into());
    Some(Planted::NoHarm)
}

fn thirty(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    *any(job, chance).lines.last_mut()? = "M30".into();
    Some(Planted::NoHarm)
}

fn dwell(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(|line| number(line, 'Z').is_some_and(|z| z > 0.0));
    text.lines.insert(chance.any(&found)? + 1, "G4 P0.5".into());
    Some(Planted::NoHarm)
}

fn slower(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    for line in &mut cutting(job, chance)?.lines {
        if has(line, 'F') {
            *line = renumbered(line, 'F', number(line, 'F')? * 0.9);
        }
    }
    Some(Planted::NoHarm)
}
