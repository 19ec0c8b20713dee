//! What the words of one line say, group by group.

use super::text::Wrong;
use super::words::Word;
use crate::prove::tolerance::ROUNDING;

/// Motion words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Motion {
    /// G0.
    Rapid,
    /// G1.
    Straight,
    /// G2.
    Clockwise,
    /// G3.
    Anticlockwise,
    /// G80: no motion mode.
    Cancel,
}

/// Spindle words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Turn {
    /// M3.
    Clockwise,
    /// M4.
    Anticlockwise,
    /// M5.
    Stop,
}

/// Words that stop the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stop {
    /// M0: until someone presses start.
    Pause,
    /// M2 or M30.
    End,
}

/// One line. A field is `None` where the line does not say it.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Block {
    /// `%` stands on the line.
    pub mark: bool,
    /// G0 to G3, G80.
    pub motion: Option<Motion>,
    /// G17.
    pub plane: Option<()>,
    /// G20 and G21: mm a unit.
    pub units: Option<f64>,
    /// G90 (false), G91 (true).
    pub incremental: Option<bool>,
    /// G91.1: arc centres from the start point.
    pub centres: Option<()>,
    /// G94: feed a minute.
    pub per_minute: Option<()>,
    /// G40: cutter compensation off.
    pub comp: Option<()>,
    /// G49: tool length off.
    pub length: Option<()>,
    /// G54: first frame.
    pub frame: Option<()>,
    /// G4.
    pub dwell: Option<()>,
    /// M3, M4, M5.
    pub turn: Option<Turn>,
    /// M0, M2, M30.
    pub stop: Option<Stop>,
    pub feed: Option<f64>,
    pub speed: Option<f64>,
    pub tool: Option<f64>,
    pub number: Option<f64>,
    pub x: Option<f64>,
    pub y: Option<f64>,
    pub z: Option<f64>,
    pub i: Option<f64>,
    pub j: Option<f64>,
    pub r: Option<f64>,
    pub p: Option<f64>,
}

/// Most M words in a line (NISTIR 6556 section 3.3.2).
const MOST_M: usize = 4;

impl Block {
    /// Sorts `words` into their modal groups (NISTIR 6556 section 3.4).
    ///
    /// # Errors
    /// Every word that this room cannot judge, by name; two words of one group or one letter.
    pub(super) fn new(words: &[Word]) -> Result<Block, Vec<Wrong>> {
        let mut block = Block::default();
        let mut wrong = Vec::new();
        for (index, word) in words.iter().enumerate() {
            if let Err(reason) = block.take(*word, index) {
                wrong.push(reason);
            }
        }
        if words.iter().filter(|word| word.letter == 'M').count() > MOST_M {
            wrong.push(format!("more than {MOST_M} M words in one line"));
        }
        if block.mark && words.len() > 1 {
            wrong.push("`%` must stand alone in its line".into());
        }
        wrong.extend(block.contradictions());
        if wrong.is_empty() { Ok(block) } else { Err(wrong) }
    }

    /// Whether any word asks for a place or a way round.
    pub(super) fn has_axes(&self) -> bool {
        [self.x, self.y, self.z].iter().any(Option::is_some)
    }

    /// Whether any word describes an arc.
    pub(super) fn has_arc_words(&self) -> bool {
        [self.i, self.j, self.r].iter().any(Option::is_some)
    }

    /// Whether the line says nothing.
    pub(super) fn is_blank(&self) -> bool {
        *self == Block { number: self.number, ..Block::default() }
    }

    fn take(&mut self, word: Word, index: usize) -> Result<(), Wrong> {
        match word.letter {
            'G' => self.take_general(word.number),
            'M' => self.take_miscellaneous(word.number),
            '%' => {
                self.mark = true;
                Ok(())
            }
            'N' if index > 0 => Err("a line number that does not begin its line".into()),
            'N' => once(&mut self.number, word.number, "N"),
            'F' => once(&mut self.feed, word.number, "F"),
            'S' => once(&mut self.speed, word.number, "S"),
            'T' => once(&mut self.tool, word.number, "T"),
            'X' => once(&mut self.x, word.number, "X"),
            'Y' => once(&mut self.y, word.number, "Y"),
            'Z' => once(&mut self.z, word.number, "Z"),
            'I' => once(&mut self.i, word.number, "I"),
            'J' => once(&mut self.j, word.number, "J"),
            'R' => once(&mut self.r, word.number, "R"),
            'P' => once(&mut self.p, word.number, "P"),
            'O' => Err(format!("O{} (subroutines and program numbers)", word.number)),
            letter => Err(format!("{letter}{} (no such word here)", word.number)),
        }
    }

    fn take_general(&mut self, number: f64) -> Result<(), Wrong> {
        match tenths(number) {
            Some(0) => once(&mut self.motion, Motion::Rapid, "motion"),
            Some(10) => once(&mut self.motion, Motion::Straight, "motion"),
            Some(20) => once(&mut self.motion, Motion::Clockwise, "motion"),
            Some(30) => once(&mut self.motion, Motion::Anticlockwise, "motion"),
            Some(800) => once(&mut self.motion, Motion::Cancel, "motion"),
            Some(40) => once(&mut self.dwell, (), "dwell"),
            Some(170) => once(&mut self.plane, (), "plane"),
            Some(200) => once(&mut self.units, 25.4, "units"),
            Some(210) => once(&mut self.units, 1.0, "units"),
            Some(400) => once(&mut self.comp, (), "cutter compensation"),
            Some(490) => once(&mut self.length, (), "tool length"),
            Some(540) => once(&mut self.frame, (), "frame"),
            Some(900) => once(&mut self.incremental, false, "distance"),
            Some(910) => once(&mut self.incremental, true, "distance"),
            Some(911) => once(&mut self.centres, (), "arc distance"),
            Some(940) => once(&mut self.per_minute, (), "feed mode"),
            _ => Err(format!("G{number} ({})", general_name(number))),
        }
    }

    fn take_miscellaneous(&mut self, number: f64) -> Result<(), Wrong> {
        match tenths(number) {
            Some(0) => once(&mut self.stop, Stop::Pause, "stopping"),
            Some(20 | 300) => once(&mut self.stop, Stop::End, "stopping"),
            Some(30) => once(&mut self.turn, Turn::Clockwise, "spindle"),
            Some(40) => once(&mut self.turn, Turn::Anticlockwise, "spindle"),
            Some(50) => once(&mut self.turn, Turn::Stop, "spindle"),
            _ => Err(format!("M{number} ({})", miscellaneous_name(number))),
        }
    }

    fn contradictions(&self) -> Vec<Wrong> {
        let mut wrong = Vec::new();
        if self.p.is_some() != self.dwell.is_some() {
            wrong.push("G4 and P belong together in a line, and P nowhere else".into());
        }
        if self.p.is_some_and(|seconds| seconds < 0.0) {
            wrong.push("a pause of less than no time".into());
        }
        if self.dwell.is_some() && (self.has_axes() || self.motion.is_some()) {
            wrong.push("a pause (G4) and a move in one line".into());
        }
        if self.motion == Some(Motion::Cancel) && self.has_axes() {
            wrong.push("a place to go to beside G80, which ends the motion mode".into());
        }
        if self.r.is_some() && (self.i.is_some() || self.j.is_some()) {
            wrong.push("an arc with both a radius (R) and a centre (I, J)".into());
        }
        wrong
    }
}

/// Tenths of a code's number where that is a small whole number: `G91.1` is 911. Codes with more
/// decimals give `None`, so that none is mistaken for its neighbour.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 2000, checked")]
fn tenths(number: f64) -> Option<u32> {
    let tenfold = number * 10.0;
    let whole = tenfold.round();
    let small = (0.0..=2000.0).contains(&whole) && (tenfold - whole).abs() < ROUNDING;
    small.then_some(whole as u32)
}

fn once<T>(slot: &mut Option<T>, value: T, what: &str) -> Result<(), Wrong> {
    if slot.replace(value).is_some() {
        return Err(format!("two {what} words in one line"));
    }
    Ok(())
}

/// What a G word outside the subset would do.
fn general_name(number: f64) -> &'static str {
    match tenths(number) {
        Some(100) => "set a frame or a tool",
        Some(180 | 190) => "another plane",
        Some(280 | 300) => "go home by a way that is not written down",
        Some(382..=385) => "probing",
        Some(410..=422) => "cutter compensation",
        Some(430..=432) => "tool length",
        Some(530) => "machine frame for one line",
        Some(550..=593) => "another frame",
        Some(610..=640) => "path control",
        Some(730 | 810..=890) => "canned cycle",
        Some(901) => "absolute arc centres",
        Some(920..=923) => "shifted frame",
        Some(930 | 950) => "another feed mode",
        Some(980 | 990) => "return of canned cycles",
        _ => "no such word here",
    }
}

/// What an M word outside the subset would do.
fn miscellaneous_name(number: f64) -> &'static str {
    match tenths(number) {
        Some(10) => "stop where the switch says so",
        Some(60) => "change the tool",
        Some(70 | 80 | 90) => "coolant",
        Some(480 | 490) => "overrides",
        Some(600) => "change the pallet",
        Some(970..=990) => "subroutine",
        _ => "no such word here",
    }
}

#[cfg(test)]
mod tests {
    use super::super::words::words;
    use super::*;

    fn block(bare: &str) -> Result<Block, Vec<Wrong>> {
        Block::new(&words(bare).unwrap())
    }

    #[test]
    fn words_fall_into_their_groups() {
        let read = block("N5G1G91G20X1Y2F3S4M3M2").unwrap();
        assert_eq!(read.motion, Some(Motion::Straight));
        assert_eq!((read.incremental, read.units), (Some(true), Some(25.4)));
        assert_eq!((read.x, read.y, read.z), (Some(1.0), Some(2.0), None));
        assert_eq!((read.turn, read.stop), (Some(Turn::Clockwise), Some(Stop::End)));
        assert_eq!(block("G91.1").unwrap().centres, Some(()));
        assert!(block("N7").unwrap().is_blank());
    }

    #[test]
    fn words_outside_the_subset_are_refused_by_name() {
        for (wrong, name) in [
            ("G81X1Z-2R1", "G81 (canned cycle)"),
            ("G41", "G41 (cutter compensation)"),
            ("G18", "G18 (another plane)"),
            ("G28", "G28 (go home"),
            ("G92X0", "G92 (shifted frame)"),
            ("G53", "G53 (machine frame"),
            ("G90.1", "G90.1 (absolute arc centres)"),
            ("G91.5", "G91.5 (no such"),
            ("G64", "G64 (path control)"),
            ("M6", "M6 (change the tool)"),
            ("M8", "M8 (coolant)"),
            ("O100", "O100 (subroutines"),
            ("X1E3", "E3 (no such"),
            ("A5", "A5 (no such"),
        ] {
            let reasons = block(wrong).unwrap_err();
            assert!(reasons.iter().any(|r| r.starts_with(name)), "{wrong}: {reasons:?}");
        }
    }

    #[test]
    fn contradictions_in_a_line_are_refused() {
        for wrong in [
            "X1X2", "G0G1X1", "G20G21", "G90G91", "M3M5", "M2M30", "M0M2", "F1F2", "N1N2", "X1N2",
            "G4", "P1", "G4P-1", "G4P1X5", "G4P1G1", "G80X1", "G2X1I1R2", "%X1", "T1T1",
        ] {
            assert!(block(wrong).is_err(), "{wrong}");
        }
        assert!(block("M0M3M3M3M3").unwrap_err().iter().any(|r| r.starts_with("more than 4")));
    }
}
