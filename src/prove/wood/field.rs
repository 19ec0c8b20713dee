//! The whole wood as rows, cut move by move.

use super::chord::{Capsule, SweptArc};
use super::effort::Effort;
use super::layout::Layout;
use super::ramp::{Ramp, Slope};
use super::row::{Row, Span, Stack, Stretch, UncutWood};
use super::rows::Demands;
use super::{Piece, Resolution};
use crate::geometry::{Arc, Edge};
use crate::prove::motion::{Move, piece};
use crate::prove::tolerance::{HELIX_SHARE, MOST_HELIX_PIECES, RAMP_SHARE, ROUNDING};
use kurbo::{Line, Point, Rect};
use std::collections::VecDeque;
use std::rc::Rc;

/// The tallest wood that a move met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::prove) struct Tallest {
    /// Its height above the cutter's tip, mm.
    pub height: f64,
    /// Where.
    pub at: Point,
}

impl Tallest {
    /// The taller of the two.
    pub(super) fn taller(a: Option<Tallest>, b: Option<Tallest>) -> Option<Tallest> {
        match (a, b) {
            (Some(a), Some(b)) => Some(if b.height > a.height { b } else { a }),
            (a, b) => a.or(b),
        }
    }
}

/// A disc that sweeps along a path, its Z changing evenly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sweep {
    /// The path of its centre.
    pub path: Edge,
    /// Radius of the part that must not meet tall wood.
    pub core: f64,
    /// Radius of the part that cuts.
    pub radius: f64,
    /// Z at the beginning.
    pub from_z: f64,
    /// Z at the end.
    pub to_z: f64,
}

impl Sweep {
    fn low(&self) -> f64 {
        self.from_z.min(self.to_z)
    }

    fn is_level(&self) -> bool {
        self.from_z.to_bits() == self.to_z.to_bits()
    }

    /// Whether nothing can stand above `later` once this sweep is made: its straight path lies on
    /// this one, as on the way back of a stroke, no deeper and no wider.
    fn holds(&self, later: &Sweep) -> bool {
        let on = |end: Point| self.path.distance_to(end) <= ROUNDING;
        self.radius >= later.radius
            && self.from_z.max(self.to_z) <= later.low()
            && matches!((&self.path, &later.path), (Edge::Line(_), Edge::Line(_)))
            && on(later.path.start())
            && on(later.path.end())
    }
}

/// The wood as rows.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::prove) struct Field {
    /// Rows upwards.
    pub rows: Vec<Row>,
    /// Every stack of solids that stands somewhere; the first is empty.
    pub stacks: Vec<Stack>,
    /// Z of the highest wood.
    pub top: f64,
    /// Wood that stands more than this above the tip is taller than a step, mm.
    pub step: f64,
    /// Plan area of such wood under the whole cutter, cut since this was last asked, mm².
    pub deep: f64,
    /// What it has taken so far. Once it is spent, nothing more is cut.
    pub effort: Effort,
    pub(super) resolution: Resolution,
    /// The last straight sweeps: nothing stands where one of them went.
    recent: VecDeque<Sweep>,
    slopes: Vec<Slope>,
    core_slopes: Vec<Slope>,
    /// What a cut makes of a row's stretches, kept so that not every one of very many cuts asks for room anew.
    list: Vec<Stretch>,
}

/// How many straight sweeps are remembered: enough for the ways to and fro of one lap.
const RECENT: usize = 8;

impl Field {
    /// Sets up `pieces` as they are before any cut, with rows fit for `moves`, each with the
    /// radius of its cutter, mm; so many steps
    /// were `spent` before.
    pub(in crate::prove) fn new<'m>(
        pieces: &[Piece],
        moves: impl Iterator<Item = (&'m Move, f64)>,
        resolution: Resolution,
        spent: u64,
    ) -> Field {
        let top = pieces.iter().map(|piece| piece.solid.top).fold(f64::NEG_INFINITY, f64::max);
        let mut field = Field {
            rows: Vec::new(),
            stacks: vec![Stack::new()],
            top,
            step: f64::INFINITY,
            deep: 0.0,
            effort: Effort::from(spent),
            resolution,
            recent: VecDeque::new(),
            slopes: Vec::new(),
            core_slopes: Vec::new(),
            list: Vec::new(),
        };
        let bounds = pieces.iter().map(|piece| piece.solid.region.outline.bounds());
        let Some(bounds) = bounds.reduce(|a, b| a.union(b)) else { return field };
        let mut demands = Demands::new(bounds, resolution);
        for piece in pieces {
            demands.add_piece(piece);
        }
        let below = moves.filter(|(step, _)| step.low() < top);
        below.for_each(|(step, radius)| demands.add_move(step, radius));
        let Some(bands) = demands.bands() else {
            field.effort.too_fine = true;
            return field;
        };
        let mut layout = Layout::new(pieces, bounds);
        field.rows.reserve_exact(bands.len());
        for band in bands {
            let row = layout.row(band);
            field.effort.spend(1 + row.stretches.len() / 8);
            field.effort.grown(0, row.stretches.len());
            field.rows.push(row);
            if field.effort.is_spent() {
                break;
            }
        }
        field.stacks = layout.into_stacks();
        field
    }

    /// Sweeps the part of a move that is below the top of the wood: as [`Field::sweep`].
    pub(in crate::prove) fn sweep_move(
        &mut self,
        mv: &Move,
        core: f64,
        radius: f64,
    ) -> Option<Tallest> {
        let (core, radius) = (core - mv.slack, radius - mv.slack);
        if mv.is_upright() {
            // Rising, it only leaves where it already is.
            let falls = mv.to_z < mv.from_z || mv.arrival;
            let (from_z, to_z) = (mv.low(), mv.low());
            let met = self.sweep(&Sweep { path: mv.path, core, radius, from_z, to_z });
            return met.filter(|_| falls);
        }
        let (t0, t1) = mv.below(self.top)?;
        let (path, from_z, to_z) = (piece(&mv.path, t0, t1), mv.z_at(t0), mv.z_at(t1));
        self.sweep(&Sweep { path, core, radius, from_z, to_z })
    }

    /// Cuts, and tells the tallest wood above the tip that stood under the core of the sweep.
    ///
    /// Level sweeps are exact on every row. A straight ramp is nowhere taken for shallower than it
    /// is where wood is measured, nor for deeper where it cuts, and is exact within
    /// [`RAMP_SHARE`] of the tolerance. A helix goes in pieces that fall by [`HELIX_SHARE`] of it,
    /// each measured at its lowest and cutting at its highest; at its low end the cutter stands
    /// exactly.
    pub(super) fn sweep(&mut self, sweep: &Sweep) -> Option<Tallest> {
        self.effort.spend(1);
        if sweep.low() >= self.top || self.effort.is_spent() {
            return None;
        }
        if self.recent.iter().any(|before| before.holds(sweep)) {
            return None;
        }
        match sweep.path {
            Edge::Line(line) => {
                self.recent.truncate(RECENT - 1);
                self.recent.push_front(*sweep);
                if sweep.is_level() {
                    return self.even(&line, sweep);
                }
                let dip = RAMP_SHARE * self.resolution.depth;
                let ends = (sweep.from_z, sweep.to_z);
                match Ramp::new(&line, ends, sweep.radius, dip) {
                    Some(ramp) => {
                        let core = Ramp::new(&line, ends, sweep.core, dip);
                        self.ramp(&ramp, core.filter(|_| sweep.core > 0.0).as_ref(), sweep)
                    }
                    // As good as upright: it leaves where it is lowest.
                    None => self.even(&line, sweep),
                }
            }
            Edge::Arc(arc) => self.helix(&arc, sweep),
        }
    }

    /// A level straight sweep.
    fn even(&mut self, line: &Line, sweep: &Sweep) -> Option<Tallest> {
        let (rim, core) = (Capsule::new(line, sweep.radius), Capsule::new(line, sweep.core));
        let z = sweep.low();
        let mut most: Option<Tallest> = None;
        let range = self.within(&sweep.path, sweep.radius);
        let uncut = UncutWood { stacks: &self.stacks, film: self.resolution.depth };
        let (effort, list) = (&mut self.effort, &mut self.list);
        let (step, deep) = (self.step, &mut self.deep);
        let core_chord = |y: f64| core.chord(y).filter(|_| sweep.core > 0.0);
        let mut rows = self.rows.get_mut(range).unwrap_or_default();
        let mut first = 0;
        let mut below: Option<&Row> = None;
        let mut next_chord = None;
        while let Some((row, above)) = std::mem::take(&mut rows).split_first_mut() {
            let under = next_chord.take().unwrap_or_else(|| rim.chord(row.y));
            // Rows that are alike, under one chord, are cut as one.
            let alike = |next: &&Row| {
                if !next.shares(row) || rim.is_even(row.y, next.y) {
                    return next.shares(row);
                }
                let chord = rim.chord(next.y);
                next_chord = Some(chord).filter(|chord| *chord != under);
                next_chord.is_none() && core_chord(next.y) == core_chord(row.y)
            };
            let count = above.iter().take_while(alike).count();
            let Some((alike, above)) = above.split_at_mut_checked(count) else { break };
            rows = above;
            let Some(chord) = under else { continue };
            let before = row.stretches.len();
            first = row.first_near(chord.0, first);
            let y = row.y;
            let span = Span::level(chord, z);
            let found = row.level(uncut, first, &span, || core_chord(y), step, list);
            count_rows(effort, row, 1 + count, before, found.map_or(0, |found| found.passed));
            if let Some(found) = found {
                most = Tallest::taller(most, met(row.y, found.tallest));
                row.share(below);
                *deep += found.deep * row.height;
                for other in alike {
                    other.stretches = Rc::clone(&row.stretches);
                    // Mostly nought, and each sum waits for the one before.
                    if found.deep > 0.0 {
                        *deep += found.deep * other.height;
                    }
                }
            }
            below = Some(row);
        }
        most
    }

    /// A sloping straight sweep.
    fn ramp(&mut self, ramp: &Ramp, core: Option<&Ramp>, sweep: &Sweep) -> Option<Tallest> {
        let mut most: Option<Tallest> = None;
        let range = self.within(&sweep.path, sweep.radius);
        let uncut = UncutWood { stacks: &self.stacks, film: self.resolution.depth };
        let (effort, list) = (&mut self.effort, &mut self.list);
        let (slopes, core_slopes) = (&mut self.slopes, &mut self.core_slopes);
        let (step, deep) = (self.step, &mut self.deep);
        let mut near = 0;
        for row in self.rows.get_mut(range).unwrap_or_default() {
            let Some(chord) = ramp.chord(row.y) else { continue };
            effort.spend(1);
            near = row.first_near(chord.0, near);
            if !row.stands(near, chord, sweep.low()) {
                continue;
            }
            ramp.slopes(row.y, slopes);
            if let Some(core) = core
                && let Some(chord) = core.chord(row.y)
                && row.stands(near, chord, sweep.low() + height(most))
            {
                core.slopes(row.y, core_slopes);
                for Slope { span, dip } in core_slopes.iter() {
                    let span = Span { z: span.z - dip, ..*span };
                    most = or_taller(most, row, uncut, near, &span);
                }
                effort.spend(core_slopes.len());
            }
            let mut at = near;
            for slope in slopes.iter() {
                at = row.first_near(slope.span.from, at);
                *deep += row.deep(uncut, at, &slope.span, step) * row.height;
                lower(row, at, &slope.span, effort, list);
                // The stretch before may have become one with what was cut.
                at = at.saturating_sub(1);
            }
        }
        most
    }

    /// A sweep along an arc, level or not.
    fn helix(&mut self, arc: &Arc, sweep: &Sweep) -> Option<Tallest> {
        let drop = (sweep.to_z - sweep.from_z).abs();
        let count =
            (drop / (HELIX_SHARE * self.resolution.depth)).ceil().clamp(1.0, MOST_HELIX_PIECES);
        let z_at = |t: f64| sweep.from_z + t * (sweep.to_z - sweep.from_z);
        let whole = Edge::Arc(*arc);
        let mut most: Option<Tallest> = None;
        let mut index = 0.0;
        while index < count {
            let (a, b) = (index / count, (index + 1.0) / count);
            let zs = if sweep.is_level() { (sweep.to_z, sweep.to_z) } else { (z_at(a), z_at(b)) };
            if let Edge::Arc(arc) = piece(&whole, a, b) {
                most = Tallest::taller(most, self.bow(&arc, sweep, zs.0.min(zs.1), zs.0.max(zs.1)));
            }
            index += 1.0;
        }
        if !sweep.is_level() {
            let end = if sweep.to_z < sweep.from_z { whole.end() } else { whole.start() };
            let stand = Sweep {
                path: Edge::line(end, end),
                to_z: sweep.low(),
                from_z: sweep.low(),
                ..*sweep
            };
            self.even(&Line::new(end, end), &stand);
        }
        most
    }

    /// A sweep along an arc that is measured at `low` and cuts at `high`.
    fn bow(&mut self, arc: &Arc, sweep: &Sweep, low: f64, high: f64) -> Option<Tallest> {
        let (rim, core) = (SweptArc::new(arc, sweep.radius), SweptArc::new(arc, sweep.core));
        let mut most: Option<Tallest> = None;
        let range = self.within(&Edge::Arc(*arc), sweep.radius);
        let uncut = UncutWood { stacks: &self.stacks, film: self.resolution.depth };
        let (effort, list) = (&mut self.effort, &mut self.list);
        let (step, deep) = (self.step, &mut self.deep);
        if low >= self.top || effort.is_spent() {
            return None;
        }
        let mut near = 0;
        for row in self.rows.get_mut(range).unwrap_or_default() {
            let rims = rim.chords(row.y);
            effort.spend(4);
            let mut stands = |&chord: &(f64, f64)| {
                near = row.first_near(chord.0, near);
                row.stands(near, chord, low)
            };
            if !rims.as_slice().iter().any(&mut stands) {
                continue;
            }
            if sweep.core > 0.0 {
                for &chord in core.chords(row.y).as_slice() {
                    most = or_taller(most, row, uncut, near, &Span::level(chord, low));
                }
            }
            for &chord in rims.as_slice() {
                let (first, before) = (row.first_near(chord.0, near), row.stretches.len());
                if low.to_bits() == high.to_bits() {
                    let span = Span::level(chord, low);
                    if let Some(found) = row.level(uncut, first, &span, || None, step, list) {
                        *deep += found.deep * row.height;
                        count_rows(effort, row, 1, before, found.passed);
                    }
                    continue;
                }
                *deep += row.deep(uncut, first, &Span::level(chord, low), step) * row.height;
                lower(row, first, &Span::level(chord, high), effort, list);
            }
        }
        most
    }

    /// Indices of the rows that a disc of `radius` may touch along `path`.
    pub(super) fn within(&self, path: &Edge, radius: f64) -> std::ops::Range<usize> {
        let Rect { y0, y1, .. } = path.bounds();
        let from = self.rows.partition_point(|row| row.y <= y0 - radius);
        let to = self.rows.partition_point(|row| row.y < y1 + radius);
        from..to.max(from)
    }
}

fn met(y: f64, tallest: Option<(f64, f64)>) -> Option<Tallest> {
    tallest.map(|(height, x)| Tallest { height, at: Point::new(x, y) })
}

fn height(most: Option<Tallest>) -> f64 {
    most.map_or(0.0, |most| most.height)
}

/// `most`, or the tallest wood above `span` on `row` where that is taller.
fn or_taller(
    most: Option<Tallest>,
    row: &Row,
    uncut: UncutWood,
    near: usize,
    span: &Span,
) -> Option<Tallest> {
    let first = row.first_near(span.from, near);
    met(row.y, row.tallest(uncut, first, span, height(most))).or(most)
}

/// Cuts a row along a slope, or what need not be measured.
fn lower(row: &mut Row, first: usize, span: &Span, effort: &mut Effort, list: &mut Vec<Stretch>) {
    let before = row.stretches.len();
    let passed = row.lower(first, span, list);
    count_rows(effort, row, 1, before, passed);
}

/// Counts what cutting so many rows took, each like `row`: also what was moved along in a row of many
/// stretches.
fn count_rows(effort: &mut Effort, row: &Row, rows: usize, before: usize, passed: usize) {
    effort.spend(rows * (1 + passed / 4 + before / 64));
    effort.grown(rows * before, rows * row.stretches.len());
}

#[cfg(test)]
mod tests;
