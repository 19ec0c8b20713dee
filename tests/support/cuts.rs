//! Cuts of the planner's programs, word by word: taken apart, chopped up, and followed.

use kurbo::{Point, Vec2};
use std::f64::consts::TAU;
use std::fmt::Write;

/// The number of the word of that letter.
pub(crate) fn word(line: &str, letter: char) -> Option<f64> {
    if line.starts_with('(') {
        return None;
    }
    line.split_whitespace().find_map(|word| word.strip_prefix(letter)).and_then(|n| n.parse().ok())
}

/// The line with another Z.
pub(crate) fn with_z(line: &str, z: f64) -> String {
    let words = line.split_whitespace();
    let words =
        words.map(|word| if word.starts_with('Z') { format!("Z{z:.4}") } else { word.to_owned() });
    words.collect::<Vec<_>>().join(" ")
}

/// The program with its straight cuts in moves of at most `length` mm, and every Z another.
pub(crate) fn chopped(text: &str, length: f64, other: impl Fn(f64) -> f64) -> String {
    let (mut motion, mut at, mut out) = (String::new(), [f64::NAN; 3], String::new());
    for line in text.lines() {
        for word in line.split_whitespace().filter(|_| !line.starts_with('(')) {
            if ["G0", "G1", "G2", "G3"].contains(&word) {
                word.clone_into(&mut motion);
            }
        }
        let z = word(line, 'Z').map(&other);
        let line = z.map_or_else(|| line.to_owned(), |z| with_z(line, z));
        let to = [('X', at[0]), ('Y', at[1]), ('Z', at[2])]
            .map(|(letter, was)| word(&line, letter).unwrap_or(was));
        let way = (to[0] - at[0]).hypot(to[1] - at[1]);
        if motion == "G1" && way > length {
            // A feed word of the line holds from here on.
            let feed = word(&line, 'F').map_or_else(String::new, |feed| format!("F{feed}\n"));
            write!(out, "{feed}").unwrap();
            let count = (way / length).ceil();
            let mut index = 1.0;
            while index <= count {
                let [x, y, z] =
                    [0, 1, 2].map(|axis: usize| at[axis] + (to[axis] - at[axis]) * index / count);
                writeln!(out, "G1 X{x:.4} Y{y:.4} Z{z:.4}").unwrap();
                index += 1.0;
            }
        } else {
            writeln!(out, "{line}").unwrap();
        }
        at = to;
    }
    out
}

/// Places along every cut, with Z there: eight parts a move, arcs round their centre.
pub(crate) fn along_cuts(text: &str) -> Vec<(Point, f64)> {
    let (mut motion, mut at, mut z, mut places) = (String::new(), Point::ZERO, 0.0, Vec::new());
    for line in text.lines().filter(|line| !line.starts_with('(')) {
        for word in line.split_whitespace().filter(|word| ["G0", "G1", "G2", "G3"].contains(word)) {
            word.clone_into(&mut motion);
        }
        let to = Point::new(word(line, 'X').unwrap_or(at.x), word(line, 'Y').unwrap_or(at.y));
        let to_z = word(line, 'Z').unwrap_or(z);
        let centre = at + Vec2::new(word(line, 'I').unwrap_or(0.0), word(line, 'J').unwrap_or(0.0));
        let turn =
            |way: f64| (way * ((to - centre).atan2() - (at - centre).atan2())).rem_euclid(TAU);
        for share in
            (0..=8).map(|part| f64::from(part) / 8.0).filter(|_| to != at && motion != "G0")
        {
            let spin = |way: f64| {
                let angle = (at - centre).atan2() + way * turn(way) * share;
                centre + (at - centre).hypot() * Vec2::from_angle(angle)
            };
            let place = match motion.as_str() {
                "G2" => spin(-1.0),
                "G3" => spin(1.0),
                _ => at.lerp(to, share),
            };
            places.push((place, z + (to_z - z) * share));
        }
        (at, z) = (to, to_z);
    }
    places
}
