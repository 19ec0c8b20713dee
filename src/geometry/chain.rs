//! Directed pieces of boundary joined into closed loops.

use super::overlay::Piece;
use super::tolerance::{COINCIDENT, PARALLEL, ROUNDING};
use super::{Arc, Edge, Outline};
use kurbo::Point;
use std::f64::consts::{PI, TAU};

/// A closed loop of edges; its signed area is positive round a region, negative round a hole.
pub(super) struct Loop {
    pub(super) edges: Vec<Edge>,
}

impl Loop {
    pub(super) fn area(&self) -> f64 {
        self.edges.iter().map(Edge::area_share).sum()
    }

    /// Twice the area by the length all round: the width of a long sliver, mm.
    pub(super) fn width(&self) -> f64 {
        let length: f64 = self.edges.iter().map(Edge::length).sum();
        2.0 * self.area().abs() / length.max(f64::MIN_POSITIVE)
    }

    pub(super) fn outline(self) -> Result<Outline, super::OutlineError> {
        Outline::new(self.edges)
    }
}

/// Joins pieces, each with the region to its left, into loops that pass each node once.
///
/// # Errors
/// The node at which a loop cannot be closed.
pub(super) fn loops(pieces: &[Piece], node_count: usize) -> Result<Vec<Loop>, usize> {
    let mut leaving: Vec<Vec<Piece>> = vec![Vec::new(); node_count];
    for piece in pieces {
        leaving.get_mut(piece.from).ok_or(piece.from)?.push(*piece);
    }
    let mut found = Vec::new();
    for first in 0..node_count {
        while let Some(piece) = leaving.get_mut(first).and_then(Vec::pop) {
            let mut walked = vec![piece];
            while let Some(last) = walked.last().copied() {
                // Back at a node passed before: what was walked since is a loop of its own.
                if let Some(at) = walked.iter().position(|piece| piece.from == last.to) {
                    let closed = walked.split_off(at);
                    found.push(Loop { edges: simplified(&closed) });
                    continue;
                }
                let choices = leaving.get_mut(last.to).ok_or(last.to)?;
                let next = next_piece(&last, choices).ok_or(last.to)?;
                walked.push(choices.swap_remove(next));
            }
        }
    }
    Ok(found)
}

/// The first piece met when turning clockwise from the way back: the region to the left of both is
/// the same.
fn next_piece(last: &Piece, choices: &[Piece]) -> Option<usize> {
    if choices.len() < 2 {
        return (!choices.is_empty()).then_some(0);
    }
    // Pieces do not cross before their ends, so their order on a small circle round the node is sound
    // even where they are tangent at the node itself.
    let chord = |edge: &Edge| (edge.end() - edge.start()).hypot();
    let near = choices.iter().map(|p| chord(&p.edge)).fold(chord(&last.edge), f64::min) / 2.0;
    let back = heading(&last.edge.reversed(), near);
    let turn = |piece: &Piece| {
        let clockwise = (back - heading(&piece.edge, near)).rem_euclid(TAU);
        if clockwise <= PARALLEL { TAU } else { clockwise }
    };
    (0..choices.len()).min_by(|&a, &b| {
        let turn_of = |index: usize| choices.get(index).map_or(TAU, turn);
        turn_of(a).total_cmp(&turn_of(b))
    })
}

/// Direction, radians, from the start of an edge to its point at the distance `away`.
fn heading(edge: &Edge, away: f64) -> f64 {
    let along = match edge {
        Edge::Line(_) => 0.5,
        Edge::Arc(arc) => 2.0 * (away / (2.0 * arc.radius)).min(1.0).asin() / arc.sweep.abs(),
    };
    (edge.at(along) - edge.start()).atan2()
}

/// The edges of a closed loop, with pieces of one line or circle joined again. Corners that the
/// outlines had themselves stay.
fn simplified(pieces: &[Piece]) -> Vec<Edge> {
    let mut joined: Vec<Piece> = Vec::new();
    for piece in pieces {
        if let Some(whole) = joined.last().and_then(|last| merged(last, piece)) {
            joined.pop();
            joined.push(whole);
        } else {
            joined.push(*piece);
        }
    }
    if joined.len() > 2
        && let (Some(last), Some(first)) = (joined.last().copied(), joined.first_mut())
        && let Some(whole) = merged(&last, first)
    {
        *first = whole;
        joined.pop();
    }
    joined.into_iter().map(|piece| piece.edge).collect()
}

fn merged(last: &Piece, next: &Piece) -> Option<Piece> {
    let corner = last.edge.end();
    let edge = match (last.edge, next.edge) {
        (Edge::Line(a), Edge::Line(b)) if (a.p1 - a.p0).dot(b.p1 - b.p0) > 0.0 => {
            Edge::line(a.p0, b.p1)
        }
        (Edge::Arc(a), Edge::Arc(b)) => {
            let one_circle = (a.centre - b.centre).hypot() <= COINCIDENT
                && (a.radius - b.radius).abs() <= COINCIDENT
                && a.sweep * b.sweep > 0.0;
            let sweep = a.sweep + b.sweep;
            if !one_circle || sweep.abs() > PI * (1.0 + ROUNDING) && last.source != next.source {
                return None;
            }
            Edge::Arc(Arc { sweep, ..a })
        }
        _ => return None,
    };
    let far = (edge.end() - next.edge.end()).hypot().max(edge.distance_to(corner));
    let own_corner = last.source != next.source && last.source.0 == next.source.0;
    (far <= COINCIDENT / 4.0 && !own_corner).then_some(Piece {
        edge,
        from: last.from,
        to: next.to,
        source: last.source,
    })
}

/// The point of `hole`, of a few on each edge, that lies furthest from `around`: where loops touch,
/// some of their points tell nothing.
pub(super) fn clear_point(hole: &Outline, around: &Outline) -> Point {
    let points = hole.edges().iter().flat_map(|edge| [0.25, 0.5, 0.75].map(|t| edge.at(t)));
    points
        .map(|point| (around.distance_to(point), point))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map_or(Point::ZERO, |(_, point)| point)
}
