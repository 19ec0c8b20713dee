//! A route as RS-274 text (NISTIR 6556).

use super::comment::CommentLine;
use super::route::{Move, Pace, Step};
use super::stages::Job;
use super::{Feeds, Part, Program, SetUp, is_cleaning};
use crate::geometry::{Arc, Edge};
use crate::number::{NotFinite, decimal};
use crate::passes::Stage;
use crate::sash::Sash;
use kurbo::Point;
use std::fmt::Write;

/// The whole program.
///
/// # Errors
/// Where a number in it is not finite.
pub(super) fn write(program: &Program) -> Result<String, NotFinite> {
    let feeds = program.feeds;
    let mut out = Writer { text: String::new(), feeds, state: State::default() };
    for line in program.remarks.as_ref().map_err(|error| *error)? {
        out.remark(line);
    }
    for (index, part) in program.parts.iter().enumerate() {
        if index > 0 {
            out.remark(&stop(index, &program.parts));
            out.line("M0");
            // Somebody was at the machine: nothing is taken to be as it was.
            out.state = State::default();
        }
        out.part(part, program.wait)?;
    }
    out.line("M2");
    Ok(out.text)
}

/// What is said at the stop in front of a part.
fn stop(index: usize, parts: &[Part]) -> String {
    let of = |index: usize| parts.get(index).map_or("", |part| Stage::named(part.stage));
    let (before, after) = (of(index - 1), of(index));
    format!("stop {index} of {}: done, {before}; look; next, {after}", parts.len() - 1)
}

/// What a program says of itself; with a set-up comes how many there are.
///
/// `sash NAME`, `stage NAME` or, where there are several with a stop (M0) between two, `stage N of M - NAME` for
/// each, `set-up N of M` and, where it is so, `turned by 180 degrees`, `zero at X NUMBER Y
/// NUMBER` and `cutter NUMBER mm - N edges - flat end` are read back by `prove`: each begins a line of its own.
/// All else is for people.
pub(super) fn remarks(
    job: &Job,
    parts: &[Part],
    set_up: Option<(SetUp, usize)>,
) -> Result<Vec<String>, NotFinite> {
    let Job { sash, fit, plan, workshop } = job;
    let mut lines = vec![
        format!("Fillister {}", env!("CARGO_PKG_VERSION")),
        format!("sash {}", sash.measured.id),
    ];
    lines.extend(parts.iter().enumerate().map(|(index, part)| {
        let number = match parts {
            [_] => String::new(),
            _ => format!("{} of {}: ", index + 1, parts.len()),
        };
        let off = if part.stage.is_some() { "" } else { ": spindle off" };
        format!("stage {number}{}{off}", Stage::named(part.stage))
    }));
    if let Some((set_up, count)) = set_up {
        let turned = if set_up.place.turned { " turned by 180 degrees" } else { "" };
        lines.push(format!("set-up {} of {count}{turned}", set_up.number));
    }
    lines.extend([
        zero(sash, set_up.as_ref().map(|(set_up, _)| set_up))?,
        format!(
            "cutter {} mm, {} edges, flat end",
            number(workshop.cutter.diameter)?,
            workshop.cutter.flutes
        ),
        "glazing face up; X right, Y up as you look down on it".into(),
        format!("new platform {} mm below the glazing face", number(fit.depth)?),
        format!("about {:.0} min", parts.iter().map(|part| part.minutes).sum::<f64>()),
    ]);
    let changed = plan.passes.iter().any(|pass| pass.stage == Stage::CleanCorners);
    if parts.iter().any(is_cleaning) {
        lines.push("put this cutter in and set Z zero anew; X and Y stay".into());
    } else if changed
        && set_up.is_some_and(|(set_up, _)| set_up.number > 1)
        && parts.first().is_some_and(|part| part.stage.is_none())
    {
        lines.push("put this cutter in again and set Z zero anew".into());
    }
    lines.extend(face(sash, set_up.as_ref().map(|(set_up, _)| set_up))?);
    let last = parts.last().and_then(|part| part.stage);
    let last = last.and_then(|stage| plan.passes.iter().rfind(|pass| pass.stage == stage));
    if let Some(pass) = last {
        lines.push(format!("after this program {:.1} mm of wood is left under", pass.left.under));
        if let Some(beside) = pass.left.beside {
            lines.push(format!("and {beside:.1} mm beside the cut, at the least"));
        }
        lines.push("keep the openings free of boards, clamps and metal".into());
        lines.push("guard eyes, ears and lungs; old paint may hold lead".into());
    }
    Ok(lines)
}

/// Where X0 Y0 and Z0 lie: as a line of the head that `prove` reads back.
fn zero(sash: &Sash, set_up: Option<&SetUp>) -> Result<String, NotFinite> {
    let z = z_zero(sash);
    let Some(set_up) = set_up else {
        return Ok(format!("zero at X 0 Y 0: the lower left corner of the sight; Z {z}"));
    };
    let [x, y] = set_up.place.origin;
    let (x, y) = (number(x)?, number(y)?);
    Ok(format!(
        "zero at X {x} Y {y} of the sash, counted from the lower left corner of the sight; Z {z}"
    ))
}

fn z_zero(sash: &Sash) -> &'static str {
    if sash.measured.surface.is_empty() {
        "on the face"
    } else {
        "where the heights of the face count from"
    }
}

/// Where to touch a face that is not flat, and what it then reads, in the program's own frame; nothing for
/// a flat one.
fn face(sash: &Sash, set_up: Option<&SetUp>) -> Result<Option<String>, NotFinite> {
    let middle = set_up.map_or(Point::ZERO, |set_up| set_up.window.center());
    let places = sash.measured.surface.iter().map(|height| height.at);
    let Some(at) = places.min_by(|a, b| a.distance(middle).total_cmp(&b.distance(middle))) else {
        return Ok(None);
    };
    let z = sash.measured.warp().surface.height(at);
    let place = set_up.map_or(at, |set_up| set_up.place.local(at));
    Ok(Some(format!(
        "depths follow the face of this sash as it was measured: touch it at X {} Y {}, and Z has to read \
         {}; never run this on another sash",
        number(place.x)?,
        number(place.y)?,
        decimal(z, 2)?
    )))
}

/// Arcs shorter than this are written as straight, mm. As arcs they may end where they begin, or a digit
/// before it, once both are rounded, and would be read as a whole circle.
const SHORTEST_ARC: f64 = 0.001;

#[derive(Default)]
struct State {
    motion: Option<&'static str>,
    feed: Option<f64>,
    at: Option<Point>,
    z: Option<f64>,
}

struct Writer {
    text: String,
    feeds: Feeds,
    state: State,
}

impl Writer {
    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    fn remark(&mut self, text: &str) {
        for line in CommentLine::wrap(text) {
            self.line(&line.to_string());
        }
    }

    /// A stage from its modes to where the spindle stands.
    fn part(&mut self, part: &Part, wait: f64) -> Result<(), NotFinite> {
        self.line("G17 G21 G90 G91.1 G94");
        self.line("G40 G49 G80");
        if part.stage.is_some() {
            self.line(&format!("S{} M3", number(self.feeds.speed)?));
            if wait > 0.0 {
                self.line(&format!("G4 P{}", number(wait)?));
            }
        }
        for step in part.route.steps() {
            match step {
                Step::Remark(text) => self.remark(text),
                Step::Move(step) => self.step(step)?,
            }
        }
        self.line("M5");
        Ok(())
    }

    fn step(&mut self, step: &Move) -> Result<(), NotFinite> {
        match *step {
            Move::Z { to, pace } => {
                if self.state.z == Some(to) {
                    return Ok(());
                }
                self.state.z = Some(to);
                let word = if pace == Pace::Rapid { "G0" } else { "G1" };
                self.words(word, &format!("Z{}", number(to)?), pace)
            }
            Move::Plane { along, pace } => self.plane(&along, None, pace),
            Move::Slope { along, to, pace } => self.plane(&along, Some(to), pace),
        }
    }

    /// Along an edge, with a Z where that changes to the last digit written.
    fn plane(&mut self, along: &Edge, z: Option<f64>, pace: Pace) -> Result<(), NotFinite> {
        let to = along.end();
        let short = matches!(along, Edge::Arc(_)) && along.length() < SHORTEST_ARC;
        let along = if short { &Edge::line(to, to) } else { along };
        let stays = match (self.state.z, z) {
            (Some(at), Some(to)) => number(at)? == number(to)?,
            _ => false,
        };
        let z = if stays { None } else { z };
        let mut axes = match along {
            Edge::Line(_) => self.axes(to)?,
            Edge::Arc(arc) => arc_axes(arc, to, z)?,
        };
        let word = match along {
            _ if pace == Pace::Rapid => "G0",
            Edge::Line(_) => "G1",
            Edge::Arc(arc) if arc.sweep < 0.0 => "G2",
            Edge::Arc(_) => "G3",
        };
        if let (Edge::Line(_), Some(z)) = (along, z) {
            let space = if axes.is_empty() { "" } else { " " };
            // Writing to a String cannot fail.
            let _ = write!(axes, "{space}Z{}", number(z)?);
        }
        self.state.at = Some(to);
        self.state.z = z.or(self.state.z);
        if axes.is_empty() { Ok(()) } else { self.words(word, &axes, pace) }
    }

    /// X and Y words, where they differ from where the cutter stands.
    fn axes(&self, to: Point) -> Result<String, NotFinite> {
        let at = self.state.at;
        let mut words = Vec::new();
        for (axis, to, at) in [("X", to.x, at.map(|at| at.x)), ("Y", to.y, at.map(|at| at.y))] {
            let to = number(to)?;
            if at.map(number).transpose()?.as_ref() != Some(&to) {
                words.push(format!("{axis}{to}"));
            }
        }
        Ok(words.join(" "))
    }

    fn words(&mut self, motion: &'static str, axes: &str, pace: Pace) -> Result<(), NotFinite> {
        let mut line = String::new();
        if self.state.motion != Some(motion) {
            line.push_str(motion);
            line.push(' ');
            self.state.motion = Some(motion);
        }
        line.push_str(axes);
        let feed = match pace {
            Pace::Rapid => None,
            Pace::Cut => Some(self.feeds.cut),
            Pace::Down => Some(self.feeds.down),
        };
        if let Some(feed) = feed.filter(|feed| self.state.feed != Some(*feed)) {
            // Writing to a String cannot fail.
            let _ = write!(line, " F{}", number(feed)?);
            self.state.feed = Some(feed);
        }
        self.line(&line);
        Ok(())
    }
}

/// End, and centre from the start as it was written: both rounded, so that the radii at start and end
/// agree within 0.00025 mm where NISTIR 6556 allows 0.002.
fn arc_axes(arc: &Arc, to: Point, z: Option<f64>) -> Result<String, NotFinite> {
    let start = Edge::Arc(*arc).start();
    let offset = arc.centre - Point::new(rounded(start.x), rounded(start.y));
    let z = z.map(number).transpose()?.map_or_else(String::new, |z| format!(" Z{z}"));
    let [x, y, i, j] = [number(to.x)?, number(to.y)?, number(offset.x)?, number(offset.y)?];
    Ok(format!("X{x} Y{y}{z} I{i} J{j}"))
}

fn rounded(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}

/// Four decimals at most: in arcs that keeps both radii within 0.00025 mm.
fn number(value: f64) -> Result<String, NotFinite> {
    Ok(decimal(value, 4)?.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    // What lies between two arcs and a wall may be an arc of no length: no circle may come of it.
    #[test]
    fn an_arc_of_no_length_is_no_circle() {
        let feeds = Feeds { speed: 1.0, cut: 1.0, down: 1.0 };
        let state =
            State { motion: Some("G1"), at: Some(Point::new(100.0, 0.0)), ..State::default() };
        let mut out = Writer { text: String::new(), feeds, state };
        let arc = |sweep| Edge::Arc(Arc { centre: Point::ZERO, radius: 100.0, start: 0.0, sweep });
        for sweep in [1e-7, -1e-7, 9e-6] {
            out.step(&Move::Plane { along: arc(sweep), pace: Pace::Cut }).unwrap();
        }
        assert!(!out.text.contains(['I', 'J']), "{}", out.text);
        out.step(&Move::Plane { along: arc(2.0 * std::f64::consts::PI), pace: Pace::Cut }).unwrap();
        assert!(out.text.contains("I-100 J"), "{}", out.text);
    }
}
