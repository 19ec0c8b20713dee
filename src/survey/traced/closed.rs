//! Loose edges joined into the one outline that they make.

use super::entities::{Drawn, between};
use super::{Fault, TraceError};
use crate::geometry::{ArchError, Edge, Side, Sided, free};
use crate::survey::tolerance::JOINS;
use kurbo::Point;

/// An edge between two places where ends meet.
struct Link {
    drawn: Drawn,
    from: usize,
    to: usize,
}

pub(super) fn outline(drawn: &[Drawn]) -> Result<Sided, TraceError> {
    let mut places: Vec<(Point, Vec<usize>)> = Vec::new();
    let mut links: Vec<Link> = Vec::new();
    // What is shorter than the ends may be apart is a leftover of drawing.
    for drawn in drawn.iter().filter(|drawn| drawn.edge.length() > JOINS) {
        let [from, to] = [drawn.edge.start(), drawn.edge.end()].map(|end| {
            let known = places.iter().position(|(place, _)| (*place - end).hypot() <= JOINS);
            let index = known.unwrap_or(places.len());
            if known.is_none() {
                places.push((end, Vec::new()));
            }
            if let Some((_, ends)) = places.get_mut(index) {
                ends.push(links.len());
            }
            index
        });
        links.push(Link { drawn: *drawn, from, to });
    }
    check_ends(&places, &links)?;
    let (edges, lines, left) = walked(&places, &links);
    if let Some(second) = left {
        let first = lines.iter().copied().min().unwrap_or_default();
        return Err(TraceError::at(second, Fault::Second(first)));
    }
    let line_of = |index: usize| lines.get(index).copied().unwrap_or_default();
    free(edges).and_then(|outline| begun(&outline)).map_err(|error| match error {
        ArchError::Crosses(i, j) => TraceError::at(line_of(j), Fault::Crosses(line_of(i))),
        other => TraceError::at(line_of(0), Fault::NoArea(other)),
    })
}

/// The same outline from its lowest corner on, of those the leftmost: in which order somebody drew the
/// edges makes no other outline.
fn begun(outline: &Sided) -> Result<Sided, ArchError> {
    let mut edges: Vec<(Edge, Side)> = outline.edges().map(|(edge, side)| (*edge, side)).collect();
    let corners = || edges.iter().map(|(edge, _)| edge.start()).enumerate();
    let lowest = corners().map(|(_, corner)| corner.y).fold(f64::INFINITY, f64::min);
    let first = corners()
        .filter(|(_, corner)| corner.y <= lowest + JOINS)
        .min_by(|(_, a), (_, b)| a.x.total_cmp(&b.x));
    edges.rotate_left(first.map_or(0, |(index, _)| index));
    Sided::new(edges).map_err(ArchError::Outline)
}

/// Every place must have two ends.
fn check_ends(places: &[(Point, Vec<usize>)], links: &[Link]) -> Result<(), TraceError> {
    if links.is_empty() {
        return Err(TraceError::at(1, Fault::Nothing));
    }
    for (index, (place, ends)) in places.iter().enumerate() {
        let line = ends.last().and_then(|link| links.get(*link)).map_or(1, |link| link.drawn.line);
        if ends.len() > 2 {
            return Err(TraceError::at(line, Fault::Branch(place.x, place.y)));
        }
        if ends.len() < 2 {
            let others = places.iter().enumerate().filter(|(other, _)| *other != index);
            let nearest = others
                .map(|(_, (other, _))| (*other - *place).hypot())
                .fold(f64::INFINITY, f64::min);
            return Err(TraceError::at(line, Fault::OpenEnd(place.x, place.y, nearest)));
        }
    }
    Ok(())
}

/// Edges in order from the first, the line of each, and the line of an edge left over.
type Walk = (Vec<Edge>, Vec<usize>, Option<usize>);

fn walked(places: &[(Point, Vec<usize>)], links: &[Link]) -> Walk {
    let place = |index: usize| places.get(index).map_or(Point::ZERO, |(place, _)| *place);
    let (mut edges, mut lines) = (Vec::new(), Vec::new());
    let mut used = vec![false; links.len()];
    let (mut current, mut at) = (0, links.first().map_or(0, |link| link.from));
    while let (Some(link), Some(done)) = (links.get(current), used.get_mut(current)) {
        if *done {
            break;
        }
        *done = true;
        let forwards = link.from == at;
        let edge = if forwards { link.drawn.edge } else { link.drawn.edge.reversed() };
        let to = if forwards { link.to } else { link.from };
        edges.push(between(&edge, place(at), place(to)));
        lines.push(link.drawn.line);
        at = to;
        let ends = places.get(to).map(|(_, ends)| ends.as_slice()).unwrap_or_default();
        current = ends.iter().copied().find(|end| *end != current).unwrap_or(current);
    }
    let left = used.iter().position(|used| !used).and_then(|index| links.get(index));
    (edges, lines, left.map(|link| link.drawn.line))
}
