//! The state that a program's words build up, line after line. Nothing is assumed: what the
//! program did not say itself is unknown.

use super::arc::{self, Form, NoArc};
use super::block::{Block, Corners, Motion, Stop, Turn};
use super::{End, Pause, Read, Refusal, Rounding, text, words};
use crate::geometry::Edge;
use crate::language::{Text, text};
use crate::prove::motion::{Move, Pace, Spindle};
use crate::prove::tolerance::{ARC_RADII, FURTHEST, MOST_REFUSALS};
use kurbo::{Point, Vec2};

/// The state between two lines.
#[derive(Debug, Default)]
pub(super) struct State {
    read: Read,
    line: usize,
    /// `%` seen so far, and whether any word has been.
    marks: usize,
    spoken: bool,
    /// mm a unit.
    units: Option<f64>,
    plane: bool,
    incremental: Option<bool>,
    motion: Option<Motion>,
    /// mm/min; `None` also after a change of units.
    feed: Option<f64>,
    speed: Option<f64>,
    tool: Option<f64>,
    turn: Option<Turn>,
    /// Line of a pause that may have stopped the spindle since it was last started.
    paused: Option<usize>,
    xy: Option<Point>,
    z: Option<f64>,
    /// A line was refused: words are still read, but where the cutter is no longer known.
    lost: bool,
}

/// Rule and reason of a refusal.
type Why = (&'static str, Text);

const WORD: &str = "prove.word";
const STATE: &str = "prove.state";
const ARC: &str = "prove.arc";
const START: &str = "prove.start";

impl State {
    /// Reads one line.
    pub(super) fn read_line(&mut self, number: usize, line: &str) {
        self.line = number;
        self.read.lines = number;
        let block = text::bare(line)
            .and_then(|bare| words::words(&bare))
            .map_err(|wrong| vec![wrong])
            .and_then(|words| Block::new(&words));
        match block {
            Ok(block) => {
                if let Err((rule, what)) = self.obey(&block) {
                    self.refuse(rule, what, None);
                }
            }
            Err(wrongs) => {
                for wrong in wrongs {
                    self.refuse(WORD, wrong, None);
                }
            }
        }
    }

    /// What was read.
    pub(super) fn finish(self) -> Read {
        self.read
    }

    fn refuse(&mut self, rule: &'static str, what: Text, lengths: Option<(f64, f64)>) {
        self.lost = true;
        if self.read.refusals.len() >= MOST_REFUSALS {
            return;
        }
        self.read.refusals.push(Refusal { rule, line: self.line, what, lengths });
    }

    /// Executes a line in the order of NISTIR 6556 section 3.8.
    fn obey(&mut self, block: &Block) -> Result<(), Why> {
        if block.mark {
            return self.mark();
        }
        if block.is_blank() {
            return Ok(());
        }
        if self.read.end.is_some() || self.marks > 1 {
            return Err(("prove.end", text!("read-after-end")));
        }
        if let Some(number) = block.program {
            return if self.spoken {
                Err((WORD, text!("read-subroutines", number = number.to_string())))
            } else {
                Ok(())
            };
        }
        self.spoken = true;
        if self.lost {
            // What follows a refused line may hang on what it would have said.
            return Ok(());
        }
        self.set_feed(block)?;
        self.set_tool_and_spindle(block)?;
        if let (Some(()), Some(seconds)) = (block.dwell, block.p) {
            self.read.waiting += seconds;
            let turns = self.spindle() != Spindle::Still;
            if let Some(last) = self.read.moves.last_mut().filter(|_| turns) {
                last.dwell += seconds;
            }
        }
        if let (Some(Corners::Rounded), Some(by)) = (block.corners, block.p) {
            let units = self.units.ok_or((STATE, text!("read-p-before-units")))?;
            self.read.roundings.push(Rounding { line: self.line, by: by * units });
        }
        self.plane |= block.plane.is_some();
        self.set_units(block);
        self.incremental = block.incremental.or(self.incremental);
        self.motion = block.motion.or(self.motion);
        self.go(block)?;
        match block.stop {
            Some(Stop::Pause) => {
                self.read.pauses.push(Pause { line: self.line, z: self.z });
                self.paused = Some(self.line);
            }
            Some(Stop::End) => {
                self.read.end = Some(End { line: self.line, z: self.z, spindle: self.started() });
            }
            None => {}
        }
        Ok(())
    }

    /// `%` may open the text and close it after the end of the program.
    fn mark(&mut self) -> Result<(), Why> {
        self.marks += 1;
        let opens = self.marks == 1 && !self.spoken;
        let closes = self.marks <= 2 && self.read.end.is_some();
        if closes {
            self.marks = 2;
        }
        if opens || closes {
            return Ok(());
        }
        Err((WORD, text!("read-mark")))
    }

    fn set_feed(&mut self, block: &Block) -> Result<(), Why> {
        let Some(feed) = block.feed else { return Ok(()) };
        if feed < 0.0 {
            return Err((WORD, text!("read-feed-negative", feed = feed.to_string())));
        }
        // F is executed before the units of its own line: whose units it has is not settled.
        let changes = block.units.is_some() && block.units != self.units;
        match self.units {
            Some(units) if !changes => self.feed = Some(feed * units),
            _ => {
                return Err((STATE, text!("read-feed-before-units")));
            }
        }
        Ok(())
    }

    fn set_tool_and_spindle(&mut self, block: &Block) -> Result<(), Why> {
        if let Some(speed) = block.speed {
            if speed < 0.0 {
                return Err((WORD, text!("read-speed-negative", speed = speed.to_string())));
            }
            self.speed = Some(speed);
        }
        if let Some(tool) = block.tool {
            if self.tool.is_some_and(|first| first.to_bits() != tool.to_bits()) {
                return Err((WORD, text!("read-second-tool", tool = tool.to_string())));
            }
            self.tool = Some(tool);
            self.read.tool.get_or_insert((tool, self.line));
        }
        if block.change.is_some() {
            self.change_tool()?;
        }
        if block.turn.is_some() {
            (self.turn, self.paused) = (block.turn, None);
        }
        Ok(())
    }

    /// The one tool is put in: the spindle is stopped, and the machine may have moved (NISTIR 6556 section 3.6.3),
    /// so that the program has to say anew where it goes.
    fn change_tool(&mut self) -> Result<(), Why> {
        if self.tool.is_none() {
            return Err((WORD, text!("read-change")));
        }
        if self.z.is_some() {
            self.read.pauses.push(Pause { line: self.line, z: self.z });
        }
        (self.turn, self.xy, self.z) = (None, None, None);
        Ok(())
    }

    fn set_units(&mut self, block: &Block) {
        if block.units.is_some() && block.units != self.units {
            // Controllers differ in what a feed means after its units changed: it must be said anew.
            self.feed = None;
            self.units = block.units;
        }
    }

    /// What the spindle surely does: after a pause (M0, M1) some controllers have stopped it, so it counts as
    /// still until it is started anew.
    fn spindle(&self) -> Spindle {
        if self.paused.is_some() { Spindle::Still } else { self.started() }
    }

    /// What it was last told to do.
    fn started(&self) -> Spindle {
        let speed = self.speed.unwrap_or(0.0);
        match self.turn {
            None | Some(Turn::Stop) => Spindle::Still,
            Some(Turn::Clockwise) => Spindle::Clockwise(speed),
            Some(Turn::Anticlockwise) => Spindle::Anticlockwise(speed),
        }
    }

    /// Makes the line's move, if it asks for one.
    fn go(&mut self, block: &Block) -> Result<(), Why> {
        if !block.has_axes() {
            let arc = matches!(block.motion, Some(Motion::Clockwise | Motion::Anticlockwise));
            if arc || block.has_arc_words() {
                return Err((ARC, text!("read-arc-end")));
            }
            return Ok(());
        }
        let motion = self
            .motion
            .filter(|&motion| motion != Motion::Cancel)
            .ok_or_else(|| (STATE, text!("read-no-motion")))?;
        let (units, incremental) = self.frame()?;
        let x = along(block.x, units, incremental, self.xy.map(|p| p.x))?;
        let y = along(block.y, units, incremental, self.xy.map(|p| p.y))?;
        let z = along(block.z, units, incremental, self.z)?;
        match self.xy {
            Some(from) => {
                let (Some(x), Some(y)) = (x, y) else { return Ok(()) };
                self.run(block, motion, from, Point::new(x, y), z)
            }
            None => self.arrive(block, motion, x, y, z),
        }
    }

    fn frame(&self) -> Result<(f64, bool), Why> {
        let missing = |key| (STATE, Text::of(key));
        let units = self.units.ok_or_else(|| missing("read-units-unsaid"))?;
        let incremental = self.incremental.ok_or_else(|| missing("read-distance-unsaid"))?;
        if !self.plane {
            return Err(missing("read-plane-unsaid"));
        }
        Ok((units, incremental))
    }

    /// Moves before X and Y are known: first up, then over the wood in one rapid move.
    fn arrive(
        &mut self,
        block: &Block,
        motion: Motion,
        x: Option<f64>,
        y: Option<f64>,
        z: Option<f64>,
    ) -> Result<(), Why> {
        if block.has_arc_words() || !matches!(motion, Motion::Rapid | Motion::Straight) {
            return Err((ARC, text!("read-arc-unknown")));
        }
        if block.x.is_none() && block.y.is_none() {
            self.z = z;
            self.read.raises.extend(z.map(|z| (self.line, z)));
            return Ok(());
        }
        let fault = |what| Err((START, what));
        let Some(height) = self.z else {
            return fault(text!("read-not-raised"));
        };
        let (Some(x), Some(y)) = (x, y) else {
            return fault(text!("read-first-both"));
        };
        if motion != Motion::Rapid || z != Some(height) {
            return fault(text!("read-first-level"));
        }
        let at = Point::new(x, y);
        self.push(Pace::Rapid, Edge::line(at, at), height, 0.0, true);
        self.xy = Some(at);
        Ok(())
    }

    fn run(
        &mut self,
        block: &Block,
        motion: Motion,
        from: Point,
        to: Point,
        z: Option<f64>,
    ) -> Result<(), Why> {
        let z = z.ok_or_else(|| (STATE, text!("read-height")))?;
        match motion {
            Motion::Rapid | Motion::Straight | Motion::Cancel => {
                if block.has_arc_words() {
                    return Err((WORD, text!("read-arc-words")));
                }
                let pace = if motion == Motion::Rapid {
                    Pace::Rapid
                } else {
                    Pace::Feed(self.feed.unwrap_or(0.0))
                };
                self.push(pace, Edge::line(from, to), z, 0.0, false);
            }
            Motion::Clockwise | Motion::Anticlockwise => {
                let form = self.form(block)?;
                match arc::arc(from, to, motion == Motion::Clockwise, form) {
                    Ok(found) => {
                        let pace = Pace::Feed(self.feed.unwrap_or(0.0));
                        self.push(pace, Edge::Arc(found.arc), z, found.slack, false);
                    }
                    Err(NoArc::Radii(by)) => {
                        let what = text!("read-arc-radii");
                        self.refuse(ARC, what, Some((by, ARC_RADII)));
                    }
                    Err(NoArc::TooFar(by)) => {
                        let what = text!("read-arc-far");
                        self.refuse(ARC, what, Some((by, ARC_RADII)));
                    }
                    Err(NoArc::NoRadius) => return Err((ARC, text!("read-arc-no-radius"))),
                    Err(NoArc::Closed) => {
                        return Err((ARC, text!("read-arc-closed")));
                    }
                    Err(NoArc::Speck) => {
                        return Err((ARC, text!("read-arc-speck")));
                    }
                }
            }
        }
        self.xy = Some(to);
        Ok(())
    }

    /// How the line describes its arc (NISTIR 6556 section 3.5.3).
    fn form(&self, block: &Block) -> Result<Form, Why> {
        let units = self.units.unwrap_or(1.0);
        if block.x.is_none() && block.y.is_none() {
            return Err((ARC, text!("read-arc-end")));
        }
        if let Some(radius) = block.r {
            if radius.abs() * units > FURTHEST {
                return Err((ARC, text!("read-arc-large")));
            }
            return Ok(Form::Radius(radius * units));
        }
        if block.i.is_none() && block.j.is_none() {
            return Err((ARC, text!("read-arc-nothing")));
        }
        let offset = Vec2::new(block.i.unwrap_or(0.0), block.j.unwrap_or(0.0)) * units;
        if offset.x.abs().max(offset.y.abs()) > FURTHEST {
            return Err((ARC, text!("read-arc-outside")));
        }
        Ok(Form::Centre(offset))
    }

    fn push(&mut self, pace: Pace, path: Edge, to_z: f64, slack: f64, arrival: bool) {
        let from_z = self.z.unwrap_or(to_z);
        let (line, spindle, dwell) = (self.line, self.spindle(), 0.0);
        self.z = Some(to_z);
        self.read.moves.push(Move {
            line,
            pace,
            path,
            from_z,
            to_z,
            spindle,
            slack,
            arrival,
            dwell,
        });
    }
}

/// Where an axis ends up, mm; `None` where it is unknown and stays so.
fn along(
    word: Option<f64>,
    units: f64,
    incremental: bool,
    from: Option<f64>,
) -> Result<Option<f64>, Why> {
    let Some(word) = word else { return Ok(from) };
    let to = match (incremental, from) {
        (false, _) => word * units,
        (true, Some(from)) => from + word * units,
        (true, None) => return Err((STATE, text!("read-step-unknown"))),
    };
    if to.abs() > FURTHEST {
        return Err((WORD, text!("read-outside")));
    }
    Ok(Some(to))
}
