//! The four sides of an upright rectangle, a value for each of them, and outlines whose edges each look to one.

use super::prepared::{Prepared, least_distance};
use super::tolerance::{COINCIDENT, ROUNDING};
use super::{Edge, Join, OffsetError, Outline, OutlineError};
use kurbo::{Point, Rect, Vec2};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A side of an upright rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// Smaller X.
    Left,
    /// Larger X.
    Right,
    /// Smaller Y.
    Bottom,
    /// Larger Y.
    Top,
}

impl Side {
    /// Every side, in the order that reports use.
    pub const ALL: [Side; 4] = [Side::Left, Side::Right, Side::Bottom, Side::Top];

    /// Whether the side runs upright (left and right do).
    pub fn is_upright(self) -> bool {
        matches!(self, Side::Left | Side::Right)
    }

    /// Its place in `rect`: an X of left and right, a Y of bottom and top.
    pub fn of(self, rect: Rect) -> f64 {
        match self {
            Side::Left => rect.x0,
            Side::Right => rect.x1,
            Side::Bottom => rect.y0,
            Side::Top => rect.y1,
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Side::Left => "left",
            Side::Right => "right",
            Side::Bottom => "bottom",
            Side::Top => "top",
        })
    }
}

/// One value a side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct PerSide<T> {
    /// Value of the left side.
    pub left: T,
    /// Value of the right side.
    pub right: T,
    /// Value of the bottom side.
    pub bottom: T,
    /// Value of the top side.
    pub top: T,
}

impl<T> PerSide<T> {
    /// The value of `side`.
    pub fn get(&self, side: Side) -> &T {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
            Side::Bottom => &self.bottom,
            Side::Top => &self.top,
        }
    }

    /// Asks `value` for each side.
    pub fn from_fn(mut value: impl FnMut(Side) -> T) -> Self {
        Self {
            left: value(Side::Left),
            right: value(Side::Right),
            bottom: value(Side::Bottom),
            top: value(Side::Top),
        }
    }

    /// Applies `change` to every value.
    pub fn map<U>(&self, mut change: impl FnMut(&T) -> U) -> PerSide<U> {
        PerSide::from_fn(|side| change(self.get(side)))
    }

    /// Sides with their values, in the order of [`Side::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Side, &T)> {
        Side::ALL.into_iter().map(|side| (side, self.get(side)))
    }
}

impl<T: Clone> PerSide<T> {
    /// The same value on all four sides.
    pub fn all(value: T) -> Self {
        PerSide::from_fn(|_| value.clone())
    }
}

/// Least and most of a length that need not be the same all along a side, mm. Whoever wants one number says which
/// of the two; nothing writes the two as one.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(into = "[f64; 2]", from = "[f64; 2]")]
#[schemars(with = "[f64; 2]")]
pub struct MinMax {
    /// At its least.
    pub least: f64,
    /// At its most.
    pub most: f64,
}

impl MinMax {
    /// The same throughout.
    pub fn even(length: f64) -> MinMax {
        MinMax { least: length, most: length }
    }

    /// Both ends by `change`, which may turn them round.
    #[must_use]
    pub fn map(self, change: impl Fn(f64) -> f64) -> MinMax {
        let (a, b) = (change(self.least), change(self.most));
        MinMax { least: a.min(b), most: a.max(b) }
    }

    /// Over this and `other`.
    #[must_use]
    pub fn or(self, other: MinMax) -> MinMax {
        MinMax { least: self.least.min(other.least), most: self.most.max(other.most) }
    }
}

impl From<[f64; 2]> for MinMax {
    fn from([least, most]: [f64; 2]) -> MinMax {
        MinMax { least, most }
    }
}

impl From<MinMax> for [f64; 2] {
    fn from(length: MinMax) -> [f64; 2] {
        [length.least, length.most]
    }
}

impl PerSide<f64> {
    /// `rect` grown outwards by each side's value (inwards where negative).
    pub fn grow(&self, rect: Rect) -> Rect {
        Rect::new(
            rect.x0 - self.left,
            rect.y0 - self.bottom,
            rect.x1 + self.right,
            rect.y1 + self.top,
        )
    }
}

/// A closed outline with the side that each edge belongs to. A side may own several edges, one after
/// the other; a rectangle has one edge a side.
#[derive(Debug, Clone, PartialEq)]
pub struct Sided {
    outline: Outline,
    sides: Vec<Side>,
}

impl Sided {
    /// Closes edges, each with its side; a clockwise chain is turned round.
    ///
    /// # Errors
    /// As [`Outline::new`].
    pub fn new(edges: Vec<(Edge, Side)>) -> Result<Sided, OutlineError> {
        let (edges, mut sides): (Vec<Edge>, Vec<Side>) = edges.into_iter().unzip();
        // `Outline::new` turns a clockwise chain round by reversing it.
        if edges.iter().map(Edge::area_share).sum::<f64>() < 0.0 {
            sides.reverse();
        }
        let outline = Outline::new(edges)?;
        Ok(Sided { outline, sides })
    }

    /// An outline whose edges belong to the side that they look to: the side whose outward direction
    /// is nearest to the edge's own in its middle.
    pub fn by_direction(outline: Outline) -> Sided {
        Sided::with_sides(outline, side_of)
    }

    /// An outline and a rule that tells each edge's side.
    pub fn with_sides(outline: Outline, side: impl Fn(&Edge) -> Side) -> Sided {
        let sides = outline.edges().iter().map(side).collect();
        Sided { outline, sides }
    }

    /// The four edges of `rect`.
    ///
    /// # Errors
    /// Where `rect` has no area.
    pub fn rectangle(rect: Rect) -> Result<Sided, OutlineError> {
        Ok(Sided::by_direction(Outline::rectangle(rect)?))
    }

    /// The outline.
    pub fn outline(&self) -> &Outline {
        &self.outline
    }

    /// The outline, with its exact bounds where it is a rectangle: what was grown may carry rounding.
    ///
    /// # Errors
    /// Where a rectangle has no area.
    pub fn within(&self, bounds: Rect) -> Result<Outline, OutlineError> {
        if self.is_rectangle() { Outline::rectangle(bounds) } else { Ok(self.outline.clone()) }
    }

    /// The edges, anticlockwise, each with its side.
    pub fn edges(&self) -> impl Iterator<Item = (&Edge, Side)> {
        self.outline.edges().iter().zip(self.sides.iter().copied())
    }

    /// The edges of one side, anticlockwise.
    pub fn edges_on(&self, side: Side) -> impl Iterator<Item = &Edge> {
        self.edges().filter(move |(_, own)| *own == side).map(|(edge, _)| edge)
    }

    /// The edges of one side, ready for questions.
    pub(super) fn on_side(&self, side: Side) -> impl Iterator<Item = &Prepared> {
        let edges = self.outline.prepared().iter().zip(&self.sides);
        edges.filter(move |(_, own)| **own == side).map(|(edge, _)| edge)
    }

    /// Least distance from `point` to the edges of one side, mm; infinite where it has none.
    pub fn distance_to(&self, side: Side, point: Point) -> f64 {
        self.on_side(side).map(|edge| edge.distance_to(point)).fold(f64::INFINITY, f64::min)
    }

    /// The side of the first edge that lies within `within` mm of `point`.
    pub fn side_at(&self, point: Point, within: f64) -> Option<Side> {
        let mut edges = self.outline.prepared().iter().zip(&self.sides);
        let near = |edge: &Prepared| {
            edge.box_distance_squared(point) <= within * within && edge.distance_to(point) <= within
        };
        edges.find(|(edge, _)| near(edge)).map(|(_, side)| *side)
    }

    /// The smallest upright rectangle around it.
    pub fn bounds(&self) -> Rect {
        self.outline.bounds()
    }

    /// Whether it is an upright rectangle with one edge a side.
    pub fn is_rectangle(&self) -> bool {
        let bounds = self.bounds();
        let on_bounds = |edge: &Edge| {
            let (Edge::Line(_), all) = (edge, edge.bounds()) else { return false };
            let upright = (all.x0 - all.x1).abs() <= COINCIDENT
                && [bounds.x0, bounds.x1].iter().any(|x| (x - all.x0).abs() <= COINCIDENT);
            let level = (all.y0 - all.y1).abs() <= COINCIDENT
                && [bounds.y0, bounds.y1].iter().any(|y| (y - all.y0).abs() <= COINCIDENT);
            upright || level
        };
        self.sides.len() == 4 && self.outline.edges().iter().all(on_bounds)
    }

    /// The same, moved by `by` mm.
    #[must_use]
    pub fn moved(&self, by: Vec2) -> Sided {
        Sided { outline: self.outline.moved(by), sides: self.sides.clone() }
    }

    /// Every edge moved outwards by its side's distance (inwards where negative); corners stay sharp.
    ///
    /// # Errors
    /// Where an edge would vanish or neighbours would no longer meet.
    pub fn grow(&self, by: &PerSide<f64>) -> Result<Sided, OffsetError> {
        Sided::of_moved(self.moved_edges(by, Join::Sharp)?, &self.sides)
    }

    /// The same with outside corners turned round; what joins two edges belongs to the one after it.
    ///
    /// # Errors
    /// As [`Sided::grow`].
    pub fn grow_round(&self, by: &PerSide<f64>) -> Result<Sided, OffsetError> {
        Sided::of_moved(self.moved_edges(by, Join::Round)?, &self.sides)
    }

    /// What every edge becomes by [`Sided::grow`], without the steps between them.
    ///
    /// # Errors
    /// As [`Sided::grow`].
    pub fn grown_edges(&self, by: &PerSide<f64>) -> Result<Vec<Edge>, OffsetError> {
        let moved = self.moved_edges(by, Join::Sharp)?.into_iter();
        Ok(moved.filter_map(|(edge, from)| from.map(|_| edge)).collect())
    }

    fn moved_edges(
        &self,
        by: &PerSide<f64>,
        join: Join,
    ) -> Result<Vec<(Edge, Option<usize>)>, OffsetError> {
        let distances: Vec<f64> = self.sides.iter().map(|side| *by.get(*side)).collect();
        self.outline.moved_each(&distances, join)
    }

    /// Closes moved edges; a step belongs to the edge after it.
    fn of_moved(moved: Vec<(Edge, Option<usize>)>, sides: &[Side]) -> Result<Sided, OffsetError> {
        let mut with_sides = Vec::with_capacity(moved.len());
        let mut next = Side::Bottom;
        for (edge, from) in moved.into_iter().rev() {
            next = from.and_then(|index| sides.get(index).copied()).unwrap_or(next);
            with_sides.push((edge, next));
        }
        with_sides.reverse();
        Ok(Sided::new(with_sides)?)
    }
}

/// The side that an edge of an anticlockwise outline looks to.
pub fn side_of(edge: &Edge) -> Side {
    let along = edge.direction(0.5);
    let outwards = Vec2::new(along.y, -along.x);
    if outwards.x.abs() >= outwards.y.abs() {
        if outwards.x < 0.0 { Side::Left } else { Side::Right }
    } else if outwards.y < 0.0 {
        Side::Bottom
    } else {
        Side::Top
    }
}

/// Places along an edge at which it is asked whether it lies inside.
const PLACES: u32 = 16;

impl Sided {
    /// Least and most from each side out to the same side of `outer`, mm: the least is negative where this
    /// reaches beyond it, the most is measured at places along the edges, corners included. Infinite on a side
    /// without an edge.
    pub fn gaps_to(&self, outer: &Sided) -> PerSide<MinMax> {
        PerSide::from_fn(|side| {
            let around: Vec<&Prepared> = outer.on_side(side).collect();
            let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
            for edge in self.on_side(side) {
                let near = nearest_to(edge, &around);
                let depths: Vec<f64> =
                    places(&edge.edge).map(|place| depth(place, &near)).collect();
                least = least.min(gap(edge, &depths, &near));
                for (place, depth) in places(&edge.edge).zip(depths) {
                    if depth > most && (is_beside(place, &near) || is_beside(place, &around)) {
                        most = depth;
                    }
                }
            }
            // Of one width throughout but for rounding, or all of it past the ends of the other.
            MinMax { least, most: if most - least <= COINCIDENT { least } else { most } }
        })
    }
}

/// Places along `edge`, its ends among them.
fn places(edge: &Edge) -> impl Iterator<Item = Point> {
    (0..=PLACES).map(move |index| edge.at(f64::from(index) / f64::from(PLACES)))
}

/// Those of the edges around that may be the nearest to some place of `edge`.
fn nearest_to<'a>(edge: &Prepared, around: &[&'a Prepared]) -> Vec<&'a Prepared> {
    let own = edge.bounds;
    // No place of the edge is further from the one that begins there.
    let furthest = |at: Point| {
        (at.x - own.x0)
            .abs()
            .max((at.x - own.x1).abs())
            .hypot((at.y - own.y0).abs().max((at.y - own.y1).abs()))
    };
    let most = around.iter().map(|other| furthest(other.from)).fold(f64::INFINITY, f64::min);
    let most = most + 2.0 * ROUNDING;
    around.iter().copied().filter(|other| edge.boxes_apart_squared(other) <= most * most).collect()
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

/// Whether some of the edges around lies square beside `place`, and not only its end aslant from it.
fn is_beside(place: Point, around: &[&Prepared]) -> bool {
    around.iter().any(|edge| {
        let t = edge.edge.nearest(place);
        let away = place - edge.edge.at(t);
        edge.edge.direction(t).dot(away).abs() <= COINCIDENT * away.hypot().max(1.0)
    })
}

/// The least from `edge`, whose places lie as deep as told, to the edges around.
fn gap(edge: &Prepared, depths: &[f64], around: &[&Prepared]) -> f64 {
    let beyond = depths.iter().copied().fold(0.0, f64::min);
    if beyond < 0.0 {
        return beyond;
    }
    around.iter().fold(f64::INFINITY, |least, other| {
        let apart = edge.boxes_apart_squared(other) > least * least;
        if apart { least } else { least.min(edge.distance_between(other)) }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use approx::assert_relative_eq;

    #[test]
    fn a_rectangle_has_its_sides_and_grows_by_each() {
        let rect = Rect::new(0.0, 0.0, 820.0, 930.0);
        let sight = Sided::rectangle(rect).unwrap();
        let sides: Vec<Side> = sight.edges().map(|(_, side)| side).collect();
        assert_eq!(sides, [Side::Bottom, Side::Right, Side::Top, Side::Left]);
        let by = PerSide { left: 14.0, right: 15.0, bottom: 16.0, top: 13.0 };
        let wall = sight.grow(&by).unwrap();
        assert!(wall.is_rectangle());
        let expected = by.grow(rect);
        assert_relative_eq!(wall.bounds().x1, expected.x1, epsilon = 1e-9);
        assert_relative_eq!(wall.bounds().y0, expected.y0, epsilon = 1e-9);
        assert_relative_eq!(wall.outline().area(), expected.area(), epsilon = 1e-6);
    }

    #[test]
    fn a_clockwise_chain_keeps_its_sides() {
        let arch =
            Arc::from_bulge(Point::new(0.0, 900.0), Point::new(800.0, 900.0), -0.25).unwrap();
        let head = Sided::new(vec![
            (Edge::line(Point::ZERO, Point::new(0.0, 900.0)), Side::Left),
            (Edge::Arc(arch), Side::Top),
            (Edge::line(Point::new(800.0, 900.0), Point::new(800.0, 0.0)), Side::Right),
            (Edge::line(Point::new(800.0, 0.0), Point::ZERO), Side::Bottom),
        ])
        .unwrap();
        for (edge, side) in head.edges() {
            assert_eq!(side_of(edge), side);
        }
        assert!(!head.is_rectangle());
        assert_relative_eq!(head.bounds().y1, 1000.0, epsilon = 1e-9);
    }

    #[test]
    fn gaps_of_rectangles_are_those_of_their_sides() {
        let outer = Sided::rectangle(Rect::new(0.0, 0.0, 100.0, 80.0)).unwrap();
        let inner = Sided::rectangle(Rect::new(2.0, 4.0, 97.0, 83.0)).unwrap();
        let found = inner.gaps_to(&outer).map(|gap| gap.least);
        let expected = PerSide { left: 2.0, right: 3.0, bottom: 4.0, top: -3.0 };
        assert_eq!(found, expected);
        let inner = Sided::rectangle(Rect::new(2.0, 4.0, 97.0, 77.0)).unwrap();
        assert_eq!(inner.gaps_to(&outer).right, MinMax::even(3.0));
        // Beyond the ends of a shorter one there is nothing beside.
        let short = Sided::rectangle(Rect::new(-5.0, 10.0, 105.0, 60.0)).unwrap();
        let tall = Sided::rectangle(Rect::new(0.0, 0.0, 100.0, 80.0)).unwrap();
        assert_eq!(tall.gaps_to(&short).left, MinMax::even(5.0));
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
        assert_relative_eq!(found.most, 5.0, epsilon = 1e-9);
        assert!(found.least > 2.0 && found.least < 3.0, "{found:?}");
    }
}
