//! Outlines moved outwards or inwards, each edge by its own distance; where the middle of a disk can go inside
//! one; inside corners rounded.

use super::crossings::{circle_circle, circle_on_line, first_crossing};
use super::edge::{Arc, within_half_turn};
use super::prepared::{FromLeft, Prepared};
use super::tolerance::{BLUNT, COINCIDENT, CORNER, FARTHEST, FULL, MOVED, REWORKED, SMOOTH};
use super::{Edge, Outline, OutlineError};
use kurbo::{Line, Point};
use std::f64::consts::TAU;
use std::fmt;

/// How moved edges meet again at a corner that opens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Join {
    /// Edges run on until they meet.
    Sharp,
    /// An arc round the old corner; both edges must move by the same distance.
    Round,
}

/// Why an outline could not be moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OffsetError {
    /// The number of distances differs from the number of edges, or one is not finite.
    Distances,
    /// The edge with this index vanishes or turns round: the move is too large for the shape.
    Collapsed(usize),
    /// The edges that meet at the start of this index have no common point after the move.
    Apart(usize),
    /// These edges would cross or touch after the move: too large for a neck, or for a curve between
    /// them.
    Crosses(usize, usize),
}

impl fmt::Display for OffsetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OffsetError::Distances => write!(f, "one finite distance an edge is needed"),
            OffsetError::Collapsed(i) => write!(f, "edge {i} vanishes: the offset is too large"),
            OffsetError::Apart(i) => write!(f, "edges no longer meet at corner {i}"),
            OffsetError::Crosses(i, j) => {
                write!(f, "edges {i} and {j} would cross: the offset is too large")
            }
        }
    }
}

impl std::error::Error for OffsetError {}

/// Moved edges that close no outline.
impl From<OutlineError> for OffsetError {
    fn from(error: OutlineError) -> Self {
        match error {
            OutlineError::Empty => OffsetError::Collapsed(0),
            OutlineError::Open(i) => OffsetError::Apart(i),
            OutlineError::Degenerate(i) => OffsetError::Collapsed(i),
        }
    }
}

impl Outline {
    /// The outline moved outwards by `distance` mm everywhere (inwards where negative).
    ///
    /// ```
    /// use fillister::geometry::{Join, Outline};
    /// let sheet = Outline::rectangle(kurbo::Rect::new(0.0, 0.0, 400.0, 600.0))?;
    /// let wider = sheet.offset(10.0, Join::Sharp)?;
    /// assert!((wider.area() - 420.0 * 620.0).abs() < 1e-6);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// Where an edge would vanish or neighbours would no longer meet.
    pub fn offset(&self, distance: f64, join: Join) -> Result<Outline, OffsetError> {
        self.offset_each(&vec![distance; self.edges().len()], join)
    }

    /// The outline with edge `i` moved outwards by `distances[i]` mm (inwards where negative).
    ///
    /// # Errors
    /// As [`Outline::offset`]; also where the number of distances is wrong.
    pub fn offset_each(&self, distances: &[f64], join: Join) -> Result<Outline, OffsetError> {
        let edges = self.moved_each(distances, join)?.into_iter().map(|(edge, _)| edge);
        Ok(Outline::new(edges.collect())?)
    }

    /// The edges of [`Outline::offset_each`], each with the index of the edge it comes from; what joins
    /// two of them has none.
    pub(super) fn moved_each(
        &self,
        distances: &[f64],
        join: Join,
    ) -> Result<Vec<(Edge, Option<usize>)>, OffsetError> {
        let count = self.edges().len();
        if distances.len() != count || !distances.iter().all(|d| d.is_finite()) {
            return Err(OffsetError::Distances);
        }
        let mut moved = Vec::with_capacity(count);
        for (index, (edge, &distance)) in self.edges().iter().zip(distances).enumerate() {
            moved.push(edge.shifted(distance).ok_or(OffsetError::Collapsed(index))?);
        }
        let mut joints = Vec::with_capacity(count);
        let before = moved.iter().cycle().skip(count - 1);
        let by_before = distances.iter().cycle().skip(count - 1);
        let came_from = self.edges().iter().cycle().skip(count - 1);
        for (index, ((((edge, last), &by), &by_last), (old, old_last))) in moved
            .iter()
            .zip(before)
            .zip(distances)
            .zip(by_before)
            .zip(self.edges().iter().zip(came_from))
            .enumerate()
        {
            let opens = old_last.direction(1.0).cross(old.direction(0.0)) * by > 0.0;
            // At a smooth corner the edges still meet, and an arc between them would have no length.
            let parted = (last.end() - edge.start()).hypot() > COINCIDENT;
            if join == Join::Round && opens && parted && (by - by_last).abs() <= COINCIDENT {
                joints.push(Joint {
                    leave: last.end(),
                    enter: edge.start(),
                    round: Some(old.start()),
                });
            } else if (by - by_last).abs() > COINCIDENT && smooth(old_last, old) {
                // Neighbours that go on smoothly run side by side: a step joins them.
                joints.push(Joint { leave: last.end(), enter: edge.start(), round: None });
            } else {
                let found = meet(last, edge, old.start());
                let step = Joint { leave: last.end(), enter: edge.start(), round: None };
                let met = |at: Point| Joint { leave: at, enter: at, round: None };
                // At a blunt corner neighbours that moved by very different distances may miss each other, or
                // only far away, past what else lies there.
                let blunt =
                    (by - by_last).abs() > COINCIDENT && turns_at_most(old_last, old, BLUNT);
                let turn = old_last.direction(1.0).cross(old.direction(0.0));
                let opens = turn * by >= 0.0 && turn * by_last >= 0.0;
                let most = FARTHEST * by.abs().max(by_last.abs());
                let mitred = |at: &Point| is_mitre(old.start(), *at, [old_last, old], most);
                let found = found.filter(|at| !(blunt && opens) || mitred(at));
                let joint = found.map(met).or(blunt.then_some(step));
                joints.push(joint.ok_or(OffsetError::Apart(index))?);
            }
        }
        let mut edges = Vec::with_capacity(2 * count);
        let after = joints.iter().cycle().skip(1);
        for (index, ((edge, joint), next)) in moved.iter().zip(&joints).zip(after).enumerate() {
            if let Some(centre) = joint.round {
                edges.push((round_joint(joint, centre), None));
            } else if (joint.enter - joint.leave).hypot() > COINCIDENT {
                edges.push((Edge::line(joint.leave, joint.enter), None));
            }
            let trimmed =
                trimmed(edge, joint.enter, next.leave).ok_or(OffsetError::Collapsed(index))?;
            edges.push((trimmed, Some(index)));
        }
        self.check_moved(&edges, distances)?;
        Ok(edges)
    }

    /// Refuses moved edges that are no longer the outline moved, though each of them still runs forwards.
    fn check_moved(
        &self,
        moved: &[(Edge, Option<usize>)],
        distances: &[f64],
    ) -> Result<(), OffsetError> {
        let edges: Vec<Prepared> = moved.iter().map(|(edge, _)| Prepared::new(*edge)).collect();
        let from =
            |index: usize| moved.iter().skip(index).find_map(|(_, from)| *from).unwrap_or_default();
        if edges.iter().map(|edge| edge.edge.area_share()).sum::<f64>() <= COINCIDENT {
            return Err(OffsetError::Collapsed(0));
        }
        if let Some((i, j)) = first_crossing(&edges) {
            return Err(OffsetError::Crosses(from(i), from(j)));
        }
        // Moved alike, every edge keeps its distance from the whole of the old outline.
        let by = distances.first().copied().unwrap_or_default();
        if distances.iter().all(|distance| (distance - by).abs() <= COINCIDENT) {
            let least = by.abs() - MOVED;
            let old = FromLeft::new(self.prepared());
            let near = |edge: &Prepared| {
                let places = [0.0, 0.5, 1.0].map(|t| edge.edge.at(t));
                let within = |old: &Prepared| places.iter().any(|at| old.distance_to(*at) < least);
                old.near(edge.bounds.inflate(least, least)).any(within)
            };
            if let Some(index) = edges.iter().position(near) {
                return Err(OffsetError::Collapsed(from(index)));
            }
        }
        Ok(())
    }
}

/// Whether `next` goes on smoothly where `edge` ends.
pub(super) fn smooth(edge: &Edge, next: &Edge) -> bool {
    turns_at_most(edge, next, SMOOTH)
}

fn turns_at_most(edge: &Edge, next: &Edge, sine: f64) -> bool {
    let (along, on) = (edge.direction(1.0), next.direction(0.0));
    along.dot(on) > 0.0 && along.cross(on).abs() < sine
}

/// Whether a joint from `corner` to `at` is a mitre: no longer than `most`, and clear of the edges that it
/// joins.
fn is_mitre(corner: Point, at: Point, edges: [&Edge; 2], most: f64) -> bool {
    let mitre = Edge::line(corner, at);
    let mut met = edges.into_iter().flat_map(|edge| edge.crossings(&mitre));
    mitre.length() <= most && met.all(|place| (place - corner).hypot() <= MOVED)
}

/// A corner after the move: where the edge before leaves and the edge after enters.
struct Joint {
    leave: Point,
    enter: Point,
    round: Option<Point>,
}

fn round_joint(joint: &Joint, centre: Point) -> Edge {
    let (from, to) = (joint.leave - centre, joint.enter - centre);
    let turn = within_half_turn(to.atan2() - from.atan2());
    Edge::Arc(Arc { centre, radius: from.hypot(), start: from.atan2(), sweep: turn })
}

/// Where the two moved edges, run on as far as needed, meet nearest to the old corner.
pub(super) fn meet(last: &Edge, next: &Edge, corner: Point) -> Option<Point> {
    if (last.end() - next.start()).hypot() <= COINCIDENT {
        return Some(next.start());
    }
    let places = match (last, next) {
        (Edge::Line(a), Edge::Line(b)) => a.crossing_point(*b).into_iter().collect(),
        (Edge::Line(line), Edge::Arc(arc)) | (Edge::Arc(arc), Edge::Line(line)) => {
            circle_on_line(line, arc).into_iter().map(|(_, point)| point).collect()
        }
        (Edge::Arc(a), Edge::Arc(b)) => circle_circle(a, b),
    };
    places
        .into_iter()
        .filter(|p| p.is_finite())
        .min_by(|p, q| (*p - corner).hypot2().total_cmp(&(*q - corner).hypot2()))
}

/// `edge` from `from` to `to` (both on its line or circle); `None` where it would turn round.
pub(super) fn trimmed(edge: &Edge, from: Point, to: Point) -> Option<Edge> {
    match edge {
        Edge::Line(line) => {
            let kept = Line::new(from, to);
            ((line.p1 - line.p0).dot(to - from) > 0.0).then_some(Edge::Line(kept))
        }
        Edge::Arc(arc) => {
            let (a, b) = ((from - arc.centre).atan2(), (to - arc.centre).atan2());
            // Each end slides by less than half a turn, so the sweep changes by the difference.
            let late = within_half_turn(a - arc.start);
            let sweep = arc.sweep - late + within_half_turn(b - arc.start - arc.sweep);
            (sweep * arc.sweep > 0.0 && sweep.abs() <= TAU - FULL).then_some(Edge::Arc(Arc {
                start: a,
                sweep,
                ..*arc
            }))
        }
    }
}

impl Outline {
    /// The outline moved inwards by `distance` mm, which is never negative, as [`Outline::offset`] moves
    /// it; but pieces of one line or circle are one edge, and an edge too short to be left is left out,
    /// its neighbours run on until they meet.
    ///
    /// # Errors
    /// Where nothing is left, or the outline falls apart.
    pub fn inset(&self, distance: f64) -> Result<Outline, OffsetError> {
        // A whole circle is no chain of edges.
        let mut outer = Outline::new(self.merged()).unwrap_or_else(|_| self.clone());
        loop {
            let error = match outer.offset(-distance, Join::Round) {
                Ok(inner) => return self.inset_checked(inner, distance),
                Err(error) => error,
            };
            let OffsetError::Collapsed(index) = error else { return Err(error) };
            outer = outer.without(index).ok_or(error)?;
        }
    }

    /// Neighbours that were run on must not have come closer to what was left out.
    fn inset_checked(&self, inner: Outline, distance: f64) -> Result<Outline, OffsetError> {
        let clear = |edge: &Edge| {
            let places = [0.0, 0.25, 0.5, 0.75].map(|t| edge.at(t));
            places
                .iter()
                .all(|&at| self.contains(at) && self.distance_to(at) >= distance - REWORKED)
        };
        let close = inner.edges().iter().position(|edge| distance > REWORKED && !clear(edge));
        close.map_or(Ok(inner), |index| Err(OffsetError::Collapsed(index)))
    }

    /// The outline without that edge: the edges beside it run on until they meet.
    fn without(&self, index: usize) -> Option<Outline> {
        let edges = self.edges();
        let count = edges.len();
        let lost = edges.get(index)?;
        let at = |place: usize| edges.get(place % count);
        let (before, after) = (at(index + count - 1)?, at(index + 1)?);
        let corner = meet(before, after, lost.at(0.5))?;
        let mut left: Vec<Edge> =
            (2..count.saturating_sub(1)).filter_map(|n| at(index + n).copied()).collect();
        left.insert(0, trimmed(after, corner, after.end())?);
        left.push(trimmed(before, before.start(), corner)?);
        Outline::new(left).ok()
    }
}

/// The arc of `radius` that touches both edges of a corner that turns left, travelled as they are; none
/// where it would not touch both.
///
/// ```
/// use fillister::geometry::{Edge, fillet};
/// let corner = (100.0, 0.0).into();
/// let into = Edge::line((0.0, 0.0).into(), corner);
/// let out = Edge::line(corner, (100.0, 80.0).into());
/// let arc = fillet(&into, &out, 6.0).unwrap();
/// assert!((arc.centre - kurbo::Point::new(94.0, 6.0)).hypot() < 1e-9);
/// ```
pub fn fillet(into: &Edge, out: &Edge, radius: f64) -> Option<Arc> {
    let at = out.start();
    let centres = into.shifted(-radius)?.crossings(&out.shifted(-radius)?);
    let away = |p: &kurbo::Point| (*p - at).hypot2();
    let centre = centres.into_iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
    let (from, to) = (into.at(into.nearest(centre)), out.at(out.nearest(centre)));
    let touches = |place: kurbo::Point| ((place - centre).hypot() - radius).abs() <= REWORKED;
    if !touches(from) || !touches(to) {
        return None;
    }
    let start = (from - centre).atan2();
    // The short way round, past the corner.
    let turn = ((to - centre).atan2() - start).rem_euclid(TAU);
    let sweep = if turn > TAU / 2.0 { turn - TAU } else { turn };
    Some(Arc { centre, radius, start, sweep })
}

impl Outline {
    /// The outline with every corner that turns left rounded to `radius`. A corner that the arc does not
    /// fit, because an edge is too short or an arc too tight, stays sharp.
    #[must_use]
    pub fn filleted(&self, radius: f64) -> Outline {
        let edges = self.edges();
        let count = edges.len();
        // The arc at the start of each edge.
        let mut arcs: Vec<Option<Arc>> = self
            .meetings()
            .map(|(into, out)| {
                let left = into.direction(1.0).cross(out.direction(0.0)) > CORNER;
                if left && count > 1 { fillet(into, out, radius) } else { None }
            })
            .collect();
        let ends = |edge: &Edge, first: &Option<Arc>, last: &Option<Arc>| {
            let at = |arc: &Arc| edge.nearest(arc.centre);
            (first.as_ref().map_or(0.0, at), last.as_ref().map_or(1.0, at))
        };
        // Two arcs on an edge too short for both: the later one gives way.
        for index in 0..count {
            let next = (index + 1) % count.max(1);
            let (Some(edge), Some(first), Some(last)) =
                (edges.get(index), arcs.get(index), arcs.get(next))
            else {
                continue;
            };
            let (from, to) = ends(edge, first, last);
            if (to - from) * edge.length() < -COINCIDENT
                && let Some(late) = arcs.get_mut(next)
            {
                *late = None;
            }
        }
        let lasts = arcs.iter().cycle().skip(1);
        let mut rounded = Vec::with_capacity(2 * count);
        for ((edge, first), last) in edges.iter().zip(&arcs).zip(lasts) {
            let (from, to) = ends(edge, first, last);
            rounded.extend(first.map(Edge::Arc));
            let part = if first.is_none() && last.is_none() { *edge } else { edge.part(from, to) };
            if part.length() > COINCIDENT {
                rounded.push(part);
            }
        }
        Outline::new(rounded).unwrap_or_else(|_| self.clone())
    }
}

#[cfg(test)]
mod tests;
