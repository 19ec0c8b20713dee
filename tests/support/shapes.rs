//! Random daylights that are no rectangle: heads of every kind, crooked quadrilaterals, circles.

use super::chance::Deck;
use fillister::geometry::{Arc, Edge, Outline, Side, Sided};
use fillister::survey::{Horns, Runs, Sash, UnitShape};
use kurbo::{Point, Rect, Size, Vec2};
use std::f64::consts::FRAC_PI_2;

/// Gives a sash another daylight, and leaves the bars that still stand in it.
pub(crate) fn reshape(sash: &mut Sash, deck: &mut Deck) {
    let outline = daylight(deck, sash.sight);
    sash.sight = outline.bounds().size();
    let (w, h) = (sash.sight.width, sash.sight.height);
    sash.bars.retain(|bar| match bar.runs {
        Runs::Upright => bar.centre + bar.width < w,
        Runs::Cross => bar.centre + bar.width < 0.4 * h,
    });
    // A rectangle behind what is nearly one; behind heads the unit follows them.
    let straight = outline.outline().edges().len() == 4
        && outline.outline().edges().iter().all(|edge| matches!(edge, Edge::Line(_)));
    sash.unit.shape = if straight { UnitShape::Square } else { UnitShape::Shaped };
    sash.horns = Horns::default();
    sash.outline = Some(outline);
    // Where a head goes on smoothly from the jambs, all take the widest rebate.
    let widest = sash.members.iter().map(|(_, member)| member.old.width()).fold(0.0, f64::max);
    let m = &mut sash.members;
    for member in [&mut m.left, &mut m.right, &mut m.bottom, &mut m.top] {
        member.width = member.width.max(widest + 2.0) + 10.0;
    }
    sash.block_height = sash.clearance.bottom;
}

/// A daylight about as large as `size`, its bounds' lower left corner at zero.
pub(crate) fn daylight(deck: &mut Deck, size: Size) -> Sided {
    let (w, h) = (size.width, size.height);
    let drawn = match deck.index(7) {
        0 => headed(w, h, &[arc(w, h, deck.between(0.05, 0.5) * w)]),
        1 => headed(w, h, &[arc(w, h, w / 2.0)]),
        2 => pointed(w, h, deck.between(0.55, 1.3) * w),
        3 => three_centred(w, h, deck.between(0.12, 0.3) * w),
        4 => raked(w, h, deck.between(0.05, 0.4) * w, deck.chance(0.5)),
        5 => circle(w.min(h)),
        _ => crooked(deck, w, h),
    };
    let corner = drawn.bounds().origin().to_vec2();
    drawn.moved(-corner)
}

/// Sill and jambs under a head that runs from the right springing to the left.
fn headed(w: f64, h: f64, head: &[Edge]) -> Sided {
    let (right, left) = (head[0].start(), head[head.len() - 1].end());
    let mut edges = vec![
        (Edge::line(Point::ZERO, Point::new(w, 0.0)), Side::Bottom),
        (Edge::line(Point::new(w, 0.0), right), Side::Right),
    ];
    edges.extend(head.iter().map(|edge| (*edge, Side::Top)));
    edges.push((Edge::line(left, Point::ZERO), Side::Left));
    assert!(right.y > 0.0 && left.y > 0.0, "{w} by {h}");
    Sided::new(edges).unwrap()
}

fn springing(h: f64, rise: f64) -> f64 {
    (h - rise).max(0.3 * h)
}

fn arc(w: f64, h: f64, rise: f64) -> Edge {
    let y = springing(h, rise);
    Edge::Arc(Arc::from_bulge(Point::new(w, y), Point::new(0.0, y), 2.0 * rise / w).unwrap())
}

/// Two arcs of that radius, each centred on the springing line.
fn pointed(w: f64, h: f64, radius: f64) -> Sided {
    let rise = (radius * radius - (radius - w / 2.0).powi(2)).sqrt();
    let y = springing(h, rise);
    let apex = Point::new(w / 2.0, y + rise);
    let side = |centre: Point, from: Point, to: Point| {
        let (start, end) = ((from - centre).atan2(), (to - centre).atan2());
        Edge::Arc(Arc { centre, radius, start, sweep: end - start })
    };
    let (right, left) = (Point::new(w, y), Point::new(0.0, y));
    let first = side(Point::new(w - radius, y), right, apex);
    let centre = Point::new(radius, y);
    let start = (apex - centre).atan2();
    let sweep = (left - centre).atan2().rem_euclid(std::f64::consts::TAU) - start;
    let second = Edge::Arc(Arc { centre, radius, start, sweep });
    headed(w, h, &[first, second])
}

/// Small arcs at the springings, a large one over them, tangent to each other.
fn three_centred(w: f64, h: f64, rise: f64) -> Sided {
    let y = springing(h, rise);
    let small = 0.6 * rise;
    // The large circle touches the small one from inside: (c)² + (w/2 − r)² = (c + rise − r)².
    let (a, b) = (w / 2.0 - small, rise - small);
    let below = (a * a - b * b) / (2.0 * b);
    let centre = Point::new(w / 2.0, y - below);
    let right = Point::new(w - small, y);
    let turn = (right - centre).atan2();
    let edges = [
        Edge::Arc(Arc { centre: right, radius: small, start: 0.0, sweep: turn }),
        Edge::Arc(Arc {
            centre,
            radius: below + rise,
            start: turn,
            sweep: 2.0 * (FRAC_PI_2 - turn),
        }),
        Edge::Arc(Arc {
            centre: Point::new(small, y),
            radius: small,
            start: 2.0 * FRAC_PI_2 - turn,
            sweep: turn,
        }),
    ];
    headed(w, h, &edges)
}

fn raked(w: f64, h: f64, rise: f64, to_the_left: bool) -> Sided {
    let (low, high) = (springing(h, rise), springing(h, rise) + rise);
    let (left, right) = if to_the_left { (low, high) } else { (high, low) };
    headed(w, h, &[Edge::line(Point::new(w, right), Point::new(0.0, left))])
}

fn circle(d: f64) -> Sided {
    let centre = Point::new(d / 2.0, d / 2.0);
    let quarter = |index: u32| {
        let start = -0.75 * std::f64::consts::PI + f64::from(index) * FRAC_PI_2;
        Edge::Arc(Arc { centre, radius: d / 2.0, start, sweep: FRAC_PI_2 })
    };
    let sides = [Side::Bottom, Side::Right, Side::Top, Side::Left];
    Sided::new((0..4).map(quarter).zip(sides).collect()).unwrap()
}

/// Each corner up to 6 mm from where a square one would be.
fn crooked(deck: &mut Deck, w: f64, h: f64) -> Sided {
    let mut off = || Vec2::new(deck.between(-6.0, 6.0), deck.between(-6.0, 6.0));
    let square = Outline::rectangle(Rect::new(0.0, 0.0, w, h)).unwrap();
    let corners: Vec<Point> = square.corners().map(|corner| corner + off()).collect();
    Sided::by_direction(Outline::polygon(&corners).unwrap())
}
