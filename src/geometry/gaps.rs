//! Gaps between one outline and another around it, side by side.

use super::prepared::{Prepared, least_distance};
use super::tolerance::{COINCIDENT, ROUNDING};
use super::{Edge, PerSide, Sided, distance_between};
use kurbo::Point;

/// Places along an edge at which it is asked whether it lies inside.
const PLACES: u32 = 16;

impl Sided {
    /// Least and most from each side out to the same side of `outer`, mm: the least is negative where this
    /// reaches beyond it, the most is measured at places along the edges, corners included. Infinite on a side
    /// without an edge.
    pub fn gaps_to(&self, outer: &Sided) -> PerSide<[f64; 2]> {
        PerSide::from_fn(|side| {
            let around: Vec<&Prepared> = outer.on_side(side).collect();
            let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
            for edge in self.on_side(side) {
                let depths: Vec<f64> =
                    places(&edge.edge).map(|place| depth(place, &around)).collect();
                least = least.min(gap(edge, &depths, &around));
                most = depths.into_iter().fold(most, f64::max);
            }
            // Of one width throughout but for rounding.
            [least, if most - least <= COINCIDENT { least } else { most }]
        })
    }
}

/// Places along `edge`, its ends among them.
fn places(edge: &Edge) -> impl Iterator<Item = Point> {
    (0..=PLACES).map(move |index| edge.at(f64::from(index) / f64::from(PLACES)))
}

/// From `place` out to the nearest of the edges around, mm; negative beyond it.
fn depth(place: Point, around: &[&Prepared]) -> f64 {
    let least = least_distance(around.iter().copied(), place);
    let mut nearest = f64::INFINITY;
    for edge in around {
        if edge.box_distance_squared(place).sqrt() > least
            || edge.distance_to(place) > least + ROUNDING
        {
            continue;
        }
        let t = edge.edge.nearest(place);
        let away = place - edge.edge.at(t);
        if away.hypot() < nearest.abs() {
            // Anticlockwise, the inside is to the left.
            let beyond = edge.edge.direction(t).cross(away) < 0.0;
            nearest = if beyond { -away.hypot() } else { away.hypot() };
        }
    }
    nearest
}

/// The least from `edge`, whose places lie as deep as told, to the edges around.
fn gap(edge: &Prepared, depths: &[f64], around: &[&Prepared]) -> f64 {
    let beyond = depths.iter().copied().fold(0.0, f64::min);
    if beyond < 0.0 {
        return beyond;
    }
    around.iter().fold(f64::INFINITY, |least, other| {
        let apart = edge.boxes_apart_squared(other) > least * least;
        if apart { least } else { least.min(distance_between(&edge.edge, &other.edge)) }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, Side};
    use approx::assert_relative_eq;
    use kurbo::{Rect, Vec2};

    #[test]
    fn gaps_of_rectangles_are_those_of_their_sides() {
        let outer = Sided::rectangle(Rect::new(0.0, 0.0, 100.0, 80.0)).unwrap();
        let inner = Sided::rectangle(Rect::new(2.0, 4.0, 97.0, 83.0)).unwrap();
        let found = inner.gaps_to(&outer).map(|gap| gap[0]);
        let expected = PerSide { left: 2.0, right: 3.0, bottom: 4.0, top: -3.0 };
        assert_eq!(found, expected);
        let inner = Sided::rectangle(Rect::new(2.0, 4.0, 97.0, 77.0)).unwrap();
        assert_eq!(inner.gaps_to(&outer).right, [3.0, 3.0]);
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
        let found = arch(2.0, 3.0).gaps_to(&arch(0.0, 0.0)).top;
        assert_relative_eq!(found[1], 5.0, epsilon = 1e-9);
        assert!(found[0] > 2.0 && found[0] < 3.0, "{found:?}");
    }
}
