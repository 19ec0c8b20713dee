//! All round a pocket: out from an open light along a quarter circle, round, and back the same way.

use super::route::Route;
use super::{MARGIN, NoEntry};
use crate::geometry::{Arc, Edge, PerSide, SAME};
use crate::passes::{Pass, Ring, Stage, steps};
use crate::sash::Sash;
use crate::survey::{Direction, Workshop};
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// Adds the loops of one ring pass.
pub(super) fn follow(
    sash: &Sash,
    pass: &Pass,
    ring: &Ring,
    workshop: &Workshop,
    route: &mut Route,
) -> Result<(), NoEntry> {
    let radius = workshop.cutter.radius();
    let light = entry_light(sash, ring, radius)?;
    route.remark(format!("{}: {} to {:.2} mm deep", pass.place, pass.stage, pass.to_depth));
    let clear = workshop.machine.clear_height;
    for (index, reach) in reaches(pass, ring, workshop).into_iter().enumerate() {
        let path = Loop::new(ring.sight, reach, light, radius, workshop.cutting.direction);
        if index == 0 {
            route.come_down(path.from, clear, -pass.to_depth);
        } else {
            route.line_to(path.from);
        }
        path.follow(route);
    }
    route.up(clear);
    Ok(())
}

/// Widest bite of a loop, as a share of the cutter's diameter. In an inside corner the loop before
/// reaches R/√2 past its own corner along either side, where its fillet begins on the diagonal, and
/// this loop R back towards it, to a sharp corner; a bite over R(1 + 1/√2), 0.854 diameters, would
/// leave a post of wood between the two.
const WIDEST_STEP: f64 = 0.85;

/// How far the rim reaches on each side, loop by loop: the bite never exceeds the side step, but for
/// the shallow scoring cut, which is a slot.
fn reaches(pass: &Pass, ring: &Ring, workshop: &Workshop) -> Vec<PerSide<f64>> {
    let bite = workshop.cutting.side_step.min(WIDEST_STEP) * workshop.cutter.diameter;
    let widest = ring.to.iter().map(|(side, to)| to - ring.from.get(side)).fold(0.0, f64::max);
    let count = if pass.stage == Stage::Score { 1 } else { steps(widest, bite).max(1) };
    (1..=count)
        .map(|index| {
            let share = f64::from(index) / f64::from(count);
            PerSide::from_fn(|side| {
                let from = ring.from.get(side);
                from + (ring.to.get(side) - from) * share
            })
        })
        .collect()
}

/// The widest light along the bottom of the pocket that the cutter can come down in.
fn entry_light(sash: &Sash, ring: &Ring, radius: f64) -> Result<Rect, NoEntry> {
    let along = sash.lights.iter().map(|light| light.sight).filter(|sight| {
        (sight.y0 - ring.sight.y0).abs() <= SAME
            && sight.x0 >= ring.sight.x0 - SAME
            && sight.x1 <= ring.sight.x1 + SAME
    });
    let narrow = |sight: &Rect| sight.width().min(sight.height());
    let widest = along.max_by(|a, b| narrow(a).total_cmp(&narrow(b)));
    match widest {
        Some(sight) if narrow(&sight) >= 2.0 * (radius + MARGIN) => Ok(sight),
        other => Err(NoEntry(other.map_or(0.0, |sight| narrow(&sight)))),
    }
}

/// One loop: in, round, out.
struct Loop {
    /// Where the cutter stands before and, mirrored, after the loop: free of wood.
    from: Point,
    to: Point,
    /// Where it meets and leaves the loop.
    touch: Point,
    /// Quarter circles in and out; straight where the light is too narrow for them.
    lead: Option<(Arc, Arc)>,
    corners: [Point; 4],
}

impl Loop {
    fn new(
        sight: Rect,
        reach: PerSide<f64>,
        light: Rect,
        radius: f64,
        direction: Direction,
    ) -> Loop {
        let centre = reach.map(|reach| reach - radius).grow(sight);
        let middle = light.center().x;
        let touch = Point::new(middle, centre.y0);
        let free = light.y0 + radius + MARGIN;
        let lead = free - centre.y0;
        // Against the rotation means clockwise inside a wall: along the bottom towards −X.
        let along = match direction {
            Direction::Against => -1.0,
            Direction::With => 1.0,
        };
        let left_first = [
            Point::new(centre.x0, centre.y0),
            Point::new(centre.x0, centre.y1),
            Point::new(centre.x1, centre.y1),
            Point::new(centre.x1, centre.y0),
        ];
        let [a, b, c, d] = left_first;
        let corners = if along < 0.0 { left_first } else { [d, c, b, a] };
        let hub = touch + Vec2::new(0.0, lead);
        if light.width() / 2.0 >= lead + radius + MARGIN {
            let quarter =
                |start: f64| Arc { centre: hub, radius: lead, start, sweep: along * FRAC_PI_2 };
            let beside = if along < 0.0 { 0.0 } else { PI };
            Loop {
                from: hub - Vec2::new(along * lead, 0.0),
                to: hub + Vec2::new(along * lead, 0.0),
                touch,
                lead: Some((quarter(beside), quarter(-FRAC_PI_2))),
                corners,
            }
        } else {
            Loop { from: hub, to: hub, touch, lead: None, corners }
        }
    }

    fn follow(&self, route: &mut Route) {
        match self.lead {
            Some((way_in, _)) => route.arc(way_in),
            None => route.line_to(self.touch),
        }
        for corner in self.corners {
            route.line_to(corner);
        }
        route.line_to(self.touch);
        match self.lead {
            Some((_, way_out)) => {
                debug_assert!((Edge::Arc(way_out).end() - self.to).hypot() < SAME);
                route.arc(way_out);
            }
            None => route.line_to(self.to),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn looped(direction: Direction) -> Loop {
        let sight = Rect::new(0.0, 0.0, 400.0, 500.0);
        Loop::new(sight, PerSide::all(14.0), sight, 6.0, direction)
    }

    #[test]
    fn the_loop_keeps_the_rim_at_the_reach_and_the_leads_touch_it() {
        for direction in [Direction::Against, Direction::With] {
            let path = looped(direction);
            let centre = Rect::new(-8.0, -8.0, 408.0, 508.0);
            for corner in path.corners {
                assert!([centre.x0, centre.x1].contains(&corner.x));
            }
            let (way_in, way_out) = path.lead.unwrap();
            let (way_in, way_out) = (Edge::Arc(way_in), Edge::Arc(way_out));
            assert!((way_in.start() - path.from).hypot() < 1e-9);
            assert!((way_in.end() - path.touch).hypot() < 1e-9);
            assert!((way_out.start() - path.touch).hypot() < 1e-9);
            assert!((way_out.end() - path.to).hypot() < 1e-9);
            // No kink where lead and loop meet.
            let first = (path.corners[0] - path.touch).normalize();
            assert_relative_eq!(way_in.direction(1.0).dot(first), 1.0, epsilon = 1e-12);
            assert_relative_eq!(path.from.y, 7.0);
        }
    }

    // School workshop sheet: a clockwise cutter goes clockwise round the inside of a template.
    #[test]
    fn against_the_rotation_is_clockwise_inside_a_wall() {
        let area = |path: Loop| {
            let next = path.corners.iter().cycle().skip(1);
            let turns = path.corners.iter().zip(next);
            turns.map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum::<f64>()
        };
        assert!(area(looped(Direction::Against)) < 0.0);
        assert!(area(looped(Direction::With)) > 0.0);
    }
}
