//! Letters and numbers of a line: a trivial reader for the words that the planner writes.

/// Words of a line, or why it has none that mean anything.
pub(super) fn words(line: &str) -> Result<Vec<(char, f64)>, String> {
    let mut bare = String::new();
    let mut depth = 0;
    for c in line.chars() {
        match c {
            ';' if depth == 0 => break,
            '(' => depth += 1,
            ')' => depth -= 1,
            _ if depth > 0 || c.is_whitespace() => {}
            _ => bare.push(c.to_ascii_uppercase()),
        }
    }
    if bare == "%" {
        return Ok(Vec::new());
    }
    let mut found: Vec<(char, String)> = Vec::new();
    for c in bare.chars() {
        if c.is_ascii_alphabetic() {
            found.push((c, String::new()));
        } else if let Some((_, number)) = found.last_mut() {
            number.push(c);
        } else {
            return Err(format!("{line}: begins with no letter"));
        }
    }
    let mut words = Vec::new();
    for (letter, text) in found {
        let plain = text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+'));
        let number = text.parse::<f64>().ok().filter(|_| plain);
        words.push((letter, number.ok_or_else(|| format!("{line}: {letter}{text} is no word"))?));
    }
    Ok(words)
}

/// The words of one line by letter; G and M words apart.
#[derive(Debug, Default)]
pub(super) struct Line {
    pub(super) general: Vec<i64>,
    pub(super) various: Vec<i64>,
    values: Vec<(char, f64)>,
}

impl Line {
    pub(super) fn new(line: &str) -> Result<Line, String> {
        let mut new = Line::default();
        for (letter, number) in words(line)? {
            match letter {
                'G' | 'M' => {
                    // G91.1: arc centres from the start.
                    let number = if letter == 'G' && number == 91.1 { 911.0 } else { number };
                    let whole = number as i64;
                    if number < 0.0 || whole as f64 != number {
                        return Err(format!("{line}: {letter}{number} is not known"));
                    }
                    (if letter == 'G' { &mut new.general } else { &mut new.various }).push(whole);
                }
                'X' | 'Y' | 'Z' | 'I' | 'J' | 'F' | 'S' | 'N' | 'P' => {
                    if new.value(letter).is_some() {
                        return Err(format!("{line}: {letter} twice"));
                    }
                    new.values.push((letter, number));
                }
                _ => return Err(format!("{line}: {letter} is not known")),
            }
        }
        for group in [&[0, 1, 2, 3][..], &[20, 21], &[90, 91], &[17], &[94]] {
            if new.general.iter().filter(|word| group.contains(word)).count() > 1 {
                return Err(format!("{line}: two words of one group"));
            }
        }
        for group in [&[3, 4, 5][..], &[0, 1, 2, 30]] {
            if new.various.iter().filter(|word| group.contains(word)).count() > 1 {
                return Err(format!("{line}: two words of one group"));
            }
        }
        Ok(new)
    }

    pub(super) fn value(&self, letter: char) -> Option<f64> {
        self.values.iter().find(|(found, _)| *found == letter).map(|(_, number)| *number)
    }

    pub(super) fn is_blank(&self) -> bool {
        self.general.is_empty()
            && self.various.is_empty()
            && self.values.iter().all(|(letter, _)| *letter == 'N')
    }
}
