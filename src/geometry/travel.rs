//! Stretches of an outline, and of edges within it.

use super::{Edge, Outline, SAME};
use kurbo::Point;
use std::f64::consts::PI;

impl Outline {
    /// The least angle inside, radians, between neighbours that turn to the left; half a turn where none
    /// do.
    pub fn sharpest_corner(&self) -> f64 {
        let edges = self.edges();
        let before = edges.iter().cycle().skip(edges.len().saturating_sub(1));
        let turn = |(into, out): (&Edge, &Edge)| {
            let (along, on) = (into.direction(1.0), out.direction(0.0));
            along.cross(on).atan2(along.dot(on))
        };
        PI - before.zip(edges).map(turn).fold(0.0, f64::max)
    }

    /// The stretches of `edge` that lie inside, in order along it.
    pub fn stretches_inside(&self, edge: &Edge) -> Vec<Edge> {
        let crossed = self.edges().iter().flat_map(|own| own.crossings(edge));
        let mut places: Vec<f64> = crossed.map(|point| edge.nearest(point)).collect();
        places.extend([0.0, 1.0]);
        places.sort_by(f64::total_cmp);
        let mut inside: Vec<[f64; 2]> = Vec::new();
        for pair in places.windows(2) {
            let [from, to] = *pair else { continue };
            let middle = edge.at(f64::midpoint(from, to));
            if (to - from) * edge.length() <= SAME || !self.contains(middle) {
                continue;
            }
            match inside.last_mut() {
                // Where an edge only touches, it goes on.
                Some(last) if last[1] == from => last[1] = to,
                _ => inside.push([from, to]),
            }
        }
        inside.into_iter().map(|[from, to]| edge.part(from, to)).collect()
    }

    /// The outline from the place nearest to `from` anticlockwise to the place nearest to `to`.
    pub fn between(&self, from: Point, to: Point) -> Vec<Edge> {
        let ((start, first), (end, last)) = (self.nearest_on(from), self.nearest_on(to));
        let edges = self.edges();
        let (Some(opening), Some(closing)) = (edges.get(first), edges.get(last)) else {
            return Vec::new();
        };
        let (a, b) = (opening.nearest(start), closing.nearest(end));
        let whole = if first == last && a <= b {
            vec![opening.part(a, b)]
        } else {
            let count = (last + edges.len() - first - 1) % edges.len();
            let inner = edges.iter().cycle().skip(first + 1).take(count).copied();
            let (head, tail) = (opening.part(a, 1.0), closing.part(0.0, b));
            std::iter::once(head).chain(inner).chain(std::iter::once(tail)).collect()
        };
        whole.into_iter().filter(|edge| edge.length() > SAME).collect()
    }
}
