//! Gaps between one outline and another around it, side by side.

use crate::geometry::{Edge, PerSide, SAME, Side, Sided, distance_between};
use kurbo::Point;

/// Places along an edge at which it is asked whether it lies inside.
const PLACES: u32 = 16;

/// From each side of `inner` out to the same side of `outer`, the least, mm; negative where `inner`
/// reaches beyond it. Infinite on a side that `inner` has no edge on.
fn gaps(inner: &Sided, outer: &Sided) -> PerSide<f64> {
    PerSide::from_fn(|side| {
        on_side(inner, side).map(|edge| gap(edge, outer, side)).fold(f64::INFINITY, f64::min)
    })
}

/// Least and most from each side of `inner` out to the same side of `outer`, mm: the most is measured at
/// places along the edges, corners included.
pub(super) fn spans(inner: &Sided, outer: &Sided) -> PerSide<[f64; 2]> {
    let least = gaps(inner, outer);
    PerSide::from_fn(|side| {
        let edges = on_side(inner, side);
        let all = edges.flat_map(places).map(|place| depth(place, outer, side));
        let least = *least.get(side);
        let most = all.fold(least, f64::max);
        // Of one width throughout but for rounding.
        [least, if most - least <= SAME { least } else { most }]
    })
}

fn on_side(sided: &Sided, side: Side) -> impl Iterator<Item = &Edge> {
    sided.edges().filter(move |(_, own)| *own == side).map(|(edge, _)| edge)
}

/// Places along `edge`, its ends among them.
fn places(edge: &Edge) -> impl Iterator<Item = Point> {
    (0..=PLACES).map(move |index| edge.at(f64::from(index) / f64::from(PLACES)))
}

/// From `place` out to the edges of `outer` on `side`, mm; negative beyond them. What lies beyond
/// another side alone is not measured here.
fn depth(place: Point, outer: &Sided, side: Side) -> f64 {
    let signed = |edge: &Edge| {
        let t = edge.nearest(place);
        let away = place - edge.at(t);
        // Anticlockwise, the inside is to the left.
        if edge.direction(t).cross(away) < 0.0 { -away.hypot() } else { away.hypot() }
    };
    let nearest = on_side(outer, side).map(signed);
    nearest.min_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap_or(f64::INFINITY)
}

fn gap(edge: &Edge, outer: &Sided, side: Side) -> f64 {
    let beyond = places(edge).map(|place| depth(place, outer, side)).fold(0.0, f64::min);
    if beyond < 0.0 {
        return beyond;
    }
    let others = on_side(outer, side);
    others.map(|other| distance_between(edge, other)).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use approx::assert_relative_eq;
    use kurbo::{Rect, Vec2};

    #[test]
    fn gaps_of_rectangles_are_those_of_their_sides() {
        let outer = Sided::rectangle(Rect::new(0.0, 0.0, 100.0, 80.0)).unwrap();
        let inner = Sided::rectangle(Rect::new(2.0, 4.0, 97.0, 83.0)).unwrap();
        let found = gaps(&inner, &outer);
        let expected = PerSide { left: 2.0, right: 3.0, bottom: 4.0, top: -3.0 };
        assert_eq!(found, expected);
        let inner = Sided::rectangle(Rect::new(2.0, 4.0, 97.0, 77.0)).unwrap();
        assert_eq!(spans(&inner, &outer).right, [3.0, 3.0]);
    }

    // Closed form: an arch let down by d keeps d + gap at the crown and gap + d cos φ at the springing.
    #[test]
    fn an_arch_that_sits_low_opens_most_at_the_crown() {
        let arch = |gap: f64, low: f64| {
            let (centre, radius) = (Point::new(400.0, 0.0), 500.0 - gap);
            let (start, sweep) = (0.3, std::f64::consts::PI - 0.6);
            let arc = Arc { centre, radius, start, sweep };
            let edge = Edge::Arc(arc);
            let chord = Edge::line(edge.end(), edge.start());
            let edges = vec![(edge, Side::Top), (chord, Side::Bottom)];
            Sided::new(edges).unwrap().moved(Vec2::new(0.0, -low))
        };
        let found = spans(&arch(2.0, 3.0), &arch(0.0, 0.0)).top;
        assert_relative_eq!(found[1], 5.0, epsilon = 1e-9);
        assert!(found[0] > 2.0 && found[0] < 3.0, "{found:?}");
    }
}
