//! Two regions laid on each other: their boundaries cut at every crossing, and what lies to either
//! side of each piece.
//!
//! Nodes come first: ends and crossings closer than [`NODE`] are one node, and every edge is cut at
//! every node that lies on it. Boundaries that coincide are thereby cut at the same nodes, and equal
//! pieces are recognised by their nodes and their middle, not by a comparison of whole edges.
//!
//! Pieces are then joined again into closed loops.

use super::edge::within_half_turn;
use super::prepared::Prepared;
use super::tolerance::{CLEAR, COINCIDENT, HALF_CIRCLE, NODE, ONE_PIECE, PARALLEL, ROUNDING, SLID};
use super::{Arc, Edge, Outline, Region};
use kurbo::{Point, Rect};
use std::f64::consts::{PI, TAU};

/// A piece of boundary between two nodes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    pub(super) edge: Edge,
    /// Indices of the nodes where it begins and ends.
    pub(super) from: usize,
    pub(super) to: usize,
    /// Which region, and which edge of its boundary, it was cut from.
    pub(super) source: (usize, usize),
}

impl Piece {
    pub(super) fn reversed(&self) -> Piece {
        Piece { edge: self.edge.reversed(), from: self.to, to: self.from, ..*self }
    }

    fn same_place(&self, other: &Piece) -> bool {
        let ends = (self.from, self.to);
        (ends == (other.from, other.to) || ends == (other.to, other.from))
            && (self.edge.at(0.5) - other.edge.at(0.5)).hypot() <= ONE_PIECE
    }
}

/// A piece with what lies to its left and to its right: in the first region, in the second.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sorted {
    pub(super) piece: Piece,
    pub(super) left: [bool; 2],
    pub(super) right: [bool; 2],
}

/// The boundaries of two regions, cut and sorted.
pub(super) struct Overlay {
    pub(super) nodes: Vec<Point>,
    pub(super) pieces: Vec<Sorted>,
    /// What the boundary taken of the second region gives to its area, mm².
    pub(super) second_area: f64,
}

impl Overlay {
    /// Of the second region only the boundary near the first is cut where `near_only`: what lies further away
    /// bounds neither what both share nor what the second leaves of the first.
    pub(super) fn new(first: &Region, second: &Region, near_only: bool) -> Overlay {
        let first_edges = boundary(first, None);
        let around = near_only.then(|| first.outline.bounds().inflate(CLEAR, CLEAR));
        let second_edges = boundary(second, around);
        let second_area = second_edges.iter().map(|(_, edge)| edge.edge.area_share()).sum();
        let mut nodes = Nodes::default();
        let [ours, theirs] = nodes.of(&first_edges, &second_edges);
        let ours = cut(&first_edges, &ours, &nodes, 0);
        let theirs = cut(&second_edges, &theirs, &nodes, 1);
        let pieces = sorted(&ours, &theirs, [first, second]);
        Overlay { nodes: nodes.places, pieces, second_area }
    }
}

/// Boundary edges with the region to their left, arcs no longer than half a circle, each with the
/// number of the edge it belongs to; only those that come near `around`, if that is given.
fn boundary(region: &Region, around: Option<Rect>) -> Vec<(usize, Prepared)> {
    let outer = region.outline.prepared().iter().copied();
    let holes = region.holes.iter().flat_map(Outline::prepared).map(Prepared::reversed);
    let mut edges = Vec::new();
    for (number, edge) in outer.chain(holes).enumerate() {
        if around.is_some_and(|around| !around.overlaps(edge.bounds)) {
            continue;
        }
        match edge.edge {
            Edge::Arc(Arc { sweep, .. }) if sweep.abs() > PI * (1.0 - HALF_CIRCLE) => {
                let halves = [edge.edge.part(0.0, 0.5), edge.edge.part(0.5, 1.0)];
                edges.extend(halves.map(|half| (number, Prepared::new(half))));
            }
            _ => edges.push((number, edge)),
        }
    }
    edges
}

/// Ends of every edge, and the places where an edge of one region meets an edge of the other.
#[derive(Default)]
struct Nodes {
    places: Vec<Point>,
    /// Their X with their index, from the left to the right.
    by_x: Vec<(f64, usize)>,
}

impl Nodes {
    /// Finds all nodes, and those that stand for the ends of each edge.
    fn of(
        &mut self,
        first: &[(usize, Prepared)],
        second: &[(usize, Prepared)],
    ) -> [Vec<[usize; 2]>; 2] {
        let ends = [first, second].map(|edges| {
            edges.iter().map(|(_, edge)| [edge.from, edge.to].map(|end| self.at(end))).collect()
        });
        for (_, a) in first {
            let near = a.exact_bounds.inflate(NODE, NODE);
            for (_, b) in second.iter().filter(|(_, b)| near.overlaps(b.exact_bounds)) {
                // Crossings of circles that nearly coincide may lie off both.
                let on_both = |p: &Point| a.distance_to(*p).max(b.distance_to(*p)) <= NODE / 2.0;
                // Where edges only just touch, rounding decides whether they are found to cross.
                let touching = tangent_places(&a.edge, &b.edge);
                let all = touching.into_iter().chain(a.edge.crossings(&b.edge));
                for place in all.filter(on_both) {
                    self.at(place);
                }
            }
        }
        ends
    }

    /// The node that stands for `point`: the first one near it, or a new one.
    fn at(&mut self, point: Point) -> usize {
        let near = |index: &usize| {
            self.places.get(*index).is_some_and(|node| (*node - point).hypot() <= NODE)
        };
        if let Some(known) = self.between(point.x - NODE, point.x + NODE).filter(near).min() {
            return known;
        }
        let index = self.places.len();
        let place = self.by_x.partition_point(|(x, _)| *x < point.x);
        self.by_x.insert(place, (point.x, index));
        self.places.push(point);
        index
    }

    /// Those whose X is between the two.
    fn between(&self, from: f64, to: f64) -> impl Iterator<Item = usize> {
        let first = self.by_x.partition_point(move |(x, _)| *x < from);
        let found = self.by_x.iter().skip(first).take_while(move |(x, _)| *x <= to);
        found.map(|(_, index)| *index)
    }
}

/// Points of `a` where it could touch `b` without crossing it.
fn tangent_places(a: &Edge, b: &Edge) -> Vec<Point> {
    match (a, b) {
        (Edge::Line(_), Edge::Line(_)) => Vec::new(),
        (line @ Edge::Line(_), Edge::Arc(arc)) | (Edge::Arc(arc), line @ Edge::Line(_)) => {
            vec![line.at(line.nearest(arc.centre))]
        }
        (Edge::Arc(p), Edge::Arc(q)) => {
            let angle = (q.centre - p.centre).atan2();
            vec![p.on_circle(angle), p.on_circle(angle + PI)]
        }
    }
}

/// Every edge cut at every node on it; `ends` are the nodes of its own ends.
fn cut(
    edges: &[(usize, Prepared)],
    ends: &[[usize; 2]],
    nodes: &Nodes,
    region: usize,
) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for ((number, whole), [start, end]) in edges.iter().zip(ends) {
        let edge = &whole.edge;
        let near = whole.exact_bounds.inflate(2.0 * NODE, 2.0 * NODE);
        let mut close: Vec<(usize, Point)> = nodes
            .between(near.x0, near.x1)
            .filter_map(|index| Some((index, *nodes.places.get(index)?)))
            .filter(|(_, node)| near.contains(*node) && whole.distance_to(*node) <= 1.5 * NODE)
            .collect();
        close.sort_unstable_by_key(|(index, _)| *index);
        let place = |(index, node): (usize, Point)| {
            // The ends belong to their own nodes, whatever else is near.
            let t = match index {
                index if index == *start => f64::NEG_INFINITY,
                index if index == *end => f64::INFINITY,
                _ => edge.nearest(node),
            };
            (t, index)
        };
        // Nodes beyond an end do not lie on the edge, however near.
        let on = close.into_iter().map(place);
        let mut on: Vec<(f64, usize)> =
            on.filter(|(t, _)| t.is_infinite() || (*t > 0.0 && *t < 1.0)).collect();
        on.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (&(t, from), &(u, to)) in on.iter().zip(on.iter().skip(1)) {
            let part = edge.part(t.max(0.0), u.min(1.0));
            if let (Some(&a), Some(&b)) = (nodes.places.get(from), nodes.places.get(to)) {
                let source = (region, *number);
                pieces.push(Piece { edge: fastened(&part, a, b), from, to, source });
            }
        }
    }
    pieces
}

/// `edge` from node to node. An arc keeps its circle where the nodes lie on it.
fn fastened(edge: &Edge, from: Point, to: Point) -> Edge {
    match edge {
        Edge::Line(_) => Edge::line(from, to),
        Edge::Arc(arc) => {
            let off = |node: Point| ((node - arc.centre).hypot() - arc.radius).abs();
            let slid = (edge.start() - from).hypot().max((edge.end() - to).hypot());
            if slid <= SLID {
                return *edge;
            }
            if off(from).max(off(to)) <= SLID {
                let late = within_half_turn((from - arc.centre).atan2() - arc.start);
                let over = within_half_turn((to - arc.centre).atan2() - arc.start - arc.sweep);
                let (start, sweep) = (arc.start + late, arc.sweep - late + over);
                return Edge::Arc(Arc { start, sweep, ..*arc });
            }
            Edge::bulged(from, to, arc.bulge())
        }
    }
}

/// Equal pieces brought together, and the sides of each found.
fn sorted(ours: &[Piece], theirs: &[Piece], regions: [&Region; 2]) -> Vec<Sorted> {
    // How often each region's boundary runs along a piece, forwards less backwards.
    let mut groups: Vec<(Piece, [i32; 2])> = Vec::new();
    let mut by_node: Vec<Vec<usize>> = Vec::new();
    for (region, piece) in ours.iter().map(|p| (0, p)).chain(theirs.iter().map(|p| (1, p))) {
        let low = piece.from.min(piece.to);
        if by_node.len() <= low {
            by_node.resize(low + 1, Vec::new());
        }
        let Some(at_node) = by_node.get_mut(low) else { continue };
        let known = at_node
            .iter()
            .copied()
            .find(|&index| groups.get(index).is_some_and(|(found, _)| found.same_place(piece)));
        let index = known.unwrap_or(groups.len());
        if known.is_none() {
            at_node.push(index);
            groups.push((*piece, [0, 0]));
        }
        if let Some((found, runs)) = groups.get_mut(index) {
            let way = if found.from == piece.from { 1 } else { -1 };
            if let Some(run) = runs.get_mut(region) {
                *run += way;
            }
        }
    }
    groups
        .into_iter()
        .map(|(piece, runs)| {
            let mut side = Sorted { piece, left: [false; 2], right: [false; 2] };
            let sides = side.left.iter_mut().zip(&mut side.right);
            for (((left, right), region), run) in sides.zip(regions).zip(runs) {
                (*left, *right) = if run == 0 {
                    let inside = region.contains(clearest(&piece.edge, region));
                    (inside, inside)
                } else {
                    (run > 0, run < 0)
                };
            }
            side
        })
        .collect()
}

/// The point of the piece, of a few tried, that lies furthest from the region's boundary.
fn clearest(edge: &Edge, region: &Region) -> Point {
    let middle = edge.at(0.5);
    let clear = region.clear_of_boundary(middle);
    if clear > CLEAR {
        return middle;
    }
    let mut best = (clear, middle);
    for t in [0.3, 0.7, 0.1, 0.9] {
        let point = edge.at(t);
        let clear = region.clear_of_boundary(point);
        if clear > best.0 {
            best = (clear, point);
        }
    }
    best.1
}

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
