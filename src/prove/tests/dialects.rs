//! One cut written in many ways gives one proof; what cannot be judged is refused by name.

use super::fixture::*;
use crate::geometry::{Outline, Region};
use crate::prove::{Proof, Setup, prove_commented};
use crate::sash::Solid;
use approx::assert_relative_eq;
use kurbo::Rect;
use std::fmt::Write;

const LENGTHS: [char; 7] = ['X', 'Y', 'Z', 'I', 'J', 'R', 'F'];

/// A word of the plain texts, which hold nothing but words and blanks.
type Word = (char, f64);

fn words(line: &str) -> Vec<Word> {
    let read = |word: &str| (word.chars().next().unwrap(), word[1..].parse().unwrap());
    line.split_whitespace().map(read).collect()
}

/// `text` line by line, each line's words rewritten.
fn rewritten(text: &str, mut line: impl FnMut(usize, Vec<Word>) -> String) -> String {
    let lines = text.lines().enumerate();
    lines.map(|(index, text)| line(index, words(text)) + "\n").collect()
}

fn plain(words: &[Word]) -> String {
    let words: Vec<String> =
        words.iter().map(|(letter, number)| format!("{letter}{number}")).collect();
    words.join(" ")
}

fn inches(text: &str) -> String {
    let inch = |(letter, number): Word| match letter {
        'G' if number == 21.0 => "G20 ".to_owned(),
        letter if LENGTHS.contains(&letter) => format!("{letter}{:.12} ", number / 25.4),
        letter => format!("{letter}{number} "),
    };
    rewritten(text, |_, words| words.into_iter().map(inch).collect())
}

/// Steps from the place before, from the first move over the wood on.
fn incremental(text: &str) -> String {
    let mut at: [Option<f64>; 3] = [None; 3];
    let mut said = false;
    rewritten(text, |_, words| {
        let known = at.iter().all(Option::is_some);
        let mut out = if known && !said { "G91 ".to_owned() } else { String::new() };
        said |= known;
        for (letter, number) in words {
            let axis = ['X', 'Y', 'Z'].iter().position(|&axis| axis == letter);
            match axis {
                Some(axis) => {
                    let from = at[axis].replace(number).filter(|_| known).unwrap_or(0.0);
                    write!(out, "{letter}{:.9} ", number - from).unwrap();
                }
                None => write!(out, "{letter}{number} ").unwrap(),
            }
        }
        out
    })
}

/// Lower case, numbered, signs and leading zeros, both kinds of comments, `%` and carriage returns.
fn ornate(text: &str) -> String {
    let word = |(letter, number): Word| {
        let small = letter.to_ascii_lowercase();
        match letter {
            'G' | 'M' => format!("{small}{number:02}"),
            letter if LENGTHS.contains(&letter) && number.is_sign_positive() => {
                format!("{small}+{number}")
            }
            _ => format!("{small}{number}"),
        }
    };
    let body = rewritten(text, |index, words| {
        let words: Vec<String> = words.into_iter().map(word).collect();
        let words = words.join("(a comment X5)");
        format!("n{} {words} ; and G0 Z-99 in another\r", 10 * (index + 1))
    });
    format!("%\r\n{body}%\r\n")
}

/// Blanks wherever the standard allows them: between letter and number, sign and digits, digits.
fn spaced(text: &str) -> String {
    rewritten(text, |_, words| {
        plain(&words).replace(' ', "").chars().flat_map(|c| [c, ' ']).collect()
    })
}

/// Nothing that could be left out: no blanks, no zero before the point.
fn dense(text: &str) -> String {
    rewritten(text, |_, words| {
        plain(&words).replace(' ', "").replace("X0.", "X.").replace("X-0.", "X-.")
    })
}

/// Arcs by their centre where the plain text gives the radius.
fn by_centre(text: &str) -> String {
    let mut at = [0.0_f64; 2];
    rewritten(text, |_, mut words| {
        let from = at;
        for &(letter, number) in &words {
            match letter {
                'X' => at[0] = number,
                'Y' => at[1] = number,
                _ => {}
            }
        }
        if let Some(place) = words.iter().position(|(letter, _)| *letter == 'R') {
            let radius = words.remove(place).1;
            let clockwise = words.contains(&('G', 2.0));
            let chord = [at[0] - from[0], at[1] - from[1]];
            let length = chord[0].hypot(chord[1]);
            let aside = (radius * radius - length * length / 4.0).sqrt() / length;
            // To the right of travel for a clockwise arc of less than half a turn.
            let side = if clockwise { aside } else { -aside };
            words.push(('I', chord[0] / 2.0 + side * chord[1]));
            words.push(('J', chord[1] / 2.0 - side * chord[0]));
        }
        plain(&words)
    })
}

/// The programs of the fixture with rounds: a bow in the left wall's lap and a way in on a quarter
/// circle.
fn cut() -> Vec<(&'static str, String)> {
    let mut texts = programs(100.0, 80.0);
    texts.remove(0);
    for (_, text) in &mut texts {
        let plain = "G1 X-8 F1200\nY88\n";
        let round = "G1 X-4 F1200\nG2 X-8 Y44 R4\nG1 Y60\nG3 X-8 Y80 R2000\nG1 Y88\n";
        assert!(text.contains(plain));
        *text = text.replace(plain, round).replace("\nX-8\nY40\n", "\nX-8\nY46\n");
    }
    texts
}

type Dialect = (&'static str, fn(&str) -> String, usize);

const DIALECTS: [Dialect; 7] = [
    ("inches", inches, 0),
    ("incremental", incremental, 0),
    ("ornate", ornate, 1),
    ("spaced", spaced, 0),
    ("dense", dense, 0),
    ("arcs by centre", by_centre, 0),
    (
        "inches, in steps, by centre, ornate",
        |text| ornate(&inches(&incremental(&by_centre(text)))),
        1,
    ),
];

fn proven(texts: &[(&'static str, String)]) -> Proof {
    proof(texts, &frame(100.0, 80.0), &setup())
}

fn translated(texts: &[(&'static str, String)], dialect: fn(&str) -> String) -> Proof {
    let texts: Vec<_> = texts.iter().map(|(name, text)| (*name, dialect(text))).collect();
    proven(&texts)
}

#[test]
fn every_dialect_of_one_cut_gives_the_same_proof() {
    let texts = cut();
    let plain = proven(&texts);
    assert!(plain.is_proven(), "{:#?}", plain.faults);
    for (name, dialect, _) in DIALECTS {
        let other = translated(&texts, dialect);
        assert!(other.is_proven(), "{name}: {:#?}", other.faults);
        for (a, b) in plain.programs.iter().zip(&other.programs) {
            assert_eq!((a.moves, &a.name), (b.moves, &b.name), "{name}");
            assert_relative_eq!(a.cut_length, b.cut_length, epsilon = 1e-4);
            assert_relative_eq!(a.minutes, b.minutes, epsilon = 1e-6);
            assert_relative_eq!(a.lowest, b.lowest, epsilon = 1e-6);
        }
        assert_relative_eq!(plain.volumes.gone, other.volumes.gone, epsilon = 0.01);
        let side = |proof: &Proof| proof.margins.side.as_ref().unwrap().distance;
        assert_relative_eq!(side(&plain), side(&other), epsilon = 1e-6);
        assert_relative_eq!(plain.margins.tallest_step, other.margins.tallest_step, epsilon = 1e-6);
    }
}

#[test]
fn a_gouge_is_reported_alike_in_every_dialect() {
    let mut texts = cut();
    texts[0].1 = texts[0].1.replacen("\nX108\n", "\nX108.3\n", 1);
    let worst = |proof: &Proof| {
        let gouges = proof
            .faults
            .iter()
            .filter(|fault| fault.finding.rule == "prove.gouge")
            .max_by(|a, b| a.finding.measured.value.total_cmp(&b.finding.measured.value));
        gouges.cloned().unwrap()
    };
    let plain = worst(&proven(&texts));
    for (name, dialect, shift) in DIALECTS {
        let other = worst(&translated(&texts, dialect));
        assert_eq!(other.line, plain.line.map(|line| line + shift), "{name}");
        assert_relative_eq!(
            other.finding.measured.value,
            plain.finding.measured.value,
            epsilon = 1e-6
        );
        assert_relative_eq!(other.finding.measured.value, 0.3, epsilon = 1e-6);
    }
}

/// `text` with a comment or a blank line after each of its lines, and one before them.
fn commented(text: &str) -> String {
    let with = |(index, line): (usize, &str)| {
        if index.is_multiple_of(3) { format!("{line} ; G0\n(M2)\n\n") } else { format!("{line}\n") }
    };
    "(X5)\n".to_owned() + &text.lines().enumerate().map(with).collect::<String>()
}

#[test]
fn comments_move_the_lines_of_a_proof_and_nothing_else() {
    let block = Outline::rectangle(Rect::new(-40.0, 20.0, -16.0, 50.0)).unwrap();
    let region = Region::solid(block);
    let clamp = Solid {
        name: crate::language::Text::name("toggle clamp"),
        region,
        top: 7.0,
        bottom: -45.0,
    };
    let (rebate, setup) = (frame(100.0, 80.0), Setup { obstacles: vec![clamp], ..setup() });
    let texts = cut();
    let noted: Vec<_> = texts.iter().map(|(name, text)| (*name, commented(text))).collect();
    let plain = proof(&texts, &rebate, &setup);
    let fresh = proof(&noted, &rebate, &setup);
    assert!(fresh.is_proven() && fresh.margins.obstacle.is_some(), "{:#?}", fresh.faults);
    assert_ne!(fresh, plain);
    let before = listed(&texts);
    assert_eq!(prove_commented(&plain, &before, &listed(&noted)), Some(fresh));
    // One word more, one digit less, another order or another place: to be proven anew.
    let mut other = noted.clone();
    other[1].1 = other[1].1.replacen("Z-27", "Z-27.", 1);
    assert_eq!(prove_commented(&plain, &before, &listed(&other)), None);
    other.clone_from(&noted);
    other[0].1 += "M2\n";
    assert_eq!(prove_commented(&plain, &before, &listed(&other)), None);
    other.clone_from(&noted);
    other.swap(0, 1);
    assert_eq!(prove_commented(&plain, &before, &listed(&other)), None);
    let mut moved = listed(&noted);
    moved[0].place.turned = true;
    assert_eq!(prove_commented(&plain, &before, &moved), None);
    // Nothing is known of programs that are not proven.
    let spoiled = Proof { swept: false, ..plain };
    assert_eq!(prove_commented(&spoiled, &before, &before), None);
}

#[test]
fn words_that_cannot_be_judged_are_refused_by_name() {
    let canned = [73.0, 81.0, 82.0, 83.0, 84.0, 85.0, 86.0, 87.0, 88.0, 89.0];
    let canned = canned
        .map(|code| (format!("G{code} X1 Y1 Z-3 R1"), format!("G{code} is a canned cycle: write")));
    let others = [
        ("G10 L2 P1 X0", "G10 sets a frame or a tool"),
        ("G18", "G18 turns arcs into another plane"),
        ("G19", "G19 turns arcs into another plane"),
        ("G28", "G28 goes home"),
        ("G30", "G30 goes home"),
        ("G38.2 Z-5", "G38.2 probes"),
        ("G41 X5", "G41 shifts the path"),
        ("G42", "G42 shifts the path"),
        ("G43 Z8", "G43 adds a length offset that is not known here: take it out, or"),
        ("G43.1 Z8", "G43.1 adds a length offset"),
        ("G53 G0 Z0", "G53 counts from the machine's own zero"),
        ("G55", "G55 counts from another zero"),
        ("G59.3", "G59.3 counts from another zero"),
        ("G61.1", "G61.1 stops at every point"),
        ("G64", "G64 without P"),
        ("G90.1", "G90.1 counts arc centres"),
        ("G92 X0", "G92 shifts the zero"),
        ("G93", "G93 counts the feed otherwise"),
        ("G95", "G95 counts the feed otherwise"),
        ("G98", "G98 belongs to canned cycles"),
        ("M6", "M6 without the tool"),
        ("M49", "M49 locks"),
        ("M68", "M68 switches an output"),
        ("M98 P1", "M98 calls a subroutine"),
        ("O100 X1", "a program number (O)"),
        ("O100", "O100 in the middle of a program"),
        ("A90", "A90 is no word"),
        ("U1", "U1 is no word"),
    ];
    let others = others.map(|(line, name)| (line.to_owned(), name.to_owned()));
    for (line, name) in canned.into_iter().chain(others) {
        let mut texts = cut();
        texts[0].1 =
            texts[0].1.replacen("\nF", "\n", 1).replacen("G0 X30", &format!("{line}\nG0 X30"), 1);
        let proof = proven(&texts);
        assert!(!proof.swept, "{line} was run");
        let fault = proof.faults.iter().find(|fault| fault.finding.advised().contains(&name));
        let fault = fault.unwrap_or_else(|| panic!("{line}: {:#?}", proof.faults));
        assert_eq!((fault.finding.rule, fault.line), ("prove.word", Some(4)), "{line}");
    }
}

#[test]
fn what_two_controllers_could_take_two_ways_is_refused() {
    // Which motion, which units, which way, which centre, from where: each left open.
    for (line, rule) in [
        ("G0 G1 X5", "prove.word"),
        ("G90 G91", "prove.word"),
        ("G20 G21", "prove.word"),
        ("M3 M5", "prove.word"),
        ("G20 F40", "prove.state"),
        ("G2 X40 Y40 I5 R5", "prove.word"),
        ("G2 X40 Y50", "prove.arc"),
        ("G3 X30 Y40 R5", "prove.arc"),
        ("G80\nX40", "prove.state"),
        ("G1 X5 X6", "prove.word"),
        ("G4 X5", "prove.word"),
        ("X1.2.3", "prove.word"),
        ("X--5", "prove.word"),
        ("G1 X(5) 6", "prove.word"),
    ] {
        let mut texts = cut();
        texts[0].1 = texts[0].1.replacen("G0 X30 Y40\n", &format!("G0 X30 Y40\n{line}\n"), 1);
        let proof = proven(&texts);
        assert!(!proof.swept, "{line} was run");
        assert_eq!(rules(&proof), [rule], "{line}: {:#?}", proof.faults);
    }
}

/// Coolant, knobs, exact corners, a switch's stop, the one tool, a number and any letters change nothing of a cut.
#[test]
fn what_a_joiner_puts_in_changes_no_proof() {
    let plain = proven(&cut());
    assert!(plain.is_proven(), "{:#?}", plain.faults);
    for edit in
        ["M8", "M7 M8", "M9", "M48", "G61", "G64 P0.02", "T1", "(K\u{fc}che \u{2014} links)"]
    {
        let mut texts = cut();
        texts[0].1 = texts[0].1.replacen("G0 X30", &format!("{edit}\nG0 X30"), 1);
        let proof = proven(&texts);
        assert!(proof.is_proven(), "{edit}: {:#?}", proof.faults);
        assert_eq!(proof.margins.tallest_step, plain.margins.tallest_step);
    }
    for edit in ["O1001", "T1 M6", "T1\nM6", "G21\nT1 M6\nG0"] {
        let mut texts = cut();
        texts[0].1 = format!("{edit}\n{}", texts[0].1);
        assert!(proven(&texts).is_proven(), "{edit}");
    }
    // Where each is wrong: rounded too much, a second tool, in the middle, and cut without the spindle.
    for (edit, rule) in [
        ("G64 P0.5", "prove.rounding"),
        ("T1\nT2", "prove.word"),
        ("O2", "prove.word"),
        ("M1", "prove.spindle"),
        ("M0", "prove.spindle"),
        ("T1 M6", "prove.start"),
    ] {
        let mut texts = cut();
        texts[0].1 = texts[0].1.replacen("G0 X30 Y40\n", &format!("G0 X30 Y40\n{edit}\n"), 1);
        assert_eq!(rules(&proven(&texts)), [rule], "{edit}");
    }
    let again = "G0 X30 Y40\nM0\nM3\nG4 P3\n";
    let mut texts = cut();
    texts[0].1 = texts[0].1.replacen("G0 X30 Y40\n", again, 1);
    assert!(proven(&texts).is_proven());
}

/// The number of the one tool is the same in every program.
#[test]
fn another_tool_in_another_program_is_refused() {
    let with = |tools: [&str; 3]| {
        let mut texts = programs(100.0, 80.0);
        for ((_, text), tool) in texts.iter_mut().zip(tools) {
            *text = format!("{tool}{}", text.trim_start_matches("%\n").trim_end_matches("%\n"));
        }
        rules(&proof(&texts, &frame(100.0, 80.0), &setup()))
    };
    assert_eq!(with(["", "T1\n", "T1 M6\n"]), Vec::<&str>::new());
    assert_eq!(with(["T1\n", "", "T2 M6\n"]), ["prove.tool"]);
    assert_eq!(with(["T2\n", "T1\n", "T2\n"]), ["prove.tool"]);
}

/// One reason, one sentence, with every line that it holds for.
#[test]
fn a_refusal_names_every_line_concerned() {
    let mut texts = cut();
    texts[0].1 = texts[0].1.replace("\nG1 ", "\nG43\nG1 ");
    let lines: Vec<usize> =
        (1..).zip(texts[0].1.lines()).filter(|(_, line)| *line == "G43").map(|(n, _)| n).collect();
    assert!(lines.len() > 1);
    let proof = proven(&texts);
    assert_eq!(proof.faults.len(), 1, "{:#?}", proof.faults);
    let rest: Vec<String> = lines[1..].iter().take(12).map(ToString::to_string).collect();
    assert!(proof.faults[0].finding.advised().contains(&rest.join(", ")), "{:#?}", proof.faults);
}
