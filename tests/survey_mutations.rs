//! Broken surveys: whatever is thrown at the reader, it neither panics nor hangs, and what it lets
//! through is whole.
//!
//! `FILLISTER_CASES=100000` raises the number of mutated files; every case follows from its number
//! alone, so a case that fails can be run again.

use crate::support;
use crate::support::chance::{Deck, Random};
use crate::support::houses::draw_house;
use crate::support::writer::{Lengths, write};
use fillister::survey::{House, MOST_BYTES, Sash, read, read_bytes};

/// Tokens that mean something to TOML or to a survey, in the wrong places.
const TOKENS: [&str; 44] = [
    "nan",
    "-inf",
    "1e308",
    "1e-308",
    "-0",
    "0x1F",
    "9223372036854775808",
    "1_000",
    "+45",
    "045",
    "\"45 mm\"",
    "\"1 3/4 in\"",
    "\"1/0 in\"",
    "\"99999999999999999999 ft\"",
    "\"4,5 cm\"",
    "\"\"",
    "''",
    "\"\"\"",
    "'''",
    "true",
    "1979-05-27T07:32:00Z",
    "[",
    "]",
    "{",
    "}",
    "[[",
    "]]",
    "=",
    ",",
    ".",
    "#",
    "\n",
    "\r",
    "\\u0000",
    "\u{feff}",
    "é",
    "\u{202e}",
    "sash",
    "sash.member.top",
    "rebate",
    "rabbet",
    "[[sash]]",
    "[workshop]",
    "[sash.member.left]",
];

fn bases() -> Vec<String> {
    let mut bases = vec![
        support::EXAMPLE.to_owned(),
        include_str!("../fixtures/survey/good/least.toml").to_owned(),
        include_str!("../fixtures/survey/good/defaults.toml").to_owned(),
        include_str!("../fixtures/survey/good/kitchen.toml").to_owned(),
        include_str!("../fixtures/survey/good/us-spellings.toml").to_owned(),
        include_str!("../fixtures/survey/good/out-of-square.toml").to_owned(),
        include_str!("../fixtures/survey/good/shapes.toml").to_owned(),
        include_str!("../fixtures/survey/bad/many-at-once.toml").to_owned(),
        include_str!("../fixtures/survey/bad/out-of-square.toml").to_owned(),
        include_str!("../fixtures/survey/bad/shapes.toml").to_owned(),
    ];
    let mut random = Random::new(1);
    for index in 0..20 {
        #[expect(clippy::cast_precision_loss, reason = "any number from 0 to 1 will do")]
        let numbers = (0..1300).map(|_| random.next() as f64 / u64::MAX as f64).collect();
        let lengths = if index % 2 == 0 { Lengths::Millimetres } else { Lengths::Inches };
        bases.push(write(&draw_house(&mut Deck::new(numbers)), lengths));
    }
    bases
}

/// One change to the file.
fn mutate(bytes: &mut Vec<u8>, random: &mut Random) {
    let lines = |bytes: &[u8]| -> Vec<Vec<u8>> {
        bytes.split_inclusive(|&byte| byte == b'\n').map(<[u8]>::to_vec).collect()
    };
    match random.below(8) {
        0 => {
            let mut lines = lines(bytes);
            if !lines.is_empty() {
                lines.remove(random.below(lines.len()));
            }
            *bytes = lines.concat();
        }
        1 => {
            let mut lines = lines(bytes);
            if !lines.is_empty() {
                let line = random.pick(&lines).clone();
                lines.insert(random.below(lines.len() + 1), line);
            }
            *bytes = lines.concat();
        }
        2 => {
            let mut lines = lines(bytes);
            if !lines.is_empty() {
                let (a, b) = (random.below(lines.len()), random.below(lines.len()));
                lines.swap(a, b);
            }
            *bytes = lines.concat();
        }
        3 => {
            for _ in 0..=random.below(4) {
                let at = random.below(bytes.len());
                if let Some(byte) = bytes.get_mut(at) {
                    *byte = u8::try_from(random.below(256)).unwrap();
                }
            }
        }
        4 => {
            let from = random.below(bytes.len() + 1);
            let to = (from + random.below(30)).min(bytes.len());
            bytes.drain(from..to);
        }
        5 => bytes.truncate(random.below(bytes.len() + 1)),
        // A token in place of a word, or put in anywhere.
        6 => {
            let token = random.pick(&TOKENS).bytes();
            let is_word = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'_');
            let at = random.below(bytes.len());
            let from = bytes.iter().skip(at).position(|&byte| is_word(byte)).map_or(at, |n| at + n);
            let word = bytes.iter().skip(from).take_while(|&&byte| is_word(byte)).count();
            bytes.splice(from..(from + word).min(bytes.len()), token);
        }
        _ => {
            let at = random.below(bytes.len() + 1);
            bytes.splice(at..at, random.pick(&TOKENS).bytes());
        }
    }
}

/// Whether the writer would have to round something off it.
fn is_crooked(sash: &Sash) -> bool {
    sash.outline.is_some() || sash.measures.is_some() || sash.bars.iter().any(|bar| bar.lean != 0.0)
}

/// What must hold of every sash that was read, of whatever shape.
fn stands(sash: &Sash, case: &str) {
    let made = fillister::sash::Sash::new(sash).map(|made| made.outline);
    let outline = made.unwrap_or_else(|error| panic!("case {case}: {error}"));
    assert!(!outline.outline().crosses_itself(), "case {case}");
    let bounds = outline.bounds();
    assert!(bounds.origin().to_vec2().hypot() < 1e-6, "case {case}: {bounds:?}");
    let size = bounds.size() - sash.sight;
    assert!(size.width.abs() < 1e-6 && size.height.abs() < 1e-6, "case {case}: {bounds:?}");
    assert!(sash.bars.iter().all(|bar| bar.centre.is_finite() && bar.lean.is_finite()));
}

/// What must hold of every file, good or bad. Whether it read.
fn judge(bytes: &[u8], case: &str) -> bool {
    match read_bytes(bytes, "mutated.toml") {
        Ok(house) if house.sashes.iter().any(is_crooked) => {
            for sash in &house.sashes {
                stands(sash, case);
            }
            true
        }
        Ok(house) => {
            let text = write(&house, Lengths::Millimetres);
            let back = read(&text, "back.toml");
            // What is asked about a survey depends on how its numbers were written.
            let whole = House { doubts: Vec::new(), ..house };
            let back = back.map(|back| House { doubts: Vec::new(), ..back });
            assert_eq!(back.as_ref(), Ok(&whole), "case {case}: what was read is not whole");
            true
        }
        Err(mistakes) => {
            let places: Vec<_> = mistakes.iter().map(|one| (one.line, one.column)).collect();
            assert!(!places.is_empty(), "case {case}: refused without a reason");
            assert!(places.is_sorted(), "case {case}: out of order");
            let lines = bytes.split(|&byte| byte == b'\n').count();
            assert!(places.iter().all(|&(line, _)| (1..=lines).contains(&line)), "case {case}");
            assert!(mistakes.iter().all(|one| !one.expected.is_empty()), "case {case}");
            assert!(mistakes.to_string().starts_with("mutated.toml:"), "case {case}");
            false
        }
    }
}

#[test]
fn mutated_surveys_never_panic_or_hang() {
    let cases: u64 = match std::env::var("FILLISTER_CASES") {
        Ok(text) => text.parse().expect("FILLISTER_CASES is a number"),
        Err(_) => 2_000,
    };
    let bases = bases();
    let mut good = 0;
    for case in 0..cases {
        let mut random = Random::new(case);
        let mut bytes = random.pick(&bases).clone().into_bytes();
        for _ in 0..=random.below(4) {
            mutate(&mut bytes, &mut random);
        }
        let judged = std::panic::catch_unwind(|| judge(&bytes, &case.to_string()));
        match judged {
            Ok(read) => good += u64::from(read),
            Err(panic) => {
                eprintln!("case {case}:\n{}", String::from_utf8_lossy(&bytes));
                std::panic::resume_unwind(panic);
            }
        }
    }
    // Some mutations are harmless; if none or all were, this test would show nothing.
    assert!(good > cases / 50 && good < cases / 2, "{good} of {cases} read");
}

#[test]
fn hostile_files_are_refused() {
    // As much of it as is read at all.
    let many = |text: &str, count: usize| text.repeat(count.min(MOST_BYTES / text.len() - 100));
    let files: Vec<(&str, Vec<u8>)> = vec![
        ("empty", Vec::new()),
        ("blank", many("\n", 100_000).into()),
        ("binary", (0..=255).cycle().take(100_000).collect()),
        ("zeros", vec![0; 100_000]),
        ("ten megabytes of brackets", "[".repeat(10_000_000).into()),
        ("brackets", many("[", 1_000_000).into()),
        ("nested lists", format!("x = {}", many("[", 500_000)).into()),
        ("closed lists", format!("x = {}{}", many("[", 200_000), many("]", 200_000)).into()),
        ("nested tables", format!("x = {}", many("{a=", 300_000)).into()),
        ("dotted key", format!("{}x = 1", many("a.", 500_000)).into()),
        ("dotted header", format!("[{}x]\ny = 1", many("a.", 500_000)).into()),
        ("equals", many("=\n", 500_000).into()),
        ("quotes", many("\"", 1_000_000).into()),
        ("one long line", format!("house = \"{}\"", many("x", 1_000_000)).into()),
        ("one long key", format!("{} = 1", many("x", 1_000_000)).into()),
        ("same key", many("house = 1\n", 100_000).into()),
        ("many keys", (0..30_000).flat_map(|n| format!("k{n} = {n}\n").into_bytes()).collect()),
        ("many sashes", many("[[sash]]\n", 100_000).into()),
        ("same header", many("[workshop]\n", 90_000).into()),
        ("long number", format!("house = {}", many("9", 1_000_000)).into()),
        (
            "long length",
            format!("house = \"x\"\n[[sash]]\nthickness = \"{} mm\"", many("9", 500_000)).into(),
        ),
        ("only a mark", "\u{feff}".into()),
        ("two marks", "\u{feff}\u{feff}house = 1".into()),
        ("bare carriage returns", many("house = \"x\"\r", 1000).into()),
        ("not a number", "house = nan\nsash = [nan, inf, -inf]".into()),
        (
            "many bars",
            format!(
                "{}bars = [{}]",
                include_str!("../fixtures/survey/good/least.toml"),
                many("{ runs = \"upright\", centre = 200, width = 22 },", 20_000)
            )
            .into(),
        ),
    ];
    for (name, bytes) in files {
        assert!(!judge(&bytes, name), "{name} was taken for a survey");
    }
}
