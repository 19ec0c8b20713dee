//! What the words of one line say, group by group.

use super::text::Wrong;
use super::words::Word;
use crate::language::{Text, text};
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
    /// M0: until someone presses start; M1: the same where the switch says so.
    Pause,
    /// M2 or M30.
    End,
}

/// How the controller goes round corners.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Corners {
    /// G61: through every point.
    Exact,
    /// G64: past it, by no more than P.
    Rounded,
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
    /// M0, M1, M2, M30.
    pub stop: Option<Stop>,
    /// G61, G64.
    pub corners: Option<Corners>,
    /// M7, M8, M9: nothing of the cut hangs on coolant.
    pub coolant: Option<()>,
    /// M48: the knobs for feed and speed work, as they do from the start.
    pub knobs: Option<()>,
    /// M6: the tool that T names is put in.
    pub change: Option<()>,
    /// O: the program's number.
    pub program: Option<f64>,
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
            wrong.push(text!("read-many-m", most = MOST_M.to_string()));
        }
        if block.mark && words.len() > 1 {
            wrong.push(text!("read-mark-alone"));
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

    /// Whether nothing but numbers of program and line stand here.
    fn is_number_alone(&self) -> bool {
        *self == Block { number: self.number, program: self.program, ..Block::default() }
    }

    fn take(&mut self, word: Word, index: usize) -> Result<(), Wrong> {
        match word.letter {
            'G' => self.take_general(word.number),
            'M' => self.take_miscellaneous(word.number),
            '%' => {
                self.mark = true;
                Ok(())
            }
            'N' if index > 0 => Err(text!("read-line-number")),
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
            'O' => once(&mut self.program, word.number, "O"),
            letter @ ('D' | 'H') => {
                Err(text!("read-tool-table", word = format!("{letter}{}", word.number)))
            }
            letter => Err(text!("read-unknown", word = format!("{letter}{}", word.number))),
        }
    }

    fn take_general(&mut self, number: f64) -> Result<(), Wrong> {
        match tenths(number) {
            Some(0) => once(&mut self.motion, Motion::Rapid, "of-motion"),
            Some(10) => once(&mut self.motion, Motion::Straight, "of-motion"),
            Some(20) => once(&mut self.motion, Motion::Clockwise, "of-motion"),
            Some(30) => once(&mut self.motion, Motion::Anticlockwise, "of-motion"),
            Some(800) => once(&mut self.motion, Motion::Cancel, "of-motion"),
            Some(40) => once(&mut self.dwell, (), "of-dwell"),
            Some(170) => once(&mut self.plane, (), "of-plane"),
            Some(200) => once(&mut self.units, 25.4, "of-units"),
            Some(210) => once(&mut self.units, 1.0, "of-units"),
            Some(400) => once(&mut self.comp, (), "of-cutter-compensation"),
            Some(490) => once(&mut self.length, (), "of-tool-length"),
            Some(540) => once(&mut self.frame, (), "of-frame"),
            Some(900) => once(&mut self.incremental, false, "of-distance"),
            Some(910) => once(&mut self.incremental, true, "of-distance"),
            Some(911) => once(&mut self.centres, (), "of-arc-distance"),
            Some(940) => once(&mut self.per_minute, (), "of-feed-mode"),
            Some(610) => once(&mut self.corners, Corners::Exact, "of-path-control"),
            Some(640) => once(&mut self.corners, Corners::Rounded, "of-path-control"),
            _ => Err(text!(general(number), word = format!("G{number}"))),
        }
    }

    fn take_miscellaneous(&mut self, number: f64) -> Result<(), Wrong> {
        match tenths(number) {
            Some(0 | 10) => once(&mut self.stop, Stop::Pause, "of-stopping"),
            Some(20 | 300) => once(&mut self.stop, Stop::End, "of-stopping"),
            Some(30) => once(&mut self.turn, Turn::Clockwise, "of-spindle"),
            Some(40) => once(&mut self.turn, Turn::Anticlockwise, "of-spindle"),
            Some(50) => once(&mut self.turn, Turn::Stop, "of-spindle"),
            Some(60) => once(&mut self.change, (), "of-tool-change"),
            Some(70 | 80 | 90) => {
                // Mist and flood may both be called for.
                self.coolant = Some(());
                Ok(())
            }
            Some(480) => once(&mut self.knobs, (), "of-override"),
            _ => Err(text!(miscellaneous(number), word = format!("M{number}"))),
        }
    }

    fn contradictions(&self) -> Vec<Wrong> {
        let mut wrong = Vec::new();
        let rounded = self.corners == Some(Corners::Rounded);
        if rounded && self.p.is_none() {
            wrong.push(text!("read-rounded"));
        } else if self.p.is_some() != (self.dwell.is_some() || rounded) {
            wrong.push(text!("read-pause-p"));
        }
        if rounded && self.dwell.is_some() {
            wrong.push(text!("read-whose-p"));
        }
        if self.program.is_some() && !self.is_number_alone() {
            wrong.push(text!("read-number-alone"));
        }
        if self.p.is_some_and(|seconds| seconds < 0.0) {
            wrong.push(text!("read-pause-negative"));
        }
        if self.dwell.is_some() && (self.has_axes() || self.motion.is_some()) {
            wrong.push(text!("read-pause-move"));
        }
        if self.motion == Some(Motion::Cancel) && self.has_axes() {
            wrong.push(text!("read-cancel-place"));
        }
        if self.r.is_some() && (self.i.is_some() || self.j.is_some()) {
            wrong.push(text!("read-arc-both"));
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

/// `what` is a letter, or the key of what such words are about.
fn once<T>(slot: &mut Option<T>, value: T, what: &'static str) -> Result<(), Wrong> {
    if slot.replace(value).is_some() {
        let letter = what.len() == 1;
        let what = if letter { Text::given(what) } else { Text::of(what) };
        return Err(text!("read-two", what));
    }
    Ok(())
}

/// The key of what a G word outside the subset does, and what to do about it.
fn general(number: f64) -> &'static str {
    match tenths(number) {
        Some(100) => "read-sets",
        Some(180 | 190) => "read-plane",
        Some(280 | 300) => "read-home",
        Some(382..=385) => "read-probes",
        Some(410..=422) => "read-compensates",
        Some(430..=432) => "read-length",
        Some(530) => "read-machine-zero",
        Some(550..=593) => "read-other-zero",
        Some(611) => "read-exact-stop",
        Some(730 | 810..=890) => "read-canned",
        Some(901) => "read-arc-centres",
        Some(920..=923) => "read-shifts-zero",
        Some(930 | 950) => "read-feed-mode",
        Some(980 | 990) => "read-of-canned",
        _ => "read-unknown",
    }
}

/// The key of what an M word outside the subset does, and what to do about it.
fn miscellaneous(number: f64) -> &'static str {
    match tenths(number) {
        Some(490) => "read-locks",
        Some(600) => "read-pallet",
        Some(620..=689) => "read-output",
        Some(970..=990) => "read-subroutine",
        _ => "read-unknown",
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
        for (wrong, told) in [
            ("G81X1Z-2R1", "G81 is a canned cycle: write its moves out"),
            ("G41", "G41 shifts the path"),
            ("G18", "G18 turns arcs into another plane"),
            ("G28", "G28 goes home"),
            ("G43", "G43 adds a length offset that is not known here: take it out"),
            ("G92X0", "G92 shifts the zero"),
            ("G53", "G53 counts from the machine's own zero"),
            ("G90.1", "G90.1 counts arc centres from the zero: say G91.1"),
            ("G91.5", "G91.5 is no word"),
            ("G64", "G64 without P"),
            ("M49", "M49 locks"),
            ("M68", "M68 switches an output"),
            ("M98", "M98 calls a subroutine"),
            ("O100X1", "a program number (O) must stand alone"),
            ("X1E3", "E3 is no word"),
            ("A5", "A5 is no word"),
        ] {
            let reasons = block(wrong).unwrap_err();
            assert!(
                reasons.iter().any(|r| r.to_string().starts_with(told)),
                "{wrong}: {reasons:?}"
            );
        }
    }

    #[test]
    fn what_a_joiner_puts_in_is_understood() {
        assert_eq!(block("M1").unwrap().stop, Some(Stop::Pause));
        assert_eq!(block("M8").unwrap().coolant, Some(()));
        assert_eq!(block("M7M8").unwrap().coolant, Some(()));
        assert_eq!(block("M48").unwrap().knobs, Some(()));
        assert_eq!(block("T1M6").unwrap().change, Some(()));
        assert_eq!(block("G61").unwrap().corners, Some(Corners::Exact));
        let rounded = block("G64P0.02").unwrap();
        assert_eq!((rounded.corners, rounded.p), (Some(Corners::Rounded), Some(0.02)));
        assert_eq!(block("O1001").unwrap().program, Some(1001.0));
    }

    #[test]
    fn contradictions_in_a_line_are_refused() {
        for wrong in [
            "X1X2", "G0G1X1", "G20G21", "G90G91", "M3M5", "M2M30", "M0M2", "F1F2", "N1N2", "X1N2",
            "G4", "P1", "G4P-1", "G4P1X5", "G4P1G1", "G80X1", "G2X1I1R2", "%X1", "T1T1",
        ] {
            assert!(block(wrong).is_err(), "{wrong}");
        }
        assert!(
            block("M0M3M3M3M3")
                .unwrap_err()
                .iter()
                .any(|r| r.to_string().starts_with("more than 4"))
        );
    }
}
