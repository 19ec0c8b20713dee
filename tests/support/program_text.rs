//! A tiny reader of the programs that Fillister writes, which knows nothing of its prover. It holds
//! every line against what the smallest controllers take: NISTIR 6556 and the line rules of controllers
//! in common use.

use std::collections::BTreeMap;

/// Longest line, characters.
const LONGEST: usize = 70;

/// Most that an arc's radii at start and end may differ, mm: four decimals allow 0.00025, the
/// standard 0.002.
const RADII: f64 = 0.0005;

/// Words that a program may use.
const GENERAL: [f64; 13] =
    [0.0, 1.0, 2.0, 3.0, 4.0, 17.0, 21.0, 40.0, 49.0, 80.0, 90.0, 91.1, 94.0];
const MISCELLANEOUS: [f64; 4] = [0.0, 2.0, 3.0, 5.0];

/// Least and greatest place of each axis.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Extent {
    pub(crate) x: (f64, f64),
    pub(crate) y: (f64, f64),
    pub(crate) z: (f64, f64),
}

impl Default for Extent {
    fn default() -> Self {
        let none = (f64::INFINITY, f64::NEG_INFINITY);
        Extent { x: none, y: none, z: none }
    }
}

impl Extent {
    pub(crate) fn join(&mut self, other: &Extent) {
        let both = |a: (f64, f64), b: (f64, f64)| (a.0.min(b.0), a.1.max(b.1));
        self.x = both(self.x, other.x);
        self.y = both(self.y, other.y);
        self.z = both(self.z, other.z);
    }
}

/// Holds every line against the rules; where the axes go, or the first breach.
pub(crate) fn judge(text: &str) -> Result<Extent, String> {
    if !text.ends_with("M2\n") {
        return Err("the last line is not M2".into());
    }
    let mut reader = Reader::default();
    for (index, line) in text.lines().enumerate() {
        reader.line(line).map_err(|why| format!("line {}: {why}: {line}", index + 1))?;
    }
    Ok(reader.extent)
}

#[derive(Default)]
struct Reader {
    motion: Option<u32>,
    at: BTreeMap<char, f64>,
    feed: bool,
    extent: Extent,
}

impl Reader {
    fn line(&mut self, line: &str) -> Result<(), String> {
        if line.len() > LONGEST || !line.is_ascii() || line.chars().any(|c| c.is_ascii_control()) {
            return Err("too long, or not printable ASCII".into());
        }
        if let Some(comment) = line.strip_prefix('(') {
            let inside = comment.strip_suffix(')').ok_or("an open comment")?;
            return if inside.contains(['(', ')']) { Err("nested".into()) } else { Ok(()) };
        }
        let mut words = BTreeMap::new();
        for word in line.split(' ') {
            let (letter, number) = split(word)?;
            match letter {
                'G' | 'M' => self.code(letter, number, word)?,
                _ => {
                    if words.insert(letter, number).is_some() {
                        return Err(format!("two {letter} words"));
                    }
                }
            }
        }
        self.feed |= words.contains_key(&'F');
        self.go(&words)
    }

    fn code(&mut self, letter: char, number: f64, word: &str) -> Result<(), String> {
        let known = if letter == 'G' { &GENERAL[..] } else { &MISCELLANEOUS };
        let code = known.iter().find(|&&code| (code - number).abs() < 1e-9);
        let code = *code.ok_or(format!("{word} is not a word of these programs"))?;
        if letter == 'G' && code <= 3.0 {
            self.motion = Some(code as u32);
        }
        Ok(())
    }

    fn go(&mut self, words: &BTreeMap<char, f64>) -> Result<(), String> {
        let from = self.at.clone();
        for axis in ['X', 'Y', 'Z'] {
            if let Some(&to) = words.get(&axis) {
                self.at.insert(axis, to);
                let of = match axis {
                    'X' => &mut self.extent.x,
                    'Y' => &mut self.extent.y,
                    _ => &mut self.extent.z,
                };
                *of = (of.0.min(to), of.1.max(to));
            }
        }
        let moves = words.keys().any(|letter| "XYZ".contains(*letter));
        if moves && self.motion.is_none() {
            return Err("a move without a motion word".into());
        }
        if moves && self.motion != Some(0) && !self.feed {
            return Err("a feed move before any feed".into());
        }
        let is_arc = matches!(self.motion, Some(2 | 3)) && moves;
        let centre = (words.get(&'I'), words.get(&'J'));
        match (is_arc, centre) {
            (false, (None, None)) => Ok(()),
            (true, (Some(i), Some(j))) if words.contains_key(&'X') && words.contains_key(&'Y') => {
                let out = i.hypot(*j);
                let back = (self.at[&'X'] - from[&'X'] - i).hypot(self.at[&'Y'] - from[&'Y'] - j);
                let by = (out - back).abs();
                if by > RADII { Err(format!("radii differ by {by}")) } else { Ok(()) }
            }
            _ => Err("an arc without X, Y, I and J, or a line with I or J".into()),
        }
    }
}

/// A letter and a plain number of at most four decimals.
fn split(word: &str) -> Result<(char, f64), String> {
    let wrong = || format!("{word:?} is not a word");
    let letter = word.chars().next().ok_or_else(wrong)?;
    let number = &word[1..];
    let digits = number.strip_prefix('-').unwrap_or(number);
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, "0"));
    let plain = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    if !"GMFSPXYZIJ".contains(letter) || !plain(whole) || !plain(decimals) || decimals.len() > 4 {
        return Err(wrong());
    }
    Ok((letter, number.parse().map_err(|_| wrong())?))
}
