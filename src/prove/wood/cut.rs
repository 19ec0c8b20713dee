//! What a cut makes of a row.

use super::chord::overlap;
use super::row::{FEW, Row, Span, Stretch};
use crate::geometry::COINCIDENT;
use crate::prove::tolerance::ROUNDING;
use std::rc::Rc;

impl Row {
    /// Cuts along `span`; `first` is the first stretch beyond its beginning. Returns how many
    /// stretches it passed. What `list` held is lost.
    pub(super) fn lower(&mut self, first: usize, span: &Span, list: &mut Vec<Stretch>) -> usize {
        self.begin_cut(first, list);
        let (mut passed, mut cuts) = (0, false);
        for (begin, .., whole) in self.between(first, (span.from, span.to)) {
            passed += 1;
            match lowered(whole, begin, span) {
                Some(part) => {
                    cuts = true;
                    push_cut(list, (begin, whole), part, span);
                }
                None => push(list, *whole),
            }
        }
        if cuts {
            self.end_cut(first, passed, list);
        }
        passed
    }

    /// Begins the list of what a cut makes of the stretches from `first` on: with the neighbour to the left, which may
    /// become one with them.
    pub(super) fn begin_cut(&self, first: usize, list: &mut Vec<Stretch>) {
        list.clear();
        list.extend(first.checked_sub(1).and_then(|left| self.stretches.get(left)));
    }

    /// Puts what a cut made of the `count` stretches from `first` on in their place.
    pub(super) fn end_cut(&mut self, first: usize, count: usize, list: &mut Vec<Stretch>) {
        let (from, mut to) = (first.saturating_sub(1), first + count);
        if let Some(next) = self.stretches.get(to) {
            push(list, *next);
            to += 1;
        }
        match Rc::get_mut(&mut self.stretches) {
            // Few to the right are written anew faster than moved along.
            Some(own) if own.len() > to + FEW => drop(own.splice(from..to, list.iter().copied())),
            Some(own) => {
                list.extend_from_slice(own.get(to..).unwrap_or_default());
                own.truncate(from);
                own.extend_from_slice(list);
            }
            None => {
                let parts = (self.stretches.get(..from), self.stretches.get(to..));
                let (left, right) = (parts.0.unwrap_or_default(), parts.1.unwrap_or_default());
                self.stretches = Rc::new([left, list, right].concat());
            }
        }
    }
}

/// Adds a stretch, which begins at `begin`, its part from `p` to `q` cut along `span`.
pub(super) fn push_cut(
    list: &mut Vec<Stretch>,
    (begin, whole): (f64, &Stretch),
    (p, q): (f64, f64),
    span: &Span,
) {
    if p > begin {
        push(list, whole.until(p));
    }
    push(list, Stretch { end: q, cut: span.z_at(q), lean: span.lean, ..*whole });
    if q < whole.end {
        push(list, *whole);
    }
}

/// Adds `next` to the right of the others, as one with the last where it lies on that one's line. Not the other way
/// round: `next` may be a hair, whose line tells nothing of the last.
pub(super) fn push(list: &mut Vec<Stretch>, next: Stretch) {
    match list.last_mut() {
        Some(last) if last.stack == next.stack && same_line(last, &next) => {
            *last = last.until(next.end);
        }
        _ => list.push(next),
    }
}

/// Whether `after` lies on the line of `before` all along.
fn same_line(before: &Stretch, after: &Stretch) -> bool {
    if before.lean == 0.0 && after.lean == 0.0 {
        return before.cut.to_bits() == after.cut.to_bits();
    }
    let level = (before.lean - after.lean).abs() * (after.end - before.end);
    level < ROUNDING && (after.cut_at(before.end) - before.cut).abs() < ROUNDING
}

/// The part of `whole`, which begins at `begin`, that `span` cuts deeper. Where the two cross
/// nearer than `COINCIDENT` to an end, the cut is taken for the shallower of the two: on the safe side.
fn lowered(whole: &Stretch, begin: f64, span: &Span) -> Option<(f64, f64)> {
    let (p, q) = overlap((begin, whole.end), (span.from, span.to));
    if whole.lean == 0.0 && span.lean == 0.0 {
        return (whole.cut > span.z).then_some((p, q));
    }
    let at_p = whole.cut_at(p) - span.z_at(p);
    let at_q = whole.cut_at(q) - span.z_at(q);
    if at_p <= ROUNDING && at_q <= ROUNDING {
        return None;
    }
    if at_p >= -ROUNDING && at_q >= -ROUNDING {
        return Some((p, q));
    }
    let cross = p + (q - p) * at_p / (at_p - at_q);
    let part = if at_p > 0.0 { (p, cross) } else { (cross, q) };
    (part.1 - part.0 > COINCIDENT).then_some(part)
}
