//! What a program makes the cutter do: a trivial interpreter, for the words that the planner writes
//! and no others. Rules that a program breaks by its words alone come back as harm.

use super::path::{Path, Place, apart};
use super::words::Line;
use std::f64::consts::TAU;

/// One move of the tip.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Move {
    pub(super) line: usize,
    pub(super) rapid: bool,
    /// mm/min; zero if none was said.
    pub(super) feed: f64,
    pub(super) path: Path,
    pub(super) from_z: f64,
    pub(super) to_z: f64,
    /// 3, 4 or 5, as the last M word said.
    pub(super) spindle: i64,
    pub(super) speed: f64,
    /// How long the tip then stands, s.
    pub(super) dwell: f64,
}

/// A program.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Run {
    pub(super) moves: Vec<Move>,
    /// Heights gone to before the place over the wood was known.
    pub(super) raises: Vec<f64>,
    /// Heights of pauses, and of the end.
    pub(super) halts: Vec<Option<f64>>,
    pub(super) ended: bool,
    /// Spindle at the end.
    pub(super) spindle: i64,
    /// Neither right nor wrong for sure.
    pub(super) doubts: Vec<String>,
}

/// Most that the two radii of an arc may differ, mm: NISTIR 6556 section 3.5.3 (P).
const RADII: f64 = 0.002;

#[derive(Debug, Default)]
struct State {
    run: Run,
    units: Option<f64>,
    incremental: Option<bool>,
    plane: bool,
    motion: Option<i64>,
    feed: f64,
    speed: f64,
    spindle: i64,
    /// Stopped by a pause, on some controllers.
    paused: bool,
    place: Option<Place>,
    z: Option<f64>,
}

/// Interprets `text`.
pub(super) fn read(text: &str) -> Result<Run, String> {
    let mut state = State { spindle: 5, ..State::default() };
    for (index, line) in text.lines().enumerate() {
        let words = Line::new(line)?;
        state.obey(index + 1, &words).map_err(|harm| format!("line {}: {harm}", index + 1))?;
    }
    state.run.spindle = state.spindle;
    Ok(state.run)
}

impl State {
    fn obey(&mut self, number: usize, words: &Line) -> Result<(), String> {
        if words.is_blank() {
            return Ok(());
        }
        if self.run.ended {
            return Err("words after the end".into());
        }
        if let Some(feed) = words.value('F') {
            if feed < 0.0 {
                return Err("a feed below zero".into());
            }
            self.feed = feed * self.units.ok_or("a feed before its units")?;
        }
        if let Some(speed) = words.value('S') {
            self.speed = speed;
        }
        for word in &words.various {
            match word {
                3..=5 => (self.spindle, self.paused) = (*word, false),
                0 | 1 | 2 | 30 => {}
                _ => return Err(format!("M{word} is not known")),
            }
        }
        for word in &words.general {
            match word {
                0..=3 => self.motion = Some(*word),
                17 => self.plane = true,
                20 | 21 => self.set_units(if *word == 20 { 25.4 } else { 1.0 }),
                90 | 91 => self.incremental = Some(*word == 91),
                80 => self.motion = None,
                40 | 49 | 94 | 911 => {}
                4 => {
                    let seconds = words.value('P').ok_or("a pause of no length")?;
                    if let Some(last) = self.run.moves.last_mut() {
                        last.dwell += seconds;
                    }
                }
                _ => return Err(format!("G{word} is not known")),
            }
        }
        self.go(number, words)?;
        if words.various.iter().any(|word| matches!(word, 0 | 1 | 2 | 30)) {
            self.run.halts.push(self.z);
            let pauses = words.various.iter().any(|word| matches!(word, 0 | 1));
            self.run.ended |= !pauses;
            self.paused |= pauses;
        }
        Ok(())
    }

    fn set_units(&mut self, units: f64) {
        if self.units != Some(units) {
            self.feed = 0.0;
        }
        self.units = Some(units);
    }

    fn go(&mut self, number: usize, words: &Line) -> Result<(), String> {
        let moves = ['X', 'Y', 'Z'].iter().any(|&axis| words.value(axis).is_some());
        let bent = words.value('I').is_some() || words.value('J').is_some();
        let starts_arc = words.general.iter().any(|word| matches!(word, 2 | 3));
        if !moves {
            return if bent || starts_arc { Err("an arc without an end".into()) } else { Ok(()) };
        }
        let motion = self.motion.ok_or("a place without a motion word")?;
        let units = self.units.ok_or("a place without units")?;
        let incremental = self.incremental.ok_or("neither absolute nor incremental")?;
        if !self.plane {
            return Err("no plane".into());
        }
        let to = |axis: char, before: Option<f64>| match words.value(axis) {
            None => Ok(before),
            Some(value) if !incremental => Ok(Some(value * units)),
            Some(value) => before.map(|z| Some(z + value * units)).ok_or("a step from nowhere"),
        };
        let x = to('X', self.place.map(|place| place.0))?;
        let y = to('Y', self.place.map(|place| place.1))?;
        let z = to('Z', self.z)?;
        if bent && motion < 2 {
            return Err("a straight move with a centre".into());
        }
        let Some(from) = self.place else {
            return self.arrive(number, motion, (words, x, y, z));
        };
        let (end, Some(to_z)) = ((x.unwrap_or(from.0), y.unwrap_or(from.1)), z) else {
            return Err("an unknown height".into());
        };
        let path = if motion < 2 {
            Path::Line(from, end)
        } else {
            if words.value('X').is_none() && words.value('Y').is_none() {
                return Err("an arc without an end".into());
            }
            if !bent {
                return Err("an arc without a centre".into());
            }
            let centre = [words.value('I'), words.value('J')].map(|v| v.unwrap_or(0.0) * units);
            self.arc(from, end, (from.0 + centre[0], from.1 + centre[1]), motion == 2)?
        };
        self.push(number, path, to_z);
        self.place = Some(end);
        Ok(())
    }

    /// The first moves: up, then over the wood in one level rapid move to a known place.
    fn arrive(
        &mut self,
        number: usize,
        motion: i64,
        (words, x, y, z): (&Line, Option<f64>, Option<f64>, Option<f64>),
    ) -> Result<(), String> {
        if motion >= 2 {
            return Err("an arc from nowhere".into());
        }
        if words.value('X').is_none() && words.value('Y').is_none() {
            self.z = z;
            self.run.raises.extend(z);
            return Ok(());
        }
        let (Some(x), Some(y), Some(height)) = (x, y, self.z) else {
            return Err("from an unknown place over the wood".into());
        };
        if motion != 0 || z != Some(height) {
            return Err("the first move over the wood is no level rapid move".into());
        }
        self.push(number, Path::Line((x, y), (x, y)), height);
        self.place = Some((x, y));
        Ok(())
    }

    fn arc(
        &mut self,
        from: Place,
        to: Place,
        centre: Place,
        clockwise: bool,
    ) -> Result<Path, String> {
        let (first, last) = (apart(from, centre), apart(to, centre));
        let off = (first - last).abs();
        if first.min(last) < 0.001 {
            return Err("an arc without a radius".into());
        }
        if off > RADII + 1e-4 {
            return Err(format!("radii of an arc differ by {off}"));
        }
        if off > RADII - 1e-4 {
            self.run.doubts.push("radii differ by all that is allowed".into());
        }
        let angle = |p: Place| (p.1 - centre.1).atan2(p.0 - centre.0);
        let chord = apart(from, to);
        if chord > 0.0 && chord < 0.001 {
            return Err("an arc that is a speck or a whole turn".into());
        }
        let turn = (angle(to) - angle(from)).rem_euclid(TAU);
        let turn = match (chord == 0.0, clockwise) {
            (true, true) => -TAU,
            (true, false) => TAU,
            (false, true) => turn - TAU,
            (false, false) => turn,
        };
        Ok(Path::Arc(centre, f64::midpoint(first, last), angle(from), turn))
    }

    fn push(&mut self, line: usize, path: Path, to_z: f64) {
        let from_z = self.z.unwrap_or(to_z);
        self.z = Some(to_z);
        let spindle = if self.paused { 5 } else { self.spindle };
        let (rapid, feed, speed, dwell) = (self.motion == Some(0), self.feed, self.speed, 0.0);
        self.run.moves.push(Move { line, rapid, feed, path, from_z, to_z, spindle, speed, dwell });
    }
}
