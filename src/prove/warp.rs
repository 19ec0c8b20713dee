//! A sash that is not flat: what was read is laid back onto a flat one before it is judged.
//!
//! Each move is divided, and its Z lowered by as much as the face lies above its flat place there. So a
//! program is judged by the wood it leaves, whoever wrote it.
//!
//! Promised: what is judged lies within `SNAP` of the tolerance from the true height of the cutter's
//! axis above the face; with the rim of its flat end, which stands off a leaning face, that is the
//! error, and it is taken off the tolerance, so that both gouges and wood left are found as promised.
//! Not promised: walls square to a leaning face; they stay upright as the cutter does.

use super::Setup;
use super::motion::{Move, Pace, piece};
use super::reader::Read;
use crate::geometry::Surface;
use crate::prove::tolerance::{GENTLE, LEFT_TO_JUDGE, MOST_MOVES, PART, SNAP};
use kurbo::Rect;

/// Why programs cannot be laid flat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum NotFlattened {
    /// The cutter's rim stands this far off the face, where this is allowed, mm.
    Lean(f64, f64),
    /// So many moves would be needed, where so many are allowed.
    Moves(f64, f64),
}

/// The moves on a flat sash, and the setup they are judged by.
pub(super) fn lay_flat(read: Vec<Read>, setup: &Setup) -> Result<(Vec<Read>, Setup), NotFlattened> {
    if setup.surface == Surface::FLAT {
        return Ok((read, setup.clone()));
    }
    let within = PART * setup.tolerance;
    let moves = || read.iter().flat_map(|read| &read.moves);
    let mut count = 0.0;
    let mut around: Option<Rect> = None;
    for mv in moves() {
        count += setup.surface.even_parts(&mv.path, within).0;
        // Above the clear height nothing is cut, with room for the warp itself.
        let bounds = mv.path.bounds();
        if mv.low() - setup.surface.range(bounds).1 < setup.clear_height - setup.tolerance {
            around = Some(around.map_or(bounds, |around| around.union(bounds)));
        }
    }
    if count.is_nan() || count > MOST_MOVES {
        return Err(NotFlattened::Moves(count, MOST_MOVES));
    }
    let rim = around.map_or(0.0, |around| setup.surface.rim(around, setup.radius()));
    let most = (1.0 - SNAP - LEFT_TO_JUDGE) * setup.tolerance;
    if rim.is_nan() || rim > most {
        return Err(NotFlattened::Lean(rim, most));
    }
    let tolerance = (1.0 - SNAP) * setup.tolerance - rim;
    let flat =
        read.into_iter().map(|read| flatten(read, &setup.surface, setup.tolerance)).collect();
    // The rim that may take a finishing cut limits the load and is no measure of exactness: it staying its
    // width, of which the tolerance is a part.
    let skim = setup.skim + (setup.tolerance - tolerance) / std::f64::consts::SQRT_2;
    Ok((flat, Setup { skim, tolerance, ..setup.clone() }))
}

/// No more than the height of the tip above the face anywhere along a move, and no less than that but for `within`, mm:
/// Z changes evenly from end to end, and between the ends of each part the face stands out by what it departs from even.
pub(super) fn least_above(mv: &Move, face: &Surface, within: f64) -> f64 {
    if let Some(anywhere) = mv.anywhere_in() {
        return mv.low() - face.range(anywhere).1;
    }
    let (count, departure) = face.even_parts(&mv.path, within);
    let above = |part: f64| mv.z_at(part / count) - face.height(mv.path.at(part / count));
    let (mut least, mut done) = (above(0.0), 0.0);
    while done < count {
        done += 1.0;
        least = least.min(above(done));
    }
    least - departure
}

fn flatten(read: Read, surface: &Surface, tolerance: f64) -> Read {
    let mut flat = Flat { surface, tolerance, z: None, moves: Vec::new() };
    for mv in &read.moves {
        flat.add(mv);
    }
    Read { moves: flat.moves, ..read }
}

struct Flat<'a> {
    surface: &'a Surface,
    tolerance: f64,
    /// Height of the cutter over the face as it was last taken, and for which raw height.
    z: Option<f64>,
    moves: Vec<Move>,
}

impl Flat<'_> {
    fn add(&mut self, mv: &Move) {
        if mv.pace == Pace::Rapid && !mv.is_upright() {
            // Told as low as it comes anywhere: it must not cut at all, and each axis runs at its own speed.
            let highest = self.surface.range(mv.path.bounds()).1;
            let (from_z, to_z) = (mv.from_z - highest, mv.to_z - highest);
            self.moves.push(Move { from_z, to_z, ..*mv });
            self.z = Some(mv.to_z - self.surface.height(mv.path.end()));
            return;
        }
        let (count, _) = self.surface.even_parts(&mv.path, PART * self.tolerance);
        let begins = mv.from_z - self.surface.height(mv.path.start());
        let known = self.z.filter(|z| (z - begins).abs() <= self.window());
        let mut from = known.unwrap_or(begins);
        let mut done = 0.0;
        while done < count {
            let (t0, t1) = (done / count, (done + 1.0) / count);
            done += 1.0;
            let path = if count > 1.0 { piece(&mv.path, t0, t1) } else { mv.path };
            let ends = mv.z_at(t1) - self.surface.height(path.end());
            let to = self.taken(from, ends, path.length());
            let dwell = if done < count { 0.0 } else { mv.dwell };
            self.moves.push(Move { path, from_z: from, to_z: to, dwell, ..*mv });
            from = to;
        }
        self.z = Some(from);
    }

    /// How far a height may be off, without what a part of a move bends.
    fn window(&self) -> f64 {
        (SNAP - PART) * self.tolerance
    }

    /// The height at the end of a part that truly ends at `ends`: the one before, as long as that is near
    /// enough. From there on it goes after the true one gently, so that short moves are not taken for
    /// plunges, or as steeply as the true one goes, so that plunges in short moves are not taken for level.
    fn taken(&self, from: f64, ends: f64, length: f64) -> f64 {
        let (window, gently) = (self.window(), GENTLE * length);
        if (ends - from).abs() <= window {
            from
        } else if length == 0.0 {
            ends
        } else {
            let after = from + (ends - from).clamp(-gently, gently);
            after.clamp(ends - window, ends + window)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, Edge};
    use crate::prove::motion::Spindle;
    use kurbo::Point;
    use std::f64::consts::PI;

    // By hand: a half circle of 100 mm at Z 2 over a face that rises by 1 mm in 100 to the right. Its beginning, at
    // the far right, is nearest to the face: 2 - 1 = 1 mm.
    #[test]
    fn a_wide_arc_over_a_leaning_face_is_as_high_as_its_lowest_place() {
        let arc = Arc { centre: Point::ZERO, radius: 100.0, start: 0.0, sweep: PI };
        let mv = Move {
            line: 1,
            pace: Pace::Feed(1.0),
            path: Edge::Arc(arc),
            from_z: 2.0,
            to_z: 2.0,
            spindle: Spindle::Still,
            slack: 0.0,
            arrival: false,
            dwell: 0.0,
        };
        let at = |x, y| (Point::new(x, y), x / 100.0);
        let corners = [at(-100.0, -100.0), at(100.0, -100.0), at(100.0, 100.0), at(-100.0, 100.0)];
        let face = Surface::fit(&corners).unwrap().surface;
        let least = least_above(&mv, &face, 0.05);
        assert!((0.95..=1.0).contains(&least), "{least}");
    }
}
